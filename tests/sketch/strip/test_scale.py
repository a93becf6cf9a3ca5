"""The widgets that a knob is made of."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.strip.whatif import WhatIfStrip
from solver.quantities.units import System
from tests.sketch.strip.strips import slide, type_in


def test_tick_stands_at_the_saved_value_until_the_next_save(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    scale = strip.turners["Port height"].scale
    assert scale.tick == scale.value()
    slide(qtbot, strip.turners["Port height"], 5, 10)
    assert scale.value() > scale.tick
    document.save()
    assert scale.tick == scale.value()


def test_sliders_do_not_shift_under_the_hand(strip: WhatIfStrip, document: Document, qtbot: QtBot) -> None:
    def places() -> list[tuple[int, int, int]]:
        sliders = (turner.scale for turner in strip.turners.values())
        return [(scale.mapTo(strip, QPoint()).x(), scale.width(), scale.height()) for scale in sliders]

    before = places()
    type_in(qtbot, strip.turners["Port height"], "1.37 m")
    document.set_system(System.US)
    QApplication.processEvents()
    assert places() == before


def test_wheel_over_a_slider_that_was_not_taken_up_changes_nothing(
    strip: WhatIfStrip, document: Document
) -> None:
    scale = strip.turners["Port height"].scale
    strip.turners["Pump speed"].field.setFocus()
    at = QPointF(10, 10)
    event = QWheelEvent(
        at,
        QPointF(scale.mapToGlobal(at)),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(scale, event)
    assert document.clean
    assert not event.isAccepted()
