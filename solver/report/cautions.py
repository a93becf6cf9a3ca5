"""Cautions that belong to what a drawing has: no strainer left, a valve in the line, a pump under fluid."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from solver.findings.isolating import Flooding, flooding
from solver.findings.judgement import Judgement
from solver.fixes.pressures import BUILT_FOR_IT, on_lid
from solver.layout.kinds import VALVE_KINDS
from solver.layout.parts import Fitting, Intake, Layout
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import capitalised


def cautions(
    judgement: Judgement, before: Layout | None, system: System, changed: Iterable[Layout] = ()
) -> tuple[str, ...]:
    """What to mind of a drawing that was judged, a sentence or two each. Common practice, no source.

    Parameters: `before`, the drawing that it is an alternative to, if it is one; `changed`, the drawing with
    each change that is recommended besides.
    """
    layout = judgement.layout
    return (
        *dict.fromkeys((*_pressed(None, layout, system), *_pressed_by(layout, changed, system))),
        *_unscreened(before, layout),
        *_valves(layout),
        *_flooded(judgement, system),
    )


def _pressed_by(layout: Layout, changed: Iterable[Layout], system: System) -> Iterator[str]:
    """Tanks on which a change holds more pressure than the drawing has."""
    for each in changed:
        yield from _pressed(layout, each, system)


def _pressed(before: Layout | None, layout: Layout, system: System) -> Iterator[str]:
    """Tanks that hold pressure on their fluid, in a case at the most; only where that is more than before.

    before: the drawing that a change or an alternative begins from; None for none.
    """
    for name, tank in layout.reservoirs.items():
        most = _most_held(layout, name)
        if most > 0 and (before is None or most > _most_held(before, name)):
            yield f"Pressure on {name}: only with {BUILT_FOR_IT}. {capitalised(on_lid(tank, most, system))}."


def _most_held(layout: Layout, name: str) -> float:
    """The most gauge pressure that a tank is given, in the drawing or in a case of it [Pa]."""
    if name not in layout.reservoirs:
        return 0.0
    typed = layout.reservoirs[name].pressure
    cases = (case.figures.get(("reservoirs", name, "pressure")) for case in layout.cases.values())
    held = (each.si for each in (typed, *cases) if isinstance(each, Quantity))
    return max(held, default=0.0)


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
        yield (f"Lock open or interlock {_listed(names)}: closed, it can destroy a pump in seconds.")


def _flooded(judgement: Judgement, system: System) -> Iterator[str]:
    """How much may run out where a pump under fluid is opened, and what is done before."""
    for (name, amount, first), pumps in _pumps_under(judgement, system).items():
        yield f"For work: up to {amount} of {name} runs out where {' or '.join(pumps)} is opened; {first}."


def what_runs_out(judgement: Judgement, system: System) -> Iterator[str]:
    """What it is that may run out where a pump under fluid is opened, a sentence for each tank."""
    for (name, amount, _), pumps in _pumps_under(judgement, system).items():
        yield (
            f"The {amount} of {name} over {' or '.join(pumps)} stand between the highest level that is drawn "
            "and the lower edge of the port, or of the lowest intake on the way to it."
        )


def _pumps_under(judgement: Judgement, system: System) -> dict[tuple[str, str, str], list[str]]:
    """The pumps that stand under a fluid, by the tank, how much stands over them, and what is done before one
    is opened: from the highest level that is drawn down to the lower edge of its port, or of the lowest
    intake on the way to it."""
    pumps_under: dict[tuple[str, str, str], list[str]] = {}
    for pump in dict.fromkeys(place.pump for place in judgement.pumps_in_cases):
        for over in _over(judgement, pump):
            place = over.reservoir, typeset(over.volume, Kind.VOLUME, system), _first(over)
            pumps_under.setdefault(place, []).append(pump)
    return pumps_under


def _over(judgement: Judgement, pump: str) -> Iterable[Flooding]:
    """What stands over a pump in the case in which that is most, reservoir by reservoir."""
    most: dict[str, Flooding] = {}
    for case in judgement.cases.values():
        if case.solution is not None:
            for over in flooding(case.solution.layout, pump, case.solution.network.joined):
                if over.reservoir not in most or over.volume > most[over.reservoir].volume:
                    most[over.reservoir] = over
    return most.values()


def _first(over: Flooding) -> str:
    """What is done before a pump is opened."""
    if over.shut_by_hand:
        return "shut and lock its valve first"
    return f"drain it first: {'no valve is drawn' if over.unshut else 'no hand reaches its valve'}"


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)
