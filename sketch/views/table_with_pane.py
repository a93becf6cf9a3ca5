"""A table under its heading, and beside it what there is to say of the row that is chosen."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import QEvent, QRect, Qt
from PySide6.QtGui import QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QScrollArea,
    QSplitter,
    QTableWidget,
    QVBoxLayout,
    QWidget,
)

from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.views.table_style import dress

PAD = 8
CELL = 14  # of room at either side of a cell's text, and what its style takes
MOST_LINES = 4
LEAST_ROWS = 4
"""Lines of rows that a table keeps under its heading, whatever is to be said under it."""
ROOMY = 1.2
"""Room for columns of words against what their headings take, from which figures are not wrapped."""
BESIDE = 2
"""Lines that a heading takes at most beside its buttons; a longer one has a row of its own over them."""


class WrappedTable(QTableWidget):
    """A table of rows to choose from, whose columns of words share the room that its figures leave."""

    def __init__(self, name: str, headings: tuple[str, ...], shares: Mapping[int, int]) -> None:
        """shares: of the room, by the numbers of the columns that are wrapped."""
        super().__init__(0, len(headings))
        self._shares = shares
        self.setHorizontalHeaderLabels(headings)
        dress(self, name)
        self.setWordWrap(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def fit(self) -> None:
        """Give figures the width they need and words what is left, on as many lines as they take.

        Where their headings hardly have room then, figures are wrapped between their words as well.
        """
        header, left = self.horizontalHeader(), self.viewport().width()
        least = {column: header.sectionSizeHint(column) for column in range(self.columnCount())}
        figures = {
            column: max(self.sizeHintForColumn(column), least[column])
            for column in least
            if column not in self._shares
        }
        shares = self._shares
        if left - sum(figures.values()) < ROOMY * sum(least[column] for column in shares):
            shares = {**dict.fromkeys(figures, max(shares.values())), **shares}
            least |= {column: max(least[column], self._longest_word(column)) for column in figures}
            figures = {}
        whole = {column: max(least[column], self._longest_word(column)) for column in shares}
        if sum(whole.values()) <= left - sum(figures.values()):
            least |= whole
        for column, width in figures.items():
            header.resizeSection(column, width)
            left -= width
        for column, width in column_widths(left, shares, least).items():
            header.resizeSection(column, width)
        for row in range(self.rowCount()):
            self.setRowHeight(row, self._height(row, shares))

    def _longest_word(self, column: int) -> int:
        """The width of a column that none of its words is cut in."""
        items = (self.item(row, column) for row in range(self.rowCount()))
        texts = (item.text() for item in items if item is not None)
        words = (word for text in texts for word in re.split(r"[ \t\n]+", text))  # NO_BREAK is none of them
        return max(map(self.fontMetrics().horizontalAdvance, words), default=0) + 2 * CELL

    def _height(self, row: int, wrapped: Iterable[int]) -> int:
        """The height of a row, for as many lines as its longest words take."""
        line, lines = self.fontMetrics().lineSpacing(), 1
        for column in wrapped:
            item = self.item(row, column)
            room = QRect(0, 0, self.columnWidth(column) - 2 * CELL, 10 * line)
            text = item.text() if item is not None else ""
            tall = self.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, text).height()
            lines = max(lines, min(-(-tall // line), MOST_LINES))
        return lines * line + PAD

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()


def column_widths(room: int, shares: Mapping[int, int], least: Mapping[int, int]) -> dict[int, int]:
    """Widths of columns: none less than its heading takes, the others by their shares of what is left."""
    widths, waiting = dict[int, int](), dict(shares)
    while waiting:
        whole = sum(waiting.values())
        short = [column for column, share in waiting.items() if room * share // whole < least[column]]
        for column in short or list(waiting):
            widths[column] = least[column] if short else room * waiting[column] // whole
        if not short:
            break
        room -= sum(least[column] for column in short)
        waiting = {column: share for column, share in waiting.items() if column not in short}
    return widths


class _HeadingRow(QWidget):
    """A heading with its buttons at its end, or under it where there is no room for both in a row."""

    def __init__(self, words: Label, buttons: tuple[QWidget, ...]) -> None:
        super().__init__()
        self._words, self._buttons = words, QWidget()
        row = QHBoxLayout(self._buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(PAD)
        for button in buttons:
            row.addWidget(button)
        self._order = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._order.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self._order.setSpacing(PAD // 2)
        self._order.addWidget(words, 1)
        self._order.addWidget(self._buttons, 0, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def fit(self) -> None:
        """Put the buttons where the words leave them room."""
        room = self.width() - self._buttons.sizeHint().width() - 3 * PAD
        metrics = self._words.fontMetrics()
        wrapped = metrics.boundingRect(
            QRect(0, 0, max(room, 1), 0), Qt.TextFlag.TextWordWrap, self._words.text()
        )
        beside = wrapped.height() <= BESIDE * metrics.lineSpacing() and wrapped.width() <= room
        way = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if way is not self._order.direction():
            self._order.setDirection(way)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()


class _WordsBelow(QScrollArea):
    """Words under a table: as tall as they are where the table keeps room, else scrolled."""

    def __init__(self, words: Label, table: WrappedTable) -> None:
        super().__init__()
        self._words, self._table = words, table
        self.setWidget(words)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setAutoFillBackground(False)
        words.setAutoFillBackground(False)

    def fit(self, width: int, room: int) -> None:
        """Take as much height as the words need at that width, a line at least.

        room: the height that there is for the table and the words.
        """
        line = self._table.fontMetrics().lineSpacing()
        kept = self._table.horizontalHeader().height() + LEAST_ROWS * line + 2 * PAD
        lines = max((room - kept - PAD // 2) // line, 1)  # whole ones: half a line cannot be read
        wanted = max(self._words.heightForWidth(width), 0)
        most = wanted if wanted <= max(room - kept, line + PAD) else PAD // 2 + lines * line
        policy = Qt.ScrollBarPolicy
        self.setVerticalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if wanted <= most else policy.ScrollBarAlwaysOn
        )  # left to itself a bar takes so much width that it stays needed
        self.setFixedHeight(min(wanted, most))


class _TableWithWords(QWidget):
    """The heading, the table and the words under it."""

    def __init__(self, head: _HeadingRow, table: WrappedTable, under: _WordsBelow) -> None:
        super().__init__()
        self._head, self._under = head, under
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(head)
        column.addWidget(table, 1)
        column.addWidget(under)
        self.setAutoFillBackground(True)
        self.setBackgroundRole(table.viewport().backgroundRole())

    def fit(self) -> None:
        """Share the height out between the table and the words."""
        self._under.fit(self.width(), self.height() - self._head.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()


class TableWithPane(QSplitter):
    """A heading with its buttons, the table, a line under it, and what stands beside them.

    It asks for what it shows only while it is seen.
    """

    def __init__(
        self, name: str, table: WrappedTable, ask: Callable[[], None], parent: QWidget | None = None
    ) -> None:
        """ask: has what it shows worked out, off the hand's thread."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.table, self._ask = table, ask
        self.heading, self.below = Label(), Label()
        self.setAccessibleName(name)
        self.setFocusProxy(table)

    def _lay_out(self, side: QWidget, *buttons: QWidget) -> None:
        """Put the parts in their places; `buttons` stand at the end of the heading."""
        for label in (self.heading, self.below):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.below.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self._under = _WordsBelow(self.below, self.table)
        self._under.hide()
        self._head = _HeadingRow(self.heading, buttons)
        self._column = _TableWithWords(self._head, self.table, self._under)
        self.addWidget(self._column)
        self.addWidget(side)
        self.setStretchFactor(0, 3)
        self.setStretchFactor(1, 2)
        self.setChildrenCollapsible(False)
        self.setHandleWidth(5)

    def show_heading(self, text: str, *, stop: bool) -> None:
        """Say what all of it comes to."""
        _write(self.heading, text, stop=stop)
        self._head.fit()

    def show_below(self, text: str, *, stop: bool = False) -> None:
        """Say what stands under the table; nothing is there for ""."""
        _write(self.below, text, stop=stop)
        self._under.setVisible(bool(text))
        self._column.fit()

    def begin_at_top(self) -> None:
        """Show the first row, and the first line of the words under the table."""
        self.table.scrollToTop()
        self._under.verticalScrollBar().setValue(0)

    def refresh(self) -> None:
        """Show what is at hand."""
        raise NotImplementedError

    def _changed(self) -> None:
        if self.isVisible():
            self._ask()
            self.refresh()

    def _answered(self) -> None:
        if self.isVisible():
            self.refresh()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self.isVisible():
            self.refresh()  # its words and rows have colours of their own

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._ask()
        self.refresh()


def _write(label: Label, text: str, *, stop: bool) -> None:
    theme, palette = theme_of(label.palette()), QPalette(label.palette())
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text):  # on a base ground it is Text
        palette.setColor(role, theme.stop if stop else theme.ink)
    label.setPalette(palette)
    label.setText(typographic(text))
