"""Windows to work in, and what a hand does in them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt

from sketch.look.appearance import ThemeChoice
from sketch.window.main_window import Window
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Level

LAYOUTS = Path(__file__).parents[3] / "layouts"


CARRIAGE = LAYOUTS / "carriage-at-altitude.toml"


CONTROL = Qt.KeyboardModifier.ControlModifier


NONE, RIGHT = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.RightButton


ALT = Qt.KeyboardModifier.AltModifier


Opener = Callable[..., Window]


def raise_port(window: Window) -> None:
    """One step up for the pump, by the keyboard."""
    from PySide6.QtTest import QTest

    elevation = window.workspace.elevation
    window.document.select("carriage")
    elevation.setFocus()
    QTest.keyClick(elevation, Qt.Key.Key_Up)


def margin(window: Window) -> float:
    assert window.document.ledger is not None
    return window.document.ledger.margin


BESIDE = "Pump beside the tank"


def as_new(window: Window) -> None:
    """A window as it comes up, for the next test: nothing to save, light, the first tab, no notice."""
    window.document.undo_stack.setClean()
    window.document.set_other_cases(False)
    window.document.set_level(Level.MINIMUM)
    window.document.set_case(AS_DRAWN)
    window.document.select("")
    window.document.point("")
    window.appearance.choose(ThemeChoice.LIGHT)
    window.workspace.show_tab("ledger")
    window.notice.hide()
    window.resize(window._first_size())
    window.workspace.elevation.setFocus()
    window.activateWindow()
