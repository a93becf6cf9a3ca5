"""What the drawing comes to for one pump: the ledger now and at the coldest start, the other pumps, the
findings; in one headline that is never better than the worst of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from solver.criteria import SEVERITIES, Finding
from solver.ledger import PumpLedger, Solution, trouble, verdict
from solver.units import System
from solver.wording import degrees

GOOD = "good"

OVER, OVER_COLD, BOILS = "over the allowed vacuum", "over at the cold start", "near vapour pressure"
THIN = ("thin margin", "thin margin at the cold start")
_BUDGETS = (OVER, OVER_COLD)

_SHORTLY: Mapping[str, str] = {
    BOILS: "the fluid boils on the way",
    "start viscosity": "too thick for the pump at the cold start",
    "suction velocity": "the fluid runs too fast",
    "intake not under the minimum level": "the intake is not covered",
    "intake uncovered by the draw-down": "the cylinders leave the intake bare",
    "baffle lets nothing pass": "the baffle lets nothing pass",
}
"""Findings that may stop a pump which is within its budget, as a headline says them."""

MOST_SAID = 2
"""Findings that the detail tells in full."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """`severity` is "stop", "caution" or "good": good is nothing that a stop or caution stands against."""

    severity: str
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
    stops = [f for f in found if f.severity == "stop" and f.finding not in _BUDGETS]
    own = _own(solution, pump, system)
    if _sound(solution, pump):
        if others:
            own = f"{pump} within; {' and '.join(others)}"
            others = ()
        elif stops:
            own = f"Within, but {_shortly(stops[0])}"
    return Outlook(severity, _word(solution, found, pump, severity), own, _detail(found, others, severity))


def own_headline(solution: Solution, findings: Iterable[Finding], pump: str, system: System) -> str:
    """The headline of one pump, whatever the others do. Parameters as `outlook`."""
    headline = _own(solution, pump, system)
    if not _sound(solution, pump):
        return headline
    places = _places(solution.pumps[pump])
    stops = [f for f in findings if f.severity == "stop" and f.part in places and f.finding not in _BUDGETS]
    return f"Within, but {_shortly(stops[0])}" if stops else headline


def _sound(solution: Solution, pump: str) -> bool:
    cold = solution.cold(pump)
    return solution.pumps[pump].sound and (cold is None or cold.sound)


def every_pump_sound(solution: Solution) -> bool:
    """Whether every pump is within its budget and its column holds, now and at the coldest start."""
    return all(_sound(solution, pump) for pump in solution.pumps)


def _own(solution: Solution, pump: str, system: System) -> str:
    now, cold = solution.pumps[pump], solution.cold(pump)
    if cold is None or cold.sound or solution.cold_start is None:
        return verdict(now, system)
    at_start = f"at the {degrees(solution.cold_start.temperature, system)} start"
    if now.sound:
        here = degrees(solution.fluid.temperature, system)
        return f"Within at {here}; {trouble(cold, system)} {at_start}"
    if now.breaks or now.budget <= 0 or cold.breaks or cold.budget <= 0:
        return verdict(now, system)
    return f"{verdict(now, system)}; {trouble(cold, system).removeprefix('over ')} {at_start}"


def in_trouble(solution: Solution, system: System) -> Iterator[tuple[str, str]]:
    """Every pump that is not sound, now or at the coldest start, with what is wrong with it."""
    for name, now in solution.pumps.items():
        cold = solution.cold(name)
        if not now.sound:
            yield name, _of_other(name, now, system)
        elif cold is not None and not cold.sound and solution.cold_start is not None:
            start = degrees(solution.cold_start.temperature, system)
            yield name, f"{_of_other(name, cold, system)} at the {start} start"


def _of_other(name: str, ledger: PumpLedger, system: System) -> str:
    said = trouble(ledger, system)
    return f"in {name} {said}" if ledger.breaks else f"{name} is {said}"


def _severity(solution: Solution, found: tuple[Finding, ...]) -> str:
    if not every_pump_sound(solution):
        return "stop"
    worst = min((SEVERITIES.index(finding.severity) for finding in found), default=len(SEVERITIES))
    return SEVERITIES[worst] if worst < SEVERITIES.index("note") else GOOD


def _word(solution: Solution, found: tuple[Finding, ...], pump: str, severity: str) -> str:
    now, cold = solution.pumps[pump], solution.cold(pump)
    if now.breaks:
        return "The column breaks"
    if not now.within:
        return "No budget" if now.budget <= 0 else "Over the limit"
    if cold is not None and not cold.sound:
        return "Over at the cold start"
    if severity == "stop":
        over = not every_pump_sound(solution)
        return "Another pump is over" if over else "Within, but not fit to run"
    if severity == "caution":
        thin = any(finding.finding in THIN and finding.part == pump for finding in found)
        return "Within, thin margin" if thin else "Within, with cautions"
    return "Within the limit"


def _shortly(finding: Finding) -> str:
    return _SHORTLY.get(finding.finding, finding.text)


def _detail(found: tuple[Finding, ...], others: tuple[str, ...], severity: str) -> str:
    """What the headline leaves out, the worst first."""
    told = [f.text for f in found if f.severity == severity and f.finding not in _BUDGETS]
    said = [*others, *told]
    rest = len(said) - MOST_SAID
    more = [f"{rest} more under Findings"] if rest > 0 else []
    return "; ".join([*said[:MOST_SAID], *more])


def _places(ledger: PumpLedger) -> set[str]:
    entries = (*ledger.entries, *ledger.beside)
    return {ledger.pump, ledger.reservoir, *(entry.part for entry in entries)}
