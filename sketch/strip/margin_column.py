"""The margin beside the knobs, what became of it, and how it stands in the other cases."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from sketch.look.label import Label
from sketch.look.word_tips import WordTips
from sketch.strip.scale import Elided
from solver.quantities.wording import uncapitalised

LONGEST = ("Over by <0.1 inHg, est.", "0.0 inHg better than at first", "0.0 inHg over, est.")
"""What the column always has room for in one line: of margin, change and other cases."""

LONG = "0.0 inHg better than at first; worst case 0.0 inHg worse"
"""What it takes no more room than, however wide the window is."""

LINES = 5  # that there is always room for, one under another: with a change of two cases
OF_OTHERS = 2  # lines at the most, so that the name of a case is whole
APART = 4  # where there is room [logical pixels]
AROUND = 1


class MarginColumn(QWidget):
    """Of one size whatever it says: a slider must not shift under the hand that holds it.

    The labels are placed by hand, or each new text would have the strip laid out again.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.margin, self.change, self.others = Label(), Elided(), Elided()
        font = self.margin.font()
        font.setBold(True)
        self.margin.setFont(font)
        for label in (self.margin, self.change, self.others):
            label.setParent(self)
            label.setAutoFillBackground(True)  # or each new text would have the strip behind it painted too
        self._margin = self._pump = ""
        WordTips(self.margin, lambda _: f"{self._pump}: {self._margin}" if self._pump else self._margin)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self._width = self.least_width

    def show_margin(self, text: str, pump: str = "") -> None:
        """Show a margin; behind the name of its pump where that is given, cut to what the margin leaves."""
        self._margin, self._pump = text, pump
        name = ""
        if pump:
            metrics = QFontMetrics(self.margin.font())
            room = self.width() - metrics.horizontalAdvance(f": {text}")
            name = f"{metrics.elidedText(pump, Qt.TextElideMode.ElideRight, max(room, 0))}: "
        self.margin.setText(f"{name}{uncapitalised(text) if name else text}")
        self.margin.setAccessibleName(f"{pump}: {text}" if pump else text)

    @property
    def least_width(self) -> int:
        """The width without which a usual text would be cut."""
        labels = (self.margin, self.change, self.others)
        return 4 + max(
            label.fontMetrics().horizontalAdvance(longest)
            for label, longest in zip(labels, LONGEST, strict=True)
        )

    @property
    def most_width(self) -> int:
        """The width past which the rest is left to the sliders."""
        return max(self.least_width, 4 + self.fontMetrics().horizontalAdvance(LONG))

    def widen(self, width: int) -> None:
        """Take so much room where there is as much, between the least and the most."""
        width = min(max(width, self.least_width), self.most_width)
        if width != self._width:
            self._width = width
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(self._width, self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.least_width, LINES * self._line + 2 * AROUND)

    @property
    def _line(self) -> int:
        return QFontMetrics(self.margin.font()).height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.show_margin(self._margin, self._pump)
        self.place()

    def place(self) -> None:
        """Put the labels one under another, each in as many lines as it takes."""
        width, line = self.width(), self._line
        room = max(LINES, (self.height() - 2 * AROUND) // line) - 1
        others = min(self.others.lines_in(width), OF_OTHERS)
        change = min(self.change.lines_in(width), room - others)
        counts = {self.margin: 1, self.change: change, self.others: others}
        rows = sum(counts.values())
        gaps = max(sum(count > 0 for count in counts.values()) - 1, 1)
        apart = max(min(APART, (self.height() - 2 * AROUND - rows * line) // gaps), 0)
        y = (self.height() - rows * line - gaps * apart) // 2
        for label, count in counts.items():
            if isinstance(label, Elided):
                label.set_lines(max(count, 1))
            label.setGeometry(0, y, width, count * line)
            y += count * line + (apart if count else 0)
