"""The drawing on the elevation as it is painted: what did not change since the last frame is kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter

from sketch.canvas.ground import ReachGround
from sketch.canvas.hand import Hand
from sketch.drawing.glyphs import Glyph
from sketch.drawing.kept_picture import KeptPicture
from sketch.drawing.labels import Box, Label
from sketch.drawing.painting import Drawn, paint_elevation
from sketch.drawing.pencil import Pencil
from sketch.drawing.recorder import Recorder
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme
from sketch.model.document import Document
from sketch.model.pace import pace
from sketch.model.pins import Pin, pins
from solver.layout.parts import Layout
from solver.ledger.solve import Solution
from solver.quantities.units import System

Asked = tuple[View, XY, Theme, Sequence[Glyph], float | None]
"""What the picture is asked for with: view, size, theme, glyphs and the elevation of the highest port [m]."""


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the picture of a drawing hangs on, but for the map behind it."""

    layout: Layout
    solution: Solution | None
    shapes: Sequence[Glyph]
    theme: Theme
    view: View
    size: XY
    system: System
    pump: str
    pointed: str
    selected: tuple[str, ...]
    highest_port: float | None  # [m]
    trouble: tuple[str, ...]
    marks: tuple[Pin, ...]

    def record(self, recorder: Recorder, ground: Callable[[Pencil], None] | None) -> Drawn:
        """List all strokes of it; what is drawn where."""
        return paint_elevation(
            recorder,
            self.layout,
            self.solution,
            self.view,
            self.size,
            self.theme,
            self.system,
            pump=self.pump,
            pointed=self.pointed,
            selected=self.selected,
            highest_port=self.highest_port,
            trouble=self.trouble,
            shapes=self.shapes,
            ground=ground,
            marks=self.marks,
        )

    def alike(self, other: Shown) -> bool:
        """Whether the other gives this picture; drawings are compared by identity, they are large."""
        if self.layout is not other.layout or self.solution is not other.solution:
            return False
        if self.shapes is not other.shapes or self.theme is not other.theme:
            return False
        one = (self.view, self.size, self.system, self.pump, self.pointed, self.selected)
        if one != (other.view, other.size, other.system, other.pump, other.pointed, other.selected):
            return False
        return (self.highest_port, self.trouble, self.marks) == (
            other.highest_port, other.trouble, other.marks
        )  # fmt: skip


class DrawingPicture:
    """Paints the document's drawing, with the map behind it, and knows where its labels are."""

    def __init__(self, document: Document, ground: ReachGround, hand: Hand) -> None:
        self._document, self._ground, self._hand, self._pace = document, ground, hand, pace(document)
        self._kept = KeptPicture()
        self._recorder: Recorder | None = None  # of the last frame
        self._shown: Shown | None = None
        self._placed = -1  # which change that was passed on had places of labels looked for
        self._drawn: Drawn | None = None
        self.labels: tuple[Label, ...] = ()  # as last painted

    @property
    def repainted(self) -> float:
        """The share of the sheet that was painted again in the last frame, 0 to 1."""
        return self._kept.repainted

    def image(self) -> QImage:
        """The pixels of the last frame."""
        return self._kept.image()

    def paint(self, painter: QPainter, asked: Asked) -> None:
        """Paint it from the painter's origin."""
        view, size, theme, _, _ = asked
        ground = self._ground.painter(painter, view, size, theme, self._hand)
        self._kept.paint(painter, self._recorded(asked, ground), size)
        if self._drawn is not None:
            self._ground.explain(painter, view, size, theme, self._drawn)

    def update(self, ratio: float, asking: Callable[[], Asked]) -> Sequence[QRect] | None:
        """Bring the pixels up to date before they are painted; where they are others, None for anywhere.

        ratio: device pixels for each logical one.
        """
        if self._ground.on:
            return None
        try:
            asked = asking()
            return self._kept.update(self._recorded(asked, None), asked[1], ratio)
        except Exception:  # the painting fails too, and says so
            return None

    def _recorded(self, asked: Asked, ground: Callable[[Pencil], None] | None) -> Recorder:
        """The strokes of the drawing as it is now; those of the last frame where nothing has changed."""
        document, (view, size, theme, shapes, highest_port) = self._document, asked
        shown = Shown(
            document.layout, document.solution, shapes, theme, view, size, document.system, document.pump,
            document.pointed_key, document.selection, highest_port,
            tuple([part for part, _ in document.refusal]), tuple(pins(document).shown),
        )  # fmt: skip
        before, recorder = self._shown, self._recorder
        if recorder is None or before is None or ground is not None or not self._stands(shown, before):
            hold = before is not None and shown.layout is not before.layout and self._may_hold(shown, before)
            self._shown = None
            recorder = Recorder(view.dot, Box(0.0, 0.0, *size), recorder, holds_labels=hold)
            self._drawn = shown.record(recorder, ground)
            self.labels = self._drawn.labels
            self._recorder = recorder
            self._placed = self._placed if hold else self._pace.passed_on
        self._shown = shown if ground is None else None
        return recorder

    def _stands(self, shown: Shown, before: Shown) -> bool:
        """Whether the strokes of the last frame are those of what is to be shown."""
        held = self._recorder is not None and self._recorder.holds_labels
        return shown.alike(before) and (not held or self._may_hold(shown, before))

    def _may_hold(self, shown: Shown, before: Shown) -> bool:
        """Whether labels may go along with their elements: in a drag, between two changes passed on."""
        at_pace = self._placed == self._pace.passed_on
        return self._hand.dragging and at_pace and (shown.view, shown.size) == (before.view, before.size)
