"""The strip above the drawing: its title and story, and what of it is looked at."""

from __future__ import annotations

from contextlib import nullcontext
from functools import partial

from PySide6.QtCore import QEvent, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QAction, QFont, QMouseEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from sketch.editing import beginning
from sketch.look.appearance import read_style_sheets_again
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.look.words import tooltip, unbroken
from sketch.model import alternatives
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import State, with_title_or_notes
from sketch.views import case_table
from sketch.views.comparison import DRAWING_ITSELF, against_drawing
from sketch.views.refusal import mark_icon
from sketch.window import status
from sketch.window.actions import Actions
from sketch.window.heading_fields import NotesField, TitleField
from solver.findings.judgement import PumpState
from solver.layout import cases
from solver.layout.parts import Level

# Fusion marks the button that is down by a shade that a dark palette swallows.
SWITCH = """
QToolButton { border: 1px solid palette(mid); border-radius: 3px; padding: 2px 8px; }
QToolButton { background: palette(button); color: palette(button-text); }
QToolButton:checked { background: palette(mid); }
QToolButton:focus { border-color: palette(highlight); }
"""


UNTITLED, NAME_IT = "Untitled drawing", " – click to name it"
SMALL = 0.9  # of the desktop's own size, for a line under a choice
NO_NOTES = "No notes yet: double-click to write some"
WIDE = 1200
"""Logical pixels from which the choices have a word before them: below, the title needs the room."""
MARGINS = 24  # around a name in the list that opens, its scroll bar in it
NARROWEST = 90
"""Logical pixels of a choice, however long its names: the list that opens is as wide as the longest."""


class OneLineText(Label):
    """A text cut to the room there is; the whole of it is the tip, or is shown when asked for."""

    cut_off = Signal(bool)  # whether there is more than what is shown
    wanted = Signal()  # to be edited

    def __init__(self, hint: str, *, by_click: bool = False) -> None:
        """by_click: one click asks for it to be edited, where it takes two else."""
        super().__init__()
        self._hint, self._by_click = hint, by_click
        if by_click:
            self.setCursor(Qt.CursorShape.IBeamCursor)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self._given = self._whole = ""
        self._open = False
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def show_text(self, text: str) -> None:
        """Show this text."""
        if text == self._given:
            return  # at every move of a drag
        self._given = text
        paragraphs = [" ".join(part.split()) for part in text.strip().split("\n\n")]
        whole = "\n".join(paragraphs)
        if whole != self._whole:
            self._whole = whole
            self.setToolTip(tooltip(f"{whole}\n{self._hint}"))
            self.setAccessibleName(whole)
            self._cut()

    def unfold(self, expanded: bool) -> None:
        """Show all of the text on as many lines as it takes, or one line of it."""
        self._open = expanded
        self.setWordWrap(expanded)
        policy = QSizePolicy.Policy.Minimum if expanded else QSizePolicy.Policy.Preferred
        self.setSizePolicy(QSizePolicy.Policy.Ignored, policy)
        self._cut()

    def _cut(self) -> None:
        line = self._whole.replace("\n", " ")
        short = self.fontMetrics().elidedText(line, Qt.TextElideMode.ElideRight, self.width())
        self.setText(unbroken(self._whole) if self._open else short)
        self.cut_off.emit(short != line)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._cut()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._by_click and event.button() is Qt.MouseButton.LeftButton:
            self.wanted.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if not self._by_click:
            self.wanted.emit()


