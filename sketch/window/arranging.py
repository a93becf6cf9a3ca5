"""What is done with the parts that are selected: copied, pasted, deleted, mirrored, aligned, bent."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication, QKeySequence

from sketch.canvas import bending, snapping
from sketch.canvas.elevation import Elevation
from sketch.canvas.handles import Handle
from sketch.editing import clipping, copies, remarks, reshape, selection, taken_along
from sketch.editing.clipping import Pasted
from sketch.editing.edits import EditError
from sketch.editing.selection import Axis
from sketch.model import alternatives
from sketch.model.document import Document
from sketch.model.drawing_state import State, trouble_of_alternatives
from sketch.window import searching
from sketch.window.actions import Command
from sketch.window.notice import Notice
from solver.findings.kinds import Severity
from solver.geometry.followed import followed_text, with_followed
from solver.layout.parts import Layout
from solver.quantities.wording import capitalised

STANDARD = QKeySequence.StandardKey


class Arranging(QObject):
    """Edits of the selection, each as one undo step; what cannot be is said in the notice."""

    message = Signal(str)  # what was done, where the sheet does not show it

    def __init__(self, document: Document, elevation: Elevation, notice: Notice) -> None:
        super().__init__(document)
        self._document, self._elevation, self._notice = document, elevation, notice

    # Through the clipboard

    def copy(self) -> None:
        """Put the selected parts on the clipboard, as a piece of a drawing file."""
        text = clipping.copied(self._document.layout, self._document.selection)
        QGuiApplication.clipboard().setText(text)
        count = len(clipping.names_in(text))
        self.message.emit(f"Copied {count} parts" if count > 1 else "Copied one part")

    def cut(self) -> None:
        """Copy the selected parts and take them off the sheet."""
        text = clipping.copied(self._document.layout, self._document.selection)
        if self.remove("Cut"):
            QGuiApplication.clipboard().setText(text)

    def paste(self) -> None:
        """Put the parts on the clipboard on the sheet, and select them."""
        self._paste("Paste", QGuiApplication.clipboard().text())

    def duplicate(self) -> None:
        """Put the selected parts on the sheet once more, beside themselves."""
        text = clipping.copied(self._document.layout, self._document.selection)
        self._paste("Duplicate", text)

    def _paste(self, what: str, text: str) -> None:
        document = self._document
        step = snapping.grid_step(document.system, coarse=True)
        try:
            way = clipping.paste_offset(document.layout, text, step)
            pasted = clipping.pasted(document.layout, text, *way)
        except EditError as error:
            self._refuse(what, str(error))
            return
        before = State(document.drawing, document.alternative)
        if self._replace(what, alternatives.with_copies(before, pasted.layout, pasted.copies)):
            document.select_all(pasted.names)
            self._name_silent_cases(pasted)

    def _name_silent_cases(self, pasted: Pasted) -> None:
        """Say which cases change other parts of the kind of those that came, and none of these."""
        new = [name for name in pasted.names if name not in pasted.copies.values()]
        silent = copies.cases_without(pasted.layout, new)
        if silent:
            named = ", ".join(f'"{name}"' for name in silent)
            cases, verb = ("case", "changes") if len(silent) == 1 else ("cases", "change")
            self._notice.show_message(
                f"In the {cases} {named}, which {verb} other parts of this kind, what was pasted is as "
                f"drawn. Its figures there are typed under Cases.",
                passes=True,
            )

    # In place

    def select_all(self) -> None:
        """Select every part of the drawing."""
        self._document.select_all(selection.everything(self._document.layout))

    def select_line(self) -> None:
        """Select the whole line that the selected part lies in; that of the pump shown, where none is."""
        layout, part = self._document.layout, self._document.selected_part or self._document.pump
        line = selection.whole_line(layout, part) if part else ()
        self._document.select_all(line or (part,) * bool(part))

    def remove(self, what: str = "Delete") -> bool:
        """Take the selected parts, or the text or dimension held last, off the sheet. False where that cannot
        be, or nothing is selected."""
        remark = self._elevation.hand.remark
        if remark is not None:
            self.remove_remark(remark)
            return True
        if not self._document.selection:
            return False
        names, document = self._document.selection, self._document
        try:
            layout = selection.remove(document.layout, names)
        except EditError as error:
            self._refuse(what, str(error))
            return False
        before, drawn = State(document.drawing, document.alternative), document.layout
        also = taken_along.with_text(drawn, layout, names)
        if not self._replace(what, alternatives.with_removed(before, layout, names), also):
            return False
        if joined := taken_along.joined_text(drawn, layout):
            document.noticed.emit(joined)
        return True

    def _replace(self, what: str, after: State, also: str = "") -> bool:
        """Show another state of the drawing and its alternatives; False where one of these would not hold."""
        if trouble := trouble_of_alternatives(after.drawing):
            self._refuse(what, trouble)
            return False
        self._document.change_alternatives(self._label(what) + also, lambda _: after)
        return True

    def remove_remark(self, remark: Handle) -> None:
        """Take a text or dimension of one's own off the sheet."""
        layout = remarks.remove(self._document.layout, remark.hold, remark.corner)
        self._elevation.hand.forget()
        self._document.apply(f"Delete a {remark.hold}", layout)

    def mirror(self) -> None:
        """Turn the selected parts left for right."""
        self._apply("Mirror", partial(selection.mirror, names=self._document.selection))

    def align(self, axis: Axis) -> None:
        """Put the selected parts over one another, or at one height."""
        self._apply("Align", partial(selection.align, names=self._document.selection, axis=axis))

    def distribute(self, axis: Axis) -> None:
        """Put the selected parts at equal distances."""
        self._apply("Distribute", partial(selection.distribute, names=self._document.selection, axis=axis))

    def next_sizes(self, step: int) -> None:
        """Give each selected part the next size of its own standard: up for 1, down for -1."""
        what = "One size up for" if step > 0 else "One size down for"
        names = self._document.selection
        change = partial(selection.next_sizes, names=names, step=step)
        self._apply(what, change, lambda layout: selection.sizes_text(layout, names))

    def add_bend(self) -> None:
        """Bend the selected line in the middle of its longest straight."""
        bending.add_to_selected(self._document)

    def remove_bend(self) -> None:
        """Take away the bend that was held last."""
        bending.remove_active(self._document, self._elevation.hand.active)

    def turn_end(self) -> None:
        """Show what an end of the selected line can be turned onto, and turn it onto what is chosen."""
        if searching.find_turn(self._elevation, self._document, self._turn) is None:
            self._refuse("Connect an end", "no other part has an end free, and there is no other line")

    def _turn(self, which: int, name: str) -> None:
        run = self._document.selected_part
        now = self._document.layout
        if run in now.runs:
            self._apply(
                "Connect an end of",
                lambda layout: reshape.turned_onto(layout, run, which, name),
                lambda after: taken_along.with_text(now, after, ()),
            )

    def _apply(
        self, what: str, change: Callable[[Layout], Layout], result: Callable[[Layout], str] = lambda _: ""
    ) -> bool:
        document = self._document
        try:
            layout = change(document.layout)
        except EditError as error:
            self._refuse(what, str(error))
            return False
        if trouble := document.trouble_with(layout):
            self._refuse(what, trouble)
            return False
        before = document.layout
        document.apply(with_followed(self._label(what) + result(layout), before, layout), layout)
        if followed := followed_text(before, layout):
            self.message.emit(capitalised(followed))
        return True

    def _label(self, what: str) -> str:
        chosen = self._document.selection
        return f"{what} {chosen[0] if len(chosen) == 1 else f'{len(chosen)} parts' if chosen else 'parts'}"

    def _refuse(self, what: str, why: str) -> None:
        text = f"{what.removesuffix(' for').removesuffix(' of')} cannot be done: {why}."
        self._notice.show_message(text, severity=Severity.CAUTION, passes=True)


