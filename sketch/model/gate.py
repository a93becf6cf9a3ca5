"""The gate at the end of every gesture: whether what is drawn could be saved and opened again, and judged."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication

from sketch.model.document import BASE, Document
from solver.layout import file
from solver.layout.file import Drawing, Problem

REST_MS = 120  # of no further change, with no button down, before a gesture is taken for ended

Failures = Mapping[str, tuple[Problem, ...]]


def failures(drawing: Drawing) -> Failures:
    """What does not hold: the problems by alternative, those of the drawing itself under ""."""
    layouts = {BASE: drawing.base} | {name: each.layout for name, each in drawing.alternatives.items()}
    by_name = {name: file.check(layout) for name, layout in layouts.items()}
    return {name: problems for name, problems in by_name.items() if problems}


def case_failures(drawing: Drawing, name: str = "drawing") -> Failures:
    """The problems of each case that does not hold, by its name and, where it is one of an alternative's own,
    that of the alternative.

    name: of the file, for the places of the problems in it.
    """
    of_base = file.case_problems(drawing, BASE, name)
    failures = dict(of_base)
    for alternative in drawing.alternatives:
        for case, problems in file.case_problems(drawing, alternative, name).items():
            if problems != of_base.get(case):
                failures[f"{case} in {alternative}"] = problems
    return failures


class Gate(QObject):
    """Looks at a document after every change, be it of the sheet, the keys, strip, card, undo or recovery."""

    changed = Signal()  # what does not hold is other than before

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.failures: Failures = {}
        self.case_failures: Failures = {}
        self._document = document
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._look)
        document.undo_stack.stepped.connect(self._rest.start)
        document.opened.connect(self._open)

    def _open(self) -> None:
        """A drawing that was just read holds, its cases perhaps not all of them."""
        self._rest.stop()
        self.failures = {}
        self.case_failures = case_failures(self._document.drawing)

    def _look(self) -> None:
        if QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton:
            self._rest.start()
            return
        drawing = self._document.drawing
        before = self.failures, self.case_failures
        self.failures, self.case_failures = failures(drawing), case_failures(drawing)
        if (self.failures, self.case_failures) != before:
            self.changed.emit()
