"""Frames of a drag, driven by real mouse events, and the time from a command to what it shows."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

import pytest

from tests import drawings
from tests.bench.clock import tell

pytestmark = pytest.mark.bench

TREE = Path(__file__).resolve().parents[2]
EXAMPLE = TREE / "layouts" / "carriage-at-altitude.toml"

PAINTED = """
import sys
from PySide6.QtCore import QEvent, QObject, Qt
from sketch import run
from sketch.window.main_window import make_window
running = run.application()
opened = make_window(running, None, None)
assert opened.files.read(sys.argv[1])
class Watch(QObject):
    def eventFilter(self, thing, event):
        if event.type() == QEvent.Type.Paint:
            running.postEvent(self, QEvent(QEvent.Type.User))
        return False
    def event(self, event):
        if event.type() == QEvent.Type.User:
            running.exit(0)
        return True
watch = Watch()
opened.workspace.elevation.installEventFilter(watch)
opened.show()
running.exec()
import os
os._exit(0)
"""


@pytest.mark.parametrize(
    ("elements", "flow", "allowed"),
    [(20, "30 L/min", 8.0), (200, "30 L/min", 16.0), (200, "300 L/min", None)],
    ids=["20", "200", "200 and far over the budget"],
)
def test_a_frame_of_a_drag(tmp_path: Path, elements: int, flow: str, allowed: float | None) -> None:
    """Edit, network, flows, ledger, column, findings and the repaint of all views, move by move."""
    from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QSettings, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from sketch import run
    from sketch.look.appearance import ThemeChoice
    from sketch.window.main_window import make_window

    class Paints(QObject):
        count = 0

        def eventFilter(self, thing: QObject, event: QEvent) -> bool:
            self.count += event.type() is QEvent.Type.Paint
            return False

    path = tmp_path / "line.toml"
    path.write_text(drawings.steps_text(elements, flow), encoding="utf-8")
    running = run.application()
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    opened = make_window(running, settings, ThemeChoice("light"))
    assert opened.files.read(path)
    opened.resize(1400, 900)
    opened.show()
    QTest.qWaitForWindowExposed(opened)
    QTest.qWait(500)
    canvas = opened.workspace.elevation
    canvas.fit()
    QApplication.processEvents()
    paints = Paints()
    canvas.installEventFilter(paints)
    document = opened.document
    x, y = (value.si for value in document.layout.pumps["pump"].at)
    start = QPointF(*canvas.view.device(x, y)).toPoint()
    before = document.solution
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    frames, seen, solved = [], 0, set()
    for i in range(60):
        began = perf_counter()
        QTest.mouseMove(canvas, start + QPoint(4 + i % 5, -3 - i))
        QApplication.processEvents()
        frames.append(perf_counter() - began)
        seen += paints.count > 0
        paints.count = 0
        solved.add(document.solution.pumps["pump"].margin)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    rows = len(document.solution.network.rows)
    frame = median(frames) * 1e3
    print()
    tell(
        f"drag frame, {rows} rows at {flow}, 1400x900 offscreen, median of {len(frames)}",
        frame,
        "ms",
        allowed,
    )
    tell(f"  slowest of ten, {len(solved)} different margins", sorted(frames)[-len(frames) // 10] * 1e3, "ms")
    canvas.removeEventFilter(paints)
    document.undo_stack.setClean()
    opened.close()
    assert before is not document.solution
    assert len(solved) > 5, "the drag moved nothing"
    assert seen >= 0.9 * len(frames), "frames went unpainted"


def cold(*command: str, repeats: int = 7) -> float:
    """Median time of a fresh process [s]."""
    times = []
    for _ in range(repeats):
        began = perf_counter()
        subprocess.run(command, cwd=TREE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        times.append(perf_counter() - began)
    return median(times)


def test_from_a_command_to_its_answer() -> None:
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    bare = cold(sys.executable, "-c", "import numpy")
    terminal = cold(sys.executable, "-m", "solver", os.fspath(EXAMPLE))
    window = cold(sys.executable, "-c", PAINTED, os.fspath(EXAMPLE))
    qt = cold(sys.executable, "-c", "from PySide6.QtWidgets import QApplication; QApplication([])")
    print()
    tell("python -c 'import numpy', the baseline", bare, "s")
    tell("python -m solver FILE", terminal, "s", 0.6)
    tell("an empty QApplication, the baseline", qt, "s")
    tell("window painted with its drawing", window, "s", 1.0)
