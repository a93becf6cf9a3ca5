"""A box to choose from on a page that scrolls."""

from __future__ import annotations

from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox


class Choice(QComboBox):
    """Leaves the wheel to the page around it, so that scrolling never changes what was chosen."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
