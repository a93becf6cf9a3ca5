"""The recipes of DEVELOPERS.md, "How to add", followed to the letter on a copy of the tree."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import pytest

TREE = Path(__file__).resolve().parent.parent

AFTER, BEFORE, END = "after", "before", "end"


class Edit(NamedTuple):
    """A text to put into a file after or before another that stands there once, or at its end."""

    file: str
    text: str
    where: str = END
    other: str = ""


KINDS = "solver/layout/kinds.py"
FITTING = (
    Edit(
        "solver/network/coefficients.py",
        "    FittingKind.NEEDLE_VALVE: _Row(1500, 1.70, 3.6),\n",
        AFTER,
        "    FittingKind.GLOBE_VALVE: _Row(1500, 1.70, 3.6),\n",
    ),
    Edit(
        "solver/layout/kinds.py",
        '    NEEDLE_VALVE = "needle valve"\n',
        AFTER,
        '    GLOBE_VALVE = "globe valve"\n',
    ),
    Edit(
        "solver/layout/kinds.py", "    FittingKind.NEEDLE_VALVE,\n", AFTER, "    FittingKind.GLOBE_VALVE,\n"
    ),
    Edit(
        "sketch/drawing/symbols.py",
        "    FittingKind.NEEDLE_VALVE: _globe,\n",
        AFTER,
        "    FittingKind.GLOBE_VALVE: _globe,\n",
    ),
)
FLUID = (
    Edit(
        "solver/properties/catalogue.toml",
        '\n[fluids."Mineral oil, ISO VG 38"]\nrange = [-25, 100]\ndensity_15 = 872\nviscosity_40 = 38\n'
        'viscosity_index = 95\nwater_fraction = 0\ndissolved_air = 0.09\nfamily = "oil"\n',
    ),
)
FINDING = (
    Edit(
        "solver/findings/line.py",
        '\n\ndef any_bend(subject: Subject) -> Iterator[Hit]:\n    """A line that turns at all."""\n'
        "    for entry, row in subject.everywhere:\n        if row.kind is RowKind.BEND:\n"
        "            yield Hit(Severity.NOTE, entry.part, entry.key, 1.0, 0.0, Kind.NUMBER, "
        'f"{entry.part}: it turns", f"Lay {entry.part} straight.")\n            return\n',
    ),
    Edit("solver/findings/kinds.py", '    ANY_BEND = "any bend"\n', BEFORE, '    TRAPPED_HIGH_POINT = "'),
    Edit(
        "solver/findings/checks.py",
        '    Check(FindingId.ANY_BEND, line.any_bend, "It costs.", IN_FIGURES, TRADE),\n',
        AFTER,
        "CHECKS: tuple[Check, ...] = (\n",
    ),
)
VIEW = (
    Edit(
        "sketch/views/count_view.py",
        '"""How many elements a line has."""\n\nfrom PySide6.QtWidgets import QLabel\n\n'
        "from sketch.model.document import Document\n\n\nclass CountView(QLabel):\n"
        '    """One figure."""\n\n    def __init__(self, document: Document) -> None:\n'
        "        super().__init__()\n"
        "        self._document = document\n        document.changed.connect(self._show)\n"
        "        self._show()\n\n    def _show(self) -> None:\n        ledger = self._document.ledger\n"
        '        self.setText(str(len(ledger.entries)) if ledger else "")\n',
    ),
    Edit(
        "sketch/views/tabs.py",
        '    "count": Tab("Count", "&Count", "How many elements", "sketch.views.count_view:CountView"),\n',
        BEFORE,
        '    "card": Tab(',
    ),
)
KNOB = (
    Edit(
        "solver/answers/inputs.py",
        "def _flow_now(layout: Layout, part: str, level: Level) -> Quantity | str:\n"
        "    pump = layout.pumps.get(part)\n"
        '    return pump and pump.flow or "this pump is given by its speed"\n\n\n'
        "def _flow_span(layout: Layout, part: str, level: Level) -> Ends:\n"
        "    flow = layout.pumps[part].flow\n    return 0.0, 2.0 * (flow.si if flow else 0.0)\n\n\n",
        BEFORE,
        "def _elevation_now(",
    ),
    Edit(
        "solver/answers/inputs.py",
        ", slider=Slider(_flow_now, _flow_span)",
        AFTER,
        "flow, _always(*ABOVE_NOTHING), reshapes=False, searched=(0.02, 5.0)",
    ),
    Edit(
        "sketch/strip/knobs.py",
        '    _knob(\n        "Pump flow", "flow", lambda which: which.pump, (0.1, 0.5),\n'
        '        lambda layout, which, flow: INPUTS["flow"].put(\n'
        "            layout, (which.pump,), edits.si_of(flow), which.level\n        ),\n"
        '        lambda which: f"Flow of {which.pump}",\n    ),\n',
        BEFORE,
        '    _knob(\n        "Site elevation"',
    ),
)
FORMULA = (
    Edit(
        "solver/formulas/flow.py",
        "\nwall_shear = Formula(\n"
        '    "wall shear", s.dp, (s.f, s.q), s.f * s.q / 4, DEFINITION, "any flow"\n)\n',
    ),
)
MOST_FILES: Mapping[str, tuple[tuple[Edit, ...], int]] = {
    "A fitting": (FITTING, 3),
    "A fluid": (FLUID, 1),
    "A finding": (FINDING, 3),
    "A view": (VIEW, 2),
    "A knob": (KNOB, 2),
    "A formula": (FORMULA, 1),
}
"""What each recipe asks for, and the most files that it may touch besides the new test."""

CHECK = """
import json, os, sys
from dataclasses import replace
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtWidgets import QApplication
from sketch.drawing import symbols
from sketch.look.appearance import ThemeChoice
from sketch.strip.knobs import subject
from sketch.window.main_window import make_window
from solver.findings import checks
from solver.formulas import flow
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity

