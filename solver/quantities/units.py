"""Quantities as typed and as SI floats, and how these are shown. The one strict door for units."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any, NoReturn

from solver.quantities import spelling
from solver.quantities.display import (
    MINUS,
    fixed,
    from_display,
    number,
    rounded,
    show,
    shown_beside,
    to_display,
    typeset,
    unit,
    with_minus,
    with_places,
)
from solver.quantities.scales import (
    ALIASES,
    INCH,
    LENGTH_KINDS,
    PRESSURES,
    SCALES,
    Kind,
    Linear,
    Scale,
    System,
)

__all__ = [
    "MINUS",
    "Kind",
    "Quantity",
    "System",
    "UnitError",
    "allowed",
    "fixed",
    "from_display",
    "in_unit_of",
    "number",
    "quantity",
    "quantity_in",
    "rounded",
    "show",
    "shown_beside",
    "to_display",
    "typeset",
    "unit",
    "with_minus",
    "with_places",
]


@dataclass(frozen=True, slots=True)
class Quantity:
    """One number with its unit: the text as typed, and the value in the SI unit of its kind."""

    text: str
    si: float


class UnitError(ValueError):
    """A text that is no quantity of its kind: what was found, and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(f"found {found}; allowed: {allowed}")
        self.found = found
        self.allowed = allowed


LONGEST_TEXT = 64
"""Characters of a quantity; no honest one comes near it."""

LARGEST_POWER = 4
"""Of one unit name in a composed unit."""


# Names that a composed unit may use, as pint calls them. A turn counts as a thing of its own, so that a
# displacement is no volume and a speed is no frequency.
_PINT_NAMES = {
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "dm": "decimeter", "km": "kilometer",
    "um": "micrometer", "ft": "foot", "in": "inch", "yd": "yard",
    "s": "second", "min": "minute", "h": "hour", "d": "day", "kg": "kilogram", "g": "gram", "lb": "pound",
    "N": "newton", "lbf": "pound_force", "L": "liter", "mL": "milliliter", "gal": "gallon",
    "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar", "mbar": "millibar", "psi": "psi",
    "kgf": "kilogram_force", "hPa": "hectopascal", "cc": "cc", "cSt": "centistokes", "rev": "shaft_turn",
}  # fmt: skip
_PINT_REFERENCE = {
    Kind.LENGTH: "meter", Kind.BORE: "meter", Kind.ELEVATION: "meter", Kind.HEAD: "meter",
    Kind.AREA: "meter**2", Kind.VOLUME: "meter**3", Kind.PRESSURE: "pascal", Kind.VACUUM: "pascal",
    Kind.FLOW: "meter**3/second", Kind.FLOW_COEFFICIENT_KV: "meter**3/second",
    Kind.FLOW_COEFFICIENT_CV: "meter**3/second", Kind.VELOCITY: "meter/second",
    Kind.VISCOSITY: "meter**2/second", Kind.DENSITY: "kilogram/meter**3",
    Kind.DISPLACEMENT: "meter**3/shaft_turn", Kind.SPEED: "shaft_turn/second", Kind.WIRES: "1/meter",
    Kind.TIME: "second", Kind.FORCE: "newton",
}  # fmt: skip

_NUMBER = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_FRACTION = r"(?:(?P<whole>[0-9]+)[ -]+)?(?P<over>[0-9]+)/(?P<under>[0-9]+)"
_PLAIN = re.compile(rf"(?P<sign>[+-]?) ?(?P<number>{_NUMBER}) ?(?P<unit>.*)")
_FRACTIONAL = re.compile(rf"(?P<sign>[+-]?) ?{_FRACTION} ?(?P<unit>[^0-9]*)")
_FEET_INCHES = re.compile(
    r"(?P<sign>[+-]?) ?(?P<feet>[0-9]+) ?(?P<ft>'|ft|feet|foot)[ -]*"
    rf"(?:{_FRACTION}|(?P<number>[0-9]+(?:\.[0-9]+)?)) ?(?P<in>\"|in|inch|inches|(?<=[0-9])$)"
)
_HYPHENED = re.compile(r"(?<=[0-9])-(?=(?:in|inch|inches|ft|foot|feet)$)")  # 1-1/2-in, as an adjective
_FACTOR = re.compile(r"([*/]?)([A-Za-z]+)(?:\^(-?[1-9]))?")


@lru_cache(maxsize=8192)
def quantity(text: str, kind: Kind) -> Quantity:
    """Read a quantity as typed.

    text: one number and one unit; a mixed fraction, or feet and inches, where the kind is a length.
    kind: what it measures; it also says whether a pressure is gauge or absolute.
    Returns the text unchanged with its value [SI unit of the kind].
    Raises UnitError with what was found and what is allowed.
    """
    if len(text) > LONGEST_TEXT:
        raise UnitError(f"a text of {len(text)} characters", f"at most {LONGEST_TEXT} characters")
    value, unit = _split(text, kind)
    try:
        si = _scale(unit, kind, text).to_si(value)
    except ValueError as error:
        if isinstance(error, UnitError):
            raise
        raise UnitError(f'"{text}"', str(error)) from None
    if not math.isfinite(si):
        raise UnitError(f'"{text}", beyond any number that can be held', allowed(kind))
    if kind is Kind.TEMPERATURE and si < 0.0:
        raise UnitError(f'"{text}", below absolute zero', "0 K (-273.15 °C, -459.67 °F) or more")
    return Quantity(text, si)