class Host(Protocol):
    """What the commands act on: the window."""

    document: Document
    arranging: Arranging


def commands(host: Host) -> tuple[Command, ...]:
    """The commands of the selection; their keys hold while the sheet has the keyboard."""
    document, arranging = host.document, host.arranging
    some, several = partial(_selected, document, 1), partial(_selected, document, 2)
    line, sized = partial(_is_line, document), partial(_has_size, document)
    return (
        Command("cut", "Edit", "Cu&t", (STANDARD.Cut,), "Cut the selected parts, to be pasted",
            arranging.cut, enabled=some, rule=True, on_sheet=True),
        Command("copy", "Edit", "Cop&y", (STANDARD.Copy,), "Copy the selected parts, as text of a file",
            arranging.copy, enabled=some, on_sheet=True),
        Command("paste", "Edit", "&Paste", (STANDARD.Paste,),
            "Paste the parts on the clipboard, under names that are not in use", arranging.paste,
            on_sheet=True),
        Command("duplicate", "Edit", "D&uplicate", ("Ctrl+D",), "Add the selected parts once more",
            arranging.duplicate, enabled=some, on_sheet=True),
        Command("remove part", "Edit", "&Delete", (STANDARD.Delete,),
            "Delete the selected parts; a line closes up where one sat in it",
            arranging.remove, enabled=lambda: some() or _has_remarks(document)),
        Command("select all", "Edit", "Select &all", (STANDARD.SelectAll,), "Select every part",
            arranging.select_all, enabled=partial(_has_parts, document), on_sheet=True, rule=True),
        Command("select line", "Edit", "Select the whole &line", ("Ctrl+L",),
            "Select the line that the selected part lies in; that of the pump shown, where none is selected",
            arranging.select_line, enabled=partial(_has_parts, document)),
        Command("mirror", "Edit/Arrange", "&Mirror", ("Ctrl+Shift+M",), "Swap left and right",
            arranging.mirror, enabled=some, rule=True),
        Command("align heights", "Edit/Arrange", "Align at one &height", ("Ctrl+Alt+Y",),
            "At the height of the part that was selected last; a tank with its floor",
            partial(arranging.align, Axis.Y), enabled=several),
        Command("align upright", "Edit/Arrange", "Align &over one another", ("Ctrl+Alt+X",),
            "Over the part that was selected last; a tank with its left wall",
            partial(arranging.align, Axis.X), enabled=several),
        Command("distribute across", "Edit/Arrange", "Distribute &across", ("Ctrl+Shift+X",),
            "At equal distances from the leftmost to the rightmost",
            partial(arranging.distribute, Axis.X), enabled=partial(_selected, document, 3)),
        Command("distribute up", "Edit/Arrange", "Distribute &up", ("Ctrl+Shift+Y",),
            "At equal distances from the lowest to the highest",
            partial(arranging.distribute, Axis.Y), enabled=partial(_selected, document, 3)),
        Command("add bend", "Edit/Arrange", "Add a &bend", ("Ctrl+B",),
            "Bend the selected line in the middle of its longest straight", arranging.add_bend,
            enabled=line),
        Command("remove bend", "Edit/Arrange", "&Remove a bend", ("Ctrl+Shift+B",),
            "Take away the bend of the selected line that was held last, or its last one",
            arranging.remove_bend, enabled=partial(_has_bend, document)),
        Command("size up", "Edit/Arrange", "One &size up", ("Ctrl+.", "Ctrl+Alt+Up"),
            "Each selected part in the next larger size of its own standard, pumps left out",
            partial(arranging.next_sizes, 1), enabled=sized, rule=True),
        Command("size down", "Edit/Arrange", "One size do&wn", ("Ctrl+,", "Ctrl+Alt+Down"),
            "Each selected part in the next smaller size of its own standard, pumps left out",
            partial(arranging.next_sizes, -1), enabled=sized),
        Command("turn end", "Edit/Arrange", "&Connect an end to…", ("Ctrl+Alt+J",),
            "Connect the start or the end of the selected line to another part, port or line by its name",
            arranging.turn_end, enabled=line),
    )  # fmt: skip


def _selected(document: Document, least: int) -> bool:
    return len(document.selection) >= least


def _has_parts(document: Document) -> bool:
    return bool(selection.everything(document.layout))


def _has_remarks(document: Document) -> bool:
    return bool(document.layout.texts or document.layout.dimensions)


def _has_size(document: Document) -> bool:
    return any(selection.has_size(document.layout, name) for name in document.selection)


def _is_line(document: Document) -> bool:
    return len(document.selection) == 1 and document.selected_part in document.layout.runs


def _has_bend(document: Document) -> bool:
    return _is_line(document) and bending.has_bend(document.layout, document.selected_part)
