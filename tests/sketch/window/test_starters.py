"""The page before a drawing: units asked once and kept, and drawings to begin with by a click."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt, QTimer
from PySide6.QtGui import QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QInputDialog
from pytestqt.qtbot import QtBot

from sketch.editing.beginning import STARTERS
from sketch.look import colours
from sketch.look.colours import DARK, LIGHT, Theme
from sketch.window.main_window import Window
from sketch.window.starters import UNITS, Starters
from sketch.window.welcome import Welcome
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.window.windows import CARRIAGE, Opener

ONE_WINDOW = True

LEFT = Qt.MouseButton.LeftButton


def page(window: Window) -> Welcome:
    (shown,) = window.findChildren(Welcome)
    assert shown.isVisible()
    return shown


@pytest.mark.thorough
def test_units_are_asked_once_and_kept_and_a_starter_is_drawn_in_them(opener: Opener, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = opener(None, settings)
    starters = page(window).starters
    assert "Which units" in starters._question.text()
    assert not any(button.isEnabled() for button in starters.buttons.values())
    assert not any(button.isChecked() for button in starters.units.values())
    QTest.mouseClick(starters.buttons["Empty drawing"], LEFT)
    assert "Choose your units first" in starters._question.text()
    QTest.mouseClick(starters.units[System.SI], LEFT)
    assert window.document.system is System.SI
    QTest.mouseClick(starters.buttons["Pump under its tank"], LEFT)
    document = window.document
    assert document.layout.units == System.SI
    assert document.ledger is not None
    assert document.layout.pumps["pump"].limit_assumed, "nobody has stated the limit"
    assert "limit assumed" in [finding.finding for finding in document.findings]
    assert window.workspace.shelf.isVisible()
    again = opener(None, QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat))
    assert again.document.system is System.SI
    assert all(button.isEnabled() for button in page(again).starters.buttons.values())
    QTest.mouseClick(page(again).starters.units[System.US], LEFT)
    QTest.mouseClick(page(again).starters.buttons["Empty drawing"], LEFT)
    assert not again.findChildren(Welcome)[0].isVisible()
    assert again.document.layout.units == System.US
    assert not again.document.layout.reservoirs
    again.actions_by_name["new: Two pumps on a header"].trigger()
    assert len(again.document.solution.pumps) == 2


@pytest.mark.thorough
def test_every_starter_has_its_picture_and_can_be_saved(opener: Opener) -> None:
    window = opener(None)
    starters = page(window).starters
    for starter in STARTERS:
        assert not starters.buttons[starter.name].icon().isNull()
        for system in System:
            assert not file.check(starter.make(system))


@pytest.mark.thorough
def test_the_menu_asks_for_units_too_before_the_first_drawing(opener: Opener, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = opener(None, settings)

    def answer(accepted: bool) -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QInputDialog)
        box.setTextValue(UNITS[System.SI])
        box.done(accepted)

    QTimer.singleShot(0, partial(answer, False))
    window.actions_by_name["new"].trigger()
    assert not window.document.has_drawing, "who would rather not say has no drawing in units of chance"
    QTimer.singleShot(0, partial(answer, True))
    window.actions_by_name["new"].trigger()
    assert window.document.layout.units == System.SI
    assert settings.value("units") == System.SI
    window.document.undo_stack.setClean()
    assert window.files.read(CARRIAGE)
    assert window.document.system is System.US
    window.actions_by_name["new"].trigger()
    assert window.document.layout.units == System.SI, "not those of the drawing that was open"
    assert window.document.system is System.SI


def test_whoever_opens_a_drawing_first_is_asked_too(opener: Opener, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = opener(CARRIAGE, settings)
    QTimer.singleShot(0, lambda: QApplication.activeModalWidget().done(False))
    window.actions_by_name["new"].trigger()
    assert "carriage" in window.document.layout.pumps, "not answered, the drawing stays"


@pytest.mark.parametrize("theme", [DARK, LIGHT])
def test_the_names_of_starters_can_be_read_before_the_units_are_chosen(qtbot: QtBot, theme: Theme) -> None:
    starters = Starters(None, str, str)
    qtbot.addWidget(starters)
    starters.setPalette(colours.palette(theme))
    for button in starters.buttons.values():
        palette = button.palette()
        name = palette.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.ButtonText)
        assert not button.isEnabled()
        assert colours.contrast(name, palette.color(QPalette.ColorRole.Window)) > 4.5, "WCAG 2.2, 1.4.3"
