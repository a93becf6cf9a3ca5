"""Every case by pump and by alternative, and beside it the figures of the case in view."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QBrush, QFont
from PySide6.QtWidgets import (
    QHeaderView,
    QSplitter,
    QTableWidgetItem,
    QWidget,
)

from sketch.look.appearance import theme_of
from sketch.look.colours import blend
from sketch.look.marks import NOT_JUDGED, severity_colour
from sketch.look.words import tooltip
from sketch.model.document import Document
from sketch.views import case_table
from sketch.views.case_card import CaseCard
from sketch.views.case_table import CaseCell, CaseColumn, CaseRow
from sketch.views.refusal import mark_icon
from sketch.views.table_style import IdleRefreshTable
from solver.findings.kinds import Grade
from solver.quantities import units
from solver.quantities.units import Kind

TINT = 0.14  # of a mark's colour over the ground of its cell
CASE = 0


class CasesTable(IdleRefreshTable):
    """One row a case, the worst first; worked out once the drawing has come to rest, and only while seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, "Cases", parent=parent)
        self._columns: tuple[CaseColumn, ...] = ()
        self._rows: tuple[CaseRow, ...] = ()
        self._arrange()
        self.clicked.connect(self.choose)
        self.activated.connect(self.choose)

    def _arrange(self) -> None:
        self.setAccessibleDescription("The margin of every pump and alternative in every case")
        self.horizontalHeader().setMinimumSectionSize(1)

    @property
    def rows(self) -> tuple[CaseRow, ...]:
        """What is listed."""
        return self._rows

    def refresh(self) -> None:
        """Take the figures from the document, now or when the table is next seen."""
        self.idle_refresh.stale = False
        self._columns = case_table.columns(self._document)
        self._rows = case_table.rows(self._document, self._columns)
        last = 1 + len(self._columns)
        self.setColumnCount(last + 1)
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        # The last one has the room that is left, and none where none is: else the table would scroll for it.
        header.setSectionResizeMode(last, QHeaderView.ResizeMode.Stretch)
        self.setRowCount(len(self._rows))
        self.clearContents()  # the empty last column may have held another drawing's figures
        self._head()
        self.setCurrentCell(-1, -1)
        for at, row in enumerate(self._rows):
            self.setItem(at, CASE, self._name(row))
            for column, cell in enumerate(row.cells, CASE + 1):
                self.setItem(at, column, self._figure(row, self._columns[column - 1], cell))

    def _head(self) -> None:
        unit = units.unit(Kind.VACUUM, self._document.system)
        titles = [f"Margin, {unit}", *(each.title for each in self._columns), ""]
        tips = ["What happens to the line, the worst first; a click shows that ledger"]
        tips += [
            f"Margin of {each.pump}, {unit}" if each.pump else f"Margin of the worst pump, {unit}"
            for each in self._columns
        ]
        for column, (title, text) in enumerate(zip(titles, [*tips, ""], strict=True)):
            item = QTableWidgetItem(title)
            item.setToolTip(tooltip(text))
            side = Qt.AlignmentFlag.AlignLeft if column == CASE else Qt.AlignmentFlag.AlignRight
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.setHorizontalHeaderItem(column, item)

    def _name(self, row: CaseRow) -> QTableWidgetItem:
        item = QTableWidgetItem(row.case)
        pump_state = case_table.pump_state_of(self._document.outcome.judgement, row.case)
        item.setIcon(mark_icon(case_table.mark_of(pump_state), self.palette(), self.devicePixelRatioF()))
        item.setToolTip(tooltip(row.note))
        if row.case == self._document.case:
            item.setFont(self._bold())
        return item

    def _figure(self, row: CaseRow, column: CaseColumn, cell: CaseCell) -> QTableWidgetItem:
        item, theme = QTableWidgetItem(cell.text), theme_of(self.palette())
        item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        item.setToolTip(tooltip(cell.why))
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{row.case}, {column.title}: {cell.why}")
        if cell.exists and (cell.pump_state is not None or cell.text == NOT_JUDGED):
            colour = severity_colour(case_table.mark_of(cell.pump_state), theme)
            item.setBackground(QBrush(blend(colour, theme.paper, TINT)))
            if case_table.mark_of(cell.pump_state) == Grade.STOP:
                item.setForeground(QBrush(theme.stop))
        else:
            item.setForeground(QBrush(theme.quiet))
        if row.case == self._document.case and self._in_view(column):
            item.setFont(self._bold())
        return item

    def _in_view(self, column: CaseColumn) -> bool:
        shown = self._document
        return column.alternative == shown.alternative and column.pump in ("", shown.pump)

    def _bold(self) -> QFont:
        bold = QFont(self.font())
        bold.setBold(True)
        return bold

    def choose(self, index: QModelIndex) -> None:
        """Show the ledger of that cell: its alternative, its case and its pump."""
        row, at = self._rows[index.row()], index.column() - 1
        document = self._document
        if 0 <= at < len(self._columns):
            if not row.cells[at].exists:
                return
            pump = row.cells[at].pump
            document.show_alternative(self._columns[at].alternative)
            document.set_case(row.case)
            if pump in document.layout.pumps:
                document.show_pump(pump)
        else:
            document.set_case(row.case)


class CasesView(QSplitter):
    """The table of all cases, and the card of the one in view."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.table, self.card = CasesTable(document), CaseCard(document)
        self.addWidget(self.table)
        self.addWidget(self.card)
        self.setStretchFactor(0, 3)
        self.setStretchFactor(1, 2)
        self.setSizes([3000, 2000])  # or the card's own wish would cut the last column of the table
        self.setChildrenCollapsible(False)
        self.setHandleWidth(5)
        self.setFocusProxy(self.table)
