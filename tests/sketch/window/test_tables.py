"""Two tables side by side where the window is wide."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QStyleOptionTab
from pytestqt.qtbot import QtBot

from sketch.window.tables import COUNTS, ROOM
from tests.sketch.window.windows import CARRIAGE, CONTROL, Opener


def test_the_findings_stand_beside_the_other_tables_where_there_is_room(
    qtbot: QtBot, opener: Opener, tmp_path: Path
) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = opener(CARRIAGE, settings)
    tables, views = window.workspace.tables, window.workspace.views
    qtbot.keyClick(window, Qt.Key.Key_3, CONTROL)
    assert views["findings"].isVisible()
    assert not views["ledger"].isVisible()
    window.resize(ROOM + 20, 900)
    qtbot.waitUntil(lambda: tables.split, timeout=2000)
    assert views["findings"].isVisible()
    assert views["ledger"].isVisible(), "something has come in front where the findings were"
    assert tables.side.tabText(0) == "Findings: 1 stop of 4"
    assert [tables.tabs.isTabVisible(at) for at in (1, 2, 3)] == [True, False, True]
    qtbot.keyClick(window, Qt.Key.Key_2, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_3, CONTROL)
    assert tables.current == "profile"
    assert views["findings"].isVisible()
    window.document.show_alternative("Pump beside the tank")
    assert tables.side.tabText(0) == "Findings"
    qtbot.keyClick(window, Qt.Key.Key_F9)
    assert not tables.split
    assert tables.tabs.tabText(2) == "Findings"
    assert not views["findings"].isVisible()
    qtbot.keyClick(window, Qt.Key.Key_3, CONTROL)
    assert views["findings"].isVisible()
    assert window.close()
    again = opener(CARRIAGE, QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat))
    again.resize(ROOM + 20, 900)
    assert not again.workspace.tables.wanted
    assert not again.workspace.tables.split, "kept"
    qtbot.keyClick(again, Qt.Key.Key_F9)
    assert again.workspace.tables.split
    again.resize(1000, 700)
    qtbot.waitUntil(lambda: not again.workspace.tables.split, timeout=2000)


def test_no_tab_moves_while_the_findings_are_counted(qtbot: QtBot, opener: Opener) -> None:
    window = opener(CARRIAGE)
    document, tabs = window.document, window.workspace.tables.tabs
    before = [tabs.tabBar().tabRect(at) for at in range(tabs.count())]
    counts = set[str]()
    field = window.workspace.whatif.turners["Port height"].field
    for typed in ("2 ft", "-3 ft", "12 ft"):
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, typed)
        qtbot.keyClick(field, Qt.Key.Key_Return)
        counts.add(tabs.tabText(2))
        assert [tabs.tabBar().tabRect(at) for at in range(tabs.count())] == before, tabs.tabText(2)
    document.show_alternative("Pump beside the tank")
    counts.add(tabs.tabText(2))
    assert tabs.tabText(2) == "Findings", "with no mark either"
    assert [tabs.tabBar().tabRect(at) for at in range(tabs.count())] == before
    assert len(counts) > 2
    option = QStyleOptionTab()
    tabs.tabBar().initStyleOption(option, 2)
    room = tabs.fontMetrics().horizontalAdvance(option.text)
    longest = max(map(tabs.fontMetrics().horizontalAdvance, COUNTS))
    assert longest - 6 < room <= longest, "the count stands at the left of its room"
