"""What the drawing comes to for one pump: the ledger now and at the coldest start, the other pumps, the
findings; in one headline that is never better than the worst of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from solver.findings.criteria import Finding
from solver.findings.kinds import FindingId, Grade, Severity
from solver.findings.missing import lacking
from solver.ledger.sentences import left, out_of_reach, trouble, unknown, verdict
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import System
from solver.quantities.wording import ASK_THE_MAKER, capitalised, degrees

OVER_BUDGET = (FindingId.OVER_THE_LIMIT, FindingId.OVER_AT_COLD_START)
"""The findings that say what a ledger's own sentence says."""

_THIN = (FindingId.THIN_MARGIN, FindingId.THIN_AT_COLD_START)

_SHORTLY: Mapping[FindingId, str] = {
    FindingId.NEAR_VAPOR_PRESSURE: "the fluid boils on the way",
    FindingId.START_VISCOSITY: "too thick for the pump at the cold start",
    FindingId.SUCTION_VELOCITY: "the fluid runs too fast",
    FindingId.INTAKE_UNCOVERED: "the intake is not covered",
    FindingId.INTAKE_DRAWN_DRY: "the cylinders leave the intake bare",
    FindingId.BAFFLE_SHUTS: "the baffle lets nothing pass",
}
"""Findings that may stop a pump which is within its budget, as a headline says them."""

MOST_SAID = 2
"""Findings that the detail tells in full."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What the drawing comes to for one pump."""

    severity: Grade
    word: str  # what it comes to, in a word or three
    headline: str  # one sentence with the numbers
    detail: str  # what else stands against it; empty when nothing does


def outlook(solution: Solution, findings: Iterable[Finding], pump: str, system: System) -> Outlook:
    """How a pump stands.

    Parameters: `solution`; `findings` of it; `pump`, the one that is shown; `system`, in whose units.
    Returns: the outlook. Its severity is that of the worst finding, whatever pump that is about, and stop
    where some pump is over now or at the coldest start.
    """
    found = tuple(findings)
    others = tuple(text for name, text in in_trouble(solution, system) if name != pump)
    severity = _severity(solution, found)
    stops = [f for f in found if f.severity == Severity.STOP and f.finding not in OVER_BUDGET]
    own = _own(solution, found, pump, system)
    if _sound(solution, pump):
        if others:
            own = f"{pump} within; {' and '.join(others)}"
            others = ()
        elif stops:
            own = f"Within, but {_shortly(stops[0])}"
    return Outlook(severity, _word(solution, found, pump, severity), own, _detail(found, others, severity))


def own_headline(solution: Solution, findings: Iterable[Finding], pump: str, system: System) -> str:
    """The headline of one pump, whatever the others do. Parameters as `outlook`."""
    found = tuple(findings)
    headline = _own(solution, found, pump, system)
    if not _sound(solution, pump):
        return headline
    places = _places(solution.pumps[pump])
    stops = [
        f for f in found if f.severity == Severity.STOP and f.part in places and f.finding not in OVER_BUDGET
    ]
    return f"Within, but {_shortly(stops[0])}" if stops else headline


def _sound(solution: Solution, pump: str) -> bool:
    cold = solution.cold(pump)
    return solution.pumps[pump].sound and (cold is None or cold.sound)


def every_pump_sound(solution: Solution) -> bool:
    """Whether every pump is within its budget and its column holds, now and at the coldest start."""
    return all(_sound(solution, pump) for pump in solution.pumps)


def _own(solution: Solution, found: tuple[Finding, ...], pump: str, system: System) -> str:
    now, cold = solution.pumps[pump], solution.cold(pump)
    if unknown(now):
        return f"{capitalised(out_of_reach(now, system))}: {ASK_THE_MAKER}"
    estimated = not now.breaks and (now.limit_estimated or (cold is not None and cold.limit_estimated))
    reserved = (
        ("limit estimated", estimated),
        ("losses at least", bool(lacking(solution, pump))),
        ("not judged for boiling", "vapor_pressure" in solution.fluid.unknown),
    )
    named = "; ".join(reservation for reservation, holds in reserved if holds)
    return _standing(solution, found, pump, system) + (f" ({named})" if named else "")


