"""One reading of a gauge, field by field; what is refused is marked and said why, the drawing as it was.

Why is said on a strip over the lower end of the fields, or the upper end where it would hide the field: no
field moves under the hand that types.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QLineEdit, QScrollArea, QWidget

from sketch.editing import readings
from sketch.editing.edits import EditError
from sketch.editing.readings import FIELDS, ReadingField
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.look.refused import is_refused, mark
from sketch.look.words import tooltip, typographic, with_signs
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.quantities.units import System

PAD = 8
NAME, EDITOR = 0, 1
MOST_COLUMNS, WIDE = 2, 460
"""Columns of fields, and from which width on there are so many [logical pixels]."""

Editor = QLineEdit | QComboBox
Change = Callable[[str, LoggedReading], None]
"""Keeps a reading with something typed into it, under the name of what was typed."""


@dataclass(frozen=True, slots=True)
class _Line:
    field: ReadingField
    name: Label
    editor: Editor


class ReadingCard(QScrollArea):
    """Holds every field; those that one chooses from are boxes."""

    def __init__(self, change: Change, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._change = change
        self._layout: Layout | None = None
        self._reading: LoggedReading | None = None
        self._system, self._tank = System.SI, ""
        self._number, self._changing = -1, False
        self._alternatives: Mapping[str, Layout] = {}
        self._troubles: dict[ReadingField, str] = {}  # why a field was not accepted, the newest last
        self._inner = QWidget()
        self._grid = QGridLayout(self._inner)
        self._grid.setContentsMargins(PAD, PAD, PAD, PAD)
        self._grid.setHorizontalSpacing(PAD)
        self._grid.setVerticalSpacing(PAD // 2)
        self._headings: dict[str, Label] = {}
        self._columns = 0
        self._lines = tuple(map(self._make_line, FIELDS))
        self._lay_out(1)
        self._why = Label("", self)
        self._why.setWordWrap(True)
        self._why.setAutoFillBackground(True)
        self._why.setFrameShape(QFrame.Shape.StyledPanel)
        self._why.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self._why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._why.hide()
        self.verticalScrollBar().valueChanged.connect(self._place_why)
        self.setWidget(self._inner)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Reading")

    def _lay_out(self, columns: int) -> None:
        """A heading for each group, then its fields, in so many columns."""
        if columns == self._columns:
            return
        self._columns = columns
        self._grid.setRowStretch(self._grid.rowCount() - 1, 0)
        row = 0
        for group, lines in groupby(self._lines, key=lambda line: line.field.group):
            self._grid.addWidget(self._heading(group), row, NAME, 1, 2 * columns)
            row += 1
            every = list(lines)
            for at, line in enumerate(every):
                under, across = divmod(at, columns)
                self._grid.addWidget(line.name, row + under, 2 * across + NAME)
                self._grid.addWidget(line.editor, row + under, 2 * across + EDITOR)
            row += -(-len(every) // columns)
        for across in range(MOST_COLUMNS):
            self._grid.setColumnStretch(2 * across + EDITOR, 1 if across < columns else 0)
        self._grid.setRowStretch(row, 1)

    def _heading(self, group: str) -> Label:
        if group not in self._headings:
            self._headings[group] = heading = Label(group)
            bold = heading.font()
            bold.setBold(True)
            heading.setFont(bold)
        return self._headings[group]

    def _make_line(self, field: ReadingField) -> _Line:
        editor: Editor
        if field.options or field.flag or field.path[0] in ("pump", "run", "case"):
            editor = Choice()
            editor.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            editor.activated.connect(partial(self._typed, field))
        else:
            editor = QLineEdit()
            editor.editingFinished.connect(partial(self._typed, field))
            if field.several:
                editor.setPlaceholderText(field.tip)
        editor.setAccessibleName(field.label)
        editor.setToolTip(tooltip(field.tip))
        name = Label(field.label)
        name.setBuddy(editor)
        return _Line(field, name, editor)

    def editor(self, *path: str) -> Editor:
        """The field that stands there in a reading's table."""
        return next(line.editor for line in self._lines if line.field.path == path)

    def troubles(self) -> tuple[str, ...]:
        """Why fields were not accepted, the newest last."""
        return tuple(self._troubles.values())

    def begin(self) -> None:
        """Show the first fields, and take keys in that of the vacuum."""
        self.verticalScrollBar().setValue(0)
        self.editor("vacuum").setFocus()

    def show_reading(
        self,
        layout: Layout,
        reading: LoggedReading | None,
        system: System,
        tank: str,
        number: int = 0,
        alternatives: Mapping[str, Layout] | None = None,
    ) -> None:
        """Fill the fields; None empties and closes them. What was refused in one stays there with why.

        tank: the reservoir that its pump draws from. number: the place of the reading in the file.
        alternatives: of the drawing, by their names.
        """
        self._alternatives = alternatives or {}
        before = self._reading if number == self._number else None
        if before is not None and reading is not None and not self._changing:
            before = before if (before.when, before.pump) == (reading.when, reading.pump) else None
        self._layout, self._reading, self._system, self._tank = layout, reading, system, tank
        self._number = number
        self._inner.setEnabled(reading is not None)
        for line in self._lines:
            self._fill(line, before)

    def _fill(self, line: _Line, before: LoggedReading | None) -> None:
        """Fill a field. before: the reading as it was shown until now; None where that was another."""
        reading, layout = self._reading, self._layout
        text = readings.shown(reading, line.field) if reading is not None else ""
        refused = isinstance(line.editor, QLineEdit) and is_refused(line.editor)
        if refused and before and reading and readings.shown(before, line.field) == text:
            return
        self._accept(line)
        with QSignalBlocker(line.editor):
            if isinstance(line.editor, QLineEdit):
                line.editor.setText(text if line.field.kind is None else with_signs(text))
                line.editor.setModified(False)
                return
            choices = readings.options(layout, line.field) if layout is not None else ()
            line.editor.clear()
            line.editor.addItems([*choices, *([text] if text not in choices else [])])
            line.editor.setCurrentText(text)

    def _typed(self, field: ReadingField, *_: object) -> None:
        line = next(each for each in self._lines if each.field is field)
        if self._reading is None or self._layout is None:
            return
        if isinstance(line.editor, QLineEdit):
            if not line.editor.isModified():
                return
            text = line.editor.text()
        else:
            text = line.editor.currentText()
        try:
            read = readings.typed(
                self._layout, self._reading, field, text, self._system, self._tank, self._alternatives
            )
        except EditError as error:
            self._refuse(line, str(error))
            return
        self._accept(line)
        if read != self._reading:
            self._changing = True
            try:
                self._change(field.label.lower(), read)
            finally:
                self._changing = False

    def _refuse(self, line: _Line, why: str) -> None:
        self._mark(line, refused=True)
        self._troubles.pop(line.field, None)
        self._troubles[line.field] = f"{line.field.label}, not accepted: {why}"
        self._show_why()

    def _accept(self, line: _Line) -> None:
        self._mark(line, refused=False)
        if self._troubles.pop(line.field, None) is not None:
            self._show_why()

    def _mark(self, line: _Line, refused: bool) -> None:
        """Write what a field is called in the colour of a refusal, and note it of what is typed."""
        if isinstance(line.editor, QLineEdit):
            mark(line.editor, refused)
        for role, widget in (
            (QPalette.ColorRole.WindowText, line.name),
            (QPalette.ColorRole.Text, line.editor),
        ):
            colours = QPalette(self.palette())
            if refused:
                colours.setColor(role, theme_of(self.palette()).stop)
            widget.setPalette(colours)

    def _show_why(self) -> None:
        """Say why the field that was refused last was, and keep room to scroll every field clear of it."""
        text = next(reversed(self._troubles.values()), "")
        colours = QPalette(self.palette())
        colours.setColor(QPalette.ColorRole.WindowText, theme_of(self.palette()).stop)
        self._why.setPalette(colours)
        self._why.setText(typographic(text))
        self._why.setVisible(bool(text))
        self._place_why()

    def _place_why(self, *_: object) -> None:
        room = self.viewport().geometry()
        tall = self._why.heightForWidth(room.width()) if self._troubles else 0
        self._grid.setContentsMargins(PAD, PAD, PAD, PAD + tall)
        if not self._troubles:
            return
        refused = next(reversed(self._troubles))
        editor = next(line.editor for line in self._lines if line.field is refused)
        under = editor.mapTo(self, editor.rect().bottomLeft()).y()
        top = room.bottom() + 1 - tall
        if top <= under <= room.bottom() + editor.height():
            top = room.top()
        self._why.setGeometry(room.left(), top, room.width(), tall)
        self._why.raise_()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out(MOST_COLUMNS if self.viewport().width() >= WIDE else 1)
        self._place_why()
