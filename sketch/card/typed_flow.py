"""A flow typed for a pump that has a displacement: what the displacement must be for it. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sketch.look.words import with_signs
from solver.layout.kinds import PumpType
from solver.layout.parts import Layout, Pump
from solver.network.build import pump_flow
from solver.quantities import units
from solver.quantities.spelling import is_number, with_unit
from solver.quantities.units import Kind, Quantity, System

FLOW, DISPLACEMENT = "flow", "displacement"
DIGITS = 4
EQUALS = "= "
"""Before a figure that follows from others and is not typed."""
_WITHOUT_DISPLACEMENT = (PumpType.RECIPROCATING, PumpType.CENTRIFUGAL)


def with_displacement(
    layout: Layout, name: str, draft: Mapping[str, str | bool], system: System
) -> dict[str, str | bool]:
    """What is typed, a flow as the displacement that gives it at the pump's speed, where it has both."""
    pump = layout.pumps.get(name)
    kept = {key: typed for key, typed in draft.items() if key != FLOW}
    typed = str(draft.get(FLOW, "")).strip()
    if not typed or pump is None or pump.displacement is None or {DISPLACEMENT, "type"} & set(kept):
        return dict(draft)
    if pump.type in _WITHOUT_DISPLACEMENT or "volumetric_efficiency" in kept:
        return dict(draft)
    flow, speed = _read(typed, Kind.FLOW, system), pump.speed
    if "speed" in kept:
        speed = _read(str(kept["speed"]), Kind.SPEED, system)
    if flow is None or speed is None or flow.si <= 0.0 or speed.si <= 0.0:
        return dict(draft)
    wanted = _displacement_for(replace(pump, speed=speed), flow.si)
    exact = units.in_unit_of(pump.displacement, wanted, Kind.DISPLACEMENT).text
    return {**kept, DISPLACEMENT: _to_digits(exact)}


def _to_digits(text: str) -> str:
    """A figure in the digits that a card of a pump has; a flow is known to no more."""
    number, _, unit = text.partition(" ")
    return f"{float(number):.{DIGITS}g} {unit}" if is_number(number) and float(number) < 10**DIGITS else text


def _displacement_for(pump: Pump, flow: float) -> float:
    """What gives a flow [m³/s] at the pump's speed [m³ a revolution]."""
    return flow / pump_flow(replace(pump, flow=None, displacement=Quantity("1 m^3/rev", 1.0)))


def _read(text: str, kind: Kind, system: System) -> Quantity | None:
    try:
        return units.quantity(str(with_unit(text, units.unit(kind, system))), kind)
    except units.UnitError:
        return None


def gave_displacement(edited: Layout, names: Sequence[str], key: str) -> bool:
    """Whether what was typed under a key was a flow that has become a displacement."""
    pumps = [edited.pumps[name] for name in names if name in edited.pumps]
    return key == FLOW and bool(pumps) and all(_is_by_displacement(pump) for pump in pumps)


def text_of_flow(edited: Layout, name: str, typed: str) -> str:
    """What a typed flow has become, and what it does from now on, as a sentence without its end."""
    pump = edited.pumps[name]
    assert pump.displacement is not None
    assert pump.speed is not None
    return (
        f"Flow {typed} at {pump.speed.text} makes the displacement {with_signs(pump.displacement.text)}; "
        "at another speed the flow follows"
    )


def _is_by_displacement(pump: Pump) -> bool:
    return pump.flow is None and pump.displacement is not None and pump.speed is not None


def derived(pump: Pump, system: System) -> dict[str, str]:
    """What is not typed of flow and displacement and follows from what is, by the keys of the card."""
    if _is_by_displacement(pump) and pump.type not in _WITHOUT_DISPLACEMENT:
        return {FLOW: EQUALS + units.show(pump_flow(pump), Kind.FLOW, system)}
    turns = pump.speed is not None and pump.speed.si > 0.0 and pump.type not in _WITHOUT_DISPLACEMENT
    if pump.flow is not None and pump.displacement is None and turns:
        return {
            DISPLACEMENT: EQUALS
            + units.show(_displacement_for(pump, pump.flow.si), Kind.DISPLACEMENT, system)
        }
    return {}