def _standing(solution: Solution, found: tuple[Finding, ...], pump: str, system: System) -> str:
    now, cold = solution.pumps[pump], solution.cold(pump)
    if cold is None:
        return verdict(now, system)
    start = _start(solution, system)
    if cold.sound:
        return verdict(now, system) + (f"; {left(cold, system)} at {start}" if _thin(found, pump) else "")
    if now.sound:
        here = degrees(solution.fluid.temperature, system)
        return f"Within at {here}; {trouble(cold, system)} at {start}"
    if max(now.budget, cold.budget) <= 0 and not now.breaks and not cold.breaks and _worse(cold, now):
        return f"{verdict(cold, system)}, for {start}"
    return verdict(now, system) + _also(now, cold, start, "; ", system)


def _start(solution: Solution, system: System) -> str:
    """What a coldest start is called: "the 60 °F start"; empty without one."""
    start = solution.cold_start
    return "" if start is None else f"the {degrees(start.temperature, system)} start"


def _worse(cold: PumpLedger, now: PumpLedger) -> bool:
    return cold.breaks or cold.margin < now.margin


def _also(now: PumpLedger, cold: PumpLedger, start: str, joint: str, system: System) -> str:
    """What the coldest start adds to a pump that is not sound now."""
    if cold.sound or now.breaks or not _worse(cold, now):
        return ""
    if cold.breaks:
        return f"{joint}at {start} {trouble(cold, system)}"
    same = now.budget > 0 and cold.budget > 0
    told = trouble(cold, system)
    return f"{joint}{told.removeprefix('over ') if same else told} at {start}"


def _thin(found: tuple[Finding, ...], pump: str) -> bool:
    """Whether it is the coldest start that leaves little."""
    return any(finding.finding == FindingId.THIN_AT_COLD_START and finding.part == pump for finding in found)


def in_trouble(solution: Solution, system: System) -> Iterator[tuple[str, str]]:
    """Every pump that is not sound, now or at the coldest start, with what is wrong with it."""
    start = _start(solution, system)
    for name, now in solution.pumps.items():
        cold = solution.cold(name)
        if unknown(now):
            if not _sound(solution, name):
                yield name, out_of_reach(now, system, f"{name}'s")
        elif not now.sound:
            also = _also(now, cold, start, ", ", system) if cold is not None else ""
            yield name, _of_other(name, now, system) + also
        elif cold is not None and not cold.sound:
            yield name, f"{_of_other(name, cold, system)} at {start}"


def _of_other(name: str, ledger: PumpLedger, system: System) -> str:
    told = trouble(ledger, system)
    return f"in {name} {told}" if ledger.breaks else f"{name} is {told}"


def _severity(solution: Solution, found: tuple[Finding, ...]) -> Grade:
    severities = {finding.severity for finding in found}
    if Severity.STOP in severities or not every_pump_sound(solution):
        return Grade.STOP
    return Grade.CAUTION if Severity.CAUTION in severities else Grade.GOOD


def _word(solution: Solution, found: tuple[Finding, ...], pump: str, severity: Grade) -> str:
    now, cold = solution.pumps[pump], solution.cold(pump)
    if now.breaks:
        return "The column breaks"
    if unknown(now):
        return "Limit not known"
    if not now.within:
        return "No budget" if now.budget <= 0 else "Over the limit"
    if cold is not None and not cold.sound:
        return "Over at the cold start"
    if severity == Grade.STOP:
        over = not every_pump_sound(solution)
        return "Another pump is over" if over else "Within, but not fit to run"
    if severity == Grade.CAUTION:
        thin = any(finding.finding in _THIN and finding.part == pump for finding in found)
        return "Within, thin margin" if thin else "Within, with cautions"
    return "Within the limit"


def _shortly(finding: Finding) -> str:
    return _SHORTLY.get(finding.finding, finding.text)


def _detail(found: tuple[Finding, ...], others: tuple[str, ...], severity: Grade) -> str:
    """What the headline leaves out, the worst first."""
    told = [f.text for f in found if f.severity.value == severity.value and f.finding not in OVER_BUDGET]
    every = [*others, *told]
    rest = len(every) - MOST_SAID
    more = [f"{rest} more under Findings"] if rest > 0 else []
    return "; ".join([*every[:MOST_SAID], *more])


def _places(ledger: PumpLedger) -> set[str]:
    entries = (*ledger.entries, *ledger.beside)
    return {ledger.pump, ledger.reservoir, *(entry.part for entry in entries)}
