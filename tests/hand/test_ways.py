"""Whatever takes the mouse or the keys in the window, the random hand has a way to it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.appearance import ThemeChoice
from sketch.views.tabs import TABS
from sketch.window.main_window import make_window
from tests.hand.gestures import PANES, PICTURES

pytestmark = pytest.mark.hand

LAYOUT = Path(__file__).parents[2] / "layouts" / "strainer-over-a-year.toml"
TAKES = ("mousePressEvent", "mouseDoubleClickEvent", "keyPressEvent", "contextMenuEvent", "wheelEvent")
PAGES = (
    "QScrollArea",
    "SidewaysScroll",
    "ScrolledWhereSmall",
    "ReadingCard",
    "_WordsBelow",
)
"""Classes that only scroll what lies in them."""


def takes_events(widget: QWidget) -> bool:
    """Whether a widget of this program's own does something with mouse or keys, or has a page of text."""
    own = [each for each in type(widget).__mro__ if each.__module__.startswith(("sketch.", "pyqtgraph."))]
    scrolls = isinstance(widget, QAbstractScrollArea) and type(widget).__name__ not in PAGES
    keys_of_its_own = widget.focusPolicy() != Qt.FocusPolicy.NoFocus  # else they come up from what lies in it
    taken = [name for name in TAKES if keys_of_its_own or name != "keyPressEvent"]
    return scrolls or any(name in each.__dict__ for each in own for name in taken)


def test_each_tab_and_all_round_it(qtbot: QtBot, qapp: QApplication) -> None:
    window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
    qtbot.addWidget(window)
    assert window.files.read(LAYOUT)
    with qtbot.waitExposed(window):
        window.show()
    empty, unreached = [], set()
    for name in TABS:
        window.workspace.show_tab(name)
        QTest.qWait(400)  # what is laid out at rest
        view = window.workspace.views[name]
        inside = [each for each in (view, *view.findChildren(QWidget)) if each.isVisible()]
        if not [each for each in inside if isinstance(each, PANES)]:
            empty.append(name)
        unreached |= {type(each).__name__ for each in window.findChildren(QWidget)
                      if each.isVisible() and takes_events(each)
                      and not isinstance(each, (*PANES, *PICTURES))}  # fmt: skip
    assert (empty, unreached) == ([], set())
