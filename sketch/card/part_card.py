"""The part card: the figures of what is selected, typed freely; the drawing changes once they are right."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QKeySequence, QResizeEvent, QShowEvent, QStatusTipEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sketch.card import card_words
from sketch.card.card_canvas import CardCanvas, Picture
from sketch.card.card_draft import Refused, Typed
from sketch.card.card_fields import ASSUMED_TIP, BEGUN_TIP, OWN_BEGUN_TIP, CardField
from sketch.card.card_lines import FLUID_NAME, CardLine
from sketch.card.card_picture import limit_picture, viscosity_picture
from sketch.card.card_subject import CardSubject
from sketch.card.field_grid import PAD, FieldGrid
from sketch.card.held_field import HeldField
from sketch.card.kept_drafts import KeptDrafts
from sketch.card.own_parts_button import OwnPartsButton
from sketch.card.part_lines import assumed_keys, begun_keys, with_fluids
from sketch.card.part_picker import PartPicker
from sketch.card.size_steps import SizeSteps
from sketch.editing import own_parts
from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.refused import KeepsRefused
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from sketch.model.moves import moved_again
from sketch.model.outcome import has_part
from solver.layout.parts import Layout
from solver.quantities.wording import capitalised

COLUMN = 330  # logical pixels that a name and its field need side by side

NARROW, NARROWEST = 300, 240
"""What they make do with beside a picture; the second where not all of them could be seen otherwise."""

REST_MS = 40  # of no further change before the card follows
NATIVE = QKeySequence.SequenceFormat.NativeText


class PartCard(QWidget, KeepsRefused):
    """Shows what the document has selected; of no part, what holds for the whole drawing."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._subject = CardSubject()
        self._chosen = chosen_remark(document)
        self._draft: dict[str, Typed] = {}
        self._kept = KeptDrafts()
        self._before: Layout | None = None  # what the draft was begun on
        self._replaced = ""  # what the last figure typed took the place of
        self._replaced_in: Layout | None = None
        self.fields: dict[str, CardField] = {}
        self._stale = True
        self.picker = PartPicker()
        self.heading = Label()
        self.trouble = Label()
        self.give_up = QPushButton("Give up")
        self.own_parts = OwnPartsButton(document)
        self.size_steps = SizeSteps(document)
        self._sheet = QWidget()
        self._grid = FieldGrid(self._sheet)
        self._room = QScrollArea()
        self._held = HeldField(self, self._room, self._sheet)
        self.canvas = CardCanvas()
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self.refresh)
        self._refused = ""  # the line that was refused last
        self._laid_out = QTimer(self, interval=0, singleShot=True)
        self._laid_out.timeout.connect(self._bring_trouble)
        self._arrange()
        document.changed.connect(self._later)
        document.selected.connect(self._selected)
        self._chosen.changed.connect(self._selected)
        document.renamed.connect(self._kept.note_rename)
        document.opened.connect(self._forget)
        self.own_parts.own.changed.connect(self._later)
        self.picker.activated.connect(self._picked)
        self.give_up.clicked.connect(self.discard)

    def _arrange(self) -> None:
        self.setAccessibleName("Part card")
        self.give_up.setToolTip("Show the figures as they are in the drawing again (Esc)")
        self.give_up.setAutoDefault(False)
        self.trouble.setWordWrap(True)
        head = QHBoxLayout()
        head.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        head.setSpacing(PAD)
        head.addWidget(self.picker)
        head.addWidget(self.heading)
        head.addWidget(self.trouble, 1)
        head.addWidget(self.give_up)
        head.addWidget(self.size_steps)
        head.addWidget(self.own_parts)
        self._room.setWidget(self._sheet)
        self._room.setWidgetResizable(True)
        self._room.setFrameShape(QFrame.Shape.NoFrame)
        self._room.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        below = QHBoxLayout()
        below.setSpacing(0)
        below.addWidget(self._room, 1)
        below.addWidget(self.canvas)
        column.addLayout(below, 1)
        self.setFocusProxy(self.picker)

    # Following the document

    @property
    def name(self) -> str:
        """The part that is shown; "" for the drawing as a whole, and for several parts."""
        return self._subject.name

    @property
    def owner(self) -> str:
        """Whose figures are shown, in few words."""
        return self._subject.owner

    @property
    def pending(self) -> bool:
        """Whether something is typed that the drawing has not taken."""
        return bool(self._draft)

    def refused_texts(self) -> tuple[str, ...]:
        """What is typed of any part that the drawing has not taken, with what it is typed as."""
        own, system, layout = self._subject, self._document.system, self._document.layout
        shown = own.refused_texts(self._before, self._draft, system) if self._before is not None else ()
        return *self._kept.refused_texts(system, layout), *shown

    def _later(self) -> None:
        self._stale = True
        if self.isVisible() and not self._rest.isActive():
            self._rest.start()

    def _selected(self) -> None:
        subject = CardSubject(self._document.selection, self._chosen.remark)
        if subject != self._subject:
            layout, said = self._document.layout, ""
            if self._draft and self._before is not None:
                kept = self._subject, self._before, self._draft, self._document.system
                said = self._kept.keep(*kept, layout)
            self._show_replaced("")
            self._subject = subject
            self._before, self._draft = self._kept.take(subject, layout)
            if said and not self._draft:  # else it is the same part by another name
                self._document.refused.emit(said)
            self._at_once()

    def _at_once(self) -> None:
        """Show the other part's own fields before anything can be typed into those of the last one."""
        self._stale = True
        if self.isVisible():
            self.refresh()

    def _forget(self) -> None:
        self._draft = {}
        self._kept.forget()
        self._subject = CardSubject()
        self._at_once()

    def _picked(self, at: int) -> None:
        part, remark = self.picker.picked(at)
        self._document.select(part)
        self._chosen.choose(remark)
        self._selected()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.own_parts.follow()  # a catalogue may have been edited meanwhile
        if self._stale:
            self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_picture()
        self._lay_out()

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.PaletteChange:
            self._later()
        super().changeEvent(event)

    def refresh(self) -> None:
        """Take the figures from the document; what is typed and not taken yet stays."""
        self._rest.stop()
        self._stale = False
        layout = self._document.layout
        refusal = self._follow_draft(layout)
        if not self._subject.is_in(layout):
            names = tuple(name for name in self._subject.names if has_part(layout, name))
            self._subject = CardSubject(names)
        self._show(refusal or Refused({}, ()))

    def _follow_draft(self, layout: Layout) -> Refused | None:
        """Keep what is typed and refused while the figures it would replace stay; else say that it goes."""
        subject, draft, system = self._subject, self._draft, self._document.system
        if not draft:
            return None
        if self._before is not None and subject.is_alike(self._before, layout, draft, system):
            refusal = subject.refusal(layout, draft, system)
            if refusal is not None:
                self._before = layout
                return refusal
        self._drop_draft()
        return None

    def _drop_draft(self) -> None:
        """Give up what is typed and refused, and say what it was."""
        if self._draft and self._before is not None:
            text = self._subject.draft_text(self._before, self._draft, self._document.system)
            self._document.refused.emit(f"Not taken over from the part card, and given up: {text}.")
        self._draft = {}

    def _show(self, refused: Refused) -> None:
        layout, system = self._document.layout, self._document.system
        own = self.own_parts.own.catalogue
        lines = self._subject.lines(layout, self._draft, system)
        lines = with_fluids(lines, tuple(part.name for part in own.of_kind("fluids")))
        self.picker.show_subject(layout, self._subject)
        self.size_steps.set_parts(self._subject.names)
        self.own_parts.set_parts(self._subject.names, remark=self._subject.remark is not None)
        self.heading.setText(self._subject.heading(layout, system, self._document.alternative))
        fresh = [field.line for field in self.fields.values()] != list(lines)
        if fresh:
            self._make_fields(lines)
        values = self._subject.values(layout, self._draft, system, lines)
        table = own_parts.table_of_own(layout, self.name, own)
        tip = BEGUN_TIP if table is None else OWN_BEGUN_TIP
        assumed = dict.fromkeys(begun_keys(layout, values, table), tip)
        assumed |= dict.fromkeys(assumed_keys(values), ASSUMED_TIP)
        known = card_words.known_figures(layout, self.name, system)
        for key, field in self.fields.items():
            field.set_assumed(assumed.get(key, ""))
            if fresh or not field.busy:
                field.show_value(values[key])
            field.show_known(known.get(key, ""))
            field.set_system(system)
            field.show_trouble(refused.by_line.get(key, ""))
        self._show_troubles(refused)
        self._show_picture()
        self._grid.share_width()
        self._grid.place_troubles()

    def _bring_trouble(self) -> None:
        """Scroll why the figure that was typed last is refused into sight on a low card."""
        if not self._held.restore() and self._refused in self.fields:
            self._room.ensureWidgetVisible(self.fields[self._refused].trouble)

    def _show_picture(self) -> None:
        """A picture beside the fields, where one says more and there is room for both."""
        document, subject = self._document, self._subject
        picture: Picture | None = None
        if self.width() >= COLUMN + 2 * self.canvas.minimumWidth() and not subject.is_several:
            if subject.is_whole:
                picture = viscosity_picture(document.layout, document.outcome, document.pump, document.system)
            elif subject.name == document.pump:
                picture = limit_picture(document.ledger, document.system)
        hidden = self.canvas.isHidden()
        self.canvas.show_picture(picture, document.system)
        if self.canvas.isHidden() is not hidden:
            self._lay_out()

    def _show_troubles(self, refused: Refused) -> None:
        sentences = [f"{capitalised(text)}." for text in refused.rest]
        sentences += ["The drawing is unchanged until this is right."] if self._draft else []
        theme = theme_of(self.palette())
        color = theme.stop
        if self._replaced and self._replaced_in is not self._document.layout:
            self._show_replaced("")  # undone, or gone on from
        if not sentences and self._replaced:
            sentences, color = [self._replaced], theme.caution
        if not sentences and not self._subject.is_several and self._subject.remark is None:
            own = self.own_parts.own.catalogue
            other = own_parts.other_figures(self._document.layout, self.name, own)
            sentences = [f"{other}: see Own parts."] if other else []
            sentences += card_words.without_room(self._document.findings, self.name)
            color = theme.caution
        palette = self.trouble.palette()
        palette.setColor(self.trouble.foregroundRole(), color)
        self.trouble.setPalette(palette)
        self.trouble.setText(" ".join(sentences))
        self.give_up.setVisible(bool(self._draft))
        if not self._draft:
            self._held.forget()

    # The fields

    def _make_fields(self, lines: tuple[CardLine, ...]) -> None:
        focused = next((key for key, field in self.fields.items() if field.edit.hasFocus()), "")
        for field in self.fields.values():
            field.blockSignals(True)  # one that has the focus would send what it holds as it goes
        for widget in self._grid.widgets():
            widget.hide()  # or the layout, which shows late what it was given, would show it as a window
            widget.setParent(None)
            widget.deleteLater()
        self.fields = {line.key: CardField(line, self._sheet) for line in lines}
        for field in self.fields.values():
            field.typed.connect(self._typed)
            field.given_up.connect(self.discard)
        self._grid.set_fields(tuple(self.fields.values()))
        self._lay_out()
        if focused in self.fields:
            self.fields[focused].edit.setFocus()

    @property
    def _columns(self) -> int:
        """How many columns of fields there is room for; beside a picture they may be narrower."""
        if self.canvas.isHidden():
            return max(min(self.width() // COLUMN, 5), 1)
        width = self.width() - self.canvas.minimumWidth()
        columns, most = (max(min(width // each, 5), 1) for each in (NARROW, NARROWEST))
        field = next(iter(self.fields.values()))
        row = field.sizeHint().height() + self._grid.verticalSpacing()
        fits = -(-len(self.fields) // columns) * row + PAD <= self._room.height()
        return columns if fits else most

    def _lay_out(self) -> None:
        if self.fields:
            self._grid.lay_out(self._columns)

    # What is typed

    def _typed(self, key: str, value: Typed) -> None:
        self._catch_up()
        if key not in self.fields:
            return  # the straight or the corner that it was of is gone
        layout, system = self._document.layout, self._document.system
        if key == FLUID_NAME and (own := self.own_parts.fluid_of(str(value))) is not None:
            self._draft = {}
            self.own_parts.put_in(own)
            self.refresh()
            return
        self._before = layout
        self._draft[key] = value
        try:
            edited = self._subject.changed(layout, self._draft, system)
            if self._subject.moves_pump(layout, self._draft):
                edited = moved_again(self._document, self.name, edited)
            if trouble := self._document.trouble_with(edited):
                raise Refused({}, (trouble,))
        except Refused as refused:
            self._held.remember(self.fields.values())
            self._show(refused)
            self._grid.activate()
            self._refused = key
            self._laid_out.start()  # the sheet is as high as what it says only once events have passed
            return
        lines = [self.fields[each].line for each in self._draft if each in self.fields]
        undo, replaced = self._subject.texts_of_change(layout, edited, self._draft, lines, system)
        self._draft = {}
        self._document.apply(undo, edited)
        self._show_replaced(replaced)
        self.refresh()

    def _show_replaced(self, text: str) -> None:
        """Say which figures went with what was typed, on the card and in the status bar of the window."""
        if text or self._replaced:
            undo = QKeySequence(QKeySequence.StandardKey.Undo).toString(NATIVE)
            self._replaced = f"{text}; {undo} brings back what was there." if text else ""
            self._replaced_in = self._document.layout
            QApplication.sendEvent(self.window(), QStatusTipEvent(self._replaced))

    def _catch_up(self) -> None:
        """Have the fields of the drawing as it is, where they were to follow it in a moment."""
        if self._stale:
            self.refresh()

    def discard(self) -> None:
        """Give up what is typed, and show the drawing's own figures again."""
        self._draft = {}
        self._catch_up()
        layout, system = self._document.layout, self._document.system
        values = self._subject.values(layout, {}, system, tuple(field.line for field in self.fields.values()))
        for key, field in self.fields.items():
            field.show_value(values[key])
        self._show(Refused({}, ()))
