"""What is picked from the shelf, on its way to the sheet: one click puts a part down, several draw a line.

The elevation sends the pointer here instead of to the hand for as long as something is picked.
"""

from __future__ import annotations

import datetime
import math
from contextlib import suppress
from dataclasses import dataclass
from typing import NamedTuple

from sketch.canvas import figures, own_shelf, snapping
from sketch.canvas.handles import CORNER_REACH
from sketch.drawing.pointing import Targets
from sketch.drawing.view import XY, View
from sketch.editing import beginning, building, edits, readings, remarks, reshape, stock, tanks
from sketch.editing.building import HOSE, LINE, Built
from sketch.editing.edits import SAME, EditError
from sketch.editing.remarks import DIMENSION, REMARKS, TEXT, Remark
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from sketch.model.drawing_state import state_with_readings
from solver.geometry import measured
from solver.geometry.outline import GeometryError
from solver.layout.kinds import IntakeKind
from solver.layout.own_parts import OwnPart
from solver.layout.parts import Layout, Point
from solver.quantities.wording import with_article

NAMES = {building.TANK: "tank"}  # on the shelf, of what a file calls otherwise
BY_KEYS = "; or Tab and arrow keys, then Return; Esc cancels"


class Spot(NamedTuple):
    """A place on the sheet, and what is there."""

    x: float  # [m]
    y: float
    part: str = ""
    run: str = ""
    guides: tuple[snapping.Guide, ...] = ()


