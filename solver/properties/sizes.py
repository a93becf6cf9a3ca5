"""Standard pipe, tube and hose bores by their standards' names, and wall roughness.

Inch tables, not their rounded metric twins: the rounding alone is 1 % of a laminar drop at NPS 1/2.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

from solver.quantities import columns

INCH = 0.0254
MILLIMETRE = 0.001

SELDOM_KEPT = ("NPS 3-1/2", "NPS 5")
"""Pipe that few merchants keep, never offered to one who has not typed it; common practice, no source."""

# ASME B36.10M, inch columns (from memory; up to NPS 10 equal to the Hydraulic Institute's table,
# and checked against the library's metric table to its rounding).
_NPS = ("1/8", "1/4", "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2",
        "4", "5", "6", "8", "10", "12")  # fmt: skip
_DN = (6, 8, 10, 15, 20, 25, 32, 40, 50, 65, 80, 90, 100, 125, 150, 200, 250, 300)
_OUTSIDE = (0.405, 0.540, 0.675, 0.840, 1.050, 1.315, 1.660, 1.900, 2.375, 2.875, 3.500, 4.000,
            4.500, 5.563, 6.625, 8.625, 10.750, 12.750)  # fmt: skip
_WALL: Mapping[str, tuple[float | None, ...]] = {
    "10": (0.049, 0.065, 0.065, 0.083, 0.083, 0.109, 0.109, 0.109, 0.109, 0.120, 0.120, 0.120,
           0.120, 0.134, 0.134, 0.148, 0.165, 0.180),
    "40": (0.068, 0.088, 0.091, 0.109, 0.113, 0.133, 0.140, 0.145, 0.154, 0.203, 0.216, 0.226,
           0.237, 0.258, 0.280, 0.322, 0.365, 0.406),
    "80": (0.095, 0.119, 0.126, 0.147, 0.154, 0.179, 0.191, 0.200, 0.218, 0.276, 0.300, 0.318,
           0.337, 0.375, 0.432, 0.500, 0.594, 0.688),
    "160": (None, None, None, 0.188, 0.219, 0.250, 0.250, 0.281, 0.344, 0.375, 0.438, None,
            0.531, 0.625, 0.719, 0.906, 1.125, 1.312),
}  # fmt: skip

# Preferred sizes of hydraulic tube, outside diameter and walls (from memory; the bore follows from the name).
_TUBE_MM: Mapping[float, tuple[float, ...]] = {
    8: (1, 1.5), 10: (1, 1.5, 2), 12: (1, 1.5, 2), 15: (1.5, 2), 16: (1.5, 2, 2.5), 18: (1.5, 2),
    20: (2, 2.5, 3), 22: (1.5, 2, 2.5), 25: (2, 2.5, 3), 28: (2, 2.5, 3), 30: (2, 2.5, 3, 4), 35: (2, 2.5, 3),
    38: (2.5, 3, 4), 42: (2, 3, 4), 50: (3, 4, 5), 60: (3, 4, 5), 65: (4, 5), 75: (4, 5), 80: (4, 5),
}  # fmt: skip
_TUBE_IN: Mapping[float, tuple[float, ...]] = {
    0.25: (0.035, 0.049), 0.375: (0.035, 0.049), 0.5: (0.035, 0.049, 0.065), 0.625: (0.049, 0.065, 0.083),
    0.75: (0.049, 0.065, 0.083), 0.875: (0.065, 0.083), 1: (0.065, 0.083, 0.095, 0.12),
    1.25: (0.065, 0.083, 0.095, 0.12), 1.5: (0.065, 0.083, 0.095, 0.12), 2: (0.065, 0.083, 0.095, 0.12),
}  # fmt: skip

# SAE J517: the dash number is the nominal bore in sixteenths of an inch.
_DASHES = (4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 56, 64)

_PIPE_NAME = re.compile(r"(NPS|DN)\s*(\d[\d./ -]*?)\s+(?:schedule|sch\.?)\s*(\d+)", re.IGNORECASE)
_TUBE_NAME = re.compile(
    r"(?:tube\s+)?(\d+\.?\d*|\.\d+)\s*[x×*]\s*(\d+\.?\d*|\.\d+)\s*(mm|in)?", re.IGNORECASE
)
_HOSE_NAME = re.compile(r"hose\s+-?(\d+)", re.IGNORECASE)


class SizeError(ValueError):
    """A size that no table here holds. `found` is what was typed, `allowed` what may be."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(f"{found!r} is no size; allowed: {allowed}")
        self.found = found
        self.allowed = allowed


