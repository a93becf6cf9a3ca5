"""Why something typed in the strip is wrong, where it can be read whole."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.strip.refusal import Refusal

TEXT = (
    'Fluid temperature: found "warm", which does not begin with a number. '
    "Allowed: a temperature, one number with a decimal point and one unit (degC, degF, K)"
)


@pytest.mark.parametrize(("y", "above"), [(200, True), (2, False)])
def test_it_stands_whole_at_its_field_until_it_is_given_up(qtbot: QtBot, y: int, above: bool) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(500, 260)
    strip = QWidget(window)
    strip.setGeometry(0, y, 500, 40)
    field = QLineEdit(strip)
    field.setGeometry(420, 5, 70, 24)
    refusal = Refusal(strip)
    with qtbot.waitExposed(window):
        window.show()
    refusal.show_at(field, TEXT, strip)
    there, at = refusal.geometry(), field.mapTo(window, QPoint(0, 0))
    assert window.rect().contains(there)
    assert there.bottom() < strip.y() if above else there.top() > at.y() + field.height()
    assert there.height() >= refusal.heightForWidth(there.width())
    with qtbot.waitSignal(refusal.given_up):
        qtbot.mouseClick(refusal, Qt.MouseButton.LeftButton)
    strip.hide()
    assert not refusal.isVisible()
