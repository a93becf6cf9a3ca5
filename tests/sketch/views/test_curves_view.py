"""The curves on the screen: chosen, read off, dragged, and never those of another drawing."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.views import curves_view
from sketch.views.curves_plot import CurvesPlot
from sketch.views.curves_view import CurvesView
from solver.quantities.units import Kind, System, to_display

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document() -> Document:
    document = Document()
    document.open(LAYOUTS / "baler-flooded.toml")
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> CurvesView:
    view = CurvesView(document)
    qtbot.addWidget(view)
    view.resize(1100, 340)
    with qtbot.waitExposed(view):
        view.show()
    laid_out(view)
    return view


def laid_out(view: CurvesView) -> CurvesPlot:
    assert view.plot is not None
    for _ in range(2):
        view.plot.grab()
        QApplication.processEvents()
    return view.plot


def held(view: CurvesView) -> QPoint:
    place = laid_out(view).today()
    assert place is not None
    return place.toPoint()


def drag(view: CurvesView, by: int) -> None:
    plot, start = view.plot, held(view)
    assert plot is not None
    QTest.mousePress(plot.viewport(), Qt.MouseButton.LeftButton, pos=start)
    for step in (by // 2, by):
        QTest.mouseMove(plot.viewport(), start + QPoint(step, 0))
        QApplication.processEvents()


def test_dragging_the_point_changes_the_drawing_in_one_undo_step(
    view: CurvesView, document: Document
) -> None:
    before = document.layout
    drag(view, 120)
    plot = view.plot
    assert plot is not None
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=held(view))
    assert document.layout.pumps["baler"].at[1].si > before.pumps["baler"].at[1].si + 0.1
    assert document.undo_stack.count() == 1
    judgement = document.outcome.judgement
    assert judgement is not None
    place = judgement.worst("baler")
    assert place is not None
    shown = laid_out(view)._picture
    assert shown is not None
    assert shown.today.y == pytest.approx(to_display(place.ledger.margin, Kind.VACUUM, System.SI), abs=1e-3)
    document.undo_stack.undo()
    assert document.layout == before


@pytest.mark.thorough
def test_escape_gives_the_drag_up(qtbot: QtBot, view: CurvesView, document: Document) -> None:
    before = document.layout
    drag(view, 100)
    assert document.layout != before
    assert view.plot is not None
    qtbot.keyClick(view.plot, Qt.Key.Key_Escape)
    QTest.mouseRelease(view.plot.viewport(), Qt.MouseButton.LeftButton, pos=held(view))
    assert document.layout == before
    assert document.undo_stack.count() == 0


@pytest.mark.thorough
def test_what_the_strip_does_not_turn_is_not_dragged(view: CurvesView, document: Document) -> None:
    before = document.layout
    view.over.setCurrentText("Density")
    view.over.activated.emit(view.over.currentIndex())
    plot = laid_out(view)
    drag(view, 100)
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton)
    assert document.layout is before


def test_curves_are_greyed_at_once_and_worked_out_at_rest(
    qtbot: QtBot, view: CurvesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    sound: Callable[..., object] = curves_view.curves
    monkeypatch.setattr(curves_view, "curves", lambda *given: asked.append(given) or sound(*given))
    plot = laid_out(view)
    fresh = plot.grab().toImage()
    for step in range(1, 5):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
        assert plot.stale
    assert plot.grab().toImage() != fresh
    assert asked == []
    qtbot.waitUntil(lambda: not plot.stale, timeout=3000)
    assert len(asked) == 1


def test_hidden_it_works_nothing_out(
    qtbot: QtBot, view: CurvesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(curves_view, "curves", lambda *given: asked.append(given))
    view.hide()
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert not view._idle.isActive()
    assert asked == []


def test_another_drawing_leaves_nothing_of_the_last(view: CurvesView, document: Document) -> None:
    document.open(LAYOUTS / "winter-press.toml")
    assert view._curves is None
    assert view.plot is None


@pytest.mark.thorough
def test_alternatives_come_when_asked(view: CurvesView, document: Document) -> None:
    view.alternatives.click()
    shown = laid_out(view)._picture
    assert shown is not None
    named = {line.name for line in shown.lines if line.role == "alternative"}
    assert named == set(document.alternatives)


@pytest.mark.thorough
def test_pointing_reads_the_figures_off(view: CurvesView) -> None:
    plot = laid_out(view)
    plain = plot.grab().toImage()
    area = plot.getViewBox().sceneBoundingRect()
    QTest.mouseMove(plot.viewport(), QPoint(int(area.left()) + 200, int(area.center().y())))
    QApplication.processEvents()
    assert plot.grab().toImage() != plain


@pytest.mark.thorough
def test_picture_and_csv_are_written(view: CurvesView, tmp_path: Path) -> None:
    view.save_picture(tmp_path / "a.png")
    view.save_csv(tmp_path / "a.csv")
    assert (tmp_path / "a.png").read_bytes().startswith(b"\x89PNG")
    assert (
        (tmp_path / "a.csv")
        .read_text(encoding="utf-8")
        .startswith("alternative,case,port height of baler [m],")
    )


@pytest.mark.thorough
def test_uncertainty_is_off_until_asked_and_then_has_its_band_and_sentence(
    qtbot: QtBot, view: CurvesView, document: Document
) -> None:
    """The first time a thread loads what it takes, and the hand goes on meanwhile."""
    shown = laid_out(view)._picture
    assert shown is not None
    assert not view._chance.isVisible()
    assert "unsure" not in {band.role for band in shown.bands}
    view.uncertainty.click()
    assert view._chance.text() == curves_view.LOADING
    qtbot.waitUntil(lambda: view._chance.text() != curves_view.LOADING, timeout=20000)
    shown = laid_out(view)._picture
    assert shown is not None
    band = next(band for band in shown.bands if band.role == "unsure")
    judged = np.isfinite(band.low)
    assert judged.sum() > 5
    assert (band.low < band.high)[judged].all()
    assert "of 100 draws of what is not known" in view._chance.text()
    assert view._chance.text().startswith('"coldest start": over in ')
    assert "Every figure is drawn by itself" in view._chance.toolTip()


@pytest.mark.thorough
def test_the_box_and_the_switch_of_the_view_menu_are_one(
    qtbot: QtBot, view: CurvesView, document: Document
) -> None:
    switch = doubt(document)
    view.uncertainty.click()
    assert switch.on
    switch.toggle()
    assert not view.uncertainty.isChecked()
    assert not view._chance.isVisible()
    switch.toggle()
    assert view.uncertainty.isChecked()
    qtbot.waitUntil(lambda: view._chance.text() != curves_view.LOADING, timeout=20000)
    assert view._chance.isVisible()
    shown = laid_out(view)._picture
    assert shown is not None
    assert "unsure" in {band.role for band in shown.bands}


@pytest.mark.thorough
def test_where_a_height_cannot_be_built_it_says_which_and_why(view: CurvesView) -> None:
    shown = laid_out(view)._picture
    assert shown is not None
    lower, upper = shown.gaps
    assert lower.low < lower.high <= shown.today.x <= upper.low < upper.high
    for gap in shown.gaps:
        assert gap.why.startswith("lead: bend 1 and bend 2 need ")
        middle = (gap.low + gap.high) / 2
        assert "worst case: not judged" in shown.reading(middle)
        assert gap.why.split(" of ")[0] in shown.reading(middle)
    assert view._gaps.isVisible()
    text = view._gaps.text()
    assert text.startswith("Not judged from 0.")
    assert text.endswith(f"{upper.why}.")
    assert text.count("Not judged from ") == 2
    assert "\n" not in text, "the plot has more use for the room"
    view.over.setCurrentIndex(view.over.findText("Temperature"))
    view.refresh()
    assert not view._gaps.isVisible()
