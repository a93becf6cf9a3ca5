"""The file of the open drawing: where it lies, what was last read or written there, recovery and watch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model import storage
from solver.layout import file
from solver.layout.file import Drawing

AUTOSAVE_MS = 2000


class DrawingFile(QObject):
    """Follows one drawing on disk.

    `unsaved` returns the drawing as it is where it differs from what is saved, else None. With `keeps` false
    no recovery file is written, moved or dropped.
    """

    changed_outside = Signal()  # another program wrote the file

    def __init__(
        self, saved: Drawing, unsaved: Callable[[], Drawing | None], parent: QObject, *, keeps: bool
    ) -> None:
        super().__init__(parent)
        self.path: Path | None = None
        self.saved = saved
        self._unsaved = unsaved
        self._recovery = storage.Recovery(keeps)
        self._watch = storage.Watch(self)
        self._watch.happened.connect(self.changed_outside)
        self._idle = QTimer(self, interval=AUTOSAVE_MS, singleShot=True)
        self._idle.timeout.connect(self.keep)
        self._recovery.set_aside(None)

    @property
    def overtaken(self) -> bool:
        """Whether another program has written the file since it was read or written here."""
        return self._watch.overtaken

    @property
    def recovery(self) -> Path | None:
        """What an earlier session left unsaved of this drawing; None while there is something unsaved now."""
        return self._recovery.left(self.path) if self._unsaved() is None else None

    def follow(self, drawing: Drawing, path: Path | None) -> None:
        """Follow another drawing, as it was read from `path`; None for one without a file."""
        self._idle.stop()
        self.saved, self.path = drawing, path
        self._watch.follow(path)
        self._recovery.set_aside(path)

    def save(self, drawing: Drawing, path: Path) -> Drawing:
        """Write the drawing to `path` and follow it there. Raises SaveError. Returns it with its new text.

        Comments, order and typed text stay; the file that stood there stays whole if anything fails.
        """
        text = file.write(drawing)
        storage.write_safely(path, text)
        self.give_up()
        self._recovery.forget(path)
        self.saved, self.path = replace(drawing, text=text), path
        self._watch.follow(path)
        return self.saved

    def keep_soon(self) -> None:
        """Write the recovery file once nothing has changed for a while."""
        self._idle.start()

    def keep(self) -> None:
        """Write the recovery file, or drop it when there is nothing unsaved."""
        drawing = self._unsaved()
        if drawing is None:
            self._recovery.forget(self.path)
        else:
            self._recovery.write(self.path, file.write(drawing))

    def give_up(self) -> None:
        """Drop the recovery file: what is unsaved is wanted no more."""
        self._idle.stop()
        self._recovery.forget(self.path)

    def close(self) -> None:
        """Let go of the file for good, with what is unsaved."""
        self.give_up()
        self._watch.follow(None)