@dataclass(slots=True)
class Tool:
    """Holds what is picked until it is put down or given up. No Qt here."""

    document: Document
    picked: str = ""
    own: OwnPart | None = None  # of a catalogue, whose figures what is picked gets
    start: Spot | None = None  # of a line that is being drawn
    via: tuple[XY, ...] = ()
    pointer: Spot | None = None
    trouble: str = ""
    typed: tuple[Point, ...] = ()  # places of this line or part that somebody typed
    other: Spot | None = None  # the second end of a dimension
    by_keys: bool = False  # whether it was led to where it is by keys
    drawn: str = LINE  # what a line is drawn as, a hose too

    def pick(self, what: str, own: OwnPart | None = None) -> None:
        """Take a kind of part, or the line, or a part of one's own; "" puts it back."""
        self.own = own
        self.drawn = what if what == HOSE else LINE
        self.picked, self.start, self.via, self.pointer = LINE if what == HOSE else what, None, (), None
        self.trouble, self.typed, self.other, self.by_keys = "", (), None, False

    @property
    def called(self) -> str:
        """What is picked, in words."""
        return self.own.name if self.own is not None else with_article(self.picked)

    @property
    def message(self) -> str:
        """Why the last click did nothing, else what the next one does."""
        return self.trouble or self.hint

    @property
    def hint(self) -> str:
        """What the next click does."""
        if not self.picked:
            return ""
        if self.picked == readings.ON_SHELF:
            return f"Click on a line or a pump to note what a gauge reads there{BY_KEYS}"
        if self.picked in REMARKS:
            return self._hint_of_remark
        if self.picked in tanks.IN_TANK:
            return f"Click within a tank to put its {self.picked} there{BY_KEYS}"
        if self.picked in building.IN_LINE:
            return f"Click on a line to put {self.called} into it{BY_KEYS}"
        if self.picked != LINE:
            called = self.called if self.own is not None else f"the {NAMES.get(self.picked, self.picked)}"
            by = ", by the middle of its floor" if self.picked == building.TANK else ""
            return (
                f"Click where {called} is to stand{by}, or type its x and height, such as 2; 1; Esc cancels"
            )
        if self.start is None:
            return f"Click on the part or line that the new {self.drawn} begins at{BY_KEYS}"
        return f"Click each corner, or point that way and type a length; click what it ends on{BY_KEYS}"

    @property
    def _hint_of_remark(self) -> str:
        if self.picked == TEXT:
            return f"Click where the text is to begin, then type it{BY_KEYS}"
        if self.start is None:
            return f"Click on the part, tank corner or place that the dimension begins at{BY_KEYS}"
        if self.other is None:
            return f"Click on the part, tank corner or place that it ends at{BY_KEYS}"
        return f"Click where its line is to stand: above or below for across, beside for up{BY_KEYS}"

    @property
    def draws_line(self) -> bool:
        """Whether a line has been begun."""
        return self.picked == LINE and self.start is not None

    @property
    def wants_text(self) -> bool:
        """Whether the words of a text are to be typed now."""
        return self.picked == TEXT and self.start is not None

    def spot(self, targets: Targets, x: float, y: float, *, free: bool = False) -> Spot:
        """The place under a device point, in line with others and on the grid unless `free`."""
        layout, view = targets.layout, targets.view
        part = "" if self.picked == TEXT or self.other is not None else targets.part_at(x, y)
        at = view.world(x, y)
        corner = self._corner_near(targets, x, y)
        if corner is not None and (not part or part in layout.reservoirs or part in layout.runs):
            return Spot(*corner)
        if part in layout.runs:
            with suppress(EditError):  # too short to be cut: a click there says so
                at = building.place_on(layout, part, *at)
            return Spot(*at, run=part)
        if part and part not in layout.reservoirs:
            joint = layout.joint(part)
            return Spot(joint.at[0].si, joint.at[1].si, part=part)
        if free:
            return Spot(*at)
        return self._snapped(layout, view, *self._squared(*at, view))

    def _corner_near(self, targets: Targets, x: float, y: float) -> XY | None:
        """The corner of a tank under a device point that an end of a dimension is put on [m]."""
        if self.picked != DIMENSION or self.other is not None:
            return None
        view, reach = targets.view, CORNER_REACH * targets.view.dot / targets.view.scale
        end = measured.corner_at(targets.layout, *view.world(x, y), reach)
        return measured.place_of(targets.layout, end) if end is not None else None

    def _snapped(self, layout: Layout, view: View, x: float, y: float) -> Spot:
        step = snapping.placing_step(self.document.system, view.scale / view.dot)
        reach = snapping.REACH * view.dot / view.scale
        rest = snapping.snap(x, y, snapping.new_anchors(layout), step, reach)
        if self.draws_line:  # a corner stays square whatever else is near
            last = self.last
            x_kept, y_kept = abs(x - last[0]) < SAME, abs(y - last[1]) < SAME
            return Spot(last[0] if x_kept else rest.x, last[1] if y_kept else rest.y, guides=rest.guides)
        return Spot(rest.x, rest.y, guides=rest.guides)

    def _squared(self, x: float, y: float, view: View) -> XY:
        if not self.draws_line:
            return x, y
        last = self.last
        return (x, last[1]) if abs(x - last[0]) > abs(y - last[1]) else (last[0], y)

    @property
    def last(self) -> XY:
        """The end of what is drawn of the line so far [m]."""
        assert self.start is not None
        return self.via[-1] if self.via else (self.start.x, self.start.y)

    def line(self) -> tuple[XY, ...]:
        """The line so far, up to the pointer [m]."""
        if self.start is None or self.picked == TEXT:
            return ()
        if self.picked == DIMENSION:
            return self._dimension_drawn()
        begun = ((self.start.x, self.start.y), *self.via)
        if self.pointer is None:
            return begun
        if self.pointer.part or self.pointer.run:
            return (*begun, *self._turn(self.pointer), (self.pointer.x, self.pointer.y))
        return (*begun, (self.pointer.x, self.pointer.y))

    def _dimension_drawn(self) -> tuple[XY, ...]:
        """A dimension so far: from end to end, and its line over them once both are there."""
        assert self.start is not None
        begun, at = (self.start.x, self.start.y), self.pointer
        if at is None:
            return (begun,)
        if self.other is None:
            return begun, (at.x, at.y)
        end = self.other.x, self.other.y
        direction = measured.direction_towards(begun, end, at.x, at.y)
        offset = measured.offset_through(begun, end, direction, at.x, at.y)
        return begun, *measured.line_between(begun, end, direction, offset), end

    def _turn(self, end: Spot) -> tuple[XY, ...]:
        """The corner that leads squarely to an end: a turn at the last corner; from a part up or down first,
        from a nozzle in a wall across."""
        x, y = self.last
        if abs(x - end.x) < SAME or abs(y - end.y) < SAME:
            return ()
        return ((end.x, y),) if self._across_next() else ((x, end.y),)

    def _across_next(self) -> bool:
        assert self.start is not None
        if not self.via:
            intake = self.document.layout.intakes.get(self.start.part)
            return intake is not None and intake.kind == IntakeKind.WALL_NOZZLE
        before = self.via[-2] if len(self.via) > 1 else (self.start.x, self.start.y)
        return abs(self.last[0] - before[0]) < SAME

    def hover(self, targets: Targets, x: float, y: float, *, free: bool = False) -> None:
        """Note the place under the pointer."""
        self.pointer, self.by_keys = self.spot(targets, x, y, free=free), False

    def lead(self, spot: Spot) -> None:
        """Bring what is in hand to a place by keys."""
        self.pointer, self.by_keys = spot, True

    def press(self, targets: Targets, x: float, y: float, *, free: bool = False) -> bool:
        """Put down what is picked, or one more point of a line. True when that is done and it is let go."""
        self.hover(targets, x, y, free=free)
        assert self.pointer is not None
        return self.put_down(self.pointer, targets.view.world(x, y))

    def spot_on(self, part: str, x: float, y: float) -> Spot:
        """A place [m] on a part by its name, or with "" beside all parts; no view is needed."""
        layout = self.document.layout
        if part in layout.runs:
            return Spot(x, y, run=part)
        return Spot(x, y) if part in layout.reservoirs or not part else Spot(x, y, part=part)

    def put_down(self, spot: Spot, at: XY) -> bool:
        """Put down what is picked at a spot, or one more point of a line; a gauge reads at just `at` [m].

        True when that is done and it is let go.
        """
        self.trouble = ""
        try:
            if self.picked == readings.ON_SHELF:
                return self._gauge(spot, *at)
            if self.picked in REMARKS:
                return self._remark(spot)
            return self._line(spot) if self.picked == LINE else self._part(spot)
        except (EditError, GeometryError) as error:
            self.trouble = str(error)
            return False

    @property
    def takes_figures(self) -> bool:
        """Whether a place, or a length of a line, can be typed now."""
        if self.picked == LINE:
            return self.start is not None
        return self.picked in (*building.FREE, *building.IN_LINE)

    def put_down_at(self, text: str) -> bool:
        """Put down what is picked, or one more point of a line, where a text says: "x; height", or for a line
        a length in the direction of the pointer. True when that is done.

        Raises EditError.
        """
        if self.wants_text and self.start is not None:
            self._add(TEXT, remarks.add_text(self.document.layout, self.start.x, self.start.y, text))
            return True
        place = figures.place_of(text, self.document.system, self._typed_from())
        at = place[0].si, place[1].si
        layout, reach = self.document.layout, edits.LENGTH_STEP
        part = building.nearest_joint(layout, *at, reach) if self.picked == LINE else ""
        run = "" if part or self.picked in building.FREE else reshape.run_at(layout, *at, reach)
        self.typed = (*self.typed, place)
        spot = Spot(*at, part=part, run=run)
        try:
            return self._line(spot) if self.picked == LINE else self._part(spot)
        except GeometryError as error:
            raise EditError(str(error)) from error

    def _typed_from(self) -> figures.From | None:
        """Where a typed length begins, and which way it leads; None where only a place can be typed."""
        if self.picked != LINE or self.start is None:
            return None
        layout, last = self.document.layout, self.last
        known = [each for each in self.typed if (each[0].si, each[1].si) == last]
        begun = layout.joint(self.start.part).at if self.start.part and not self.via else None
        at = begun or next(iter(known), None) or stock.point(layout, *last)
        to = (self.pointer.x, self.pointer.y) if self.pointer is not None else last
        away = math.dist(last, to)
        return at, ((to[0] - last[0]) / away, (to[1] - last[1]) / away) if away > SAME else (0.0, 1.0)

    def readout(self) -> list[str]:
        """What is shown beside the pointer: the length and slope of what is drawn, or the place."""
        if self.pointer is None:
            return []
        if self.start is None:
            return [figures.place_text(self.pointer.x, self.pointer.y, self.document.system)]
        leg = self.line()[1:3] if self.other is not None else self.line()[-2:]
        return figures.leg_texts(leg, self.document.system)

    def undo_corner(self) -> bool:
        """Take back the last corner of a line; False where there is none."""
        had = bool(self.via)
        self.via = self.via[:-1]
        return had

    def _remark(self, spot: Spot) -> bool:
        """Put down the beginning of a text, or one more point of a dimension."""
        if self.start is None or self.picked == TEXT:
            self.start = spot
            return False
        if self.other is None:
            if max(abs(spot.x - self.start.x), abs(spot.y - self.start.y)) < SAME:
                raise EditError("the dimension would end where it begins")
            self.other = spot
            return False
        layout = self.document.layout
        start, end = (
            each.part or measured.corner_at(layout, each.x, each.y, edits.SAME) or (each.x, each.y)
            for each in (self.start, self.other)
        )
        layout = remarks.add_dimension(layout, start, end, spot.x, spot.y)
        self._add(DIMENSION, layout)
        return True

    def _add(self, what: str, layout: Layout) -> None:
        self.document.apply(f"Add {with_article(what)}", layout)
        self.pick("")
        self.document.select("")
        chosen_remark(self.document).choose(Remark(what, remarks.count(layout, what) - 1))

    def _gauge(self, spot: Spot, x: float, y: float) -> bool:
        """Begin a reading of now at the tap that was clicked on."""
        layout, now = self.document.layout, f"{datetime.datetime.now():%Y-%m-%d %H:%M}"
        if spot.part in layout.pumps:
            reading = readings.new(layout, spot.part, now)
        elif spot.run:
            along = readings.distance_of(layout, spot.run, x, y)
            distance = math.floor(along * 100.0) / 100.0  # whole centimetres, never past the end
            reading = readings.new(layout, self.document.pump, now, spot.run, distance)
        else:
            raise EditError("a gauge is read on a line or at a pump: click on one")
        read = (*layout.readings, reading)
        self.document.change_alternatives(
            f"New reading of {now}", lambda state: state_with_readings(state, read)
        )
        self.pick("")
        return True

    def _part(self, spot: Spot) -> bool:
        layout = self.document.layout
        if self.picked in tanks.IN_TANK:
            built = tanks.put_in(layout, self.picked, spot.x, spot.y)
            self._done(f"Put {with_article(self.picked)} into {built.name}", built)
            return True
        if self.picked in building.IN_LINE:
            if not spot.run:
                raise EditError(f"{self.called} is put into a line, and none passes there")
            built = building.insert(layout, self.picked, spot.run, spot.x, spot.y)
        else:
            built = building.add(layout, self.picked, spot.x, spot.y)
        if self.own is not None:
            built = own_shelf.with_figures(built, self.own)
        self._done(f"Add {built.name}", built)
        return True

    def _line(self, spot: Spot) -> bool:
        if self.start is None:
            if not (spot.part or spot.run):
                raise EditError(beginning.where_lines_begin(self.document.layout))
            self.start = spot
            return False
        if not (spot.part or spot.run):
            self.via = (*self.via, (spot.x, spot.y))
            if self.by_keys:
                self.pointer = Spot(spot.x, spot.y)  # the next step of the keys begins at the corner
            return False
        if spot.run and spot.run == self.start.run:
            raise EditError(f"the line would begin and end on {spot.run}: end it on another")
        layout, start = self._ended(self.document.layout, self.start)
        layout, end = self._ended(layout, spot)
        built = building.add_line(layout, start, end, (*self.via, *self._turn(spot)), self.drawn)
        self._done(f"Draw a {self.drawn}", built)
        return True

    @staticmethod
    def _ended(layout: Layout, spot: Spot) -> tuple[Layout, str]:
        """The part a line ends on: the one there, or a tee put into the run there."""
        if spot.part:
            return layout, spot.part
        built = building.insert(layout, building.TEE, spot.run, spot.x, spot.y)
        return built.layout, built.name

    def _done(self, label: str, built: Built) -> None:
        layout = figures.as_typed(built.layout, built.name, self.typed)
        if trouble := self.document.trouble_with(layout):
            raise EditError(trouble)
        self.document.apply(label, layout)
        self.pick("")
        self.document.select(built.name)
        if built.text:
            self.document.noticed.emit(built.text)
