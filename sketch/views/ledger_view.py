"""The ledger as a table: the accessible twin of the drawing, linked to it row by row."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QVBoxLayout, QWidget

from sketch.look.appearance import theme_of
from sketch.look.colours import Theme, blend
from sketch.look.focus_frame import FocusFrame
from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.model.pace import pace
from sketch.views import ledger_rows
from sketch.views.ledger_model import Index, LedgerModel
from sketch.views.ledger_painting import CHIP, GAP, INDENT, LedgerDelegate, LedgerHeader
from sketch.views.ledger_rows import COLUMNS, ELEMENT, PART, SHARE, LedgerRow, LedgerRows, Role
from solver.ledger.solve import Solution

MOST_SPARE = 48  # logical pixels a column may have over what it needs


class LedgerTable(QTableView):
    """Some of the ledger's rows; pointing at one points at its element everywhere, and back."""

    resized = Signal()  # the room has changed, by the window or a scroll bar, or the rows that are shown

    def __init__(self, document: Document, ledger: LedgerModel) -> None:
        super().__init__()
        self._document = document
        self.folded = True
        self._pointing = False
        self.theme: Theme = theme_of(self.palette())
        self.bold = QFont(self.font())
        self.bold.setBold(True)
        self._measure()
        self.ledger = ledger
        self.setModel(ledger)
        self.setHorizontalHeader(LedgerHeader(self, self))
        self.setItemDelegate(LedgerDelegate(self, self))
        self._arrange()
        document.pointed.connect(self._show_pointed)
        document.selected.connect(self._repaint)
        self.entered.connect(self._point)
        self.clicked.connect(self._clicked)
        self.activated.connect(self._clicked)
        self.selectionModel().currentRowChanged.connect(self._current_changed)

    def _arrange(self) -> None:
        self.setMouseTracking(True)
        self.setShowGrid(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(12)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 4)

    @property
    def current_ground(self) -> QColor:
        """Behind the row that the keys are on, where it has no tint."""
        return blend(self.theme.accent, self.theme.paper, 0.06)

    def ground(self, row: LedgerRow) -> QColor | None:
        """The tint behind a row: what is pointed at, what is selected, or none."""
        base = self.theme.paper
        if row.key and row.key == self._document.pointed_key:
            return blend(self.theme.halo, base, 0.22)
        if row.role == Role.ENTRY and row.part == self._document.selected_part:
            return blend(self.theme.accent, base, 0.10)
        return None

    def ink(self, row: LedgerRow) -> QColor:
        """The colour a row is written in."""
        if row.role in (Role.LINE, Role.PARALLEL):
            return self.theme.quiet
        return self.theme.stop if row.over else self.theme.ink

    def fraction_width(self, column: int) -> float:
        """Room kept right of the decimal point, so that the points of a column stand in line."""
        return self._fractions[column]

    def _measure(self) -> None:
        """Take the widths that hang on the font once, not at every cell."""
        metrics = QFontMetricsF(self.font())
        tails = ("." + "0" * each.decimals if each.decimals else "" for each in COLUMNS)
        self._fractions = tuple(metrics.horizontalAdvance(tail) for tail in tails)

    def show_only(self, roles: Collection[str]) -> None:
        """Hide every row of another role."""
        for at, row in enumerate(self.ledger.rows):
            self.setRowHidden(at, row.role not in roles)

    def fold(self, folded: bool) -> None:
        """Hide or show how the budget came about."""
        self.folded = folded
        self.show_only(
            (Role.FOLD, Role.ENTRY, Role.PARALLEL)
            if folded
            else (Role.FOLD, Role.LINE, Role.ENTRY, Role.PARALLEL)
        )
        self.resized.emit()
        self.viewport().update()

    def dataChanged(self, topLeft: Index, bottomRight: Index, roles: Sequence[int] = (), /) -> None:
        """Repaint the cells in sight that look other than before, and no more: the rows change at every move
        of a drag, most of them by less than what is shown."""
        for row in self._rows_in_sight():
            for column in self.ledger.changed(row):
                cell = self.ledger.cell(row, column)
                super().dataChanged(cell, cell, list(roles))

    def _rows_in_sight(self) -> Iterator[int]:
        first, last = self.rowAt(0), self.rowAt(self.viewport().height() - 1)
        last = last if last >= 0 else len(self.ledger.rows) - 1
        return (row for row in range(max(first, 0), last + 1) if not self.isRowHidden(row))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.theme = theme_of(self.palette())
        elif event.type() == QEvent.Type.FontChange:
            self._measure()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.resized.emit()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._document.point("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        at = self.currentIndex().row()
        folding = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Left, Qt.Key.Key_Right)
        if at >= 0 and self.ledger.rows[at].role == Role.FOLD and event.key() in folding:
            self.fold(event.key() == Qt.Key.Key_Left or not self.folded)
            return
        super().keyPressEvent(event)

    def _point(self, index: QModelIndex) -> None:
        """Point at a row's entry. The table does not scroll under the pointer that does it, and Qt's word
        that another row has come under a resting pointer while the table scrolls is no pointing."""
        if self._pointing:
            return
        self._pointing = True
        self._document.point(self.ledger.rows[index.row()].key)
        self._pointing = False

    def _current_changed(self, current: QModelIndex) -> None:
        if current.isValid() and self.hasFocus():
            self._point(current)

    def _clicked(self, index: QModelIndex) -> None:
        row = self.ledger.rows[index.row()]
        if row.role == Role.FOLD:
            self.fold(not self.folded)
        elif row.role == Role.ENTRY:
            self._document.select(row.part)

    def _show_pointed(self, key: str) -> None:
        row = self.ledger.row_of(key) if self.isVisible() else -1
        if row >= 0 and not self.isRowHidden(row) and not self._pointing:
            self._pointing = True
            self.scrollTo(self.ledger.index(row, ELEMENT))
            self._pointing = False
        self._repaint()

    def _repaint(self) -> None:
        self.viewport().update()


