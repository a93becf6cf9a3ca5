"""What the client's page says in words and figures: budget, ledger, findings, assumptions, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sketch.air_column.notes import reading
from sketch.drawing.pencil import shown
from sketch.look.colours import CREDIT, Theme, share_colour
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.table import Row, Table
from sketch.views import ledger_rows
from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement
from solver.findings.kinds import Severity
from solver.findings.outlook import own_headline
from solver.ledger.solve import BudgetLine, PumpLedger, Solution
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.report.assumptions import assumptions

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


def key_figures(solution: Solution, pump: str, system: System, highest: str) -> tuple[tuple[str, str], ...]:
    """The handful of numbers a client asks for, (name, figure)."""
    ledger = solution.pumps[pump]
    required = ledger.npsh_required
    needed = () if required is None else (("NPSH required", shown(required, Kind.HEAD, system)),)
    return (
        ("At the port", reading(ledger, system)),
        ("Allowed here", _allowed(ledger, system)),
        ("Inlet budget", shown(ledger.budget, Kind.VACUUM, system)),
        ("Spent", shown(ledger.spent, Kind.VACUUM, system)),
        ("Margin", shown(ledger.margin, Kind.VACUUM, system)),
        ("NPSH available", shown(ledger.npsh_available, Kind.HEAD, system)),
        *needed,
        ("Highest port", highest or "\N{EN DASH}"),
    )


def _allowed(ledger: PumpLedger, system: System) -> str:
    """The largest vacuum allowed, in short; a plus is pressure that must stand above the atmosphere."""
    if ledger.allowed_vacuum < 0.0:
        return f"none: +{shown(-ledger.allowed_vacuum, Kind.VACUUM, system)}"
    return f"{shown(ledger.allowed_vacuum, Kind.VACUUM, system)} vac."


def ledger_blocks(
    solution: Solution, judgement: Judgement, pump: str, system: System, theme: Theme, name: str
) -> Iterator[Block]:
    """The ledger of one pump: what there is, every entry, what is left; `judgement`, by all cases."""
    yield Heading(f"Ledger of {pump}" + (f", {name}" if name else ""))
    yield Paragraph(f"{own_headline(judgement, pump, system)}.", keep=True)
    shares = solution.pumps[pump].budget > 0
    columns = [each for each in range(ledger_rows.ESSENTIAL) if shares or each != ledger_rows.SHARE]
    rows = tuple(
        _row(row, columns, system, theme)
        for row in ledger_rows.rows(solution, pump)
        if row.role != ledger_rows.LINE
    )
    headings = tuple(ledger_rows.heading(column, system) for column in columns)
    chip = ledger_rows.SHARE if shares else -1
    yield Table(headings, rows, frozenset((ledger_rows.ELEMENT, ledger_rows.PART)), chip=chip)


def _row(row: ledger_rows.LedgerRow, columns: Sequence[int], system: System, theme: Theme) -> Row:
    cells = tuple(ledger_rows.text(row, column, system) for column in columns)
    share, entry = row.figures[ledger_rows.SHARE], row.role == ledger_rows.ENTRY
    chip = None
    if entry and share is not None:
        chip = theme.classes[CREDIT] if share < 0 else share_colour(share, theme)
    head = row.role == ledger_rows.FOLD
    first_sum = row.role == ledger_rows.SUM and row.name == "Spent"
    quiet = row.role in (ledger_rows.LINE, ledger_rows.BESIDE)
    return Row(cells, bold=head or row.role == ledger_rows.SUM, quiet=quiet, rule=first_sum, chip=chip)


def budgets(panels: Sequence[tuple[str, PumpLedger]], system: System) -> Iterator[Block]:
    """The budget of the first panel, and of every other whose budget is made differently."""
    seen: list[tuple[BudgetLine, ...]] = []
    for name, ledger in panels:
        lines = (*ledger.surface_lines, *ledger.floor_lines)
        if lines not in seen:
            yield from _budget(ledger, system, f"Budget, {name}" if seen else "Budget")
            seen.append(lines)


def _budget(ledger: PumpLedger, system: System, heading: str) -> Iterator[Block]:
    """Where a budget comes from, each correction on its own line with its arithmetic."""
    yield Heading(heading)
    unit = units.unit(Kind.ABSOLUTE, system)
    headings = (
        "Step",
        f"Change\n{units.unit(Kind.VACUUM, system)}",
        f"Total\n{unit}",
        "How",
        "Source",
    )
    yield Table(headings, tuple(_budget_rows(ledger, system)), frozenset((0, 3, 4)))
    if ledger.limit_estimated:
        yield Paragraph(
            "The floor is estimated from the maker's figure by the affinity laws; a figure from the maker "
            "for this fluid and speed replaces it.",
            lead="Estimated.",
        )


def _budget_rows(ledger: PumpLedger, system: System) -> Iterator[Row]:
    """Two sums under their names, and what the one has over the other."""
    lines, part = (*ledger.surface_lines, *ledger.floor_lines), ""
    for row, line in zip(ledger_rows.budget(ledger), lines, strict=True):
        if row.part != part:
            yield Row((row.part[:1].upper() + row.part[1:], *[""] * 4), bold=True, rule=bool(part))
        part = row.part
        yield _budget_row(row, line, system)
    whole = units.fixed(ledger.budget, Kind.VACUUM, system)
    how = "what there is less what must remain"
    yield Row(("Inlet budget", whole, "", how, ""), bold=True, rule=True)


def _budget_row(row: ledger_rows.LedgerRow, line: BudgetLine, system: System) -> Row:
    change, total = (
        ledger_rows.text(row, column, system) for column in (ledger_rows.TOTAL, ledger_rows.PRESSURE)
    )
    return Row((row.name, change, total, line.text_in(system), line.source))


def finding_blocks(findings: Sequence[Finding], theme: Theme, name: str = "") -> Iterator[Block]:
    """Every finding: what was found, why it matters, what to try."""
    yield Heading("Findings" + (f", {name}" if name else ""))
    if not findings:
        yield Paragraph("Nothing found within the checks made.")
    colours = {Severity.STOP: theme.stop, Severity.CAUTION: theme.caution}
    for finding in findings:
        lead = f"{finding.severity.capitalize()}:"
        yield Paragraph(f"{finding.text}.", lead, colours.get(finding.severity, theme.quiet), keep=True)
        source = f" Limit: {finding.source}." if finding.source else ""
        yield Paragraph(f"{finding.why} {finding.advice}{source}", quiet=True, indent=16)


def assumption_blocks(panels: Sequence[tuple[str, Solution]], pump: str, system: System) -> Iterator[Block]:
    """What the figures stand on; of another panel, what it assumes differently."""
    yield Heading("Assumptions")
    first = tuple(_assumptions(panels[0][1], pump, system))
    for lead, text in first:
        yield Paragraph(text, lead)
    for name, panel in panels[1:]:
        for lead, text in _assumptions(panel, pump, system):
            if (lead, text) not in first:
                yield Paragraph(text, f"{name}, {lead[:1].lower()}{lead[1:]}")
    for text in METHOD:
        yield Paragraph(text)
    rows = [row for _, panel in panels for row in panel.network.rows]
    for note in dict.fromkeys(f"{row.key}: {row.note}" for row in rows if row.note):
        yield Paragraph(f"{note}.", "Reservation:")
    sources = dict.fromkeys(row.source for row in rows if row.source)
    if sources:
        yield Paragraph("; ".join(sources) + ".", "Coefficients from:", quiet=True)


def _assumptions(solution: Solution, pump: str, system: System) -> Iterator[tuple[str, str]]:
    ledger, fluid = solution.pumps[pump], solution.fluid
    air = shown(ledger.atmosphere, Kind.ABSOLUTE, system)
    place = "" if solution.elevation is None else f" at {shown(solution.elevation, Kind.ELEVATION, system)}"
    yield "Site:", f"atmosphere {air}{place}."
    for text in assumptions(solution, system):
        yield "Assumed:", f"{text}."
    level = shown(ledger.fluid_level, Kind.LENGTH, system)
    yield "Fluid level:", f"the {solution.level} level of every reservoir, {ledger.reservoir} at {level}."
    yield (
        "Flow:",
        f"{shown(ledger.flow, Kind.FLOW, system)} into {pump}"
        + ("." if ledger.speed is None else f" at {shown(ledger.speed, Kind.SPEED, system)}."),
    )
    figures = (
        ("density", shown(fluid.density, Kind.DENSITY, system)),
        ("viscosity", shown(fluid.viscosity, Kind.VISCOSITY, system)),
        ("vapor_pressure", shown(fluid.vapor_pressure, Kind.ABSOLUTE, system)),
    )
    sources = "; ".join(
        f"{name.replace('vapor_', 'vapour ')} {figure}{_source(fluid.sources, name)}"
        for name, figure in figures
    )
    yield "Fluid:", f"{fluid.name} at {shown(fluid.temperature, Kind.TEMPERATURE, system)}: {sources}."


def _source(sources: Mapping[str, str], name: str) -> str:
    return f" ({sources[name]})" if sources.get(name) else ""


def note_blocks(panels: Sequence[tuple[str, str]]) -> Iterator[Block]:
    """What the drawing and its alternatives say of themselves, (whose, note)."""
    notes = [(name, note) for name, note in panels if note.strip()]
    if notes:
        yield Heading("Notes")
    for name, note in notes:
        for number, paragraph in enumerate(note.strip().split("\n\n")):
            yield Paragraph(" ".join(paragraph.split()), f"{name}:" if name and not number else "")


def caution_blocks() -> Iterator[Block]:
    """What no calculation replaces."""
    yield Heading("Cautions")
    for text in CAUTIONS:
        yield Paragraph(text)