def allowed(kind: Kind) -> str:
    """Say what may be typed for a kind, for an error message."""
    if kind is Kind.NUMBER:
        return "one number"
    if kind is Kind.SHARE:
        return "one number, or one number and %"
    units = ", ".join(SCALES[kind])
    extra = ", or inches and feet such as 1-1/2 in, 6' 3 1/2\"" if kind in LENGTH_KINDS else ""
    return f"{_article(kind)} {kind}, one number with a decimal point and one unit ({units}){extra}"


def _article(kind: Kind) -> str:
    return "an" if str(kind)[0] in "aeiou" else "a"


def _split(text: str, kind: Kind) -> tuple[float, str]:
    """The number and the unit as spelled in the tables; "ft" for feet and inches."""
    normalised = spelling.normalised(text)
    if kind in LENGTH_KINDS:
        normalised = _HYPHENED.sub(" ", normalised)
        if match := _FEET_INCHES.fullmatch(normalised):
            return _feet_and_inches(match, text), "ft"
        if match := _FRACTIONAL.fullmatch(normalised):
            return _signed(match["sign"], _fraction(match, text)), match["unit"]
    if better := spelling.with_point(text):
        raise UnitError(f'"{text}", with a comma', f"a decimal point: write {better}")
    match = _PLAIN.fullmatch(normalised)
    if match is None:
        _refuse_text(text, normalised, kind)
    value = float(match["number"])
    if value == 0.0 and re.search("[1-9]", re.split("[eE]", match["number"])[0]):
        raise UnitError(f'"{text}", too small to be held', allowed(kind))
    if not math.isfinite(value):
        raise UnitError(f'"{text}", beyond any number that can be held', allowed(kind))
    return _signed(match["sign"], value), match["unit"]


def _refuse_text(text: str, normalised: str, kind: Kind) -> NoReturn:
    if not normalised:
        raise UnitError("an empty text", allowed(kind))
    raise UnitError(f'"{text}", which does not begin with a number', allowed(kind))


def _signed(sign: str, value: float) -> float:
    return -value if sign == "-" else value


def _fraction(match: re.Match[str], text: str) -> float:
    over, under = int(match["over"]), int(match["under"])
    if under == 0 or (match["whole"] is not None and over >= under):
        raise UnitError(f'"{text}"', "a proper fraction, such as 3 1/2")
    return int(match["whole"] or 0) + over / under


def _feet_and_inches(match: re.Match[str], text: str) -> float:
    if not match["in"] and match["ft"] != "'":
        raise UnitError(f'"{text}"', "the unit of the inches too, such as 5 ft 2 in")
    inches = float(match["number"]) if match["number"] else _fraction(match, text)
    if inches >= 12.0:
        raise UnitError(f'"{text}"', "inches below 12 after whole feet")
    return _signed(match["sign"], int(match["feet"]) + inches / 12.0)


def _scale(unit: str, kind: Kind, text: str) -> Scale:
    canonical = spelling.canonical(unit)
    if kind is Kind.DISPLACEMENT and f"{canonical}/rev" in SCALES[kind]:
        canonical = f"{canonical}/rev"  # a volume alone is that of one revolution
    scale = SCALES[kind].get(canonical)
    if scale is None and kind is Kind.PRESSURE:
        scale = PRESSURES.get(spelling.absolute(unit))
    if scale is not None:
        return scale
    for other, scales in SCALES.items():
        if canonical in scales:
            what = f"which is {_article(other)} {other}" if canonical else "which has no unit"
            raise UnitError(f'"{text}", {what}', allowed(kind))
    return Linear(_composed(canonical, kind, text))


def _composed(unit: str, kind: Kind, text: str) -> float:
    """The factor of a unit made of known names, by pint."""
    factors = _factors(unit, text, kind)
    registry = _registry()
    product = registry.Quantity(1.0)
    for name, power in factors:
        product = product * registry.Quantity(1.0, _PINT_NAMES[name]) ** power
    reference = _PINT_REFERENCE.get(kind)
    if reference is None or not product.is_compatible_with(reference):
        dimensions = "nothing" if product.dimensionless else re.sub(r"[][]", "", str(product.dimensionality))
        raise UnitError(f'"{text}", which measures {dimensions}', allowed(kind))
    return float(product.to(reference).magnitude)


def _factors(unit: str, text: str, kind: Kind) -> list[tuple[str, int]]:
    factors = []
    position = 0
    while position < len(unit):
        match = _FACTOR.match(unit, position)
        if match is None or bool(match[1]) != bool(position):
            raise UnitError(f'"{text}" with the unknown unit "{unit}"', _hint(unit, kind))
        name = match[2] if match[2] in _PINT_NAMES else ALIASES.get(match[2], match[2])
        power = int(match[3] or 1)
        if name not in _PINT_NAMES:
            raise UnitError(f'"{text}" with the unknown unit "{match[2]}"', _hint(unit, kind))
        if abs(power) > LARGEST_POWER:
            powers = f"powers of a unit from -{LARGEST_POWER} to {LARGEST_POWER}"
            raise UnitError(f'"{text}" with the power {power}', powers)
        factors.append((name, -power if match[1] == "/" else power))
        position = match.end()
    return factors


