"""A sentence of trouble in which what would be right can be clicked."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QWidget


class OfferingLabel(QLabel):
    """Plain text, of which some words are links; what was typed is never markup."""

    chosen = Signal(str)  # one of the words offered

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plain = ""
        self._offered: tuple[str, ...] = ()
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.LinksAccessibleByMouse
            | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.linkActivated.connect(self._choose)

    def text(self) -> str:
        """What it says, as it is read."""
        return self._plain

    def show_text(self, text: str, offered: Sequence[str] = ()) -> None:
        """Show a text; `offered` are words in quotes in it that can be clicked."""
        self._plain, self._offered = text, tuple(offered)
        if not self._offered:
            self.setTextFormat(Qt.TextFormat.PlainText)
            self.setText(text)
            return
        shown = escape(text)
        for at, name in enumerate(self._offered):
            quoted = escape(f'"{name}"')
            shown = shown.replace(quoted, f'<a href="{at}">{escape(name)}</a>')
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setText(shown)

    def _choose(self, link: str) -> None:
        self.chosen.emit(self._offered[int(link)])
