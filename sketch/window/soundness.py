"""What of a drawing does not hold, said across the window at the end of a gesture and on opening."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial, reduce

from PySide6.QtCore import QObject

from sketch.editing import cases
from sketch.model.disk import path_text
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import State
from sketch.model.gate import Failures, Gate, case_failures
from sketch.window.notice import Answer, Notice
from solver.findings.kinds import Severity
from solver.layout import file
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import Layout


class Soundness(QObject):
    """Tells of a drawing or alternatives that could not be opened again, and of cases that are not judged."""

    def __init__(self, document: Document, notice: Notice) -> None:
        super().__init__(document)
        self._document, self._notice = document, notice
        self._gate = Gate(document)
        self._gate.changed.connect(self._report_failures)
        self._speaks = False

    def _report_failures(self) -> None:
        failing, in_cases = self._gate.failures, self._gate.case_failures
        if not failing and not in_cases:
            if self._speaks:
                self._notice.hide()
            self._speaks = False
            return
        self._speaks = True
        refusals = (*failing.values(), *in_cases.values())
        problems = list(
            dict.fromkeys(problem for each in refusals for problem in each)
        )  # an alternative has them too
        undo = ("Undo", self._document.undo_stack.undo)
        if BASE in failing:
            text = "The drawing is not valid as it is, and cannot be saved like this."
            self._notice.show_message(text, [undo], problems, Severity.STOP)
            return
        texts = []
        if failing:
            what = "alternative is" if len(failing) == 1 else "alternatives are"
            names = ", ".join(failing)
            texts += [
                f"After this change the {what} no longer valid: {names}. "
                "Saved like this, the file opens with the reason beside each."
            ]
        if in_cases:
            texts += [_of_cases(in_cases)]
        self._notice.show_message(" ".join(texts), [undo], problems, Severity.CAUTION)

    def mark_broken(self) -> None:
        """Say what of the file does not hold, and why: alternatives, cases, readings. All stay as typed."""
        drawing, path = self._document.drawing, self._document.path
        name = path_text(path) if path else "drawing"
        broken, in_cases = drawing.broken, case_failures(drawing, name)
        misread = file.reading_problems(drawing, name)
        if not broken and not in_cases and not misread:
            return
        self._speaks = not broken and not misread  # a case can be mended, and is then spoken of no more
        texts: list[str] = []
        answers: list[Answer] = []
        troubles = [trouble for each in broken.values() for trouble in each.troubles]
        problems = [
            *file.placed_problems(drawing, troubles, name),
            *(each for case in in_cases.values() for each in case),
            *misread,
        ]
        if broken:
            many = len(broken) > 1
            what = f"{len(broken)} alternatives are" if many else "An alternative is"
            texts.append(f"{what} not valid and cannot be shown: {', '.join(broken)}. The file keeps it.")
            answers.append(("Remove them" if many else "Remove it", self._remove_broken))
        if in_cases:
            texts.append(_of_cases(in_cases))
            own = [name for name in in_cases if name in cases_of(drawing.base)]
            remove = partial(self._remove_cases, own)
            answers += [("Remove the cases" if len(own) > 1 else "Remove the case", remove)] if own else []
        if misread:
            count = len({each.key.partition(".")[0] for each in misread})
            what = "A reading" if count == 1 else f"{count} readings"
            texts.append(
                f"{what} cannot be compared as typed. The file keeps {'it' if count == 1 else 'them'}."
            )
        self._notice.show_message(" ".join(texts), answers, problems, Severity.CAUTION)

    def _remove_broken(self) -> None:
        self._document.change_alternatives("Remove what is not valid", _without_broken)

    def _remove_cases(self, names: Iterable[str]) -> None:
        """Drop cases from the drawing and its alternatives, as one undo step."""

        def without(layout: Layout) -> Layout:
            present = (name for name in names if name in cases_of(layout))
            return reduce(cases.remove, present, layout)

        self._document.change_cases("Delete cases", without, AS_DRAWN)


def _without_broken(state: State) -> State:
    return replace(state, drawing=replace(state.drawing, broken={}))


def _of_cases(failing: Failures) -> str:
    what, who = ("case is", "it") if len(failing) == 1 else ("cases are", "they")
    judged = "is" if len(failing) == 1 else "are"
    return (
        f"On this drawing the {what} not valid: {', '.join(failing)}. "
        f"Until corrected, {who} {judged} not judged."
    )
