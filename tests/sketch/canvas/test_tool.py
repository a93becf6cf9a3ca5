"""Drawing by real mouse and keys: from the shelf to the sheet."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from sketch.drawing.view import AXIS_LEFT, LEAST_PUMP
from sketch.look import asking
from sketch.window.main_window import Window
from solver.geometry import measured
from tests.sketch.canvas.conftest import Place
from tests.sketch.canvas.mouse import click, pick

LEFT = Qt.MouseButton.LeftButton


def test_a_valve_dropped_on_a_line_cuts_it_in_two(qtbot: QtBot, window: Window, at: Place) -> None:
    document = window.document
    before = document.layout
    pick(qtbot, window, "Gate valve")
    assert window.workspace.elevation.tool.picked == "gate valve"
    click(qtbot, window, at(0.6, 0.9))
    assert list(document.layout.fittings) == ["gate valve"]
    assert document.selected_part == "gate valve"
    assert document.solution is not None
    assert not window.workspace.elevation.tool.picked
    document.undo_stack.undo()
    assert document.layout == before


def type_size(qtbot: QtBot, window: Window, part: str, size: str) -> None:
    window.document.select(part)
    window.workspace.show_tab("card")
    card = window.workspace.card  # which is filled once the drawing has come to rest
    qtbot.waitUntil(lambda: card.name == part and "size" in card.fields and not card._stale, timeout=10_000)
    edit = card.fields["size"].edit
    edit.setFocus()
    edit.selectAll() if isinstance(edit, QLineEdit) else edit.lineEdit().selectAll()
    qtbot.keyClicks(edit, size)
    qtbot.keyClick(edit, Qt.Key.Key_Return)


def test_a_line_leaves_the_sizes_that_were_typed_and_a_reducer_goes_to_the_pump_s(
    qtbot: QtBot, window: Window, at: Place
) -> None:
    document, two, slim = window.document, "NPS 2 schedule 40", "NPS 1-1/2 schedule 40"
    type_size(qtbot, window, "strainer", two)
    type_size(qtbot, window, "pump", slim)
    document.select("line")
    window.actions_by_name["remove part"].trigger()
    places = [document.layout.joint(name).at for name in ("strainer", "pump")]
    strainer, pump = ((x.si, y.si) for x, y in places)
    pick(qtbot, window, "Line")
    for place in (strainer, (strainer[0], pump[1]), pump):
        click(qtbot, window, at(*place))
    layout = document.layout
    assert [layout.part(name).size for name in ("strainer", "line", "pump")] == [two, two, slim]
    assert window.notice.text == f"Line drawn in {two}; the port of pump is {slim}: put in a reducer."
    pick(qtbot, window, "Eccentric reducer")
    click(qtbot, window, at(pump[0] - 0.2, pump[1]))
    layout = document.layout
    assert [layout.part(name).size for name in ("strainer", "line", "line 2", "pump")] == [
        two,
        two,
        slim,
        slim,
    ]
    assert f"from {two} to {slim}, as the port of pump is" in window.notice.text
    document.undo_stack.undo()
    assert window.notice.text == ""


def test_off_a_line_a_valve_stays_in_hand_and_says_why(qtbot: QtBot, window: Window, at: Place) -> None:
    pick(qtbot, window, "Ball valve")
    click(qtbot, window, at(2.0, 1.2))
    assert window.workspace.elevation.tool.picked == "ball valve"
    assert "none passes there" in window.statusBar().currentMessage()
    assert window.document.clean
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Escape)
    assert not window.workspace.elevation.tool.picked
    assert window.workspace.shelf.currentRow() == -1


def test_a_branch_to_a_second_pump_is_drawn_with_a_tee(qtbot: QtBot, window: Window, at: Place) -> None:
    document = window.document
    pick(qtbot, window, "Pump")
    click(qtbot, window, at(2.0, 1.1))
    assert list(document.layout.pumps) == ["pump", "pump 2"]
    assert document.solution is None, "a pump without a line is not calculated"
    pick(qtbot, window, "Line")
    click(qtbot, window, at(0.65, 0.9))
    click(qtbot, window, at(0.65, 1.4))
    click(qtbot, window, at(2.0, 1.1))
    assert list(document.layout.tees) == ["tee"]
    assert document.refusal == ()
    line = document.layout.runs[document.selected_part]
    assert (line.start, line.end) == ("tee", "pump 2")
    xs = [x.si for x, _ in line.via]
    assert xs[0] == pytest.approx(document.layout.tees["tee"].at[0].si), "the branch leaves squarely"
    assert document.solution.pumps["pump 2"].flow > 0


def test_backspace_takes_back_a_corner_and_escape_the_line(qtbot: QtBot, window: Window, at: Place) -> None:
    tool = window.workspace.elevation.tool
    pick(qtbot, window, "Line")
    click(qtbot, window, at(0.65, 0.9))
    click(qtbot, window, at(0.65, 1.4))
    click(qtbot, window, at(1.5, 1.4))
    assert len(tool.via) == 2
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Backspace)
    assert len(tool.via) == 1
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Escape)
    assert window.document.clean


def test_a_line_begins_at_something(qtbot: QtBot, window: Window, at: Place) -> None:
    pick(qtbot, window, "Line")
    click(qtbot, window, at(2.0, 1.3))
    assert "begins" in window.statusBar().currentMessage()
    assert window.workspace.elevation.tool.start is None


def test_what_is_in_hand_is_painted_and_the_sheet_is_left_clean(
    qtbot: QtBot, window: Window, at: Place
) -> None:
    elevation = window.workspace.elevation
    before = elevation.grab().toImage()
    pick(qtbot, window, "Pump")
    qtbot.mouseMove(elevation, at(1.8, 1.2))
    assert elevation.grab().toImage() != before
    qtbot.keyClick(elevation, Qt.Key.Key_Escape)
    window.document.point("")
    assert elevation.grab().toImage() == before


def test_delete_heals_the_line(qtbot: QtBot, window: Window, at: Place) -> None:
    document = window.document
    before = document.layout
    pick(qtbot, window, "Gate valve")
    click(qtbot, window, at(0.6, 0.9))
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Delete)
    assert document.layout == before
    assert document.undo_stack.undoText() == "Delete gate valve"


def test_what_is_lost_with_a_deleted_part_is_said(qtbot: QtBot, window: Window, at: Place) -> None:
    pick(qtbot, window, "Gate valve")
    click(qtbot, window, at(0.6, 0.9))
    type_size(qtbot, window, "line 2", "NPS 1-1/2 schedule 40")
    window.document.select("gate valve")
    window.actions_by_name["remove part"].trigger()
    size = window.document.layout.runs["line"].size
    assert window.notice.text == f"line 2 is one with line now, in {size}, not NPS 1-1/2 schedule 40."
    window.document.select("pump")
    window.actions_by_name["remove part"].trigger()
    assert window.document.undo_stack.undoText() == "Delete pump, with line"


def test_what_cannot_be_deleted_is_told(window: Window) -> None:
    window.document.select("tank")
    window.actions_by_name["remove part"].trigger()
    assert "strainer" in window.notice.text
    assert "tank" in window.document.layout.reservoirs


def test_a_part_is_renamed_everywhere(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    document = window.document
    document.add_alternative("Other")
    document.show_alternative("")
    monkeypatch.setattr(asking, "ask_for_text", lambda *_: "main pump")
    document.select("pump")
    window.actions_by_name["rename part"].trigger()
    assert list(document.layout.pumps) == ["main pump"]
    assert list(document.drawing.alternatives["Other"].layout.pumps) == ["main pump"]
    assert document.selected_part == "main pump"
    document.undo_stack.undo()
    assert list(document.drawing.alternatives["Other"].layout.pumps) == ["pump"]


def test_a_name_that_is_taken_is_told(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asking, "ask_for_text", lambda *_: "tank")
    window.document.select("pump")
    window.actions_by_name["rename part"].trigger()
    assert "already" in window.notice.text
    assert window.document.clean


def test_what_is_put_down_falls_in_line_and_on_the_grid(qtbot: QtBot, window: Window, at: Place) -> None:
    layout = window.document.layout
    wall = max(x.si for x, _ in layout.reservoirs["tank"].outline)
    pick(qtbot, window, "Wall nozzle")
    place = at(wall, 0.13)
    click(qtbot, window, QPoint(place.x() + 3, place.y() + 1))
    nozzle = window.document.layout.intakes["wall nozzle"]
    assert nozzle.at[0].si == pytest.approx(wall, abs=1e-9)
    assert nozzle.at[1].si == pytest.approx(round(nozzle.at[1].si, 2), abs=1e-9)


def test_a_line_does_not_end_on_the_line_it_begins_on(qtbot: QtBot, window: Window, at: Place) -> None:
    pick(qtbot, window, "Line")
    click(qtbot, window, at(0.45, 0.9))
    click(qtbot, window, at(0.75, 0.9))
    assert "end it on another" in window.statusBar().currentMessage()
    assert window.document.clean


def test_a_gauge_put_on_a_line_or_a_pump_begins_a_reading(qtbot: QtBot, window: Window, at: Place) -> None:
    document, tabs = window.document, window.workspace.tabs
    pick(qtbot, window, "Gauge")
    click(qtbot, window, at(2.4, 1.3))
    assert "click on one" in window.statusBar().currentMessage()
    click(qtbot, window, at(0.6, 0.9))
    (reading,) = document.layout.readings
    assert reading.run == "line"
    assert reading.has_time
    assert reading.distance is not None
    assert reading.distance.si * 100.0 == pytest.approx(round(reading.distance.si * 100.0), abs=0.02)
    assert document.clean is False
    assert tabs.tabText(tabs.currentIndex()) == "Readings"
    pick(qtbot, window, "Gauge")
    pump = document.layout.pumps["pump"].at
    click(qtbot, window, at(pump[0].si, pump[1].si))
    assert document.layout.readings[1].run == ""
    assert document.layout.readings[1].pump == "pump"
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.layout.readings == ()


def test_a_text_is_put_down_dragged_typed_anew_and_deleted(qtbot: QtBot, window: Window, at: Place) -> None:
    document, sheet = window.document, window.workspace.elevation
    pick(qtbot, window, "Text")
    click(qtbot, window, at(1.8, 1.2))
    assert sheet.field.hasFocus()
    qtbot.keyClicks(sheet.field, "crane runs here")
    qtbot.keyClick(sheet.field, Qt.Key.Key_Return)
    assert not sheet.tool.picked
    assert document.layout.texts[0].text == "crane runs here"
    assert document.undo_stack.undoText() == "Add a text"
    sheet.repaint()
    place = at(1.8, 1.2) + QPoint(20, 0)
    qtbot.mousePress(sheet, LEFT, pos=place)
    for step in (5, 20, 60):
        qtbot.mouseMove(sheet, place + QPoint(step, 0))
        move = QMouseEvent(QEvent.Type.MouseMove, QPointF(place + QPoint(step, 0)),
                           QPointF(sheet.mapToGlobal(place)), Qt.MouseButton.NoButton, LEFT,
                           Qt.KeyboardModifier.NoModifier)  # fmt: skip
        QApplication.sendEvent(sheet, move)
    qtbot.mouseRelease(sheet, LEFT, pos=place + QPoint(60, 0))
    assert document.layout.texts[0].at[0].si == pytest.approx(1.8 + 60 / sheet.view.scale, abs=0.011)
    assert document.undo_stack.undoText().startswith("Move a text to height 1.2")
    assert document.selection == ()
    before = document.layout.texts[0].at[1].si
    qtbot.keyClick(sheet, Qt.Key.Key_Up)
    assert document.layout.texts[0].at[1].si == pytest.approx(before + 0.01)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert sheet.field.text() == "crane runs here"
    qtbot.keyClicks(sheet.field, "no crane")
    qtbot.keyClick(sheet.field, Qt.Key.Key_Return)
    assert document.layout.texts[0].text == "no crane"
    assert document.undo_stack.undoText() == 'Change a text to "no crane"', "as the card says it"
    qtbot.keyClick(sheet, Qt.Key.Key_Delete)
    assert document.layout.texts == ()
    assert document.undo_stack.undoText() == "Delete a text"


def test_a_dimension_is_put_down_by_mouse_or_keys_and_follows(
    qtbot: QtBot, window: Window, at: Place
) -> None:
    document, sheet = window.document, window.workspace.elevation
    pick(qtbot, window, "Dimension")
    for x, y in ((0.3, 0.3), (0.9, 0.9), (0.6, 1.4)):
        click(qtbot, window, at(x, y))
    (dimension,) = document.layout.dimensions
    assert (dimension.start, dimension.end, dimension.direction) == ("strainer", "pump", "across")
    assert sheet.hand.remark is not None, "it is held as it is put down"
    line = measured.dimension_line(document.layout, dimension)
    qtbot.keyClick(sheet, Qt.Key.Key_Down)
    moved = measured.dimension_line(document.layout, document.layout.dimensions[0])
    assert moved[0][1] == pytest.approx(line[0][1] - 0.01)
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert sheet.hand.remark is None
    sheet.pick("dimension")
    for key in (Qt.Key.Key_Tab, Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Tab):
        qtbot.keyClick(sheet, key)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Right, Qt.Key.Key_Return):
        qtbot.keyClick(sheet, key)
    assert not sheet.tool.picked
    assert document.layout.dimensions[1].start == "strainer"


def test_a_hose_is_drawn_as_a_line_in_the_size_of_a_hose(qtbot: QtBot, window: Window, at: Place) -> None:
    document = window.document
    document.select(next(iter(document.layout.runs)))
    window.actions_by_name["remove part"].trigger()
    assert not document.layout.runs
    pick(qtbot, window, "Hose")
    assert "new hose begins" in window.workspace.elevation.tool.hint
    strainer, pump = document.layout.intakes["strainer"].at, document.layout.pumps["pump"].at
    for x, y in (strainer, (strainer[0], pump[1]), pump):
        click(qtbot, window, at(x.si, y.si))
    assert list(document.layout.runs) == ["hose"]
    assert document.layout.runs["hose"].size.startswith("hose -")
    assert document.undo_stack.undoText() == "Draw a hose"
    assert document.solution is not None
    pick(qtbot, window, "Line")
    assert "new line begins" in window.workspace.elevation.tool.hint


def test_a_new_part_is_put_down_on_steps_that_are_seen(qtbot: QtBot, window: Window, at: Place) -> None:
    """A text has nothing to fall in line with: on the whole sheet it comes to stand on 5 cm, not on 1."""
    document, sheet = window.document, window.workspace.elevation
    assert 120 < sheet.view.scale < 600, "a centimetre is less than six pixels"
    pick(qtbot, window, "Text")
    click(qtbot, window, at(1.813, 1.237))
    qtbot.keyClicks(sheet.field, "here")
    qtbot.keyClick(sheet.field, Qt.Key.Key_Return)
    x, y = (each.si for each in document.layout.texts[0].at)
    assert (x, y) == pytest.approx((1.8, 1.25))


@pytest.mark.parametrize("zoomed", [False, True])
@pytest.mark.parametrize("part", ["Pump", "Strainer"])
def test_what_is_set_down_at_an_edge_of_the_sheet_is_brought_in_whole(
    qtbot: QtBot, window: Window, part: str, zoomed: bool
) -> None:
    sheet = window.workspace.elevation
    sheet.fit()
    if zoomed:
        sheet.zoom(1.3)
    before = sheet.view.scale
    pick(qtbot, window, part)
    click(qtbot, window, QPoint(4, 200))
    layout = window.document.layout
    (*_, new) = (layout.pumps if part == "Pump" else layout.intakes).values()
    x, _ = sheet.view.device(new.at[0].si, new.at[1].si)
    assert x - AXIS_LEFT > LEAST_PUMP, "beside the axis, not under it"
    assert not zoomed or sheet.view.scale == before


def test_a_lone_part_does_not_fill_the_sheet(qtbot: QtBot, window: Window) -> None:
    document, sheet = window.document, window.workspace.elevation
    window.actions_by_name["new"].trigger()
    window.actions_by_name["select all"].trigger()
    window.actions_by_name["remove part"].trigger()
    assert not document.layout.pumps
    pick(qtbot, window, "Pump")
    click(qtbot, window, QPoint(4, 200))
    sheet.fit()
    assert sheet.view.world(sheet.width(), 0)[0] - sheet.view.world(0, 0)[0] > 3.0
