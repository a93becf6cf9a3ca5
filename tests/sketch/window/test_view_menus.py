"""The menus of the views below the drawing that are about answers, curves, plans, workings and readings."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.model.inspector import gauger
from sketch.model.pins import pins
from sketch.window.main_window import Window
from solver.quantities.units import Kind, from_display
from tests.sketch.views.gauged import gauged, over_months
from tests.sketch.window.menus import choose, close, opened, right_click, texts
from tests.sketch.window.windows import LAYOUTS, Opener

ONE_WINDOW = True
ASIDE = QPoint(16, 0)
"""To where the next click of one button is no double click."""


@pytest.fixture(autouse=True)
def _open_menu_closed() -> Iterator[None]:
    yield
    if menu := QApplication.activePopupWidget():
        menu.close()


def clipboard() -> str:
    return QApplication.clipboard().text()


@pytest.mark.thorough
def test_answers_curves_and_workings_have_their_menu(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document, workspace = window.document, window.workspace
    workspace.show_tab("reach")
    reach = workspace.views["reach"]
    qtbot.waitUntil(lambda: bool(reach.reach.answers) and not reach.stale, timeout=20000)
    at = next(at for at, each in enumerate(reach.reach.answers) if each.question == "highest port")
    spot = reach.visualRect(reach.reach.index(at)).center()
    shown = right_click(window, reach.viewport(), spot)
    assert {"Copy this answer", "Copy all answers", "Show the curve over it"} <= set(shown)
    assert "Reach map" in shown
    choose("Copy this answer")
    assert clipboard().startswith("Highest port: ")
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Menu)
    choose("Show the curve over it")
    curves = workspace.views["curves"]
    assert workspace.tables.current == "curves"
    qtbot.waitUntil(lambda: curves.plot is not None and not curves.stale, timeout=20000)
    assert curves.subject.name == "port height"
    QApplication.processEvents()  # it is laid out
    middle = curves.plot.getViewBox().sceneBoundingRect().center()
    at_value = curves.plot.value_at(middle)
    shown = right_click(window, curves.plot.viewport(), middle.toPoint())
    assert shown[0].startswith("Put port height of carriage ")
    assert "Uncertainty of the margin" in shown
    choose(shown[0])
    put = document.layout.pumps["carriage"].at[1].si
    assert put == pytest.approx(from_display(at_value, Kind.LENGTH, document.system), abs=0.02)
    right_click(window, curves.plot.viewport(), middle.toPoint() + ASIDE)
    choose("Copy the picture of the curves")
    picture: QImage = QApplication.clipboard().image()
    assert picture.width() == curves.plot.width()
    workspace.show_tab("working")
    working = workspace.views["working"]
    working.show_key("riser/bend 1", keep=True)
    working.refresh()
    shown = right_click(window, working.page.viewport(), working.page.viewport().rect().center())
    assert {"Copy the steps", "Stay with this entry", "Part card", "Write calculation…"} <= set(shown)
    assert document.selected_part == "riser"
    choose("Copy the steps")
    assert "riser" in clipboard()
    workspace.show_tab("working")
    assert working.picker.hasFocus()
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Menu)
    assert "Copy the steps" in texts(opened()), "from the list of entries too"
    close()


def test_a_limit_is_kept_as_an_alternative(qtbot: QtBot, opener: Opener) -> None:
    window = opener(LAYOUTS / "baler-flooded.toml")
    document, workspace = window.document, window.workspace
    workspace.show_tab("reach")
    reach = workspace.views["reach"]
    qtbot.waitUntil(lambda: bool(reach.reach.answers) and not reach.stale, timeout=20000)
    answer = reach.reach.answers[0]
    assert answer.question == "highest port"
    assert answer.value is not None
    right_click(window, reach.viewport(), reach.visualRect(reach.reach.index(0)).center())
    assert "Reach map" in texts(opened())
    before, drawn = set(document.alternatives), document.layout
    choose("Keep this limit as alternative")
    (name,) = set(document.alternatives) - before
    kept = document.drawing.alternatives[name]
    assert kept.layout.pumps[document.pump].at[1].si == pytest.approx(answer.value, abs=0.01)
    assert answer.text in kept.note
    assert document.layout == drawn


def test_a_highest_port_that_is_kept_says_what_becomes_of_its_line(qtbot: QtBot, opener: Opener) -> None:
    window = opener(LAYOUTS / "shear-started-dry.toml")
    document, reach = window.document, window.workspace.views["reach"]
    window.workspace.show_tab("reach")
    qtbot.waitUntil(lambda: bool(reach.reach.answers) and not reach.stale, timeout=20000)
    right_click(window, reach.viewport(), reach.visualRect(reach.reach.index(0)).center())
    before = set(document.alternatives)
    choose("Keep this limit as alternative")
    (name,) = set(document.alternatives) - before
    assert document.drawing.alternatives[name].note.endswith("Shear turned, its line now comes from below.")


def test_the_plan_of_priming_has_the_parts_of_its_joints(opener: Opener) -> None:
    window = opener()
    window.workspace.show_tab("priming")
    priming = window.workspace.views["priming"]
    priming.refresh()
    page = priming.air
    links = [x for y in range(0, page.viewport().height(), 4) for x in ((20, y), (60, y), (90, y))]
    spot = next(QPointF(*at).toPoint() for at in links if page.anchorAt(QPointF(*at).toPoint()))
    part = priming.part_of(page.anchorAt(spot))
    shown = right_click(window, page.viewport(), spot)
    assert window.document.selected_part == part != ""
    assert {"Copy the whole plan", "Part card", "Write card for the machine…"} <= set(shown)
    close()
    page.selectAll()
    right_click(window, page.viewport(), spot + ASIDE)
    choose("Copy what is marked")
    assert "Where air may come in" in clipboard()
    assert priming.part_of("99") == priming.part_of("") == ""


@pytest.mark.thorough
def test_readings_and_their_gauges_have_theirs(tmp_path: Path, qtbot: QtBot, opener: Opener) -> None:
    window = opener(gauged(tmp_path))
    document, workspace = window.document, window.workspace
    workspace.show_tab("readings")
    readings = workspace.views["readings"]
    qtbot.waitUntil(lambda: readings._inspector.comparisons is not None, timeout=20000)
    readings.refresh()
    row = next(at for at, each in enumerate(readings.rows) if each.number == 1)
    table = readings.table
    spot = table.visualRect(table.model().index(row, 1)).center()
    shown = right_click(window, table.viewport(), spot)
    assert readings.chosen == 1
    assert {"Explain this visit", "Over time", "Delete this reading", "New reading"} <= set(shown)
    choose("Go to its place on the drawing")
    assert document.selected_part == "crossing"
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Escape)
    right_click(window, table.viewport(), spot + ASIDE)
    choose("Copy this reading")
    assert clipboard().startswith("2026-02-01")
    right_click(window, table.viewport(), spot)
    choose("Delete this reading")
    assert len(document.layout.readings) == 3
    document.undo_stack.undo()
    _of_a_gauge(window, qtbot)


def _of_a_gauge(window: Window, qtbot: QtBot) -> None:
    """The gauge that stands on the drawing leads to its reading."""
    readings, sheet = window.workspace.views["readings"], window.workspace.elevation
    window.workspace.show_tab("ledger")
    qtbot.waitUntil(lambda: bool(pins(window.document).shown), timeout=20000)
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Escape, Qt.KeyboardModifier.ShiftModifier)
    assert window.notice.text == "", "the message of a reading lies over the gauge, until it is put away"
    sheet.repaint()
    pin = next(each for each in pins(window.document).shown if each.number >= 0)
    right_click(window, sheet, QPointF(*sheet.view.device(pin.x, pin.z)).toPoint())
    choose("Show this reading")
    assert window.workspace.tables.current == "readings"
    assert readings.chosen == pin.number
    workspace, mark = window.workspace, gauger(window.document).marks[-1]
    label = next(
        each for each in workspace.column.drawn.labels if each.text == mark.short(window.document.system)
    )
    at = QPointF(label.box.x + 4, label.box.y + label.box.height / 2).toPoint()
    assert right_click(window, workspace.column, at)[0] == "Show this reading"
    close()
    workspace.show_tab("profile")
    plot = workspace.views["profile"].plot
    QApplication.processEvents()
    read = next(each for each in plot._profile.reads if each.number == mark.number)
    point = plot.place(read.x, sum(read.shown) / 2)
    assert plot.reading_at(point.x(), point.y()) == mark.number
    assert plot.reading_at(point.x(), point.y() + 60.0) == -1
    right_click(window, plot.viewport(), point.toPoint())
    choose("Show this reading")
    assert readings.chosen == mark.number


@pytest.mark.thorough
def test_causes_and_points_of_a_trend_have_theirs(tmp_path: Path, qtbot: QtBot, opener: Opener) -> None:
    window = opener(over_months(tmp_path))
    document, workspace = window.document, window.workspace
    workspace.show_tab("readings")
    readings = workspace.views["readings"]
    readings.sides.setCurrentWidget(readings.trend)
    plot = readings.trend.plot
    qtbot.waitUntil(lambda: plot.trend is not None, timeout=60000)
    x = next(x for x in range(plot.width()) if plot.number_at(x) == 1)
    right_click(window, plot, QPointF(x, 20).toPoint())
    choose("Show this reading")
    assert readings.chosen == 1
    spot = readings.table.visualRect(readings.table.currentIndex()).center()
    right_click(window, readings.table.viewport(), spot)
    choose("Explain this visit")
    causes = workspace.views["causes"]
    assert workspace.tables.current == "causes"
    qtbot.waitUntil(lambda: bool(causes.rows), timeout=60000)
    assert causes.visit.currentText().startswith("2026-02-12")
    table = causes.table
    spot = table.visualRect(table.model().index(0, 0)).center()
    shown = right_click(window, table.viewport(), spot)
    assert {"Put it into the drawing", "Copy all causes"} <= set(shown)
    choose("Copy this cause")
    assert clipboard() == causes.rows[0].spoken
    before = len(document.layout.cases) + len(document.alternatives)
    right_click(window, table.viewport(), spot + ASIDE)
    choose("Put it into the drawing")
    assert len(document.layout.cases) + len(document.alternatives) > before
