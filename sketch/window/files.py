"""Opening, saving and writing sheets: the questions that go with it, and what is said when it fails."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QFileInfo, QLocale, QObject, Qt, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from sketch.editing import beginning
from sketch.look import screenshot
from sketch.look.asking import ask
from sketch.look.refused import refused_texts
from sketch.model import disk, storage
from sketch.model.disk import ANSWER_S, GivenUpError, SaveError, path_text, with_time_limit, write_safely
from sketch.model.document import Document
from sketch.model.storage import HeldError
from sketch.page.paper import pages_at, written_files_text
from sketch.page.sheet_parts import SheetWish
from sketch.window.notice import Notice
from sketch.window.sheet_choice import SheetChoice
from sketch.window.sheet_writing import compared_with, write_sheet_of
from sketch.window.soundness import Soundness
from sketch.window.waiting import Waiting
from sketch.window.writing import write_files
from solver.findings.kinds import Severity
from solver.layout.file import Drawing, LayoutErrors

DRAWINGS = "Drawings (*.toml);;All files (*)"
LEDGERS = "Text (*.txt);;CSV (*.csv);;JSON (*.json)"
PAGES = "HTML (*.html)"
SHEETS = "PDF (*.pdf);;SVG (*.svg);;PNG (*.png)"
LONGEST_OFFERED = 60  # characters of a file's name
MOST_OFFERED = 3
Button = QMessageBox.StandardButton


class Files(QObject):
    """What the File menu does."""

    message = Signal(str)  # what was done, for the status bar
    leaving = Signal()  # another drawing is about to take the place of the open one
    read_from = Signal(Path)  # the drawing of that file is open now

    def __init__(self, window: QWidget, document: Document, notice: Notice) -> None:
        super().__init__(window)
        self._window = window
        self._document = document
        self._notice = notice
        self.waiting = Waiting()
        document.file.waiting = self.waiting
        self.sheet_wish = SheetWish()
        self._told_of_change = False
        document.file.changed_outside.connect(self._changed_outside)
        document.file.unkept.connect(self._unkept)
        self._soundness = Soundness(document, notice)

    def open_dialog(self) -> None:
        """Ask for a drawing and open it."""
        folder = path_text(self._document.path.parent) if self._document.path else ""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a drawing", folder, DRAWINGS)
        if name:
            self.open(Path(name))

    def open(self, path: Path) -> bool:
        """Open a drawing, unless it has errors or the user would rather keep the one that is open."""
        return self.read(path, self.may_leave)

    def read(self, path: Path, may_leave: Callable[[], bool] = lambda: True) -> bool:
        """Open a drawing; errors are listed and the open drawing stays.

        Nobody is asked about unsaved changes for the sake of a file that cannot be opened.
        """
        drawings: list[Drawing] = []
        if self.waiting.refuses():
            return False
        with self.waiting.showing(f"Reading {_name(path)}"):
            has_read = self._try(path, lambda: drawings.append(disk.drawing(path)))
        if not has_read or not may_leave():
            return False
        self.leaving.emit()
        self._document.open_drawing(drawings[0], path)
        self.read_from.emit(path)
        storage.remember(path)
        return self._greet(path)

    def _reload(self) -> None:
        path = self._document.path
        if path is not None and not self.waiting.refuses():
            with self.waiting.showing(f"Reading {_name(path)}"):
                self._try(path, self._document.reload)

    def _try(self, path: Path, act: Callable[[], object]) -> bool:
        try:
            act()
        except LayoutErrors as error:
            count = len(error.problems)
            errors = "1 error" if count == 1 else f"{count} errors"
            self._refuse(path, f"{_name(path)} was not opened: {errors} in it.", error)
            return False
        except OSError as error:
            self._refuse(path, f"{_name(path)} was not opened: {error.strerror or error}.", None)
            return False
        return True

    def _refuse(self, path: Path, text: str, error: LayoutErrors | None) -> None:
        kept = " The open drawing is untouched." if self._document.has_drawing else ""
        problems = error.problems if error else ()
        self._notice.show_message(
            text + kept, [("Try again", lambda: self.open(path))], problems, Severity.STOP
        )

    def _greet(self, path: Path) -> bool:
        self._notice.hide()
        if self._document.file.held_by:
            self._notice.show_message(
                f"{_name(path)} is open in another window ({self._document.file.held_by}). "
                "This is a copy of it without a file: save it under another name.",
                [("Save as…", self.save_as)],
                severity=Severity.CAUTION,
            )
        else:
            self._soundness.mark_broken()
            self.offer_recoveries()
        return True

    def offer_recoveries(self) -> None:
        """Offer what earlier sessions left unsaved of the drawing, beside the drawing as it is on disk."""
        left = self._document.file.recoveries
        if not left:
            return
        drawing = "this drawing" if self._document.path else "a drawing without a file"
        text = f"An earlier session ended before its changes to {drawing} were saved."
        if len(left) > 1:
            text = f"{len(left)} earlier sessions ended before their changes to {drawing} were saved."
        if any(_is_older(each, self._document.path) for each in left):
            text += " The file has been saved since then; both are kept until you choose."
        answers = [(f"Take up {_when(each)}", partial(self._recover, each)) for each in left[:MOST_OFFERED]]
        give_up = "Give it up" if len(left) == 1 else "Give them up"
        self._notice.show_message(text, [*answers, (give_up, self._document.file.discard_recoveries)])

    def _recover(self, kept: Path) -> None:
        self._try(kept, lambda: self._document.recover(kept))

    def _unkept(self, why: str) -> None:
        text = f"Unsaved changes cannot be kept against a crash: {why} Save often."
        self._notice.show_message(text, severity=Severity.CAUTION)

    def _changed_outside(self) -> None:
        text = "Another program has changed this file."
        if not self._document.clean:
            text += " Reading it again discards your unsaved changes."
        self._told_of_change = True
        self._notice.show_message(text, [("Read it again", self._reload)], severity=Severity.CAUTION)

    def save(self) -> bool:
        """Save to the drawing's file, asking for one where there is none."""
        path = self._document.path
        if path is None:
            return self.save_as()
        if self.waiting.refuses():
            return False
        with self.waiting.showing(f"Saving {_name(path)}"):
            overtaken = self._document.file.overtaken
        if self.waiting.given_up:
            return False
        if overtaken:
            answer = self._ask_to_write_over(path)
            if answer != Button.Save:
                return answer == Button.SaveAll and self.save_as()
        return self._save(path)

    def _ask_to_write_over(self, path: Path) -> QMessageBox.StandardButton:
        """Save to write over what another program has saved, SaveAll for another file, or Cancel."""
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("The file has changed")
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(f"Another program has changed {_name(path)} since it was read here.")
        box.setInformativeText("Saving overwrites what that program has written.")
        box.setStandardButtons(Button.Save | Button.SaveAll | Button.Cancel)
        box.button(Button.Save).setText("Write over it")
        box.button(Button.SaveAll).setText("Save as…")
        box.setDefaultButton(Button.Cancel)
        return ask(box)

    def save_as(self) -> bool:
        """Ask for a file and save to it."""
        if self.waiting.refuses():
            return False
        start = path_text(self._document.path or Path(name_for(self._document.layout.title)))
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the drawing as", start, DRAWINGS)
        return self._save(_with_ending(name, ".toml")) if name else False

    def _save(self, path: Path) -> bool:
        try:
            with self.waiting.showing(f"Saving {_name(path)}"):
                self._document.save(path)
        except HeldError as error:
            text = f"{_name(path)} was not written: it is open in another window ({error})."
            self._notice.show_message(text, [("Save as…", self.save_as)], severity=Severity.STOP)
            return False
        except SaveError as error:
            self._notice.show_message(str(error), [("Save as…", self.save_as)], severity=Severity.STOP)
            return False
        storage.remember(path)
        if self._told_of_change:
            self._told_of_change = False
            self._notice.hide()
        refused = "; ".join(refused_texts(self._window))
        left_out = f", without what was not accepted: {refused}" if refused else ""
        self.message.emit(f"Saved {_name(path)}{left_out}")
        return True

    def write_sheet(self) -> None:
        """Ask what the page is to hold and for a file, and write it."""
        choice = SheetChoice(self._document, self.sheet_wish, self._window)
        if choice.exec() != SheetChoice.DialogCode.Accepted:
            return
        self.sheet_wish = choice.wish()
        path = self._document.path
        start = path_text(path.with_suffix(".pdf")) if path else "sheet.pdf"
        name, chosen = QFileDialog.getSaveFileName(self._window, "Write the sheet as", start, SHEETS)
        if not name:
            return
        target = _with_ending(name, f".{chosen[:3].lower()}" if chosen else ".pdf")
        if self._may_replace(target):
            self.write_sheet_to(target, self.sheet_wish)

    def _may_replace(self, target: Path) -> bool:
        """Ask about pages of a sheet written before; the dialog for the name knows nothing of them."""
        if self.waiting.refuses():
            return False
        try:
            with self.waiting.showing(f"Looking for earlier pages of {_name(target)}"):
                pages = pages_at(target)
        except OSError as error:
            text = f"The sheet was not written: {error.strerror or error}"
            self._notice.show_message(text, severity=Severity.STOP)
            return False
        if not pages:
            return True
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setWindowTitle("Pages are there already")
        box.setText(
            f"{written_files_text([Path(_name(page)) for page in pages])}: a sheet was written here before."
        )
        box.setInformativeText("Its pages are replaced, and those that the new sheet has not are removed.")
        box.setStandardButtons(Button.Save | Button.Cancel)
        box.button(Button.Save).setText("Replace them")
        box.setDefaultButton(Button.Cancel)
        return ask(box) == Button.Save

    def write_sheet_to(self, path: Path, wish: SheetWish | None = None) -> bool:
        """Write the page of the drawing as it is shown now."""
        choice = wish or SheetWish()
        compared = compared_with(self._document, choice)
        known = tuple(name for name in compared if name in self._document.alternatives)
        asked = replace(choice, compare=known)

        def written() -> tuple[Path, ...]:
            return write_sheet_of(self._document, path, asked, call=self.waiting.work_out)

        return write_files("sheet", path, written, self.waiting, self._notice, self.message.emit)

    def write_ledger(self) -> None:
        """Ask for a file and write the ledger to it."""
        path = self._document.path
        start = path_text(path.with_suffix(".txt")) if path else "ledger.txt"
        name, chosen = QFileDialog.getSaveFileName(self._window, "Write the ledger as", start, LEDGERS)
        if name:
            self.write_ledger_to(_with_ending(name, chosen.partition("*")[2].rstrip(")") or ".txt"))

    def write_ledger_to(self, path: Path) -> bool:
        """Write the ledger of the drawing as it is shown now, in the form that the ending names."""
        from sketch.window.exports import ledger_writer

        return self._work_out("ledger", path, lambda: ledger_writer(self._document, path.suffix.lower()))

    def write_calculation(self) -> None:
        """Ask for a file and write every step of the calculation to it."""
        path = self._document.path
        start = path_text(path.with_suffix(".html")) if path else "calculation.html"
        name, _ = QFileDialog.getSaveFileName(self._window, "Write the calculation as", start, PAGES)
        if name:
            self.write_calculation_to(_with_ending(name, ".html"))

    def write_calculation_to(self, path: Path) -> bool:
        """Write the calculation of the drawing as it is shown now, as a page for a browser."""
        from sketch.window.exports import page_writer

        return self._work_out("calculation", path, lambda: page_writer(self._document))

    def _work_out(self, what: str, path: Path, writer: Callable[[], Callable[[], str]]) -> bool:
        """Write what a writer works out on a thread of its own: the fixes alone may take minutes."""

        def worked_out() -> str:
            content = self.waiting.work_out(writer())
            if self.waiting.given_up:  # in the moment in which it was done
                raise GivenUpError
            return content

        return self.write(what, path, worked_out)

    def write(self, what: str, path: Path, make: Callable[[], str | bytes]) -> bool:
        """Write what a function makes to a file; a notice says why it was not written."""

        def written() -> tuple[Path]:
            write_safely(path, make())
            return (path,)

        return write_files(what, path, written, self.waiting, self._notice, self.message.emit)

    def write_picture(self) -> None:
        """Ask for a file and write the window to it as a picture."""
        path = self._document.path
        start = path_text(path.with_suffix(".png")) if path else "window.png"
        name, _ = QFileDialog.getSaveFileName(self._window, "Write the picture as", start, "PNG (*.png)")
        if name:
            self.write("picture", _with_ending(name, ".png"), lambda: screenshot.png_of(self._window))

    def may_leave(self) -> bool:
        """Whether the open drawing may go: saved, without changes, or given up by the user."""
        if self.waiting.refuses():
            return False
        if self._document.clean or not self._document.has_drawing:
            return True
        title = self._document.layout.title or "This drawing"
        answer = self._ask_to_save(title)
        if answer == Button.Discard:
            self._document.file.give_up()
        return self.save() if answer == Button.Save else answer == Button.Discard

    def _ask_to_save(self, title: str) -> QMessageBox.StandardButton:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setWindowTitle("Unsaved changes")
        box.setText(f"{title} has changes that are not saved.")
        box.setStandardButtons(Button.Save | Button.Discard | Button.Cancel)
        box.setDefaultButton(Button.Save)
        return ask(box)


def _name(path: Path) -> str:
    return path_text(Path(path.name))


def _when(kept: Path) -> str:
    """When a recovery was written, as a button names it."""
    return QLocale().toString(QFileInfo(str(kept)).lastModified(), "d MMM hh:mm")


def _is_older(kept: Path, path: Path | None) -> bool:
    try:
        return path is not None and kept.stat().st_mtime_ns < with_time_limit(ANSWER_S, path.stat).st_mtime_ns
    except OSError:
        return False


def _with_ending(name: str, ending: str) -> Path:
    path = Path(name)
    return path if path.suffix else path.with_suffix(ending)


def name_for(title: str) -> str:
    """The name of a file that is offered for a drawing of that title: its words, joined by hyphens."""
    words = "" if title == beginning.TITLE else "-".join(re.findall(r"\w+", title.lower()))
    return f"{words[:LONGEST_OFFERED].rstrip('-') or 'drawing'}.toml"
