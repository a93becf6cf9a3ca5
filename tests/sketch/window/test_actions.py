"""The window's actions and their keys."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.sketch.window.windows import Opener, raise_port

ONE_WINDOW = True


def test_no_two_actions_share_a_shortcut(opener: Opener) -> None:
    window = opener()
    actions = window.actions_by_name
    keys = [key.toString() for row in actions.commands for key in actions[row.name].shortcuts()]
    assert len(keys) == len(set(keys))
    assert all(row.tip for row in actions.commands)


WIDGET = Qt.ShortcutContext.WidgetShortcut


def keys_of(actions: Iterable[QAction]) -> list[str]:
    return [key.toString() for action in actions for key in action.shortcuts()]


def test_a_key_of_a_view_is_not_the_windows_while_the_view_has_the_keyboard(opener: Opener) -> None:
    """Of every action of every widget: a key that the window has too is claimed by the widget."""
    window = opener()
    window.workspace.show_tab("alternatives")
    named = window.actions_by_name
    of_window = set(keys_of(named[each.name] for each in named.commands))
    shared = 0
    for widget in window.findChildren(QWidget):
        keys = keys_of(each for each in widget.actions() if each.shortcutContext() == WIDGET)
        assert len(keys) == len(set(keys)), widget.accessibleName()
        for key in of_window.intersection(keys):
            combination = QKeySequence(key)[0]
            event = QKeyEvent(
                QEvent.Type.ShortcutOverride, combination.key(), combination.keyboardModifiers()
            )
            event.ignore()
            widget.event(event)
            assert event.isAccepted(), (widget.accessibleName(), key)
            shared += 1
    assert shared, "F2 is one"


def test_undo_keys_reach_the_drawing_once_a_figure_is_taken(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.activateWindow()
    before = window.document.layout
    field = window.workspace.whatif.turners["Port height"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "3 ft")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.layout != before
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.layout == before


def test_undo_keys_stay_with_a_field_while_it_is_typed_in(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.activateWindow()
    raise_port(window)
    changed = window.document.layout
    field = window.workspace.whatif.turners["Port height"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "3")
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.layout is changed


def test_an_item_whose_ground_has_gone_does_nothing(qtbot: QtBot, opener: Opener) -> None:
    """An item is enabled by the drawing as it was when the menu was last brought in step."""
    window = opener()
    document, menu = window.document, window.actions_by_name.menu("Edit")
    item, bar = window.actions_by_name["copy ledger"], window.menuBar()
    QGuiApplication.clipboard().setText("before")
    document.blockSignals(True)
    document.apply("Off", replace(document.layout, runs={}))
    document.blockSignals(False)
    assert item.isEnabled()
    qtbot.mouseClick(bar, Qt.MouseButton.LeftButton, pos=bar.actionGeometry(menu.menuAction()).center())
    qtbot.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(item).center())
    assert document.solution is None
    assert QGuiApplication.clipboard().text() == "before"
    assert not item.isEnabled()


def test_a_message_can_be_put_away_by_the_menu_as_soon_as_it_is_there_and_not_after(opener: Opener) -> None:
    window = opener()
    away = window.actions_by_name["dismiss"]
    assert not away.isEnabled()
    window.document.refused.emit("It cannot be done")
    assert away.isEnabled()
    window.notice.dismiss()
    assert not away.isEnabled()
