"""Texts and dimensions of one's own on a drawing, as frozen values: nothing that is calculated."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from solver.quantities.units import Quantity

Place = tuple[Quantity, Quantity]
End = str | Place
"""The name of a part that lines end on, whose port is meant, or a place."""


class Direction(StrEnum):
    """What of the way between two points a dimension measures."""

    STRAIGHT = "straight"  # all of it
    ACROSS = "across"
    UP = "up"


@dataclass(frozen=True, slots=True)
class OwnText:
    """A line of text that begins at a place, at half its height."""

    at: Place
    text: str


@dataclass(frozen=True, slots=True)
class OwnDimension:
    """The distance between two ends. `offset` is how far its line stands from the first end: up where it
    measures across, to the right where it measures up, else to the left of the way from the first end."""

    start: End
    end: End
    direction: Direction
    offset: Quantity

    def with_part_named(self, name: str, end: End) -> OwnDimension:
        """The dimension with another end in the place of a part's name."""
        start, other = (end if each == name else each for each in (self.start, self.end))
        return OwnDimension(start, other, self.direction, self.offset)
