"""One reading of a gauge, field by field; what is refused is said at its field, the drawing as it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QLineEdit, QScrollArea, QWidget

from sketch.editing import readings
from sketch.editing.edits import EditError
from sketch.editing.readings import FIELDS, Field
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.look.refused import is_refused, mark
from sketch.look.words import tooltip
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.quantities.units import System

PAD = 8
NAME, EDITOR = 0, 1

Editor = QLineEdit | QComboBox
Change = Callable[[str, LoggedReading], None]
"""Keeps a reading with something typed into it, under the name of what was typed."""


@dataclass(frozen=True, slots=True)
class _Line:
    field: Field
    name: Label
    editor: Editor
    trouble: Label


class ReadingCard(QScrollArea):
    """Holds every field; those that one chooses from are boxes."""

    def __init__(self, change: Change, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._change = change
        self._layout: Layout | None = None
        self._reading: LoggedReading | None = None
        self._system, self._tank = System.SI, ""
        self._number, self._changing = -1, False
        self._inner = QWidget()
        self._grid = QGridLayout(self._inner)
        self._grid.setContentsMargins(PAD, PAD, PAD, PAD)
        self._grid.setHorizontalSpacing(PAD)
        self._grid.setVerticalSpacing(PAD // 2)
        self._grid.setColumnStretch(EDITOR, 1)
        self._lines = tuple(self._make_lines())
        self._grid.setRowStretch(self._grid.rowCount(), 1)
        self.setWidget(self._inner)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Reading")

    def _make_lines(self) -> Iterator[_Line]:
        """A heading for each group, then its fields, each with room for what is wrong with it."""
        group, row = "", 0
        for field in FIELDS:
            if field.group != group:
                group = field.group
                heading = Label(group)
                bold = heading.font()
                bold.setBold(True)
                heading.setFont(bold)
                self._grid.addWidget(heading, row, NAME, 1, 2)
                row += 1
            yield self._make_line(field, row)
            row += 2

    def _make_line(self, field: Field, row: int) -> _Line:
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
        name, trouble = Label(field.label), Label()
        name.setBuddy(editor)
        trouble.setWordWrap(True)
        trouble.hide()
        self._grid.addWidget(name, row, NAME)
        self._grid.addWidget(editor, row, EDITOR)
        self._grid.addWidget(trouble, row + 1, NAME, 1, 2)
        return _Line(field, name, editor, trouble)

    def editor(self, *path: str) -> Editor:
        """The field that stands there in a reading's table."""
        return next(line.editor for line in self._lines if line.field.path == path)

    def troubles(self) -> tuple[str, ...]:
        """What is said at the fields now."""
        return tuple(line.trouble.text() for line in self._lines if not line.trouble.isHidden())

    def show_reading(
        self, layout: Layout, reading: LoggedReading | None, system: System, tank: str, number: int = 0
    ) -> None:
        """Fill the fields; None empties and closes them. What was refused in one stays there with why.

        tank: the reservoir that its pump draws from. number: the place of the reading in the file.
        """
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
        if isinstance(line.editor, QLineEdit) and is_refused(line.editor):
            if before is not None and reading is not None and readings.shown(before, line.field) == text:
                return
            mark(line.editor, False)
        line.trouble.hide()
        with QSignalBlocker(line.editor):
            if isinstance(line.editor, QLineEdit):
                line.editor.setText(text)
                line.editor.setModified(False)
                return
            choices = readings.options(layout, line.field) if layout is not None else ()
            line.editor.clear()
            line.editor.addItems([*choices, *([text] if text not in choices else [])])
            line.editor.setCurrentText(text)

    def _typed(self, field: Field, *_: object) -> None:
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
            read = readings.typed(self._layout, self._reading, field, text, self._system, self._tank)
        except EditError as error:
            self._refuse(line, str(error))
            return
        if isinstance(line.editor, QLineEdit):
            mark(line.editor, False)
        line.trouble.hide()
        if read != self._reading:
            self._changing = True
            try:
                self._change(field.label.lower(), read)
            finally:
                self._changing = False

    def _refuse(self, line: _Line, why: str) -> None:
        if isinstance(line.editor, QLineEdit):
            mark(line.editor, True)
        palette = QPalette(line.trouble.palette())
        palette.setColor(QPalette.ColorRole.WindowText, theme_of(self.palette()).stop)
        line.trouble.setPalette(palette)
        line.trouble.setText(f"Not accepted: {why}")
        line.trouble.show()
