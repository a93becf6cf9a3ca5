"""What a sheet holds for the people at the machine: the card for it, and the plan for a first start."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QRectF

from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import Pencil
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.machine_card import card_blocks
from sketch.page.sheet_frame import Panel, Sheet, case_name
from sketch.page.table import Row, Table
from sketch.views.priming_html import FACTS, pins
from solver.field import air, plan, priming
from solver.field.air import Air
from solver.field.priming import Priming
from solver.findings.kinds import Severity
from solver.findings.outlook import own_headline
from solver.ledger.solve import Solution
from solver.report.priming import AT_REST, LOW_JOINTS, NO_JOINT

HIGH = 200.0  # logical pixels: of the drawing with its joints


def card_part(sheet: Sheet) -> Iterator[Block]:
    """The card of the line that is recommended, which will be the machine that stands there."""
    panel = sheet.built
    yield Heading(_named("Card for the machine", sheet, panel))
    yield from card_blocks(
        panel.judgement,
        sheet.system,
        sheet.theme.caution,
        name=panel.option.name,
        file=panel.option.file or sheet.file,
    )


def _named(heading: str, sheet: Sheet, panel: Panel) -> str:
    """A heading with the line that it is of, where there are several."""
    return f"{heading}: {line}" if (line := sheet.line_name(panel)) else heading


def priming_part(sheet: Sheet) -> Iterator[Block]:
    """The plan for each pump of the line that is recommended, in the case that is shown of it."""
    panel = sheet.built
    layout = replace(panel.solution.layout, units=sheet.system)
    solution = replace(panel.solution, layout=layout)
    for pump in solution.pumps:
        primed = priming.priming(solution, pump, sheet.system)
        yield from _plan(sheet, panel, solution, pump, primed, air.air(solution, pump))
    for pump in solution.resting:
        yield Paragraph(AT_REST, f"{pump}:")


def _plan(
    sheet: Sheet, panel: Panel, solution: Solution, pump: str, primed: Priming, held: Air
) -> Iterator[Block]:
    line = sheet.line_name(panel)
    named = f'"{line}"' if panel.option.name else line.lower()
    of = f"{pump} of {named}" if line else pump
    yield Heading(f"Before the first start: {of}, {case_name(panel.place.case)}")
    yield Paragraph(f"{own_headline(panel.judgement, pump, sheet.system)}.", keep=True)
    yield Paragraph(plan.CAUTION, "Caution:", sheet.theme.caution, keep=True)
    yield Picture(HIGH, partial(_drawn, sheet, solution, pump, primed, held))
    facts = tuple(Row(fact) for fact in plan.facts(primed, solution, sheet.system, panel.judgement.layout))
    yield Table((FACTS, ""), facts, frozenset((0, 1)))
    yield Heading("Order of work")
    for number, step in enumerate(plan.steps(primed, panel.judgement, solution, sheet.system), start=1):
        yield Paragraph(step, f"{number}.")
    yield Heading("Where air may come in")
    yield Paragraph(LOW_JOINTS if held.joints else NO_JOINT)
    for number, joint in enumerate(held.joints, start=1):
        yield Paragraph(air.joint_text(joint, held, sheet.system), f"{number}.", indent=12)
    seal = air.seal_text(held, sheet.system)
    if seal:
        yield Paragraph(f"And the {seal}.")
    colours = {Severity.STOP: sheet.theme.stop, Severity.CAUTION: sheet.theme.caution}
    for remark in air.air_notes(held, solution.layout, sheet.system):
        lead = f"{remark.severity.capitalize()}:" if remark.severity is not None else ""
        colour = colours.get(remark.severity, sheet.theme.quiet) if remark.severity is not None else None
        yield Paragraph(remark.text, lead, colour)


def _drawn(
    sheet: Sheet,
    solution: Solution,
    pump: str,
    primed: Priming,
    held: Air,
    pencil: Pencil,
    theme: Theme,
    box: Box,
) -> None:
    """The drawing with its joints by number and the places where air stays."""
    view = fit(solution.layout, box.width, box.height, pencil.dot)
    painter = pencil.painter
    painter.save()
    painter.setClipRect(QRectF(*box))
    painter.translate(box.x, box.y)
    paint_elevation(
        painter, solution.layout, solution, view, (box.width, box.height), theme, sheet.system, pump=pump,
        legend=False, marks=pins(primed, held, sheet.system), on_paper=True,
    )  # fmt: skip
    painter.restore()
