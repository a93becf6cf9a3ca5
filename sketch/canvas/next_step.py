"""What to draw next, over a drawing that is not whole yet, or what the next click does there."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from sketch.drawing.view import View
from sketch.editing import beginning
from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.model.document import Document
from solver.layout.parts import Layout

BY_KEYS = "By keys: F3, its name and Return; then its x and height, such as 2; 1, and Return."
LINE_BY_KEYS = (
    "By keys: F3, line and Return; Tab to where it begins, Return; an arrow key and a length, such as 2, "
    "for each corner; Tab to where it ends, Return."
)
READY_MADE = "Or begin with a drawing that is whole: File, New from (Ctrl+Alt+1 to 4)."
TOP, PAD = 10, 10
ROUND = 66
"""Round a place of a part, within which its symbol and its name stand, in logical pixels."""
AXIS = 50  # logical pixels that the heights take at the left edge
WIDEST, PART = 560, 0.25  # logical pixels; part of the height of the sheet


class NextStep(Label):
    """Stands at the top of the sheet until there is a line from a tank to a pump; clicks go through it.

    `hint` says what the next click does with what is in hand, "" where nothing is; `view` returns where
    the drawing lies on the sheet.
    """

    def __init__(
        self,
        document: Document,
        sheet: QWidget,
        hint: Callable[[], str],
        view: Callable[[], View],
    ) -> None:
        super().__init__("", sheet)
        self._document, self._sheet, self._hint, self._view = document, sheet, hint, view
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setWordWrap(True)
        self.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self._lines: tuple[str, ...] = ()
        self.hide()

    def follow(self) -> None:
        """Say what is next in the drawing as it is now."""
        layout = self._document.layout
        step = beginning.next_step(layout)
        if step and self._document.has_drawing:
            hint = self._hint()
            self._lines = (hint,) if hint else (step, *_other_ways(layout))
            self.place()
        elif self._lines:
            self._lines = ()
            self.hide()

    def place(self) -> None:
        """Stand in the middle of the sheet's top edge, with as many lines as leave the drawing room; on a
        low sheet none stands there: it would cover what is drawn, and stands under the sheet too."""
        shown = False
        for count in range(len(self._lines), 0, -1):
            lines = self._lines[:count]
            self.setText("\n".join(lines))
            most = max(min(WIDEST, self._sheet.width() - 2 * PAD), 1)
            width = min(most, max(map(self.fontMetrics().horizontalAdvance, lines)) + 2 * PAD + 4)
            high = self.heightForWidth(width)
            self.setGeometry(self._left(width, high), TOP, width, high)
            shown = TOP + high <= PART * self._sheet.height() or not self._document.layout.reservoirs
            if TOP + high <= PART * self._sheet.height():
                break
        self.setVisible(shown)

    def stand_aside(self) -> None:
        """Stand elsewhere once the sheet is painted, where the view has come to lie otherwise under it."""
        if self.isVisible() and self._left(self.width(), self.height()) != self.x():
            QTimer.singleShot(0, self.place)

    def _left(self, width: int, high: int) -> int:
        """Where its left edge stands: in the middle, or beside a part that it would cover."""
        layout, device = self._document.layout, self._view().device
        most = self._sheet.width() - width
        lefts = (most // 2, max(most - PAD, 0), min(AXIS, most))
        names = [*layout.intakes, *layout.fittings, *layout.pumps]
        places = [layout.joint(name).at for name in names]
        spots = [QPointF(*device(x.si, y.si)) for x, y in places]
        taken = [QRectF(spot.x() - ROUND, spot.y() - ROUND, 2 * ROUND, 2 * ROUND) for spot in spots]

        def covered(left: int) -> float:
            shared = [QRectF(left, TOP, width, high).intersected(box) for box in taken]
            return sum(each.width() * each.height() for each in shared)

        return min(lefts, key=covered)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), theme_of(self.palette())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(theme.paper)
        painter.setPen(QPen(theme.accent, 1.0))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        painter.end()
        super().paintEvent(event)


def _other_ways(layout: Layout) -> tuple[str, ...]:
    """What the keys do in the place of the mouse, and what spares the whole way."""
    if not layout.reservoirs:
        return BY_KEYS, READY_MADE
    return (LINE_BY_KEYS if layout.intakes and layout.pumps else BY_KEYS,)
