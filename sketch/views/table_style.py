"""How the small tables of the views are dressed."""

from __future__ import annotations

# As quiet as the ledger's: Qt's own header is a row of buttons, and its cells stand shoulder to shoulder.
STYLE = """
QHeaderView { background: palette(base); }
QHeaderView::section { background: palette(base); color: palette(placeholder-text); border: 0;
    border-bottom: 1px solid palette(mid); padding: 4px 10px; font-weight: normal; }
QTableWidget { outline: 0; }
QTableWidget::item { padding: 0 10px; }
QTableWidget::item:selected { background: palette(alternate-base); color: palette(text); }
"""
