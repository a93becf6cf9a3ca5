"""The list of steps, worked by mouse and keys."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.window.undo_list import FIRST
from tests.sketch.window.windows import ALT, CONTROL, Opener, margin, raise_port

ONE_WINDOW = True


def test_any_step_is_gone_to_by_mouse_and_keys(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    stack = window.document.undo_stack
    layouts = [window.document.layout]
    for _ in range(3):
        raise_port(window)
        window.workspace.elevation.clearFocus()  # or the steps of one key merge
        layouts.append(window.document.layout)
    qtbot.keyClick(window, Qt.Key.Key_Z, CONTROL | ALT)
    undo_list = window._undo_list
    assert undo_list is not None
    assert undo_list.isVisible()
    steps, model = undo_list.steps, undo_list.steps.model()
    words = [model.index(at, 0).data() for at in range(model.rowCount())]
    assert words == [FIRST, *(stack.text(at) for at in range(stack.count()))]
    assert all(words)
    assert len(words) == 4
    for at in (1, 3, 0):
        place = steps.visualRect(model.index(at, 0)).center()
        qtbot.mouseClick(steps.viewport(), Qt.MouseButton.LeftButton, pos=place)
        assert (stack.index(), window.document.layout) == (at, layouts[at])
        assert window.document.clean == (at == 0)
    before = margin(window)
    qtbot.keyClick(steps, Qt.Key.Key_Down)
    assert window.document.layout == layouts[1]
    assert margin(window) < before
    assert window.actions_by_name["redo"].isEnabled()
    undo_list.close()
    assert stack.count() == 3


def test_a_long_step_is_read_whole_in_several_lines(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document = window.document
    long = "Change what is a long name of a part and what goes with it and with that: " + "word " * 20
    document.apply(long.strip(), replace(document.layout, title="Other"))
    qtbot.keyClick(window, Qt.Key.Key_Z, CONTROL | ALT)
    assert window._undo_list is not None
    steps = window._undo_list.steps
    model = steps.model()
    line, whole = (steps.visualRect(model.index(at, 0)).height() for at in (0, 1))
    assert whole > 1.8 * line
    assert steps.visualRect(model.index(1, 0)).width() <= steps.viewport().width()
    window._undo_list.close()
