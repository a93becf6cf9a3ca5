"""Buttons of words: small ones beside a list, and those of a dialog."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QMenu, QToolButton

ARROW = 14
"""Room for the arrow of a menu at either side of the words, in logical pixels: Qt paints it over them."""


def word_button(text: str, of: str, does: Callable[[], object] | QMenu) -> QToolButton:
    """A button that says `text`, and is heard with what it is of: "New" and "case"; it does something, or
    opens a menu."""
    button = QToolButton()
    button.setText(text)
    button.setAccessibleName(f"{text.rstrip('…')} {of}")
    if isinstance(does, QMenu):
        button.setMenu(does)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMinimumWidth(button.sizeHint().width() + ARROW)
    else:
        button.clicked.connect(does)
    return button


def without_icons(dialog: QDialog) -> None:
    """Take the icons off a dialog's buttons: those of some desktops are black on black in the dark."""
    for box in dialog.findChildren(QDialogButtonBox):
        for button in box.buttons():
            button.setIcon(QIcon())
