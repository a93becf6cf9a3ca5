"""What the client's page says in words and figures: budget, ledger, findings, assumptions, cautions."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from PySide6.QtCore import QRectF

from sketch.air_column.labels import column_width
from sketch.air_column.notes import reading
from sketch.air_column.painting import paint_column
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
from sketch.look.colours import CREDIT, Theme, share_colour
from sketch.page.blocks import Block, Columns, Heading, LeftAndRight, Paragraph, Picture
from sketch.page.sheet_frame import Panel, Sheet, case_name
from sketch.page.table import Row, Table
from sketch.views import ledger_rows
from solver.findings.criteria import Finding
from solver.findings.judgement import PumpInCase
from solver.findings.kinds import FindingId, Severity
from solver.ledger.sentences import clause, npsh_text
from solver.ledger.solve import BudgetLine, PumpLedger, Solution
from solver.properties.fluid import FluidState
from solver.quantities import units
from solver.quantities.units import Kind, System, typeset
from solver.report.assumptions import particular
from solver.report.defaults import defaults

METHOD = (
    "Steady flow. Friction after Darcy and Weisbach: laminar below a Reynolds number of 2000, Colebrook "
    "above 4000, blended between, where it is uncertain. Fittings and entrances at the Reynolds number they "
    "really have (2-K and 3-K methods), because oil lines are mostly laminar.",
    "Lift is charged above the fluid level only: below it the fluid outside the pipe balances the fluid "
    "inside. Pressures are absolute unless they are called a vacuum, which is counted down from the "
    "atmosphere here.",
)

CAUTIONS = (
    "This is a calculation, not a release for work. The pump maker's figures, local codes and a licensed "
    "engineer's judgement come before it. Check the limit with the maker for this fluid and speed.",
    "Read a vacuum gauge at the port, with warm and with cold fluid, before relying on these figures.",
    "An isolating valve in a suction line must be locked open or interlocked: a pump started against a "
    "closed valve can be destroyed in seconds.",
    "Before opening a suction line lock out the drive, let the pressure off and drain it: fluid may be hot, "
    "and a flooded line runs until its reservoir is empty.",
    "Catalogue figures of a fluid are typical of its family. The supplier's sheet for the fluid in use "
    "replaces them. What is marked unverified is a typical value, not checked against its source.",
)


SCALED = (
    "drawings are true to the scale named, but for symbols and the thinnest pipes; what lies out of the "
    "plane is not drawn"
)


def key_figures(solution: Solution, pump: str, system: System, highest: str) -> tuple[tuple[str, str], ...]:
    """The handful of numbers a client asks for, (name, figure)."""
    ledger = solution.pumps[pump]
    required = ledger.npsh_required
    needed = () if required is None else (("NPSH required", typeset(required, Kind.HEAD, system)),)
    return (
        ("At the port", reading(ledger, system)),
        ("Allowed here", _allowed(ledger, system)),
        ("Inlet budget", typeset(ledger.budget, Kind.VACUUM, system)),
        ("Spent", typeset(ledger.spent, Kind.VACUUM, system)),
        ("Margin", typeset(ledger.margin, Kind.VACUUM, system)),
        ("NPSH available", npsh_text(ledger, system).partition(":")[0]),
        *needed,
        ("Highest port", highest or "\N{EN DASH}"),
    )


def _allowed(ledger: PumpLedger, system: System) -> str:
    """The largest vacuum allowed, in short; a plus is pressure that must stand above the atmosphere."""
    if ledger.allowed_vacuum < 0.0:
        return f"none: +{typeset(-ledger.allowed_vacuum, Kind.VACUUM, system)}"
    return f"{typeset(ledger.allowed_vacuum, Kind.VACUUM, system)} vac."


COLUMN, LEAST_LEDGER = 268.0, 560.0
"""Logical pixels: the height of an air column beside its ledger, the least width of a ledger."""


def ledger_part(sheet: Sheet) -> Iterator[Block]:
    """Ledger and air column of every pump in its worst case: as drawn, and of the alternative beside it."""
    for panel in sheet.panels:
        for pump in panel.judgement.layout.pumps:
            place = panel.judgement.worst(pump)
            if place is not None:
                yield from _ledger_and_column(sheet, panel, place)
    yield from _budgets(sheet)


def _ledger_and_column(sheet: Sheet, panel: Panel, place: PumpInCase) -> Iterator[Block]:
    solution = panel.option.solution(place.case)
    assert solution is not None  # a place has a ledger
    name = f"{panel.option.title}, " if len(sheet.panels) > 1 else ""
    state = clause(place.ledger, sheet.system)
    yield Heading(f"Ledger of {place.pump}, {name}{case_name(place.case)}: {state}")

    def column(pencil: Pencil, theme: Theme, box: Box) -> None:
        paint_column(
            pencil.painter, QRectF(*box), solution, place.pump, theme, sheet.system, dot=pencil.dot,
            headline=False,
        )  # fmt: skip

    ledger = ledger_table(solution, place.pump, sheet.system, sheet.theme)
    wide = column_width(Ruler(), solution, place.pump, sheet.system)
    yield LeftAndRight((ledger,), (Picture(COLUMN, column),), wide=wide, least=LEAST_LEDGER)


def ledger_table(solution: Solution, pump: str, system: System, theme: Theme) -> Table:
    """The ledger of one pump: what there is, every entry, what is left."""
    shares = solution.pumps[pump].budget > 0
    columns = [each for each in range(ledger_rows.ESSENTIAL) if shares or each != ledger_rows.SHARE]
    columns.remove(ledger_rows.PART)  # named with its element
    rows = tuple(
        _row(row, columns, system, theme)
        for row in ledger_rows.rows(solution, pump)
        if row.role != ledger_rows.Role.LINE
    )
    headings = tuple(ledger_rows.heading(column, system) for column in columns)
    chip = columns.index(ledger_rows.SHARE) if shares else -1
    return Table(headings, rows, frozenset((0,)), chip=chip, dense=True)


def _row(row: ledger_rows.LedgerRow, columns: Sequence[int], system: System, theme: Theme) -> Row:
    part, element, *figures = (ledger_rows.text(row, each, system) for each in (ledger_rows.PART, *columns))
    named = f"{part}, {element}" if row.key else ", ".join(each for each in (element, part) if each)
    cells = (named, *figures)
    share = row.figures[ledger_rows.SHARE]
    chip = None
    if row.role == ledger_rows.Role.ENTRY and share is not None:
        chip = theme.classes[CREDIT] if share < 0 else share_colour(share, theme)
    head = row.role == ledger_rows.Role.FOLD
    first_sum = row.role == ledger_rows.Role.SUM and row.name == "Spent"
    quiet = row.role in (ledger_rows.Role.LINE, ledger_rows.Role.PARALLEL)
    return Row(cells, bold=head or row.role == ledger_rows.Role.SUM, quiet=quiet, rule=first_sum, chip=chip)


def _budgets(sheet: Sheet) -> Iterator[Block]:
    """How the budgets of all these ledgers are made, a ledger a column; those made alike share one."""
    ledgers: dict[tuple[BudgetLine, ...], tuple[list[str], PumpLedger]] = {}
    for panel in sheet.panels:
        for pump in panel.judgement.layout.pumps:
            place = panel.judgement.worst(pump)
            if place is not None:
                lines = (*place.ledger.surface_lines, *place.ledger.floor_lines)
                name = f"{panel.option.title}, {pump}" if len(sheet.panels) > 1 else pump
                ledgers.setdefault(lines, ([], place.ledger))[0].append(name)
    yield Heading("Inlet budgets")
    for some in _in_groups(list(ledgers.values()), MOST_BUDGETS):
        headings = ("Step", *(_heading(names, sheet.system) for names, _ in some), "Source")
        rows = tuple(_budget_rows([ledger for _, ledger in some], sheet.system))
        yield Table(headings, rows, frozenset((0, len(some) + 1)))
    if any(ledger.limit_estimated for _, ledger in ledgers.values()):
        yield Paragraph(
            "A floor is estimated from the maker's figure by the affinity laws; a figure from the maker "
            "for this fluid and speed replaces it.",
            lead="Estimated.",
        )


MOST_BUDGETS = 4
"""Columns of a table of budgets."""


def _in_groups(
    ledgers: Sequence[tuple[list[str], PumpLedger]], most: int
) -> Iterator[Sequence[tuple[list[str], PumpLedger]]]:
    return (ledgers[first : first + most] for first in range(0, len(ledgers), most))


def _heading(names: Sequence[str], system: System) -> str:
    lines = [line for name in names for line in textwrap.wrap(name, 24)]
    return "\n".join([*lines, units.unit(Kind.ABSOLUTE, system)])


def _budget_rows(ledgers: Sequence[PumpLedger], system: System) -> Iterator[Row]:
    """What every step adds, two sums under their names, and what the one has over the other."""
    steps: dict[tuple[str, str], tuple[str, list[str]]] = {}
    for number, ledger in enumerate(ledgers):
        lines = (*ledger.surface_lines, *ledger.floor_lines)
        for row, line in zip(ledger_rows.budget(ledger), lines, strict=True):
            _, cells = steps.setdefault((row.part, row.name), (line.source, [""] * len(ledgers)))
            cells[number] = ledger_rows.text(row, ledger_rows.TOTAL, system)
    part = ""
    for (group, name), (source, cells) in steps.items():
        if group != part:
            yield Row(
                (f"{group[:1].upper()}{group[1:]}", *[""] * len(ledgers), ""), bold=True, rule=bool(part)
            )
        part = group
        yield Row((name, *cells, source))
    whole = [units.fixed(ledger.budget, Kind.VACUUM, system) for ledger in ledgers]
    yield Row(("Inlet budget", *whole, "what there is less what must remain"), bold=True, rule=True)


def finding_part(sheet: Sheet) -> Iterator[Block]:
    """Every finding once: what was found, in which cases of which drawings, why it matters, what to try."""
    yield Heading("Findings")
    yield Columns(tuple(_findings(sheet)))


def _findings(sheet: Sheet) -> Iterator[Block]:
    findings = _merged(sheet)
    if not findings:
        yield Paragraph("Nothing found within the checks made.")
    colours = {Severity.STOP: sheet.theme.stop, Severity.CAUTION: sheet.theme.caution}
    for finding, held in findings:
        lead, colour = f"{finding.severity.capitalize()}:", colours.get(finding.severity, sheet.theme.quiet)
        yield Paragraph(f"{finding.text}.", lead, colour, keep=True)
        source = f" Limit: {finding.source}." if finding.source else ""
        where = f" Cases: {held}." if held else ""
        why = f"{finding.why} " if finding.severity != Severity.NOTE else ""
        yield Paragraph(f"{why}{finding.advice}{source}{where}", quiet=True, indent=16, tears=True)


def _merged(sheet: Sheet) -> list[tuple[Finding, str]]:
    """Findings of all drawings, the worst first, each with where it holds."""
    kept: dict[tuple[FindingId, str, str], Finding] = {}
    held: dict[tuple[FindingId, str, str], list[str]] = {}
    several = len(sheet.options) > 1
    for option in sheet.options:
        judgement = option.judgement
        for finding in judgement.findings if judgement is not None else ():
            key = (finding.finding, finding.part, finding.key)
            if key not in kept or finding.severity.rank < kept[key].severity.rank:
                kept[key] = finding
            assert judgement is not None
            cases = _cases_text(finding.cases, list(judgement.cases))
            if several:
                held.setdefault(key, []).append(f"{option.title} ({cases})" if cases else option.title)
            else:
                held.setdefault(key, []).extend([cases] if cases else [])
    ordered = sorted(kept.items(), key=lambda each: each[1].severity.rank)
    return [(finding, "; ".join(held.get(key, ()))) for key, finding in ordered]


def _cases_text(held: Sequence[str], cases: Sequence[str]) -> str:
    """In which of the cases; "" where there is one alone."""
    if len(cases) < 2:
        return ""
    others = [name for name in cases if name not in held]
    if not others:
        return "every case"
    if len(others) < len(held):
        return f"every case but {', '.join(map(case_name, others))}"
    return ", ".join(map(case_name, held))


def assumption_part(sheet: Sheet) -> Iterator[Block]:
    """The issues of the drawing, what the figures are based on, notes and cautions."""
    yield from _revisions(sheet)
    yield Heading("Assumptions and sources")
    yield Columns((*_stands_on(sheet), *_note_blocks(sheet), Heading("Cautions"), *map(_text, CAUTIONS)))


def _text(text: str, lead: str = "") -> Paragraph:
    """Running text that may end in the next column."""
    return Paragraph(text, lead, tears=True)


def _revisions(sheet: Sheet) -> Iterator[Block]:
    rows = tuple(Row((each.name, each.date, each.text)) for each in sheet.title_block.revisions)
    if rows:
        yield Heading("Revisions")
        yield Table(("Revision", "Date", "What changed"), rows, frozenset((0, 1, 2)), dense=True)


def _stands_on(sheet: Sheet) -> Iterator[Block]:
    """Of the drawing all of it; of the alternative beside it, what it assumes differently."""
    first = tuple(_assumptions(sheet.panels[0].solution, sheet.panels[0].pump, sheet.system))
    case = sheet.panels[0].place.case
    yield Paragraph(f"Figures of {sheet.panels[0].pump}, {case_name(case)}.", quiet=True, keep=True)
    untyped = tuple(defaults(sheet.panels[0].solution, sheet.system))
    for lead, text in first:
        yield _text(text, lead)
    if untyped:
        yield _text("; ".join(untyped) + ".", "Not typed:")
    for panel in sheet.panels[1:]:
        for lead, text in _assumptions(panel.solution, panel.pump, sheet.system):
            if (lead, text) not in first:
                yield _text(text, f"{panel.option.title}, {lead[:1].lower()}{lead[1:]}")
        others = [each for each in defaults(panel.solution, sheet.system) if each not in untyped]
        if others:
            yield _text("; ".join(others) + ".", f"{panel.option.title}, not typed:")
    for text in (*METHOD, f"{SCALED[:1].upper()}{SCALED[1:]}."):
        yield _text(text)
    rows = [row for panel in sheet.panels for row in panel.solution.network.rows]
    for note in dict.fromkeys(f"{row.key}: {row.note}" for row in rows if row.note):
        yield Paragraph(f"{note}.", "Reservation:")
    sources = dict.fromkeys(row.source for row in rows if row.source)
    if sources:
        yield Paragraph("; ".join(sources) + ".", "Coefficients from:", quiet=True, tears=True)


def _assumptions(solution: Solution, pump: str, system: System) -> Iterator[tuple[str, str]]:
    ledger = solution.pumps[pump]
    air = typeset(ledger.atmosphere, Kind.ABSOLUTE, system)
    place = "" if solution.elevation is None else f" at {typeset(solution.elevation, Kind.ELEVATION, system)}"
    yield "Site:", f"atmosphere {air}{place}."
    for text in particular(solution, system):
        yield "Assumed:", f"{text}."
    level = typeset(ledger.fluid_level, Kind.LENGTH, system)
    yield "Fluid level:", f"the {solution.level} level of every reservoir, {ledger.reservoir} at {level}."
    yield (
        "Flow:",
        f"{typeset(ledger.flow, Kind.FLOW, system)} into {pump}"
        + ("." if ledger.speed is None else f" at {typeset(ledger.speed, Kind.SPEED, system)}."),
    )
    tank, line = solution.tank_fluid, solution.fluid
    yield "Fluid:", f"{tank.name} at {_properties(tank, system)}"
    if line is not tank:
        yield "In the line:", f"at {_properties(line, system)}"


def _properties(fluid: FluidState, system: System) -> str:
    vapor = fluid.known_vapor_pressure
    figures = (
        ("density", typeset(fluid.density, Kind.DENSITY, system)),
        ("viscosity", typeset(fluid.viscosity, Kind.VISCOSITY, system)),
        ("vapor_pressure", "" if vapor is None else typeset(vapor, Kind.ABSOLUTE, system)),
    )
    sources = "; ".join(
        f"{name.replace('vapor_', 'vapour ')} {figure}{_source(fluid.sources, name)}"
        for name, figure in figures
    )
    return f"{typeset(fluid.temperature, Kind.TEMPERATURE, system)}: {sources}."


def _source(sources: Mapping[str, str], name: str) -> str:
    return f" ({sources[name]})" if sources.get(name) else ""


def _note_blocks(sheet: Sheet) -> Iterator[Block]:
    """What the drawing says of itself."""
    if sheet.notes.strip():
        yield Heading("Notes")
    for paragraph in sheet.notes.strip().split("\n\n"):
        if paragraph.strip():
            yield _text(" ".join(paragraph.split()))
