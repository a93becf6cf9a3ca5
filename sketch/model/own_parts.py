"""The catalogues of one's own on disk: beside the drawing, and in the user's folder."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QStandardPaths

from sketch.model.disk import ANSWER_S, SaveError, path_text, with_time_limit, write_safely
from solver.layout import file, own_parts
from solver.layout.file import LayoutErrors, Problem
from solver.layout.own_parts import ENDING, FILE_NAME, Catalogue, OwnPart


class NameInUseError(SaveError):
    """A part of that kind and name is in the catalogue already."""


def user_catalogue() -> Path:
    """The catalogue that parts are kept in; it need not be there yet."""
    location = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(location)) / FILE_NAME


def catalogue_for(drawing: Path | None) -> Catalogue:
    """What can be read beside a drawing and in the user's folder; a silent disk is one of the problems."""
    folders = (*(() if drawing is None else (drawing.parent,)), user_catalogue().parent)
    try:
        return with_time_limit(ANSWER_S, lambda: own_parts.read(_files(folders)))
    except OSError as error:
        reason = error.strerror or str(error)
        names = ", ".join(map(path_text, folders))
        return Catalogue((), (Problem(names, 0, 0, "", f"no answer ({reason})", "folders that can be read"),))


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
        raise SaveError(f"{path_text(path)} cannot be read: {error.strerror or error}") from error
    group = file.tables(before.removeprefix("\ufeff"), path_text(path)).get(part.kind)
    if isinstance(group, dict) and part.name in group and not replacing:
        raise NameInUseError(f"{path_text(path)} has {part.name} already")
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
    """What is wrong first, in words."""
    first = error.problems[0]
    key = f"{first.key}: " if first.key else ""
    return f"{key}found {first.found}; allowed: {first.allowed}"
