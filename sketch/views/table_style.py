"""How the small tables of the views look, and when they are filled."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QWidget

from sketch.look.more_below import MoreBelow
from sketch.model.document import Document
from sketch.views.idle_refresh import IdleRefresh

# As quiet as the ledger's: Qt's own header is a row of buttons, and its cells stand shoulder to shoulder.
HEADER = """
QHeaderView { background: palette(base); }
QHeaderView::section { background: palette(base); color: palette(placeholder-text); border: 0;
    border-bottom: 1px solid palette(mid); padding: 4px 10px; font-weight: normal; }
"""
STYLE = f"""{HEADER}
QTableWidget {{ outline: 0; }}
QTableWidget::item {{ padding: 0 10px; }}
QTableWidget::item:selected {{ background: palette(alternate-base); color: palette(text); }}
"""


def dress(table: QTableWidget, name: str) -> None:
    """Give a table the quiet look and a name that is spoken. One cell is selected at a time, none is edited
    and words stand on one line, unless the table says otherwise afterwards."""
    table.setAccessibleName(name)
    table.setFrameShape(QTableWidget.Shape.NoFrame)
    table.setShowGrid(False)
    table.setStyleSheet(STYLE)
    table.setTabKeyNavigation(False)
    table.setWordWrap(False)
    MoreBelow(table)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(table.fontMetrics().height() + 8)
    header = table.horizontalHeader()
    header.setHighlightSections(False)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class IdleRefreshTable(QTableWidget):
    """A table in the quiet look, filled once the drawing has come to rest, and only while it is seen."""

    def __init__(
        self, document: Document, name: str, columns: int = 0, parent: QWidget | None = None
    ) -> None:
        super().__init__(0, columns, parent)
        self._document = document
        self.idle_refresh = IdleRefresh(self, document, self.refresh)
        dress(self, name)

    def refresh(self) -> None:
        """Fill the rows from the document; they are `stale` no more."""
        raise NotImplementedError

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.idle_refresh.shown()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(
            self, "idle_refresh"
        ):  # not while Qt sets it up
            self.idle_refresh.mark_stale()
