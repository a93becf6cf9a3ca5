"""A solution as text in at most 100 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from solver import reservoirs
from solver.answers import Answer
from solver.findings import Finding
from solver.layout import Reservoir
from solver.ledger import BudgetLine, Entry, PumpLedger, Solution, verdict
from solver.units import Kind, System, show, to_display, unit

WIDTH = 100

CAUTION = (
    "The pump maker's own figures for this pump, fluid and speed come first, then local codes and the "
    "judgement of a licensed engineer. Figures marked as estimates are ours. Release the pressure, lock out "
    "the drive and mind hot fluid before opening any line."
)


def report(
    solution: Solution,
    findings: Iterable[Finding],
    alternative: str | None = None,
    answers: Mapping[str, Iterable[Answer]] | None = None,
) -> str:
    """The ledgers of a solution, the verdicts first and last, in the units of its drawing.

    Parameters: `alternative`, the name of the one that was solved; `answers` by pump, where they were asked.
    """
    system = System(solution.layout.units)
    lines = [*_wrap(solution.layout.title)]
    if alternative is not None:
        lines += _wrap(f"Alternative: {alternative}")
    verdicts = [f"{name}: {verdict(ledger, system)}" for name, ledger in solution.pumps.items()]
    lines += [*verdicts, "", *_conditions(solution, system)]
    for ledger in solution.pumps.values():
        lines += ["", *_pump(solution, ledger, system)]
        given = (answers or {}).get(ledger.pump, ())
        lines += ["", "  How far may it go, one thing at a time?"] if given else []
        for answer in given:
            lines += _wrap(answer.text, "    ", "      ")
    lines += ["", *_findings(findings), *_reservations(solution), "", *_wrap(CAUTION), "", *verdicts]
    return "\n".join(lines) + "\n"


def _conditions(solution: Solution, system: System) -> Iterator[str]:
    state = solution.fluid
    here = f"{show(solution.atmosphere, Kind.VACUUM, system)} of atmosphere"
    if solution.elevation is not None:
        here += f" at {show(solution.elevation, Kind.ELEVATION, system)}"
    yield from _wrap(f"Site   {here}", "", " " * 7)
    properties = (
        f"{show(state.temperature, Kind.TEMPERATURE, system)}, {show(state.density, Kind.DENSITY, system)}, "
        f"{show(state.viscosity, Kind.VISCOSITY, system)}, "
        f"vapour pressure {show(state.vapor_pressure, Kind.PRESSURE, system)}"
    )
    yield from _wrap(f"Fluid  {state.name}: {properties}", "", " " * 7)
    tanks = [_tank(tank, solution, system) for tank in solution.layout.reservoirs.values()]
    yield from _wrap(f"Level  {solution.level}: {'; '.join(tanks)}", "", " " * 7)


def _tank(tank: Reservoir, solution: Solution, system: System) -> str:
    """Where a reservoir's fluid stands, and how much of it there is."""
    level = reservoirs.level(tank, solution.level)
    held = show(reservoirs.volume(tank, level), Kind.VOLUME, system)
    text = f"{tank.name} at {show(level, Kind.LENGTH, system)} holds {held}"
    if tank.baffle is not None:
        suction = show(reservoirs.suction_volume(tank, level), Kind.VOLUME, system)
        text += f", {suction} of it on the suction side of its baffle"
    if tank.draw_down is not None and solution.level == "drawn down":
        text += f", {show(tank.draw_down.si, Kind.VOLUME, system)} drawn out"
    return text


def _pump(solution: Solution, ledger: PumpLedger, system: System) -> Iterator[str]:
    pressure = unit(Kind.VACUUM, system)
    turning = f" at {show(ledger.speed, Kind.SPEED, system)}" if ledger.speed == ledger.speed else ""
    yield f"{ledger.pump}: {show(ledger.flow, Kind.FLOW, system)}{turning}"
    yield ""
    yield f"  {f'What there is to spend, {pressure} absolute':<60}{'step':>12}{'total':>12}"
    yield from (_budget_line(line, system) for line in ledger.surface_lines)
    yield from (_budget_line(line, system) for line in ledger.floor_lines)
    yield f"    {'inlet budget':<58}{'':>12}{_fixed(ledger.budget, system):>12}"
    yield ""
    yield from _entries(ledger, system)
    yield ""
    yield from _outcome(ledger, system)


def _budget_line(line: BudgetLine, system: System) -> str:
    name = line.name + (" (estimate)" if line.estimated else "")
    return f"    {name:<58}{_signed(line.value, system):>12}{_fixed(line.total, system):>12}"


