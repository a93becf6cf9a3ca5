"""What is kept between sessions: recovery files, each under a lock, and the list of recent files."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QLockFile, QStandardPaths

from sketch.model.disk import (
    ANSWER_S,
    SaveError,
    UnansweredError,
    contents,
    path_text,
    with_time_limit,
    write_safely,
)

RECENT = 10
UNTITLED = "untitled-"
SILENT_S = 30.0  # for which a folder that did not answer is not asked again
MOST_LEFT = 5
"""Recoveries of one drawing that are kept; the oldest goes first."""


class HeldError(SaveError):
    """A drawing that another window has open: who has it."""


def state_folder() -> Path:
    """Where this program keeps what it must remember; made when missing. Raises OSError."""
    folder = Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation))
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    with suppress(OSError):
        folder.chmod(0o700)
    return folder


def drawing_key(path: Path) -> str:
    """A name for a drawing's files, alike by whatever link it was opened."""
    try:
        path = with_time_limit(ANSWER_S, path.resolve)
    except OSError:
        path = path.absolute()
    return hashlib.sha256(os.fsencode(path)).hexdigest()[:24]


class Slot:
    """One drawing's recovery files and the lock on them, held until it is let go."""

    def __init__(self, key: str) -> None:
        """Raises HeldError where another window has it, OSError where nothing can be kept."""
        self.key = key
        self._folder = state_folder()
        self._lock = QLockFile(str(self._folder / f"recovery-{key}.lock"))
        self._lock.setStaleLockTime(0)  # stale only where its process is gone, however long that has run
        if not self._lock.tryLock(0):
            if self._lock.error() == QLockFile.LockError.LockFailedError:
                raise HeldError(self._holder())
            raise OSError(0, f"{self._folder} cannot be written")

    def _holder(self) -> str:
        pid, host, _ = self._lock.getLockInfo()
        return f"process {pid} on {host}"

    @property
    def own_file(self) -> Path:
        """The file that this window writes."""
        return self._folder / f"recovery-{self.key}-now.toml"

    def set_aside(self) -> None:
        """Keep what an earlier session left from being written over by this one."""
        with suppress(OSError):
            stamp = self.own_file.stat().st_mtime_ns
            self.own_file.replace(self._folder / f"recovery-{self.key}-left-{stamp}.toml")
        for old in self.left_behind()[MOST_LEFT:]:
            old.unlink(missing_ok=True)

    def left_behind(self) -> tuple[Path, ...]:
        """What earlier sessions left, the newest first."""
        paths = self._folder.glob(f"recovery-{self.key}-left-*.toml")
        return tuple(sorted(paths, key=lambda each: each.name, reverse=True))

    def release(self) -> None:
        """Let go of the lock, with the files as they are."""
        self._lock.unlock()


class Recovery:
    """The recovery files of a document; one that leaves no trace writes, moves and drops none."""

    def __init__(self, keeps: bool) -> None:
        self._keeps = keeps
        self._slot: Slot | None = None
        self._complained = False
        self._silent_until = 0.0  # [s], of the clock that only goes on
        self._restored: list[Path] = []

    def claim(self, path: Path | None) -> Slot | None:
        """The place of a drawing, or of one that has no file yet; None where nothing is kept.

        Raises HeldError where another window has that drawing open.
        """
        if not self._keeps:
            return None
        try:
            held = self._slot.key if self._slot is not None else ""
            if path is None:
                return self._slot if held.startswith(UNTITLED) else next(_untitled())
            key = drawing_key(path)
            return self._slot if held == key else Slot(key)
        except HeldError:
            raise
        except OSError:
            return None

    def adopt(self, slot: Slot | None) -> None:
        """Keep what is unsaved in that place from now on."""
        if slot is self._slot:
            return
        if self._slot is not None:
            self._slot.release()
        self._slot = slot
        if slot is not None:
            slot.set_aside()

    def write(self, text: str) -> str:
        """Keep what is not saved. Why it could not be, where that has not been told yet; else ""."""
        if not self._keeps or time.monotonic() < self._silent_until:
            return ""
        try:
            if self._slot is None:
                raise SaveError(f"{state_folder()} cannot be written")
            write_safely(self._slot.own_file, text, private=True)
        except OSError as error:
            if isinstance(error, UnansweredError):
                self._silent_until = time.monotonic() + SILENT_S
            complained, self._complained = self._complained, True
            return "" if complained else str(error)
        return ""

    def left_behind(self, saved: str) -> tuple[Path, ...]:
        """What earlier sessions left that differs from what is saved, the newest first."""
        if self._slot is None:
            return ()
        return tuple(each for each in self._slot.left_behind() if _differs(each, saved))

    def forget(self) -> None:
        """Drop what this window has kept."""
        if self._slot is not None:
            with suppress(OSError):
                self._slot.own_file.unlink(missing_ok=True)

    def restore_recovery(self, kept: Path) -> None:
        """What an earlier session left is part of the drawing now, and goes once that is saved."""
        self._restored.append(kept)

    def drop_saved(self) -> None:
        """Drop what is saved by now."""
        self.forget()
        for each in self._restored:
            with suppress(OSError):
                each.unlink(missing_ok=True)
        self._restored.clear()

    def discard_earlier(self) -> None:
        """Delete the recoveries that earlier sessions left."""
        for each in self._slot.left_behind() if self._slot is not None else ():
            with suppress(OSError):
                each.unlink(missing_ok=True)

    def let_go(self, slot: Slot | None) -> None:
        """Let go of a place that was claimed and is not wanted after all."""
        if slot is not None and slot is not self._slot:
            slot.release()

    def release(self) -> None:
        """Let go of the drawing, with its files as they are."""
        if self._slot is not None:
            self._slot.release()
            self._slot = None


def _differs(kept: Path, saved: str) -> bool:
    try:
        return contents(kept) != saved.encode("utf-8")
    except OSError:
        return False


def _untitled() -> Iterator[Slot]:
    """The first place for a drawing without a file that no other window has."""
    for number in range(1, 1000):
        with suppress(HeldError):
            slot = Slot(f"{UNTITLED}{number}")
            yield slot
    raise OSError(0, "too many windows")


def recovery_file(path: Path | None) -> Path:
    """The file that this run writes for a drawing, or for the first one without a file."""
    key = f"{UNTITLED}1" if path is None else drawing_key(path)
    return state_folder() / f"recovery-{key}-now.toml"


def recent_files() -> list[Path]:
    """The drawings opened or saved last, newest first, those that are still there."""
    try:
        lines = os.fsdecode(contents(state_folder() / "recent.txt")).split("\n")
    except OSError:
        return []
    paths = [Path(line) for line in lines if line][: 2 * RECENT]
    try:
        return with_time_limit(ANSWER_S, lambda: [path for path in paths if path.exists()])[:RECENT]
    except (OSError, ValueError):
        return paths[:RECENT]  # one that has gone says so when it is opened


def remember(path: Path) -> None:
    """Put a path at the head of the recent files."""
    with suppress(OSError):
        path = with_time_limit(ANSWER_S, path.resolve)
        lines = [path, *(old for old in recent_files() if old != path)]
        named = [os.fsencode(each) for each in lines[:RECENT] if "\n" not in path_text(each)]
        write_safely(state_folder() / "recent.txt", b"".join(name + b"\n" for name in named), private=True)
