"""Small marks that a view puts on the drawing while it is seen: numbered joints, pockets of air, gauges."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from sketch.model.document import Document


class PinKind(StrEnum):
    """What a pin marks."""

    JOINT = "joint"
    POCKET = "pocket"
    GAUGE = "gauge"
    OVER = "gauge over what is allowed"


class Pin(NamedTuple):
    """One mark at a place of the drawing."""

    x: float  # [m]
    z: float  # elevation [m]
    text: str
    kind: PinKind = PinKind.JOINT
    key: str = ""  # of the entry that it belongs to


class Pins(QObject):
    """The pins on the drawing that is shown; none once it has changed."""

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.shown: tuple[Pin, ...] = ()
        self._owner: QObject | None = None
        document.changed.connect(self.clear)

    def show(self, owner: QObject, shown: tuple[Pin, ...]) -> None:
        """Put these pins on the drawing in the place of others, for the view that asks."""
        self._owner = owner
        self._set(shown)

    def hide(self, owner: QObject) -> None:
        """Take the pins of that view off the drawing; those of another stay."""
        if owner is self._owner:
            self.clear()

    def clear(self) -> None:
        """Take every pin off the drawing."""
        self._owner = None
        self._set(())

    def _set(self, shown: tuple[Pin, ...]) -> None:
        if shown != self.shown:
            self.shown = shown
            self.changed.emit()


def pins(document: Document) -> Pins:
    """The pins of a document: one set for all its views."""
    return document.findChild(Pins) or Pins(document)
