"""The title block of the sheet, filled in on a card."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from sketch.look.buttons import without_icons
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.model.disk import READ_S, with_time_limit
from sketch.model.document import Document
from sketch.model.drawing_state import with_title_block
from sketch.window.small_screen import ScrolledWhereSmall, within_screen
from solver.layout.positions import dotted
from solver.layout.reading import KeyPlace, Trouble
from solver.layout.title_block import TitleBlock
from solver.layout.title_keys import LOGO_ENDINGS, read_title_block, title_block_raw

LINES: Mapping[str, str] = {
    "client": "Client",
    "project": "Project",
    "site": "Site",
    "drawn_by": "Drawn by",
    "checked": "Checked by",
    "date": "Date",
    "revision": "Revision",
}
"""Keys that are one line of text, with what the card calls them."""

WIDE = 560
NO_LOGO = "none"
SEPARATOR = " | "
MOST_LOGOS = 200
"""Pictures beside the drawing that are offered."""


class TitleDialog(QDialog):
    """Asks for a title block; what the file would refuse is said, and nothing is lost."""

    def __init__(self, block: TitleBlock, logos: tuple[str, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Title block of the sheet")
        self.lines = {key: QLineEdit(getattr(block, key)) for key in LINES}
        for line in self.lines.values():
            line.setCursorPosition(0)
        self.lines["date"].setPlaceholderText("2026-03-31; empty: the day it is written")
        self.company = _text("\n".join(block.company))
        self.revisions = _text("\n".join(SEPARATOR.join((r.name, r.date, r.text)) for r in block.revisions))
        self.revisions.setPlaceholderText("A | 2026-01-10 | first issue")
        self.logo = Choice()
        offered = dict.fromkeys((NO_LOGO, *logos, *([block.logo] if block.logo else [])))
        self.logo.addItems(list(offered))
        self.logo.setCurrentText(block.logo or NO_LOGO)
        self.logo.setToolTip("A PNG or SVG that lies beside the drawing")
        self.trouble = Label()
        self.trouble.setWordWrap(True)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        whole = QWidget()
        form = QFormLayout(whole)
        form.setContentsMargins(0, 0, 0, 0)
        for key, name in LINES.items():
            form.addRow(Label(name), self.lines[key])
        form.addRow(Label("Revisions"), self.revisions)
        form.addRow(Label("Company"), self.company)
        form.addRow(Label("Logo"), self.logo)
        form.addRow(self.trouble)
        column = QVBoxLayout(self)
        column.addWidget(ScrolledWhereSmall(whole))
        column.addWidget(buttons)
        without_icons(self)
        self.resize(within_screen(self, QSize(WIDE, self.sizeHint().height())))

    def accept(self) -> None:
        """Close, unless a line holds what a file would refuse."""
        troubles = self._read()[1]
        if troubles:
            self.trouble.setText("\n".join(f"{dotted(t.path[1:])}: {t.found}; {t.allowed}" for t in troubles))
            return
        super().accept()

    def block(self) -> TitleBlock:
        """What was typed."""
        return self._read()[0]

    def _read(self) -> tuple[TitleBlock, list[Trouble]]:
        logo = self.logo.currentText()
        table: dict[str, Any] = {key: line.text().strip() for key, line in self.lines.items()}
        table["company"] = [line.strip() for line in self.company.toPlainText().splitlines() if line.strip()]
        table["revisions"] = [
            [cell.strip() for cell in line.split("|", 2)]
            for line in self.revisions.toPlainText().splitlines()
            if line.strip()
        ]
        table["logo"] = "" if logo == NO_LOGO else logo
        troubles: list[Trouble] = []
        return read_title_block(table, KeyPlace(("sheet",), troubles)), troubles


def _text(text: str) -> QPlainTextEdit:
    """A box of a few lines, which Tab leaves."""
    box = QPlainTextEdit(text)
    box.setTabChangesFocus(True)
    box.setMaximumHeight(4 * box.fontMetrics().lineSpacing() + 12)
    return box


def ask_for_title_block(window: QWidget, document: Document) -> bool:
    """Ask, and keep what was typed as one undo step. Returns whether anything changed."""
    before = document.layout.title_block
    dialog = TitleDialog(before, logos_in_folder(document.path), window)
    if dialog.exec() != TitleDialog.DialogCode.Accepted:
        return False
    block = dialog.block()
    if title_block_raw(block) == title_block_raw(before):
        return False
    document.change_alternatives("Change the title block", partial(with_title_block, block=block))
    return True


def logos_in_folder(path: Path | None) -> tuple[str, ...]:
    """The pictures in the folder of a drawing that a title block may name."""
    if path is None:
        return ()

    def names() -> list[str]:
        return sorted(each.name for each in path.parent.iterdir() if each.suffix.lower() in LOGO_ENDINGS)

    try:
        return tuple(with_time_limit(READ_S, names)[:MOST_LOGOS])
    except OSError:
        return ()
