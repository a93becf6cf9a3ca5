"""A list whose rows are sentences: set once, wrapped again where the width or the type changes."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRect, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QListView, QWidget

from sketch.look.more_below import MoreBelow

Index = QModelIndex | QPersistentModelIndex
PAD = 8
WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


class WrappedList(QListView):
    """A list without a frame, whose delegate paints each row. `bold` is its font, bold."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bold = bold_of(self.font())
        self.setAccessibleName(name)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setSelectionMode(QListView.SelectionMode.NoSelection)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        MoreBelow(self)

    def wrap_anew(self) -> None:
        """Break every row into lines again."""
        self.scheduleDelayedItemsLayout()

    def height_of(self, text: str, width: int, *, bold: bool = False) -> int:
        """The height that a text takes in that width."""
        metrics = QFontMetrics(self.bold if bold else self.font())
        return metrics.boundingRect(QRect(0, 0, width, 10000), WRAP, text).height()

    def write(self, painter: QPainter, box: QRect, text: str, colour: QColor, *, bold: bool = False) -> None:
        """Paint a text into its box."""
        painter.setFont(self.bold if bold else self.font())
        painter.setPen(colour)
        painter.drawText(box, WRAP, text)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "bold"):
            self.bold = bold_of(self.font())
            self.wrap_anew()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()  # the sentences wrap at another width


def bold_of(font: QFont) -> QFont:
    """A font, bold."""
    bold = QFont(font)
    bold.setBold(True)
    return bold
