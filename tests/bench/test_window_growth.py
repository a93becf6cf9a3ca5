"""The cost of a part in the window does not grow with their number: opening a drawing, and editing it.

What is worked out in idle moments counts in, to the end: a fixed wait took in more of a small drawing's.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.test_growth import PARTS, compare_costs, drawing

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
    running.sendPostedEvents()  # and with them the painting, but nothing that waits for a rest
    return time.process_time() - begun
def settle():
    quiet = 0
    while quiet < 4:
        before = time.process_time()
        QTest.qWait(250)  # longer than any pause before what is worked out at rest
        quiet = quiet + 1 if time.process_time() - before < 0.02 else 0
heights = iter(range(1, 9))
def edit():
    layout = window.document.layout
    pump = layout.pumps["p3"]
    raised = replace(pump, at=(pump.at[0], quantity(f"1.6{next(heights)} m", Kind.LENGTH)))
    assert window.document.apply("Raise", replace(layout, pumps={**layout.pumps, "p3": raised}))
settle()
opened = spent(lambda: (window.files.read(Path(sys.argv[1])), settle()))
edited = spent(lambda: (edit(), settle()))
shown = min(spent(edit) for _ in range(5))
print(opened, edited, shown, len(window.document.solution.pumps), flush=True)
os._exit(0)
"""


def spent(parts: int, folder: Path) -> tuple[float, ...]:
    """The processor time of opening so many parts, of an edit, both to rest, and of showing one [s]."""
    path = folder / f"{parts}.toml"
    path.write_text(drawing(parts), encoding="utf-8")
    asked = [sys.executable, "-c", EDITED]
    environment = {**os.environ, "XDG_STATE_HOME": str(folder / "state"), "QT_QPA_PLATFORM": "offscreen"}
    completed = subprocess.run([*asked, str(path)], cwd=TREE, env=environment, capture_output=True, text=True)
    assert completed.returncode == 0, completed.stderr
    *times, pumps = completed.stdout.split()
    assert int(pumps) == parts // 5
    return tuple(map(float, times))


def test_a_part_in_the_window_costs_as_much_among_ten_thousand(tmp_path: Path) -> None:
    times = zip(*[spent(parts, tmp_path) for parts in PARTS], strict=True)
    for what, seconds in zip(("opening", "an edit", "an edit until it is shown"), times, strict=True):
        compare_costs(what, seconds)
