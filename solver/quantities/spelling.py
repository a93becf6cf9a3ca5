"""How people write a number and its unit, turned into the one way that the tables know."""

from __future__ import annotations

import re

_SIGNS = str.maketrans({
    "²": "^2", "³": "^3", "·": "*", "−": "-", "µ": "u", "μ": "u", "′": "'", "’": "'", "″": '"', "”": '"',
    "°": "deg", "\u00a0": " ", "\u202f": " ",
})  # fmt: skip
_GROUPED = re.compile(
    r"(?P<number>[+-]? ?[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]+)?)(?P<rest>(?![0-9/ ]| [0-9/]).*| .*)"
)
_COMMA = re.compile(r"(?P<before>[+-]? ?[0-9]+(?:[ ,][0-9]{3})*),(?P<after>[0-9]+)(?P<rest>[^0-9].*)?")
_ABSOLUTE = re.compile(r"(?P<pressure>(?:inHg|psi|bar|kPa|mbar|mmHg|Pa|MPa)) ?(?:a|abs)")


def normalised(text: str) -> str:
    """A text with the signs of the tables, single spaces, and no spaces between thousands."""
    tidy = " ".join(text.translate(_SIGNS).split())
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


def absolute(unit: str) -> str:
    """The pressure unit of one that says it is absolute ("bara", "bar abs"); "" for any other."""
    match = _ABSOLUTE.fullmatch(unit.strip())
    return match["pressure"] if match is not None else ""


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
