"""When what is unsaved is kept against a crash: in idle moments, and at intervals under a busy hand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal

from sketch.model.disk import write_safely
from sketch.model.storage import HeldError, Recovery

REST_MS, AT_MOST_MS = 2000, 5000
"""After the last change, and after the first that is not kept yet."""


class Autosave(QObject):
    """Keeps the text of a drawing, for as long as it differs from what is saved.

    `unsaved` gives that text, "" where there is nothing to keep. With `keeps` false nothing is ever written.
    """

    unkept = Signal(str)  # why what is unsaved cannot be kept; once

    def __init__(self, parent: QObject, unsaved: Callable[[], str], keeps: bool) -> None:
        super().__init__(parent)
        self.recovery = Recovery(keeps)
        self._unsaved = unsaved
        self._since = QElapsedTimer()
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self.keep)
        self.recovery.adopt(self.recovery.claim(None))

    def changed(self) -> None:
        """There is a change to be kept, soon."""
        if not self._rest.isActive():
            self._since.start()
        if not self._since.hasExpired(AT_MOST_MS - REST_MS):
            self._rest.start()

    def keep(self) -> None:
        """Write the recovery file, or drop it when there is nothing unsaved."""
        self._rest.stop()
        text = self._unsaved()
        if not text:
            self.recovery.forget()
        elif trouble := self.recovery.write(text):
            self.unkept.emit(trouble)

    def forget(self) -> None:
        """What is unsaved is wanted no more."""
        self._rest.stop()
        self.recovery.forget()

    def begin(self, path: Path | None) -> str:
        """Another drawing is here. Returns who has its file open: then this one is kept as without a file."""
        self.forget()
        try:
            self.recovery.adopt(self.recovery.claim(path))
        except HeldError as error:
            self.recovery.adopt(self.recovery.claim(None))
            return str(error)
        return ""

    def save(self, path: Path, text: str) -> None:
        """Write the drawing to a file, whose own it is from now on. Raises SaveError."""
        slot = self.recovery.claim(path)
        try:
            write_safely(path, text)
        except OSError:
            self.recovery.let_go(slot)
            raise
        self._rest.stop()
        self.recovery.drop_saved()
        self.recovery.adopt(slot)

    def close(self) -> None:
        """Let go of the drawing, with what is unsaved."""
        self.forget()
        self.recovery.release()
