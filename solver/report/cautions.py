"""Cautions that belong to what a drawing has: no strainer left, a valve in the line, a pump under fluid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.findings.judgement import Judgement
from solver.geometry import reservoirs
from solver.geometry.outline import position
from solver.layout.kinds import VALVE_KINDS
from solver.layout.parts import Fitting, Intake, Layout, Level
from solver.quantities.units import Kind, System, typeset


def cautions(judgement: Judgement, before: Layout | None, system: System) -> tuple[str, ...]:
    """What to mind of a drawing that was judged, a sentence or two each. Common practice, no source.

    Parameters: `before`, the drawing that it is an alternative to, if it is one.
    """
    layout = judgement.layout
    return (*_unscreened(before, layout), *_valves(layout), *_flooded(judgement, system))


def _unscreened(before: Layout | None, layout: Layout) -> Iterator[str]:
    """Screens that were taken out and have nothing in their place."""
    old, new = _screened(before) if before is not None else (), _screened(layout)
    gone = [name for name in old if name not in new]
    if gone and len(new) < len(old):
        yield (
            f"Taken out: {_listed(gone)}. Filter the fluid elsewhere, in the return or a loop of its own, "
            "with the pump maker's consent."
        )


def _screened(layout: Layout) -> tuple[str, ...]:
    parts: tuple[Intake | Fitting, ...] = (*layout.intakes.values(), *layout.fittings.values())
    return tuple(part.name for part in parts if part.screen is not None)


def _valves(layout: Layout) -> Iterator[str]:
    names = [part.name for part in layout.fittings.values() if part.kind in VALVE_KINDS]
    if names:
        yield (
            f"Lock open or interlock: {_listed(names)}. A pump started against a closed valve can be "
            "destroyed in seconds."
        )


def _flooded(judgement: Judgement, system: System) -> Iterator[str]:
    """How much may run out where a pump under fluid is opened, from the normal level at the most."""
    layout = judgement.layout
    shut_off = any(part.kind in VALVE_KINDS for part in layout.fittings.values())
    first = "shut and lock its valve first" if shut_off else "drain it first: no valve is drawn"
    pumps_under: dict[tuple[str, str], list[str]] = {}
    for pump, name in dict.fromkeys(
        (place.pump, place.ledger.reservoir) for place in judgement.pumps_in_cases
    ):
        port, tank = position(layout.pumps[pump])[1], layout.reservoirs[name]
        surface = max(reservoirs.level(tank, Level.NORMAL), reservoirs.level(tank, Level.MINIMUM))
        over = reservoirs.volume_between(tank, port, surface)
        if over > 0.0:
            pumps_under.setdefault((name, typeset(over, Kind.VOLUME, system)), []).append(pump)
    for (name, amount), pumps in pumps_under.items():
        yield f"Flooded: up to {amount} of {name} runs out where {' or '.join(pumps)} is opened; {first}."


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)
