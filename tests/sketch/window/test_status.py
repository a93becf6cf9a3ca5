"""The facts in the status bar."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QStatusBar
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.window.status import Facts, facts, message
from solver.quantities.units import Kind, System, quantity
from tests.sketch.shown import opened


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
