"""What the hand may do with the figure that curves are drawn over."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import floor, log10

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.moves import before_moves, moved_from
from solver.answers.curves import CurveSubject
from solver.answers.inputs import INPUTS
from solver.geometry.followed import with_followed
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.wording import capitalised

Edit = Callable[[Layout, CurveSubject, Level, float], Layout]

MOVED = "port height"
EDITS: Mapping[str, Edit] = {
    MOVED: lambda layout, what, level, si: edits.set_port_height(layout, what.part, si),
    "temperature": lambda layout, what, level, si: edits.set_temperature(layout, si),
    "level": lambda layout, what, level, si: edits.set_level(layout, what.part, level, si),
    "speed": lambda layout, what, level, si: edits.set_speed(layout, what.part, si),
    "elevation": lambda layout, what, level, si: edits.set_site_elevation(layout, si),
    "blocked": lambda layout, what, level, si: edits.set_blocked(layout, what.part, si),
}
"""What dragging the point does to the drawing, of that which the strip turns too."""


def edited(layout: Layout, subject: CurveSubject, level: Level, si: float) -> Layout:
    """The drawing with another figure of a subject whose name is in `EDITS`.

    Raises EditError or GeometryError.
    """
    return EDITS[subject.name](layout, subject, Level.MINIMUM if level == Level.MINIMUM else Level.NORMAL, si)


def before_drag(document: Document, subject: CurveSubject) -> Layout:
    """The layout that every place of a drag begins from: a pump's, before it was moved at all."""
    return before_moves(document, subject.part) if subject.name == MOVED else document.layout


def dragged(
    base: Layout, first: Layout, subject: CurveSubject, level: Level, si: float
) -> tuple[str, Layout]:
    """What undo calls the drag of a point to a figure, and the drawing with it; `base` is shown as the drag
    begins, `first` is `before_drag`. Raises EditError or GeometryError."""
    layout = edited(base, subject, level, si)
    if subject.name == MOVED:
        layout = moved_from(first, subject.part, layout)
    return with_followed(capitalised(subject.label), base, layout), layout


def rounded(x: float, subject: CurveSubject, system: units.System) -> float:
    """A place [shown unit] rounded to what a hand can mean [SI]: 1, 2 or 5 of the last place."""
    kind = INPUTS[subject.name].kind
    low, high = (units.to_display(end, kind, system) for end in subject.ends)
    rough = (high - low) / 500
    power = 10.0 ** (floor(log10(rough)) if rough > 0 else -6)
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough)
    return units.from_display(round(x / step) * step, kind, system)
