"""A bar that says what the disk keeps everybody waiting for, and lets the hand give it up."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from sketch.look.label import Label
from sketch.look.words import unbroken
from sketch.model import disk


class Waiting(QFrame):
    """Seen once the disk has not answered for a while; the drawing can be worked on meanwhile."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.given_up = False
        self.busy = False
        self._sentence = ""
        self._text = Label()
        self._text.setWordWrap(True)
        self.cancel = QPushButton("Cancel")
        self.cancel.clicked.connect(self._give_up)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setAccessibleName("Waiting for the disk")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 8, 12, 8)
        row.addWidget(self._text, 1)
        row.addWidget(self.cancel)
        self.hide()

    @property
    def text(self) -> str:
        """The sentence that is shown; "" while nothing is waited for."""
        return "" if self.isHidden() else self._text.text()

    @contextmanager
    def showing(self, doing: str) -> Iterator[None]:
        """Say what is being done while the disk keeps it waiting, and ask nothing else of the disk."""
        self.busy, self.given_up, self._sentence = True, False, doing
        try:
            with disk.patience(self):
                yield
        finally:
            self.busy = False
            self.hide()

    def wait(self) -> None:
        """The disk has not answered yet."""
        if self.isHidden():
            self._text.setText(unbroken(f"{self._sentence}. The disk has not answered yet."))
            self.show()

    def refuses(self) -> bool:
        """Whether something is waited for already: then the bar says that nothing else can be done first."""
        if self.busy:
            self._text.setText(
                unbroken(f"{self._sentence}. Wait for the disk, or cancel, before anything else.")
            )
            self.show()
        return self.busy

    def _give_up(self) -> None:
        self.given_up = True
