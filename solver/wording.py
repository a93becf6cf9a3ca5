"""How figures read in a sentence: a pressure as a gauge shows it, as it is allowed, where no fluid has it."""

from __future__ import annotations

from solver.units import Kind, System, number, said, unit


def gauge(vacuum: float, system: System) -> str:
    """What a gauge shows of a vacuum [Pa, positive below the atmosphere]."""
    if vacuum < 0:
        return f"{said(-vacuum, Kind.VACUUM, system)} above the atmosphere"
    return f"{said(vacuum, Kind.VACUUM, system)} of vacuum"


def allowance(vacuum: float, system: System) -> str:
    """What is allowed at a port, of its largest vacuum [Pa, positive below the atmosphere]."""
    if vacuum < 0:
        least = not_none(-vacuum, Kind.VACUUM, system)
        return f"no vacuum is allowed here: the port must stand at least {least} above the atmosphere"
    return f"{said(vacuum, Kind.VACUUM, system)} of vacuum is allowed here"


def compared(vacuum: float, allowed: float, system: System) -> str:
    """What a gauge shows beside what is allowed, both vacuums [Pa, positive below the atmosphere]."""
    here = f"{gauge(vacuum, system)} at the port"
    if vacuum < 0 or allowed < 0:
        return f"{here}; {allowance(allowed, system)}"
    return f"{here}, {said(allowed, Kind.VACUUM, system)} allowed here"


def broken(pressure: float, vapor_pressure: float, system: System) -> str:
    """Why fluid cannot have a static pressure [Pa absolute], its vapour pressure being what it is [Pa]."""
    here = said(pressure, Kind.ABSOLUTE, system)
    if pressure <= 0:
        return f"it would need {here}"
    return f"{here} is left, and it boils at {said(vapor_pressure, Kind.ABSOLUTE, system)}"


def not_none(value: float, kind: Kind, system: System) -> str:
    """A positive value, never shown as nothing."""
    digits = number(value, kind, system)
    if float(digits):
        return said(value, kind, system)
    return f"less than {digits[:-1]}1 {unit(kind, system)}"


def degrees(temperature: float, system: System) -> str:
    """A temperature [K] as it is spoken of: "5 °C", "35.5 °F"."""
    return said(temperature, Kind.TEMPERATURE, system).replace(".0 ", " ")
