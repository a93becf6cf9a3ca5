"""The what-if strip: six figures of the drawing as sliders, and the margin that answers them."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPoint, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetrics, QPalette
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QStackedWidget,
    QToolButton,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from sketch.appearance import theme_of
from sketch.document import Document
from sketch.edits import EditError, Value
from sketch.knobs import KNOBS, Knob, Subject, subject
from sketch.scale import Elided, Field, Name, Scale, back_icon
from solver import units
from solver.geometry import GeometryError
from solver.layout import Layout
from solver.units import Kind, Quantity, UnitError

COLUMNS = 3
REST_MS = 700  # without a change before the next one is a gesture of its own
FIELD_WIDTH = 76


class Turner(QWidget):
    """One knob: name, slider, field, and a button back to the saved value."""

    def __init__(self, document: Document, knob: Knob, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._knob = document, knob
        self._which = Subject("", "", "minimum", "")
        self._first = 0  # the slider's 0, in steps of the unit shown
        self._gesture = 0
        self._base: Layout | None = None  # the drawing as it was when the gesture began
        self._last: Layout | None = None  # what the gesture last made of it
        self.name, self.scale, self.field = Name(knob.name), Scale(), Field()
        self.message, self.back = Elided(), QToolButton()
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._end)
        self._arrange()
        self._name_all()
        self.scale.sliderReleased.connect(self._end)
        self.scale.valueChanged.connect(self._turned)
        self.field.editingFinished.connect(self._typed)
        self.field.given_up.connect(self._give_up)
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
        row.setSpacing(4)
        row.addWidget(self.name)
        row.addWidget(self._middle, 1)
        row.addWidget(self.field)
        row.addWidget(self.back)

    def _name_all(self) -> None:
        name = self._knob.name
        self.scale.setAccessibleName(name)
        self.field.setAccessibleName(f"{name}, typed")
        self.back.setAccessibleName(f"{name}: back to the saved value")
        self.back.setToolTip("Back to the saved value")
        self.name.setToolTip("Double-click: back to the saved value")
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.StyleChange):
            self._dress()
        super().changeEvent(event)

    def _dress(self) -> None:
        if hasattr(self, "back"):
            self.back.setIcon(back_icon(self.palette(), self.devicePixelRatioF()))

    # Following the document

    def show_subject(self, which: Subject) -> None:
        """Show the figure as it stands in the drawing."""
        self._which = which
        layout = self._document.layout
        if self._gesture and layout is not self._last:
            self._end_gesture()
        reason = self._knob.reason(layout, which)
        for widget in (self.name, self.scale, self.field):
            widget.setEnabled(not reason)
        self.field.setVisible(not reason)  # the reason takes the room of both
        self.back.setVisible(not reason)
        if reason:
            self.field.setText("")
            self.back.setEnabled(False)
            self._say(reason, trouble=False)
            return
        now = self._knob.value(layout, which)
        if not self.field.isModified():
            self._show_text(now)
        self._show_scale(now)

    def _show_text(self, now: Quantity) -> None:
        self.field.setText(units.show(now.si, self._knob.kind, self._document.system))
        self.field.setToolTip(f"{now.text} in the drawing")
        self._say("", trouble=False)

    def _show_scale(self, now: Quantity) -> None:
        saved = self._saved()
        if not self._gesture:
            low, high = self._span(saved if saved is not None else now, now)
            self._first = low
            self.scale.blockSignals(True)
            self.scale.setRange(0, max(high - low, 1))
            self.scale.blockSignals(False)
        self.scale.set_tick(None if saved is None else self._steps(saved.si) - self._first)
        if not self.scale.isSliderDown():
            self.scale.blockSignals(True)
            self.scale.setValue(self._steps(now.si) - self._first)
            self.scale.blockSignals(False)
        self.back.setEnabled(saved is not None and abs(saved.si - now.si) > 1e-9)

    def _span(self, saved: Quantity, now: Quantity) -> tuple[int, int]:
        layout = self._document.saved_layout
        if self._knob.reason(layout, self._which):
            layout = self._document.layout
        low, high = (self._in_steps(end) for end in self._knob.span(layout, self._which))
        ends = [self._in_steps(saved.si), self._in_steps(now.si)]
        return math.floor(min(low, *ends) + 1e-6), math.ceil(max(high, *ends) - 1e-6)

    def _saved(self) -> Quantity | None:
        layout = self._document.saved_layout
        return None if self._knob.reason(layout, self._which) else self._knob.value(layout, self._which)

    def _in_steps(self, si: float) -> float:
        system = self._document.system
        return units.to_display(si, self._knob.kind, system) / self._knob.step[system]

    def _steps(self, si: float) -> int:
        return round(self._in_steps(si))

    # Changing the drawing

    def _turned(self, position: int) -> None:
        if not self._gesture:
            self._gesture, self._base = self._document.gesture(), self._document.layout
        saved, system = self._saved(), self._document.system
        value: Value
        if saved is not None and self.scale.at_tick(position):
            value = saved
        else:
            shown = (self._first + position) * self._knob.step[system]
            value = units.from_display(shown, self._knob.kind, system)
        if not self.scale.isSliderDown():
            self._rest.start()
        self.field.setModified(False)
        assert self._base is not None
        self._apply(self._base, value)

    def _end(self) -> None:
        self._gesture, self._base = 0, None
        self.show_subject(self._which)

    def _typed(self) -> None:
        if not self.field.isModified():
            return
        try:
            value = self._read(self.field.text())
        except UnitError as error:
            self._refuse(f"{error.found}. Allowed: {error.allowed}")
            return
        self._end_gesture()
        if self._apply(self._document.layout, value):
            self.field.setModified(False)
            self.show_subject(self._which)

    def _read(self, text: str) -> Quantity:
        """What was typed; a bare number is in the unit shown. Raises UnitError."""
        kind, system = self._knob.kind, self._document.system
        try:
            float(text)
        except ValueError:
            return units.quantity(text, kind)
        return units.quantity(f"{text.strip()} {units.unit(kind, system)}", kind)

    def _end_gesture(self) -> None:
        self._rest.stop()
        self._gesture, self._base = 0, None

    def _apply(self, base: Layout, value: Value) -> bool:
        try:
            layout = self._knob.set(base, self._which, value)
        except (EditError, GeometryError) as error:
            self._refuse(str(error))
            return False
        self._last = layout
        if not self._document.apply(self._knob.label(self._which), layout, self._gesture):
            self._last = self._document.layout
            self._say("", trouble=False)
        return True

    def _give_up(self) -> None:
        self.field.setModified(False)
        self.show_subject(self._which)

    def restore(self) -> None:
        """Go back to the saved value."""
        saved = self._saved()
        self._end_gesture()
        self.field.setModified(False)
        if saved is not None and not self._knob.reason(self._document.layout, self._which):
            self._apply(self._document.layout, saved)
        self.show_subject(self._which)

    # Trouble

    def _refuse(self, text: str) -> None:
        self._say(text, trouble=True)
        if self.field.isModified():
            QToolTip.showText(self.field.mapToGlobal(QPoint(0, self.field.height())), text, self.field)

    def _say(self, text: str, *, trouble: bool) -> None:
        theme = theme_of(self.palette())
        palette = QPalette(self.message.palette())
        palette.setColor(QPalette.ColorRole.WindowText, theme.stop if trouble else theme.quiet)
        self.message.setPalette(palette)
        self.message.set_whole(text)
        self.field.setAccessibleDescription(text)
        shown = bool(text) and not self.scale.isSliderDown()
        self._middle.setCurrentWidget(self.message if shown else self.scale)
        self.name.setVisible(not (shown and trouble))  # beside the field there is room for one of them


class WhatIfStrip(QWidget):
    """The six knobs in two rows, and the margin beside them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName("What-if")
        self.turners = {knob.name: Turner(document, knob) for knob in KNOBS}
        self.margin, self.change = QLabel(), QLabel()
        grid = QGridLayout(self)
        grid.setContentsMargins(8, 4, 8, 4)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(4)
        for place, turner in enumerate(self.turners.values()):
            grid.addWidget(turner, place // COLUMNS, place % COLUMNS)
        grid.addLayout(self._margin_column(), 0, COLUMNS, 2, 1)
        for column in range(COLUMNS):
            grid.setColumnStretch(column, 1)
        self._align_names()
        document.changed.connect(self._reload)
        document.opened.connect(self._forget_typing)
        self._reload()

    def _margin_column(self) -> QVBoxLayout:
        font = self.margin.font()
        font.setBold(True)
        self.margin.setFont(font)
        # Of one width whatever it says: a slider must not shift under the hand that holds it.
        for label, longest in ((self.margin, "Over by 00.0 inHg"), (self.change, "better by 00.0 inHg")):
            label.setFixedWidth(QFontMetrics(label.font()).horizontalAdvance(longest) + 4)
        self.change.setToolTip("Against the drawing as it was last saved")
        column = QVBoxLayout()
        column.setSpacing(0)
        column.addWidget(self.margin)
        column.addWidget(self.change)
        return column

    def _align_names(self) -> None:
        turners = list(self.turners.values())
        for column in range(COLUMNS):
            names = [turner.name for turner in turners[column::COLUMNS]]
            wide = max(name.sizeHint().width() for name in names)
            for name in names:
                name.setFixedWidth(wide)

    def _forget_typing(self) -> None:
        for turner in self.turners.values():
            turner.field.setModified(False)

    def _reload(self) -> None:
        document = self._document
        which = subject(document.layout, document.ledger, document.pump, document.level)
        for turner in self.turners.values():
            turner.show_subject(which)
        self.margin.setText(self._margin_text())
        self.change.setText(self._change_text())

    def _margin_text(self) -> str:
        ledger = self._document.ledger
        if ledger is None:
            return "Not calculated"
        if ledger.budget <= 0:
            return "No budget here"
        figure = units.show(abs(ledger.margin), Kind.VACUUM, self._document.system)
        return f"Margin {figure}" if ledger.margin >= 0 else f"Over by {figure}"

    def _change_text(self) -> str:
        now, saved = self._document.ledger, self._document.saved_ledger
        if now is None or saved is None:
            return ""
        figure = units.show(abs(now.margin - saved.margin), Kind.VACUUM, self._document.system)
        if not any(digit in figure for digit in "123456789"):
            return "as saved"
        return f"{'better' if now.margin > saved.margin else 'worse'} by {figure}"
