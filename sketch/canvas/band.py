"""The rubber band: a frame drawn on the sheet that selects the parts within it. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass

from sketch.drawing.view import XY, View
from sketch.editing import reshape
from solver.layout.parts import Layout


@dataclass(frozen=True, slots=True)
class Band:
    """A frame from where it was begun to where the pointer is [m], and what was selected before it."""

    start: XY
    end: XY
    before: tuple[str, ...] = ()

    def selection(self, layout: Layout) -> tuple[str, ...]:
        """What was selected before, and the parts that lie in the frame with all that is drawn of them."""
        names = [name for name, points in _points(layout) if all(self.holds(point) for point in points)]
        return (*self.before, *(name for name in names if name not in self.before))

    def holds(self, point: XY) -> bool:
        """Whether a point lies in the frame [m]."""
        (xa, ya), (xb, yb) = self.start, self.end
        return min(xa, xb) <= point[0] <= max(xa, xb) and min(ya, yb) <= point[1] <= max(ya, yb)

    def box(self, view: View) -> tuple[float, float, float, float]:
        """Left, top, width and height on the device."""
        (xa, ya), (xb, yb) = view.device(*self.start), view.device(*self.end)
        return min(xa, xb), min(ya, yb), abs(xa - xb), abs(ya - yb)


def _points(layout: Layout) -> list[tuple[str, list[XY]]]:
    """Every part with the points that say where it is [m]."""
    tanks = [(each.name, [(x.si, y.si) for x, y in each.outline]) for each in layout.reservoirs.values()]
    joints = [
        (name, [(part.at[0].si, part.at[1].si)])
        for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps)
        for name, part in group.items()
    ]
    return [*tanks, *joints, *((name, reshape.points(layout, name)) for name in layout.runs)]
