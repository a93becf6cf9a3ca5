"""The parts list on the sheet: what the line is built from, and what each alternative adds and takes away."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketch.look.words import NO_BREAK
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.options import Option
from sketch.page.sheet_frame import Sheet
from sketch.page.table import Row, Table, in_lines
from solver.quantities.units import System
from solver.quantities.wording import capitalised
from solver.report import appendices
from solver.report.measures import measures
from solver.report.parts_list import GROUPS, Item, changed

PARTS_LIST = "Parts list"

MEASURED = (
    "Pipe along its centre line as drawn, less what bends take that are bought; what valves, tees and "
    "flanges take is not off it."
)

LEADS_TO = " to "
"""Between the two sizes of a change of bore."""

SHORT = 10
"""Characters in a line of the heading of a drawing, unless a word is longer."""


def list_part(sheet: Sheet) -> Iterator[Block]:
    """The list of the drawing and of the alternative beside it, then how the others differ."""
    shown = [(panel.option, items_of(panel.option)) for panel in sheet.panels]
    yield Heading(PARTS_LIST)
    yield Paragraph(MEASURED, quiet=True, keep=True)
    yield _table(shown, sheet.system)
    before = items_of(sheet.drawn)
    compared = sheet.chosen.option
    if len(shown) > 1 and not any(changed(before, items_of(compared))):
        yield Paragraph(_nothing_added(sheet))
    for option in sheet.options[1:]:
        if option is compared:
            continue  # its own column says it
        more, less = changed(before, items_of(option)) if option.judgement is not None else ((), ())
        if more:
            yield Paragraph(f"{_listed(more, sheet.system)}.", f"{option.title} adds:")
        if less:
            yield Paragraph(f"{_listed(less, sheet.system)}.", f"{option.title} takes away:")


def items_of(option: Option) -> tuple[Item, ...]:
    """The parts list of an alternative that was calculated."""
    return () if option.judgement is None else appendices.items_of(option.judgement)


def _nothing_added(sheet: Sheet) -> str:
    """Why both columns are alike, and what the alternative has to be provided with instead."""
    before, after = (panel.judgement.layout for panel in (sheet.panels[0], sheet.chosen))
    alike = f"{sheet.chosen.option.title} adds no part of the line and takes none away"
    provided = measures(before, after, sheet.system)
    return f"{alike}; to be provided: {'; '.join(provided)}." if provided else f"{alike}."


def _table(shown: Sequence[tuple[Option, tuple[Item, ...]]], system: System) -> Table:
    known = {item.key: item for _, items in shown for item in items}
    columns = [{item.key: item.amount_in(system) for item in items} for _, items in shown]
    rows = []
    for item in sorted(known.values(), key=lambda each: GROUPS.index(each.group)):
        amounts = [column.get(item.key, "\N{EN DASH}") for column in columns]
        parts = dict.fromkeys(name for _, items in shown for each in items if each.key == item.key
                              for name in each.parts)  # fmt: skip
        size = _whole(item.size_in(system))
        rows.append(Row((capitalised(item.what), size, *amounts, ", ".join(parts))))
    names = [in_lines(option.title, SHORT) for option, _ in shown] if len(shown) > 1 else ["How much"]
    headings = ("Item", "Size", *names, "In the drawing")
    return Table(headings, tuple(rows), frozenset((0, 1, len(headings) - 1)), dense=True, name=PARTS_LIST)


def _whole(size: str) -> str:
    """A size that no line ends within, but for one that leads to another."""
    return LEADS_TO.join(each.replace(" ", NO_BREAK) for each in size.split(LEADS_TO))


def _listed(items: Sequence[Item], system: System) -> str:
    """Items in one sentence: "2.50 ft of commercial steel NPS 3 schedule 40, 1 tee NPS 3 schedule 40"."""
    return ", ".join(
        f"{item.amount_in(system)}{'' if item.length is None else ' of'} {item.named} {item.size_in(system)}"
        for item in items
    )