class Heading(QWidget):
    """Title and notes on the left; alternative, pump, case, level and units on the right."""

    def __init__(self, document: Document, actions: Actions) -> None:
        super().__init__()
        self._document = document
        self.title = OneLineText("Click to type another title", by_click=True)
        self.notes = OneLineText("Double-click to edit them")
        self.title_field, self.notes_field = TitleField(self.title), NotesField(self.notes)
        bold = QFont(self.font())
        bold.setBold(True)
        self.title.setFont(bold)
        self.notes.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.compared = Label()
        self.compared.setAccessibleName("Against the drawing itself")
        self.alternatives = _chooser("Alternative")
        self.pumps = _chooser("Pump")
        self.cases, self.state = _chooser("Case"), Label()
        self._marks: tuple[tuple[str, ...], tuple[object, ...]] = ((), ())  # of the cases that are offered
        self.alternatives.activated.connect(self._choose_alternative)
        self.pumps.activated.connect(self._choose_pump)
        self.cases.activated.connect(self._choose_case)
        self._choosers = (
            Labelled("Alternative", self.alternatives),
            Labelled("Pump", self.pumps),
        )
        self.case = _with_line_below(Labelled("Case", self.cases), self.state)
        self.more = QToolButton()
        self.more.setText("More")
        self.more.setCheckable(True)
        self.more.setAutoRaise(True)
        self.more.setAccessibleName("Show all of the notes")
        self.more.toggled.connect(self._unfold)
        self.notes.cut_off.connect(self.more.setVisible)
        self._arrange(actions)
        self.title.wanted.connect(self.edit_title)
        self.notes.wanted.connect(self.edit_notes)
        self.title.addAction(actions["rename drawing"])
        self.notes.addAction(actions["notes"])
        self.notes_field.closed.connect(self._compare)
        document.opened.connect(self.title_field.leave)
        document.opened.connect(self.notes_field.leave)
        document.changed.connect(self.refresh)
        self.refresh()

    def _arrange(self, actions: Actions) -> None:
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.title)
        words.addWidget(self.title_field)
        below = QHBoxLayout()
        below.setSpacing(6)
        below.addWidget(self.compared, 0, Qt.AlignmentFlag.AlignTop)
        below.addWidget(self.notes, 1)
        below.addWidget(self.notes_field, 1)
        words.addLayout(below)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 4, 8, 4)
        row.setSpacing(16)
        row.addLayout(words, 1)
        switches = (
            _switch("Level", *((actions[name], name.capitalize()) for name in Level)),
            _switch("Units", (actions["us"], "US"), (actions["si"], "SI")),
        )
        for widget in (self.more, *self._choosers, self.case, *switches):
            row.addWidget(widget, 0, Qt.AlignmentFlag.AlignTop)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            read_style_sheets_again(self)
            self._marks = ((), ())
            self._offer_cases()

    def minimumSizeHint(self) -> QSize:
        """Without the words before the choices: they go before the window becomes so narrow."""
        hint = super().minimumSizeHint()
        words = [each for each in self.findChildren(Labelled) if each.label.isVisibleTo(self)]
        for each in words:
            layout = each.layout()
            spacing = layout.spacing() if layout is not None else 0
            hint.setWidth(hint.width() - each.label.minimumSizeHint().width() - spacing)
        return hint

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        for each in self.findChildren(Labelled):
            each.label.setVisible(event.size().width() >= WIDE)
        self.state.setVisible(event.size().width() >= WIDE)

    def refresh(self) -> None:
        """Take title, notes and choices from the document."""
        document = self._document
        title = document.layout.title
        unnamed = title in ("", beginning.TITLE)
        self.title.show_text(f"{title or UNTITLED}{NAME_IT if unnamed else ''}")
        chosen = document.drawing.alternatives.get(document.alternative)
        notes = chosen.note if chosen and chosen.note else document.layout.notes
        if not notes.strip():
            notes = beginning.assumed_figures(document.layout) or NO_NOTES
        self.notes.show_text(notes)
        self._compare()
        _offer(self.alternatives, (BASE, *document.alternatives), document.alternative, DRAWING_ITSELF)
        _offer(self.pumps, tuple(document.layout.pumps), document.pump, "")
        for chooser, box in zip(self._choosers, (self.alternatives, self.pumps), strict=True):
            chooser.setVisible(box.count() > 1)
        self._offer_cases()

    def _offer_cases(self) -> None:
        """Every case with its mark, and the level and strainer of the one in view."""
        document = self._document
        names = tuple(cases.cases_of(document.layout))
        _offer(self.cases, names, document.case, "")
        judgement = document.outcome.judgement
        self._show_marks(names, tuple(case_table.pump_state_of(judgement, name) for name in names))
        self.case.setVisible(len(names) > 1)
        # Of one that is not shown it is not asked.
        state = status.case_state(document) if len(names) > 1 else ""
        if state != self.state.text():
            self.state.setText(state)
            self.cases.setToolTip(tooltip(state))

    def _show_marks(self, names: tuple[str, ...], marks: tuple[PumpState | None, ...]) -> None:
        """Put before each case how it comes out."""
        before = self._marks[1] if self._marks[0] == names else ()
        self._marks = (names, marks)
        if before == marks:
            return
        # A mark takes the room of the one before it: unheard of it the window is not laid out again.
        with QSignalBlocker(self.cases.model()) if before else nullcontext():
            for at, (name, pump_state) in enumerate(zip(names, marks, strict=True)):
                if before[at : at + 1] != (pump_state,):
                    self._mark_case(at, name, pump_state)
        for shown in (self.cases, self.cases.view().viewport()):
            shown.update()

    def _mark_case(self, at: int, name: str, pump_state: PumpState | None) -> None:
        icon = mark_icon(case_table.mark_of(pump_state), self.palette(), self.devicePixelRatioF())
        self.cases.setItemIcon(at, icon)
        word = f"{name}: {case_table.word_of(pump_state)}"
        self.cases.setItemData(at, tooltip(word), Qt.ItemDataRole.ToolTipRole)
        self.cases.setItemData(at, word, Qt.ItemDataRole.AccessibleTextRole)

    def _choose_case(self, at: int) -> None:
        self._document.set_case(self.cases.itemData(at))

    def _compare(self) -> None:
        """Say how an alternative stands against the drawing it is an alternative to."""
        document = self._document
        text = ""
        if document.alternative and document.ledger is not None:
            own, drawn = (
                each.margins(document.pump) for each in (document.outcome, document.outcome_of(BASE))
            )
            text = against_drawing(own, drawn, document.case, document.system)
        self.compared.setText(text)
        self.compared.setVisible(bool(text) and self.notes_field.isHidden())

    def edit_title(self) -> None:
        """Have the title typed where it stands, for the drawing and all alternatives that share it."""
        if self.title_field.isVisible():
            return  # the second click of two
        document = self._document
        before = document.layout.title

        def take(text: str) -> None:
            if text != before:
                document.change_alternatives(
                    "Rename the drawing", lambda state: with_title_or_notes(state, "title", text, before)
                )

        self.title_field.setAccessibleName("Title of the drawing")
        self.title_field.ask(before, take)

    def edit_notes(self) -> None:
        """Have the notes typed where they stand: those of the alternative that is shown, or the drawing's."""
        document, name = self._document, self._document.alternative
        chosen = document.drawing.alternatives.get(name)
        before = chosen.note if chosen else document.layout.notes
        whose = f"the alternative {name}" if chosen else "the drawing"

        def change(state: State, text: str) -> State:
            if chosen is None:
                return with_title_or_notes(state, "notes", text, before)
            return alternatives.with_note(state, name, text)

        def take(text: str) -> None:
            is_there = chosen is None or name in document.drawing.alternatives
            if text != before.strip() and is_there:
                document.change_alternatives(f"Notes on {whose}", lambda state: change(state, text))

        self.notes_field.setAccessibleName(f"Notes on {whose}")
        self.notes_field.setPlaceholderText(f"Notes on {whose}")
        self.notes_field.ask(before.strip(), take)
        self.compared.hide()  # all the width is the notes'
        if beginning.without_note(document.layout) is not document.layout and chosen is None:
            self.notes_field.selectAll()  # what a new drawing came with gives way to what is typed

    def _unfold(self, expanded: bool) -> None:
        self.more.setText("Less" if expanded else "More")
        self.notes.unfold(expanded)

    def _choose_alternative(self, at: int) -> None:
        self._document.show_alternative(self.alternatives.itemData(at))

    def _choose_pump(self, at: int) -> None:
        self._document.show_pump(self.pumps.itemData(at))


