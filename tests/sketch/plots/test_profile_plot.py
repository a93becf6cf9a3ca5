from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.model.read_marks import newest_readings
from sketch.plots.profile import profile
from sketch.plots.profile_plot import ProfilePlot, reading
from sketch.plots.profile_view import PressureProfile
from solver.layout.cases import cases_of
from solver.quantities.units import System
from tests.sketch.plots.profiles import shown


def middle(plot: ProfilePlot, key: str) -> QPoint:
    start, end = next((start, end) for each, start, end in plot.stretches() if each.key == key)
    return ((start + end) / 2).toPoint()


def picture(plot: ProfilePlot) -> QImage:
    return plot.grab().toImage()


def test_hovering_points_and_pointing_elsewhere_lights_the_line(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    document, plot = view_shown.document, view_shown.plot
    plain = picture(plot)
    qtbot.mouseMove(plot.viewport(), middle(plot, "riser/straight 1"))
    assert document.pointed_key == "riser/straight 1"
    lit = picture(plot)
    assert lit != plain
    area = plot.getViewBox().sceneBoundingRect()
    qtbot.mouseMove(plot.viewport(), QPointF(area.right() - 30, area.top() + 60).toPoint())
    assert document.pointed_key == ""
    document.point("riser/straight 1")
    assert picture(plot) == lit


def test_a_click_selects_the_part_and_a_drag_does_not(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    document, plot = view_shown.document, view_shown.plot
    spot = middle(plot, "riser/straight 1")
    qtbot.mouseClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert document.selected_part == "riser"
    document.select("")
    qtbot.mousePress(plot.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    qtbot.mouseMove(plot.viewport(), spot + QPoint(40, 10))
    qtbot.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=spot + QPoint(40, 10))
    assert document.selected_part == ""


def test_a_credit_and_the_loss_that_takes_it_back_can_both_be_pointed_at(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "header-two-pumps.toml")
    document, plot = view_shown.document, view_shown.plot
    for key in ("tank/flooded head", "nozzle/entrance"):
        qtbot.mouseMove(plot.viewport(), middle(plot, key))
        assert document.pointed_key == key


@pytest.mark.thorough
def test_the_whole_profile_is_in_sight_in_both_unit_systems(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "over-the-bund-wall.toml")
    document, plot = view_shown.document, view_shown.plot
    for system in System:
        document.set_system(system)
        area = plot.getViewBox().sceneBoundingRect()
        for _, start, end in plot.stretches():
            assert area.contains(start)
            assert area.contains(end)


def test_a_drag_of_the_drawing_keeps_the_axes_still(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    document, plot = view_shown.document, view_shown.plot
    before = plot.viewRange()
    document.set_level("normal")
    assert plot.viewRange() == before


def test_a_double_click_shows_all_again(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    plot = view_shown.plot
    before = plot.viewRange()
    plot.setXRange(1.0, 1.2)
    assert plot.viewRange() != before
    qtbot.mouseDClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(400, 150))
    assert plot.viewRange()[0] == pytest.approx(before[0])
    assert plot.viewRange()[1] == pytest.approx(before[1])


def test_the_reading_says_what_a_gauge_would(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    document, plot = view_shown.document, view_shown.plot
    assert document.ledger is not None
    assert plot._profile is not None
    port = plot._profile.stretches[-1]
    assert f"{document.ledger.vacuum / 3386.389:.2f} inHg of vacuum" in reading(port, plot._profile)
    assert "of the budget" in reading(port, plot._profile)
    assert "0.00 inHg" not in reading(replace(port, y1=plot._profile.atmosphere + 0.01), plot._profile)
    assert "\nthe column breaks, " in reading(replace(port, y1=-3.0), plot._profile)


def test_a_long_line_is_labelled_where_it_costs_most(qtbot: QtBot, tmp_path: Path) -> None:
    from tests import drawings

    path = tmp_path / "long.toml"
    path.write_text(drawings.steps_text(200), encoding="utf-8")
    document = Document()
    document.open(path)
    view = PressureProfile(document)
    qtbot.addWidget(view)
    view.resize(1100, 320)
    with qtbot.waitExposed(view):
        view.show()
    assert view.plot is not None
    assert not view.plot.grab().isNull()
    assert view.plot.stretch_at(*view.plot.stretches()[10][1].toTuple()) is not None


def test_every_gauge_is_named_before_the_shares_take_its_room(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    document, view, plot = shown(qtbot, "strainer-over-a-year.toml")
    view.resize(1366, 212)
    marks = newest_readings(document.layout).marks["feed"]
    assert document.solution is not None
    plot.show_profile(profile(document.solution, "feed", document.system, reads=marks))
    names: list[str] = []
    monkeypatch.setattr(type(plot), "label", lambda plot, painter, box, text, ink: names.append(text))
    assert not view.grab().isNull()
    named = [name for name in names if name.startswith("read ")]
    assert named == ["read 3.5, 2026-02-23", "read 11.3, 2026-02-23"]
    assert "riser 24 %" in names  # the costliest stretch, whose middle is taken by a reading


def test_every_other_case_is_named_the_worst_first(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    view_shown = shown(qtbot, "winter-press.toml")
    document, plot = view_shown.document, view_shown.plot
    document.set_other_cases(True)
    written: list[str] = []
    monkeypatch.setattr(ProfilePlot, "label", lambda _, painter, box, text, *rest: written.append(text))
    plot.grab()
    named = [
        text.partition(":")[0] for text in written if text.partition(":")[0] in cases_of(document.layout)
    ]
    assert set(named) == set(cases_of(document.layout)) - {document.case}
    assert named[0] == "first stroke"
