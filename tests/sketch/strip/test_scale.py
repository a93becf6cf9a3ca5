"""The widgets that a knob is made of."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFont, QFontMetrics, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.label import Label
from sketch.model.document import Document
from sketch.strip.scale import Elided, broken
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


def test_a_text_is_broken_at_its_line_feeds_where_it_takes_more_than_one_line(qtbot: QtBot) -> None:
    metrics = QFontMetrics(Label().font())
    whole = 'over, est.\nin "first stroke"'
    wide = metrics.horizontalAdvance('over, est. in "first stroke"')
    assert broken(whole, metrics, wide) == ['over, est. in "first stroke"']
    assert broken(whole, metrics, wide - 1) == ["over, est.", 'in "first stroke"']
    assert broken(whole, metrics, metrics.horizontalAdvance("est. in")) == [
        "over,", "est. in", '"first', 'stroke"'
    ]  # fmt: skip


def test_what_takes_more_lines_than_there_are_ends_in_dots(qtbot: QtBot) -> None:
    label = Elided()
    qtbot.addWidget(label)
    label.resize(100, 40)
    label.set_whole("one two three four five six seven eight nine ten eleven twelve")
    assert label.text().endswith("…")
    assert "\n" not in label.text()
    assert label.lines_in(100) > 2
    label.set_lines(2)
    first, second = label.text().split("\n")
    assert (first.startswith("one"), second.endswith("…")) == (True, True)
    assert label.lines_in(10_000) == 1


def test_a_text_is_measured_once_for_a_width_and_a_font(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    label, measured = Elided(), list[str]()

    def spied(text: str, metrics: QFontMetrics, width: int) -> list[str]:
        measured.append(text)
        return broken(text, metrics, width)

    qtbot.addWidget(label)
    label.resize(200, 40)
    monkeypatch.setattr("sketch.strip.scale.broken", spied)
    text = "0.4 kPa worse than at first; worst case 0.4 kPa worse"
    label.set_whole(text)
    label.set_lines(2)
    lines = label.lines_in(200)
    assert (measured, lines > 1) == ([text], True)
    assert label.text().split("\n")[0] == broken(text, QFontMetrics(label.font()), 200)[0]
    large = QFont(label.font())
    large.setPointSizeF(2 * large.pointSizeF())
    label.setFont(large)
    assert label.lines_in(200) > lines
