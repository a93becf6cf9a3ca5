"""Texts and dimensions of one's own on a drawing, as frozen values: nothing that is calculated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from solver.quantities.units import Quantity

TypedPoint = tuple[Quantity, Quantity]


@dataclass(frozen=True, slots=True)
class TankCorner:
    """A corner of a reservoir, by its number among those of the outline, from 0."""

    reservoir: str
    corner: int


End = str | TypedPoint | TankCorner
"""The name of a part that lines end on, whose port is meant, a place, or a corner of a reservoir."""


class Direction(StrEnum):
    """What of the way between two points a dimension measures."""

    STRAIGHT = "straight"  # all of it
    ACROSS = "across"
    UP = "up"


class TextSize(StrEnum):
    """How large a text is written."""

    SMALL = "small"  # as the names of parts
    NORMAL = "normal"
    LARGE = "large"


class TextAnchor(StrEnum):
    """What of a text stands at its place."""

    LEFT = "left"
    MIDDLE = "middle"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class OwnText:
    """A line of text at a place, which is half its height."""

    at: TypedPoint
    text: str
    size: TextSize = TextSize.SMALL
    anchor: TextAnchor = TextAnchor.LEFT


@dataclass(frozen=True, slots=True)
class OwnDimension:
    """The distance between two ends. `offset` is how far its line stands from the first end: up where it
    measures across, to the right where it measures up, else to the left of the way from the first end."""

    start: End
    end: End
    direction: Direction
    offset: Quantity

    def with_ends(self, change: Callable[[End], End]) -> OwnDimension:
        """The dimension with a change made to both its ends."""
        return OwnDimension(change(self.start), change(self.end), self.direction, self.offset)

    def with_part_named(self, name: str, end: End) -> OwnDimension:
        """The dimension with another end in the place of a part's name; a corner goes by the other name."""

        def now(each: End) -> End:
            if isinstance(each, TankCorner) and isinstance(end, str):
                return replace(each, reservoir=end) if each.reservoir == name else each
            return end if each == name else each

        return self.with_ends(now)