class LedgerView(QWidget):
    """The ledger with its sums below, which stay in sight however long the line is."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._stale = True
        self._narrowest = [0] * len(COLUMNS)  # width of each column that shows all of it
        self.ledger, self._totals = LedgerModel(self), LedgerModel(self)
        self.table = LedgerTable(document, self.ledger)
        self.sums = LedgerTable(document, self._totals)
        self.stops, self.reads = Label(), Label()  # of what gauges have read: what says stop, and the rest
        self._reads_shown: object = None
        self._gauger = gauger(document)
        self._arrange()
        document.changed.connect(self._mark_stale)
        pace(document).changed.connect(self._refresh_seen)
        document.changed.connect(self._show_reads)
        document.opened.connect(self._begin_at_top)
        self._gauger.changed.connect(self._show_reads)

    def _begin_at_top(self) -> None:
        """Show another drawing from its first row, wherever the last one was left."""
        self.table.setCurrentIndex(QModelIndex())
        self.table.scrollToTop()
        self.table.horizontalScrollBar().setValue(0)

    def _show_reads(self) -> None:
        """Say under the sums what gauges have read; nothing while that is not of this drawing."""
        marks, system = self._gauger.marks, self._document.system
        shown = marks, system
        if shown == self._reads_shown:
            return  # at every move of a drag
        self._reads_shown = shown
        theme = theme_of(self.palette())
        for label, over, colour in ((self.stops, True, theme.stop), (self.reads, False, theme.quiet)):
            texts = [mark.text(system) for mark in marks if mark.over is over]
            palette = QPalette(label.palette())
            palette.setColor(QPalette.ColorRole.WindowText, colour)
            label.setPalette(palette)
            label.setText(typographic("\n".join(texts)))
            label.setVisible(bool(texts))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_gauger"):  # not while Qt sets it up
            self._reads_shown = None
            self._show_reads()

    def _arrange(self) -> None:
        for label in (self.stops, self.reads):
            label.setContentsMargins(GAP, GAP // 2, GAP, GAP // 2)
            label.setWordWrap(True)
            label.hide()
        self.table.setAccessibleName("Ledger")
        self.table.setAccessibleDescription(
            "What each element takes from the inlet budget, in the order of flow"
        )
        self.sums.setAccessibleName("Sums of the ledger")
        self.sums.horizontalHeader().hide()
        off = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.sums.setVerticalScrollBarPolicy(off)
        self.sums.setHorizontalScrollBarPolicy(off)
        self.table.horizontalScrollBar().valueChanged.connect(self.sums.horizontalScrollBar().setValue)
        self.table.resized.connect(self._share_out)
        self.table.resized.connect(self._show_whole_rows)
        self.table.horizontalHeader().sectionResized.connect(
            lambda column, _, width: self.sums.setColumnWidth(column, width)
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table, 1)
        column.addWidget(self.sums)
        column.addWidget(self.stops)
        column.addWidget(self.reads)
        self.setFocusProxy(self.table)
        for table in (self.table, self.sums):
            FocusFrame(table)

    @property
    def folded(self) -> bool:
        """Whether the lines that make the budget are hidden."""
        return self.table.folded

    def fold(self, folded: bool) -> None:
        """Hide or show how the budget came about."""
        self.table.fold(folded)

    def refresh(self) -> None:
        """Take the figures from the document, now or when the table is next seen."""
        document = self._document
        if document.solution is None or document.pump not in document.solution.pumps:
            return
        self._stale = False
        for table in (self.table, self.sums):
            table.setColumnHidden(SHARE, not document.solution.pumps[document.pump].budget > 0)
        rows = self._rows_of(document.solution, document.pump)
        others = self._totals.show(rows, document.system)
        if self.ledger.show(rows, document.system) or others:
            self._fit_columns()
            self.table.fold(self.table.folded)
            self.sums.show_only((Role.SUM,))
            self._show_whole_rows()

    def _rows_of(self, solution: Solution, pump: str) -> LedgerRows:
        """The rows of a pump; those of the sums, which follow every frame of a drag, where they are of it."""
        shown = self._totals.rows
        if isinstance(shown, LedgerRows) and shown.are_of(solution, pump):
            return shown
        return ledger_rows.rows(solution, pump)

    def _show_whole_rows(self) -> None:
        """Have the entries end with a whole row where not all are seen; the rest is left to the sums."""
        row = self.table.verticalHeader().defaultSectionSize()
        sums = sum(each.role == Role.SUM for each in self.ledger.rows) * row + 2
        around = self.table.height() - self.table.viewport().height()
        below = sum(label.height() for label in (self.stops, self.reads) if not label.isHidden())
        high = self.height() - sums - around - below
        shown = sum(not self.table.isRowHidden(at) for at in range(len(self.ledger.rows)))
        spare = high % row if shown * row > high > 0 else 0
        self.sums.setFixedHeight(sums + spare)

    def _mark_stale(self) -> None:
        self._stale = True
        if self.isVisible():
            self._refresh_sums()

    def _refresh_seen(self) -> None:
        self._stale = True  # the pace may hear of a change before this view does
        if self.isVisible():
            self.refresh()

    def _refresh_sums(self) -> None:
        """Keep the sums with every frame of a drag; the entries have a pace of their own."""
        document, ledger = self._document, self._document.ledger
        if document.solution is None or ledger is None:
            return
        rows = self._rows_of(document.solution, document.pump)
        share_hidden = self.sums.isColumnHidden(SHARE)
        if self._totals.show(rows, document.system) or share_hidden is (ledger.budget > 0):
            self.refresh()

    def _fit_columns(self) -> None:
        metrics, bold = QFontMetricsF(self.font()), QFontMetricsF(self.table.bold)
        for column in range(len(COLUMNS)):
            texts = [self.ledger.text(row, column) for row in range(len(self.ledger.rows))]
            widest = max((bold.horizontalAdvance(text) for text in texts), default=0.0)
            heading = ledger_rows.heading(column, self._document.system).split("\n")
            wide = max(widest, *(metrics.horizontalAdvance(line) for line in heading))
            if column > PART:
                least = metrics.horizontalAdvance("−000") + self.table.fraction_width(column)
                wide = max(wide, least)
            extra = INDENT if column == ELEMENT else CHIP + GAP if column == SHARE else 0
            self._narrowest[column] = round(min(wide, 320) + extra + 2 * GAP)
        self._share_out()

    def _share_out(self) -> None:
        """Let the columns breathe where the window is wide, but never so far apart that a row is hard to
        follow across."""
        spare = (self.table.viewport().width() - sum(self._narrowest)) // len(COLUMNS)
        for column, narrow in enumerate(self._narrowest):
            self.table.setColumnWidth(column, narrow + min(max(spare, 0), MOST_SPARE))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self.refresh()
