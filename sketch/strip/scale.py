"""The small widgets a knob of the what-if strip is made of."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFontMetrics,
    QIcon,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QPixmap,
    QPolygonF,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QSlider, QStyle, QStyleOptionSlider, QWidget

from sketch.look.appearance import theme_of
from sketch.look.keys import is_for_the_window
from sketch.look.label import Label
from sketch.look.words import tooltip

CATCH = 3.0  # logical pixels
BAND = 2.0  # the height of the line that marks what is safe, logical pixels


class Scale(QSlider):
    """A slider with a tick at the saved value; the wheel turns it only once it has been taken up."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._tick: int | None = None
        self._safe: tuple[float, float] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumWidth(40)

    @property
    def tick(self) -> int | None:
        """The position of the saved value."""
        return self._tick

    def set_tick(self, position: int | None) -> None:
        """Mark that position as the saved value."""
        if position != self._tick:
            self._tick = position
            self.update()

    @property
    def safe(self) -> tuple[float, float] | None:
        """The positions between which every case is sound; None where they are not known."""
        return self._safe

    def set_safe(self, ends: tuple[float, float] | None) -> None:
        """Mark the positions between which every case is sound."""
        if ends != self._safe:
            self._safe = ends
            self.update()

    def at_tick(self, position: int) -> bool:
        """Whether that position counts as the saved value: a mouse finds it within a few pixels."""
        if self._tick is None or position == self._tick:
            return position == self._tick
        away = self.position_on_groove(position) - self.position_on_groove(self._tick)
        return self.isSliderDown() and abs(away) <= CATCH

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._safe is not None:
            self._paint_safe(*map(self.position_on_groove, self._safe))
        if self._tick is None:
            return
        x = self.position_on_groove(self._tick)
        theme = theme_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.ink if self.isEnabled() else theme.construction)
        bottom = self.height() - 0.5
        painter.drawPolygon(
            QPolygonF([QPointF(x, bottom - 5), QPointF(x - 3.5, bottom), QPointF(x + 3.5, bottom)])
        )

    def _paint_safe(self, left: float, right: float) -> None:
        """A line under the groove."""
        painter, theme = QPainter(self), theme_of(self.palette())
        colour = theme.good if self.isEnabled() else theme.construction
        painter.fillRect(QRectF(left, self.height() - BAND, max(right - left, BAND), BAND), colour)

    def position_on_groove(self, position: float) -> float:
        """Where along the widget the handle stands for a position [logical pixels]."""
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        control, sub = QStyle.ComplexControl.CC_Slider, QStyle.SubControl
        groove = self.style().subControlRect(control, option, sub.SC_SliderGroove, self)
        handle = self.style().subControlRect(control, option, sub.SC_SliderHandle, self)
        span = groove.width() - handle.width()
        left = QStyle.sliderPositionFromValue(self.minimum(), self.maximum(), round(position), span)
        return groove.left() + left + handle.width() / 2


class Name(Label):
    """A knob's name; a double click goes back to the saved value."""

    restored = Signal()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.restored.emit()


class Field(QLineEdit):
    """A number with its unit; Escape gives up what was typed."""

    given_up = Signal()

    def event(self, event: QEvent) -> bool:
        if is_for_the_window(event, typing=self.isModified()):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Escape and self.isModified():
            self.given_up.emit()
        else:
            super().keyPressEvent(event)


class Elided(Label):
    """Text in a line or a few, cut with dots where it does not fit; whole in a tooltip and its name."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._whole = self._tip = ""
        self._lines = 1
        self._broken: tuple[object, list[str]] = None, []  # the lines of the whole text, and of what
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def set_whole(self, text: str, tip: str | None = None) -> None:
        """Show as much of `text` as there is room for; a line feed in it is where it is best broken.

        tip: for the tooltip in its place.
        """
        shown = text.replace("\n", " ") if tip is None else tip
        if shown != self._tip:  # seldom at a move of a drag
            self._tip = shown
            self.setToolTip(tooltip(shown))
            self.setAccessibleName(shown)
        if text != self._whole:
            self._whole = text
            self._cut()

    def set_lines(self, most: int) -> None:
        """Break the text into so many lines at the most."""
        if most != self._lines:
            self._lines = most
            self._cut()

    def lines_in(self, width: int) -> int:
        """How many lines the whole text takes in so much room; 0 where there is none."""
        return len(self._broken_in(width)) if self._whole else 0

    def _broken_in(self, width: int) -> list[str]:
        """The lines of the whole text; in a drag they are asked for twice a frame, and Qt measures slowly."""
        of = self._whole, width
        if self._broken[0] != of:
            self._broken = of, broken(self._whole, QFontMetrics(self.font()), width)
        return list(self._broken[1])

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_broken"):  # not while Qt sets it up
            self._broken = None, []
        super().changeEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._cut()

    def _cut(self) -> None:
        metrics, most = QFontMetrics(self.font()), self._lines
        lines = self._broken_in(self.width())
        if len(lines) > most:
            lines[most - 1 :] = [" ".join(lines[most - 1 :])]
        shown = (metrics.elidedText(line, Qt.TextElideMode.ElideRight, self.width()) for line in lines)
        self.setText("\n".join(shown))


def broken(text: str, metrics: QFontMetrics, width: int) -> list[str]:
    """The lines of a text in a width [logical pixels]: broken at its line feeds, else between words."""
    lines = [""]
    for piece in text.split("\n"):
        whole = metrics.horizontalAdvance(piece) <= width
        for part in [piece] if whole else piece.split(" "):
            longer = f"{lines[-1]} {part}".lstrip()
            if not lines[-1] or metrics.horizontalAdvance(longer) <= width:
                lines[-1] = longer
            else:
                lines.append(part)
    return lines


def back_icon(palette: QPalette, ratio: float) -> QIcon:
    """An arrow that turns back, in the weight of the other icons."""
    icon = QIcon()
    modes = (
        (QIcon.Mode.Normal, QPalette.ColorGroup.Active),
        (QIcon.Mode.Disabled, QPalette.ColorGroup.Disabled),
    )
    for mode, group in modes:
        pixmap = QPixmap(QSize(round(14 * ratio), round(14 * ratio)))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(palette.color(group, QPalette.ColorRole.ButtonText), 1.6))
        painter.drawArc(QRect(3, 3, 9, 9), -90 * 16, 240 * 16)
        painter.drawPolyline(QPolygonF([QPointF(1.2, 2.2), QPointF(3.2, 5.6), QPointF(7.0, 4.6)]))
        painter.end()
        icon.addPixmap(pixmap, mode)
    return icon
