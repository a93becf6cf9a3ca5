"""How people write a number and its unit, turned into the one way that the tables know."""

from __future__ import annotations

import re
from functools import lru_cache

from solver.quantities.scales import ALIASES, PRESSURES

_SIGNS = str.maketrans({
    "²": "^2", "³": "^3", "·": "*", "−": "-", "µ": "u", "μ": "u", "′": "'", "’": "'", "″": '"', "”": '"',
    "°": "deg", "º": "deg", "℃": "degC", "℉": "degF", "\N{EN DASH}": "-", "⁻": "^-", "¹": "1",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
    "⁄": "/", "\u00a0": " ", "\u202f": " ",
})  # fmt: skip
_GROUPED = re.compile(
    r"(?P<number>[+-]? ?[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]+)?)(?P<rest>(?![0-9/ ]| [0-9/]).*| .*)"
)
_COMMA = re.compile(r"(?P<before>[+-]? ?[0-9]+(?:[ ,][0-9]{3})*),(?P<after>[0-9]+)(?P<rest>[^0-9].*)?")
_DEGREES = re.compile(r"(?<![A-Za-z])deg (?=[CFK]$)")
_SHORT = re.compile(r"(?<=[A-Za-z])\.(?= |$)")
_ABSOLUTE = re.compile(r"(?P<pressure>\S.*?) ?(?:a|abs|absolute|\(a\)|\(abs\))")
_GAUGE = re.compile(r"(?P<pressure>\S.*?) ?(?:g|gauge|gage|rel|\(g\)|\(gauge\)|\(rel\))")
_FIGURE = re.compile(
    r"[-+−]?(?:(?:[0-9]+[ -]+)?[0-9]+/[0-9]+[ -]?|[0-9.]+(?:[eE][-+]?[0-9]+)? ?)"
    r"(?P<unit>(?:[^0-9\s:;'\"]|(?<=[A-Za-z^-])[1-4]| (?![0-9]))+)"
)
_POWER = re.compile(r"(?<=[A-Za-z])([2-4])(?![0-9A-Za-z])")


_INSTEAD = (
    (
        {"cP", "Pa*s", "mPa*s", "mPas"},
        "a kinematic viscosity: divide this one by the density (40 cP at 870 kg/m^3 is 46 cSt)",
    ),
    ({"SG", "sg", "S.G", "s.g"}, "a density: 0.87 of water's is 870 kg/m^3"),
    (
        {"H2O", "inH2O", "ftH2O", "mmH2O", "mH2O", "cmH2O", "inWC", "WC", "wc", "water"},
        "a pressure in kPa, psi or inHg: what a column of water weighs depends on its temperature; cold, "
        "1 ft of it is 2.99 kPa or 0.883 inHg, 1 in of it 0.249 kPa, 1 m of it 9.81 kPa",
    ),
    (
        {"vac", "vacuum"},
        "its unit alone, such as kPa, bar or inHg: the key it is typed under says that it is a vacuum",
    ),
    ({"bbl", "barrel", "barrels"}, "gal, L or m^3: there is more than one barrel (42 gal of oil)"),
)


@lru_cache(maxsize=256)  # a drag writes figures in the units of others at every move
def normalised(text: str) -> str:
    """A text with the signs of the tables, single spaces, no spaces between thousands, and no points after
    what is shortened."""
    tidy = " ".join(text.translate(_SIGNS).replace("''", '"').split())
    tidy = _SHORT.sub("", _DEGREES.sub("deg", tidy))
    grouped = _GROUPED.fullmatch(tidy)
    if grouped is None or re.match(r" ?[0-9]+/[0-9]", grouped["rest"]):
        return tidy
    return grouped["number"].replace(" ", "") + grouped["rest"]


def with_point(text: str) -> str:
    """What to write in place of a number with a comma; "" where there is none.

    A comma before three digits may mean thousands or decimals: both are shown.
    """
    match = _COMMA.fullmatch(normalised(text))
    if match is None:
        return ""
    before, rest = re.sub("[ ,]", "", match["before"]), match["rest"] or ""
    decimal = f'"{before}.{match["after"]}{rest}"'
    if len(match["after"]) == 3 and before.lstrip("+-0"):
        return f'"{before}{match["after"]}{rest}", or {decimal} if the comma is a decimal one'
    return decimal


@lru_cache(maxsize=256)  # as often
def canonical(unit: str) -> str:
    """A unit as the tables have it, where they know it: "m3/h" is "m^3/h", "in Hg" is "inHg"."""
    joined = re.sub(r" ?([*/^]) ?", r"\1", unit.strip())
    if joined in ALIASES:
        return ALIASES[joined]
    powers = _POWER.sub(r"^\1", joined)
    return ALIASES.get(powers, powers)


def absolute(unit: str) -> str:
    """The pressure unit of one that says it is absolute ("bara", "bar abs"); "" for any other."""
    match = _ABSOLUTE.fullmatch(canonical(unit))
    pressure = canonical(match["pressure"]) if match is not None else ""
    return pressure if pressure in PRESSURES else ""


def gauge(unit: str) -> str:
    """The pressure unit of one that says it is over the atmosphere ("psig", "bar g"); "" for any other."""
    match = _GAUGE.fullmatch(unit.strip())
    pressure = canonical(match["pressure"]) if match is not None else ""
    return pressure if pressure in PRESSURES else ""


def instead(unit: str) -> str:
    """What to type in place of a unit that cannot be read by itself; "" of any other.

    unit: of `canonical`.
    """
    words = {unit, *re.split("[ */^]", unit)}
    return next((hint for names, hint in _INSTEAD if words & names), "")


def is_absolute(text: str) -> bool:
    """Whether a pressure as typed says that it is absolute: "0.8 bara", "0.8 bar abs"."""
    return bool(absolute(re.sub(r"^[-+0-9.eE ]+", "", normalised(text))))


def is_number(text: str) -> bool:
    """Whether a text is a number and nothing else, so that its unit is left to the reader."""
    try:
        float(text)
    except ValueError:
        return False
    return True


def with_unit(text: str, unit: str) -> str:
    """A figure as typed, with a unit where it has none. A fraction alone takes inches or feet, and no other:
    nobody writes 1-1/2 of millimetres."""
    alone = is_number(text) or (unit in ON_A_RULE and _FRACTION.fullmatch(normalised(text)) is not None)
    return f"{text.strip()} {unit}" if alone else text


ON_A_RULE = ("in", "ft")
_FRACTION = re.compile(r"[+-]?(?:[0-9]+[ -]+)?[0-9]+/[0-9]+")


def unit_in(text: str) -> str:
    """The unit that one figure was typed in; "" where it has none, or more than one, as feet and inches."""
    match = _FIGURE.fullmatch(text.strip())
    return match["unit"] if match is not None else ""
