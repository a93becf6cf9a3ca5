"""The box that asks for a name, with the drawing's own names in it as they stand."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QInputDialog, QLabel, QWidget


def ask_for_name(parent: QWidget, title: str, question: str, name: str) -> str | None:
    """The name that is typed, beginning at another; None where the user would rather not."""
    dialog = QInputDialog(parent)
    dialog.setWindowTitle(title)
    dialog.setLabelText(question)
    dialog.setTextValue(name)
    for label in dialog.findChildren(QLabel):
        label.setTextFormat(Qt.TextFormat.PlainText)
    accepted = dialog.exec() == QInputDialog.DialogCode.Accepted
    typed = dialog.textValue()
    dialog.deleteLater()
    return typed if accepted else None
