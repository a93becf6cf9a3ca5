"""What a gauge at each port should show in the state that is met first, and where a pump stands worst; and
which gauge shows it."""

from __future__ import annotations

from collections.abc import Iterator

from solver.field.gauges import CLASSES, COARSE, TYPICAL_CLASS, TYPICAL_RANGE
from solver.findings.judgement import Judgement, PumpInCase
from solver.layout.cases import AS_DRAWN
from solver.ledger.rounding import port_figures
from solver.ledger.sentences import at_port
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, System, quantity, typeset
from solver.quantities.wording import degrees
from solver.report.choices import worst_places

COMPOUND = {
    System.SI: ("kPa", "\N{MINUS SIGN}100 to {} kPa", (60, 150, 300, 500, 900)),
    System.US: ("psi", "30 inHg of vacuum to {} psi", (15, 30, 60, 100, 150)),
}
"""How far up usual compound gauges go, above the atmosphere: EN 837-1 and ASME B40.100, from memory."""

OF_VACUUM, ABOVE = " of vacuum", " above the atmosphere"


def states(judgement: Judgement, pump: str) -> tuple[PumpInCase, ...]:
    """What is met first at work, as drawn, then where the pump stands worst; once where a gauge shows the
    same in both."""
    every = [place for place in judgement.pumps_in_cases if place.pump == pump]
    worst = next(place for name, place in worst_places(judgement) if name == pump)
    first = next((place for place in every if place.case == AS_DRAWN), worst)
    system = System(judgement.layout.units)
    alike = at_port(first.ledger, system) == at_port(worst.ledger, system)
    return (worst,) if alike else (first, worst)


def expected_readings(judgement: Judgement, drawn: Judgement | None, system: System) -> Iterator[str]:
    """What a gauge shows at each port, pump by pump, the worst first.

    drawn: the drawing as it stands, whose figures are set beside those; None for none.
    """
    for pump, _ in worst_places(judgement):
        places = states(judgement, pump)
        known = [] if drawn is None else [each for each in drawn.pumps_in_cases if each.pump == pump]
        now = {each.case: each.ledger for each in known}
        first = [_in_state(place, judgement, system) for place in places[:-1]]
        last = _reading(places[-1], now.get(places[-1].case), judgement, system, several=bool(first))
        if first and all(ABOVE in each for each in (*first, last)):
            last = last.replace(ABOVE, "", 1)
        yield f"{pump} {', '.join((*first, last))}"


def _in_state(place: PumpInCase, judgement: Judgement, system: System) -> str:
    return _shown(place.ledger, system) + _state(place, judgement, system)


def _reading(
    place: PumpInCase, now: PumpLedger | None, judgement: Judgement, system: System, *, several: bool
) -> str:
    """Where a pump stands worst, with what a gauge shows there now and what is allowed."""
    reading, limit = _shown(place.ledger, system), at_port(place.ledger, system)[1]
    state = _state(place, judgement, system) if several or place.case != AS_DRAWN else ""
    shown = "" if now is None else _shown(now, system)
    was = "" if shown in ("", reading) else f"now {_without_unit(shown) if OF_VACUUM in reading else shown}"
    kept = limit.removesuffix(" is allowed here")
    if kept == limit:
        return f"{reading}{state}{f' ({was})' if was else ''}, where {limit}"
    allowed = f"allowed {_without_unit(kept) if OF_VACUUM in f'{reading}{was}' else kept}"
    return f"{reading}{state} ({', '.join(filter(None, (was, allowed)))})"


def _without_unit(vacuum: str) -> str:
    """A vacuum behind another one: without its unit."""
    return vacuum.partition(" ")[0] if vacuum.endswith(OF_VACUUM) else vacuum


def _shown(ledger: PumpLedger, system: System) -> str:
    breaks = ledger.inlet <= ledger.vapor_pressure
    return "no figure, as the column breaks" if breaks else at_port(ledger, system)[0]


def _state(place: PumpInCase, judgement: Judgement, system: System) -> str:
    """When a gauge shows a figure: of the drawing's own figures by how warm the fluid is."""
    solution = judgement.cases[place.case].solution
    if place.case != AS_DRAWN or solution is None:
        return f' in "{place.case}"' if place.case != AS_DRAWN else ""
    return f" at {degrees(solution.fluid.temperature, system)}"


def gauge_for(judgement: Judgement, system: System) -> tuple[str, str]:
    """The gauge to read with, and what is to be known of it, a sentence; "" for nothing.

    A vacuum gauge shows nothing of a pressure above the atmosphere; nor does it show what is less than its
    error.
    """
    ledgers = [place.ledger for pump, _ in worst_places(judgement) for place in states(judgement, pump)]
    shown = [port_figures(each, system)[:2] for each in ledgers]
    vacuums = [vacuum for vacuum, _ in shown]
    small = [each for each in vacuums if 0.0 <= each < TYPICAL_CLASS * TYPICAL_RANGE]
    if not small and min((least for each in shown for least in each), default=0.0) >= 0.0:
        return "a vacuum gauge", ""
    name, span, tops = COMPOUND[system]
    highest = max(-each for figures in shown for each in figures)
    top = next((each for each in tops if _pascals(each, name) > highest), tops[-1])
    whole = TYPICAL_RANGE + _pascals(top, name)
    share = _class_for(min((each for _, each in shown if each > 0.0), default=0.0), whole)
    of_class = f", class {share:g}" if share < TYPICAL_CLASS * 100.0 else ""
    error = share / 100.0 * whole
    gauge = f"a compound gauge ({span.format(top)}{of_class})"
    little = any(abs(each) < error for each in vacuums)
    nothing = f"It shows less than {typeset(error, Kind.VACUUM, system)} as about nothing."
    return gauge, nothing if little and not of_class else ""


def _class_for(allowed: float, span: float) -> float:
    """The class of a gauge that tells a port from what is allowed there [Pa of vacuum], in percent of its
    span [Pa]; a plain one's where nothing is allowed below the atmosphere."""
    plain = TYPICAL_CLASS * 100.0
    usual = (each for each in CLASSES if each <= plain)
    return next((each for each in usual if each / 100.0 * span <= COARSE * allowed), plain)


def _pascals(figure: float, name: str) -> float:
    return quantity(f"{figure:g} {name}", Kind.VACUUM).si
