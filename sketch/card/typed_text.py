"""A figure as it was typed, and what it is in the units shown where those are others. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping

from sketch.look.words import with_signs
from solver.quantities import units
from solver.quantities.spelling import canonical, is_absolute, normalised, unit_in
from solver.quantities.units import Kind, System
from solver.quantities.wording import significant

METRIC = "m mm cm km degC Pa kPa MPa bar mbar L L/min L/s m^3 m^3/h cm^3 cm^3/rev cm^2 mm^2 m^2 kg/m^3 m/s"
CUSTOMARY = "ft in mi degF inHg psi gal gpm gal/min ft^3 in^3 in^3/rev in^2 ft^2 lb/ft^3 ft/s"

OF_THE_OTHER: Mapping[System, frozenset[str]] = {
    System.US: frozenset(METRIC.split()),
    System.SI: frozenset(CUSTOMARY.split()),
}
"""Units in which nobody reads a figure who has that system shown."""


THIN = 1e-3
"""A wire or a roughness, which the decimals of a bore would round away [m]."""


def converted(text: str, kind: Kind, system: System) -> str:
    """A typed figure in the unit shown; "" where it is typed in one of that system, or is no figure."""
    unit = canonical(unit_in(normalised(text)))
    if unit not in OF_THE_OTHER[system]:
        return ""
    said = text if kind is not Kind.ABSOLUTE or is_absolute(text) else f"{text} abs"
    try:
        si = units.quantity(said, kind).si
    except units.UnitError:
        return ""
    thin = kind is Kind.BORE and 0.0 < si < THIN
    return significant(si, kind, system) if thin else units.show(si, kind, system)


def displayed(text: str, kind: Kind | None, system: System) -> str:
    """A typed figure as it is read, with signs, and what it is in the unit shown behind it."""
    shown = with_signs(text)
    also = converted(text, kind, system) if kind is not None else ""
    return f"{shown} ({also})" if also else shown
