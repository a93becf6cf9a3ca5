"""The card for the machine, from the menu to a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from sketch.model.disk import shown
from sketch.model.document import Document
from sketch.page.paper import written_files_text
from sketch.window.notice import Notice
from solver.findings.kinds import Severity

CARDS = "PDF (*.pdf);;SVG (*.svg);;PNG (*.png)"


def ask_and_write_card(
    window: QWidget, document: Document, notice: Notice, done: Callable[[str], None]
) -> None:
    """Ask for a file and write the card of the drawing as it is shown now; `done` is given a passing word."""
    path = document.path
    start = shown(path.with_name(f"{path.stem} card.pdf")) if path else "card.pdf"
    name, chosen = QFileDialog.getSaveFileName(window, "Write the card as", start, CARDS)
    if name:
        ending = f".{chosen[:3].lower()}" if chosen else ".pdf"
        target = Path(name) if Path(name).suffix else Path(name).with_suffix(ending)
        write_card_to(document, target, notice, done)


def write_card_to(document: Document, path: Path, notice: Notice, done: Callable[[str], None]) -> bool:
    """Write the card; a notice says why it was not written."""
    from sketch.page.machine_card import write_card_of

    try:
        paths = write_card_of(document, path)
    except (OSError, ValueError) as error:
        notice.show_message(f"The card was not written: {error}", severity=Severity.STOP)
        return False
    done(f"Wrote {written_files_text([each.relative_to(path.parent) for each in paths])}")
    return True
