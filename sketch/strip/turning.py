"""One knob of the strip in plain Python: at rest, or turned by one gesture until it is let go.

Every turn starts from the drawing that the gesture began with, so that nothing drifts and going back undoes
it exactly; the whole gesture is one undo step.
"""

from __future__ import annotations

import math

from sketch.editing import cases
from sketch.editing.cases import CaseFigure
from sketch.editing.edits import EditError, Value, read_typed
from sketch.look.words import with_signs
from sketch.model.document import Document
from sketch.model.drawing_state import State, trouble_of_alternatives, with_case_figure
from sketch.model.moves import before_moves, moved_from
from sketch.strip import in_case
from sketch.strip.in_case import Path
from sketch.strip.knobs import Knob, KnobSubject, case_paths
from sketch.views import case_making
from solver.geometry.followed import followed_text, with_followed
from solver.geometry.outline import GeometryError
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.units import Quantity
from solver.quantities.wording import error_text

SAME = 1e-9  # [SI]

MOST_POSITIONS = 2**30
"""Of a slider, whose positions are counted in 32 bits; a part may be dragged farther than that."""


class Turning:
    """What a knob shows and does. Positions count steps of the unit shown from the low end of the slider."""

    def __init__(self, document: Document, knob: Knob) -> None:
        self._document, self.knob = document, knob
        self.which = KnobSubject("", "", Level.MINIMUM, "")
        self.trouble = ""  # why the last change was refused
        self.last_position = 1  # at the high end of the slider
        self._low = 0  # the low end, in steps from 0 of the unit
        self._ends = (-math.inf, math.inf)  # of what the slider reaches [SI unit of the kind]
        self._gesture = 0
        self._base: Layout | None = None  # the drawing as it was when the gesture began
        self._first: Layout | None = None  # and before its pump was moved, by gestures before this one too
        self.followed = ""  # what the last turn did to the lines besides stretching them
        self._only_here = False  # whether its figure is that of the alternative alone
        self._result: Layout | None = None  # what the gesture last made of it
        self._saved_shown: tuple[int, KnobSubject, Path | None, Quantity | None] | None = None  # and of what

    @property
    def active(self) -> bool:
        """Whether a gesture is under way."""
        return self._gesture != 0

    # What it shows

    @property
    def reason(self) -> str:
        """Why it cannot be turned; "" when it can."""
        return self.knob.reason(self._document.layout, self.which)

    @property
    def value(self) -> Quantity:
        """The figure in the drawing; only where there is no reason against it."""
        return self.knob.value(self._document.layout, self.which)

    @property
    def saved(self) -> Quantity | None:
        """The figure in the drawing as it was saved."""
        return self._saved_of(self.which)

    def _saved_of(self, which: KnobSubject) -> Quantity | None:
        """The saved figure; None where that is not the case's and this one is, or the other way round."""
        knob, now, saved = self.knob, self._document.layout, self._document.saved_layout
        if knob.reason(saved, which) or knob.path_in_case(saved, which) != knob.path_in_case(now, which):
            return None
        return knob.value(saved, which)

    @property
    def text(self) -> str:
        """The figure with its unit."""
        return units.typeset(self.value.si, self.knob.kind, self._document.system)

    @property
    def position(self) -> int:
        """Where the slider stands."""
        return min(max(round(self._in_steps(self.value.si)) - self._low, 0), self.last_position)

    @property
    def saved_position(self) -> int | None:
        """Where the saved figure lies on the slider."""
        saved = self.saved
        place = -1 if saved is None else round(self._in_steps(saved.si)) - self._low
        return place if 0 <= place <= self.last_position else None

    def position_of(self, si: float) -> float:
        """Where a figure lies on the slider, no farther than its ends; between two steps it may be."""
        return min(max(self._in_steps(si) - self._low, 0.0), float(self.last_position))

    @property
    def differs(self) -> bool:
        """Whether the figure is another than the saved one."""
        saved = self.saved
        return saved is not None and abs(saved.si - self.value.si) > SAME

    def figures(self, which: KnobSubject) -> tuple[object, ...]:
        """All that name, slider and field show of a subject; equal where they would show no other."""
        layout, saved = self._document.layout, self._document.saved_layout
        reason = self.knob.reason(layout, which)
        value = None if reason else self.knob.value(layout, which)
        path = self.knob.path_in_case(layout, which)
        if self._saved_shown is None or self._saved_shown[:3] != (id(saved), which, path):
            self._saved_shown = (id(saved), which, path, self._saved_of(which))
        own = path is not None and self.is_own
        return which, reason, value, self._saved_shown[3], id(saved), path, own, self._document.system

    def _in_steps(self, si: float) -> float:
        system = self._document.system
        return units.to_display(si, self.knob.kind, system) / self.knob.step[system]

    # What it does

    def follow(self, which: KnobSubject) -> None:
        """Take up the drawing as it is now; one that somebody else has changed ends the gesture."""
        self.which = which
        now = self._document.layout
        # The drawing may say of an equal layout which lines were left cold, in another object.
        if self.active and now is not self._result and now != self._result:
            self.release()
        if not self.active and not self.reason:
            self._fit_ends()

    def _fit_ends(self) -> None:
        """Let the slider reach over the knob's range, the figure and the saved one. It must not shift under
        the hand, so this is done between gestures only."""
        layout, saved = self._document.saved_layout, self.saved
        if saved is None:
            layout = self._document.layout
        known = [self.value.si, *([] if saved is None else [saved.si])]
        reached = (*self.knob.span(layout, self.which), *known)
        self._ends = min(reached), max(reached)
        ends = [self._in_steps(si) for si in reached]
        self._low = math.floor(min(ends) + 1e-6)
        self.last_position = min(max(math.ceil(max(ends) - 1e-6) - self._low, 1), MOST_POSITIONS)

    def turn(self, position: int, *, to_saved: bool = False) -> bool:
        """Set the figure of a position, or the saved one; False with `trouble` where that is refused."""
        if self._base is None:
            self._gesture, self._base = self._document.gesture(), self._document.layout
            if self.knob.moves_pump:
                self._first = before_moves(self._document, self.which.pump)
            self._only_here = self.is_own
        saved, system = self.saved, self._document.system
        if to_saved and saved is not None:
            return self._apply(self._base, saved)
        shown = (self._low + position) * self.knob.step[system]
        lowest, highest = self._ends  # between two steps, the outer of which may be out of what is allowed
        si = units.from_display(shown, self.knob.kind, system)
        return self._apply(self._base, min(max(si, lowest), highest))

    @property
    def is_of_case(self) -> bool:
        """Whether it is a figure of the case in view, and not the drawing's."""
        return self.knob.path_in_case(self._document.layout, self.which) is not None

    @property
    def is_own(self) -> bool:
        """Whether the alternative that is shown has another figure of the case in view than the drawing.

        It is looked for as a gesture begins, which may come past the drawing's figure on its way.
        """
        document = self._document
        path = self.knob.path_in_case(document.layout, self.which)
        own, drawn = (
            in_case.figures_of(layout, self.which.case).get(path) if path is not None else None
            for layout in (document.layout, document.drawing.base)
        )
        return own != drawn

    @property
    def may_be_of_case(self) -> bool:
        """Whether a case is in view that may have a figure of its own for this one, and has none yet."""
        paths = case_paths(self.knob, self.which)
        return self._document.case != AS_DRAWN and bool(paths) and not self.is_of_case

    @property
    def case_figure(self) -> CaseFigure | None:
        """The figure of the case in view that typed text may be for; None as drawn or where there is none."""
        document = self._document
        if not self.may_be_of_case:
            return None
        known = {figure.path: figure for figure in cases.figures(document.layout)}
        return next((known[path] for path in case_paths(self.knob, self.which) if path in known), None)

    def enter_in_case(self, figure: CaseFigure, text: str) -> bool:
        """Set what was typed in the case in view; False with `trouble` where that is refused."""
        self.release()
        try:
            case_making.set_figure(self._document, self._document.case, figure, text)
        except EditError as error:
            self.trouble = str(error)
            return False
        return True

    def enter(self, text: str) -> bool:
        """Set what was typed; False with `trouble` where it is no figure or is refused."""
        try:
            value = read_typed(text, self.knob.kind, self._document.system)
        except EditError as error:
            self.trouble = str(error)
            return False
        self.release()
        self._only_here = self.is_own
        return self._apply(self._document.layout, value)

    def restore(self) -> bool:
        """Go back to the saved figure, where there is one."""
        saved = self.saved
        self.release()
        self._only_here = self.is_own
        return saved is None or bool(self.reason) or self._apply(self._document.layout, saved)

    def release(self) -> None:
        """End the gesture: the next turn is an undo step of its own."""
        self._gesture, self._base, self._first = 0, None, None

    def _undo_text(self, value: Value) -> str:
        """What the undo menu calls a turn to a figure: as it was typed, or as it is shown."""
        kind, system = self.knob.kind, self._document.system
        text = with_signs(value.text) if isinstance(value, Quantity) else units.typeset(value, kind, system)
        return f"{self.knob.undo_label(self._document.layout, self.which)} to {text}"

    def _apply(self, base: Layout, value: Value) -> bool:
        path, self.followed = self.knob.path_in_case(base, self.which), ""
        try:
            if path is None:
                self._turn_drawing(base, value)
            else:
                self._set_in_case(base, path, value)
        except (EditError, GeometryError) as error:
            self.trouble = error_text(error, self._document.system)
            return False
        self.trouble = ""
        return True

    def _turn_drawing(self, base: Layout, value: Value) -> None:
        """Set the drawing's own figure; a pump goes there from where it stood before it was moved at all."""
        layout, pump = self.knob.set(base, self.which, value), self.which.pump
        if self.knob.moves_pump:
            layout = moved_from(self._first or before_moves(self._document, pump), pump, layout)
        self.followed = followed_text(base, layout)
        self._replace(with_followed(self._undo_text(value), base, layout), layout)

    def _replace(self, label: str, layout: Layout) -> None:
        self._result = layout
        if not self._document.apply(label, layout, self._gesture):
            self._result = self._document.layout

    def _set_in_case(self, base: Layout, path: Path, value: Value) -> None:
        """Set the figure of the case in view, in the drawing too unless an alternative has its own."""
        document, case = self._document, self.which.case
        text, label = self.knob.text_in_case(base, self.which, path, value), self._undo_text(value)

        def change(layout: Layout) -> Layout:
            return in_case.with_text(layout, case, path, text)

        if not document.alternative or self._only_here:
            layout = change(base)
            if trouble := document.trouble_with(layout):
                raise EditError(trouble)
            self._replace(f"{label}, in this alternative only" if document.alternative else label, layout)
            return

        def everywhere(state: State) -> State:
            after = with_case_figure(state, case, change)
            if trouble := trouble_of_alternatives(after.drawing):
                raise EditError(trouble)
            self._result = after.layout
            return after

        document.change_alternatives(label, everywhere, self._gesture)
