"""The watch over a drawing's file, on a thread of its own."""

from __future__ import annotations

import threading
import weakref
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.disk import GivenUpError, fingerprint, fingerprint_of, with_time_limit

LOOK_S = 0.4
"""How often the file is looked at [s]: its dates and size, and its bytes where those have changed."""

OVERTAKEN_S = 2.0  # how long a save waits to know whether the file is still as it was


class _KnownContent:
    """What a file was last seen to hold: all that passes between the threads, and nothing of Qt's."""

    def __init__(self, held: bytes) -> None:
        self.held: bytes | None = held
        self.stop = threading.Event()


def _look_at(path: Path, seen: weakref.ref[_KnownContent], stop: threading.Event) -> None:
    """Look at a file again and again, until told to stop or until nobody wants to know."""
    before: object = None
    while not stop.wait(LOOK_S) and seen() is not None:
        now = _signature(path)
        if now == before:
            continue
        held, wanted = fingerprint(path), seen()
        if wanted is None:
            return
        wanted.held = held
        before = now if now == _signature(path) else None


def _signature(path: Path) -> object:
    try:
        status = path.stat()
    except (OSError, ValueError):
        return "none"
    return status.st_mode, status.st_size, status.st_mtime_ns, status.st_ino


class Watch(QObject):
    """Tells when another program changes the drawing's file.

    Qt's own watcher asks the disk on the thread that calls it, which a share that has gone stops for minutes.
    What this program wrote itself is told apart by content.
    """

    happened = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._path: Path | None = None
        self._seen: _KnownContent | None = None
        self._known = self._mine = b""  # what has been told of; what was read or written here
        self._timer = QTimer(self, interval=round(LOOK_S * 1000))
        self._timer.timeout.connect(self._compare)

    def follow(self, path: Path | None, content: str = "") -> None:
        """Watch a file that holds `content` by now; None watches nothing."""
        if self._seen is not None:
            self._seen.stop.set()
            self._seen = None
        self._path = path
        self._known = self._mine = fingerprint_of(content.encode("utf-8"))
        self._timer.stop()
        if path is not None:
            self._seen = seen = _KnownContent(self._mine)
            given = (path, weakref.ref(seen), seen.stop)
            threading.Thread(target=_look_at, args=given, daemon=True).start()
            self._timer.start()

    @property
    def overtaken(self) -> bool:
        """Whether another program has written the file since it was read or written here."""
        path = self._path
        if path is None:
            return False
        try:
            now = with_time_limit(OVERTAKEN_S, lambda: fingerprint(path))
        except (TimeoutError, GivenUpError):
            now = self._known  # the save itself will find the disk gone
        return now is not None and now != self._mine

    def _compare(self) -> None:
        now = self._seen.held if self._seen is not None else None
        if now is not None and now != self._known:
            self._known = now
            self.happened.emit()
