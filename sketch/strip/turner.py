"""One knob of the strip: name, slider, field, and a button back to the saved value."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSignalBlocker, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QPalette, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QSizePolicy, QStackedWidget, QToolButton, QWidget

from sketch.editing.cases import CaseFigure
from sketch.look.appearance import theme_of
from sketch.look.asking import ask_for_choice
from sketch.look.refused import mark
from sketch.look.unit_hint import UnitHint
from sketch.look.words import tooltip, with_signs
from sketch.model.document import Document
from sketch.strip.knobs import Knob, KnobSubject
from sketch.strip.refusal import Refusal
from sketch.strip.safe import Range
from sketch.strip.scale import Elided, Field, Name, Scale, back_icon
from sketch.strip.turning import Turning
from solver.layout.parts import Layout
from solver.quantities import units

REST_MS = 700  # without a change before the next one is a gesture of its own
FIELD_WIDTH = 69
FOR_THE_DRAWING = "The drawing, in every case that has none of its own"
WITHOUT_OWN = ", which holds in every case that has none of its own"
OF_CASE, OF_ALTERNATIVE = " alone", ", in this alternative only"
BACK = "Double-click: back to {}"
SAVED, FIRST = "the saved value", "the value it began with"
SPACING = 4


class Turner(QWidget):
    """One knob: name, slider, field, and a button back to the saved value."""

    def __init__(self, document: Document, knob: Knob, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.turning = Turning(document, knob)
        self._refused_on: Layout | None = None  # the drawing for which what is typed was refused
        self._shown: tuple[object, ...] | None = None  # the figures that name, slider and field show now
        self.name, self.scale, self.field = Name(knob.name), Scale(), Field()
        self.message, self.back = Elided(), QToolButton()
        self.trouble = Refusal(self)
        self._safe_text = ""  # of the slider's tip
        self._said_followed = False  # whether the last turn had more to say than its figure
        self._unit = UnitHint(self.field)
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._end)
        self._arrange()
        self._name_all()
        self.scale.sliderReleased.connect(self._end)
        self.scale.valueChanged.connect(self._turned)
        self.field.editingFinished.connect(self._typed)
        self.field.textEdited.connect(lambda: self._show_message("", trouble=False))
        self.field.given_up.connect(self._give_up)
        self.trouble.given_up.connect(self._give_up)
        self.back.clicked.connect(self.restore)
        self.name.restored.connect(self.restore)

    def _arrange(self) -> None:
        self._middle = QStackedWidget()
        self._middle.addWidget(self.scale)
        self._middle.addWidget(self.message)
        self._middle.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.field.setFixedWidth(FIELD_WIDTH)
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.back.setAutoRaise(True)
        self.back.setIconSize(QSize(14, 14))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(SPACING)
        row.addWidget(self.name)
        row.addWidget(self._middle, 1)
        row.addWidget(self.field)
        row.addWidget(self.back)

    @property
    def least_without_name(self) -> int:
        """The width the knob takes beside its name."""
        parts = (self.scale.minimumWidth(), FIELD_WIDTH, self.back.sizeHint().width())
        return sum(parts) + len(parts) * SPACING

    def _name_all(self) -> None:
        name = self.turning.knob.name
        self.scale.setAccessibleName(name)
        self.field.setAccessibleName(f"{name}, typed")
        self.name.setToolTip(tooltip(BACK.format(self._before)))
        self._name_back()
        self._dress()

    def _name_back(self) -> None:
        """Say where the button goes back to: of a drawing that was never saved no value is."""
        self.back.setAccessibleName(f"{self.turning.knob.name}: back to {self._before}")
        self.back.setToolTip(tooltip(f"Back to {self._before}"))

    @property
    def _before(self) -> str:
        return FIRST if self._document.path is None else SAVED

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.StyleChange):
            self._dress()
        super().changeEvent(event)

    def _dress(self) -> None:
        if hasattr(self, "back"):
            self.back.setIcon(back_icon(self.palette(), self.devicePixelRatioF()))

    # Following the document

    def show_message_again(self) -> None:
        """Show everything again, in the colours of now, when the document is next followed."""
        self._shown = None

    def follow(self, which: KnobSubject) -> None:
        """Show the figure as it stands in the drawing, where it is another than the one shown. Most knobs
        stay as they are while one thing on the sheet is moved."""
        if self._refused_on is not None and self._refused_on is not self._document.layout:
            self._forget_typing()
        figures = self.turning.figures(which)
        _, reason, *_ = figures  # which stays shown for as long as it holds; what was refused does not
        refused = bool(self.message.text()) and not reason
        if self._before not in self.back.toolTip():
            self._name_whose()  # saved for the first time
        if figures != self._shown or self.turning.active or self.field.isModified() or refused:
            self._shown = figures
            self._show(which)

    def _show(self, which: KnobSubject) -> None:
        turning = self.turning
        turning.follow(which)
        self._unit.set_unit(units.unit(turning.knob.kind, self._document.system))
        if not turning.active:
            self._rest.stop()
        self._name_whose()
        reason = turning.reason
        for widget in (self.name, self.scale, self.field):
            widget.setEnabled(not reason)
        self.field.setVisible(not reason)  # the reason takes the room of both
        self.back.setVisible(not reason)
        if reason:
            self.field.setText("")
            self.back.setEnabled(False)
            self._show_message(reason, trouble=False)
            return
        if not self.field.isModified():
            self.field.setText(turning.text)
            tip = tooltip(f"{with_signs(turning.value.text)} {self._whose}")
            if tip != self.field.toolTip():
                self.field.setToolTip(tip)
            self._show_message("", trouble=False)
        self._show_scale()
        self.back.setEnabled(turning.differs)

    @property
    def _whose(self) -> str:
        """What the figure is of, as the end of a sentence."""
        if self.turning.is_of_case:
            return f'in the case "{self._document.case}"{OF_ALTERNATIVE if self.turning.is_own else OF_CASE}'
        return f"in the drawing{WITHOUT_OWN if self.turning.may_be_of_case else ''}"

    def _name_whose(self) -> None:
        """Write the name slanted where the figure is that of the case in view, and say so."""
        font, slanted = self.name.font(), self.turning.is_of_case
        back = BACK.format(self._before)
        tip = tooltip(f'Of the case "{self._document.case}". {back}' if slanted else back)
        self._show_tip()
        if (font.italic(), self.name.toolTip()) != (slanted, tip):
            if font.italic() is not slanted:
                font.setItalic(slanted)
                self.name.setFont(font)
            self.name.setToolTip(tip)
            self._name_back()
            of_case = f', of the case "{self._document.case}"' if slanted else ""
            self.scale.setAccessibleName(self.turning.knob.name + of_case)

    def show_safe(self, safe: Range | None, *, gaps: bool = False) -> None:
        """Mark the range that is safe in every case; None where it is not known.

        gaps: whether the line cannot be drawn at some places on the way.
        """
        turning, system = self.turning, self._document.system
        if safe is None:
            if self.scale.safe is None:
                return  # as in most frames of a drag
            self._safe_text = ""
            self.scale.set_safe(None)
        else:
            low, high = (units.typeset(end, turning.knob.kind, system) for end in safe)
            self.scale.set_safe((turning.position_of(safe[0]), turning.position_of(safe[1])))
            where = ", wherever the line can be drawn" if gaps else ""
            self._safe_text = f"Every case is within from {low} to {high}{where}"
        self._show_tip()

    def _show_tip(self) -> None:
        """Have the slider's tip say whose figure it turns where a case is in view, and what is safe."""
        says_whose = self.turning.is_of_case or self.turning.may_be_of_case
        turned = f"Turns the figure {self._whose}" if says_whose else ""
        tip = tooltip("\n".join(filter(None, (turned, self._safe_text))))
        if tip != self.scale.toolTip():  # seldom at a move of a drag
            self.scale.setToolTip(tip)

    def _show_scale(self) -> None:
        with QSignalBlocker(self.scale):
            self.scale.setRange(0, self.turning.last_position)
            self.scale.set_tick(self.turning.saved_position)
            if not self.scale.isSliderDown():
                self.scale.setValue(self.turning.position)

    # Changing the drawing

    def _turned(self, position: int) -> None:
        if not self.scale.isSliderDown():
            self._rest.start()
        self.field.setModified(False)
        # By a key past the place of a figure that nobody has saved, a step is a step like any other.
        catches = self.scale.isSliderDown() or self._document.path is not None
        self._answer(self.turning.turn(position, to_saved=catches and self.scale.at_tick(position)))

    def _end(self) -> None:
        self.turning.release()
        self._show(self.turning.which)

    def _typed(self) -> None:
        if self.field.isModified():
            figure, text = self.turning.case_figure, self.field.text()
            if figure is None:
                self._entered(self.turning.enter(text))
            else:
                self._ask_for_which(figure, text)

    def _ask_for_which(self, figure: CaseFigure, text: str) -> None:
        """Set what was typed, for the case in view or for the drawing, as is answered."""
        of_case, drawn = f'The case "{self._document.case}"', FOR_THE_DRAWING
        self.field.setModified(False)  # the question takes the focus, which would have it asked again
        question = f"{self.turning.knob.name} {text.strip()} is for:"
        chosen = ask_for_choice(self.window(), "For which case", question, (of_case, drawn), of_case)
        if chosen is None:
            self._give_up()
            return
        self.field.setText(text)
        self.field.setModified(True)
        turning = self.turning
        self._entered(turning.enter(text) if chosen == drawn else turning.enter_in_case(figure, text))

    def _entered(self, done: bool) -> None:
        if self._answer(done):
            self.field.setModified(False)
            self._show(self.turning.which)

    def _forget_typing(self) -> None:
        """Drop what was refused, and why: the drawing is another by now."""
        self.field.setModified(False)
        self._shown = None
        self._show_message("", trouble=False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Escape and self._refused_on is not None:
            self._give_up()
        else:
            super().keyPressEvent(event)

    def _give_up(self) -> None:
        self._shown = None
        self.field.setModified(False)
        self._show(self.turning.which)

    def restore(self) -> None:
        """Go back to the saved value."""
        self.field.setModified(False)
        done = self.turning.restore()
        self._show(self.turning.which)
        if not done:
            self._answer(done)

    def _answer(self, done: bool) -> bool:
        """Say what was refused, or nothing."""
        if done:
            self._show_message("", trouble=False)
            self._show_followed()
        else:
            self._refuse(self.turning.trouble)
        return done

    def _show_followed(self) -> None:
        """Say in the status bar of the window what a turn did to the lines besides stretching them."""
        text = self.turning.followed
        if text or self._said_followed:
            QApplication.sendEvent(self.window(), QStatusTipEvent(text))
        self._said_followed = bool(text)

    # Trouble

    def _refuse(self, text: str) -> None:
        typed = self.field.isModified()
        self._show_message("" if typed else text, trouble=True)
        self._refused_on = self._document.layout
        mark(self.field, typed)
        self.field.setAccessibleDescription(text)
        if typed:
            self.trouble.show_at(self.field, f"{self.turning.knob.name}: {text}", self.parentWidget())

    def _show_message(self, text: str, *, trouble: bool) -> None:
        if text or self.message.text() or self._refused_on is not None:
            theme = theme_of(self.palette())
            palette = QPalette(self.message.palette())
            palette.setColor(QPalette.ColorRole.WindowText, theme.stop if trouble else theme.quiet)
            self.message.setPalette(palette)
            self.message.set_whole(text)
            if not text:
                self._refused_on = None
                mark(self.field, refused=False)
                self.trouble.hide()
            self.field.setAccessibleDescription(text)
        shown = bool(text) and not self.scale.isSliderDown()
        self._middle.setCurrentWidget(self.message if shown else self.scale)
        self.name.setVisible(not (shown and trouble))  # beside the field there is room for one of them
