"""Windows to work in, and what a hand does in them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt

from sketch.window.main_window import Window

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
