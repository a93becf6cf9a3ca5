"""A drag of a drawing with six cases beside that of the same drawing with one, by real mouse events."""

from __future__ import annotations

from pathlib import Path
from statistics import median
from time import thread_time
from typing import Any

import pytest

from tests import drawings
from tests.bench.clock import tell

pytestmark = pytest.mark.bench

MOST = 1.25
FRAMES, ROUNDS = 20, 11
CASES = """
[cases.hot]
fluid.temperature = "60 degC"
[cases.normal]
level = "normal"
[cases.high]
site.elevation = "900 m"
[cases.slow]
pumps.pump.flow = "20 L/min"
[cases.warm]
fluid.temperature = "50 degC"
"""


def shown(path: Path, text: str) -> Any:
    """A window with that drawing in it."""
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from sketch import run
    from sketch.look.appearance import ThemeChoice
    from sketch.window.main_window import make_window

    path.write_text(text, encoding="utf-8")
    window = make_window(run.application(), None, ThemeChoice("light"), keeps=False)
    assert window.files.read(path)
    window.resize(1400, 900)
    window.show()
    QTest.qWaitForWindowExposed(window)
    QTest.qWait(500)
    window.workspace.elevation.fit()
    QApplication.processEvents()
    return window


def drag(window: Any) -> list[float]:
    """What some frames of a drag, which is given up at its end, take of the processor [s]."""
    from PySide6.QtCore import QPoint, QPointF, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    canvas, frames, margins = window.workspace.elevation, [], set()
    x, y = (value.si for value in window.document.layout.pumps["pump"].at)
    start = QPointF(*canvas.view.device(x, y)).toPoint()
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    for i in range(FRAMES):
        before, began = window.document.outcome, thread_time()
        QTest.mouseMove(canvas, start + QPoint(4 + i % 5, -3 - 6 * i))
        QApplication.processEvents()
        took = thread_time() - began
        if window.document.outcome is not before:  # else it snapped to where it was
            frames.append(took)
        margins.add(window.document.outcome.judgement.worst().ledger.margin)
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    assert len(margins) > 5, "the drag moved nothing"
    return frames


def test_a_drag_frame_with_six_cases_costs_little_more_than_with_one(tmp_path: Path) -> None:
    text = drawings.steps_text(20, "30 L/min")
    one = shown(tmp_path / "one.toml", text)
    six = shown(tmp_path / "six.toml", text.replace("format = 1", "format = 2") + CASES)
    assert [len(window.document.outcome.judgement.cases) for window in (one, six)] == [1, 6]
    rounds = [  # by turns, and each round by itself: the machine is not always as busy
        (median(drag(one)), median(drag(six))) for _ in range(ROUNDS)
    ]
    single, several = (median(times) for times in zip(*rounds, strict=True))
    ratio = median(six_cases / one_case for one_case, six_cases in rounds)
    print()
    tell("drag frame with one case, 20 elements", single * 1e3, "ms")
    tell("drag frame with six cases", several * 1e3, "ms")
    tell("  six over one, the median of the rounds", ratio, "x", MOST)
    for window in (one, six):
        window.document.undo_stack.setClean()
        window.close()
    assert ratio <= MOST
