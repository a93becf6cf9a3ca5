"""The open drawing: the only place that replaces the layout.

What may happen to an edit:

- It makes no valid drawing (an intake out of its tank, a level above the rim): `edits` raises EditError,
  nothing reaches this module, and the drawing stays as it was.
- It makes a valid drawing that cannot be calculated (a bend that no longer fits its run): the drawing is
  replaced, `solution` is None and `refusal` says why, so that the way out is to go on drawing or to undo.
- It changes nothing: no undo step.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model import history, storage
from sketch.model.history import State, Steps, layout_of
from sketch.model.outcome import Outcome, Outcomes, empty, has_part, levels_of, solved
from solver.findings.checks import Finding
from solver.findings.outlook import Outlook
from solver.layout import file
from solver.layout.file import Drawing
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, Solution
from solver.network.row_cache import RowCache
from solver.quantities import units

AUTOSAVE_MS = 2000
BASE = ""  # the name under which the drawing itself stands among its alternatives


class Document(QObject):
    """One drawing with its solution, its undo stack and its file.

    With `keeps` false it leaves no trace but what is saved: no recovery file is written, moved or dropped.
    """

    changed = Signal()  # layout, alternative, level, units or pump: whatever a view shows
    pointed = Signal(str)  # the entry's key, "" for none
    selected = Signal(str)  # the part's name, "" for none
    opened = Signal()  # another drawing is here, or the same one read again
    filed = Signal()  # opened, saved, or given another name
    changed_outside = Signal()  # another program wrote the file
    failed = Signal(str)  # a view could not show the drawing, and why

    def __init__(self, parent: QObject | None = None, *, keeps: bool = True) -> None:
        super().__init__(parent)
        self._kept = storage.Recovery(keeps)
        self._drawing = self._saved = empty()
        self._alternative = BASE
        self._outcome: Outcome | None = None
        self.rows = RowCache()  # shared by the solves of the drawing and of its alternatives
        self._saved_outcomes, self._others = Outcomes(self.rows), Outcomes(self.rows)  # others: not shown
        self._path: Path | None = None
        self._level, self._cold = Level.MINIMUM, False
        self._system = units.System(self._drawing.base.units)
        self._pump = ""
        self._pointed = self._selected = ""
        self.undo_stack = Steps(self, self._show)
        self._watch = storage.Watch(self)
        self._watch.happened.connect(self.changed_outside)
        self._idle = QTimer(self, interval=AUTOSAVE_MS, singleShot=True)
        self._idle.timeout.connect(self.keep)
        self._kept.set_aside(None)
        self._take(solved(self._drawing.base, self._level, rows=self.rows))

    @property
    def layout(self) -> Layout:
        """The layout that is shown and edited: the base, or the chosen alternative."""
        return layout_of(self._drawing, self._alternative)

    @property
    def saved_layout(self) -> Layout:
        """The same layout as it was last opened or saved."""
        if self._alternative and self._alternative not in self._saved.alternatives:
            return self._saved.base
        return layout_of(self._saved, self._alternative)

    @property
    def drawing(self) -> Drawing:
        """The base with all its alternatives."""
        return self._drawing

    @property
    def solution(self) -> Solution | None:
        """What the solver makes of the layout; None when it cannot be calculated."""
        return self._outcome.solution if self._outcome else None

    @property
    def refusal(self) -> tuple[tuple[str, str], ...]:
        """Why there is no solution: ((part, what is wrong), ...)."""
        return self._outcome.refusal if self._outcome else ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        return self._outcome.findings if self._outcome else ()

    @property
    def ledger(self) -> PumpLedger | None:
        """The ledger of the pump that is shown."""
        return self._outcome.ledger(self._pump) if self._outcome else None

    @property
    def outlook(self) -> Outlook | None:
        """How the pump that is shown stands, with the coldest start, the other pumps and the findings."""
        return self._outcome.outlook(self._pump, self._system) if self._outcome else None

    @property
    def saved_ledger(self) -> PumpLedger | None:
        """That pump's ledger in the drawing as it was last opened or saved, at the same level."""
        return self._saved_outcomes.of("", self.saved_layout, self._level, self._cold).ledger(self._pump)

    def outcome_of(self, alternative: str) -> Outcome:
        """What the solver makes of an alternative, or of the base for "", at the level that is chosen.

        Solved once for as long as it stays the same. Raises KeyError.
        """
        if alternative == self._alternative and self._outcome is not None:
            return self._outcome
        layout = layout_of(self._drawing, alternative)
        return self._others.of(alternative, layout, self._level, self._cold)

    @property
    def level(self) -> Level:
        """The fluid level the ledger is reckoned at, one of `levels`."""
        return self._level

    @property
    def levels(self) -> tuple[Level, ...]:
        """The fluid levels that can be chosen in the layout that is shown."""
        return levels_of(self.layout)

    @property
    def cold(self) -> bool:
        """Whether everything is reckoned at the coldest start; never without one."""
        return self._outcome is not None and self._outcome.cold

    @property
    def system(self) -> units.System:
        return self._system

    @property
    def pump(self) -> str:
        """The pump whose ledger is shown; "" when the drawing has none."""
        return self._pump

    @property
    def alternative(self) -> str:
        """The alternative that is shown; "" for the base."""
        return self._alternative

    @property
    def alternatives(self) -> tuple[str, ...]:
        """The names of all alternatives, in the order of the file."""
        return tuple(self._drawing.alternatives)

    @property
    def has_drawing(self) -> bool:
        """Whether there is a drawing at all: one with a file, or with something on it."""
        return self._path is not None or bool(self.layout.reservoirs)

    @property
    def path(self) -> Path | None:
        return self._path

    @property
    def clean(self) -> bool:
        """Whether the drawing is as last opened or saved."""
        return self.undo_stack.isClean()

    @property
    def overtaken(self) -> bool:
        """Whether another program has written the file since it was opened or saved here."""
        return self._watch.overtaken

    @property
    def pointed_key(self) -> str:
        return self._pointed

    @property
    def selected_part(self) -> str:
        return self._selected

    gesture = staticmethod(history.new_gesture)

    def apply(self, label: str, layout: Layout, gesture: int = 0) -> bool:
        """Replace the shown layout as one undo step, or as more of the step of that gesture.

        False when nothing differs. An error of the solver that is no refusal passes through, with the
        drawing untouched: the layout is solved before it is pushed.
        """
        if layout == self.layout:
            return False
        before = self._state
        after = State(history.with_layout(self._drawing, self._alternative, layout), self._alternative)
        self._outcome = solved(layout, self._level, self._cold, self.rows)
        self.undo_stack.take(label, before, after, gesture)
        return True

    def trouble_with(self, layout: Layout) -> str:
        """Why the shown layout cannot become another for the sake of an alternative; "" when it can."""
        return history.alternative_trouble(self._state, layout)

    def rename(self, name: str, wanted: str) -> None:
        """Another name for a part, in the drawing and all its alternatives, as one undo step.

        Raises EditError for a name that is taken or that a layout file would refuse.
        """
        self._replace(f"Rename {name}", history.renamed(self._state, name, wanted))
        self.select(wanted.strip())

    def add_alternative(self, name: str) -> None:
        """Keep the layout that is shown as an alternative of that name and go on in it, as one undo step.

        Raises ValueError for a name that is taken or that a layout file would refuse.
        """
        self._replace(f"New alternative {name}", history.with_alternative(self._state, name))

    def remove_alternative(self) -> None:
        """Drop the alternative that is shown and show the drawing itself, as one undo step."""
        self._replace(f"Remove alternative {self._alternative}", history.without_alternative(self._state))

    @property
    def _state(self) -> State:
        return State(self._drawing, self._alternative)

    def _replace(self, label: str, state: State) -> None:
        self.undo_stack.take(label, self._state, state)

    def cancel(self, gesture: int) -> None:
        """Undo what a gesture has applied so far and leave no step of it."""
        self.undo_stack.give_up(gesture)

    def _show(self, state: State) -> None:
        self._drawing = replace(state.drawing, text=self._drawing.text)
        self._alternative = state.alternative
        self._refresh()
        self._idle.start()

    def _refresh(self) -> None:
        layout = self.layout
        held = self._outcome
        if held is None or not held.is_of(layout, self._level, self._cold):
            held = solved(layout, self._level, self._cold, self.rows)
        self._take(held)
        self.changed.emit()

    def _take(self, outcome: Outcome) -> None:
        self._outcome = outcome
        pumps = outcome.layout.pumps
        if self._pump not in pumps:
            self._pump = next(iter(pumps), "")
        if self._selected and not has_part(outcome.layout, self._selected):
            self.select("")
        if self._pointed and outcome.solution and self._pointed not in outcome.entries():
            self.point("")

    def point(self, key: str) -> None:
        """Say which entry the pointer is on; "" for none."""
        if key != self._pointed:
            self._pointed = key
            self.pointed.emit(key)

    def select(self, part: str) -> None:
        """Select a part by name; "" for none. With a pump its ledger is shown."""
        if part != self._selected:
            self._selected = part
            self.selected.emit(part)
        if part in self.layout.pumps:
            self.show_pump(part)

    def show_alternative(self, name: str) -> None:
        """Show and edit an alternative, or the base for "". Raises KeyError."""
        if name and name not in self._drawing.alternatives:
            raise KeyError(name)
        if name != self._alternative:
            self._alternative = name
            self._refresh()

    def show_pump(self, name: str) -> None:
        """Show the ledger of that pump. Raises KeyError."""
        if name not in self.layout.pumps:
            raise KeyError(name)
        if name != self._pump:
            self._pump = name
            self.changed.emit()

    def set_level(self, level: Level) -> None:
        """Reckon at another fluid level, one of `levels`. Raises ValueError."""
        if level not in self.levels:
            raise ValueError(level)
        if level != self._level:
            self._level = level
            self._refresh()

    def set_cold(self, cold: bool) -> None:
        """Reckon at the coldest start, where the drawing gives one, or with the fluid as it runs."""
        if cold is not self._cold:
            self._cold = cold
            self._refresh()

    def set_system(self, system: units.System) -> None:
        """Show figures in that system; the drawing keeps its own units."""
        if system != self._system:
            self._system = system
            self.changed.emit()

    def open(self, path: Path | str) -> None:
        """Open a drawing. Raises LayoutErrors or OSError, with the open drawing untouched."""
        path = Path(path)
        self.take(file.read(path), path)

    def take(self, drawing: Drawing, path: Path) -> None:
        """Open a drawing that has been read from `path`."""
        self._begin(drawing, path)

    def begin(self, layout: Layout | None = None) -> None:
        """Start a drawing that has no file yet: an empty one, or that layout."""
        self._begin(replace(empty(), base=layout) if layout is not None else empty(), None)

    def reload(self) -> None:
        """Read the file again. Raises LayoutErrors or OSError, with the open drawing untouched."""
        if self._path is not None:
            self._begin(file.read(self._path), self._path, self._alternative)

    def _begin(self, drawing: Drawing, path: Path | None, alternative: str = BASE) -> None:
        shown = alternative if alternative in drawing.alternatives else BASE
        layout = layout_of(drawing, shown)
        if self._level not in levels_of(layout):
            self._level = Level.MINIMUM
        self.rows.clear()
        outcome = solved(layout, self._level, self._cold, self.rows)
        self._idle.stop()
        self._drawing = self._saved = drawing
        self._alternative, self._path = shown, path
        self._system = units.System(drawing.base.units)
        self._pump = ""
        self.undo_stack.clear()
        self._watch.follow(path)
        self._kept.set_aside(path)
        self.point("")
        self.select("")
        self._take(outcome)
        self.opened.emit()
        self.filed.emit()
        self.changed.emit()

    def save(self, path: Path | str | None = None) -> None:
        """Write the drawing to its file, or from now on to `path`. Raises SaveError; ValueError without any.

        Comments, order and typed text stay; the file that stood there stays whole if anything fails.
        """
        target = Path(path) if path is not None else self._path
        if target is None:
            raise ValueError("the drawing has no file yet")
        text = file.write(self._drawing)
        storage.write_safely(target, text)
        self._idle.stop()
        self._kept.forget(self._path)
        self._kept.forget(target)
        self._drawing = self._saved = replace(self._drawing, text=text)
        self._path = target
        self._watch.follow(target)
        self.undo_stack.setClean()
        self.filed.emit()
        self.changed.emit()

    def keep(self) -> None:
        """Write the recovery file, or drop it when there is nothing unsaved."""
        if self.clean:
            self._kept.forget(self._path)
        else:
            self._kept.write(self._path, file.write(self._drawing))

    @property
    def recovery(self) -> Path | None:
        """What an earlier session left unsaved of this drawing, if anything."""
        return self._kept.left(self._path) if self.clean else None

    def recover(self) -> None:
        """Take up what was left unsaved, as one undo step. Raises LayoutErrors or OSError."""
        if (kept := self.recovery) is None:
            return
        drawing = replace(file.read(kept), text=self._drawing.text)
        shown = self._alternative if self._alternative in drawing.alternatives else BASE
        self._replace("Recover", State(drawing, shown))

    def give_up(self) -> None:
        """What is unsaved is wanted no more: its recovery file goes."""
        self._idle.stop()
        self._kept.forget(self._path)

    def close(self) -> None:
        """Let go of the drawing for good, with what is unsaved."""
        self.give_up()
        self._watch.follow(None)
