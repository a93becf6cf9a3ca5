"""What would explain the readings of a visit: the causes with their sizes, and what to look at next."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSignalBlocker, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPalette, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSplitter,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from sketch.editing.edits import EditError
from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.words import tooltip, typographic
from sketch.model.document import Document
from sketch.model.inspector import diagnostician
from sketch.views import case_making, cause_rows
from sketch.views.cause_rows import HEADINGS, CauseRow
from sketch.views.table_style import dress
from solver.field.put_in import CannotPutInError, put_in
from solver.quantities.wording import capitalised

PAD = 8
WORKING_OUT = "Weighing every cause in every size against the readings…"
NONE_YET = "There is no reading of this pump to explain. Type one under Readings."
LIKELY, VEIL = 1, 0.3
SHARE = Qt.ItemDataRole.UserRole


class _Bar(QStyledItemDelegate):
    """Paints a share over its cell, thin enough that its text stays legible."""

    def __init__(self, table: QTableWidget) -> None:
        super().__init__(table)
        self._table = table

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        super().paint(painter, option, index)
        colour = QColor(theme_of(self._table.palette()).accent)
        colour.setAlphaF(VEIL)  # over the ground of a selected row too
        bar = QRectF(option.rect).adjusted(4, 3, -4, -3)
        bar.setWidth(bar.width() * float(index.data(SHARE) or 0.0))
        painter.fillRect(bar, colour)


class CausesView(QSplitter):
    """Works out the causes only while it is seen, off the hand's thread; old ones are taken away at once."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._document = document
        self._diagnostician = diagnostician(document)
        self.rows: tuple[CauseRow, ...] = ()
        self.heading, self.kept = Label(), Label()
        self.day = QComboBox()
        self.table = QTableWidget(0, len(HEADINGS))
        self.page = QTextBrowser()
        self.put = QPushButton("Put it into the drawing")
        self._arrange()
        document.changed.connect(self._changed)
        document.opened.connect(self._forget)
        self._diagnostician.changed.connect(self._answered)
        self.table.itemSelectionChanged.connect(self._show_page)
        self.day.activated.connect(self._choose_day)
        self.put.clicked.connect(self.put_into_drawing)

    def _arrange(self) -> None:
        self.setAccessibleName("Causes")
        self.heading.setWordWrap(True)
        self.heading.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.day.setAccessibleName("Visit whose readings are explained")
        self.day.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.put.setToolTip(
            "Keep the cause in its likeliest size as a case or an alternative, to be fixed there"
        )
        self.put.setAutoDefault(False)
        self._dress_table()
        head = QHBoxLayout()
        head.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        head.addWidget(self.heading, 1)
        head.addWidget(self.day, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.put, 0, Qt.AlignmentFlag.AlignTop)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.table, 1)
        self.kept.setWordWrap(True)
        self.kept.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self.kept.hide()
        column.addWidget(self.kept)
        left.setAutoFillBackground(True)
        left.setBackgroundRole(self.table.viewport().backgroundRole())
        self.page.setFrameShape(QFrame.Shape.NoFrame)
        self.page.setOpenLinks(False)
        self.page.document().setDocumentMargin(PAD)
        self.page.setAccessibleName("What speaks for it and against it, and what to look at next")
        self.addWidget(left)
        self.addWidget(self.page)
        self.setStretchFactor(0, 3)
        self.setStretchFactor(1, 2)
        self.setChildrenCollapsible(False)
        self.setHandleWidth(5)
        self.setFocusProxy(self.table)

    def _dress_table(self) -> None:
        table = self.table
        table.setHorizontalHeaderLabels(HEADINGS)
        dress(table, "Causes, the likeliest first")
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setItemDelegateForColumn(LIKELY, _Bar(table))
        header = table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)

    # What it shows

    def refresh(self) -> None:
        """Take the causes from the diagnostician, as far as they are at hand."""
        asked = self._diagnostician
        diagnosis = asked.diagnosis
        self._fill_days()
        self.rows = cause_rows.rows(diagnosis) if diagnosis is not None else ()
        self._fill()
        stop = diagnosis is not None and diagnosis.stop
        if diagnosis is not None:
            text = diagnosis.headline
        elif not asked.days():
            text = NONE_YET
        else:
            text = f"Not explained: {asked.trouble}." if asked.trouble else WORKING_OUT
        theme, palette = theme_of(self.palette()), QPalette(self.heading.palette())
        for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text):  # on a base ground it is Text
            palette.setColor(role, theme.stop if stop else theme.ink)
        self.heading.setPalette(palette)
        self.heading.setText(typographic(capitalised(text)))

    def _fill_days(self) -> None:
        days = list(self._diagnostician.days())
        with QSignalBlocker(self.day):
            self.day.clear()
            self.day.addItems(days)
            if self._diagnostician.day in days:
                self.day.setCurrentText(self._diagnostician.day)
        self.day.setVisible(len(days) > 1)

    def _fill(self) -> None:
        table, theme = self.table, theme_of(self.palette())
        with QSignalBlocker(table):
            table.setRowCount(len(self.rows))
            for at, row in enumerate(self.rows):
                for column, text in enumerate(row.cells):
                    item = QTableWidgetItem(typographic(text))
                    item.setToolTip(tooltip(text))
                    if column == LIKELY:
                        item.setData(SHARE, row.share)
                    if not row.possible:
                        item.setForeground(QBrush(theme.quiet))
                    table.setItem(at, column, item)
            if self.rows:
                table.selectRow(0)
        self._show_page()

    @property
    def chosen(self) -> CauseRow | None:
        """The cause that is selected."""
        at = self.table.currentRow()
        return self.rows[at] if 0 <= at < len(self.rows) else None

    def _show_page(self) -> None:
        diagnosis, row = self._diagnostician.diagnosis, self.chosen
        theme = theme_of(self.palette())
        colours = {name: getattr(theme, name).name() for name in ("ink", "quiet", "stop")}
        self.page.document().setDefaultStyleSheet(cause_rows.STYLE.format(**colours))
        self.page.setHtml(
            cause_rows.page(diagnosis, row.words if row else None) if diagnosis is not None else ""
        )
        self.put.setEnabled(row is not None and row.words.may_put_in)

    # What it does

    def put_into_drawing(self) -> None:
        """Keep the chosen cause as a case, or as an alternative where the line itself would be another."""
        document, row = self._document, self.chosen
        if row is None or self._diagnostician.diagnosis is None:
            return
        try:
            change = put_in(document.layout, row.words.explanation, document.level)
            self._show_kept(case_making.keep_cause(document, change))
        except (CannotPutInError, EditError) as error:
            self._show_kept(f"It was not put into the drawing: {error}.")

    def _forget(self) -> None:
        self._show_kept("")

    def _show_kept(self, text: str) -> None:
        self.kept.setText(typographic(text))
        self.kept.setVisible(bool(text))

    def _choose_day(self) -> None:
        self._show_kept("")
        self._diagnostician.day = self.day.currentText()
        self._changed()

    # What it follows

    def _changed(self) -> None:
        if self.isVisible():
            self._diagnostician.ask()
            self.refresh()

    def _answered(self) -> None:
        if self.isVisible():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._diagnostician.ask()
        self.refresh()
