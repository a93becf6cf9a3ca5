"""The facts in the status bar."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QStatusBar
from pytestqt.qtbot import QtBot

from sketch.look.words import without_no_break
from sketch.model.document import Document
from sketch.strip.whatif import WhatIfStrip
from sketch.window.status import Facts, facts, message
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import SHORT_CASE
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED
from tests.sketch.shown import opened, shown

WALL = next(path for path in SHIPPED if path.stem == "over-the-bund-wall")


def test_site_fluid_and_temperature_are_said_in_the_units_shown(qtbot: QtBot, riser: Path) -> None:
    document = Document(keeps=False)
    document.open(riser)
    for system, words in ((System.SI, ("0 m", "45.0 °C", "kPa")), (System.US, ("0 ft", "113", "inHg"))):
        document.set_system(system)
        line = facts(document)
        assert "Mineral oil, ISO VG 46" in line
        assert all(word in line for word in words), line


def test_a_line_that_is_not_as_warm_as_its_tank_is_said(qtbot: QtBot, riser: Path) -> None:
    document = Document(keeps=False)
    document.open(riser)
    assert "line" not in facts(document)
    cold = replace(document.layout.fluid, line_temperature=quantity("5 degC", Kind.TEMPERATURE))
    document.apply("Cold line", replace(document.layout, fluid=cold))
    document.set_system(System.SI)
    assert "45.0 °C   ·   line 5.0 °C" in facts(document)


def test_without_a_result_site_and_fluid_are_those_of_the_case_in_view(qtbot: QtBot, tmp_path: Path) -> None:
    """The line said the drawing's temperature where the strip had that of the case."""
    path = tmp_path / "hills.toml"
    hills = '\n[cases.hills]\nsite.elevation = "900 m"\nfluid.temperature = "18 degC"\n'
    path.write_text(WALL.read_text(encoding="utf-8") + hills, encoding="utf-8")
    document = Document(keeps=False)
    document.open(path)
    strip = shown(qtbot, WhatIfStrip(document), 1600, 120)
    document.apply("No line", replace(document.layout, runs={}))
    assert document.solution is None
    for case, site, fluid in (
        (AS_DRAWN, "180 m", "35.0 °C"),
        (SHORT_CASE, "180 m", "10.0 °C"),
        ("hills", "900 m", "18.0 °C"),
    ):
        document.set_case(case)
        assert facts(document) == (
            f"Site at {site}   ·   Mineral oil, ISO VG 46   ·   {fluid}   ·   3 cases, shown: {case}"
        )
        for name, text in (("Fluid temperature", fluid), ("Site elevation", site)):
            assert without_no_break(strip.turners[name].field.text()) == text


def test_a_site_is_that_of_the_case_in_view(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "hills.toml"
    hills = '\n[cases.hills]\nsite.elevation = "900 m"\n'
    path.write_text(WALL.read_text(encoding="utf-8") + hills, encoding="utf-8")
    document = Document(keeps=False)
    document.open(path)
    document.set_case("hills")
    assert document.solution is not None
    assert facts(document).startswith("Site at 900 m, ")


def test_of_a_case_that_does_not_hold_no_figure_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "full.toml"
    full = '\n[cases.full]\nlevels.store = "90 m"\n'
    path.write_text(WALL.read_text(encoding="utf-8") + full, encoding="utf-8")
    document = Document(keeps=False)
    document.open(path)
    document.set_case("full")
    assert document.solution is None
    assert facts(document) == 'The case "full" does not hold   ·   3 cases, shown: full'


def test_a_drawing_that_is_not_calculated_claims_no_pressure(qtbot: QtBot) -> None:
    line = facts(Document(keeps=False))
    assert "Hg" not in line
    assert "Pa" not in line


def test_the_facts_give_way_to_a_message_that_leaves_them_no_room(qtbot: QtBot) -> None:
    bar = QStatusBar()
    qtbot.addWidget(bar)
    bar.resize(700, 24)
    label = Facts(bar, lambda: None)
    label.show_facts("Site at 0 m, 101.3 kPa abs")
    bar.show()
    bar.showMessage("Saved")
    assert label.isVisible()
    bar.showMessage(
        "Click where its line is to stand: above or below for across; or Tab and arrow keys, Esc cancels"
    )
    assert not label.isVisible()
    bar.clearMessage()
    assert label.isVisible()


def test_the_facts_are_a_way_to_the_figures_that_they_are_of(qtbot: QtBot) -> None:
    bar, asked = QStatusBar(), []
    qtbot.addWidget(bar)
    words = Facts(bar, lambda: asked.append(True))
    bar.show()
    words.show_facts("Oil & water")
    QTest.mouseClick(words, Qt.MouseButton.LeftButton)
    assert asked == [True]
    assert words.text() == "Oil && water", "the sign is shown, not taken for a key"
    words.show_facts("")
    QTest.mouseClick(words, Qt.MouseButton.LeftButton)
    assert asked == [True], "without a drawing there is nothing to ask for"


def test_a_message_begins_with_a_large_letter_and_a_name_stays_as_it_is() -> None:
    layout = opened().layout
    assert message(layout, "a line begins at a part") == "A line begins at a part"
    assert message(layout, "riser has no room for its bend") == "riser has no room for its bend"
    assert message(layout, "") == ""
