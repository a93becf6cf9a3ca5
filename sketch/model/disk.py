"""The disk, asked with care: plain files of a size only, off the hand's thread, and for so long only.

A share that has gone answers nothing for minutes, a name may have become a pipe or a link to a device without
an end: whoever asks on the thread that draws stops the hand for as long.
"""

from __future__ import annotations

import hashlib
import os
import stat
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Protocol, TypeVar

from PySide6.QtCore import QCoreApplication, QEventLoop, QFileDevice, QIODevice, QSaveFile, QThread

from solver.layout import file, own_parts
from solver.layout.file import LARGEST_FILE, Drawing

T = TypeVar("T")


class Patience(Protocol):
    """Who is told that the disk keeps the hand waiting, and may give it up."""

    @property
    def given_up(self) -> bool: ...
    def wait(self) -> None: ...


class WaitBar(Protocol):
    """What shows which reading or writing the disk keeps the hand waiting for, one at a time."""

    def showing(self, doing: str, why: str = ...) -> AbstractContextManager[None]: ...
    def refuses(self) -> bool: ...
    def work_out(self, act: Callable[[], T]) -> T: ...


class NoWaitBar:
    """A wait bar where there is no window: it shows nothing, and the hand waits."""

    @contextmanager
    def showing(self, doing: str, why: str = "") -> Iterator[None]:
        """Show nothing while something is read or written."""
        yield

    def refuses(self) -> bool:
        """Whether something is waited for already: never."""
        return False

    def work_out(self, act: Callable[[], T]) -> T:
        """What a function returns, called at once."""
        return act()


_patience: list[Patience] = []  # of what the hand has asked for; the last one is told


@contextmanager
def patience(of: Patience) -> Iterator[None]:
    """Within this, the hand goes on while the disk does not answer, and may give it up."""
    _patience.append(of)
    try:
        yield
    finally:
        _patience.remove(of)


READ_S, WRITE_S = 5.0, 15.0
"""How long a disk may take before it is taken for gone [s]."""

ANSWER_S = (
    0.5  # how long it may take to say what is only good to know: whether a file is there, where a link leads
)

AT_ONCE_S = 0.05  # what a disk that is there takes at most: until then nothing else is done
PATIENT_S = 0.35  # how long keys and clicks wait for the disk before they go on
KEEP_S = 1.0  # how long what is kept against a crash may take: nobody has asked for it
OWNER_ONLY = QFileDevice.Permission.ReadOwner | QFileDevice.Permission.WriteOwner
NO_PLAIN_FILE = b"no plain file"


class GivenUpError(OSError):
    """What the hand did not wait for any longer."""

    def __init__(self) -> None:
        super().__init__(0, "the disk was not waited for any longer")


class SaveError(OSError):
    """A file that could not be written; what stood there before is untouched."""


class UnansweredError(SaveError):
    """A disk that does not say whether a file is written."""


def with_time_limit(seconds: float, act: Callable[[], T], *, patient: bool = True) -> T:
    """What a function returns, called on a thread of its own.

    The window is painted meanwhile. Keys and clicks wait, within `patience` no longer than a moment and
    unless `patient` is false. Raises TimeoutError after so many seconds, GivenUpError where the hand does not
    wait, and whatever the function raises.
    """
    result: list[T] = []
    failure: list[BaseException] = []
    done = threading.Event()

    def work() -> None:
        try:
            result.append(act())
        except BaseException as error:  # handed over, whatever it is
            failure.append(
                error.with_traceback(None)
            )  # its frames hold objects of Qt that belong to the thread
        done.set()

    threading.Thread(target=work, daemon=True).start()
    given_up = _wait(done, seconds, _patience[-1] if _patience and patient else None)
    if failure:
        raise failure[0]
    if not result and given_up:
        raise GivenUpError
    if not result:
        raise TimeoutError(0, f"the disk did not answer within {seconds:g} s")
    return result[0]


