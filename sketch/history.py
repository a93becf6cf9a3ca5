"""Undo: one command class that holds the drawing before and after."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from PySide6.QtGui import QUndoCommand, QUndoStack

from sketch import edits
from solver.layout import Layout
from solver.layout_file import Drawing


@dataclass(frozen=True, slots=True)
class State:
    """What one undo step restores: the drawing, and which of its alternatives is shown."""

    drawing: Drawing
    alternative: str

    @property
    def layout(self) -> Layout:
        return layout_of(self.drawing, self.alternative)


class Edit(QUndoCommand):
    """One change of the drawing. Changes of the same gesture merge into one."""

    def __init__(
        self, show: Callable[[State], None], label: str, before: State, after: State, gesture: int
    ) -> None:
        super().__init__(label)
        self._show, self._before, self._after, self._gesture = show, before, after, gesture
        self.give_up = False  # the next undo drops the step instead of keeping it for redo

    def id(self) -> int:
        return self._gesture or -1

    def redo(self) -> None:
        self._show(self._after)

    def undo(self) -> None:
        self._show(self._before)
        self.setObsolete(self.give_up)

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, Edit):
            return False
        self._after = other._after
        self.setObsolete(self._before == self._after)
        return True


@dataclass(frozen=True, slots=True)
class Ahead:
    """What could be redone before a gesture began: Qt's stack drops it at the first push."""

    gesture: int
    index: int
    clean: int
    steps: tuple[tuple[str, State, State, int], ...]  # (label, before, after, gesture) of each command


def ahead_of(stack: QUndoStack, gesture: int) -> Ahead:
    """What a stack holds beyond its index."""
    commands = (stack.command(at) for at in range(stack.index(), stack.count()))
    steps = tuple(
        (each.text(), each._before, each._after, each._gesture) for each in commands if isinstance(each, Edit)
    )
    return Ahead(gesture, stack.index(), stack.cleanIndex(), steps)


def bring_back(stack: QUndoStack, ahead: Ahead, show: Callable[[State], None]) -> None:
    """Put behind the index again what a gesture that came to nothing has pushed off. `show` must be mute."""
    for label, before, after, gesture in ahead.steps:
        stack.push(Edit(show, label, before, after, gesture))
        if stack.index() == ahead.clean:
            stack.setClean()
    stack.setIndex(ahead.index)


def layout_of(drawing: Drawing, alternative: str) -> Layout:
    """The base for "", or that alternative's whole layout. Raises KeyError."""
    return drawing.alternatives[alternative].layout if alternative else drawing.base


def with_layout(drawing: Drawing, alternative: str, layout: Layout) -> Drawing:
    """The drawing with one layout replaced; a change of the base goes through to the alternatives."""
    if alternative:
        changed = replace(drawing.alternatives[alternative], layout=layout)
        return replace(drawing, alternatives={**drawing.alternatives, alternative: changed})
    follow = {
        name: replace(other, layout=edits.carry(drawing.base, layout, other.layout))
        for name, other in drawing.alternatives.items()
    }
    return replace(drawing, base=layout, alternatives=follow)
