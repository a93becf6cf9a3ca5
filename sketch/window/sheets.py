"""The sheet besides writing it: its title block, its preview, the parts list, a comparison of files."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from sketch.model.disk import GivenUpError, path_text
from sketch.model.document import Document
from sketch.page.paper import usual
from sketch.page.sheet_parts import SheetWish
from sketch.window.files import DRAWINGS, Files
from sketch.window.notice import Notice
from sketch.window.sheet_choice import SheetChoice
from sketch.window.sheet_writing import pages_on_papers
from sketch.window.title_dialog import ask_for_title_block
from sketch.window.waiting import NOT_AWAITED
from solver.findings.kinds import Severity

TABLES = "CSV (*.csv)"


class Sheets(QObject):
    """The commands about the sheet."""

    def __init__(self, window: QWidget, document: Document, files: Files, notice: Notice) -> None:
        super().__init__(window)
        self._window, self._document, self._files, self._notice = window, document, files, notice

    def edit_title_block(self) -> None:
        """Fill in whom the sheet is for and who made it."""
        if ask_for_title_block(self._window, self._document):
            self._files.message.emit("Changed the title block of the sheet")

    def show_preview(self) -> None:
        """Ask what the sheet is to hold, and show it as it will be printed."""
        choice = SheetChoice(self._document, self._files.sheet_wish, self._window)
        choice.setWindowTitle("Preview the sheet")
        if choice.exec() == SheetChoice.DialogCode.Accepted:
            self._files.sheet_wish = choice.wish()
            self._preview(choice.wish())

    def compare(self) -> None:
        """Set another drawing beside this one, as alternatives are set, and show the sheet of the two."""
        path = self._document.path
        folder = path_text(path.parent) if path else ""
        name, _ = QFileDialog.getOpenFileName(self._window, "The drawing after this one", folder, DRAWINGS)
        if name:
            self._files.sheet_wish = SheetWish(self._files.sheet_wish.paper, other=Path(name))
            self._preview(self._files.sheet_wish)

    def _preview(self, wish: SheetWish) -> None:
        from sketch.window.preview import SheetPreview

        name = wish.paper or usual(self._document.layout.units)
        if self._files.waiting.refuses():
            return
        try:
            with self._files.waiting.showing("Laying out the sheet"):
                pages_on = pages_on_papers(self._document, wish, self._files.waiting.work_out)
                dialog = SheetPreview(self._window, name, wish.upright, pages_on)
        except GivenUpError:
            self._notice.show_message(f"The sheet is not shown: {NOT_AWAITED}", severity=Severity.CAUTION)
            return
        except (OSError, ValueError) as error:
            self._notice.show_message(f"The sheet cannot be shown: {error}", severity=Severity.STOP)
            return
        dialog.exec()

    def write_parts(self) -> None:
        """Ask for a file and write the parts list as a table: of the alternative shown, or of all of them."""
        path = self._document.path
        start = path_text(path.with_name(f"{path.stem} parts.csv")) if path else "parts.csv"
        name, _ = QFileDialog.getSaveFileName(self._window, "Write the parts list as", start, TABLES)
        if name:
            self.write_parts_to(Path(name) if Path(name).suffix else Path(name).with_suffix(".csv"))

    def write_parts_to(self, path: Path) -> bool:
        """Write the parts list; a notice says why it was not written."""
        from solver.report import appendices

        document = self._document

        def table() -> str:
            if document.outcome.judgement is None:
                raise ValueError("nothing is calculated while the drawing is incomplete")
            file = document.path.name if document.path else ""
            shown = document.alternative
            names = [shown] if shown else [shown, *document.alternatives]
            judged = ((name, document.outcome_of(name).judgement) for name in names)
            return appendices.parts_table((file, name, each) for name, each in judged if each is not None)

        return self._files.write("parts list", path, table)
