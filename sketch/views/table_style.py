"""How the small tables of the views are dressed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QTableWidget

# As quiet as the ledger's: Qt's own header is a row of buttons, and its cells stand shoulder to shoulder.
STYLE = """
QHeaderView { background: palette(base); }
QHeaderView::section { background: palette(base); color: palette(placeholder-text); border: 0;
    border-bottom: 1px solid palette(mid); padding: 4px 10px; font-weight: normal; }
QTableWidget { outline: 0; }
QTableWidget::item { padding: 0 10px; }
QTableWidget::item:selected { background: palette(alternate-base); color: palette(text); }
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
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(table.fontMetrics().height() + 8)
    header = table.horizontalHeader()
    header.setHighlightSections(False)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
