"""The menu of everything that can be pointed at, opened by the right button and by the menu key."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.drawing.labels import LabelKind
from sketch.editing import remarks
from sketch.plots.profile_view import PressureProfile
from sketch.views.alternatives_page import AlternativesPage
from sketch.views.alternatives_view import AlternativesView
from sketch.views.cases_view import CasesTable
from sketch.views.fix_list import FixList
from sketch.window import main_window
from sketch.window.main_window import Window
from solver.geometry import measured
from solver.layout.parts import Level
from solver.layout.remarks import Direction
from tests.sketch.window.menus import choose, close, opened, right_click, texts
from tests.sketch.window.windows import LAYOUTS, NONE, RIGHT, Opener

ONE_WINDOW = True


def on_sheet(window: Window, x: float, y: float) -> QPoint:
    return QPointF(*window.workspace.elevation.view.device(x, y)).toPoint()


def of_part(window: Window, name: str) -> QPoint:
    x, y = window.document.layout.joint(name).at
    return on_sheet(window, x.si, y.si)


def test_parts_lines_and_bends_have_their_menu(opener: Opener) -> None:
    window = opener()
    document, sheet = window.document, window.workspace.elevation
    shown = right_click(window, sheet, of_part(window, "carriage"))
    assert document.selection == ("carriage",)
    assert {"Rename this part…", "Select the whole line", "Delete", "Copy", "Part card"} <= set(shown)
    assert "Bend it here" not in shown
    close()
    (bend,) = document.layout.runs["riser"].via
    shown = right_click(window, sheet, on_sheet(window, bend[0].si, bend[1].si))
    assert [text for text in shown if "bend" in text.lower()] == ["Remove this bend", "Add a bend"]
    choose("Remove this bend")
    assert document.layout.runs["riser"].via == ()
    document.undo_stack.undo()
    end = document.layout.joint(document.layout.runs["riser"].end).at
    middle = ((bend[0].si + end[0].si) / 2, (bend[1].si + end[1].si) / 2)
    before = set(document.layout.fittings)
    shown = right_click(window, sheet, on_sheet(window, *middle))
    assert {"Put into it here", "Connect an end to…"} <= set(shown)
    assert [text for text in shown if "bend" in text.lower()] == ["Bend it here", "Remove a bend"], "one adds"
    choose("Put into it here/Ball valve")
    (valve,) = set(document.layout.fittings) - before
    assert document.selection == (valve,)
    assert not sheet.tool.picked
    x, y = (each.si for each in document.layout.fittings[valve].at)
    assert abs(x - middle[0]) + abs(y - middle[1]) < 0.03
    document.undo_stack.undo()
    assert set(document.layout.fittings) == before


@pytest.mark.thorough
def test_tanks_levels_several_and_the_empty_sheet_have_theirs(opener: Opener) -> None:
    window = opener()
    document, sheet = window.document, window.workspace.elevation
    tank = document.layout.reservoirs["tank"]
    xs = [x.si for x, _ in tank.outline]
    x = min(xs) + 0.8 * (max(xs) - min(xs))
    shown = right_click(window, sheet, on_sheet(window, x, tank.normal_level.si))
    assert shown[0] == "Calculate with the fluid at this level"
    choose(shown[0])
    assert document.level is Level.NORMAL
    shown = right_click(window, sheet, on_sheet(window, x, tank.minimum_level.si / 2))
    assert "Fluid level" in shown
    choose("Put into it here/Return line's end")
    assert document.layout.reservoirs["tank"].return_at is not None
    document.select_all(("carriage", "riser"))
    shown = right_click(window, sheet, of_part(window, "carriage"))
    assert document.selection == ("carriage", "riser"), "one of several keeps them all"
    assert "Arrange" in shown
    close()
    shown = right_click(window, sheet, QPoint(sheet.width() - 12, 12))
    assert document.selection == ()
    assert {"Put here", "Paste", "Select all", "Fit the drawing", "Reach map"} <= set(shown)
    choose("Put here/Pump")
    assert len(document.layout.pumps) == 2


def test_a_dimension_has_what_it_measures_and_a_text_its_words(opener: Opener) -> None:
    window = opener()
    document, sheet = window.document, window.workspace.elevation
    layout = remarks.add_dimension(document.layout, "strainer", "carriage", 0.6, 1.5)
    document.apply("Remarks", remarks.add_text(layout, -0.6, 1.2, "crane runs here"))
    sheet.repaint()
    line = measured.dimension_line(document.layout, document.layout.dimensions[0])
    at = QPointF(*sheet.view.device(line[0][0] * 0.8 + line[1][0] * 0.2, line[0][1])).toPoint()
    assert "Measure up only" in right_click(window, sheet, at)
    choose("Measure up only")
    assert document.layout.dimensions[0].direction is Direction.UP
    label = next(each for each in sheet.picture.labels if each.kind == "text")
    shown = right_click(window, sheet, QPointF(label.box.x + 10, label.box.y + 5).toPoint())
    assert "Type text…" in shown
    choose("Delete this text")
    assert document.layout.texts == ()


def test_the_line_of_the_highest_port_leads_to_how_far_it_may_go(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    sheet, tables = window.workspace.elevation, window.workspace.tables
    qtbot.waitUntil(lambda: sheet.highest_port is not None, timeout=10_000)
    sheet.repaint()
    label = next(each for each in sheet.picture.labels if each.kind is LabelKind.LIMIT)
    _, y = sheet.view.device(0.0, sheet.highest_port)
    on_line = QPoint(sheet.width() - 60, round(y))
    on_label = QPointF(label.box.x + 8, label.box.y + label.box.height / 2).toPoint()
    for at in (on_line, on_label):
        shown = right_click(window, sheet, at)
        assert shown[:2] == ["Show how far the port may go", "Show the curve over its height"]
        choose("Show how far the port may go")
        assert tables.current == "reach"
        window.workspace.show_tab("ledger")
    right_click(window, sheet, on_line)
    choose("Show the curve over its height")
    assert tables.current == "curves"
    assert "Show how far the port may go" not in right_click(window, sheet, on_line + QPoint(0, 30))
    close()


@pytest.mark.thorough
def test_the_menu_key_opens_the_menu_of_what_is_selected(opener: Opener) -> None:
    window = opener()
    document, sheet = window.document, window.workspace.elevation
    sheet.setFocus()
    document.select("riser")
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Menu)
    assert "Bend it here" in texts(opened())
    choose("Put into it here/Gate valve")
    assert document.undo_stack.undoText().startswith("Add gate valve")
    document.select("")
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_F10, Qt.KeyboardModifier.ShiftModifier)
    assert "Put here" in texts(opened())
    close()
    window.workspace.show_tab("ledger")
    QTest.keyClick(window.workspace.ledger.table, Qt.Key.Key_Down)
    QTest.keyClick(window.workspace.ledger.table, Qt.Key.Key_Down)
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Menu)
    choose("Show its working")
    table = window.workspace.ledger.table
    key = table.ledger.rows[table.currentIndex().row()].key
    assert window.workspace.tabs.currentWidget().view.key == key
    assert document.selected_part == key.partition("/")[0]


@pytest.mark.thorough
def test_slices_rows_findings_and_alternatives_have_theirs(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    document, workspace = window.document, window.workspace
    box = next(box for key, box in workspace.column.drawn.slices if box.height > 6 and "/" in key)
    at = QPointF(box.x + box.width / 2, box.y + box.height / 2).toPoint()
    assert "Show its working" in right_click(window, workspace.column, at)
    close()
    table = workspace.ledger.table
    row = next(at for at, each in enumerate(table.ledger.rows) if each.role == "entry")
    cell = table.visualRect(table.ledger.index(row, 0)).center()
    assert {"Show its working", "Copy ledger", "Delete"} <= set(right_click(window, table.viewport(), cell))
    assert document.selected_part == table.ledger.rows[row].part
    close()
    workspace.show_tab("findings")
    findings = workspace.views["findings"]
    spot = findings.visualRect(findings.model().index(0, 0)).center()
    right_click(window, findings.viewport(), spot)
    choose("Copy this finding")
    assert findings.findings.findings[0].text in QApplication.clipboard().text()
    workspace.show_tab("alternatives")
    listed = workspace.views["alternatives"].findChild(AlternativesView)
    assert listed is not None
    listed.refresh()
    row = listed.visualItemRect(listed.item(1, 0)).center()
    assert "Move up" in right_click(window, listed.viewport(), row)
    close()


@pytest.mark.thorough
def test_a_case_a_fix_and_a_stretch_of_the_profile_have_theirs(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document, workspace = window.document, window.workspace
    workspace.show_tab("cases")
    cases = workspace.case_card.parent().findChild(CasesTable)  # type: ignore[union-attr]
    assert cases is not None
    cases.refresh()
    row = next(at for at, each in enumerate(cases.rows) if each.case == "coldest start")
    spot = cases.visualRect(cases.model().index(row, 0)).center()
    assert {"New case…", "Rename this case…"} <= set(right_click(window, cases.viewport(), spot))
    assert document.case == "coldest start", "the menu is of the case that was pointed at"
    close()
    workspace.show_tab("fixes")
    fixes = workspace.views["fixes"].findChild(FixList)
    assert fixes is not None
    qtbot.waitUntil(lambda: bool(fixes.fixes.rows) and not fixes.stale, timeout=20000)
    count = len(document.alternatives)
    right_click(window, fixes.viewport(), fixes.visualRect(fixes.fixes.index(0)).center())
    choose("Keep as alternative")
    assert len(document.alternatives) == count + 1
    workspace.show_tab("profile")
    profile = workspace.views["profile"]
    assert isinstance(profile, PressureProfile)
    assert profile.plot is not None
    stretch, start, end = next(each for each in profile.plot.stretches() if each[0].part == "riser")
    middle = ((start + end) / 2).toPoint()
    assert "Show its working" in right_click(window, profile.plot.viewport(), middle)
    assert document.selected_part == stretch.part
    close()


def test_no_menu_opens_under_a_hand_that_holds_something(opener: Opener) -> None:
    window = opener()
    sheet = window.workspace.elevation
    sheet.pick("pump")
    QTest.mouseClick(window.windowHandle(), RIGHT, NONE, sheet.mapTo(window, QPoint(40, 40)))
    assert QApplication.activePopupWidget() is None
    assert sheet.tool.picked == "pump"


def test_a_new_alternative_is_begun_on_the_tab_of_alternatives(
    opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    window.workspace.show_tab("alternatives")
    page = window.workspace.views["alternatives"]
    assert isinstance(page, AlternativesPage)
    monkeypatch.setattr(main_window.asking, "ask_for_text", lambda *_: "Wider riser")
    QTest.mouseClick(page.new, Qt.MouseButton.LeftButton)
    assert window.document.alternative == "Wider riser"
    assert page.new.text().startswith("New alternative")


@pytest.mark.parametrize(
    ("up", "down"), [(Qt.Key.Key_Period, Qt.Key.Key_Comma), (Qt.Key.Key_Up, Qt.Key.Key_Down)]
)
def test_a_size_goes_up_and_down_by_keys_that_a_desktop_leaves_alone(
    opener: Opener, up: Qt.Key, down: Qt.Key
) -> None:
    window = opener()
    document = window.document
    document.select("riser")
    drawn = document.layout.runs["riser"].size
    held = Qt.KeyboardModifier.ControlModifier
    if up == Qt.Key.Key_Up:
        held |= Qt.KeyboardModifier.AltModifier
    QTest.keyClick(window, up, held)
    assert document.layout.runs["riser"].size == "NPS 2-1/2 schedule 40"
    QTest.keyClick(window, down, held)
    assert document.layout.runs["riser"].size == drawn
