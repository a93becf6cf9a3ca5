"""The elevation on the screen: shows the drawing and lets the hand change it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from sketch.canvas import overlay, own_shelf, tool_keys
from sketch.canvas.dimensions import Dimension, dimension_at, dimension_of
from sketch.canvas.foreground import Foreground
from sketch.canvas.ground import ReachGround
from sketch.canvas.hand import Hand
from sketch.canvas.handles import Handle
from sketch.canvas.highest import HighestPort
from sketch.canvas.inline import InlineField
from sketch.canvas.keyboard import ZOOM, Keys, free
from sketch.canvas.next_step import NextStep
from sketch.canvas.picture import Asked, DrawingPicture
from sketch.canvas.selecting import Selector
from sketch.canvas.sight import Sight
from sketch.canvas.spoken import Speaker
from sketch.canvas.tool import Tool
from sketch.drawing.labels import Box
from sketch.drawing.pointing import Targets
from sketch.drawing.view import View
from sketch.failsafe import Failsafe
from sketch.look.appearance import theme_of
from sketch.look.colours import Theme
from sketch.look.word_tips import WordTips
from sketch.model.advisor import advisor
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from sketch.model.pace import pace
from sketch.model.pins import pins
from solver.layout.own_parts import OwnPart

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


class Elevation(QWidget):
    """The drawing to scale; everything on it that can be held can be moved."""

    message = Signal(str)  # what the hand could not do, for the status bar; "" once it can
    released = Signal()  # by the hand, whatever it held
    asked = Signal()  # for the figures of what is selected
    picked = Signal(str)  # what is in hand from the shelf; "" for nothing

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._failsafe, self._theme = Failsafe(self, document), theme_of(self.palette())
        WordTips(self, self._words_at)
        self.field = InlineField(document, self)
        self.hand, self.tool = Hand(document), Tool(document)
        self.selector = Selector(document, self.hand)
        self._targets: Targets | None = None
        self._foreground = Foreground(document, self.hand, self.tool, self.selector)
        self._panning: QPointF | None = None
        self._space = False
        self._highest, self.ground = HighestPort(document), ReachGround(document)
        self.picture = DrawingPicture(document, self.ground, self.hand)
        self.sight = Sight(document, self, self._highest)
        self._idle = QTimer(self, singleShot=True)
        self._idle.timeout.connect(self._ask_highest)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(320, 180)
        self.setAccessibleName("Elevation")
        self.speaker = Speaker(document, self, lambda: self.hand.dragging)
        self._keys = Keys(document, self)
        self.next_step = NextStep(document, self, lambda: self.tool.message, lambda: self.view)
        document.changed.connect(self._reload)
        document.opened.connect(self._begin)
        advisor(document).previewed.connect(self._frame_preview)
        marks = self.ground.changed, pins(document).changed, chosen_remark(document).changed
        for changed in (document.pointed, document.selected, *marks, pace(document).changed):
            changed.connect(self._repaint)
        self._reload()

    def sizeHint(self) -> QSize:
        return QSize(960, 560)

    # The view

    @property
    def view(self) -> View:
        """The scale and place shown now."""
        return self.sight.view

    @property
    def targets(self) -> Targets:
        """What can be pointed at in the drawing as it is shown now."""
        document = self._document
        drawing = (document.layout, document.solution, self.view, document.pump)
        if self._targets is None or not self._targets.are_of(*drawing):
            self._targets = Targets(*drawing, self._targets)
        return self._targets

    @property
    def theme(self) -> Theme:
        """The drawing's colours that go with the widget's palette."""
        return self._theme

    @property
    def highest_port(self) -> float | None:
        """Where the highest-port line is drawn [m]; None while it is not known."""
        return self._highest.height

    def fit(self) -> None:
        """Show the whole drawing, and go on showing it when the window changes its size."""
        self.sight.fit()
        self.update()

    def pan(self, dx: float, dy: float) -> None:
        """Move the sheet by a distance of the widget."""
        self.sight.pan(dx, dy)
        self.update()

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Enlarge by `factor` about a point of the widget, by default its middle."""
        self.sight.zoom(factor, None if at is None else (at.x(), at.y()))
        self.update()

    # Following the document

    def _begin(self) -> None:
        self.hand.release()
        if self.tool.picked:
            self.pick("")
        self._ask_highest()  # at once, so that the first view holds its line
        self.fit()

    def _reload(self) -> None:
        self.hand.reload()
        # Raising the port alone leaves its highest place where it is; anything else may move it.
        moved = not self.hand.only_port_moves
        self._idle.start(self._highest.follow(moved=moved, dragging=self.hand.dragging))
        self._keep_in_sight()
        self.next_step.follow()
        self._repaint()

    def _keep_in_sight(self) -> None:
        """Bring back what an edit has put out of sight, but never under a hand that holds something."""
        if self.hand.held is None:
            self.sight.follow()

    def _repaint(self) -> None:
        if not self.hand.moving:  # else once it is known what has changed
            self.update()

    def _frame_preview(self) -> None:
        if self.hand.held is None:
            self.sight.frame(advisor(self._document).preview)
        self.update()

    def _ask_highest(self) -> None:
        if self._highest.solve():
            self.update()

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        self._failsafe.paint(self._paint)

    def _paint(self, painter: QPainter) -> None:
        self.picture.paint(painter, self._asked)
        view, theme, labels, typing = self.view, self.theme, self.picture.labels, self.field.isVisible()
        self._foreground.paint(painter, view, QRectF(self.rect()), theme, labels, typing=typing)
        self.next_step.stand_aside()

    @property
    def _asked(self) -> Asked:
        """All that the picture of the drawing is asked for with."""
        return self.view, (self.width(), self.height()), self.theme, self.targets.glyphs, self.highest_port

    def readout(self) -> list[overlay.Line]:
        """The lines beside the pointer while something is drawn or dragged."""
        return self._foreground.words(self.theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.next_step.place()
        if not self.hand.dragging:
            self.sight.refit()

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._theme = theme_of(self.palette())
            self.update()
        super().changeEvent(event)

    # What is picked from the shelf

    def pick(self, what: str, own: OwnPart | None = None) -> None:
        """Take a kind of part in hand, or the line, or a part of one's own; "" puts it back."""
        self.tool.pick(what, own)
        if what:
            self.setFocus()
        self._show_cursor()
        self.show_hint()
        self.picked.emit(own_shelf.key_of(own) if own is not None else what)

    def show_hint(self) -> None:
        """Show what the next click or key does with what is in hand, or why the last could not."""
        self.show_text(self.tool.message)

    def show_text(self, text: str) -> None:
        """Show a line in the status bar, and have it spoken where the sheet has the keyboard."""
        self.message.emit(text)
        self.next_step.follow()
        self.speaker.speak(text)
        self.update()

    def ask_card(self) -> None:
        """Ask for the figures of what is selected."""
        self.asked.emit()

    def ask_text(self, handle: Handle) -> None:
        """Ask for the words of a text again."""
        key = f"{handle.hold} {handle.corner}"
        label = next((each for each in self.picture.labels if each.key == key), None)
        dimension = dimension_of(label, self._document) if label is not None else None
        if dimension is not None:
            self.field.open(dimension)

    def put_down_typed(self, text: str) -> None:
        """Put down what is in hand where a text says. Raises EditError."""
        done = self.tool.put_down_at(text)
        self.field.leave()
        self.end_press(done=done)

    def end_press(self, *, done: bool) -> None:
        """Let go of what was in hand once it is put down, else show or ask what comes next."""
        if done:
            self.pick("")
        elif self.tool.wants_text and self.tool.start is not None:
            at = self.view.device(self.tool.start.x, self.tool.start.y)
            self.field.ask(Box(*at, 0.0, 0.0), "Text", "", None, self.put_down_typed)
        else:
            self.show_hint()

    def _put_down(self, event: QMouseEvent) -> None:
        at = event.position()
        self.end_press(done=self.tool.press(self.targets, at.x(), at.y(), free=free(event)))

    # The mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at, left = event.position(), event.button() is Qt.MouseButton.LeftButton
        if self.hand.dragging or self._panning is not None:
            return
        if event.button() is Qt.MouseButton.MiddleButton or (left and self._space):
            self._panning = at
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif left and self.tool.picked:
            self._put_down(event)
        elif left:
            self._foreground.pointer = at
            more, frame = (bool(event.modifiers() & key) for key in (CONTROL, SHIFT))
            self.selector.press(self.targets, at.x(), at.y(), more=more, frame=frame)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        left = event.button() is Qt.MouseButton.LeftButton
        if left and self.tool.picked:
            self._put_down(event)
            return
        dimension = self.dimension_at(event.position())
        if dimension is not None and left:
            self.hand.release()
            self.field.open(dimension)
            return
        at, more = event.position(), bool(event.modifiers() & CONTROL)
        if left and self.selector.press_twice(self.targets, at.x(), at.y(), more=more):
            self.message.emit(self.selector.trouble)
            return
        super().mouseDoubleClickEvent(event)
        if left and (self._document.selected_part or self.hand.remark):
            self.asked.emit()

    def _words_at(self, at: QPointF) -> str:
        return next((label.text for label in self.picture.labels if label.box.holds(at.x(), at.y())), "")

    def dimension_at(self, at: QPointF) -> Dimension | None:
        """The figure at a place of the widget, if it is one that can be typed."""
        return dimension_at(self.picture.labels, self._document, at.x(), at.y())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if self._panning is not None:
            self.sight.pan(at.x() - self._panning.x(), at.y() - self._panning.y())
            self._panning = at
            self.update()
        elif self.selector.band is not None:
            self.selector.stretch(self.view, at.x(), at.y())
            self.update()
        elif self.tool.picked:
            self._foreground.pointer = at
            self.tool.hover(self.targets, at.x(), at.y(), free=free(event))
            self.update()
        elif self.hand.held is not None and not event.buttons() & Qt.MouseButton.LeftButton:
            self._drop()  # the release went to another window
        elif self.hand.held is not None:
            self._move(at, free=free(event))
        else:
            self._hover(at)

    def _move(self, at: QPointF, *, free: bool) -> None:
        self._foreground.pointer = at
        if self.hand.move(self.view, at.x(), at.y(), free=free) and self.hand.proposal is not None:
            self.message.emit(self.hand.proposal.trouble)
            drawn = self.picture.update(self.devicePixelRatioF(), lambda: self._asked)
            self.update(self._foreground.changed(self, drawn, self.view, self.theme))

    def _hover(self, at: QPointF) -> None:
        if self.hand.hover(self.view, at.x(), at.y()):
            self.update()
        self._show_cursor(at)
        self._document.point(self.targets.key_at(at.x(), at.y()))

    def _show_cursor(self, at: QPointF | None = None) -> None:
        if self._space:
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif self.tool.picked:
            self.setCursor(Qt.CursorShape.CrossCursor)
        elif at is not None and self.dimension_at(at) is not None:
            self.setCursor(Qt.CursorShape.IBeamCursor)
        elif self.hand.over is not None:
            self.setCursor(overlay.cursor(self.hand.over))
        else:
            self.unsetCursor()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        left = event.button() is Qt.MouseButton.LeftButton
        if self._panning is not None and (left or event.button() is Qt.MouseButton.MiddleButton):
            self._panning = None
            self._show_cursor()
        elif left and self.selector.band is not None:
            self.selector.band = None
            self.update()
        elif left and not self.tool.picked:
            self._drop()
            self._hover(event.position())

    def _drop(self) -> None:
        self.hand.release()
        self.let_go()

    def let_go(self) -> None:
        """Have the sheet show that nothing is held any more."""
        self.message.emit("")
        self.released.emit()
        self.speaker.describe()
        self._idle.start()
        self._keep_in_sight()
        self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:
        notches = event.angleDelta().y() / 120
        if notches:
            self.zoom(ZOOM**notches, event.position())
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        self.hand.over = self.tool.pointer = None
        self._document.point("")
        self.update()

    # The keyboard

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Space and not self.hand.dragging:
            self._space = True
            self._show_cursor()
        elif not self._keys.press(event):
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        if not tool_keys.walk(self.tool, back=not forward):
            return super().focusNextPrevChild(forward)
        self.update()
        return True

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._show_cursor()
        else:
            super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._space = False
        super().focusOutEvent(event)
