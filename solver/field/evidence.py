"""On which side of a cause every reading stands: for it, against it, or on neither.

A reading speaks for a cause that brings the drawing clearly nearer to it, and against one that takes it away.
One that a cause does not move says nothing of that cause.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.field import thickness
from solver.field.causes import CauseKind
from solver.field.expected import Expected
from solver.field.explain import Explained, Explanation
from solver.field.states import Reading
from solver.quantities.units import System
from solver.quantities.wording import degrees, with_side

CLEARLY = 0.75
"""Of how far the drawing is off, at most how far a cause may be that a reading speaks for."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """Readings in words, by what each says of one cause."""

    speaks_for: tuple[str, ...] = ()
    speaks_against: tuple[str, ...] = ()
    neutral: tuple[str, ...] = ()


def evidence(
    each: Explanation, explained: Explained, readings: Sequence[Reading], system: System
) -> Evidence:
    """Every reading with its figure, on the side that it stands on."""
    if not each.predicted:
        why = each.why_not or "the machine would not run so in the state of the readings"
        return Evidence(speaks_against=(why,))
    if each.cause is CauseKind.UNLISTED:
        return Evidence()
    sides: dict[int, list[str]] = {-1: [], 0: [], 1: []}
    places = _places(readings, system)
    for i, (place, reading, expected) in enumerate(zip(places, readings, explained.expected, strict=True)):
        read, shown, drawn = (
            with_side(vacuum, system) for vacuum in (_middle(reading), each.predicted[i], expected.vacuum)
        )
        if each.cause is CauseKind.NOTHING:
            side = _side_of_nothing(reading, expected)
        else:
            side = _side(each.predicted[i], reading, expected) if shown != drawn else 0
        as_drawn = f"; without it {drawn}" if drawn != shown else ""
        if CauseKind.SURFACE in _kinds(each) and reading.resting and not reading.held:
            as_drawn += f", {_of_tank(each.lasted[i], expected)}"
        side = -1 if i in each.surprises else side
        sides[side].append(f"{place}: read {read}, with it {shown}{as_drawn}")
    sides[-1] += _too_thick(each, readings)
    return Evidence(tuple(sides[1]), tuple(sides[-1]), tuple(sides[0]))


def _too_thick(each: Explanation, readings: Sequence[Reading]) -> Iterator[str]:
    """That a fluid so thick is seldom met, where no grade nor any cold would make it so."""
    sizes = [half.size for half in (each, each.second) if half and half.cause is CauseKind.FLUID]
    most = thickness.thickest(readings)
    if sizes and sizes[0] > most:
        yield (
            f"{sizes[0]:.1f} times as thick is seldom met: {thickness.GRADES} viscosity grades thicker, and "
            f"as cold as the line may have been, come to {most:.1f} times"
        )


def _side(vacuum: float, reading: Reading, expected: Expected) -> int:
    """1 where a reading speaks for a cause that brings such a vacuum [Pa], -1 against it, 0 for neither."""
    off, drawn_off = _off(reading, vacuum), _off(reading, expected.vacuum)
    if off > drawn_off:
        return -1
    return 1 if off < CLEARLY * drawn_off else 0


def _side_of_nothing(reading: Reading, expected: Expected) -> int:
    """What a reading says of a machine with nothing wrong, as `_side`: within a standard deviation of the
    drawing it speaks for that, outside the drawing's band against it."""
    off = _off(reading, expected.vacuum)
    if off > (expected.unbound.high - expected.unbound.low) / 2.0:
        return -1
    return 1 if off <= expected.deviation else 0


def _off(reading: Reading, vacuum: float) -> float:
    """How far a vacuum lies outside what was read [Pa]."""
    return max(reading.band.low - vacuum, vacuum - reading.band.high, 0.0)


def _middle(reading: Reading) -> float:
    return (reading.band.low + reading.band.high) / 2.0


def _kinds(each: Explanation) -> set[CauseKind]:
    return {half.cause for half in (each, each.second) if half is not None}


def _of_tank(lasted: float, expected: Expected) -> str:
    """What a plugged breather's tank, which still holds so much [Pa], did between the stop and a reading."""
    gone = lasted < expected.deviation
    return "once its tank has drawn in air" if gone else "while its tank still holds its vacuum"


def _places(readings: Sequence[Reading], system: System) -> list[str]:
    """Where each was read, and how warm the fluid was where a place was read more than once."""
    names = [
        f"{reading.place.run or 'the port'}{' at rest' if reading.resting else ''}" for reading in readings
    ]
    return [
        f"{name}, {degrees(reading.layout.fluid.temperature.si, system)}" if names.count(name) > 1 else name
        for name, reading in zip(names, readings, strict=True)
    ]
