"""A bar that says what is waited for, of the disk or worked out, and lets the hand give it up."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from sketch.look.label import Label
from sketch.look.words import unbroken
from sketch.model import disk

DISK = "The disk has not answered yet."
WORKED_OUT = "It is being worked out; the drawing can be changed meanwhile, what is written stays as it was."
"""Why something takes a while."""

NOT_AWAITED = "it was not waited for any longer."

T = TypeVar("T")


class Waiting(QFrame):
    """Seen once something has taken a while; the drawing can be worked on meanwhile."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.given_up = False
        self.busy = False
        self._sentence = self._why = ""
        self._text = Label()
        self._text.setWordWrap(True)
        self.cancel = QPushButton("Cancel")
        self.cancel.clicked.connect(self._give_up)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setAccessibleName("Waiting")
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
    def showing(self, doing: str, why: str = DISK) -> Iterator[None]:
        """Say what is being done while it keeps everybody waiting, and ask nothing else of the disk."""
        self.busy, self.given_up, self._sentence, self._why = True, False, doing, why
        try:
            with disk.patience(self):
                yield
        finally:
            self.busy = False
            self.hide()

    def work_out(self, act: Callable[[], T]) -> T:
        """What a function returns that may take minutes, while something is shown: on a thread of its own.

        Raises GivenUpError where the hand does not wait, and whatever the function raises.
        """
        before, self._why = self._why, WORKED_OUT
        try:
            return disk.with_time_limit(math.inf, act)
        finally:
            self._why = before
            self.hide()

    def wait(self) -> None:
        """It takes a while: say so."""
        if self.isHidden():
            self._text.setText(unbroken(f"{self._sentence}. {self._why}"))
            self.show()

    def refuses(self) -> bool:
        """Whether something is waited for already: then the bar says that nothing else can be done first."""
        if self.busy:
            self._text.setText(unbroken(f"{self._sentence}. Wait for it, or cancel, before anything else."))
            self.show()
        return self.busy

    def _give_up(self) -> None:
        self.given_up = True
