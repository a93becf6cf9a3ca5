"""The strip above the drawing."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing.edits import move_part
from tests.sketch.window.windows import BESIDE, CONTROL, LAYOUTS, Opener, margin

ONE_WINDOW = True


def test_the_notes_can_be_read_whole(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    story = window.heading
    assert story.more.isVisible()
    assert story.notes.text().endswith("…")
    before = story.height()
    qtbot.mouseClick(story.more, Qt.MouseButton.LeftButton)
    assert "The pump growls" in story.notes.text()
    qtbot.waitUntil(lambda: story.height() > before)
    qtbot.mouseClick(story.more, Qt.MouseButton.LeftButton)
    assert story.notes.text().endswith("…")


def test_choosers_stand_there_only_when_there_is_a_choice(opener: Opener) -> None:
    window = opener()
    assert window.heading.alternatives.isVisible()
    assert not window.heading.pumps.isVisible()
    assert window.actions_by_name.menu("View/Alternative").menuAction().isVisible()
    assert not window.actions_by_name.menu("View/Pump").menuAction().isVisible()
    assert window.files.read(LAYOUTS / "header-two-pumps.toml")
    assert window.heading.pumps.isVisible()
    other = window.heading.pumps.itemData(1)
    window.heading.pumps.activated.emit(1)
    assert window.document.pump == other


def test_an_alternative_is_chosen_and_tells_its_own_story(opener: Opener) -> None:
    window = opener()
    over = margin(window)
    at = window.heading.alternatives.findData("Pump beside the tank")
    window.heading.alternatives.activated.emit(at)
    assert window.document.alternative == "Pump beside the tank"
    assert margin(window) > 0 > over
    assert "On a stand beside the tank" in window.heading.notes.accessibleName()


def test_an_alternative_keeps_the_zoom_and_says_how_it_stands(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    elevation, story = window.workspace.elevation, window.heading
    assert not story.compared.isVisible()
    elevation.zoom(1.5)
    view = elevation.view
    before = margin(window), min(window.document.outcome.margins(window.document.pump).values())
    qtbot.keyClick(window, Qt.Key.Key_PageDown, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_PageDown, CONTROL)
    assert window.document.alternative == BESIDE
    assert elevation.view == view
    now = margin(window), min(window.document.outcome.margins(window.document.pump).values())
    shown, worst = ((after - old) / 3386.389 for after, old in zip(now, before, strict=True))
    assert story.compared.isVisible()
    assert story.compared.text() == (
        f"Worst case {worst:.2f} inHg better than drawn; in view {shown:.2f} inHg better."
    )
    qtbot.keyClick(window, Qt.Key.Key_PageUp, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_PageUp, CONTROL)
    assert window.document.alternative == ""
    assert elevation.view == view
    assert not story.compared.isVisible()


class LaidOut(QObject):
    """Counts how often a widget is to be laid out again."""

    def __init__(self, widget: QObject) -> None:
        super().__init__(widget)
        self.times = 0
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.times += event.type() == QEvent.Type.LayoutRequest
        return False


def test_another_mark_of_a_case_is_shown_without_laying_out_the_heading(opener: Opener) -> None:
    window = opener(LAYOUTS / "winter-press.toml")
    box, document = window.heading.cases, window.document
    last = box.count() - 1
    document.set_case(box.itemData(last))
    QApplication.processEvents()
    shown, said = box.grab().toImage(), box.itemData(last, Qt.ItemDataRole.AccessibleTextRole)
    laid_out = LaidOut(box.parentWidget())
    QApplication.processEvents()
    laid_out.times = 0  # what opening the drawing and the grab have asked for is done
    x, z = (value.si for value in document.layout.pumps[document.pump].at)
    assert document.apply("higher", move_part(document.layout, document.pump, x, z + 3.0))
    QApplication.processEvents()
    assert box.itemData(last, Qt.ItemDataRole.AccessibleTextRole) != said
    assert box.grab().toImage() != shown
    assert laid_out.times == 0
    document.undo_stack.undo()
    QApplication.processEvents()
    assert box.itemData(last, Qt.ItemDataRole.AccessibleTextRole) == said
    assert box.grab().toImage() == shown