def _entries(ledger: PumpLedger, system: System) -> Iterator[str]:
    bore, length = unit(Kind.BORE, system), unit(Kind.LENGTH, system)
    speed, pressure = unit(Kind.VELOCITY, system), unit(Kind.VACUUM, system)
    head = ("bore", "length", "velocity", "Re", "lift", "loss", "share", "pressure")
    yield "  " + _columns("What spends it", *head)
    yield "  " + _columns("", bore, length, speed, "", pressure, pressure, "", f"{pressure} abs")
    level = f"{show(ledger.level, Kind.LENGTH, system)} in {ledger.reservoir}"
    surface = _fixed(ledger.surface, system)
    yield "  " + _columns(f"  fluid surface, {level}", *[""] * 7, surface)
    for entry in ledger.entries:
        yield "  " + _entry(entry, system)
    share = _percent(ledger.margin / ledger.budget) if ledger.budget > 0 else "—"
    yield "  " + _columns("  margin", "", "", "", "", "", _fixed(ledger.margin, system), share, "")


def _entry(entry: Entry, system: System) -> str:
    moving = entry.velocity > 0
    return _columns(
        f"  {entry.part}, {entry.element}",
        f"{to_display(entry.bore, Kind.BORE, system):.2f}" if entry.bore else "",
        f"{to_display(entry.length, Kind.LENGTH, system):.2f}" if entry.length else "",
        f"{to_display(entry.velocity, Kind.VELOCITY, system):.2f}" if moving else "",
        f"{entry.reynolds:.0f}" if moving and entry.reynolds == entry.reynolds else "",
        _fixed(entry.lift, system) if entry.lift else "",
        _fixed(entry.loss, system) if entry.loss else "",
        _percent(entry.share),
        _fixed(entry.pressure, system),
    )


_WIDTHS = (8, 8, 9, 8, 8, 8, 7, 10)


def _columns(name: str, *cells: str) -> str:
    room = WIDTH - 2 - sum(_WIDTHS)
    label = name if len(name) <= room else name[: room - 1] + "…"
    return (f"{label:<{room}}" + "".join(f"{c:>{w}}" for c, w in zip(cells, _WIDTHS, strict=True))).rstrip()


def _outcome(ledger: PumpLedger, system: System) -> Iterator[str]:
    gauge = f"{show(ledger.vacuum, Kind.VACUUM, system)} of vacuum"
    if ledger.vacuum < 0:
        gauge = f"{show(-ledger.vacuum, Kind.PRESSURE, system)} above the atmosphere"
    allowed = show(ledger.allowed_vacuum, Kind.VACUUM, system)
    yield f"  A gauge at the port shows {gauge}; {allowed} of vacuum is allowed here."
    lowest = show(ledger.lowest, Kind.PRESSURE, system)
    yield from _wrap(f"Lowest pressure: {lowest} absolute at {ledger.lowest_at}.", "  ")
    npsh = f"NPSH available: {show(ledger.npsh_available, Kind.HEAD, system)}"
    if ledger.npsh_required == ledger.npsh_required:
        npsh += f"; required: {show(ledger.npsh_required, Kind.HEAD, system)}"
    yield f"  {npsh}."
    if ledger.limit_estimated:
        yield "  The floor is an estimate: the maker's figure was corrected for this fluid or speed."


def _findings(findings: Iterable[Finding]) -> list[str]:
    lines = ["Findings"]
    for finding in findings:
        label = f"  {finding.severity:<9}"
        lines += _wrap(finding.text, label, " " * 11)
        lines += _wrap(f"Why: {finding.why}", " " * 11)
        lines += _wrap(f"Try: {finding.advice}", " " * 11)
        lines += _wrap(f"Source of the limit: {finding.source}", " " * 11)
    return lines if len(lines) > 1 else [*lines, "  none"]


def _reservations(solution: Solution) -> list[str]:
    """What the coefficients of the elements on the way do not cover."""
    network = solution.network
    walked = dict.fromkeys(
        entry.key
        for ledger in solution.pumps.values()
        for entry in ledger.entries
        if entry.key in network.index
    )
    noted = [(key, network.rows[network.index[key]].note) for key in walked]
    lines = [line for key, note in noted if note for line in _wrap(f"{key}: {note}", "  ", "    ")]
    return ["", "Reservations", *lines] if lines else []


def _wrap(text: str, first: str = "", rest: str | None = None) -> list[str]:
    following = first if rest is None else rest
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=following, break_on_hyphens=False
    ) or [""]


def _fixed(pressure: float, system: System) -> str:
    text = f"{to_display(pressure, Kind.VACUUM, system):.2f}"
    return "0.00" if text == "-0.00" else text.replace("-", "−")


def _signed(pressure: float, system: System) -> str:
    text = _fixed(pressure, system)
    return text if text.startswith("−") or text == "0.00" else f"+{text}"


def _percent(share: float) -> str:
    if share != share:
        return "—"
    text = f"{share * 100:.0f} %"
    return text.replace("-0 %", "0 %").replace("-", "−")
