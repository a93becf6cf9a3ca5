"""Undo: one command class that holds the drawing before and after, and the stack of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from weakref import WeakMethod, finalize

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack
from shiboken6 import isValid

from sketch.model.drawing_state import State, with_ends_kept

_GESTURES = count(1)


def new_gesture() -> int:
    """A number for one gesture: all it applies becomes one undo step."""
    return next(_GESTURES) % 2**30 + 1


class Edit(QUndoCommand):
    """One change of the drawing. Changes of the same gesture merge into one."""

    def __init__(
        self, restore: Callable[[State], None], label: str, before: State, after: State, gesture: int
    ) -> None:
        super().__init__(label)
        self._restore, self._before, self._after, self._gesture = restore, before, after, gesture
        self.give_up = False  # the next undo drops the step instead of keeping it for redo

    @property
    def step(self) -> tuple[str, State, State, int]:
        """Label, before, after and gesture: all that the same step can be made again from."""
        return self.text(), self._before, self._after, self._gesture

    def id(self) -> int:
        return self._gesture or -1

    def redo(self) -> None:
        self._restore(self._after)

    def undo(self) -> None:
        self._restore(self._before)
        self.setObsolete(self.give_up)

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, Edit):
            return False
        label, _, after, _ = other.step
        self.go_on(label, after)
        self.setObsolete(self._before == self._after)
        return True

    def go_on(self, label: str, after: State) -> None:
        """Hold what more of the gesture has come to."""
        self._after = after
        self.setText(label)  # with the figure that it came to


@dataclass(frozen=True, slots=True)
class _Ahead:
    """What could be redone before a gesture began: Qt's stack drops it at the first push."""

    gesture: int
    index: int
    clean: int
    steps: tuple[tuple[str, State, State, int], ...]  # (label, before, after, gesture) of each command


def _empty(stack: Steps) -> None:
    if isValid(stack):
        stack.blockSignals(True)
        stack.clear()


class Steps(QUndoStack):
    """The undo stack. A gesture that comes to nothing leaves what could be redone before it.

    `restore`, a method of the parent, is called with the state of every step, undo and redo. The stack is
    emptied before its parent goes with a cycle of objects: Python would give its commands back first, and Qt
    once more.
    """

    stepped = Signal()  # once after each of them, when the stack itself is up to date

    def __init__(self, parent: QObject, restore: Callable[[State], None]) -> None:
        super().__init__(parent)
        self._restore_of_parent = WeakMethod(restore)
        finalize(parent, _empty, self).atexit = False
        self._ahead: _Ahead | None = None
        self._muted = False  # while the stack is put right behind an unchanged drawing
        self._busy = False  # while more than one change of the stack makes one step
        self.indexChanged.connect(self._index_changed)

    def _index_changed(self) -> None:
        if not self._busy:
            self.stepped.emit()

    def add_step(self, label: str, before: State, after: State, gesture: int = 0) -> None:
        """Show `after`, as a step of its own or as more of the step of that gesture."""
        after = with_ends_kept(before, after)
        if not self._went_on(label, after, gesture):
            if self._ahead is None or self._ahead.gesture != gesture or not gesture:
                self._ahead = self._what_is_ahead(gesture)
            with self._as_one():
                self.push(Edit(self._restore, label, before, after, gesture))
                self._bring_back()
        self.stepped.emit()

    def _went_on(self, label: str, after: State, gesture: int) -> bool:
        """Whether the last step, of that gesture, has become this one, as at each move of a drag but a few.

        One that comes to nothing is dropped by the stack itself, and one that is saved is begun anew.
        """
        last = self._last_of(gesture)
        if last is None or self.index() < self.count() or self.isClean() or last.step[1] == after:
            return False
        last.go_on(label, after)
        self._restore(after)
        self.undoTextChanged.emit(self.undoText())
        return True

    def _last_of(self, gesture: int) -> Edit | None:
        """The step that could be undone, where it is of that gesture."""
        last = self.command(self.index() - 1)
        return last if gesture and isinstance(last, Edit) and last.id() == gesture else None

    def begun_with(self, gesture: int, now: State) -> State:
        """The state that a gesture began with, by which it is told what follows the drawing; else `now`."""
        last = self._last_of(gesture)
        return last.step[1] if last is not None else now

    def give_up(self, gesture: int) -> None:
        """Undo what a gesture has done so far and leave no step of it."""
        last = self._last_of(gesture)
        if last is not None:
            last.give_up = True
            with self._as_one():
                self.undo()
                self._bring_back()
            self.stepped.emit()

    def clear(self) -> None:
        """Forget every step, also what could be done again."""
        self._ahead = None
        with self._as_one():
            super().clear()

    @contextmanager
    def _as_one(self) -> Iterator[None]:
        self._busy = True
        try:
            yield
        finally:
            self._busy = False

    def _restore(self, state: State) -> None:
        restore = self._restore_of_parent()
        if restore is not None and not self._muted:
            restore(state)

    def _what_is_ahead(self, gesture: int) -> _Ahead:
        commands = (self.command(at) for at in range(self.index(), self.count()))
        steps = tuple(each.step for each in commands if isinstance(each, Edit))
        return _Ahead(gesture, self.index(), self.cleanIndex(), steps)

    def _bring_back(self) -> None:
        """Where a gesture has come to nothing, put behind the index again what it has pushed off."""
        ahead = self._ahead
        if ahead is None or not ahead.steps or ahead.index != self.count():
            return
        self._muted = True
        try:
            for label, before, after, gesture in ahead.steps:
                self.push(Edit(self._restore, label, before, after, gesture))
                if self.index() == ahead.clean:
                    self.setClean()
            self.setIndex(ahead.index)
        finally:
            self._muted = False
