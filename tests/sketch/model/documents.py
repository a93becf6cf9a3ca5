"""Documents to work in."""

from __future__ import annotations

from sketch.editing import edits
from sketch.model.document import Document


def raised(document: Document, y: float, gesture: int = 0) -> bool:
    return document.apply("Raise", edits.set_port_height(document.layout, "carriage", y), gesture)


def height(document: Document) -> float:
    return document.layout.pumps["carriage"].at[1].si


def crash(document: Document) -> None:
    """What is left when the process of a window is gone: its files, and a lock that nobody holds."""
    document.file._autosave._rest.stop()
    document.file._autosave.recovery.release()


class ShortDisk:
    """A file that takes only some of what is written, as on a full disk."""

    def __init__(self, name: str, fail: str) -> None:
        self.fail = fail

    def open(self, mode: object) -> bool:
        return self.fail != "open"

    def setPermissions(self, permissions: object) -> None: ...

    def write(self, data: bytes) -> int:
        return len(data) - (self.fail == "write")

    def commit(self) -> bool:
        return self.fail != "commit"

    def cancelWriting(self) -> None: ...

    def errorString(self) -> str:
        return "No space left on device"