@dataclass(frozen=True, slots=True)
class Size:
    """One standard size. Lengths [m]."""

    name: str
    family: str
    bore: float
    nominal: float
    outside: float | None  # None for hose: it differs between constructions


def _inches(text: str) -> float:
    """'1-1/2', '1 1/2' or '1.5' as a number."""
    total = 0.0
    for piece in re.split(r"[ -]+", text.strip()):
        top, _, bottom = piece.partition("/")
        total += float(top) / float(bottom or 1)
    return total


@cache
def _pipes() -> Mapping[str, Size]:
    sizes = {}
    for schedule, walls in _WALL.items():
        for nps, outside, wall in zip(_NPS, _OUTSIDE, walls, strict=True):
            if wall is None:
                continue
            name = f"NPS {nps} schedule {schedule}"
            bore = (outside - 2 * wall) * INCH
            sizes[name] = Size(name, f"NPS schedule {schedule}", bore, _inches(nps) * INCH, outside * INCH)
    return sizes


def _tube(outside: float, wall: float, unit: str) -> Size:
    metre = MILLIMETRE if unit == "mm" else INCH
    name = f"tube {outside:g} x {wall:g} {unit}"
    bore = round(outside - 2 * wall, 9) * metre
    return Size(name, f"tube {unit}", bore, _equal_pipe(bore), outside * metre)


def _hose(dash: int) -> Size:
    bore = dash / 16 * INCH
    return Size(f"hose -{dash}", "hose", bore, bore, None)


@cache
def _all() -> Mapping[str, Size]:
    sizes = [*_pipes().values()]
    sizes += [_tube(o, w, "mm") for o, walls in _TUBE_MM.items() for w in walls]
    sizes += [_tube(o, w, "in") for o, walls in _TUBE_IN.items() for w in walls]
    sizes += [_hose(dash) for dash in _DASHES]
    order = {family: n for n, family in enumerate(dict.fromkeys(s.family for s in sizes))}
    sizes.sort(key=lambda s: (order[s.family], s.bore))
    return MappingProxyType({s.name: s for s in sizes})


