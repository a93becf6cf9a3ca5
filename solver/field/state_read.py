"""The drawing in the state that a machine was in when it was read, as far as that was written down."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from solver.field import places
from solver.field.places import Place
from solver.layout import cases
from solver.layout.cases import CaseError, cases_of, layout_in_case, read_case
from solver.layout.logged import LoggedReading
from solver.layout.parts import Case, Layout, Level, Pump
from solver.layout.positions import dotted
from solver.network.build import pump_flow

STANDBY = 0.05
"""Share of its flow that a pump takes in on standby; common practice, no source."""


class NotExplainedError(ValueError):
    """A reading that cannot be compared with the drawing, and why."""


def state_of(layout: Layout, number: int, logged: LoggedReading) -> tuple[Layout, tuple[str, ...]]:
    """The drawing with the figures of a reading's case and state in place, and figures passed over.

    Raises CaseError, NotExplainedError.
    """
    absent: tuple[str, ...] = ()
    if logged.case:
        known = cases_of(layout)
        if logged.case not in known:
            raise NotExplainedError(f'the drawing has no case "{logged.case}"')
        absent = cases.passed_over(layout, known[logged.case])
        layout = layout_in_case(layout, logged.case, known[logged.case])
    case = _case(layout, number, logged)
    try:
        return layout_in_case(layout, "state", case), (*absent, *cases.passed_over(layout, case))
    except CaseError as error:
        path = ("readings", number, "state", *error.path[3 if error.path[0] == "readings" else 2 :])
        raise NotExplainedError(f"{dotted(path)}: {error.found}; allowed: {error.allowed}") from None


def _case(layout: Layout, number: int, logged: LoggedReading) -> Case:
    """The state of a reading as a case, with the strokes and cylinders that were noted."""
    table: dict[str, Any] = deepcopy(dict(logged.state))
    if logged.cylinders is not None and not table.keys() & {"level", "levels"}:
        known = any(tank.draw_down is not None for tank in layout.reservoirs.values())
        drawn_down = logged.cylinders == "out" and known
        table["level"] = str(Level.DRAWN_DOWN if drawn_down else Level.NORMAL)
    for name, stroke in logged.strokes.items():
        if name in layout.pumps:
            pumps = table.setdefault("pumps", {})
            own = pumps.get(name, {}) if isinstance(pumps, dict) else None
            if isinstance(own, dict):  # anything else is refused with the state
                pumps[name] = {**_stroke(layout.pumps[name], stroke), **own}
    named = {
        (group, name)
        for group, inner in table.items()
        if isinstance(inner, dict)
        for name in inner
        if isinstance(name, str)
    }
    drawn = {(group, name) for group in _GROUPS for name in getattr(layout, group)}
    levels = {("reservoirs", name) for group, name in named if group == "levels"}
    return read_case(table, ("readings", number), "state", named | drawn | levels)


_GROUPS = ("reservoirs", "intakes", "fittings", "tees", "pumps", "runs")


def _stroke(pump: Pump, stroke: str) -> dict[str, Any]:
    if stroke == "standby":
        return {"flow": f"{pump_flow(pump) * STANDBY!r} m^3/s", "at_rest": False}
    return {"at_rest": stroke == "at rest"}


def place_of(layout: Layout, logged: LoggedReading) -> Place:
    """Where a reading was made. Raises NotExplainedError where that is no place of the drawing."""
    if not logged.run:
        return Place(logged.pump)
    run = layout.runs.get(logged.run)
    if run is None:
        raise NotExplainedError(f"it has no place: there is no run {logged.run}")
    if logged.joint and logged.joint not in (run.start, run.end):
        raise NotExplainedError(f"it has no place: {logged.run} does not end on {logged.joint}")
    long = places.length(layout, logged.run)
    along = logged.distance.si if logged.distance is not None else 0.0
    if logged.joint:
        along = 0.0 if logged.joint == run.start else long
    if along > long + 1e-3:
        raise NotExplainedError(f"it has no place: {logged.run} is shorter than its distance")
    return Place(logged.pump, logged.run, along)
