"""What would explain the readings of a visit: the causes with their sizes, and what to look at next."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSignalBlocker, Qt
from PySide6.QtGui import QBrush, QColor, QPainter
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QPushButton,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QTextBrowser,
    QWidget,
)

from sketch.editing.edits import EditError
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.words import tooltip, typographic
from sketch.model.document import Document
from sketch.model.inspector import diagnostician
from sketch.views import case_making, cause_rows
from sketch.views.cause_rows import HEADINGS, CauseRow
from sketch.views.from_top import FromTop
from sketch.views.table_with_pane import PAD, TableWithPane, WrappedTable
from solver.field.put_in import CannotPutInError, put_in
from solver.quantities.wording import capitalised

WORKING_OUT = "Comparing every possible cause with the readings…"
NONE_YET = "There is no reading of this pump to explain. Type one under Readings."
OF_ANOTHER_LINE = (
    "No reading was taken on the alternative {}, which is shown: those of the drawing itself are "
    "explained where that is shown."
)
PUT_IN = "Keep the cause in its likeliest size as a case or an alternative, to be fixed there"
NAME, LIKELY, SIZE, VEIL = 0, 1, 2, 0.3
LIST_INDENT = 20  # of what speaks for and against a cause, in logical pixels
SHARES = {NAME: 5, LIKELY: 3, SIZE: 4}
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


class CausesView(TableWithPane):
    """Works out the causes only while it is seen, off the hand's thread; old ones are taken away at once."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        self._diagnostician = diagnostician(document)
        table = WrappedTable("Causes, the likeliest first", HEADINGS, SHARES)
        super().__init__("Causes", table, self._diagnostician.ask, parent)
        self._document = document
        self.rows: tuple[CauseRow, ...] = ()
        self._wanted = ""  # the cause that was selected by hand; it stays so while it is listed
        self._from_top = FromTop(document, self)
        self._kept_in: tuple[object, ...] | None = None  # what was shown when a cause was last put in
        self.visit = Choice()
        self.page = QTextBrowser()
        self.page.document().setIndentWidth(LIST_INDENT)
        self.put = QPushButton("Put it into the drawing")
        self._arrange()
        document.changed.connect(self._changed)
        document.opened.connect(self._forget)
        self._diagnostician.changed.connect(self._answered)
        self.table.itemSelectionChanged.connect(self._choose)
        self.visit.activated.connect(self._choose_visit)
        self.put.clicked.connect(self.put_into_drawing)

    def _arrange(self) -> None:
        self.visit.setAccessibleName("Visit whose readings are explained")
        self.visit.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.put.setAutoDefault(False)
        self.table.setItemDelegateForColumn(LIKELY, _Bar(self.table))
        self.page.setFrameShape(QFrame.Shape.NoFrame)
        self.page.setOpenLinks(False)
        self.page.document().setDocumentMargin(PAD)
        self.page.setAccessibleName("The evidence for and against it, and what to look at next")
        self._lay_out(self.page, self.visit, self.put)

    # What it shows

    def refresh(self) -> None:
        """Take the causes from the diagnostician, as far as they are at hand."""
        asked = self._diagnostician
        diagnosis = asked.diagnosis
        self._fill_visits()
        if self._from_top.is_due():
            self._wanted = ""
            self.begin_at_top()
        self.rows = cause_rows.rows(diagnosis) if diagnosis is not None else ()
        self._fill()
        stop = diagnosis is not None and diagnosis.stop
        if diagnosis is not None:
            text = diagnosis.headline
        elif not asked.visits():
            line = self._document.alternative
            text = OF_ANOTHER_LINE.format(line) if line else NONE_YET
        else:
            text = f"Not explained: {asked.trouble}." if asked.trouble else WORKING_OUT
        self.show_heading(capitalised(text), stop=stop)

    def _fill_visits(self) -> None:
        names = list(self._diagnostician.visits())
        with QSignalBlocker(self.visit):
            self.visit.clear()
            self.visit.addItems(names)
            if self._diagnostician.visit in names:
                self.visit.setCurrentText(self._diagnostician.visit)
        self.visit.setVisible(bool(names))

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
            table.fit()
            if self.rows:
                names = [row.words.name for row in self.rows]
                table.selectRow(names.index(self._wanted) if self._wanted in names else 0)
        self._show_page()

    def _choose(self) -> None:
        row = self.chosen
        self._wanted = row.words.name if row is not None else self._wanted
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
        if diagnosis is not None:
            self.page.setHtml(cause_rows.page(diagnosis, row.words if row else None))
        else:
            self.page.setHtml("" if self._diagnostician.visits() else cause_rows.EMPTY)
        self.put.setEnabled(row is not None and row.words.may_put_in)
        why_not = row.words.not_put_in if row is not None else ""
        self.put.setToolTip(typographic(f"Not put into the drawing: {why_not}.") if why_not else PUT_IN)

    # What it does

    def put_into_drawing(self) -> None:
        """Keep the chosen cause as a case, or as an alternative where the line itself would be another."""
        document, row = self._document, self.chosen
        if row is None or self._diagnostician.diagnosis is None:
            return
        try:
            change = put_in(document.layout, row.words.explanation, document.level)
            self.show_below(case_making.keep_cause(document, change))
            self._kept_in = self._in_view()
        except (CannotPutInError, EditError) as error:
            self.show_below(f"It was not put into the drawing: {error}.")

    def _in_view(self) -> tuple[object, ...]:
        """The drawing, and the alternative and case of it that are shown."""
        document = self._document
        return document.layout, document.alternative, document.case

    def _changed(self) -> None:
        if self._kept_in is not None and self._kept_in != self._in_view():
            self._kept_in = None  # what was said of it need not be so any more
            self.show_below("")
        super()._changed()

    def _forget(self) -> None:
        self._wanted, self._kept_in = "", None
        self.show_below("")

    def _choose_visit(self) -> None:
        self._diagnostician.visit = self.visit.currentText()
        self.ask_again()

    def ask_again(self) -> None:
        """Have the visit explained that the diagnostician is now asked about."""
        self._wanted = ""
        self.show_below("")
        self._changed()
