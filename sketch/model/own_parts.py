"""The catalogues of one's own on disk: beside the drawing, and in the user's folder."""

from __future__ import annotations

import threading
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths, QTimer, Signal

from sketch.model.disk import ANSWER_S, SaveError, path_text, with_time_limit, write_safely
from solver.layout import file, own_parts
from solver.layout.file import LayoutErrors, Problem
from solver.layout.own_parts import ENDING, FILE_NAME, Catalogue, OwnPart

LOOK_MS = 50  # between looks for what a thread has read


class NameInUseError(SaveError):
    """A part of that kind and name is in the catalogue already."""


def user_catalogue() -> Path:
    """The catalogue that parts are kept in; it need not be there yet."""
    location = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(location)) / FILE_NAME


def catalogue_for(drawing: Path | None) -> Catalogue:
    """What can be read beside a drawing and in the user's folder; a silent disk is one of the problems."""
    folders = _folders(drawing)
    try:
        return with_time_limit(ANSWER_S, lambda: _read(folders))
    except OSError as error:
        return _silent(folders, error)


class OwnCatalogue(QObject):
    """The catalogues beside a drawing and of the user, read on a thread of their own."""

    changed = Signal()  # another catalogue is here

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.catalogue = Catalogue()
        self._folders: tuple[Path, ...] = ()
        self._results: list[Catalogue] = []
        self._timer = QTimer(self, interval=LOOK_MS)
        self._timer.timeout.connect(self._compare)

    def follow(self, drawing: Path | None) -> None:
        """Read what there is for a drawing; a disk that does not answer leaves the catalogue empty."""
        results: list[Catalogue] = []
        self._results = results  # of an earlier drawing comes nothing any more
        folders = _folders(drawing)
        if folders != self._folders:
            self._folders = folders
            self.set_catalogue(Catalogue())
        threading.Thread(target=lambda: results.append(_read(folders)), daemon=True).start()
        self._timer.start()

    def set_catalogue(self, catalogue: Catalogue) -> None:
        """Hold a catalogue that was read elsewhere."""
        if catalogue != self.catalogue:
            self.catalogue = catalogue
            self.changed.emit()

    def _compare(self) -> None:
        if self._results:
            self._timer.stop()
            self.set_catalogue(self._results.pop())


def _folders(drawing: Path | None) -> tuple[Path, ...]:
    return (*(() if drawing is None else (drawing.parent,)), user_catalogue().parent)


def _read(folders: tuple[Path, ...]) -> Catalogue:
    try:
        return own_parts.read(_files(folders))
    except OSError as error:
        return _silent(folders, error)


def _silent(folders: tuple[Path, ...], error: OSError) -> Catalogue:
    names, reason = ", ".join(map(path_text, folders)), error.strerror or str(error)
    silence = Problem("", 0, 0, "", f"no answer from {names} ({reason})", "folders that can be read")
    return Catalogue((), (silence,))


def _files(folders: tuple[Path, ...]) -> list[Path]:
    """Every catalogue once, those beside the drawing first."""
    return list(dict.fromkeys(path for folder in folders for path in sorted(folder.glob(f"*{ENDING}"))))


def keep(part: OwnPart, *, replacing: bool = False) -> Path:
    """Add a part to the user's catalogue, whole or not at all. Returns the file.

    Raises NameInUseError unless `replacing`, SaveError, and LayoutErrors where the catalogue or the part
    does not read.
    """
    path = user_catalogue()
    try:
        before = with_time_limit(ANSWER_S, lambda: _content(path))
    except OSError as error:
        raise SaveError(f"{path.name} cannot be read: {error.strerror or error}") from error
    group = file.tables(before.removeprefix("\ufeff"), path_text(path)).get(part.kind)
    if isinstance(group, dict) and part.name in group and not replacing:
        raise NameInUseError(f"{path.name} has {part.name} already")
    write_safely(path, own_parts.with_part(before, part))
    return path


def _content(path: Path) -> str:
    """The text of the catalogue, "" where there is none yet; its folder is made."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with suppress(FileNotFoundError):
        path.stat()
        return file.contents(path)
    return ""


def first_problem(error: LayoutErrors) -> str:
    """What is wrong first, in words: in a catalogue with its file and line."""
    first = error.problems[0]
    place = f"{Path(first.file).name}, line {first.line}: " if first.file.endswith(ENDING) else ""
    key = f"{first.key}: " if first.key else ""
    return f"{place}{key}found {first.found}; allowed: {first.allowed}"
