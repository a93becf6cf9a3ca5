"""The case in view: its note and figures, to be edited; and what is done to cases as a whole."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from PySide6.QtCore import QEvent, QSignalBlocker, Qt
from PySide6.QtGui import QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QMenu,
    QStyledItemDelegate,
    QTableWidget,
    QTableWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from sketch.card.typed_text import displayed
from sketch.editing import cases
from sketch.editing.cases import CaseFigure
from sketch.editing.edits import EditError
from sketch.look.appearance import theme_of
from sketch.look.asking import ask_for_choice, ask_for_text
from sketch.look.buttons import word_button
from sketch.look.choice import Choice
from sketch.look.keys import begins_figure, keep_own_key
from sketch.look.label import Label
from sketch.look.whole_line import WholeLine
from sketch.look.words import tooltip
from sketch.model.document import Document
from sketch.views import case_making
from sketch.views.table_style import dress
from solver.answers.proposals import CaseProposal, proposals
from solver.layout.cases import AS_DRAWN
from solver.quantities.units import Kind, System

WHAT, IN_CASE, DRAWN = range(3)
HEADINGS = ("Figure", "In this case", "As drawn")
AS_DRAWN_TEXT = "The drawing without any case. A case lays figures of its own over it."
EMPTY = "As drawn so far: nothing of this case differs from the drawing, so it comes to what that comes to."
NO_SCREEN = "No strainer or screen is drawn that could be blocked"
ONLY_HERE = "In this alternative only"
ONLY_HERE_TIP = (
    "A case is of the drawing and of all its alternatives, so that they can be compared. With this on, "
    "figures typed or taken off here are changed in the alternative that is shown alone."
)


class FigureTable(QTableWidget):
    """The figures of a case; Delete takes one off. A row `is_chosen` out of a list, or typed."""

    def __init__(self, on_remove: Callable[[int], None], is_chosen: Callable[[int], bool]) -> None:
        super().__init__(0, len(HEADINGS))
        self._on_remove, self._is_chosen = on_remove, is_chosen
        self.setHorizontalHeaderLabels(HEADINGS)
        dress(self, "Figures of this case")
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.SelectedClicked
        )
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)

    def event(self, event: QEvent) -> bool:
        # Delete is the window's key for a part: here it is the table's.
        return keep_own_key(event, self._is_delete) or super().event(event)

    def _is_delete(self, event: QKeyEvent) -> bool:
        return Qt.Key(event.key()) is Qt.Key.Key_Delete and self.currentRow() >= 0

    @staticmethod
    def _is_letter(event: QKeyEvent) -> bool:
        text = event.text()
        return bool(text.strip()) and text.isprintable() and not begins_figure(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._is_delete(event):
            self._on_remove(self.currentRow())
        elif self._is_letter(event) and not self._is_chosen(self.currentRow()):
            event.ignore()  # it begins no figure, and would take the place of the one that stands there
        else:
            super().keyPressEvent(event)


class _Choices(QStyledItemDelegate):
    """Types a figure, or chooses it where there is no more than a few to choose from."""

    def __init__(self, card: CaseCard) -> None:
        super().__init__(card)
        self._card = card

    def createEditor(self, parent, option, index):  # type: ignore[no-untyped-def]  # Qt's own signature
        choices = self._card.shown[index.row()][0].choices
        if not choices:
            return super().createEditor(parent, option, index)
        box = Choice(parent)
        box.addItems(list(choices))
        box.activated.connect(lambda: self.commitData.emit(box))
        return box

    def setEditorData(self, editor, index):  # type: ignore[no-untyped-def]
        if isinstance(editor, QComboBox):
            editor.setCurrentText(str(index.data()))
        else:
            super().setEditorData(editor, index)

    def setModelData(self, editor, model, index):  # type: ignore[no-untyped-def]
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentText())
        else:
            super().setModelData(editor, model, index)


class _Figure(QTableWidgetItem):
    """A figure to edit as it was typed, with what it is in the units shown while it is only read."""

    def __init__(self, text: str, kind: Kind | None, system: System) -> None:
        super().__init__(text)
        self._kind, self._system = kind, system

    def data(self, role: int) -> Any:
        """What it holds; what is read of it is set as a sentence would."""
        held = super().data(role)
        return displayed(str(held), self._kind, self._system) if role == Qt.ItemDataRole.DisplayRole else held


class CaseCard(QWidget):
    """Follows the case in view. A figure that is refused leaves the drawing as it was, and says why."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._of_choice = ("", "")  # the alternative and the case that `only_here` is chosen for
        self.shown: tuple[tuple[CaseFigure, str], ...] = ()
        self.title, self.trouble = Label(), Label()
        self.note, self.more = WholeLine(), Choice()
        self.only_here = QCheckBox(ONLY_HERE)
        self.figures = FigureTable(self._remove_figure, self._is_chosen)
        self.figures.setItemDelegate(_Choices(self))
        self.buttons: dict[str, QToolButton] = {}
        self.proposals = QMenu(self)
        self._arrange()
        self.figures.itemChanged.connect(self._typed)
        self.note.editingFinished.connect(self._noted)
        self.more.activated.connect(self._add_figure)
        self.proposals.aboutToShow.connect(self._offer)
        document.changed.connect(self._changed)
        self._reload()

    def _arrange(self) -> None:
        bold = self.title.font()
        bold.setBold(True)
        self.title.setFont(bold)
        self.note.setPlaceholderText("Note")
        self.note.setAccessibleName("Note of this case")
        self.more.setAccessibleName("Another figure for this case")
        self.trouble.setWordWrap(True)
        self.trouble.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.only_here.setToolTip(tooltip(ONLY_HERE_TIP))
        bar = QHBoxLayout()
        bar.setSpacing(4)
        bar.addWidget(self.title, 1)
        for name, text, does in (
            ("new", "New", self.proposals),
            ("rename", "Rename…", self.rename),
            ("up", "Move up", partial(self._move, -1)),
            ("down", "Move down", partial(self._move, 1)),
            ("delete", "Delete", self.delete),
        ):
            self.buttons[name] = word_button(text, "case", does)
            bar.addWidget(self.buttons[name])
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 4)
        column.setSpacing(4)
        column.addLayout(bar)
        column.addWidget(self.note)
        column.addWidget(self.figures, 1)
        column.addWidget(self.trouble)
        last = QHBoxLayout()
        last.addWidget(self.more, 1)
        last.addWidget(self.only_here)
        column.addLayout(last)

    # What it shows

    def _changed(self) -> None:
        if self.isVisible():
            self._reload()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._reload()

    def _reload(self) -> None:
        layout, case = self._document.layout, self._document.case
        own = case != AS_DRAWN
        self.title.setText(case)
        self.title.setToolTip(tooltip(case))
        if not self.note.isModified():
            self.note.setText(str(cases.table_of(layout, case).get("note", "")))
        for widget in (self.note, self.more, self.figures):
            widget.setVisible(own)
        self.only_here.setVisible(own and bool(self._document.alternative))
        if self._of_choice != (self._document.alternative, case):
            self._of_choice = (self._document.alternative, case)
            self.only_here.setChecked(False)  # a choice for one alternative is none for the next
        for name in ("rename", "up", "down", "delete"):
            self.buttons[name].setEnabled(own)
        self.shown = cases.shown_figures(layout, case) if own else ()
        self._fill()
        why = self._why_not_judged()
        self._show_message(why or self._state_of_case(), refused=bool(why))

    def _state_of_case(self) -> str:
        """What is to be known of the case in view before its figures are typed."""
        if self._document.case == AS_DRAWN:
            ready = ", ".join(each.name for each in proposals(self._document.layout))
            return f"{AS_DRAWN_TEXT} Ready made under New: {ready}." if ready else AS_DRAWN_TEXT
        of_alternative = case_making.figures_of_alternative(self._document, self._document.case)
        other = f"Another than in the drawing itself, in this alternative only: {'; '.join(of_alternative)}."
        return " ".join(filter(None, (EMPTY if not self.shown else "", other if of_alternative else "")))

    def _why_not_judged(self) -> str:
        judgement = self._document.outcome.judgement
        case = judgement.cases.get(self._document.case) if judgement is not None else None
        return "" if case is None or case.judged else f"Not judged: {case.why(self._document.system)}"

    def _fill(self) -> None:
        layout, system = self._document.layout, self._document.system
        with QSignalBlocker(self.figures):
            self.figures.setRowCount(len(self.shown))
            for at, (figure, text) in enumerate(self.shown):
                drawn = displayed(cases.drawn_text(layout, figure), figure.kind, system)
                for column, value in enumerate((figure.words, text, drawn or "–")):
                    item = (
                        _Figure(value, figure.kind, system) if column == IN_CASE else QTableWidgetItem(value)
                    )
                    if column != IN_CASE:
                        item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
                    self.figures.setItem(at, column, item)
        self.more.clear()
        self.more.addItem("Add a figure…")
        held = {figure.path for figure, _ in self.shown}
        known = cases.figures(layout)
        for figure in known:
            if figure.path not in held:
                self.more.addItem(figure.words, figure)
        if not any(figure.path[-1] == "blocked" for figure in known):
            self.more.add_reason(NO_SCREEN)

    def _show_message(self, text: str, *, refused: bool = False) -> None:
        theme, palette = theme_of(self.palette()), QPalette(self.trouble.palette())
        palette.setColor(QPalette.ColorRole.WindowText, theme.stop if refused else theme.quiet)
        self.trouble.setPalette(palette)
        self.trouble.setText(text)
        self.trouble.setVisible(bool(text))

    # What it does

    def _try(self, change: Callable[[], object]) -> bool:
        """Make a change; one that is refused is said, and leaves everything as it was."""
        try:
            change()
        except EditError as error:
            self._reload()
            self._show_message(f"{error}".strip(), refused=True)
            return False
        return True

    def _typed(self, item: QTableWidgetItem) -> None:
        self._set(self.shown[item.row()][0], str(item.data(Qt.ItemDataRole.EditRole)))

    def _is_chosen(self, row: int) -> bool:
        return 0 <= row < len(self.shown) and bool(self.shown[row][0].choices)

    def _remove_figure(self, row: int) -> None:
        self._set(self.shown[row][0], "")

    def _set(self, figure: CaseFigure, text: str) -> bool:
        document, only_here = self._document, self.only_here.isChecked()
        return self._try(
            lambda: case_making.set_figure(document, document.case, figure, text, only_here=only_here)
        )

    def _add_figure(self, at: int) -> None:
        figure = self.more.itemData(at)
        if isinstance(figure, CaseFigure):
            start = cases.drawn_text(self._document.layout, figure) or next(iter(figure.choices), "")
            text = self._ask(figure, start)
            if text and text.strip():
                self._set(figure, text)
            else:
                self.more.setCurrentIndex(0)

    def _ask(self, figure: CaseFigure, start: str) -> str | None:
        title = "Another figure"
        question = case_making.question(self._document, figure, self._document.case)
        if figure.choices:
            return ask_for_choice(self, title, question, figure.choices, start)
        return ask_for_text(self, title, question, start)

    def _noted(self) -> None:
        case, text = self._document.case, self.note.text()
        if not self.note.isModified():
            return
        self.note.setModified(False)
        self._try(
            lambda: self._document.change_cases(
                f"Note of {case}", lambda layout: cases.set_note(layout, case, text), case
            )
        )

    def rename(self) -> None:
        """Ask for another name for the case in view."""
        case = self._document.case
        name = ask_for_text(self, "Rename", f"Another name for {case}:", case)
        if name is not None:
            self._try(lambda: case_making.rename(self._document, case, name))

    def _move(self, step: int, _: bool = False) -> None:
        case = self._document.case
        self._try(lambda: case_making.move(self._document, case, step))

    def delete(self) -> None:
        """Drop the case in view."""
        self._try(lambda: case_making.remove(self._document, self._document.case))

    def _offer(self) -> None:
        """Fill the menu of new cases: one of the user's own, or one that is offered ready made."""
        self.proposals.clear()
        self.proposals.addAction("Empty case…", self.new)
        self.proposals.addSeparator()
        self._add_ready_made(self.proposals)

    def offer_ready_made(self, menu: QMenu) -> None:
        """Fill a menu with the cases that suit the drawing as it is now."""
        menu.clear()
        self._add_ready_made(menu)

    def _add_ready_made(self, menu: QMenu) -> None:
        for each in proposals(self._document.layout):
            menu.addAction(f"{each.name}…" if each.asked else each.name, partial(self.add_proposal, each))

    def new(self) -> None:
        """Ask for a name and make a case in which nothing differs yet."""
        free = case_making.free_name(self._document.layout, "Case")
        name = ask_for_text(self, "New case", "Name:", free)
        if name is not None:
            self._try(lambda: case_making.add(self._document, name, {}))

    def add_proposal(self, proposal: CaseProposal) -> None:
        """Make a case that is offered ready made; what the drawing does not hold is asked for."""
        answers = {}
        for figure in case_making.asked_figures(self._document.layout, proposal):
            question = case_making.question(self._document, figure, proposal.name, proposal)
            text = ask_for_text(self, proposal.name, question)
            if text is None or not (text.strip() or case_making.may_lack(proposal, figure)):
                return
            answers[figure] = text.strip()
        self._try(lambda: case_making.add_proposal(self._document, proposal, answers))
