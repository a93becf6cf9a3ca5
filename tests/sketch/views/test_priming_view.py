"""The Priming view: worked out only while seen, its joints on the drawing, greyed by any change."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.pins import pins
from sketch.views.priming_view import PrimingView
from solver.layout.parts import SHORT_CASE
from solver.quantities.units import System
from tests.drawings import SHIPPED
from tests.sketch.shown import shown
from tests.sketch.views.scrolling import at_top, scrolled

PATHS = {path.stem: path for path in SHIPPED}


@pytest.fixture
def document() -> Document:
    document = Document()
    document.open(PATHS["over-the-bund-wall"])
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> PrimingView:
    return shown(qtbot, PrimingView(document), 1200, 420)


@pytest.mark.thorough
def test_plan_state_and_pins_follow_the_drawing(qtbot: QtBot, view: PrimingView, document: Document) -> None:
    assert view.heading.text().startswith("transfer, as drawn: before the first start. Within")
    assert "Close isolator and lock it" in view.work.toPlainText()
    assert "26.5" in view.facts.toPlainText()
    assert [pin.text for pin in pins(document).shown][:3] == ["1", "2", "3"]
    document.set_case(SHORT_CASE)
    assert view.stale
    assert not view.heading.isEnabled()
    assert pins(document).shown == ()
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert f'in the case "{SHORT_CASE}"' in view.heading.text()
    document.set_system(System.US)
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert "gal" in view.facts.toPlainText()


def test_a_hidden_view_works_nothing_out_and_takes_its_pins_away(
    qtbot: QtBot, view: PrimingView, document: Document
) -> None:
    view.hide()
    assert pins(document).shown == ()
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    qtbot.wait(250)
    assert view.stale
    view.show()
    assert not view.stale


def test_a_click_on_a_joint_selects_its_part(qtbot: QtBot, view: PrimingView, document: Document) -> None:
    pane = view.air.viewport()
    spot = next(
        QPoint(x, y)
        for y in range(0, pane.height(), 4)
        for x in range(0, pane.width(), 8)
        if view.air.anchorAt(QPoint(x, y)) == "2"
    )
    qtbot.mouseClick(pane, Qt.MouseButton.LeftButton, pos=spot)
    assert document.selected_part == "crossing"


def test_the_copy_is_what_the_terminal_prints(qtbot: QtBot, view: PrimingView, document: Document) -> None:
    qtbot.mouseClick(view.copy, Qt.MouseButton.LeftButton)
    text = QApplication.clipboard().text()
    assert text.startswith("transfer: before the first start")
    assert "of vacuum or more, as the machine's card says: " in " ".join(text.split())


def test_another_drawing_begins_at_the_first_step(
    qtbot: QtBot, view: PrimingView, document: Document
) -> None:
    """That of one opened later began where the last had been left, its lock-off out of sight."""
    panes = (view.facts, view.work, view.air)
    view.resize(900, 160)
    scrolled(*panes)
    document.set_system(System.US)
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert not any(at_top(pane) for pane in panes), "the same drawing stays where it is"
    document.open(PATHS["carriage-at-altitude"])
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert at_top(*panes)
    scrolled(*panes)
    view.hide()
    document.show_alternative(document.alternatives[0])
    view.show()
    assert at_top(*panes), "of an alternative chosen while it was hidden"
