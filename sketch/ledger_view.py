"""The ledger as a table: the accessible twin of the drawing, linked to it row by row."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPolygonF,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from sketch import ledger_rows
from sketch.appearance import blend, theme_of
from sketch.colours import Theme
from sketch.document import Document
from sketch.ledger_rows import COLUMNS, ELEMENT, ENTRY, FOLD, LINE, PART, SHARE, SUM, LedgerRow
from sketch.marks import share_chip
from solver.units import System

Index = QModelIndex | QPersistentModelIndex
GAP = 8
CHIP = 11
INDENT = 20


class LedgerModel(QAbstractTableModel):
    """One pump's rows in the display units."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[LedgerRow, ...] = ()
        self._system = System.US
        self._bold = QFont()
        self._bold.setBold(True)

    def show(self, rows: tuple[LedgerRow, ...], system: System) -> bool:
        """Show these rows. True when they are others than before, not the same ones with new figures."""
        same = [(row.role, row.key) for row in rows] == [(row.role, row.key) for row in self.rows]
        if same and system is self._system:
            self.rows = rows
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(COLUMNS) - 1))
            return False
        self.beginResetModel()
        self.rows = rows
        self._system = system
        self.endResetModel()
        return True

    def row_of(self, key: str) -> int:
        """The row of an entry; −1 for none."""
        return next((at for at, row in enumerate(self.rows) if key and row.key == key), -1)

    def text(self, row: int, column: int) -> str:
        """What a cell shows."""
        return ledger_rows.text(self.rows[row], column, self._system)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return ledger_rows.heading(section, self._system)
        if role == Qt.ItemDataRole.ToolTipRole:
            return COLUMNS[section].tip
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignLeft if section <= PART else Qt.AlignmentFlag.AlignRight
            return side | Qt.AlignmentFlag.AlignBottom
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return ledger_rows.text(row, index.column(), self._system)
        if role == Qt.ItemDataRole.ToolTipRole:
            return row.tip or None
        if role == Qt.ItemDataRole.FontRole and row.role in (SUM, FOLD):
            return self._bold
        if role == Qt.ItemDataRole.AccessibleTextRole and index.column() == ELEMENT:
            return ledger_rows.sentence(row, self._system)
        return None


class LedgerDelegate(QStyledItemDelegate):
    """Paints a cell: figures on their decimal point, the chip of the share, what is pointed at."""

    def __init__(self, view: LedgerTable) -> None:
        super().__init__(view)
        self._view = view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        view, rect = self._view, QRectF(option.rect)
        row = view.ledger.rows[index.row()]
        ground = view.ground(row)
        if ground is not None:
            painter.fillRect(rect, ground)
        if row.role == SUM and view.ledger.rows[index.row() - 1].role != SUM:
            painter.setPen(view.theme.construction)
            painter.drawLine(rect.topLeft(), rect.topRight())
        painter.setFont(view.bold if row.role in (SUM, FOLD) else view.font())
        painter.setPen(view.ink(row))
        if index.column() <= PART:
            self._words(painter, rect, row, index.column())
        else:
            self._figure(painter, rect, row, index)

    def _words(self, painter: QPainter, rect: QRectF, row: LedgerRow, column: int) -> None:
        left = rect.left() + GAP
        if column == ELEMENT:
            left += INDENT if row.role != FOLD else 0
            if row.role == FOLD:
                self._arrow(painter, QPointF(left + 4, rect.center().y()))
                left += INDENT
        else:
            painter.setPen(self._view.theme.quiet)
        box = QRectF(left, rect.top(), rect.right() - left - 2, rect.height())
        text = row.name if column == ELEMENT else row.part
        shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(box.width()))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)

    def _arrow(self, painter: QPainter, at: QPointF) -> None:
        size = 4.0
        points = [QPointF(-size, -size / 2), QPointF(size, -size / 2), QPointF(0, size * 0.75)]
        if self._view.folded:
            points = [QPointF(-size / 2, -size), QPointF(-size / 2, size), QPointF(size * 0.75, 0)]
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(self._view.theme.ink)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([at + point for point in points]))
        painter.restore()

    def _figure(self, painter: QPainter, rect: QRectF, row: LedgerRow, index: Index) -> None:
        column = index.column()
        text = self._view.ledger.text(index.row(), column)
        if not text:
            return
        whole, _, rest = text.partition(".")
        point = rect.right() - GAP - self._view.fraction_width(column)
        over = Qt.AlignmentFlag.AlignVCenter
        box = QRectF(rect.left(), rect.top(), point - rect.left(), rect.height())
        painter.drawText(box, over | Qt.AlignmentFlag.AlignRight, whole)
        if rest:
            tail = QRectF(point, rect.top(), rect.right() - point, rect.height())
            painter.drawText(tail, over | Qt.AlignmentFlag.AlignLeft, f".{rest}")
        if column == SHARE and row.role == ENTRY:
            chip = QRectF(rect.left() + GAP, rect.center().y() - CHIP / 2, CHIP, CHIP)
            share_chip(painter, chip, row.figures[SHARE], row.past, self._view.theme)


