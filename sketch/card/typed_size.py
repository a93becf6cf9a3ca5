"""Sizes as a hand types them: a nominal one alone, which the size that a part has makes whole. No Qt here."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from solver.layout.parts import Layout
from solver.properties import sizes
from solver.properties.sizes import INCH, MILLIMETRE, SizeError

ALIKE = 0.001  # between the bore of a hose as typed in millimetres and that of its dash number [m]
WALLS = ("40", "80")
"""Schedules that a pipe may have where nothing says which."""

_TYPED = re.compile(
    r"(?:(?P<series>NPS|DN|hose|tube)\s*-?)?\s*-?(?P<number>\d[\d./ -]*?)"
    r"(?:[\s-]*(?P<unit>inches|inch|in\.?|\"|\u2033|mm))?"
    r"(?:\s*,?\s*(?:schedule|sch\.?)\s*(?P<schedule>\d+))?",
    re.IGNORECASE,
)
_PIPE = re.compile(r"^\s*pipe\b|(?<![a-z])pipe(?=\s*(?:$|,|sch))", re.IGNORECASE)


def sizes_meant(text: str, present: str | None, others: Sequence[str] = ()) -> tuple[str, ...]:
    """The names of the sizes that a text may stand for at a part that has the size `present`, or at one
    without, `others` being those of the other parts of its line; none for what is no size, and for a name
    that needs nothing added."""
    plain = _PIPE.sub("", text)
    match = None if _is_name(text) else _TYPED.fullmatch(plain.strip())
    if match is None:
        return ()
    family = _family(present) if present else ""
    said = (match["series"] or ("NPS" if match["schedule"] or plain != text else "")).upper()
    series = said or family.split(" ")[0].upper()
    if series in ("HOSE", "TUBE") and plain != text:
        return ()
    names: list[str]
    if series == "HOSE":
        names = [*_hoses(match["number"], _unit(match))]
    elif series == "TUBE":
        names = [*_tubes(match["number"], _unit(match) or family.removeprefix("tube").strip())]
        if not said and _unit(match) == "in":
            pipes = [*_pipes(match, (*_schedules(others), *WALLS))]
            names = pipes + names if _are_pipes(others) else names + pipes
    else:
        own = _schedules([present] if present else ()) or _schedules(others) or WALLS
        names = [*_pipes(match, (match["schedule"],) if match["schedule"] else own)] if series else []
    return tuple(dict.fromkeys(names))


def sizes_beside(layout: Layout, name: str) -> tuple[str, ...]:
    """The sizes of the other parts of the line that a part is in; of all others where nothing is joined to
    it yet."""
    groups = (layout.intakes, layout.pumps, layout.runs, layout.fittings, layout.tees)
    line = _line(layout, name)
    parts = [part for group in groups for each, part in group.items() if each != name]
    return tuple(part.size for part in parts if part.size and (part.name in line or line == {name}))


def _line(layout: Layout, name: str) -> set[str]:
    """The names of all parts that runs join to one, with its own."""
    joined = [{run.name, run.start, run.end} for run in layout.runs.values()]
    line = {name}
    while more := {each for three in joined if three & line for each in three} - line:
        line |= more
    return line


def choice_text(text: str, names: tuple[str, ...]) -> str:
    """What is said of a text that may stand for several sizes."""
    *others, last = (f'"{name}"' for name in names)
    return f"{text.strip()} may be {', '.join(others)} or {last}: choose one"


def _unit(match: re.Match[str]) -> str:
    """The unit as typed; inches of a fraction, for no size in millimetres has one; "" where nothing says."""
    unit = (match["unit"] or "").casefold()
    return "mm" if unit == "mm" else "in" if unit or "/" in match["number"] else ""


def _is_name(text: str) -> bool:
    try:
        sizes.find(text)
    except SizeError:
        return False
    return True


def _family(name: str) -> str:
    return sizes.find(name).family if _is_name(name) else ""


def _schedules(names: Sequence[str]) -> tuple[str, ...]:
    """The schedules of those of the sizes that are pipes."""
    families = dict.fromkeys(map(_family, names))
    return tuple(each.removeprefix("NPS schedule ") for each in families if each.startswith("NPS"))


def _are_pipes(names: Sequence[str]) -> bool:
    """Whether more than half of the sizes are pipes."""
    return 2 * sum(_family(name).startswith("NPS") for name in names) > len(names)


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
