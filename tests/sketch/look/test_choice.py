"""A box to choose from leaves the wheel to its page, and a letter to its list."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.choice import Choice


def test_the_wheel_changes_nothing_and_goes_on_to_the_page(qtbot: QtBot) -> None:
    box = Choice()
    qtbot.addWidget(box)
    box.addItems(["line", "tank"])
    place, none = QPointF(5.0, 5.0), QPoint()
    event = QWheelEvent(
        place, place, none, QPoint(0, -120), Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(box, event)
    assert box.currentText() == "line"
    assert not event.isAccepted()


def test_a_letter_opens_the_list_and_chooses_nothing_by_itself(qtbot: QtBot) -> None:
    box, chosen = Choice(), list[int]()
    qtbot.addWidget(box)
    box.addItems(["line", "tank"])
    box.activated.connect(chosen.append)
    with qtbot.waitExposed(box):
        box.show()
    qtbot.keyClick(box, Qt.Key.Key_T)
    assert (box.currentText(), chosen, box.view().isVisible()) == ("line", [], True)
    qtbot.keyClick(box.view(), Qt.Key.Key_Escape)
    assert (box.currentText(), chosen) == ("line", [])
    qtbot.keyClick(box, Qt.Key.Key_T)
    qtbot.keyClick(box.view(), Qt.Key.Key_Return)
    assert (box.currentText(), chosen) == ("tank", [1])
