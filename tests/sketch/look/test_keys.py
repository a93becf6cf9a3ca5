"""Undo and redo go to the drawing, unless something is being typed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent

from sketch.look.keys import is_for_the_window, keep_own_key

pytestmark = pytest.mark.usefixtures("qapp")  # which keys undo is asked of the desktop

CONTROL, NONE = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.NoModifier


def key(key: Qt.Key, modifiers: Qt.KeyboardModifier, kind: QEvent.Type) -> QKeyEvent:
    return QKeyEvent(kind, key, modifiers)


@pytest.mark.parametrize(
    ("event", "typing", "answer"),
    [
        (key(Qt.Key.Key_Z, CONTROL, QEvent.Type.ShortcutOverride), False, True),
        (key(Qt.Key.Key_Z, CONTROL, QEvent.Type.ShortcutOverride), True, False),
        (key(Qt.Key.Key_Z, CONTROL, QEvent.Type.KeyPress), False, False),
        (key(Qt.Key.Key_Z, NONE, QEvent.Type.ShortcutOverride), False, False),
        (QEvent(QEvent.Type.ShortcutOverride), False, False),
    ],
    ids=["undo", "while typing", "pressed", "a letter", "no key"],
)
def test_undo_is_for_the_window_unless_something_is_typed(event: QEvent, typing: bool, answer: bool) -> None:
    assert is_for_the_window(event, typing=typing) is answer


def test_a_key_of_a_widget_s_own_is_kept_from_the_window_where_it_is_asked_for_first() -> None:
    def is_delete(event: QKeyEvent) -> bool:
        return event.key() == Qt.Key.Key_Delete

    asked = key(Qt.Key.Key_Delete, NONE, QEvent.Type.ShortcutOverride)
    asked.ignore()
    assert keep_own_key(asked, is_delete)
    assert asked.isAccepted()
    assert not keep_own_key(key(Qt.Key.Key_Delete, NONE, QEvent.Type.KeyPress), is_delete)
    assert not keep_own_key(key(Qt.Key.Key_Z, NONE, QEvent.Type.ShortcutOverride), is_delete)
    assert not keep_own_key(QEvent(QEvent.Type.ShortcutOverride), is_delete)
