"""A whole frame of a drag in bare repaints of its elevation, both in process time and by turns.

A bare repaint is what Qt itself takes to put the strokes, shapes, boxes and texts of the drawing where they
are known to go.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import process_time
from typing import TYPE_CHECKING

import pytest

from tests import drawings
from tests.bench.bare import bare_paint
from tests.bench.clock import tell

if TYPE_CHECKING:
    from sketch.window.main_window import Window

pytestmark = pytest.mark.bench

CASE = '\n[cases."{0} °C"]\nfluid.temperature = "{0} °C"\n'
TEMPERATURES = (5, 12, 30, 45, 60)


def window(elements: int, cases: int, folder: Path) -> Window:
    """A window of a line of so many elements, at rest."""
    from PySide6.QtCore import QSettings
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from sketch import run
    from sketch.look.appearance import ThemeChoice
    from sketch.window.main_window import make_window

    path = folder / "line.toml"
    named = "".join(CASE.format(each) for each in TEMPERATURES[: cases - 1])
    path.write_text(drawings.steps_text(elements) + named, "utf-8")
    settings = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    opened = make_window(run.application(), settings, ThemeChoice("light"))
    assert opened.files.read(path)
    opened.resize(1400, 900)
    opened.show()
    QTest.qWaitForWindowExposed(opened)
    QTest.qWait(800)
    opened.workspace.elevation.fit()
    QApplication.processEvents()
    return opened


def bare_repaint(opened: Window) -> Callable[[], None]:
    """What paints the elevation of a window once more, in its size, with the places known."""
    from PySide6.QtGui import QImage, QPainter

    from sketch.drawing.painting import paint_elevation

    canvas, document = opened.workspace.elevation, opened.document
    size = (canvas.width(), canvas.height())
    sheet = QImage(*size, QImage.Format.Format_RGB32)
    painter = QPainter(sheet)
    drawn = paint_elevation(
        painter, document.layout, document.solution, canvas.view, size, canvas.theme, document.system,
        pump=document.pump, highest_port=canvas.highest_port,
    )  # fmt: skip
    painter.end()
    return bare_paint(drawn, sheet)


def frame_in_bare_repaints(elements: int, cases: int, folder: Path, frames: int = 61) -> float:
    """Median of a whole frame, from the mouse's move to everything painted, over that of a bare repaint.

    A frame is its part of as many in a row as one of which shows everything.
    """
    from PySide6.QtCore import QPoint, QPointF, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from sketch.model.pace import FRAMES

    opened = window(elements, cases, folder)
    canvas, document, bare = opened.workspace.elevation, opened.document, bare_repaint(opened)
    start = QPointF(*canvas.view.device(*(value.si for value in document.layout.pumps["pump"].at))).toPoint()
    whole, baseline, solved = [], [], set()
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    gc.collect()
    for i in range(frames + 5):
        began = process_time()
        QTest.mouseMove(canvas, start + QPoint(4 + i % 5, -3 - i))
        QApplication.processEvents()
        between = process_time()
        bare()
        baseline.append(process_time() - between)
        whole.append(between - began)
        solved.add(document.solution.pumps["pump"].margin if document.solution else None)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    document.undo_stack.setClean()
    opened.close()
    assert len(solved) > 5, "the drag moved nothing"
    in_a_row = [sum(whole[at : at + FRAMES]) / FRAMES for at in range(5, len(whole) - FRAMES + 1)]
    return median(in_a_row) / median(baseline[5:])


@pytest.mark.parametrize(
    ("elements", "cases", "wanted", "allowed"),
    [(20, 1, 5.0, 7.5), (200, 1, 5.0, 6.5), (20, 6, 6.3, 10.0), (200, 6, 6.3, 8.0)],
    ids=["20", "200", "20 in six cases", "200 in six cases"],
)
def test_a_frame_of_a_drag_in_bare_repaints(
    elements: int, cases: int, wanted: float, allowed: float, tmp_path: Path
) -> None:
    ratio = frame_in_bare_repaints(elements, cases, tmp_path)
    print()
    tell(f"drag frame of {elements} elements, {cases} cases, in bare repaints", ratio, "", wanted)
    assert ratio < allowed


def test_a_frame_grows_no_faster_than_a_bare_repaint(tmp_path: Path) -> None:
    few, many = (tmp_path / name for name in ("few", "many"))
    few.mkdir()
    many.mkdir()
    ratio = frame_in_bare_repaints(2000, 1, many, 15) / frame_in_bare_repaints(200, 1, few)
    print()
    tell("a frame of 2000 elements against one of 200, each in bare repaints", ratio, "", 1.0)
    assert ratio < 1.0
