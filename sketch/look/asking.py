"""Boxes that ask for a text or a choice, with the drawing's own names in them as they stand."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QInputDialog, QLabel, QMessageBox, QWidget

from sketch.look.buttons import without_icons


def ask_for_text(parent: QWidget, title: str, question: str, text: str = "") -> str | None:
    """What is typed, beginning at a text; None where the user would rather not."""
    dialog = _dialog(parent, title, question)
    dialog.setTextValue(text)
    return _answer(dialog)


def ask_for_choice(
    parent: QWidget, title: str, question: str, choices: Sequence[str], chosen: str = ""
) -> str | None:
    """What is chosen out of a list, beginning at one of it; None where the user would rather not."""
    dialog = _dialog(parent, title, question)
    dialog.setComboBoxItems(list(choices))
    if chosen in choices:
        dialog.setTextValue(chosen)
    return _answer(dialog)


def ask(box: QMessageBox) -> QMessageBox.StandardButton:
    """Which button of a question is pressed."""
    without_icons(box)
    return QMessageBox.StandardButton(box.exec())


def _dialog(parent: QWidget, title: str, question: str) -> QInputDialog:
    dialog = QInputDialog(parent)
    dialog.setWindowTitle(title)
    dialog.setLabelText(question)
    return dialog


def _answer(dialog: QInputDialog) -> str | None:
    dialog.adjustSize()  # it has no buttons until it is laid out
    for label in dialog.findChildren(QLabel):
        label.setTextFormat(Qt.TextFormat.PlainText)
    without_icons(dialog)
    accepted = dialog.exec() == QInputDialog.DialogCode.Accepted
    typed = dialog.textValue()
    dialog.deleteLater()
    return typed if accepted else None
