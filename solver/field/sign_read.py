"""Readings of more pressure than a suction line can have: a sign left out, or an absolute pressure."""

from __future__ import annotations

from collections.abc import Iterator

from solver.field import places
from solver.field.places import Place
from solver.formulas.flow import GRAVITY
from solver.layout.logged import Shown
from solver.ledger.solve import Solution
from solver.quantities import spelling
from solver.quantities.units import Kind, Quantity, System, typeset

STOP_UNTIL_CLEAR = "Until that is clear, stop the pump: the vacuum may be past what is allowed"


def misread(solution: Solution, place: Place, vacuum: float, unsure: float, key: str, shown: Shown) -> str:
    """Why a reading cannot be what it is typed as, and what is asked of it; "" where it can.

    Nothing presses on a tap of a suction line but its tank: no more than with that full to the brim.
    vacuum: at the tap, the most that it may have been [Pa], below zero. unsure: how far the gauge and its
    tube may be off [Pa]. key: under which it is typed. shown: its figures.
    """
    ledger, system = solution.pumps[place.pump], System(solution.layout.units)
    tank = solution.layout.reservoirs[ledger.reservoir]
    most = _most_pressure(solution, place)
    if (tank.sealed and tank.pressure is None) or -vacuum <= max(most, 0.0) + unsure:
        return ""
    over, full = (typeset(each, Kind.VACUUM, system) for each in (-vacuum, most))
    presses = f"presses there with no more than {full}" if most > 0.0 else "stands under that place"
    text = " to ".join(each.text for each in shown)
    asked = " ".join(_asked(key, shown[0], ledger.atmosphere))
    return (
        f'{key} = "{text}" is {over} above the atmosphere at its place, and {ledger.reservoir}, full to the '
        f"brim, {presses}. {asked} {STOP_UNTIL_CLEAR}"
    )


def _most_pressure(solution: Solution, place: Place) -> float:
    """What the tank may press with at a place, full to the brim [Pa over the atmosphere]."""
    ledger = solution.pumps[place.pump]
    brim = max(z.si for _, z in solution.layout.reservoirs[ledger.reservoir].outline)
    more = ledger.density * GRAVITY * max(brim - ledger.fluid_level, 0.0)
    return more - places.at_rest(solution, place)


def _asked(key: str, shown: Quantity, air: float) -> Iterator[str]:
    """What it may be instead, each as it is typed then. air: the atmosphere there [Pa]."""
    if spelling.is_absolute(shown.text):
        yield "Does that gauge show absolute pressure at all?"
    else:
        figure = shown.text.lstrip("-+\N{MINUS SIGN} ")
        if abs(shown.si) < air:
            yield f'Is it a vacuum? Then type {key.replace("pressure", "vacuum")} = "{figure}".'
        if key.endswith("pressure") and shown.si < air:
            yield f'Is it an absolute pressure? Then type {key} = "{figure} abs".'
    yield "Is the tank under pressure? Then draw that. Else vent the gauge, and look at its zero."
