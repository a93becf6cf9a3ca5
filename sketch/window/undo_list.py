"""The steps that can be undone and made again, in words, to go to any of them."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QUndoView, QVBoxLayout, QWidget

from sketch.look.buttons import without_icons
from sketch.window.small_screen import within_screen

SIZE = QSize(440, 420)
ROOM = 3  # round each step, as high then as a row of the other lists
FIRST = "Before the first step"


class UndoList(QDialog):
    """Stays beside the window until it is closed. The drawing follows the step that is selected."""

    def __init__(self, parent: QWidget, stack: QUndoStack) -> None:
        super().__init__(parent)
        self.setWindowTitle("Undo list")
        self.steps = QUndoView(stack)
        self.steps.setSpacing(ROOM)
        self.steps.setWordWrap(True)  # what a step was is read whole, however long
        self.steps.setResizeMode(QUndoView.ResizeMode.Adjust)
        self.steps.setEmptyLabel(FIRST)
        self.steps.setAccessibleName("Steps of the drawing; those below the selected one can be made again")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.addWidget(self.steps)
        column.addWidget(buttons)
        without_icons(self)
        self.resize(within_screen(self, SIZE))
        self.steps.setFocus()
