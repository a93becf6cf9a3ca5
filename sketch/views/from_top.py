"""Whether a view shows another drawing than it last did: it begins at its top then."""

from __future__ import annotations

from PySide6.QtCore import QObject

from sketch.model.document import Document


class FromTop(QObject):
    """Another drawing is one that was opened or begun, another alternative, and another pump of it."""

    def __init__(self, document: Document, view: QObject, *, of_pump: bool = True) -> None:
        """of_pump: whether what the view shows is that of one pump, not of all that the drawing has."""
        super().__init__(view)
        self._document, self._of_pump = document, of_pump
        self._last: tuple[str, str] | None = None  # the alternative and the pump that were shown
        document.opened.connect(self._forget)

    def _forget(self) -> None:
        self._last = None  # another drawing may have the same names

    def is_due(self) -> bool:
        """Whether another drawing is shown than when this was last asked; asked where it is shown."""
        document = self._document
        now = document.alternative, document.pump if self._of_pump else ""
        due, self._last = now != self._last, now
        return due
