"""Small marks that a view puts on the drawing while it is seen: numbered joints, pockets of air, gauges."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.model.read_marks import pin_text


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
    short: str = ""  # where there is no room for the text; "" for none
    number: int = -1  # of the reading in the file that a gauge shows; -1 for none


class Pins(QObject):
    """The pins on the drawing: those of the view that is seen, else a gauge at every tap that was read.

    No pin outlives a change of the drawing.
    """

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._gauger = gauger(document)
        self._owner: QObject | None = None
        self._own: tuple[Pin, ...] = ()
        self._gauges: tuple[Pin, ...] = ()
        document.changed.connect(self._follow)
        self._gauger.changed.connect(self._show_gauges)

    @property
    def shown(self) -> tuple[Pin, ...]:
        """What stands on the drawing now."""
        return self._own if self._owner is not None else self._gauges

    def show(self, owner: QObject, shown: tuple[Pin, ...]) -> None:
        """Put these pins on the drawing in the place of others, for the view that asks."""
        self._set(owner, shown)

    def hide(self, owner: QObject) -> None:
        """Take the pins of that view off the drawing; those of another stay."""
        if owner is self._owner:
            self._set(None, ())

    def _set(self, owner: QObject | None, shown: tuple[Pin, ...]) -> None:
        before = self.shown
        self._owner, self._own = owner, shown
        if before != self.shown:
            self.changed.emit()

    def _follow(self) -> None:
        """What a view has put there belongs to another drawing now."""
        self._set(None, ())
        self._show_gauges()

    def _show_gauges(self) -> None:
        before, system, marks = self.shown, self._document.system, self._gauger.marks
        newest_day = max((mark.when[:10] for mark in marks), default="")
        self._gauges = tuple(
            Pin(
                *mark.position,
                pin_text(mark.read, mark.when, newest_day, system),
                PinKind.OVER if mark.over else PinKind.GAUGE,
                number=mark.number,
            )
            for mark in marks
        )
        if before != self.shown:
            self.changed.emit()


def pins(document: Document) -> Pins:
    """The pins of a document: one set for all its views."""
    return document.findChild(Pins) or Pins(document)
