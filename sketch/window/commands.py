"""Every command of the window: where it stands, its name, its keys, its tip and what it does."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence

from sketch.canvas import shelf
from sketch.editing.beginning import STARTERS
from sketch.editing.building import HOSE, LINE
from sketch.editing.readings import ON_SHELF
from sketch.editing.tanks import BAFFLE
from sketch.look.appearance import Appearance, ThemeChoice
from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.model.drawing_state import State, next_alternative, without_alternative
from sketch.model.outcome import has_typed_level
from sketch.views.tabs import TABS
from sketch.window import arranging, copying, page_file
from sketch.window.actions import Command
from sketch.window.arranging import Arranging
from sketch.window.files import Files
from sketch.window.heading import Heading
from sketch.window.page_file import PageFile
from sketch.window.sheets import Sheets
from sketch.window.tables import ROOM
from sketch.window.workspace import Workspace
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.kinds import FittingKind
from solver.layout.parts import Layout, Level
from solver.quantities.units import System

STANDARD = QKeySequence.StandardKey
SHELF_RULES = (FittingKind.GATE_VALVE, BAFFLE, ON_SHELF)
"""Parts above which the menu has a separating line."""
LEVEL_KEYS = {
    Level.MINIMUM: "Ctrl+Alt+M",
    Level.NORMAL: "Ctrl+Alt+N",
    Level.DRAWN_DOWN: "Ctrl+Alt+W",
}


class Host(Protocol):
    """What the commands act on: the window."""

    document: Document
    workspace: Workspace
    heading: Heading
    files: Files
    sheets: Sheets
    arranging: Arranging
    appearance: Appearance

    def begin(self, make: Callable[[System], Layout] = ...) -> None: ...
    def rename_part(self) -> None: ...
    def new_alternative(self) -> None: ...
    def show_help(self) -> None: ...
    def show_status(self, text: str) -> None: ...
    def find_command(self) -> None: ...
    def find_part(self, *, more: bool = False) -> None: ...
    def find_figure(self) -> None: ...
    def show_undo_list(self) -> None: ...
    def write_page_file(self, wanted: PageFile) -> None: ...
    def dismiss(self) -> None: ...
    def has_notice(self) -> bool: ...
    def close(self) -> bool: ...


def commands(host: Host) -> tuple[Command, ...]:
    """All commands, menu by menu."""
    return (
        *_file(host),
        *_edit(host),
        *_names(host),
        *_insert(host),
        *_view(host),
        *_panels(host),
        *_levels(host),
        *_cases(host),
        *_units(host),
        *_appearance(host),
        Command("help", "Help", "&Mouse, keys and words", (STANDARD.HelpContents,),
            "What the mouse and the keys do", host.show_help),
        Command("find command", "Help", "&Find a command…", ("F3",),
            "Look for a command by its name or by what it does, and run it", host.find_command),
    )  # fmt: skip


def _file(host: Host) -> tuple[Command, ...]:
    has_drawing = partial(_has_drawing, host.document)
    calculated = partial(_calculated, host.document)
    return (
        Command("new", "File", "&New drawing", (STANDARD.New,), "Begin with a pump on the lid of its tank",
            host.begin),
        *(
            Command(f"new: {starter.name}", "File/New from", starter.name, (f"Ctrl+Alt+{at}",), starter.story,
                partial(host.begin, starter.make))
            for at, starter in enumerate(STARTERS)
        ),
        Command("open", "File", "&Open…", (STANDARD.Open,), "Open a drawing", host.files.open_dialog),
        Command("save", "File", "&Save", (STANDARD.Save,), "Save the drawing", host.files.save,
            enabled=has_drawing, rule=True),
        Command("save as", "File", "Save &as…", ("Ctrl+Shift+S",), "Save the drawing under another name",
            host.files.save_as, enabled=has_drawing),
        Command("sheet", "File", "&Write sheet…", (STANDARD.Print,),
            "Write the drawing with its ledger as a page", host.files.write_sheet,
            enabled=calculated, rule=True),
        Command("sheet preview", "File", "Pre&view sheet…", ("Ctrl+Alt+P",),
            "See the sheet as it will be printed, and print it from there", host.sheets.show_preview,
            enabled=calculated),
        Command("compare", "File", "Co&mpare with another drawing…", ("Ctrl+Alt+C",),
            "Set a later revision or another file beside this drawing: this one before, that one after",
            host.sheets.compare, enabled=calculated),
        Command("title block", "File", "&Title block of the sheet…", ("Ctrl+Alt+T",),
            "Say whom the sheet is for, who drew and checked it, and which revision it is",
            host.sheets.edit_title_block, enabled=has_drawing),
        Command("parts file", "File", "Write parts l&ist…", ("Ctrl+Alt+B",),
            "Write what the line is built from as CSV: lengths by size, bends, fittings, screens",
            host.sheets.write_parts, enabled=calculated),
        Command("card file", "File", "Write &card for the machine…", ("Ctrl+Shift+K",),
            "Write what a gauge should show at each pump, in every case and at rest, as a page to hang up",
            partial(host.write_page_file, page_file.CARD), enabled=calculated),
        Command("drawing to scale", "File", "Write drawing as &DXF…", ("Ctrl+Alt+G",),
            "Write the drawing at its true size for a drawing program: layers, dimensions and text",
            partial(host.write_page_file, page_file.DXF), enabled=calculated),
        Command("ledger file", "File", "Write &ledger…", ("Ctrl+Shift+E",),
            "Write the ledger as text, CSV or JSON, as the terminal prints it",
            host.files.write_ledger, enabled=calculated),
        Command("calculation file", "File", "Write &calculation…", ("Ctrl+Shift+H",),
            "Write every step of the calculation, with its numbers and sources, as a page for a browser",
            host.files.write_calculation, enabled=calculated),
        Command("drawing picture", "File", "Write picture of the drawin&g…", ("Ctrl+Alt+H",),
            "Write the drawing alone with its verdict, as PNG or as SVG to be enlarged",
            partial(host.write_page_file, page_file.PICTURE), enabled=calculated),
        Command("picture", "File", "Write &picture of the window…", ("Ctrl+Shift+P",),
            "Save a picture of the window as it is, as a PNG", host.files.write_picture, enabled=has_drawing),
        Command("quit", "File", "&Quit", ("Ctrl+Q",), "Close the window", host.close, rule=True),
    )  # fmt: skip


def _edit(host: Host) -> tuple[Command, ...]:
    document = host.document
    has_drawing = partial(_has_drawing, document)
    calculated = partial(_calculated, document)
    return (
        Command("undo", "Edit", "&Undo", (STANDARD.Undo,), "Undo the last change",
            document.undo_stack.undo, enabled=document.undo_stack.canUndo),
        Command("redo", "Edit", "&Redo", ("Ctrl+Shift+Z", "Ctrl+Y"), "Redo the change",
            document.undo_stack.redo, enabled=document.undo_stack.canRedo),
        Command("undo list", "Edit", "Undo l&ist…", ("Ctrl+Alt+Z",),
            "See all steps in words, and go to any of them", host.show_undo_list, enabled=has_drawing),
        *arranging.commands(host),
        Command("copy ledger", "Edit", "&Copy ledger", ("Ctrl+Shift+C",),
            "Copy the ledger with its findings as text",
            partial(copying.copy_ledger, document, host.show_status), enabled=calculated, rule=True),
        Command("copy table", "Edit", "Copy ledger as ta&ble", ("Ctrl+Alt+K",),
            "Copy every entry of every pump and case as cells for a spreadsheet, in SI units",
            partial(copying.copy_table, document, host.show_status), enabled=calculated),
        Command("copy picture", "Edit", "Copy p&icture", ("Ctrl+Alt+I",),
            "Copy the whole drawing with its verdict as a picture for another program",
            partial(copying.copy_picture, document, host.show_status), enabled=calculated),
        Command("find part", "Edit", "&Find a part…", (STANDARD.Find,),
            "Look for a part by its name or by what it is, and select it", host.find_part,
            enabled=has_drawing),
        Command("select more", "Edit", "Select one m&ore part…", ("Ctrl+Alt+F",),
            "Look for a part, and add it to those that are selected, or take it out of them",
            partial(host.find_part, more=True), enabled=has_drawing),
        Command("find figure", "Edit", "Find a fi&gure…", ("Ctrl+Shift+F",),
            "Look for a figure of what is selected, or of site and fluid, and type it on the part card",
            host.find_figure, enabled=has_drawing),
        Command("site", "Edit", "Site and fluid", ("Ctrl+I",),
            "Show the figures of site and fluid on the part card, and select no part",
            host.workspace.show_site, enabled=has_drawing),
    )  # fmt: skip


def _names(host: Host) -> tuple[Command, ...]:
    """What is called how, and what is kept beside it under a name."""
    document = host.document
    has_drawing = partial(_has_drawing, document)
    return (
        Command("rename part", "Edit", "Re&name this part…", ("F2",), "Give the selected part another name",
            host.rename_part, enabled=lambda: len(document.selection) == 1),
        Command("rename drawing", "Edit", "Rename this &drawing", ("Ctrl+F2",),
            "Type another title where it stands, above the drawing", lambda: host.heading.edit_title(),
            enabled=has_drawing),
        Command("notes", "Edit", "N&otes on what is shown", ("Ctrl+Shift+F2",),
            "Type the notes on the drawing, or on the alternative that is shown, where they stand",
            lambda: host.heading.edit_notes(), enabled=has_drawing),
        Command("new alternative", "Edit", "&New alternative…", ("Ctrl+Shift+N",),
            "Keep the drawing as it is shown as an alternative, and go on in it",
            host.new_alternative, enabled=has_drawing, rule=True),
        Command("remove alternative", "Edit", "D&elete this alternative", ("Ctrl+Shift+Backspace",),
            "Delete the alternative that is shown and go back to the drawing itself",
            partial(_remove_alternative, document), enabled=lambda: bool(document.alternative)),
    )  # fmt: skip


def _insert(host: Host) -> Iterator[Command]:
    """What stands on the shelf, to be found by a word and put down by keys."""
    has_drawing, pick = partial(_has_drawing, host.document), host.workspace.elevation.pick
    for name, what, tip in shelf.PARTS:
        begun = f"Draw a {what}" if what in (LINE, HOSE) else "Pick it, then click where it goes"
        tip = f"{begun}. {tip}".removesuffix(". ")
        rule = what in SHELF_RULES
        yield Command(f"take {what}", "Insert", name, (), tip, partial(pick, what), enabled=has_drawing,
                      rule=rule)  # fmt: skip


def _view(host: Host) -> tuple[Command, ...]:
    document = host.document
    has_drawing = partial(_has_drawing, document)
    return (
        Command("fit", "View", "&Fit the drawing", ("Ctrl+0",), "Show the whole drawing",
            host.workspace.elevation.fit, enabled=has_drawing),
        Command("to drawing", "View", "Keyboard to the &drawing", ("F4",),
            "Return the keyboard to the drawing from a table or the part card",
            partial(host.workspace.elevation.setFocus, Qt.FocusReason.ShortcutFocusReason),
            enabled=has_drawing),
        Command("zoom in", "View", "Zoom &in", (STANDARD.ZoomIn, "Ctrl+="), "Show the drawing larger",
            lambda: host.workspace.elevation.zoom(1.25), enabled=has_drawing),
        Command("zoom out", "View", "Zoom &out", (STANDARD.ZoomOut,), "Show the drawing smaller",
            lambda: host.workspace.elevation.zoom(0.8), enabled=has_drawing),
        Command("reach map", "View", "Reach &map", ("Ctrl+Alt+R",),
            "Colour the places where the port of the pump that is shown may stand",
            host.workspace.elevation.ground.toggle, checked=lambda: host.workspace.elevation.ground.on,
            enabled=partial(_calculated, document)),
        Command("uncertainty", "View", "&Uncertainty of the margin", ("Ctrl+Alt+E",),
            "Show beside column and profile how sure the margin is, as little is known exactly",
            doubt(document).toggle, checked=lambda: doubt(document).on,
            enabled=partial(_calculated, document)),
        *_tabs(host),
        Command("next alternative", "View", "Ne&xt alternative", ("Ctrl+PgDown",),
            "Show the next alternative", partial(_step_alternative, document, 1),
            enabled=lambda: bool(document.alternatives), rule=True),
        Command("previous alternative", "View", "Pre&vious alternative", ("Ctrl+PgUp",),
            "Show the previous alternative, or the drawing itself",
            partial(_step_alternative, document, -1), enabled=lambda: bool(document.alternatives)),
        Command("dismiss", "View", "Dismiss the &message", ("Shift+Esc",),
            "Put away what is said over the drawing", host.dismiss, enabled=host.has_notice),
    )  # fmt: skip


def _panels(host: Host) -> tuple[Command, ...]:
    workspace = host.workspace
    return (
        Command("shelf panel", "View/Panels", "&Shelf", ("F5",), "Show or hide the shelf of parts",
            lambda: workspace.toggle("shelf"), checked=lambda: workspace.shown("shelf"), rule=True),
        Command("column panel", "View/Panels", "&Air column", ("F6",), "Show or hide the air column",
            lambda: workspace.toggle("column"), checked=lambda: workspace.shown("column")),
        Command("what-if panel", "View/Panels", "&What-if strip", ("F7",), "Show or hide the what-if strip",
            lambda: workspace.toggle("whatif"), checked=lambda: workspace.shown("whatif")),
        Command("tables panel", "View/Panels", "&Tables", ("F8",),
            "Show or hide what stands under the drawing: ledger, profile, findings and the rest",
            lambda: workspace.toggle("tables"), checked=lambda: workspace.shown("tables")),
        Command("findings beside", "View/Panels", "Fin&dings beside the tables", ("F9",),
            f"Where the window is wide enough for two tables, from {ROOM} pixels on, show the findings too",
            lambda: workspace.tables.set_beside(not workspace.tables.wanted),
            checked=lambda: workspace.tables.wanted),
    )  # fmt: skip


def _cases(host: Host) -> tuple[Command, ...]:
    document, card = host.document, host.workspace.case_card
    several, own = partial(_has_cases, document), partial(_in_own_case, document)
    return (
        Command("next case", "View", "Next &case", ("Alt+PgDown",), "Show the next case",
            partial(_step_case, document, 1), enabled=several, rule=True),
        Command("previous case", "View", "Previous ca&se", ("Alt+PgUp",), "Show the previous case",
            partial(_step_case, document, -1), enabled=several),
        Command("other cases", "View", "&Other cases behind", ("Ctrl+Alt+O",),
            "Draw the other cases dashed in the air column and the pressure profile",
            lambda: document.set_other_cases(not document.shows_other_cases),
            checked=lambda: document.shows_other_cases, enabled=several),
        Command("new case", "Edit", "New &case…", ("Ctrl+Alt+A",),
            "Make a case of your own: what happens to the line, such as a cold morning", card.new,
            enabled=partial(_has_drawing, document), rule=True),
        Command("rename case", "Edit", "Rena&me this case…", ("Shift+F2",),
            "Give the case that is shown another name", card.rename, enabled=own),
        Command("delete case", "Edit", "De&lete this case", ("Ctrl+Alt+Backspace",),
            "Delete the case that is shown", card.delete, enabled=own),
    )  # fmt: skip


def _units(host: Host) -> tuple[Command, ...]:
    document = host.document
    return (
        Command("us", "View/Units", "&US customary", ("Ctrl+Alt+U",),
            "Feet, inches of mercury, gallons a minute", lambda: document.set_system(System.US),
            checked=lambda: document.system is System.US, group="units"),
        Command("si", "View/Units", "&SI", ("Ctrl+Alt+S",), "Metres, kilopascals, litres a minute",
            lambda: document.set_system(System.SI),
            checked=lambda: document.system is System.SI, group="units"),
    )  # fmt: skip


def _appearance(host: Host) -> tuple[Command, ...]:
    appearance = host.appearance
    return (
        Command("as desktop", "View/Appearance", "&As the desktop", (), "Light or dark as the desktop is",
            lambda: appearance.choose(ThemeChoice.DESKTOP),
            checked=lambda: appearance.choice is ThemeChoice.DESKTOP, group="appearance"),
        Command("light", "View/Appearance", "&Light", ("Ctrl+Alt+L",), "Dark ink on light paper",
            lambda: appearance.choose(ThemeChoice.LIGHT),
            checked=lambda: appearance.choice is ThemeChoice.LIGHT, group="appearance"),
        Command("dark", "View/Appearance", "&Dark", ("Ctrl+Alt+D",), "Light ink on dark paper",
            lambda: appearance.choose(ThemeChoice.DARK),
            checked=lambda: appearance.choice is ThemeChoice.DARK, group="appearance"),
    )  # fmt: skip


def _has_drawing(document: Document) -> bool:
    return document.has_drawing


def _calculated(document: Document) -> bool:
    return document.solution is not None


def _tabs(host: Host) -> Iterator[Command]:
    for at, (name, tab) in enumerate(TABS.items()):
        show = partial(host.workspace.show_tab, name)
        yield Command(name, "View", tab.menu, (_tab_key(at),), tab.tip, show, rule=at == 0)


def _tab_key(at: int) -> str:
    """Nine views have a digit with Ctrl, those after them one with Alt."""
    return f"Ctrl+{at + 1}" if at < 9 else f"Alt+{at - 8}"


def _remove_alternative(document: Document) -> None:
    document.change_alternatives(f"Delete alternative {document.alternative}", without_alternative)


def _step_alternative(document: Document, step: int) -> None:
    document.show_alternative(next_alternative(State(document.drawing, document.alternative), step))


def _has_cases(document: Document) -> bool:
    return len(cases_of(document.layout)) > 1


def _in_own_case(document: Document) -> bool:
    return document.case != AS_DRAWN


def _step_case(document: Document, step: int) -> None:
    names = list(cases_of(document.layout))
    document.set_case(names[(names.index(document.case) + step) % len(names)])


def _levels(host: Host) -> Iterator[Command]:
    document = host.document
    for level in Level:
        yield Command(
            level,
            "View/Fluid level",
            f"&{level.capitalize()}",
            (LEVEL_KEYS[level],),
            f"Calculate with the fluid at its {level.replace(' ', '-')} level",
            partial(document.set_level, level),
            checked=partial(_at_level, document, level),
            enabled=partial(_level_is_free, document),
            offered=partial(_has_level, document, level),
            group="level",
        )


def _in_view(document: Document) -> Layout:
    return document.layout if document.solution is None else document.solution.layout


def _level_is_free(document: Document) -> bool:
    """Whether neither the drawing nor the case in view says itself where the fluid stands."""
    named = ("level",) in cases_of(document.layout)[document.case].figures
    return not (document.layout.level is not None or has_typed_level(_in_view(document)) or named)


def _at_level(document: Document, level: Level) -> bool:
    solution = document.solution
    shown = document.level if solution is None else solution.level
    return shown == level and not has_typed_level(_in_view(document))


def _has_level(document: Document, level: Level) -> bool:
    return level in document.levels
