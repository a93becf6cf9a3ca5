"""What keeps a drawing safe on disk: atomic saving, the recovery file, recent files, the watch."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import (
    QFileSystemWatcher,
    QIODevice,
    QObject,
    QSaveFile,
    QStandardPaths,
    QTimer,
    Signal,
)

RECENT = 10
SETTLE_MS = 150  # a program that saves by replacing leaves the name empty for a moment


class SaveError(OSError):
    """A file that could not be written; what stood there before is untouched."""


def write_safely(path: Path, text: str) -> None:
    """Put `text` at `path`, whole or not at all. Raises SaveError.

    Never falls back to writing in place: a folder that refuses a second file gets "save as" instead.
    """
    data = text.encode("utf-8")
    file = QSaveFile(str(path))
    if not file.open(QIODevice.OpenModeFlag.WriteOnly):
        raise SaveError(_refusal(path, file))
    if file.write(data) != len(data):
        file.cancelWriting()
        file.commit()
        raise SaveError(_refusal(path, file))
    if not file.commit():
        raise SaveError(_refusal(path, file))


def _refusal(path: Path, file: QSaveFile) -> str:
    return (
        f"{path} was not written: {file.errorString()}. The file on disk is unchanged; "
        "save under another name or in another folder."
    )


def state_folder() -> Path:
    """Where this program keeps what it must remember; made when missing. Raises OSError."""
    folder = Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation))
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def recovery_file(path: Path | None, kind: str = "now") -> Path:
    """The recovery file that belongs to a drawing, or to one that has no file yet.

    `kind` is "now" for the one this run writes, "left" for what an earlier run left behind.
    """
    name = "untitled" if path is None else hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:24]
    return state_folder() / f"recovery-{name}-{kind}.toml"


def set_aside(path: Path | None) -> None:
    """Keep what an earlier session left from being written over by this one."""
    try:
        if _worth_offering(recovery_file(path), path):
            recovery_file(path).replace(recovery_file(path, "left"))
    except OSError:
        return


def recoverable(path: Path | None) -> Path | None:
    """What an earlier session left of that drawing, where it is newer than the drawing and differs."""
    try:
        left = recovery_file(path, "left")
        return left if _worth_offering(left, path) else None
    except OSError:
        return None


def _worth_offering(kept: Path, path: Path | None) -> bool:
    if not kept.exists():
        return False
    if path is None or not path.exists():
        return True
    newer = kept.stat().st_mtime_ns >= path.stat().st_mtime_ns
    return newer and kept.read_bytes() != path.read_bytes()


def forget(path: Path | None) -> None:
    """Drop the recovery files of that drawing; a folder that cannot be written is no reason to stop."""
    try:
        recovery_file(path).unlink(missing_ok=True)
        recovery_file(path, "left").unlink(missing_ok=True)
    except OSError:
        return


class Recovery:
    """The recovery files of a document; one that leaves no trace writes, moves and drops none."""

    def __init__(self, keeps: bool) -> None:
        self._keeps = keeps

    def write(self, path: Path | None, text: str) -> None:
        """Keep what is not saved; no room for it is no reason to disturb the drawing."""
        if self._keeps:
            with suppress(OSError):
                write_safely(recovery_file(path), text)

    def left(self, path: Path | None) -> Path | None:
        """What an earlier session left of that drawing, if anything."""
        return recoverable(path) if self._keeps else None

    def set_aside(self, path: Path | None) -> None:
        """Keep what an earlier session left from being written over."""
        if self._keeps:
            set_aside(path)

    def forget(self, path: Path | None) -> None:
        """Drop the files of that drawing."""
        if self._keeps:
            forget(path)


def recent_files() -> list[Path]:
    """The drawings opened or saved last, newest first, those that are still there."""
    try:
        lines = (state_folder() / "recent.txt").read_text("utf-8").splitlines()
        return [Path(line) for line in lines if line and Path(line).exists()][:RECENT]
    except (OSError, UnicodeDecodeError):
        return []


def remember(path: Path) -> None:
    """Put `path` at the head of the recent files."""
    path = path.resolve()
    lines = [str(path), *(str(old) for old in recent_files() if old != path)]
    try:
        write_safely(state_folder() / "recent.txt", "\n".join(lines[:RECENT]) + "\n")
    except OSError:
        return


class Watch(QObject):
    """Tells when another program changes the drawing's file.

    A file that is replaced rather than rewritten drops out of the watch, so its folder is watched too and
    the name is taken up again; what this program wrote itself is told apart by content.
    """

    happened = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._path: Path | None = None
        self._known: bytes | None = None  # what has been told of
        self._mine: bytes | None = None  # what was read or written here
        self._watcher = QFileSystemWatcher(self)
        self._settle = QTimer(self, interval=SETTLE_MS, singleShot=True)
        self._settle.timeout.connect(self._look)
        self._watcher.fileChanged.connect(self._wait)
        self._watcher.directoryChanged.connect(self._wait)

    def follow(self, path: Path | None) -> None:
        """Watch `path` from its present content on; None watches nothing."""
        old = self._watcher.files() + self._watcher.directories()
        if old:
            self._watcher.removePaths(old)
        self._settle.stop()
        self._path = path
        self._known = self._mine = _fingerprint(path)
        self._take_up()

    @property
    def overtaken(self) -> bool:
        """Whether another program has written the file since it was read or written here."""
        now = _fingerprint(self._path)
        return now is not None and now != self._mine

    def _wait(self) -> None:
        self._settle.start()

    def _look(self) -> None:
        now = _fingerprint(self._path)
        self._take_up()
        if now is None or now == self._known:
            return
        self._known = now
        self.happened.emit()

    def _take_up(self) -> None:
        if self._path is None:
            return
        watched = self._watcher.files() + self._watcher.directories()
        wanted = [str(path) for path in (self._path, self._path.parent) if path.exists()]
        missing = [path for path in wanted if path not in watched]
        if missing:
            self._watcher.addPaths(missing)


def _fingerprint(path: Path | None) -> bytes | None:
    try:
        return None if path is None else hashlib.sha256(path.read_bytes()).digest()
    except OSError:
        return None
