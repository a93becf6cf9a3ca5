"""The drawing and its alternatives side by side; a click shows one, keys and a menu change their list."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QModelIndex, QRect, Qt
from PySide6.QtGui import QAction, QBrush, QFont, QFontMetrics, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidgetItem, QWidget

from sketch.look.appearance import theme_of
from sketch.look.keys import keep_own_key
from sketch.look.words import NO_BREAK, tooltip, typographic
from sketch.model import alternatives
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import State
from sketch.views import comparison
from sketch.views.comparison import ComparedAlternative
from sketch.views.refusal import MARK, mark_icon
from sketch.views.table_style import IdleRefreshTable
from sketch.views.table_with_pane import column_widths
from solver.quantities import units
from solver.quantities.units import Kind, System

AS_BEFORE = "As drawn before"
"""Under which the drawing is kept that a promoted alternative takes the place of."""

NAME, CASE, LIFT, LOSS, MARGIN, CHANGE, VERDICT, FINDINGS, DIFFERS, NOTE = range(10)
HEADINGS = (
    "Alternative", "Case", "Lift", "Loss", "Margin", "Buys", "Verdict", "Findings", "What differs",
    "Note",
)  # fmt: skip
TIPS = (
    "The drawing itself, and what is laid over it; a click shows one",
    "The case that decides, which is the one that leaves least: the figures of this row are of it",
    "Pressure taken by raising the fluid, or given back by letting it fall, in the case that decides",
    "Pressure taken by friction, fittings and screens, in the case that decides",
    "What is left of the inlet budget in the case that decides",
    "How much more or less is left than in the drawing itself, each in the case that decides there",
    "Whether the pump's inlet is within what its maker allows here",
    "What to look at before this line is built",
    "What it changes in the drawing",
    "The note kept with it in the file",
)
PUMP_AND_CASE = "Pump, case"
PUMP_TIP = "The pump and the case that decide, which leave least: the figures of this row are of them"
WIDEST = (240, 150)  # of the names, where sentences have room beside them, and where not
ROOMY = 1.4  # times what sentences need at the least
MOST_LINES = (3, 2)  # of what it changes and of its note, where rows have no room; a verdict is never cut
PAD = 14  # beside a text in its cell
SHARED = {VERDICT: 11, DIFFERS: 10, NOTE: 9}
"""Columns of sentences, and their parts of the width that is left."""
WIDER = (11, 15, 20)
"""Parts of a verdict, which is never cut: more where rows have no room."""
WHOLE = (
    SHARED,
    {VERDICT: 7, DIFFERS: 14, NOTE: 9},
    {VERDICT: 7, DIFFERS: 18, NOTE: 7},
    {VERDICT: 7, DIFFERS: 9, NOTE: 14},
)
"""Parts that are tried where a row is to be shown whole and not all of them have room."""
LEAST = {VERDICT: 140, DIFFERS: 125, NOTE: 110}
"""What each of them is never narrower than: a narrow window scrolls sideways."""
TYPED = (NAME, NOTE)  # columns that can be typed into
FIGURES = (LIFT, LOSS, MARGIN, CHANGE)


class AlternativesView(IdleRefreshTable):
    """One row an alternative; worked out once the drawing has come to rest, and only while it is seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, "Alternatives", len(HEADINGS), parent)
        self._rows: tuple[ComparedAlternative, ...] = ()
        self._arrange()
        self._kept_row = (
            BASE  # the alternative that the next refresh makes current, after a change of the list
        )
        self._filling = False
        self._make_actions()
        self.clicked.connect(self._choose)
        self.activated.connect(self._choose)
        self.itemChanged.connect(self._typed)
        document.opened.connect(self._begin_at_top)

    def _begin_at_top(self) -> None:
        """Show another drawing from its first row and column, wherever the last one was left."""
        self.scrollToTop()
        self.horizontalScrollBar().setValue(0)

    def _arrange(self) -> None:
        self.setAccessibleDescription("The drawing and its alternatives side by side")
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)  # rows may be tall
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def refresh(self) -> None:
        """Take the figures from the document, now or when the table is next seen."""
        if self.state() == QAbstractItemView.State.EditingState:
            self.idle_refresh.wait()  # under the hand that types
            return
        self.idle_refresh.stale, self._filling = False, True
        kept_row = self._kept_row or self._current()  # a click shows it, and the rows are filled again
        before = {row.name for row in self._rows}
        self._rows = comparison.rows(self._document)
        self._head()
        self.setRowCount(len(self._rows))
        for at, row in enumerate(self._rows):
            for column, text in enumerate(_texts(row, self._document.system)):
                self.setItem(at, column, self._item(row, column, text))
        names = [row.name for row in self._rows]
        kept = names.index(kept_row) if kept_row in names[1:] else -1
        self.setCurrentCell(kept, NAME if kept >= 0 else -1)
        self._kept_row, self._filling = BASE, False
        self.offer()
        self._fit()
        shown = self._document.alternative
        if before and shown in names and shown not in before:
            self.updateGeometries()  # the rows have other heights by now
            self.scrollTo(self.model().index(names.index(shown), NAME))  # one that was just made

    def _fit(self) -> None:
        """Give figures the width they need and sentences what is left, on as many lines as that takes."""
        header = self.horizontalHeader()
        for widest in WIDEST:
            widths = self._widths(widest)
            left = self.viewport().width() - sum(widths.values())
            if left >= ROOMY * sum(LEAST.values()):
                break
        for column, width in widths.items():
            header.resizeSection(column, width)
        for verdict in WIDER:
            self._share_out(left, {**SHARED, VERDICT: verdict})
            if self._set_heights():
                return
        if self.currentRow() >= 0:  # to be shown whole: as low as it can be, and alike for every row
            self._share_out(left, min(WHOLE, key=lambda shares: self._tallest(left, shares)))
            self._set_heights()

    def _share_out(self, room: int, shares: Mapping[int, int]) -> None:
        for column, width in column_widths(room, shares, LEAST).items():
            self.horizontalHeader().resizeSection(column, width)

    def _tallest(self, room: int, shares: Mapping[int, int]) -> int:
        """The height of the tallest row, all of it shown, with its sentences in these shares of a room."""
        self._share_out(room, shares)
        return max(map(self._height, range(self.rowCount())), default=0)

    def _widths(self, widest: int) -> dict[int, int]:
        """What each column needs that is no sentence, names up to the widest."""
        widths = {}
        for column in (column for column in range(len(HEADINGS)) if column not in SHARED):
            wanted = self._width_of_findings() if column == FINDINGS else self.sizeHintForColumn(column)
            wanted = min(wanted, widest) if column in (NAME, CASE) else wanted
            widths[column] = max(wanted, self.horizontalHeader().sectionSizeHint(column))
        return widths

    def _width_of_findings(self) -> int:
        """What the counts of every row need on two lines."""
        widths = [0]
        for item in (self.item(row, FINDINGS) for row in range(self.rowCount())):
            counts = item.text().split(", ") if item is not None else []
            half = -(-len(counts) // 2)
            lines = (", ".join(counts[:half]) + ",", ", ".join(counts[half:]))
            widths += [self._metrics(item).horizontalAdvance(line) + 2 * PAD for line in lines]
        return max(widths)

    def _metrics(self, item: QTableWidgetItem | None) -> QFontMetrics:
        """Measures the letters of a cell, which are bold in the row that is shown."""
        own = item is not None and item.data(Qt.ItemDataRole.FontRole)
        return QFontMetrics(item.font()) if item is not None and own else self.fontMetrics()

    def _set_heights(self) -> bool:
        """Show every sentence whole where all rows then have room, else as many of the first as have.

        Where not even the rows have, each but the current one takes fewer lines: what a row cuts is read
        by going there. Returns whether all rows have room.
        """
        whole = self.currentRow()
        for most in MOST_LINES:
            least = [self._height(row, *(() if row == whole else (most,))) for row in range(self.rowCount())]
            left = self.viewport().height() - sum(least)
            if left >= 0:
                break
        for row, height in enumerate(least):
            more = min(max(self._height(row) - height, 0), max(left, 0))
            self.setRowHeight(row, height + more)
            left -= more
        return left >= 0

    def _show_current(self) -> None:
        """Show the row that keys or a click have come to whole."""
        if not self._filling:
            self._fit()
            self.updateGeometries()
            self.scrollTo(self.currentIndex())

    def _height(self, row: int, most: int = 99) -> int:
        """The height of a row, for all lines of its longest text; only what differs and the note are cut."""
        line, lines = self.fontMetrics().lineSpacing(), 1
        for column in (*SHARED, FINDINGS, NAME, CASE):
            if (item := self.item(row, column)) is not None:
                mark = MARK if column == NAME else 0
                room = QRect(0, 0, self.columnWidth(column) - 2 * PAD - mark, 99 * line)
                tall = self._metrics(item).boundingRect(room, Qt.TextFlag.TextWordWrap, item.text()).height()
                needed = -(-tall // line)
                lines = max(lines, min(needed, most) if column in (DIFFERS, NOTE) else needed)
        return lines * line + 8

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
        if self.currentRow() >= 0:  # a scroll bar that comes makes a row that is whole higher
            self.updateGeometries()
            self.scrollTo(self.currentIndex())

    def _head(self) -> None:
        unit = units.unit(Kind.VACUUM, self._document.system)
        for column, heading in enumerate(HEADINGS):
            named = column == CASE and comparison.names_pumps(self._document)
            text = f"{heading}, {unit}" if column in FIGURES else PUMP_AND_CASE if named else heading
            item = QTableWidgetItem(text)
            item.setToolTip(PUMP_TIP if named else TIPS[column])
            if column in FIGURES:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.setHorizontalHeaderItem(column, item)

    def _item(self, row: ComparedAlternative, column: int, text: str) -> QTableWidgetItem:
        item, theme = QTableWidgetItem(text), theme_of(self.palette())
        if column not in TYPED or row.name == BASE or not row.holds:
            item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
        if (column in SHARED or column in (NAME, CASE)) and text:
            item.setToolTip(tooltip(row.headline if column == VERDICT else text))
        if column in FIGURES:
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        if column == NAME:
            item.setIcon(mark_icon(row.mark, self.palette(), self.devicePixelRatioF()))
        if column == MARGIN and row.within is False:
            item.setForeground(QBrush(theme.stop))
        if row.name == self._document.alternative:
            bold = QFont(self.font())
            bold.setBold(True)
            item.setFont(bold)
        return item

    def _make_actions(self) -> None:
        """What can be done with the alternative of the current row, by key and in the menu of the table."""
        self._acts: list[tuple[QAction, Callable[[], object]]] = []
        for text, keys, act in (
            ("&Rename", "F2", lambda: self._edit(NAME)),
            ("&Note", "Shift+F2", lambda: self._edit(NOTE)),
            ("Move &up", "Alt+Up", lambda: self._move(-1)),
            ("Move &down", "Alt+Down", lambda: self._move(1)),
            ("Make it the &drawing itself", "Alt+Return", self._promote),
            ("&Leave out the figures that are not valid", "Alt+M", self._mend),
            ("&Delete it, as it is not valid", "Alt+Del", self._drop),
        ):
            action = QAction(text, self)
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            action.triggered.connect(act)
            self.addAction(action)
            self._acts.append((action, act))
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self.currentCellChanged.connect(self.offer)
        self.currentCellChanged.connect(self._show_current)
        self.offer()

    def offer(self) -> None:
        """Enable what can be done with the alternative of the current row."""
        of_broken = (self._mend, self._drop)
        for action, act in self._acts:
            action.setEnabled(bool(self._broken() if act in of_broken else self._current()))

    def event(self, event: QEvent) -> bool:
        # F2 and Shift+F2 are the window's keys for a part and a case: here they are the table's.
        return keep_own_key(event, self._own) or super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if action := self._own(event):
            action.trigger()
        else:
            super().keyPressEvent(event)

    def _own(self, event: QKeyEvent) -> QAction | None:
        """What the table's own menu has for that key."""
        pressed = QKeySequence(event.keyCombination())
        return next((action for action in self.actions() if action.shortcut() == pressed), None)

    def _current(self) -> str:
        """The alternative of the current row; `BASE` for none that holds, and for the drawing itself."""
        at = self.currentRow()
        holds = 0 <= at < len(self._rows) and self._rows[at].holds and self._is_there(self._rows[at].name)
        return self._rows[at].name if holds else BASE

    def _edit(self, column: int) -> None:
        item, typing = self.item(self.currentRow(), column), self.state() == self.State.EditingState
        if self._current() != BASE and item is not None and not typing:
            self.editItem(item)

    def _move(self, step: int) -> None:
        if name := self._current():
            self._change(
                f"Move the alternative {name}", name, lambda state: alternatives.moved(state, name, step)
            )

    def _promote(self) -> None:
        if name := self._current():
            called = alternatives.free_name(State(self._document.drawing, BASE), AS_BEFORE)
            label = f"Make {name} the drawing itself"
            self._change(label, BASE, lambda state: alternatives.promoted(state, name, called))

    def _mend(self) -> None:
        if name := self._broken():
            self._change(f"Mend the alternative {name}", name, lambda state: alternatives.mended(state, name))

    def _drop(self) -> None:
        if name := self._broken():
            label = f"Delete the alternative {name}"
            self._change(label, BASE, lambda state: alternatives.dropped(state, name))

    def _broken(self) -> str:
        """The alternative of the current row where it does not hold; "" where it does."""
        at = self.currentRow()
        broken = 0 <= at < len(self._rows) and not self._rows[at].holds
        return self._rows[at].name if broken and self._is_there(self._rows[at].name) else ""

    def _typed(self, item: QTableWidgetItem) -> None:
        """Take a name or a note that was typed; a name that is refused comes back, and why is said."""
        if self._filling or item.column() not in TYPED:
            return
        name, text = self._rows[item.row()].name, item.text()
        if not self._is_there(name):
            self.idle_refresh.mark_stale()
        elif item.column() == NOTE:
            self._change(f"Note on {name}", name, lambda state: alternatives.with_note(state, name, text))
        elif text.strip() != name:
            label = f"Rename the alternative {name}"
            self._change(label, text.strip(), lambda state: alternatives.renamed(state, name, text))

    def _change(self, label: str, current: str, change: Callable[[State], State]) -> None:
        self._kept_row = current
        try:
            self._document.change_alternatives(label, change)
        except ValueError as error:
            self._document.refused.emit(f"{label}: {error}")
            self.idle_refresh.mark_stale()  # what stands in the file stands in the table again

    def _choose(self, index: QModelIndex) -> None:
        row = self._rows[index.row()]
        if not self._is_there(row.name):
            self.idle_refresh.mark_stale()
        elif row.holds:
            self._document.show_alternative(row.name)
        else:
            self._document.refused.emit(f"{row.name} cannot be shown. {row.headline}")

    def _is_there(self, name: str) -> bool:
        """Whether the drawing has it still: an undo may have taken it since the rows were filled."""
        drawing = self._document.drawing
        return name == BASE or name in drawing.alternatives or name in drawing.broken


def _texts(row: ComparedAlternative, system: System) -> tuple[str, ...]:
    """What the cells of a row show."""

    def pressure(value: float | None) -> str:
        return "" if value is None else units.fixed(value, Kind.VACUUM, system)

    change = pressure(row.change)
    signed = f"+{change}" if row.change is not None and row.change > 0 else change
    signed += f" ({row.change_of})" if change and row.change_of else ""
    return (
        row.title,
        row.place,
        *row.shown,
        pressure(row.margin),
        signed,
        typographic(row.short_headline),
        ", ".join(count.replace(" ", NO_BREAK) for count in row.findings.split(", ")),
        typographic(row.differs),
        row.note,
    )
