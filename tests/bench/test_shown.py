"""A frame of a drag with the reach map or the curves shown, against one without them, by turns in one run."""

from __future__ import annotations

import gc
from pathlib import Path
from statistics import median
from time import thread_time
from typing import TYPE_CHECKING

import pytest

from tests.bench.clock import tell
from tests.bench.test_frame import window

if TYPE_CHECKING:
    from PySide6.QtCore import QPoint
    from PySide6.QtWidgets import QWidget

    from sketch.window.main_window import Window

pytestmark = pytest.mark.bench

TURNS, FRAMES = 12, 6
"""Frames that follow one another in each turn: what waits for the drawing to come to rest must not begin
between them. The first of a turn is not counted."""


class Drag:
    """What the hand holds in a window: its pump, or today's point on its curve."""

    def __init__(self, opened: Window, held: QWidget, start: QPoint, across: int) -> None:
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        self.opened, self.held, self.start = opened, held, start
        self.across = across  # how far it wanders sideways
        self.margins: set[float] = set()
        QTest.mousePress(held, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)

    def frame(self, i: int) -> float:
        """One move of the mouse until everything is painted [s of the hand's thread]."""
        from PySide6.QtCore import QPoint
        from PySide6.QtTest import QTest
        from PySide6.QtWidgets import QApplication

        began = thread_time()
        QTest.mouseMove(self.held, self.start + QPoint(4 + i % self.across, -3 - i))
        QApplication.processEvents()
        spent = thread_time() - began
        solution = self.opened.document.solution
        assert solution is not None
        self.margins.add(solution.pumps["pump"].margin)
        return spent

    def end(self) -> None:
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        QTest.mouseRelease(self.held, left, none, self.start)
        self.opened.document.undo_stack.setClean()
        self.opened.close()
        assert len(self.margins) > 5, "the drag moved nothing"


def pump_of(opened: Window) -> Drag:
    from PySide6.QtCore import QPointF

    canvas, pump = opened.workspace.elevation, opened.document.layout.pumps["pump"]
    at = QPointF(*canvas.view.device(*(value.si for value in pump.at)))
    return Drag(opened, canvas, at.toPoint(), 5)


def point_of(opened: Window) -> Drag:
    plot = opened.workspace.views["curves"].plot
    return Drag(opened, plot.viewport(), plot.today().toPoint(), TURNS * FRAMES)


def with_map(opened: Window) -> None:
    from PySide6.QtTest import QTest

    ground = opened.workspace.elevation.ground
    ground.toggle()
    for _ in range(400):
        QTest.qWait(10)
        if ground.shown(dragged=False) is not None:
            break
    QTest.qWait(50)
    assert ground.shown(dragged=False) is not None, "there is no map to paint"


def with_curves(opened: Window) -> None:
    from PySide6.QtTest import QTest

    opened.workspace.show_tab("curves")
    view = opened.workspace.views["curves"]
    for _ in range(400):
        QTest.qWait(10)
        if view.plot is not None and not view.stale:
            break
    QTest.qWait(300)
    assert view.plot is not None, "there are no curves to paint"
    assert not view.stale


def test_a_frame_with_the_reach_map_or_the_curves_shown(tmp_path: Path) -> None:
    shown = {
        "without": (None, pump_of),
        "map": (with_map, pump_of),
        "curves": (with_curves, pump_of),
        "point": (with_curves, point_of),
    }
    drags = {}
    for name, (prepare, held) in shown.items():
        folder = tmp_path / name
        folder.mkdir()
        opened = window(20, 3, folder)
        if prepare is not None:
            prepare(opened)
        drags[name] = held(opened)
    gc.collect()
    frames: dict[str, list[float]] = {name: [] for name in drags}
    for turn in range(TURNS):
        for name, drag in drags.items():
            frames[name] += [drag.frame(turn * FRAMES + i) for i in range(FRAMES)][1:]
    ground = drags["map"].opened.workspace.elevation.ground
    assert ground.shown(dragged=True) is not None, "the map was not painted to the end"
    for drag in drags.values():
        drag.end()
    without, of_map, of_curves, of_point = (median(column) for column in frames.values())
    print()
    tell("a drag frame with the reach map, in frames without it", of_map / without, "", 1.5)
    tell("a drag frame with the curves, in frames without them", of_curves / without, "", 1.5)
    tell("a frame of the point on the curve, in frames of the pump", of_point / without, "", 1.5)
    assert max(of_map, of_curves, of_point) < 1.5 * without
