"""The window: puts the views together and keeps its menus, title and status in step with the document."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import count
from pathlib import Path

from PySide6.QtCore import QSettings, QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sketch import startup
from sketch.editing import beginning
from sketch.editing.edits import EditError
from sketch.look import asking
from sketch.look.appearance import Appearance, ThemeChoice
from sketch.model import storage
from sketch.model.disk import path_text
from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.window import searching, status, welcome
from sketch.window.actions import Actions
from sketch.window.arranging import Arranging
from sketch.window.commands import commands
from sketch.window.context_menus import ContextMenus
from sketch.window.files import Files
from sketch.window.filled_menus import FilledMenus
from sketch.window.heading import Heading
from sketch.window.help import Help
from sketch.window.last_views import LastViews
from sketch.window.notice import Notice
from sketch.window.over_sheet import OverSheet
from sketch.window.page_file import PageFile, ask_and_write
from sketch.window.sheets import Sheets
from sketch.window.small_screen import ScrolledWhereSmall
from sketch.window.starters import ASK, UNITS, Starters
from sketch.window.undo_list import UndoList
from sketch.window.workspace import Workspace
from solver.findings.kinds import Severity
from solver.layout.parts import Layout
from solver.quantities.units import System

NAME = "Liftledger"
SIZE = QSize(1366, 740)
SCREEN_PART = 0.85
MESSAGE_MS = 6000
MENUS_MS = 100  # between two looks at what menus offer, in a drag


class Window(QMainWindow):
    """One drawing in one window."""

    appearance: Appearance
    document: Document
    workspace: Workspace
    heading: Heading
    files: Files
    arranging: Arranging

    def __init__(
        self, appearance: Appearance, settings: QSettings | None = None, *, keeps: bool = True
    ) -> None:
        super().__init__()
        self.appearance = appearance
        self._settings = settings
        self.document = Document(self, keeps=keeps)
        self.workspace = Workspace(self.document)
        self.notice = Notice()
        self.files = Files(self, self.document, self.notice)
        self.sheets = Sheets(self, self.document, self.files, self.notice)
        self.arranging = Arranging(self.document, self.workspace.elevation, self.notice)
        self.actions_by_name = Actions(self, commands(self), self.workspace.elevation)
        self._filled_menus = FilledMenus(
            self, self.document, self.workspace, self.files, self.actions_by_name
        )
        self.menus = ContextMenus(self, self.document, self.workspace, self.actions_by_name)
        self.heading = Heading(self.document, self.actions_by_name)
        self._last_views = LastViews(settings, self.document, self.workspace)
        self._facts = status.Facts(self.statusBar(), self.workspace.show_site)
        self._help: Help | None = None
        self._undo_list: UndoList | None = None
        self._pages = QStackedWidget()
        self._menus_due = QTimer(self, interval=MENUS_MS, singleShot=True)
        self._menus_due.timeout.connect(self._sync_menus)
        self._arrange()
        self._listen()
        self._restore()
        self.sync()
        self.workspace.elevation.setFocus()

    def _arrange(self) -> None:
        work = QWidget()
        column = QVBoxLayout(work)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.heading)
        column.addWidget(self.workspace, 1)
        self._pages.addWidget(work)
        whole = QWidget()
        outer = QVBoxLayout(whole)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._pages, 1)
        self._over_sheet = OverSheet(whole, (self.files.waiting, self.notice), self._sheet)
        self._over_sheet.watch(self._pages, self.workspace.elevation)
        self.setCentralWidget(ScrolledWhereSmall(whole))
        self.setAcceptDrops(True)
        self.resize(self._first_size())

    def _sheet(self) -> QWidget:
        """What a bar may lie over: the drawing, else the page that offers some."""
        elevation = self.workspace.elevation
        return elevation if elevation.isVisible() else self._pages

    def _first_size(self) -> QSize:
        """Most of a large screen, all of a small one; a square is what Qt says where there is no screen."""
        room = self.screen().availableSize()
        wanted = SIZE.expandedTo(room * SCREEN_PART)
        return wanted if room.width() == room.height() else wanted.boundedTo(room)

    def _turn_page(self) -> None:
        """Show the drawing, or a page that offers some; that one is made when it is first needed."""
        if not self.document.has_drawing and self.isVisible() and self._pages.count() == 1:
            examples = welcome.examples(startup.examples_folder())
            recent = storage.recent_files()
            starters = Starters(self._kept_units(), self._keep_units, self._begin_with)
            page = welcome.Welcome(examples, recent, self.files.open, self.files.open_dialog, starters)
            self._pages.addWidget(page)
        self._pages.setCurrentIndex(0 if self.document.has_drawing else self._pages.count() - 1)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._turn_page()

    def _listen(self) -> None:
        self.document.changed.connect(self.sync)
        doubt(self.document).changed.connect(self.sync)  # a box of the curves throws the same switch
        self.document.failed.connect(self._failed)
        for said in (self.document.refused, self.document.noticed):
            said.connect(partial(self.notice.show_message, passes=True))
        self.document.undo_stack.stepped.connect(self.notice.pass_away)
        self.notice.left.connect(self.workspace.elevation.setFocus)
        self.notice.changed.connect(self._sync_menus)
        self.document.selected.connect(self.sync)
        self.workspace.elevation.released.connect(self._sync_menus)
        for message in (self.workspace.elevation.message, self.files.message, self.arranging.message):
            message.connect(self.show_status)
        self.workspace.card.own_parts.left_out.connect(self.notice.show_left_out)
        self.files.leaving.connect(self._last_views.keep)
        self.files.read_from.connect(self._last_views.restore)

    def sync(self) -> None:
        """Bring title, status, menus and page in step with the document."""
        document = self.document
        self._turn_page()
        title = status.title(document)
        self.setWindowTitle(f"{title}[*] – {NAME}" if self.document.has_drawing else NAME)
        self.setWindowFilePath(path_text(document.path) if document.path else "")
        modified = self.document.has_drawing and not document.clean
        if modified != self.isWindowModified():
            self.setWindowModified(modified)
        self._facts.show_facts(status.facts(document) if self.document.has_drawing else "")
        dragging = self.workspace.elevation.hand.dragging
        if dragging and self._menus_due.isActive():
            self._menus_due.start()  # once the hand rests: no menu opens while the mouse is held
            return
        self._sync_menus()
        if dragging:
            self._menus_due.start()

    def _sync_menus(self) -> None:
        self._menus_due.stop()
        self._name_undo()
        self._filled_menus.show_choices()
        self.actions_by_name.sync()

    def _name_undo(self) -> None:
        stack = self.document.undo_stack
        for name, text in (("undo", stack.undoText()), ("redo", stack.redoText())):
            self.actions_by_name[name].setText(f"&{name.capitalize()} {text}".rstrip())

    def new_alternative(self) -> None:
        """Ask for a name and keep what is shown under it."""
        names = set(self.document.alternatives)
        free = next(name for at in count(1) if (name := f"Alternative {at}") not in names)
        begun = self.document.alternative or "the drawing itself"
        wanted = asking.ask_for_text(self, "New alternative", f"It begins as a copy of {begun}. Name:", free)
        if wanted is not None:
            try:
                self.document.add_alternative(wanted.strip())
            except ValueError as error:
                text = f"No alternative was made: {error}."
                self.notice.show_message(text, severity=Severity.CAUTION, passes=True)

    def begin(self, make: Callable[[System], Layout] = beginning.begin) -> None:
        """Begin a new drawing, with the shelf beside it; the first time it is asked in which units.

        Those are kept: which units the drawing has that is open says nothing of them.
        """
        if not self.files.may_leave():
            return
        units = self._kept_units()
        if units is None and self._settings is not None:
            answer = asking.ask_for_choice(self, "New drawing", ASK, tuple(UNITS.values()))
            if answer is None:
                return
            units = next(each for each, text in UNITS.items() if text == answer)
            self._keep_units(units)
        self._begin_with(make(units or self.document.system))

    def _begin_with(self, layout: Layout) -> None:
        self._last_views.keep()
        self.document.begin(layout)
        if not self.workspace.shown("shelf"):
            self.workspace.toggle("shelf")

    def _kept_units(self) -> System | None:
        """The unit system that somebody has said to work in; None while nobody has."""
        kept = str(self._settings.value("units", "")) if self._settings is not None else ""
        return System(kept) if kept in list(System) else None

    def _keep_units(self, system: System) -> None:
        self.document.set_system(system)
        if self._settings is not None:
            self._settings.setValue("units", str(system))
            self._settings.sync()

    def rename_part(self) -> None:
        """Ask for another name for the selected part."""
        old = self.document.selected_part
        name = asking.ask_for_text(self, "Rename", f"Another name for {old}:", old)
        if name is not None:
            try:
                self.document.rename(old, name)
            except EditError as error:
                text = f"{old} keeps its name: {error}."
                self.notice.show_message(text, severity=Severity.CAUTION, passes=True)

    def write_page_file(self, wanted: PageFile) -> None:
        """Ask for a file and write the card, or the drawing to scale, to it."""
        ask_and_write(wanted, self, self.document, self.notice, self.show_status)

    def show_help(self) -> None:
        """Show what the mouse and the keys do, beside the window."""
        if self._help is None:
            self._help = Help(self)
        self._help.show()
        self._help.raise_()

    def find_command(self) -> None:
        """Show a list of all commands, to be looked through by typing."""
        searching.find_command(self, self.actions_by_name, self.workspace)

    def find_part(self, *, more: bool = False) -> None:
        """Show a list of all parts, to be looked through by typing; with `more` to select one besides."""
        searching.find_part(self.workspace.elevation, self.document, more=more)

    def find_figure(self) -> None:
        """Show a list of the figures of what is selected, to be looked through by typing."""
        searching.find_figure(self, self.workspace)

    def show_undo_list(self) -> None:
        """Show the steps that can be undone and made again, beside the window."""
        if self._undo_list is None:
            self._undo_list = UndoList(self, self.document.undo_stack)
        self._undo_list.show()
        self._undo_list.raise_()
        self._undo_list.activateWindow()

    def show_status(self, text: str) -> None:
        """Show a passing message in the status bar; what a part in hand waits for stays there."""
        lasts = 0 if self.workspace.elevation.tool.picked else MESSAGE_MS
        self.statusBar().showMessage(status.message(self.document.layout, text), lasts)

    def _failed(self, text: str) -> None:
        self.notice.show_message(
            f"{text} Undo the last change, or save the drawing and open it again.", severity=Severity.STOP
        )

    # What is remembered

    def _restore(self) -> None:
        if self._settings is None:
            return
        if (units := self._kept_units()) is not None:
            self.document.set_system(units)
        geometry = self._settings.value("geometry")
        if geometry is not None:
            self.restoreGeometry(geometry)
        self.workspace.restore(self._settings)

    def _keep(self) -> None:
        if self._settings is None:
            return
        self._settings.setValue("geometry", self.saveGeometry())
        self._settings.setValue("appearance", str(self.appearance.choice))
        self.workspace.keep(self._settings)
        self._last_views.keep()
        self._settings.sync()

    # What comes from outside

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _dropped(event):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        path = _dropped(event)
        if path:
            event.acceptProposedAction()
            self.files.open(path)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Escape and self.notice.text:
            self.dismiss()  # nothing that has the keyboard had another use for it
        else:
            super().keyPressEvent(event)

    def dismiss(self) -> None:
        """Put away what is said over the drawing, as its button does."""
        self.notice.dismiss()

    def has_notice(self) -> bool:
        """Whether something is said over the drawing."""
        return bool(self.notice.text)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.may_leave():
            event.ignore()
            return
        self._keep()
        self.document.file.close()
        event.accept()


def _dropped(event: QDropEvent) -> Path | None:
    urls = [url for url in event.mimeData().urls() if url.isLocalFile()]
    return Path(urls[0].toLocalFile()) if urls else None


def settings() -> QSettings:
    """Where the window's own state is kept, beside the list of recent files."""
    return QSettings(str(storage.state_folder() / "window.ini"), QSettings.Format.IniFormat)


def make_window(
    application: QApplication,
    kept: QSettings | None,
    choice: ThemeChoice | None = None,
    *,
    keeps: bool = True,
) -> Window:
    """A window dressed as asked, or as it was last left. `keeps`: as the document has it."""
    if choice is None:
        remembered = str(kept.value("appearance", "")) if kept is not None else ""
        choice = ThemeChoice(remembered) if remembered in list(ThemeChoice) else ThemeChoice.DESKTOP
    return Window(Appearance(application, choice), kept, keeps=keeps)