class LedgerHeader(QHeaderView):
    """Headings in line with their columns, the unit below, without the frames of a button."""

    def __init__(self, view: LedgerTable) -> None:
        super().__init__(Qt.Orientation.Horizontal, view)
        self._view = view
        self.setHighlightSections(False)
        self.setSectionsClickable(False)

    def sizeHint(self) -> QSize:
        return QSize(0, 2 * self.fontMetrics().lineSpacing() + 6)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        theme = self._view.theme
        painter.fillRect(rect, theme.paper)
        painter.setPen(theme.construction)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.setPen(theme.quiet)
        side = Qt.AlignmentFlag.AlignLeft if logicalIndex <= PART else Qt.AlignmentFlag.AlignRight
        left = GAP + (INDENT if logicalIndex == ELEMENT else 0)
        text = str(self._view.ledger.headerData(logicalIndex, Qt.Orientation.Horizontal))
        painter.drawText(rect.adjusted(left, 0, -GAP, -3), side | Qt.AlignmentFlag.AlignBottom, text)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        painter.fillRect(self.viewport().rect().adjusted(self.length(), 0, 0, 0), self._view.theme.paper)
        painter.end()


class LedgerTable(QTableView):
    """Some of the ledger's rows; pointing at one points at its element everywhere, and back."""

    def __init__(self, document: Document, ledger: LedgerModel) -> None:
        super().__init__()
        self._document = document
        self.folded = True
        self._pointing = False
        self.theme: Theme = theme_of(self.palette())
        self.bold = QFont(self.font())
        self.bold.setBold(True)
        self.ledger = ledger
        self.setModel(ledger)
        self.setHorizontalHeader(LedgerHeader(self))
        self.setItemDelegate(LedgerDelegate(self))
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

    def ground(self, row: LedgerRow) -> QColor | None:
        """The tint behind a row: what is pointed at, what is selected, or none."""
        base = self.theme.paper
        if row.key and row.key == self._document.pointed_key:
            return blend(self.theme.halo, base, 0.22)
        if row.role == ENTRY and row.part == self._document.selected_part:
            return blend(self.theme.accent, base, 0.10)
        return None

    def ink(self, row: LedgerRow) -> QColor:
        """The colour a row is written in."""
        if row.role == LINE:
            return self.theme.quiet
        return self.theme.stop if row.over else self.theme.ink

    def fraction_width(self, column: int) -> float:
        """Room kept right of the decimal point, so that the points of a column stand in line."""
        decimals = COLUMNS[column].decimals
        return QFontMetricsF(self.font()).horizontalAdvance("." + "0" * decimals) if decimals else 0.0

    def show_only(self, roles: Collection[str]) -> None:
        """Hide every row of another role."""
        for at, row in enumerate(self.ledger.rows):
            self.setRowHidden(at, row.role not in roles)

    def fold(self, folded: bool) -> None:
        """Hide or show how the budget came about."""
        self.folded = folded
        self.show_only((FOLD, ENTRY) if folded else (FOLD, LINE, ENTRY))
        self.viewport().update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.theme = theme_of(self.palette())

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._document.point("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        at = self.currentIndex().row()
        folding = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Left, Qt.Key.Key_Right)
        if at >= 0 and self.ledger.rows[at].role == FOLD and event.key() in folding:
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
        if row.role == FOLD:
            self.fold(not self.folded)
        elif row.role == ENTRY:
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
        self.ledger = LedgerModel(self)
        self.table = LedgerTable(document, self.ledger)
        self.sums = LedgerTable(document, self.ledger)
        self._arrange()
        document.changed.connect(self._mark_stale)

    def _arrange(self) -> None:
        self.table.setAccessibleName("Ledger")
        self.table.setAccessibleDescription("What each element takes from the inlet budget, in walking order")
        self.sums.setAccessibleName("Sums of the ledger")
        self.sums.horizontalHeader().hide()
        off = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.sums.setVerticalScrollBarPolicy(off)
        self.sums.setHorizontalScrollBarPolicy(off)
        self.table.horizontalScrollBar().valueChanged.connect(self.sums.horizontalScrollBar().setValue)
        self.table.horizontalHeader().sectionResized.connect(
            lambda column, _, width: self.sums.setColumnWidth(column, width)
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table, 1)
        column.addWidget(self.sums)
        self.setFocusProxy(self.table)

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
        if self.ledger.show(ledger_rows.rows(document.solution, document.pump), document.system):
            self._fit_columns()
            self.table.fold(self.table.folded)
            self.sums.show_only((SUM,))
            count = sum(row.role == SUM for row in self.ledger.rows)
            self.sums.setFixedHeight(count * self.sums.verticalHeader().defaultSectionSize() + 2)

    def _mark_stale(self) -> None:
        self._stale = True
        if self.isVisible():
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
            self.table.setColumnWidth(column, round(min(wide, 320) + extra + 3 * GAP))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self.refresh()
