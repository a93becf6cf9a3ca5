"""Sizes as a hand types them: a nominal one alone, which the size that a part has makes whole. No Qt here."""

from __future__ import annotations

import re
from collections.abc import Iterator

from solver.properties import sizes
from solver.properties.sizes import INCH, MILLIMETRE, SizeError

MOST_OFFERED = 4
ALIKE = 0.001  # between the bore of a hose as typed in millimetres and that of its dash number [m]
WALLS = ("40", "80")
"""Schedules that a pipe may have where nothing says which."""

_TYPED = re.compile(
    r"(?:(?P<series>NPS|DN|hose|tube)\s*-?)?\s*-?(?P<number>\d[\d./ -]*?)\s*"
    r"(?P<unit>inches|inch|in\.?|\"|\u2033|mm)?(?:\s*,?\s*(?:schedule|sch\.?)\s*(?P<schedule>\d+))?",
    re.IGNORECASE,
)


def sizes_meant(text: str, present: str | None) -> tuple[str, ...]:
    """The names of the sizes that a text may stand for at a part that has the size `present`, or at one
    without; none for what is no size, and for a name that needs nothing added."""
    if _is_name(text):
        return ()
    match = _TYPED.fullmatch(text.strip())
    if match is None:
        return ()
    family = sizes.find(present).family if present and _is_name(present) else ""
    series = (match["series"] or ("NPS" if match["schedule"] else family.split(" ")[0])).upper()
    names: Iterator[str]
    if series == "HOSE":
        names = _hoses(match["number"], _unit(match))
    elif series == "TUBE":
        names = _tubes(match["number"], _unit(match) or family.removeprefix("tube").strip())
    else:
        own = (family.removeprefix("NPS schedule "),) if family.startswith("NPS") else WALLS
        walls = (match["schedule"],) if match["schedule"] else own
        names = _pipes(match, walls) if series else iter(())
    return tuple(dict.fromkeys(names))[:MOST_OFFERED]


def choice_text(text: str, names: tuple[str, ...]) -> str:
    """What is said of a text that may stand for several sizes."""
    *others, last = (f'"{name}"' for name in names)
    return f"{text.strip()} may be {', '.join(others)} or {last}: choose one"


def _unit(match: re.Match[str]) -> str:
    unit = (match["unit"] or "").casefold()
    return "mm" if unit == "mm" else "in" if unit else ""


def _is_name(text: str) -> bool:
    try:
        sizes.find(text)
    except SizeError:
        return False
    return True


def _pipes(match: re.Match[str], walls: tuple[str, ...]) -> Iterator[str]:
    """Pipes of a nominal size, in inches or by the number of millimetres that stands for it."""
    series, unit = (match["series"] or "").upper(), _unit(match)
    in_inches = series != "DN" and unit != "mm"
    in_millimetres = series == "DN" or (not series and unit != "in")
    for wall in walls:
        for name, fits in (("NPS", in_inches), ("DN", in_millimetres)):
            if fits and _is_name(named := f"{name} {match['number']} schedule {wall}"):
                yield sizes.find(named).name


def _hoses(number: str, unit: str) -> Iterator[str]:
    """Hoses of a bore, or, without a unit, of a dash number too."""
    typed = _figure(number)
    for name in sizes.names():
        size = sizes.find(name)
        if size.family != "hose" or typed is None:
            continue
        by_bore = abs(size.bore - typed * (MILLIMETRE if unit == "mm" else INCH))
        if by_bore < (ALIKE if unit == "mm" else 1e-9) or (not unit and name == f"hose -{number}"):
            yield name


def _tubes(number: str, unit: str) -> Iterator[str]:
    """Tubes of an outside diameter, with each wall that it is made with."""
    typed = _figure(number)
    for name in sizes.names():
        size = sizes.find(name)
        if size.family != f"tube {unit}" or typed is None or size.outside is None:
            continue
        if abs(size.outside - typed * (MILLIMETRE if unit == "mm" else INCH)) < 1e-9:
            yield name


def _figure(number: str) -> float | None:
    """'1-1/2', '1 1/2' or '1.5' as a number; None for what is none."""
    try:
        pieces = [piece.partition("/") for piece in re.split(r"[ -]+", number.strip())]
        return sum(float(top) / float(bottom or 1) for top, _, bottom in pieces)
    except (ValueError, ZeroDivisionError):
        return None