def _wait(done: threading.Event, seconds: float, patience: Patience | None) -> bool:
    """Wait for so long at most; whether the hand gave it up."""
    begun = time.monotonic()
    done.wait(min(AT_ONCE_S, seconds))
    application = QCoreApplication.instance()
    painted = application is not None and QThread.currentThread() == application.thread()
    while not done.is_set() and time.monotonic() < begun + seconds:
        if painted and patience is not None and time.monotonic() > begun + PATIENT_S:
            patience.wait()
            QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents)
            if patience.given_up:
                return True
        elif painted:
            QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)
        done.wait(0.02)
    return False


def drawing(path: Path) -> Drawing:
    """Read a drawing. Raises LayoutErrors, or TimeoutError where the disk does not answer."""
    if path.name.endswith(own_parts.ENDING):
        raise with_time_limit(READ_S, lambda: own_parts.no_drawing(path))
    return file.parse(with_time_limit(READ_S, lambda: file.contents(path)), str(path))


def contents(path: Path, most: int = LARGEST_FILE) -> bytes:
    """The bytes of a plain file, up to so many. Raises OSError, also for anything but a plain file."""
    number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(number, "rb") as stream:
        if not stat.S_ISREG(os.fstat(number).st_mode):
            raise OSError(0, "it is no plain file")
        return stream.read(most)


def fingerprint(path: Path) -> bytes | None:
    """What a file holds, so that two can be told apart; None where there is none."""
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            return NO_PLAIN_FILE
        if status.st_size > LARGEST_FILE:
            return f"{status.st_size} bytes, {status.st_mtime_ns}".encode()
        return fingerprint_of(contents(path))
    except (OSError, ValueError):
        return None


def fingerprint_of(data: bytes) -> bytes:
    """The fingerprint of a file that holds these bytes."""
    return hashlib.sha256(data).digest()


def path_text(path: Path) -> str:
    """A path as it can be shown: what is no UTF-8 in it stands as a question mark in a diamond."""
    return os.fsencode(path).decode("utf-8", "replace")


def write_safely(path: Path, content: str | bytes, *, private: bool = False) -> None:
    """Put text or bytes at a path, whole or not at all. Raises SaveError.

    Never falls back to writing in place: a folder that refuses a second file gets "save as" instead.
    `private`: to be read by its owner alone.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    wanted = threading.Event()  # cleared once nobody waits: what comes late may not replace what is newer
    wanted.set()
    try:
        os.fsencode(path).decode("utf-8")
    except UnicodeDecodeError:
        raise _refused(path, "its name is no UTF-8") from None
    try:
        seconds = KEEP_S if private else WRITE_S
        with_time_limit(seconds, lambda: _write(path, data, private, wanted), patient=not private)
    except (TimeoutError, GivenUpError) as error:
        wanted.clear()
        why = f"{path_text(path)} is not known to be written: {error.strerror}. "
        why += "Save under another name as well."
        raise UnansweredError(why) from None


def _write(path: Path, data: bytes, private: bool, wanted: threading.Event) -> None:
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise _refused(path, "what stands there is no plain file")
    except FileNotFoundError:
        pass
    except OSError as error:
        if isinstance(error, SaveError):
            raise
        raise _refused(path, error.strerror or str(error)) from error
    target = QSaveFile(str(path))
    if not target.open(QIODevice.OpenModeFlag.WriteOnly):
        raise _refused(path, _reason(target))
    if private:
        target.setPermissions(OWNER_ONLY)
    if target.write(data) != len(data):
        why = _reason(target)
        target.cancelWriting()
        target.commit()
        raise _refused(path, why)
    if not wanted.is_set():
        target.cancelWriting()
    if not target.commit():
        raise _refused(path, _reason(target))


def _reason(target: QSaveFile) -> str:
    """Why a file could not be written; Qt knows no word for a disk that takes only some of it."""
    text = target.errorString()
    return "there is no room left on the disk" if text in ("", "Unknown error") else text


def _refused(path: Path, why: str) -> SaveError:
    return SaveError(
        f"{path_text(path)} was not written: {why}. The file on disk is unchanged; "
        "save under another name or in another folder."
    )
