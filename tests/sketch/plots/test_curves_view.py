"""The curves on the screen: chosen, read off, dragged, and never those of another drawing."""

import threading
from collections.abc import Callable, Iterator
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
from sketch.plots import curves_view, curves_worker
from sketch.plots.curves_labels import CurvesLabels
from sketch.plots.curves_plot import CurvesPlot
from sketch.plots.curves_view import CurvesView
from solver.quantities.units import Kind, System, to_display
from tests.sketch.shown import opened

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document() -> Document:
    return opened("baler-flooded")


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> CurvesView:
    view = CurvesView(document)
    qtbot.addWidget(view)
    view.resize(1100, 340)
    with qtbot.waitExposed(view):
        view.show()
    worked_out(qtbot, view)
    return view


def worked_out(qtbot: QtBot, view: CurvesView) -> CurvesPlot:
    """The plot, once it shows the curves of the drawing that is open."""
    qtbot.waitUntil(lambda: view.plot is not None and not view.busy, timeout=20000)
    assert not view.stale
    return laid_out(view)


@pytest.fixture
def stopped(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Curves that are not worked out before the event is set."""
    go_on, sound = threading.Event(), curves_worker.curves
    monkeypatch.setattr(curves_worker, "curves", lambda *given: go_on.wait(20.0) and sound(*given))
    yield go_on
    go_on.set()


def choose(view: CurvesView, text: str) -> None:
    view.over.setCurrentText(text)
    view.over.activated.emit(view.over.currentIndex())


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


def assert_worst_margin(view: CurvesView, document: Document) -> None:
    """Today's point stands at the least margin of the drawing as it is."""
    judgement = document.outcome.judgement
    assert judgement is not None
    place = judgement.worst("baler")
    assert place is not None
    shown = laid_out(view)._picture
    assert shown is not None
    assert shown.today.y == pytest.approx(to_display(place.ledger.margin, Kind.VACUUM, System.SI), abs=1e-3)


def test_dragging_the_point_changes_the_drawing_in_one_undo_step(
    view: CurvesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = document.layout
    read: list[float] = []
    monkeypatch.setattr(CurvesLabels, "read_off", lambda labels, at: read.append(at))
    drag(view, 121)
    plot = laid_out(view)
    shown = to_display(document.layout.pumps["baler"].at[1].si, Kind.LENGTH, System.SI)
    assert read[-1] == pytest.approx(shown, abs=1e-9)  # of the point in hand, not of the pixel under it
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=held(view))
    assert document.layout.pumps["baler"].at[1].si > before.pumps["baler"].at[1].si + 0.1
    assert document.undo_stack.count() == 1
    assert_worst_margin(view, document)
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
def test_what_the_strip_does_not_turn_is_not_dragged(
    qtbot: QtBot, view: CurvesView, document: Document
) -> None:
    before = document.layout
    choose(view, "Density")
    plot = worked_out(qtbot, view)
    drag(view, 100)
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton)
    assert document.layout is before


def test_curves_are_greyed_at_once_and_worked_out_at_rest(
    qtbot: QtBot, view: CurvesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    sound: Callable[..., object] = curves_worker.curves
    monkeypatch.setattr(curves_worker, "curves", lambda *given: asked.append(given) or sound(*given))
    plot = laid_out(view)
    fresh = plot.grab().toImage()
    for step in range(1, 5):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
        assert plot.stale
    assert plot.grab().toImage() != fresh
    assert asked == []
    qtbot.waitUntil(lambda: not plot.stale, timeout=3000)
    assert len(asked) == 1


@pytest.mark.thorough
def test_the_hand_goes_on_while_curves_are_worked_out(
    qtbot: QtBot, view: CurvesView, document: Document, stopped: threading.Event
) -> None:
    """They stay grey meanwhile, are not written to a file, and their point is not to be taken hold of."""
    plot, at = laid_out(view), held(view)
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    qtbot.waitUntil(lambda: view._worker._running is not None, timeout=5000)
    warm = document.layout
    for colder in (322.0, 323.0):
        document.apply("Cool", edits.set_temperature(document.layout, colder))
        assert plot.stale
    QTest.mousePress(plot.viewport(), Qt.MouseButton.LeftButton, pos=at)
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert not plot.dragging
    assert not view._csv_button.isEnabled()
    stopped.set()
    worked_out(qtbot, view)
    assert not plot.stale
    assert view._csv_button.isEnabled()
    assert view._worker.answered is not None
    assert view._worker.answered.question.layout is document.layout is not warm


@pytest.mark.thorough
def test_a_point_that_was_let_go_stays_where_it_was_brought(
    qtbot: QtBot, view: CurvesView, document: Document, stopped: threading.Event
) -> None:
    plot = laid_out(view)
    drag(view, 120)
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=held(view))
    assert plot._picture is not None
    brought = plot._picture.today.x
    qtbot.waitUntil(lambda: view._worker._running is not None, timeout=5000)
    assert not plot.stale, "the curves are drawn over the very figure that was dragged"
    assert_worst_margin(view, document)
    stopped.set()
    worked_out(qtbot, view)
    assert plot._picture.today.x == pytest.approx(brought)
    assert_worst_margin(view, document)
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert plot.stale


