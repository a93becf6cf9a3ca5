"""The file of the open drawing: where it lies, what was last read or written there, recovery and watch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from sketch.model import disk
from sketch.model.autosave import Autosave
from sketch.model.watch import Watch
from solver.layout import file
from solver.layout.file import Drawing, LayoutErrors


class DrawingFile(QObject):
    """Follows one drawing on disk.

    `unsaved` returns the drawing as it is where it differs from what is saved, else None. With `keeps` false
    no recovery file is written, moved or dropped, and no lock is taken.
    """

    changed_outside = Signal()  # another program wrote the file
    unkept = Signal(str)  # what is unsaved cannot be kept against a crash, and why; once

    def __init__(
        self, saved: Drawing, unsaved: Callable[[], Drawing | None], parent: QObject, *, keeps: bool
    ) -> None:
        super().__init__(parent)
        self.path: Path | None = None
        self.held_by = ""  # who has the file that this drawing is a copy of
        self.saved = saved
        self.waiting: disk.WaitBar = disk.NoWaitBar()  # of the window that shows the drawing
        self._unsaved = unsaved
        self._watch = Watch(self)
        self._watch.happened.connect(self.changed_outside)
        self._autosave = Autosave(self, self._text, keeps)
        self._autosave.unkept.connect(self.unkept)

    def _text(self) -> str:
        drawing = self._unsaved()
        return "" if drawing is None else file.write(drawing)

    @property
    def overtaken(self) -> bool:
        """Whether another program has written the file since it was read or written here."""
        return self._watch.overtaken

    @property
    def recoveries(self) -> tuple[Path, ...]:
        """What earlier sessions left unsaved of this drawing, the newest first."""
        return self._autosave.recovery.left_behind(self.saved.text)

    def read(self) -> Drawing:
        """The drawing as it is on disk. Raises LayoutErrors or OSError; ValueError without a file."""
        if self.path is None:
            raise ValueError("the drawing has no file yet")
        return disk.drawing(self.path)

    def follow(self, drawing: Drawing, path: Path | None) -> None:
        """Follow another drawing, as it was read from `path`; None for one without a file.

        Where another window has that file, the drawing is a copy without one.
        """
        self.held_by = self._autosave.begin(path)
        self.saved, self.path = drawing, None if self.held_by else path
        self._watch.follow(self.path, drawing.text)

    def save(self, drawing: Drawing, path: Path) -> Drawing:
        """Write the drawing to `path` and follow it there. Returns it with its new text.

        Comments, order and typed text stay; the file that stood there stays whole if anything fails. Raises
        SaveError, also for a drawing that could not be opened again; HeldError, which is one, where another
        window has that file open.
        """
        text = file.write(drawing)
        _check_readable(text, path)
        self._autosave.save(path, text)
        self.saved, self.path, self.held_by = replace(drawing, text=text), path, ""
        self._watch.follow(path, text)
        return self.saved

    def keep_soon(self) -> None:
        """Write the recovery file once nothing has changed for a while, or often enough all the same."""
        self._autosave.changed()

    def keep(self) -> None:
        """Write the recovery file, or drop it when there is nothing unsaved."""
        self._autosave.keep()

    def restore_recovery(self, kept: Path) -> Drawing:
        """One of `recoveries`, which goes once it is saved. Raises LayoutErrors or OSError."""
        drawing = disk.drawing(kept)
        self._autosave.recovery.restore_recovery(kept)
        return drawing

    def discard_recoveries(self) -> None:
        """Drop what earlier sessions left unsaved."""
        self._autosave.recovery.discard_earlier()

    def give_up(self) -> None:
        """Drop the recovery file: what is unsaved is wanted no more."""
        self._autosave.forget()

    def close(self) -> None:
        """Let go of the file for good, with what is unsaved."""
        self._autosave.close()
        self._watch.follow(None)


def _check_readable(text: str, path: Path) -> None:
    """Refuse a text that does not read: it must never take the place of one that does."""
    try:
        file.parse(text, disk.path_text(path))
    except LayoutErrors as error:
        first = error.problems[0]
        raise disk.SaveError(
            f"{disk.path_text(path)} was not written: it could not be opened again. {first.key} has "
            f"{first.found}; allowed: {first.allowed}. The file on disk is unchanged."
        ) from error
