"""The words over the drawing while something is in hand."""

from __future__ import annotations

from PySide6.QtTest import QTest

from sketch.canvas.elevation import Elevation
from sketch.canvas.foreground import Foreground
from sketch.look.colours import LIGHT
from tests.sketch.canvas.mouse import document_of, drag, spot


def test_words_say_where_what_is_in_hand_would_go_and_nothing_without_it(canvas: Elevation) -> None:
    foreground = Foreground(document_of(canvas), canvas.hand, canvas.tool, canvas.selector)
    assert foreground.words(LIGHT) == []
    canvas.pick("pump")
    QTest.mouseMove(canvas, spot(canvas, 0.9, 0.9))
    assert [text for text, _ in foreground.words(LIGHT)] == ["x 0.900 m, height 0.900 m"]
    canvas.pick("")
    drag(canvas, (0.6, 1.0), (0.6, 1.1), (0.6, 1.2), release=False)
    assert foreground.words(LIGHT) == canvas.readout()
    assert foreground.words(LIGHT)[0][0].startswith("height 1.20")
    canvas.hand.cancel()
