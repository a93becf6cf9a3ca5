"""The open drawing: the only place that replaces the layout.

What may happen to an edit:

- It makes no valid drawing (an intake out of its tank, a level above the rim): `edits` raises EditError,
  nothing reaches this module, and the drawing stays as it was.
- It makes a valid drawing that cannot be calculated (a bend that no longer fits its run): the drawing is
  replaced, `solution` is None and `refusal` says why, so that the way out is to go on drawing or to undo.
- It changes nothing: no undo step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from sketch.editing import beginning
from sketch.model import disk, drawing_state, history
from sketch.model.drawing_file import DrawingFile
from sketch.model.drawing_state import State, layout_of
from sketch.model.outcome import Outcome, Outcomes, empty_drawing, levels_of, solve_layout
from sketch.model.shown import Shown, parts_in
from solver.findings.checks import Finding
from solver.findings.outlook import Outlook
from solver.layout.file import Drawing
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, Solution
from solver.network.row_cache import RowCache
from solver.quantities import units

BASE = ""  # the name under which the drawing itself stands among its alternatives


class Document(QObject):
    """One drawing with its solution, its undo stack, its file and what of it is shown.

    With `keeps` false it leaves no trace but what is saved: no recovery file is written, moved or dropped.
    """

    changed = Signal()  # layout, alternative, level, units, pump or file: once for each change
    pointed = Signal(str)  # the entry's key, "" for none
    selected = Signal(str)  # the name of the part that was selected last, "" for none
    opened = Signal()  # another drawing is here, or the same one read again
    failed = Signal(str)  # a view could not show the drawing, and why
    refused = Signal(str)  # what was asked of a view cannot be done, and why
    renamed = Signal(str, str)  # a part, until now and from now on
    noticed = Signal(str)  # what an edit did besides what its name says, or leaves to be done

    def __init__(self, parent: QObject | None = None, *, keeps: bool = True) -> None:
        super().__init__(parent)
        self._drawing = empty_drawing()
        self._begun = False  # with a sheet, be it an empty one
        self._shown = Shown(self._drawing.base.units)
        self.rows = RowCache()  # shared by the solves of the drawing and of its alternatives
        self._outcome = solve_layout(self._drawing.base, self._shown.level, rows=self.rows)
        self._saved_outcomes, self._others = Outcomes(self.rows), Outcomes(self.rows)  # others: not shown
        self.undo_stack = history.Steps(self, self._restore)
        self.file = DrawingFile(self._drawing, self._unsaved, self, keeps=keeps)
        self.undo_stack.stepped.connect(self.file.keep_soon)
        self.undo_stack.stepped.connect(self.changed)

    @property
    def layout(self) -> Layout:
        """The layout that is shown and edited: the base, or the chosen alternative."""
        return layout_of(self._drawing, self._shown.alternative)

    @property
    def saved_layout(self) -> Layout:
        """The shown layout as it was last opened or saved."""
        if self._shown.alternative and self._shown.alternative not in self.file.saved.alternatives:
            return self.file.saved.base
        return layout_of(self.file.saved, self._shown.alternative)

    @property
    def drawing(self) -> Drawing:
        """The base with all its alternatives."""
        return self._drawing

    @property
    def solution(self) -> Solution | None:
        """What the solver makes of the layout; None when it cannot be calculated."""
        return self._outcome.solution

    @property
    def refusal(self) -> tuple[tuple[str, str], ...]:
        """Why the pump that is shown has no ledger: ((part, what is wrong), ...)."""
        return self._outcome.refusal or self._outcome.rest(self._shown.pump)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is found in the layout that is shown, in any case; none while it is not calculated."""
        return self._outcome.findings

    @property
    def ledger(self) -> PumpLedger | None:
        """The ledger of the pump that is shown."""
        return self._outcome.ledger(self._shown.pump)

    @property
    def outlook(self) -> Outlook | None:
        """What the drawing comes to in all its cases; None where the pump that is shown is not calculated."""
        return self._outcome.outlook(self._shown.pump, self._shown.system)

    @property
    def saved_outcome(self) -> Outcome:
        """What the solver makes of the drawing as it was last opened or saved, at the same level."""
        shown = self._shown
        if self._outcome.matches(self.saved_layout, shown.level):
            self._saved_outcomes.keep("", self._outcome)
        return self._saved_outcomes.of("", self.saved_layout, shown.level, shown.case)

    def outcome_of(self, alternative: str) -> Outcome:
        """What the solver makes of an alternative, or of the base for "", solved once. Raises KeyError."""
        if alternative == self._shown.alternative:
            return self._outcome
        layout = layout_of(self._drawing, alternative)
        return self._others.of(alternative, layout, self._shown.level, self._shown.case)

    def has_outcome_of(self, alternative: str) -> bool:
        """Whether that is at hand and needs no solve."""
        layout = layout_of(self._drawing, alternative)
        return alternative == self._shown.alternative or self._others.has(alternative, layout, self.level)

    @property
    def level(self) -> Level:
        """The fluid level the ledger is reckoned at, one of `levels`."""
        return self._shown.level

    @property
    def levels(self) -> tuple[Level, ...]:
        """The fluid levels that can be chosen in the layout that is shown."""
        return levels_of(self.layout)

    @property
    def case(self) -> str:
        """The case in view, one of those of the layout that is shown."""
        return self._outcome.case

    @property
    def shows_other_cases(self) -> bool:
        """Whether the other cases are to be drawn behind the one in view."""
        return self._shown.other_cases

    @property
    def ledgers_of_other_cases(self) -> tuple[tuple[str, PumpLedger], ...]:
        """The ledgers of the pump that is shown in the other cases, where those are to be drawn."""
        return self._outcome.ledgers_of_other_cases(self._shown.pump) if self._shown.other_cases else ()

    @property
    def outcome(self) -> Outcome:
        """What the solver makes of the layout that is shown, in all its cases."""
        return self._outcome

    @property
    def system(self) -> units.System:
        """The units that figures are shown in, whatever the file has them in."""
        return self._shown.system

    @property
    def pump(self) -> str:
        """The pump whose ledger is shown; "" when the drawing has none."""
        return self._shown.pump

    @property
    def alternative(self) -> str:
        """The alternative that is shown; "" for the base."""
        return self._shown.alternative

    @property
    def alternatives(self) -> tuple[str, ...]:
        """The names of all alternatives, in the order of the file."""
        return tuple(self._drawing.alternatives)

    @property
    def has_drawing(self) -> bool:
        """Whether there is a drawing at all: one with a file, one that was begun, or one recovered."""
        return self._begun or self.file.path is not None or bool(self.layout.reservoirs)

    @property
    def path(self) -> Path | None:
        """Where the drawing is saved; None of one that has no file yet."""
        return self.file.path

    @property
    def clean(self) -> bool:
        """Whether the drawing is as last opened or saved."""
        return self.undo_stack.isClean()

    @property
    def pointed_key(self) -> str:
        """The key of the element that is pointed at in any view; "" for none."""
        return self._shown.pointed

    @property
    def selected_part(self) -> str:
        """The part that was selected last; "" for none."""
        return self._shown.selected_part

    @property
    def selection(self) -> tuple[str, ...]:
        """Every part that is selected, in the order in which they were."""
        return self._shown.selection

    gesture = staticmethod(history.new_gesture)

    def apply(self, label: str, layout: Layout, gesture: int = 0) -> bool:
        """Replace the shown layout as one undo step, or as more of the step of that gesture.

        False when nothing differs. An error of the solver that is no refusal passes through, with the
        drawing untouched: the layout is solved before it is pushed.
        """
        if layout == self.layout:
            return False
        if self.alternative == BASE:
            layout = beginning.drop_note(layout)
        before, shown = self._state, self._shown
        after = self.undo_stack.begun_with(gesture, before).replaced(layout)
        self._outcome = solve_layout(layout, shown.level, shown.case, self.rows)
        self.undo_stack.add_step(label, before, after, gesture)
        return True

    def trouble_with(self, layout: Layout) -> str:
        """Why the shown layout cannot become another for the sake of an alternative; "" when it can."""
        return drawing_state.alternative_trouble(self._state, layout)

    def rename(self, name: str, wanted: str) -> None:
        """Another name for a part, in the drawing and all its alternatives, as one undo step.

        Raises EditError for a name that is taken or that a layout file would refuse.
        """
        state = drawing_state.renamed(self._state, name, wanted)
        self._shown = self._shown.renamed(name, wanted.strip())
        self.renamed.emit(name, wanted.strip())
        self._replace(f"Rename {name}", state)
        self.select(wanted.strip())

    def add_alternative(self, name: str) -> None:
        """Keep the layout that is shown as an alternative of that name and go on in it, as one undo step.

        Raises ValueError for a name that is taken or that a layout file would refuse.
        """
        self._replace(f"New alternative {name}", drawing_state.with_alternative(self._state, name))

    def change_cases(self, label: str, change: Callable[[Layout], Layout], case: str) -> None:
        """Change the cases of the drawing and of all its alternatives as one undo step, and look at `case`.

        Raises EditError where the layout that is shown does not take the change.
        """
        self._replace(label, drawing_state.with_cases(self._state, change))
        self.set_case(case)

    def change_alternatives(self, label: str, change: Callable[[State], State], gesture: int = 0) -> None:
        """Change the alternatives, or which of them is shown, as `apply` does. Errors as the change."""
        self._replace(label, change(self.undo_stack.begun_with(gesture, self._state)), gesture)

    @property
    def _state(self) -> State:
        return State(self._drawing, self._shown.alternative)

    def _replace(self, label: str, state: State, gesture: int = 0) -> None:
        self.undo_stack.add_step(label, self._state, state, gesture)

    def cancel(self, gesture: int) -> None:
        """Undo what a gesture has applied so far and leave no step of it."""
        self.undo_stack.give_up(gesture)

    def _restore(self, state: State) -> None:
        """Bring back what an undo step holds."""
        self._drawing = drawing_state.with_text(state.drawing, self._drawing.text)
        self._show(self._shown.of_alternative(state.alternative))

    def _show(self, shown: Shown) -> None:
        """Show that of the drawing, solved unless it is already."""
        layout, outcome = layout_of(self._drawing, shown.alternative), self._outcome
        if not outcome.matches(layout, shown.level):
            outcome = solve_layout(layout, shown.level, shown.case, self.rows)
        self._show_outcome(outcome.showing(shown.case), shown)

    def _show_outcome(self, outcome: Outcome, shown: Shown) -> None:
        before, self._outcome, self._shown = self._shown, outcome, shown.for_outcome(outcome)
        if self._shown.selection != before.selection:
            self.selected.emit(self._shown.selected_part)
        if self._shown.pointed != before.pointed:
            self.pointed.emit(self._shown.pointed)

    def _choose(self, shown: Shown) -> None:
        if shown != self._shown:
            self._show(shown)
            self.changed.emit()

    def point(self, key: str) -> None:
        """Say which entry the pointer is on; "" for none."""
        if key != self._shown.pointed:
            self._shown = replace(self._shown, pointed=key)
            self.pointed.emit(key)

    def select(self, part: str) -> None:
        """Select one part by name; "" for none. With a pump its ledger is shown."""
        self.select_all((part,) if part else ())
        if part in self.layout.pumps:
            self.show_pump(part)

    def select_all(self, parts: Iterable[str]) -> None:
        """Select parts by name, the one that keys and card go by last; other names are passed over."""
        selection, before = parts_in(parts, self.layout), self._shown.selection
        self._shown = replace(self._shown, selection=selection)
        if selection or before:  # of a part that is selected already, another element may have been clicked
            self.selected.emit(self._shown.selected_part)

    def show_alternative(self, name: str) -> None:
        """Show and edit an alternative, or the base for "". Raises KeyError."""
        if name and name not in self._drawing.alternatives:
            raise KeyError(name)
        self._choose(replace(self._shown, alternative=name))

    def show_pump(self, name: str) -> None:
        """Show the ledger of that pump. Raises KeyError."""
        if name not in self.layout.pumps:
            raise KeyError(name)
        self._choose(replace(self._shown, pump=name))

    def set_level(self, level: Level) -> None:
        """Reckon at another fluid level, one of `levels`. Raises ValueError."""
        if level not in self.levels:
            raise ValueError(level)
        self._choose(replace(self._shown, level=level))

    def set_case(self, case: str) -> None:
        """Look at a case by name; at the drawing as it stands where the layout has no such case.

        A pump that is at rest in it gives way to one that runs.
        """
        running = self._outcome.showing(case).pump_that_runs(self._shown.pump)
        self._choose(replace(self._shown, case=case, pump=running))

    def set_other_cases(self, shown: bool) -> None:
        """Draw the other cases behind the one in view, or leave them out."""
        self._choose(replace(self._shown, other_cases=shown))

    def set_system(self, system: units.System) -> None:
        """Show figures in that system; the drawing keeps its own units."""
        self._choose(replace(self._shown, system=system))

    def open(self, path: Path | str) -> None:
        """Open a drawing. Raises LayoutErrors or OSError, with the open drawing untouched."""
        self.open_drawing(disk.drawing(Path(path)), Path(path))

    def begin(self, layout: Layout | None = None) -> None:
        """Start a drawing that has no file yet: that layout, or none at all."""
        empty, self._begun = empty_drawing(), layout is not None
        self.open_drawing(replace(empty, base=layout) if layout is not None else empty, None)

    def reload(self) -> None:
        """Read its file again. Raises LayoutErrors or OSError, with the open drawing untouched."""
        before, drawing = self._drawing, self.file.read()
        if self._drawing is not before:
            raise OSError(0, "the drawing was changed while it was read")
        self.open_drawing(drawing, self.file.path, self._shown.alternative)

    def open_drawing(self, drawing: Drawing, path: Path | None, alternative: str = BASE) -> None:
        """Open a drawing read from `path`: as a copy without a file where another window has that."""
        name = alternative if alternative in drawing.alternatives else BASE
        layout = layout_of(drawing, name)
        shown = self._shown.for_drawing(name, layout, drawing.base.units)
        outcome = solve_layout(layout, shown.level, shown.case, self.rows)
        self._drawing = drawing
        self.undo_stack.clear()
        self.file.follow(drawing, path)
        self._show_outcome(outcome, shown)
        self.opened.emit()
        self.changed.emit()

    def save(self, path: Path | str | None = None) -> None:
        """Write the drawing to its file, or from now on to `path`.

        Raises SaveError, or ValueError where neither is known.
        """
        if (target := Path(path) if path is not None else self.file.path) is None:
            raise ValueError("the drawing has no file yet")
        before, saved = self._drawing, self.file.save(self._drawing, target)
        whole = self._drawing is before  # or the hand went on while the disk kept it waiting
        self._drawing = saved if whole else replace(self._drawing, text=saved.text)
        if whole:
            self.undo_stack.setClean()
        else:
            self.undo_stack.resetClean()
            self.file.keep_soon()
        self.changed.emit()

    def _unsaved(self) -> Drawing | None:
        return None if self.clean else self._drawing

    def recover(self, kept: Path) -> None:
        """Take up one of `file.recoveries`, as one undo step. Raises LayoutErrors or OSError."""
        drawing = replace(self.file.restore_recovery(kept), text=self._drawing.text)
        shown = self.alternative if self.alternative in drawing.alternatives else BASE
        self._replace("Recover", State(drawing, shown))
