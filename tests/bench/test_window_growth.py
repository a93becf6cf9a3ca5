"""The cost of a part in the window does not grow with their number: opening a drawing, and one edit of it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.clock import tell
from tests.bench.test_growth import ALLOWED, PARTS, drawing

pytestmark = pytest.mark.bench

TREE = Path(__file__).resolve().parents[2]
EDITED = """
import os, sys, time
from pathlib import Path
from dataclasses import replace
from PySide6.QtTest import QTest
from sketch import run
from sketch.window.main_window import make_window
from solver.quantities.units import Kind, quantity
running = run.application()
window = make_window(running, None, None, keeps=False)
window.show()
def spent(act):
    begun = time.process_time()
    act()
    QTest.qWait(2600)  # all that is worked out in idle moments, and the recovery
    return time.process_time() - begun
def edit():
    layout = window.document.layout
    pump = layout.pumps["p3"]
    raised = replace(pump, at=(pump.at[0], quantity("1.61 m", Kind.LENGTH)))
    assert window.document.apply("Raise", replace(layout, pumps={**layout.pumps, "p3": raised}))
opened = spent(lambda: window.files.read(Path(sys.argv[1])))
QTest.qWait(1)
print(opened, spent(edit), len(window.document.solution.pumps), flush=True)
os._exit(0)
"""


def spent(parts: int, folder: Path) -> tuple[float, float]:
    """The window's own time for opening so many parts and for one edit [s a part], by a fresh process."""
    path = folder / f"{parts}.toml"
    path.write_text(drawing(parts), encoding="utf-8")
    asked = [sys.executable, "-c", EDITED]
    environment = {**os.environ, "XDG_STATE_HOME": str(folder / "state"), "QT_QPA_PLATFORM": "offscreen"}
    completed = subprocess.run([*asked, str(path)], cwd=TREE, env=environment, capture_output=True, text=True)
    assert completed.returncode == 0, completed.stderr
    opened, edited, pumps = completed.stdout.split()
    assert int(pumps) == parts // 5
    return float(opened) / parts, float(edited) / parts


def test_a_part_in_the_window_costs_as_much_among_ten_thousand(tmp_path: Path) -> None:
    costs = [spent(parts, tmp_path) for parts in PARTS]
    for what, at in (("opening", 0), ("an edit", 1)):
        for parts, cost in zip(PARTS, costs, strict=True):
            tell(
                f"{what}: a part of {parts}, against one of {PARTS[0]}", cost[at] / costs[0][at], "", ALLOWED
            )
    for at in (0, 1):
        assert costs[-1][at] / costs[0][at] < ALLOWED
        assert costs[1][at] / costs[0][at] < ALLOWED