base = file.read("layouts/baler-flooded.toml").base
lift = file.read("layouts/carriage-at-altitude.toml").base
name, valve = next(iter(base.fittings.items()))
needle = replace(base, fittings={**base.fittings, name: replace(valve, kind="needle valve")})
fluid = replace(base, fluid=replace(base.fluid, name="Mineral oil, ISO VG 38", viscosity=None, density=None))
application = QApplication([])
window = make_window(application, None, ThemeChoice.LIGHT, keeps=False)
window.files.read(__import__("pathlib").Path("layouts/baler-flooded.toml").resolve())
given = quantity("100 L/min", Kind.FLOW)
pump_name, pump = next(iter(base.pumps.items()))
window.document.apply("Flow", replace(base, pumps={**base.pumps, pump_name: replace(
    pump, flow=given, displacement=None, speed=None)}))
window.show()
window.workspace.show_tab("count")
knob = window.workspace.whatif.turners["Pump flow"].turning.knob
which = subject(window.document.layout, window.document.ledger, pump_name, window.document.level)
before = window.document.ledger.margin
window.document.apply("Turn", knob.set(window.document.layout, which, 2 * given.si))
print(json.dumps({
    "loss": [sum(entry.loss for entry in solve(each).pumps[pump_name].entries if entry.part == name)
             for each in (base, needle)],
    "symbol": "needle valve" in symbols._DRAWN,
    "fluid": [solve(each).fluid.viscosity for each in (base, fluid)],
    "findings": [str(each.finding) for each in checks.check(solve(lift))],
    "view": window.workspace.views["count"].text(),
    "entries": len(window.document.ledger.entries),
    "margins": [before, window.document.ledger.margin],
    "formula": [flow.wall_shear.text(), flow.wall_shear.scalar(0.02, 500.0)],
}))
"""


def follow(tree: Path, edit: Edit) -> None:
    path = tree / edit.file
    if not path.exists():
        path.write_text(edit.text, encoding="utf-8")
        return
    text = path.read_text(encoding="utf-8")
    if edit.where == END:
        path.write_text(text + edit.text, encoding="utf-8")
        return
    assert text.count(edit.other) == 1, f"not once in {edit.file}: {edit.other!r}"
    both = edit.other + edit.text if edit.where == AFTER else edit.text + edit.other
    path.write_text(text.replace(edit.other, both), encoding="utf-8")


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """What the program does once every recipe has been followed."""
    tree = tmp_path_factory.mktemp("recipes")
    for folder in ("solver", "sketch", "layouts"):
        shutil.copytree(TREE / folder, tree / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for edits, _ in MOST_FILES.values():
        for edit in edits:
            follow(tree, edit)
    done = subprocess.run(
        [sys.executable, "-c", CHECK],
        cwd=tree,
        env={**os.environ, "PYTHONPATH": str(tree)},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    record: dict[str, object] = json.loads(done.stdout)
    return record


@pytest.mark.parametrize("recipe", MOST_FILES)
def test_a_recipe_touches_few_files_and_names_them(recipe: str) -> None:
    edits, most = MOST_FILES[recipe]
    files = {edit.file for edit in edits}
    assert len(files) <= most
    words = (TREE / "DEVELOPERS.md").read_text(encoding="utf-8")
    (text,) = re.findall(rf"^\*\*{recipe}\.\*\*(.*?)\n\n", words, re.MULTILINE | re.DOTALL)
    for name in files - {"sketch/views/count_view.py"}:
        assert name in text, f"the recipe does not name {name}"


def test_a_new_fitting_loses_and_is_drawn(shown: dict[str, object]) -> None:
    old, new = shown["loss"]
    assert new > old > 0
    assert shown["symbol"]


def test_a_new_fluid_is_calculated(shown: dict[str, object]) -> None:
    old, new = shown["fluid"]
    assert new > 0
    assert new != old


def test_a_new_finding_speaks(shown: dict[str, object]) -> None:
    assert "any bend" in shown["findings"]


def test_a_new_view_shows_the_ledger(shown: dict[str, object]) -> None:
    assert shown["view"] == str(shown["entries"]) != "0"


def test_a_new_knob_turns_the_drawing(shown: dict[str, object]) -> None:
    before, after = shown["margins"]
    assert after < before


def test_a_new_formula_computes_and_prints_itself(shown: dict[str, object]) -> None:
    text, value = shown["formula"]
    assert "f · q/4" in text
    assert value == pytest.approx(2.5)
