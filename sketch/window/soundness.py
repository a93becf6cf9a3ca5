"""What of a drawing does not hold, said across the window at the end of a gesture and on opening."""

from __future__ import annotations

from PySide6.QtCore import QObject

from sketch.model.disk import shown
from sketch.model.document import BASE, Document
from sketch.model.gate import Gate
from sketch.window.notice import Notice
from solver.findings.kinds import Severity
from solver.layout import file


class Soundness(QObject):
    """Tells of a drawing, or of alternatives to it, that could not be opened again."""

    def __init__(self, document: Document, notice: Notice) -> None:
        super().__init__(document)
        self._document, self._notice = document, notice
        self._gate = Gate(document)
        self._gate.changed.connect(self._report_failures)
        self._speaks = False

    def _report_failures(self) -> None:
        failing = self._gate.failures
        if not failing:
            if self._speaks:
                self._notice.hide()
            self._speaks = False
            return
        self._speaks = True
        problems = [problem for each in failing.values() for problem in each]
        undo = ("Undo", self._document.undo_stack.undo)
        if BASE in failing:
            text = "The drawing does not hold as it is, and cannot be saved so."
            self._notice.show_message(text, [undo], problems, Severity.STOP)
            return
        names = ", ".join(failing)
        what = "alternative does" if len(failing) == 1 else "alternatives do"
        text = f"On this drawing the {what} not hold any more: {names}. Saved so, it opens marked with why."
        self._notice.show_message(text, [undo], problems, Severity.CAUTION)

    def mark_broken(self) -> None:
        """Say which alternatives of the file do not hold, and why; there they stay as they are typed."""
        drawing, path = self._document.drawing, self._document.path
        if not drawing.broken:
            return
        troubles = [trouble for each in drawing.broken.values() for trouble in each.troubles]
        problems = file.placed(drawing, troubles, shown(path) if path else "drawing")
        many = len(drawing.broken) > 1
        what = f"{len(drawing.broken)} alternatives do" if many else "An alternative does"
        text = f"{what} not hold and cannot be shown: {', '.join(drawing.broken)}. The file keeps it."
        remove = ("Remove them" if many else "Remove it", self._document.remove_broken)
        self._notice.show_message(text, [remove], problems, Severity.CAUTION)