@pytest.mark.thorough
def test_another_quantity_leaves_old_curves_grey(
    view: CurvesView, document: Document, stopped: threading.Event
) -> None:
    plot = laid_out(view)
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    view.quantity.setCurrentText("Vacuum")
    view.quantity.activated.emit(view.quantity.currentIndex())
    assert plot.stale


def test_hidden_it_works_nothing_out(
    qtbot: QtBot, view: CurvesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(curves_worker, "curves", lambda *given: asked.append(given))
    view.hide()
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert not view.busy
    assert asked == []


def test_another_drawing_leaves_nothing_of_the_last(view: CurvesView, document: Document) -> None:
    last = view.plot
    document.open(LAYOUTS / "winter-press.toml")
    assert view.subject is None
    assert view.plot is None
    assert last is not None
    assert last.isHidden()
    assert view._working_out.isVisible()


@pytest.mark.thorough
def test_alternatives_come_when_asked(qtbot: QtBot, view: CurvesView, document: Document) -> None:
    view.alternatives.click()
    shown = worked_out(qtbot, view)._picture
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
    assert view._chance.text() == curves_view.DRAWING_OUT
    qtbot.waitUntil(lambda: view._chance.text() != curves_view.DRAWING_OUT, timeout=20000)
    shown = laid_out(view)._picture
    assert shown is not None
    band = next(band for band in shown.bands if band.role == "unsure")
    judged = np.isfinite(band.low)
    assert judged.sum() > 5
    assert (band.low < band.high)[judged].all()
    assert "of what is not known" in view._chance.text()
    assert view._chance.text().startswith('"coldest start": over in ')
    assert "Every figure is picked by itself" in view._chance.toolTip()


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
    qtbot.waitUntil(lambda: view._chance.text() != curves_view.DRAWING_OUT, timeout=20000)
    assert view._chance.isVisible()
    shown = laid_out(view)._picture
    assert shown is not None
    assert "unsure" in {band.role for band in shown.bands}


@pytest.mark.thorough
def test_where_a_height_cannot_be_built_it_says_which_and_why(qtbot: QtBot, view: CurvesView) -> None:
    shown = laid_out(view)._picture
    assert shown is not None
    lower, upper = shown.gaps
    assert lower.low < lower.high <= shown.today.x <= upper.low < upper.high
    for gap in shown.gaps:
        assert gap.why.startswith("link: bend 1 and bend 2 need ")
        middle = (gap.low + gap.high) / 2
        assert "worst case: not judged" in shown.reading(middle)
        assert gap.why.split(" of ")[0] in shown.reading(middle)
    assert view._gaps.isVisible()
    text = view._gaps.text()
    assert text.startswith("Not judged from 0.")
    assert text == f"Not judged {lower.where} and {upper.where}: {lower.why}."
    assert "\n" not in text, "the plot has more use for the room"
    choose(view, "Temperature")
    worked_out(qtbot, view)
    assert not view._gaps.isVisible()


def test_what_is_varied_stays_chosen_where_the_curves_go_on_past_its_range(
    qtbot: QtBot, view: CurvesView, document: Document
) -> None:
    document.open(LAYOUTS / "shear-started-dry.toml")
    plot = worked_out(qtbot, view)
    assert view.over.currentText() == "Port height of shear"
    assert [mark.text for mark in plot._picture.crossings] == ["3.33 m"]
    choose(view, "Flow of shear")
    worked_out(qtbot, view)
    assert view.over.currentText() == "Flow of shear"
