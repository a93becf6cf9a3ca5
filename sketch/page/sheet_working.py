"""The whole calculation on the client's page: every step with its numbers, for a reviewer to follow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.sheet_frame import LEAST_INLET, Panel, Sheet, case_name
from solver.ledger.solve import Solution
from solver.quantities.units import System
from solver.working import text as working_text
from solver.working import working
from solver.working.text import Section

INDENT = 18.0
"""Logical pixels, of what stands under a step's name."""


def working_part(sheet: Sheet) -> Iterator[Block]:
    """The working of every pump in its worst case, of each drawing shown; no section is set twice.

    An alternative is worked out in the worst case of the drawing too, or the two could not be compared.
    """
    printed: dict[Section, str] = {}
    for panel in sheet.panels:
        for pump in panel.judgement.layout.pumps:
            for case in _worst_cases(sheet, panel, pump):
                solution = panel.option.solution(case)
                if solution is None or pump not in solution.pumps:
                    continue
                title = f"{panel.option.title}, " if len(sheet.panels) > 1 else ""
                name = f"{title}{case_name(case)}"
                yield from working_blocks(solution, pump, sheet.system, sheet.theme, name, printed)


def _worst_cases(sheet: Sheet, panel: Panel, pump: str) -> tuple[str, ...]:
    """That of the drawing first, then its own where it is another."""
    places = (each.judgement.worst(pump) for each in (sheet.panels[0], panel))
    return tuple(dict.fromkeys(place.case for place in places if place is not None))


def working_blocks(
    solution: Solution,
    pump: str,
    system: System,
    theme: Theme,
    name: str = "",
    printed: dict[Section, str] | None = None,
) -> Iterator[Block]:
    """The working of one pump: what there is to spend, every entry, the outcome.

    Parameters: `name` of the alternative, "" for a drawing without any; `printed`, the sections that stand
    on the sheet already and for which panel, to which these are added: none is set twice.
    """
    before = {} if printed is None else printed
    yield Heading(f"Working of {pump}: {name}" if name else f"Working of {pump}", large=True)
    units = working_text.units_sentence(system)
    yield Paragraph(" ".join(filter(None, (units, working_text.HEAD))), quiet=True)
    for section in working.pages(solution, pump, system):
        yield Heading(section.title)
        if section in before:
            yield Paragraph(f"The same as for {before[section]}.", quiet=True)
            continue
        before[section] = name
        for row in section.rows:
            yield from _step(row, theme)


def _step(row: working_text.Row, theme: Theme) -> Iterator[Block]:
    """A step in one piece: none of its lines stands alone at the head of a column."""
    numbers = _numbers(row)
    below = [f"in SI: {row.si}"] if row.si else []
    below += [text for text in ("; ".join(part for part in (row.counted, row.source) if part),) if text]
    lines = [Paragraph(numbers[0], lead=LEAST_INLET if row.name == "floor" else row.name)]
    lines += [Paragraph(line, indent=INDENT) for line in numbers[1:]]
    lines += [Paragraph(line, quiet=True, indent=INDENT) for line in below]
    if row.caution:
        lines.append(Paragraph(row.caution, lead="Mind:", lead_colour=theme.stop, indent=INDENT))
    yield from (replace(line, keep=True) for line in lines[:-1])
    yield lines[-1]


def _numbers(row: working_text.Row) -> list[str]:
    if not row.formula:
        return [f"{row.symbol} = {row.result}"]
    if len(row.numbers) > 1:
        return [f"{row.symbol} = {row.result}, for which {row.formula}", *row.numbers]
    return [f"{row.symbol} = {row.formula}", f"= {row.numbers[0]} = {row.result}"]
