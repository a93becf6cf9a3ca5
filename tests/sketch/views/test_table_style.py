"""The dress of the small tables, light and dark."""

from __future__ import annotations

import re

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QTableWidget
from pytestqt.qtbot import QtBot

from sketch.views.table_style import STYLE, dress


def test_no_colour_is_named_that_a_dark_palette_could_not_change() -> None:
    colours = re.findall(r"(?:color|background|border-bottom): ([^;]+);", STYLE)
    assert len(colours) >= 5
    assert all("palette(" in colour for colour in colours)


def test_the_header_is_as_quiet_as_the_table_below_it(qtbot: QtBot) -> None:
    table = QTableWidget(1, 1)
    qtbot.addWidget(table)
    table.setHorizontalHeaderLabels([""])
    header = table.horizontalHeader()
    base = header.palette().color(QPalette.ColorRole.Base)
    assert header.grab().toImage().pixelColor(4, 4) != base
    dress(table, "Figures")
    assert header.grab().toImage().pixelColor(4, 4) == base
    assert table.accessibleName() == "Figures"
