"""Menus opened by the right button or the menu key, and walked by keys."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from sketch.window.main_window import Window
from tests.sketch.window.windows import NONE, RIGHT


def opened() -> QMenu:
    """The menu that is open."""
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu), "no menu has opened"
    return menu


def texts(menu: QMenu) -> list[str]:
    return [action.text().replace("&", "") for action in menu.actions() if not action.isSeparator()]


def right_click(window: Window, widget: QWidget, at: QPoint) -> list[str]:
    """What the menu has that a right click opens; the click goes through the window, as a mouse's does."""
    QTest.mouseClick(window.windowHandle(), RIGHT, NONE, widget.mapTo(window, at))
    return texts(opened())


def choose(text: str) -> None:
    """Walk down the open menu to an action and press Return, submenus on the way by their own name."""
    menu = opened()
    for step in text.split("/"):
        at = texts(menu).index(step)
        wanted = [action for action in menu.actions() if not action.isSeparator()][at]
        for _ in range(99):
            if menu.activeAction() is wanted:
                break
            QTest.keyClick(menu, Qt.Key.Key_Down)
        assert menu.activeAction() is wanted
        submenu = wanted.menu()
        QTest.keyClick(menu, Qt.Key.Key_Right if submenu else Qt.Key.Key_Return)
        menu = submenu or menu


def close() -> None:
    QTest.keyClick(opened(), Qt.Key.Key_Escape)
