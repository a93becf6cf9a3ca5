"""A box to choose from leaves the wheel to its page."""

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
