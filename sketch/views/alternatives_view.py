"""The drawing and its alternatives side by side; a click shows one."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QModelIndex, Qt, QTimer
from PySide6.QtGui import QBrush, QFont, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from sketch.look.appearance import theme_of
from sketch.model.document import Document
from sketch.views import comparison
from sketch.views.comparison import Compared
from sketch.views.refusal import mark_icon
from sketch.views.table_style import STYLE
from solver.quantities import units
from solver.quantities.units import Kind, System

IDLE_MS = 180  # of no change before the alternatives are solved again
NAME, LIFT, LOSS, MARGIN, CHANGE, VERDICT, FINDINGS = range(7)
HEADINGS = ("Alternative", "Lift", "Loss", "Margin", "Against as drawn", "Verdict", "Findings")
TIPS = (
    "The drawing itself, and what is laid over it; a click shows one",
    "Pressure taken by raising the fluid, or given back by letting it fall",
    "Pressure taken by friction, fittings and screens",
    "What is left of the inlet budget",
    "How much more or less is left than in the drawing itself",
    "Whether the pump's inlet is within what its maker allows here",
    "What to look at before this line is built",
)
FIGURES = (LIFT, LOSS, MARGIN, CHANGE)


class AlternativesView(QTableWidget):
    """One row an alternative; worked out once the drawing has come to rest, and only while it is seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(0, len(HEADINGS), parent)
        self._document = document
        self._stale = True
        self._rows: tuple[Compared, ...] = ()
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self.refresh)
        self._arrange()
        self.clicked.connect(self._choose)
        self.activated.connect(self._choose)
        document.changed.connect(self._changed)

    def _arrange(self) -> None:
        self.setAccessibleName("Alternatives")
        self.setAccessibleDescription("The drawing and its alternatives side by side")
        self.setFrameShape(QTableWidget.Shape.NoFrame)
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setStyleSheet(STYLE)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def refresh(self) -> None:
        """Take the figures from the document, now or when the table is next seen."""
        self._stale = False
        self._rows = comparison.rows(self._document)
        self._head()
        self.setRowCount(len(self._rows))
        self.setCurrentCell(-1, -1)
        for at, row in enumerate(self._rows):
            for column, text in enumerate(_texts(row, self._document.system)):
                self.setItem(at, column, self._item(row, column, text))

    def _head(self) -> None:
        unit = units.unit(Kind.VACUUM, self._document.system)
        for column, heading in enumerate(HEADINGS):
            item = QTableWidgetItem(f"{heading}, {unit}" if column in FIGURES else heading)
            item.setToolTip(TIPS[column])
            if column in FIGURES:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.setHorizontalHeaderItem(column, item)

    def _item(self, row: Compared, column: int, text: str) -> QTableWidgetItem:
        item, theme = QTableWidgetItem(text), theme_of(self.palette())
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

    def _choose(self, index: QModelIndex) -> None:
        self._document.show_alternative(self._rows[index.row()].name)

    def _changed(self) -> None:
        self._stale = True
        if self.isVisible():
            self._idle.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self.refresh()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_rows"):
            self._changed()


def _texts(row: Compared, system: System) -> tuple[str, ...]:
    """What the cells of a row show."""

    def pressure(value: float) -> str:
        return "" if math.isnan(value) else units.fixed(value, Kind.VACUUM, system)

    change = pressure(row.change)
    signed = f"+{change}" if change and row.change > 0 else change
    return (
        row.title,
        pressure(row.lift),
        pressure(row.loss),
        pressure(row.margin),
        signed,
        row.verdict,
        row.findings,
    )