def _hint(unit: str, kind: Kind) -> str:
    if instead := spelling.instead(unit):
        return instead
    near = [name for name in SCALES[kind] if name.casefold() == unit.casefold()]
    if near:
        return f"{near[0]}, spelled so"
    marked = re.fullmatch(r"(\w+?) ?(?:[adg]|\([adg]\)|gauge)", unit)
    if marked is not None and marked[1] in PRESSURES:
        return f"{marked[1]}: the place where it is typed says whether it is gauge or absolute"
    return allowed(kind)


@lru_cache(maxsize=1)
def _registry() -> Any:  # pint's registry type is built at run time
    import pint

    registry: Any = pint.UnitRegistry()
    registry.define("shaft_turn = [shaft_turn]")
    return registry


def pint_quantity(value: float, unit: str) -> Any:
    """A pint quantity of a value in a unit of pint's; "" is dimensionless."""
    return _registry().Quantity(value, unit or "dimensionless")


def quantity_in(si: float, kind: Kind, unit: str) -> Quantity:
    """Make a quantity, written in a unit and trimmed to sensible digits.

    si: value [SI unit of the kind]. kind: what it measures.
    unit: any unit text the kind accepts, or "ft in" or "' \\"" for feet and inches.
    Returns a quantity whose value is that of its text: lengths to 0.1 mm or finer, bores to 0.01 mm,
    temperatures to 0.01 K, anything else to six significant digits.
    Raises UnitError for a unit that is none of the kind, or a value that is not finite.
    """
    if not math.isfinite(si):
        raise UnitError(f"the value {si}", allowed(kind))
    if kind in LENGTH_KINDS and unit in ("ft in", "' \""):
        return quantity(_feet_inches_text(si, unit), kind)
    scale = _scale(unit, kind, f"1 {unit}")
    digits = _trimmed(scale.from_si(si), kind, scale)
    return quantity(f"{digits} {unit}".rstrip(), kind)


_STEPS = {Kind.LENGTH: 1e-4, Kind.ELEVATION: 1e-4, Kind.HEAD: 1e-4, Kind.BORE: 1e-5, Kind.TEMPERATURE: 1e-2}


def _trimmed(value: float, kind: Kind, scale: Scale) -> str:
    step = _STEPS.get(kind)
    if step is not None and isinstance(scale, Linear):
        places = max(0, math.ceil(-math.log10(step / scale.factor) - 1e-9))
        return _without_zeros(f"{value:.{places}f}")
    return _without_zeros(format(Decimal(f"{value:.6g}"), "f"))


def _without_zeros(digits: str) -> str:
    short = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return "0" if short == "-0" else short


def _feet_inches_text(si: float, unit: str) -> str:
    sixteenths = abs(si) / INCH * 16.0
    on_rule = abs(sixteenths - round(sixteenths)) * INCH / 16.0 < 5e-5
    exact = round(sixteenths) / 16.0 if on_rule else round(abs(si) / INCH, 3)
    feet, inches = divmod(exact, 12.0)
    sign = "-" if si < 0.0 and exact else ""
    foot_mark, inch_mark = ("'", '"') if "'" in unit else (" ft", " in")
    return f"{sign}{feet:.0f}{foot_mark} {_inches(inches, on_rule)}{inch_mark}"


def _inches(inches: float, on_rule: bool) -> str:
    whole, rest = divmod(inches, 1.0)
    if not on_rule or not rest:
        return _without_zeros(f"{inches:.3f}")
    over, under = rest.as_integer_ratio()
    return f"{whole:.0f} {over}/{under}" if whole else f"{over}/{under}"


def in_unit_of(old: Quantity, si: float, kind: Kind) -> Quantity:
    """Make a new value in the unit in which another was typed.

    old: the quantity whose unit is kept. si: the new value [SI unit of the kind]. kind: what both measure.
    Returns the new quantity, trimmed as by `quantity_in`; `old` itself where its text still says the value.
    """
    normalised = spelling.normalised(old.text)
    fractional = _FRACTIONAL.fullmatch(normalised) if kind in LENGTH_KINDS else None
    match = fractional or _PLAIN.fullmatch(normalised)
    unit = match["unit"] if match else next(iter(SCALES[kind]))
    if kind in LENGTH_KINDS and (feet := _FEET_INCHES.fullmatch(normalised)):
        unit = "' \"" if feet["ft"] == "'" else "ft in"
    elif unit == "ft" and kind == Kind.LENGTH and normalised.removesuffix("ft").strip(" +-").isdigit():
        unit = "ft" if abs(math.remainder(si, 12.0 * INCH)) < 5e-5 else "ft in"  # not 4.3333 ft
    new = quantity_in(si, kind, unit)
    return old if new.si == old.si else new
