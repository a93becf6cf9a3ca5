"""The what-if strip: six figures of the drawing as sliders, and the margin that answers them."""

from __future__ import annotations

import math
from dataclasses import replace

from PySide6.QtCore import QEvent, QPoint, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetrics, QPalette
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QStackedWidget,
    QToolButton,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from sketch.editing.edits import EditError, Value, typed
from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.words import tip
from sketch.model.document import Document
from sketch.strip import readings
from sketch.strip.knobs import KNOBS, Knob, Subject, subject
from sketch.strip.scale import Elided, Field, Name, Scale, back_icon
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.units import Quantity
from solver.quantities.wording import degrees, told

COLUMNS = (3, 2)  # of knobs side by side, the most that fit
REST_MS = 700  # without a change before the next one is a gesture of its own
FIELD_WIDTH = 72
PAD = 8
GAP, SPACING = 12, 4


class Turner(QWidget):
    """One knob: name, slider, field, and a button back to the saved value."""

    def __init__(self, document: Document, knob: Knob, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._knob = document, knob
        self._which = Subject("", "", Level.MINIMUM, "")
        self._first = 0  # the slider's 0, in steps of the unit shown
        self._gesture = 0
        self._base: Layout | None = None  # the drawing as it was when the gesture began
        self._last: Layout | None = None  # what the gesture last made of it
        self._shown: tuple[object, ...] | None = None  # the figures that name, slider and field show now
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

    def say_again(self) -> None:
        """Show everything anew, in the colours of now, when the document is next followed."""
        self._shown = None

    def follow(self, which: Subject) -> None:
        """Show the figure as it stands in the drawing, where it is another than the one shown. Most knobs
        stay as they are while one thing on the sheet is moved."""
        figures = self._figures(which)
        if figures != self._shown or self._gesture or self.field.isModified() or self.message.text():
            self._shown = figures
            self.show_subject(which)

    def _figures(self, which: Subject) -> tuple[object, ...]:
        layout = self._document.layout
        reason = self._knob.reason(layout, which)
        now = None if reason else self._knob.value(layout, which)
        return which, reason, now, self._saved(which), self._document.saved_layout, self._document.system

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
        self.field.setToolTip(tip(f"{now.text} in the drawing"))
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

    def _saved(self, which: Subject | None = None) -> Quantity | None:
        layout, which = self._document.saved_layout, which or self._which
        return None if self._knob.reason(layout, which) else self._knob.value(layout, which)

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
            value = typed(self.field.text(), self._knob.kind, self._document.system)
        except EditError as error:
            self._refuse(str(error))
            return
        self._end_gesture()
        if self._apply(self._document.layout, value):
            self.field.setModified(False)
            self.show_subject(self._which)

    def _end_gesture(self) -> None:
        self._rest.stop()
        self._gesture, self._base = 0, None

    def _apply(self, base: Layout, value: Value) -> bool:
        try:
            layout = self._knob.set(base, self._which, value)
        except (EditError, GeometryError) as error:
            self._refuse(told(error, self._document.system))
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
            QToolTip.showText(self.field.mapToGlobal(QPoint(0, self.field.height())), tip(text), self.field)

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
    """The six knobs in rows of three, or of fewer where there is less room, and the margin beside them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName("What-if")
        self.turners = {knob.name: Turner(document, knob) for knob in KNOBS}
        self.margin, self.cold, self.change = Label(), Label(), Label()
        self._columns = 0
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(GAP)
        self._grid.setVerticalSpacing(4)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(PAD, 4, PAD, 4)
        self._row.setSpacing(GAP)
        self._row.addLayout(self._grid, 1)
        self._row.addLayout(self._margin_column())
        self.flow(COLUMNS[0])
        document.changed.connect(self._reload)
        document.opened.connect(self._forget_typing)
        self._reload()

    def _margin_column(self) -> QVBoxLayout:
        font = self.margin.font()
        font.setBold(True)
        self.margin.setFont(font)
        # Of one width whatever it says: a slider must not shift under the hand that holds it.
        for label, longest in (
            (self.margin, "Over by <0.1 inHg, est."),
            (self.cold, "−00 °C: over by <0.1 inHg"),
            (self.change, "00.0 better than saved"),
        ):
            label.setFixedWidth(QFontMetrics(label.font()).horizontalAdvance(longest) + 4)
        self.change.setToolTip("Against the drawing as it was last saved")
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addStretch(1)
        column.addWidget(self.margin)
        column.addWidget(self.change)
        column.addWidget(self.cold)
        column.addStretch(1)
        return column

    def flow(self, columns: int) -> None:
        """Put so many knobs side by side."""
        if columns == self._columns:
            return
        turners = list(self.turners.values())
        for turner in turners:
            self._grid.removeWidget(turner)
        for column in range(COLUMNS[0]):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        for place, turner in enumerate(turners):
            self._grid.addWidget(turner, place // columns, place % columns)
            turner.name.setFixedWidth(self._name_width(place % columns, columns))
        self._columns = columns
        self._row.invalidate()
        self.updateGeometry()

    def _name_width(self, column: int, columns: int) -> int:
        """Room for the longest name of a column, so that its sliders stand in line."""
        names = [turner.name for turner in list(self.turners.values())[column::columns]]
        return max(name.sizeHint().width() for name in names)

    def most_columns(self, width: int) -> int:
        """How many knobs stand side by side whole in so much room; the fewest where none do."""
        return next((columns for columns in COLUMNS if self._needed(columns) <= width), COLUMNS[-1])

    def _needed(self, columns: int) -> int:
        """The width the strip takes with so many knobs side by side."""
        rest = next(iter(self.turners.values())).least_without_name
        knobs = sum(self._name_width(column, columns) + rest for column in range(columns))
        beside = 2 * PAD + GAP + max(label.width() for label in (self.margin, self.cold, self.change))
        return knobs + (columns - 1) * GAP + beside

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_row"):
            for turner in self.turners.values():
                turner.say_again()
            self._reload()

    def _forget_typing(self) -> None:
        for turner in self.turners.values():
            turner.field.setModified(False)

    def _reload(self) -> None:
        document = self._document
        which = subject(document.layout, document.ledger, document.pump, document.level)
        if document.cold and document.solution is not None:
            start = degrees(document.solution.fluid.temperature, document.system)
            which = replace(which, start=start)
        for turner in self.turners.values():
            turner.follow(which)
        self.margin.setText(readings.margin(document.ledger, document.system))
        self._show_cold()
        self.change.setText(readings.change(document))

    def _show_cold(self) -> None:
        """The margin at the coldest start, where the drawing gives one."""
        solution, system = self._document.solution, self._document.system
        cold = solution.cold(self._document.pump) if solution is not None else None
        start = solution.cold_start if solution is not None else None
        if start is None:
            self.cold.setText("")
            self.cold.setToolTip("")
            return
        self.cold.setText(f"{degrees(start.temperature, system)}: {readings.at_start(cold, system)}")
        self.cold.setToolTip(tip(f"Margin at the cold start. {start.refused(system)}".strip()))
        theme, palette = theme_of(self.palette()), QPalette(self.cold.palette())
        ill = cold is None or not cold.sound
        palette.setColor(QPalette.ColorRole.WindowText, theme.stop if ill else theme.ink)
        if palette != self.cold.palette():
            self.cold.setPalette(palette)