def _chooser(name: str) -> QComboBox:
    box = Choice()
    box.setAccessibleName(name)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    box.setMinimumWidth(NARROWEST)
    box.setMaximumWidth(260)
    return box


def _with_line_below(choice: QWidget, below: Label) -> QWidget:
    """A choice with a quiet line under it."""
    both = QWidget()
    column = QVBoxLayout(both)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    small = QFont(below.font())
    small.setPointSizeF(small.pointSizeF() * SMALL)
    below.setFont(small)
    below.setForegroundRole(QPalette.ColorRole.PlaceholderText)
    below.setAlignment(Qt.AlignmentFlag.AlignRight)
    below.setMinimumWidth(1)  # what it says of a case never keeps the window wide
    column.addWidget(choice, 0, Qt.AlignmentFlag.AlignRight)
    column.addWidget(below)
    return both


def _offer(box: QComboBox, names: tuple[str, ...], current: str, unnamed: str) -> None:
    with QSignalBlocker(box):
        if [box.itemData(at) for at in range(box.count())] != list(names):
            box.clear()
            for name in names:
                box.addItem(name or unnamed, name)
            metrics = box.fontMetrics()
            longest = max(metrics.horizontalAdvance(name or unnamed) for name in names or ("",))
            box.view().setMinimumWidth(longest + box.iconSize().width() + MARGINS)
        box.setCurrentIndex(names.index(current) if current in names else -1)


class Labelled(QWidget):
    """Widgets with a word before them, which gives way where the window is narrow."""

    def __init__(self, text: str, *widgets: QWidget, spacing: int = 6) -> None:
        super().__init__()
        self.label = Label(text)
        self.label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(spacing)
        for widget in (self.label, *widgets):
            row.addWidget(widget)


def _follow(button: QToolButton, action: QAction, short: str) -> None:
    """A button keeps its short name, and is there only where its action is."""
    button.setText(short)
    button.setVisible(action.isVisible())


def _switch(text: str, *choices: tuple[QAction, str]) -> Labelled:
    """Buttons of which one is down, each doing the same as an action of the menu."""
    buttons = []
    for action, short in choices:
        button = QToolButton()
        button.setDefaultAction(action)
        button.setText(short)
        button.setAccessibleName(f"{text}: {short}")
        action.changed.connect(partial(_follow, button, action, short))
        _follow(button, action, short)
        buttons.append(button)
    labelled = Labelled(text, *buttons, spacing=2)
    labelled.setStyleSheet(SWITCH)
    return labelled
