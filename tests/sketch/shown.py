"""An example opened, and a widget on the screen: what tests of views begin with."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.model.document import Document

LAYOUTS = Path(__file__).parents[2] / "layouts"
W = TypeVar("W", bound=QWidget)


def opened(name: str = "carriage-at-altitude") -> Document:
    """A document with one of the examples in it, which keeps nothing for a recovery."""
    document = Document(keeps=False)
    document.open(LAYOUTS / f"{name}.toml")
    return document


def shown(qtbot: QtBot, widget: W, width: int, height: int) -> W:
    """The widget, once it stands on the screen in that size."""
    qtbot.addWidget(widget)
    widget.resize(width, height)
    with qtbot.waitExposed(widget):
        widget.show()
    return widget