@cache
def _equal_pipes() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Bores and nominal sizes of schedule 40 [m], for what has no nominal size of its own.

    A first and a last pair carry on in proportion beyond the table.
    """
    rows = [s for s in _pipes().values() if s.family == "NPS schedule 40"]
    bores, nominals = [s.bore for s in rows], [s.nominal for s in rows]
    return (0.0, *bores, 2 * bores[-1]), (0.0, *nominals, 2 * nominals[-1])


@columns.remembered(4096)
def _equal_pipe(bore: float) -> float:
    """Nominal size of the schedule 40 pipe of that bore, interpolated [m]; in proportion beyond the table."""
    bores, nominals = _equal_pipes()
    i = columns.bisect(bores[1:-1], bore)
    low, high = columns.pick(bores, i), columns.pick(bores, i + 1)
    below, above = columns.pick(nominals, i), columns.pick(nominals, i + 1)
    return below + (bore - low) / (high - low) * (above - below)


@lru_cache(maxsize=4096)
def find(size: str) -> Size:
    """The size of that name.

    "NPS 1-1/2 schedule 40" (also "NPS 1.5", "NPS 1 1/2", "DN 40"), "tube 42 x 3 mm", "tube 1.5 x 0.083 in",
    "hose -32". A tube may have any outside diameter and wall that leave a bore; "42 x 3" is the tube of the
    list that has them.

    Raises SizeError.
    Sources: pipe ASME B36.10M; tube EN 10305 and SAE J524 (bore = outside − 2 walls); hose SAE J517.
    """
    text = size.strip()
    if text in _all():
        return _all()[text]
    if match := _PIPE_NAME.fullmatch(text):
        if (pipe := _pipe(*match.groups())) is not None:
            return pipe
    elif match := _TUBE_NAME.fullmatch(text):
        outside, wall = float(match[1]), float(match[2])
        unit = match[3].lower() if match[3] else _unit_of(outside, wall)
        if unit and wall > 0 and (tube := _tube(outside, wall, unit)).bore > 0:
            return tube
    elif (match := _HOSE_NAME.fullmatch(text)) and int(match[1]) in _DASHES:
        return _hose(int(match[1]))
    raise SizeError(size, _allowed(text))


def _unit_of(outside: float, wall: float) -> str:
    """The unit of the list that has a tube of these two figures; "" where neither has it."""
    lists = ((_TUBE_MM, "mm"), (_TUBE_IN, "in"))
    return next((unit for tubes, unit in lists if wall in tubes.get(outside, ())), "")


def _pipe(series: str, number: str, schedule: str) -> Size | None:
    try:
        if series.upper() == "DN":
            nps = _NPS[_DN.index(int(number))]
        else:
            nps = next(n for n in _NPS if abs(_inches(n) - _inches(number)) < 1e-9)
    except (ValueError, ZeroDivisionError, StopIteration):
        return None
    return _pipes().get(f"NPS {nps} schedule {schedule}")


_DIAMETER = re.compile(r"(\d[\d./ -]*?)\s*(in|inch|inches|\"|\u2033|mm)", re.IGNORECASE)


def _of_bore(bore: float) -> tuple[str, ...]:
    """The schedule 40 pipe, the hose and the tube whose bores come nearest to one [m]."""
    near: dict[str, str] = {}
    for each in sorted(_all().values(), key=lambda size: abs(size.bore - bore)):
        kind = each.family.split()[0]
        if kind != "NPS" or each.family == "NPS schedule 40":
            near.setdefault(kind, each.name)
    return near["NPS"], near["hose"], near["tube"]


def hose_of_bore(bore: float) -> str:
    """The hose whose bore comes nearest to one [m]."""
    return _of_bore(bore)[1]


def _allowed_for(match: re.Match[str]) -> str:
    """What a diameter alone, typed as a size, may stand for."""
    try:
        bore = _inches(match[1]) * (MILLIMETRE if match[2].casefold() == "mm" else INCH)
    except (ValueError, ZeroDivisionError):
        return ""
    names = ", ".join(f'"{name}"' for name in _of_bore(bore))
    return (
        f"a standard size, of which {names} come nearest to that; an inside diameter as bore, without a size"
    )


_WITHOUT_WALL = re.compile(r"(NPS|DN)\s*(\d[\d./ -]*)", re.IGNORECASE)


def _allowed(text: str) -> str:
    match = _WITHOUT_WALL.fullmatch(text)
    if match and _pipe(match[1], match[2].strip(), "40") is not None:
        named = f"{match[1].upper()} {match[2].strip()}"
        return f'with the schedule of its wall, such as "{named} schedule 40" or 80'
    if (diameter := _DIAMETER.fullmatch(text)) and (allowed := _allowed_for(diameter)):
        return allowed
    pipes = f"NPS {', '.join(_NPS)} with schedule {', '.join(_WALL)} (160 not below 1/2 nor at 3-1/2)"
    tubes = (
        'tubes as "tube 42 x 3 mm" or "tube 1.5 x 0.083 in", outside diameter by wall, with the unit where '
        "the list has no such tube, two walls less than the outside diameter"
    )
    hoses = f"hose -{', -'.join(map(str, _DASHES))}"
    first = text[:4].lower()
    if first.startswith("hose"):
        return hoses
    if first.startswith("tube") or _TUBE_NAME.fullmatch(text):
        return tubes
    return pipes if first.startswith(("nps", "dn")) else f"{pipes}; {tubes}; {hoses}"


def full_name(size: str) -> str:
    """A tube of which only the figures are typed by its name in the list; any other size as it is typed.

    Raises SizeError.
    """
    match = _TUBE_NAME.fullmatch(size.strip())
    return find(size).name if match and not (match[3] and size.strip()[:1].isalpha()) else size


def bore(size: str) -> float:
    """Inside diameter [m]. Raises SizeError."""
    return find(size).bore


def nominal(size: str | None, bore: float) -> float:
    """Nominal diameter [m], which Darby's fittings and the radius of a bend are given in.

    size: a standard size, or None for a bore [m] alone. Pipe and hose have a nominal size of their own; a
    tube or a bare bore takes that of the schedule 40 pipe of equal bore, interpolated.
    """
    return _equal_pipe(bore) if size is None else find(size).nominal


def outside(size: str) -> float | None:
    """Outside diameter [m]; None for hose, whose constructions differ. Raises SizeError."""
    return find(size).outside


def family(size: str) -> str:
    """The row of sizes it belongs to, such as "NPS schedule 40" or "hose". Raises SizeError."""
    return find(size).family


def names() -> tuple[str, ...]:
    """Every listed size, family by family, each in order of bore."""
    return tuple(_all())


def stocked() -> tuple[str, ...]:
    """`names` but for pipe that few merchants keep: NPS 3-1/2 and 5; common practice, no source."""
    return tuple(size.name for size in _all().values() if size.name.split(" schedule")[0] not in SELDOM_KEPT)


def next_up(size: str) -> str | None:
    """The next larger bore of the same family; None at its end. Raises SizeError."""
    smaller = find(size)
    larger = (s for s in _all().values() if s.family == smaller.family and s.bore > smaller.bore * (1 + 1e-9))
    larger_size = next(larger, None)
    return None if larger_size is None else larger_size.name


def neighbour(size: str, step: int) -> str | None:
    """The next size up (`step` 1) or down (-1) of its family, of those that merchants keep; None at its end.

    Of tube the next outside diameter, in the wall nearest to its own. Raises SizeError.
    """
    own = find(size)

    def width(each: Size) -> float:
        return each.bore if each.outside is None else each.outside

    def away(each: Size) -> tuple[float, float]:
        return abs(width(each) - width(own)), abs(
            (each.outside or 0.0) - each.bore - (own.outside or 0.0) + own.bore
        )

    kept = (_all()[name] for name in stocked())
    beyond = [s for s in kept if s.family == own.family and (width(s) - width(own)) * step > 1e-9]
    return min(beyond, key=away).name if beyond else None


_FOOT = 0.3048
_MOODY = "Moody (1944), Friction factors for pipe flow, Fig. 1"
_WHITE = "White, Fluid Mechanics, table of recommended roughness (unverified)"

_WALLS: Mapping[str, tuple[float, str]] = {
    "commercial steel": (0.00015 * _FOOT, _MOODY),
    "drawn tubing": (0.000005 * _FOOT, _MOODY),
    "galvanised steel": (0.0005 * _FOOT, _MOODY),
    "cast iron": (0.00085 * _FOOT, _MOODY),
    "asphalted cast iron": (0.0004 * _FOOT, _MOODY),
    "stainless steel": (0.002 * MILLIMETRE, _WHITE),
    "rusted steel": (2.0 * MILLIMETRE, _WHITE),
    "copper or brass": (0.002 * MILLIMETRE, _WHITE),
    "plastic": (0.0015 * MILLIMETRE, _WHITE),
    "rubber hose": (0.01 * MILLIMETRE, _WHITE),
}

ROUGHNESS: Mapping[str, float] = MappingProxyType({name: row[0] for name, row in _WALLS.items()})
"""Height of the wall's roughness by material [m]."""

ROUGHNESS_SOURCE: Mapping[str, str] = MappingProxyType({name: row[1] for name, row in _WALLS.items()})
"""Where each of them comes from."""
