"""What stands beside the drawings on the first page: the worst case, the other pumps, notes and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Paragraph
from sketch.page.sheet_changes import AS_DRAWN
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_text import CAUTIONS
from solver.findings.kinds import OVER_BUDGET, Severity
from solver.findings.outlook import not_judged, own_headline
from solver.layout.cases import AS_DRAWN as DRAWN
from solver.ledger.sentences import clause
from solver.quantities.units import System

FOREMOST = 2
"""Cautions of any calculation that the first page carries."""

MOST_FINDINGS = 3


def worst_case(panel: Panel, pump: str, system: System) -> tuple[str, str] | None:
    """The worst of the cases that are not shown, and how a pump stands there; None where there is none."""
    judgement = panel.judgement
    # What the panel draws is solved again where it is judged: there it is the drawing as it stands.
    shown = {name for name, case in judgement.cases.items() if case.solution is panel.solution} or {DRAWN}
    place = judgement.worst(pump, [name for name in judgement.cases if name not in shown])
    if place is None:
        return None
    missing = f"; {not_judged(judgement)}" if judgement.not_judged else ""
    return f'In "{place.case}":', clause(place.ledger, system) + missing


def first_page(sheet: Sheet, panels: tuple[Panel, ...]) -> Iterator[Block]:
    """What a client must not miss, the weightiest first; of the last panel its note and its findings."""
    yield Paragraph(CAUTIONS[0], "Caution:", sheet.theme.caution)
    after = panels[-1]
    if after.option.note:
        yield Paragraph(" ".join(after.option.note.split()), f"{after.option.title}:")
    for panel in panels:
        yield from _other_pumps(sheet, panel, named=len(panels) > 1)
    yield from _findings(sheet, after, named=len(panels) > 1)
    for text in CAUTIONS[1:FOREMOST]:
        yield Paragraph(text, quiet=True)


def _other_pumps(sheet: Sheet, panel: Panel, *, named: bool) -> Iterator[Block]:
    for name in panel.solution.pumps:
        if name != sheet.pump:
            where = f", {panel.option.name or AS_DRAWN.lower()}" if named else ""
            headline = own_headline(panel.judgement, name, sheet.system)
            yield Paragraph(f"{headline}.", f"{name}{where}:")


def _findings(sheet: Sheet, panel: Panel, *, named: bool) -> Iterator[Block]:
    """The stops and cautions that no verdict tells, in a sentence each; the rest are under Findings."""
    colours = {Severity.STOP: sheet.theme.stop, Severity.CAUTION: sheet.theme.caution}
    findings = [f for f in panel.option.findings if f.severity in colours and f.finding not in OVER_BUDGET]
    where = f", {panel.option.title}" if named else ""
    for finding in findings[:MOST_FINDINGS]:
        yield Paragraph(
            f"{finding.text}.", f"{finding.severity.capitalize()}{where}:", colours[finding.severity]
        )


def fitting(blocks: Iterable[Block], ruler: Ruler, width: float, room: float) -> list[Block]:
    """Those of the blocks, in their order, that a height has room for."""
    kept: list[Block] = []
    for block in blocks:
        high = block.height(ruler, width)
        if high <= room:
            kept.append(block)
            room -= high
    return kept
