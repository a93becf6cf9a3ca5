"""A pocket calculator that reads formulas as they are printed, with or without units."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from typing import Any

import pint

NUMBER = re.compile(r"(?<![\w_])(\d+(?:\.\d+)?)(?:·10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?")
RAISED = re.compile("[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+")
PLAIN_DIGITS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")

# As printed, and by its definition: NIST SP 811 for the customary units; mercury of 13 595.1 kg/m³.
UNITS = {
    "inHg": "25.4 mm * 13595.1 kg/m^3 * 9.80665 m/s^2",
    "kPa": "kPa",
    "Pa": "Pa",
    "psi": "psi",
    "Pa·s": "Pa*s",
    "gpm": "231 in^3/min",
    "L/min": "L/min",
    "m³/s": "m^3/s",
    "in³/rev": "in^3/turn",
    "cm³/rev": "cm^3/turn",
    "m³/rev": "m^3/turn",
    "rpm": "turn/min",
    "rev/s": "turn/s",
    "in": "in",
    "ft": "ft",
    "mm": "mm",
    "m": "m",
    "in²": "in^2",
    "cm²": "cm^2",
    "m²": "m^2",
    "ft/s": "ft/s",
    "m/s": "m/s",
    "ft/s²": "ft/s^2",
    "m/s²": "m/s^2",
    "lb/ft³": "lb/ft^3",
    "L": "L",
    "gal": "gallon",
    "per m": "1/m",
    "°C": "dimensionless",
    "°F": "dimensionless",
    "kg/m³": "kg/m^3",
    "cSt": "mm^2/s",
    "mm²/s": "mm^2/s",
    "m²/s": "m^2/s",
    "per inch": "1/in",
    "1/m": "1/m",
    "1/m³": "1/m^3",
    "1/m⁴": "1/m^4",
    "K": "kelvin",
    "1/K": "1/kelvin",
    "K/m": "kelvin/m",
    "K/ft": "kelvin/ft",
    "rad": "radian",
    "m³/h": "m^3/h",
    "Pa²·m⁶": "Pa^2*m^6",
    "Pa²·m⁷": "Pa^2*m^7",
    "Pa²·m⁸": "Pa^2*m^8",
    "Pa²·m³": "Pa^2*m^3",
    "Pa²·m⁴": "Pa^2*m^4",
    "%": "percent",
    "": "dimensionless",
}
UNIT = re.compile("|".join(re.escape(f" {name}") for name in sorted(UNITS, key=len, reverse=True) if name))


@cache
def registry() -> Any:
    units_known = pint.UnitRegistry()
    units_known.define("shaft_turn = [shaft_turn] = turn_of_shaft")
    return units_known


@cache
def unit(name: str) -> Any:
    """One of a printed unit. A turn of a shaft is a thing of its own."""
    return registry().parse_expression(UNITS[name].replace("turn", "shaft_turn"))


def figure(text: str) -> float:
    """A printed number."""
    match = NUMBER.fullmatch(text.removeprefix("−"))
    assert match, text
    value = float(f"{match[1]}e{(match[2] or '0').translate(PLAIN_DIGITS)}")
    return -value if text.startswith("−") else value


def last_digit(text: str) -> float:
    """The worth of one unit of the last digit of a printed number."""
    mantissa, _, power = text.removeprefix("−").partition("·")
    worth = 10.0 ** -len(mantissa.partition(".")[2])
    return worth * figure("1·" + power) if power else worth


FUNCTIONS = {
    "ln": math.log,
    "log10": math.log10,
    "exp": math.exp,
    "sin": math.sin,
    "tan": math.tan,
    "arctan": math.atan,
}
"""The functions of a printed line, by the names it has for them."""


def split(text: str) -> tuple[str, str]:
    """A printed result as its number and its unit."""
    number, _, name = text.partition(" ")
    assert name in UNITS, text
    return number, name


@cache
def evaluate(line: str) -> float:
    """What a printed line of numbers comes to; it may not hold a unit."""
    value = _evaluate(line, lambda number, name: number if not name else _refuse(line, name))
    return float(value)


@cache
def evaluate_with_units(line: str) -> Any:
    """The value of a line whose numbers carry units."""
    return registry().Quantity(_evaluate(line, lambda number, name: number * unit(name) if name else number))


def _refuse(line: str, name: str) -> float:
    raise AssertionError(f"{name} in {line}")


def _evaluate(line: str, make: Callable[[float, str], Any]) -> Any:
    values: dict[str, Any] = {}

    def keep(position: int, number: re.Match[str]) -> int:
        name = UNIT.match(line, number.end())
        key = f"N{len(values)}"
        values[key] = make(figure(number[0]), name[0].strip() if name else "")
        pieces.append(line[position : number.start()] + key)
        return name.end() if name else number.end()

    pieces: list[str] = []
    place = 0
    for number in NUMBER.finditer(line):
        if number.start() >= place and not line[: number.start()].endswith("log"):
            place = keep(place, number)
    source = "".join(pieces) + line[place:]
    source = RAISED.sub(lambda raised: f"**({raised[0].translate(PLAIN_DIGITS)})", source)
    source = source.replace("·", "*").replace("−", "-").replace("^", "**")
    source = re.sub(r"√(\w+)", r"sqrt(\1)", source.replace("√(", "sqrt("))
    known = {name: _of(function) for name, function in FUNCTIONS.items()}
    return eval(source, {**known, **values, "sqrt": lambda v: v**0.5, "max": max, "min": min, "π": math.pi})


def _of(function: Callable[[float], float]) -> Callable[[Any], float]:
    """A function of a plain number: what units it holds must cancel."""

    def of(value: Any) -> float:
        return function(registry().Quantity(value).to("dimensionless").magnitude)

    return of
