"""What stands over the sheet until there is a line from a tank to a pump."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from sketch.canvas.next_step import BY_KEYS, LINE_BY_KEYS, READY_MADE
from sketch.editing import beginning, building
from sketch.window import main_window
from sketch.window.main_window import Window
from solver.quantities.units import System
from tests.sketch.canvas.conftest import Place
from tests.sketch.canvas.mouse import click, pick


def test_it_leads_from_the_empty_sheet_to_a_line_that_is_calculated(
    qtbot: QtBot, window: Window, at: Place
) -> None:
    sheet, document = window.workspace.elevation, window.document
    note = sheet.next_step
    assert note.isHidden(), "a drawing that is whole needs no word of it"
    document.begin(beginning.empty(System.SI))
    assert note.text().split("\n") == [beginning.next_step(document.layout), BY_KEYS, READY_MADE]
    assert note.isVisible()
    assert sheet.rect().contains(note.geometry())
    for part, place in (("Tank", (0.6, 0.0)), ("Strainer", (0.3, 0.3)), ("Pump", (1.0, 1.0))):
        assert part.lower() in note.text().lower()
        assert BY_KEYS in note.text()
        pick(qtbot, window, part)
        assert note.text() == sheet.tool.hint
        assert f"the {part.lower()} is to stand" in note.text()
        assert ("by the middle of its floor" in note.text()) is (part == "Tank")
        click(qtbot, window, at(*place))
    assert "click Line on the shelf, then strainer" in note.text()
    assert note.text().endswith(LINE_BY_KEYS)
    pick(qtbot, window, "Line")
    click(qtbot, window, at(0.3, 0.3))
    assert note.text().startswith("Click each corner")
    click(qtbot, window, at(0.3, 1.0))
    click(qtbot, window, at(1.0, 1.0))
    assert document.ledger is not None
    assert note.isHidden()


def test_clicks_go_through_it(qtbot: QtBot, window: Window) -> None:
    sheet, document = window.workspace.elevation, window.document
    document.begin(beginning.empty(System.SI))
    pick(qtbot, window, "Tank")
    spot = sheet.next_step.geometry().center()
    QTest.mouseMove(window.windowHandle(), sheet.mapTo(window, spot))
    QTest.mouseClick(window.windowHandle(), Qt.MouseButton.LeftButton, pos=sheet.mapTo(window, spot))
    assert document.layout.reservoirs


def test_it_keeps_to_a_narrow_sheet(window: Window) -> None:
    window.document.begin(beginning.empty(System.US))
    window.resize(700, 500)
    sheet = window.workspace.elevation
    assert sheet.rect().contains(sheet.next_step.geometry())
    assert sheet.next_step.height() == sheet.next_step.heightForWidth(sheet.next_step.width())


def test_on_a_low_sheet_it_leaves_the_drawing_room(window: Window) -> None:
    sheet = window.workspace.elevation
    window.document.begin(beginning.empty(System.US))
    window.resize(700, 420)
    assert sheet.next_step.text() == beginning.next_step(window.document.layout)
    assert sheet.next_step.geometry().bottom() < sheet.height() / 2
    window.document.apply("Tank", building.add(window.document.layout, building.TANK, 0.6, 0.0).layout)
    assert not sheet.next_step.isVisible(), "a tank that it would cover"
    window.resize(1366, 768)
    assert sheet.next_step.isVisible()
    assert sheet.next_step.text().endswith(BY_KEYS)


def test_what_a_part_in_hand_waits_for_outlasts_a_passing_message(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(main_window, "MESSAGE_MS", 1)
    sheet, bar = window.workspace.elevation, window.statusBar()
    pick(qtbot, window, "Pump")
    over: list[bool] = []
    QTimer.singleShot(10, lambda: over.append(True))
    qtbot.waitUntil(lambda: bool(over))
    assert bar.currentMessage() == sheet.tool.hint
    sheet.pick("")
    window.show_status("Copied")
    qtbot.waitUntil(lambda: not bar.currentMessage())


def test_it_covers_no_part_that_is_drawn_already(qtbot: QtBot, window: Window, at: Place) -> None:
    sheet, document = window.workspace.elevation, window.document
    document.begin(beginning.empty(System.SI))
    pick(qtbot, window, "Tank")
    click(qtbot, window, at(0.6, 0.0))
    pick(qtbot, window, "Pump")
    top = sheet.view.world(sheet.width() / 2, 90.0)
    click(qtbot, window, at(*top))
    (pump,) = document.layout.pumps.values()
    port = at(pump.at[0].si, pump.at[1].si)
    assert sheet.next_step.isVisible()
    assert not sheet.next_step.geometry().adjusted(0, 0, 0, 40).contains(port)


def test_return_on_a_tank_says_how_a_line_begins_there(qtbot: QtBot, window: Window) -> None:
    sheet, document = window.workspace.elevation, window.document
    document.begin(beginning.empty(System.SI))
    document.apply("Tank", building.add(document.layout, building.TANK, 0.6, 0.0).layout)
    document.select("tank")
    pick(qtbot, window, "Line")
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert "put a strainer or a wall nozzle into it first" in sheet.tool.trouble
    document.apply("Strainer", building.add(document.layout, "strainer", 0.3, 0.3).layout)
    document.select("tank")
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert "at its intake, such as strainer" in sheet.tool.trouble


def test_it_stands_aside_from_a_part_that_the_view_brings_under_it(qtbot: QtBot, window: Window) -> None:
    sheet, document = window.workspace.elevation, window.document
    document.begin(beginning.empty(System.SI))
    for what, place in ((building.TANK, (0.0, 0.0)), ("strainer", (0.0, 0.2)), (building.PUMP, (1.6, 1.5))):
        document.apply("Add", building.add(document.layout, what, *place).layout)
    note = sheet.next_step
    assert note.isVisible()
    for dx in (250.0, -450.0):  # to the right of the sheet, then to its left
        sheet.sight.pan(dx, 0.0)
        sheet.update()
        port = QPointF(*sheet.view.device(1.6, 1.5)).toPoint()
        qtbot.waitUntil(lambda port=port: not note.geometry().adjusted(0, 0, 0, 60).contains(port))  # type: ignore[misc]
