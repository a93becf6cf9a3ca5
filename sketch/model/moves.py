"""A pump that is moved again is moved from where it stood first, so that the way it went leaves no trace."""

from __future__ import annotations

from dataclasses import replace

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.history import Edit
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout


def before_moves(document: Document, pump: str) -> Layout:
    """The layout that a pump was moved in, where what is shown is that and nothing else was done since.

    What is shown itself where the last step was no move of the pump.
    """
    now, stack, first = document.layout, document.undo_stack, document.layout
    for at in range(stack.index() - 1, -1, -1):
        step = stack.command(at)
        if not isinstance(step, Edit):
            break
        _, before, after, _ = step.step
        if {before.alternative, after.alternative} != {document.alternative}:
            break
        if not _may_have_moved(before.layout, after.layout, pump):
            break
        if _moved(before.layout, pump, now) == now:
            first = before.layout
    return first


def _may_have_moved(before: Layout, after: Layout, pump: str) -> bool:
    """Whether a step may have moved that pump and no other."""
    was, now = before.pumps.get(pump), after.pumps.get(pump)
    others = (each for each in after.pumps if each != pump)
    return (
        was is not None
        and now is not None
        and was.at != now.at
        and before.pumps.keys() == after.pumps.keys()
        and all(before.pumps[each] == after.pumps[each] for each in others)
    )


def moved_from(first: Layout, pump: str, moved: Layout) -> Layout:
    """`first` with a pump where it is in `moved`; `moved` where it cannot be there."""
    return _moved(first, pump, moved) or moved


def _moved(first: Layout, pump: str, to: Layout) -> Layout | None:
    """A layout with a pump where it is in another one; None where it cannot be there, or is no part of it."""
    if pump not in to.pumps:
        return None
    place = to.pumps[pump].at
    try:
        moved = edits.move_part(first, pump, *(each.si for each in place))
    except (edits.EditError, GeometryError):
        return None
    part = moved.pumps[pump]
    return moved if part.at == place else edits.with_joint(moved, replace(part, at=place))


def moved_again(document: Document, pump: str, moved: Layout) -> Layout:
    """A layout in which a pump has been moved, as if it had gone there from where it stood first."""
    return moved_from(before_moves(document, pump), pump, moved)
