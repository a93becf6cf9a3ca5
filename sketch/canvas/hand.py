"""What the hand is doing: nothing, hovering, holding, dragging. No widget: device points in, edits out."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import replace

from sketch.canvas import gestures, snapping
from sketch.canvas.gestures import Drag, Pointer, Proposal
from sketch.canvas.handles import (
    REMARKS,
    Handle,
    Hold,
    handles,
    handles_of_selected,
    nearest_handle,
    part_handle,
)
from sketch.drawing.glyphs import pump_circle
from sketch.drawing.view import View
from sketch.editing import building, reshape, taken_along
from sketch.editing.edits import SAME, EditError
from sketch.editing.remarks import Remark
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from sketch.model.moves import before_moves
from sketch.model.pace import pace
from solver.geometry.followed import followed_text
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout

BENDS = (Hold.CORNER, Hold.OUTLINE)
BY_KEYS = (
    Hold.CORNER,
    Hold.STRETCH,
    Hold.LEVEL,
    Hold.WALL,
    Hold.OUTLINE,
    Hold.BAFFLE,
    Hold.BAFFLE_TOP,
    Hold.RETURN,
    *REMARKS,
)
"""What of a selected part keys can reach, in the order in which they do."""
WHOLE = (Hold.PART, Hold.STRETCH, Hold.TANK)
DRAG_START = 3.0  # logical pixels before a press becomes a drag


class Hand:
    """Takes hold of what is under the pointer and moves it, through `Document.apply` alone."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._found: tuple[Handle, ...] | None = None  # asked for again once the drawing has changed
        self.over: Handle | None = None
        self.held: Handle | None = None  # pressed; dragged once `proposal` is there
        self.proposal: Proposal | None = None
        self.trouble = ""  # why the last nudge did nothing
        self._active: Handle | None = None  # what the arrow keys move
        self._chosen, self._pace = chosen_remark(document), pace(document)
        self._chosen.changed.connect(self._follow_chosen)
        self.moving = False  # while the drawing follows the pointer
        self._reached = False  # whether it was reached by keys
        self._drag: Drag | None = None
        self._pressed = (0.0, 0.0)
        self._gesture = self._nudge = 0
        self._begun = document.layout  # the drawing that the drag began with
        self.followed = ""  # what a drag has done to the lines besides stretching them

    @property
    def dragging(self) -> bool:
        """Whether something is being moved at this moment."""
        return self._drag is not None

    def drags(self, part: str) -> bool:
        """Whether that part is being moved at this moment, and nothing else."""
        held = self.held
        return self.dragging and held is not None and held.hold is Hold.PART and held.name == part

    @property
    def active(self) -> Handle | None:
        """What was held last, which the arrow keys move."""
        return self._active

    def step_handle(self, *, back: bool) -> Handle | None:
        """Reach the next bend, level or wall of the part that is selected, for the arrow keys to move.

        None once past the last: the arrow keys move the part itself again.
        """
        part = self._document.selected_part
        mine = [each for each in self._handles if each.name == part and each.hold in BY_KEYS]
        own: list[Handle | None] = [*sorted(mine, key=lambda each: BY_KEYS.index(each.hold)), None]
        now = next((at for at, each in enumerate(own) if each and each.same(self._active)), len(own) - 1)
        self._active = own[(now + (-1 if back else 1)) % len(own)]
        self._reached = self._active is not None
        self._choose_remark()
        return self._active

    def _choose_remark(self) -> None:
        """Have the card show the text or dimension that was held last."""
        held = self._active
        own = held is not None and held.hold in REMARKS
        self._chosen.choose(Remark(str(held.hold), held.corner) if held is not None and own else None)

    def _follow_chosen(self) -> None:
        """Hold what was chosen elsewhere."""
        chosen, active = self._chosen.remark, self._active
        if chosen is None:
            self._active = None if active is not None and active.hold in REMARKS else active
        elif active is None or (active.hold, active.corner) != chosen:
            self._active = next((each for each in self._handles if (each.hold, each.corner) == chosen), None)

    @property
    def lit(self) -> Handle | None:
        """The handle that is held, under the pointer, or reached by keys."""
        mine = self._active is not None and self._active.name == self._document.selected_part
        return self.held or self.over or (self._active if mine and self._stays_lit else None)

    @property
    def _stays_lit(self) -> bool:
        """Whether what was held last is marked: by keys, or as nothing else shows that it is selected."""
        return self._reached or self.remark is not None

    @property
    def remark(self) -> Handle | None:
        """The text or dimension that was held last, while no part is selected."""
        active = self._active
        chosen = bool(self._document.selection)
        return active if active is not None and active.hold in REMARKS and not chosen else None

    def forget(self) -> None:
        """Let go of what was held last, which the arrow keys would move."""
        self._active = None
        self._choose_remark()

    @property
    def together(self) -> tuple[str, ...]:
        """The parts that move with what is held: all that are selected, where it is one of several."""
        chosen = self._document.selection
        whole = self.held is not None and self.held.hold in WHOLE and self.held.name in chosen
        return chosen if whole and len(chosen) > 1 else ()

    def reload(self) -> None:
        """Take up the drawing as it is now; one that somebody else has changed ends the drag."""
        layout, own = self._document.layout, self.proposal.layout if self.proposal else None
        if self.dragging and layout is not own and layout != own:
            self.release()
        self._found = None
        if self.held is not None and not self.dragging and self._now(self.held) is None:
            self.held = None  # it has gone from the sheet under the hand
        if self.over is not None and not self.dragging:
            self.over = self._now(self.over)

    @property
    def _handles(self) -> tuple[Handle, ...]:
        if self._found is None:
            self._found = handles(self._document.layout)
        return (*self._found, *self._own)

    @property
    def _own(self) -> tuple[Handle, ...]:
        """The handles of the part that is selected by itself."""
        chosen = self._document.selection
        return handles_of_selected(self._document.layout, chosen[0]) if len(chosen) == 1 else ()

    def _now(self, handle: Handle | None) -> Handle | None:
        if handle is not None and handle.hold in (Hold.PART, Hold.TANK):
            return part_handle(self._document.layout, handle.name)
        return next((h for h in self._handles if h.same(handle)), None) if handle is not None else None

    def at(self, view: View, x: float, y: float) -> Handle | None:
        """The handle under a device point; a pump is held by its circle as well as by its port."""
        layout = self._document.layout
        bodies = {name: pump_circle(layout, name, view) for name in layout.pumps}
        return nearest_handle(self._handles, view, x, y, bodies)

    def hover(self, view: View, x: float, y: float) -> bool:
        """Note what is under the pointer; whether that is news."""
        over = self.at(view, x, y)
        news = over != self.over
        self.over = over
        return news

    def press(self, view: View, x: float, y: float) -> Handle | None:
        """Take hold of what is under the pointer and select it; one of several selected holds them all."""
        self._pressed = (x, y)
        self.held = self._active = self.at(view, x, y)
        self._reached = False
        if self.held is not None and not self.together:
            self._document.select(self.held.name)  # none, of what belongs to no part
        self._choose_remark()
        return self.held

    def move(self, view: View, x: float, y: float, *, free: bool) -> bool:
        """Bring what is held to the pointer; False while a press is no drag yet."""
        if self.held is None:
            return False
        if self._drag is None:
            if max(abs(x - self._pressed[0]), abs(y - self._pressed[1])) < DRAG_START * view.dot:
                return False
            self._start(view)
        assert self._drag is not None
        self.proposal = self._drag.send(Pointer(*view.world(x, y), free))
        self.followed = self._followed(self.held, self.together, self._begun, self.proposal)
        system, followed = self._document.system, self.followed
        label = gestures.label(self.held, self.proposal, system, self.together, followed)
        if self.held.hold is Hold.END:
            label += taken_along.with_text(self._begun, self.proposal.layout, ())
        self.moving = True
        try:
            self._document.apply(label, self.proposal.layout, self._gesture)
        finally:
            self.moving = False
        return True

    def _start(self, view: View) -> None:
        assert self.held is not None
        step, reach = snapping.grid_step(self._document.system), snapping.REACH * view.dot / view.scale
        self._gesture = self._document.gesture()
        self._begun, self.followed = self._document.layout, ""
        first = self._first(self.held, self.together)
        self._drag = gestures.drag(self._begun, self.held, step, reach, self.together, first)
        self.proposal = next(self._drag)
        self._drag.send(Pointer(*view.world(*self._pressed)))
        self._document.point("")
        self._pace.begin_drag()

    def _first(self, handle: Handle, together: tuple[str, ...]) -> Layout:
        """The drawing in the place of which a part is moved: a pump that was moved before begins anew."""
        pump = handle.hold is Hold.PART and handle.name in self._document.layout.pumps and not together
        return before_moves(self._document, handle.name) if pump else self._document.layout

    @staticmethod
    def _followed(handle: Handle, together: tuple[str, ...], before: Layout, proposal: Proposal) -> str:
        """How lines have followed what is moved, besides stretching; "" where they are changed themselves."""
        if handle.hold in (Hold.MIDDLE, Hold.END) and not together:
            return ""
        return followed_text(before, proposal.layout)

    def release(self) -> None:
        """Let go where it is. A press on one of several without a drag selects that one."""
        if self._drag is not None:
            self._put_in()
        self._let_go()

    def _let_go(self) -> None:
        if self._drag is not None:
            self._drag.close()
            self._pace.end_drag()
            self._active = self._drawn_out(self._active)
        elif self.held is not None and self.together:
            self._document.select(self.held.name)
        self._drag = self.proposal = self.held = None

    def _put_in(self) -> None:
        """Join a fitting or tee that no line ends on to the line that it was dropped on."""
        document, held = self._document, self.held
        layout = document.layout
        if held is None or self.together or building.lines_on(layout, held.name):
            return
        if held.name not in layout.fittings and held.name not in layout.tees:
            return
        x, y = (each.si for each in layout.joint(held.name).at)
        run = reshape.run_at(layout, x, y, snapping.grid_step(document.system))
        with suppress(EditError, GeometryError):  # no room in that line: it stays loose, and is said to be
            if run:
                changed = building.put_in(layout, held.name, run)
                document.apply(f"Put {held.name} into {run}", changed, self._gesture)

    def cancel(self) -> None:
        """Let go and leave the drawing as it was before."""
        begun = self.dragging
        self._let_go()
        if begun:
            self._document.cancel(self._gesture)

    def nudge(self, dx: int, dy: int, *, coarse: bool, repeated: bool) -> bool:
        """Move what is selected by whole grid steps; False when there is nothing to move.

        A key that repeats because it is held down makes one undo step.
        """
        target = self._nudged()
        if target is None:
            return False
        chosen = self._document.selection
        together = chosen if len(chosen) > 1 else ()
        if not repeated or not self._nudge:
            self._nudge = self._document.gesture()
        step = snapping.grid_step(self._document.system, coarse=coarse)
        rest = snapping.Snapped(round(target.x + dx * step, 9), round(target.y + dy * step, 9))
        try:
            proposal = gestures.moved(self._first(target, together), target, rest, together)
        except (EditError, GeometryError) as error:
            self.trouble = str(error)
            return True
        self.trouble = ""
        document = self._document
        followed = self._followed(target, together, document.layout, proposal)
        label = gestures.label(target, proposal, document.system, together, followed)
        self._document.apply(label, proposal.layout, self._nudge)
        return True

    def _nudged(self) -> Handle | None:
        chosen = self._document.selection
        if len(chosen) > 1:  # one that has a place stands for all of them
            return next((each for name in chosen if (each := self._place_of(name))), None)
        selected = self._document.selected_part
        if self.remark is not None:
            return self._now(self.remark)
        if self._active is not None and self._active.name == selected and self._active.hold is not Hold.END:
            return self._now(self._active)
        return part_handle(self._document.layout, selected)

    def _place_of(self, name: str) -> Handle | None:
        layout = self._document.layout
        return part_handle(layout, layout.runs[name].start if name in layout.runs else name)

    def shown(self) -> list[Handle]:
        """The handles to draw: what is held; else what is under the pointer, and those of the selection."""
        selected, own = self._document.selected_part, self._own
        alone = len(self._document.selection) == 1
        bends = selected in self._document.layout.runs or selected in self._document.layout.reservoirs
        among = self._handles if bends and alone else ()
        visible = [h for h in among if h.name == selected and h.hold in BENDS]
        visible += () if self.dragging else (h for h in own if h.hold is not Hold.WALL)
        one = self._now(self._drawn_out(self.held)) if self.dragging else self.over
        if one is not None and one.hold in (Hold.STRETCH, Hold.TANK):
            one = None  # the pipe itself is lit, and a tank has its own edge
        if one is None and not self.dragging:
            one = self._now(self.lit) if self._stays_lit else None
        # A selected part is marked by the drawing itself: a ring inside that mark would say nothing more.
        marked = one is not None and one.hold is Hold.PART and one.name == selected
        if one is not None and not marked and not any(h.same(one) for h in visible):
            visible.append(one)
        return visible

    @property
    def only_port_moves(self) -> bool:
        """Whether the drag moves the shown pump's port straight up or down and nothing else."""
        if self.proposal is None or self.held is None or self.held.hold is not Hold.PART:
            return False
        return self.held.name == self._document.pump and math.isclose(
            self.proposal.x, self.held.x, abs_tol=SAME
        )

    def _drawn_out(self, handle: Handle | None) -> Handle | None:
        """The bend that the middle of a straight becomes once it is dragged."""
        if handle is None or handle.hold is not Hold.MIDDLE:
            return handle
        return replace(handle, hold=Hold.CORNER)
