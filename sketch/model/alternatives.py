"""What can be done with alternatives: kept from a change, renamed, noted, moved, promoted. Pure functions."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace

from sketch.editing import beginning, copies, selection, taps
from sketch.editing.edits import EditError
from sketch.model.drawing_state import State, with_layout, with_readings
from solver.layout import file
from solver.layout.checks import LONGEST_NAME
from solver.layout.file import Alternative, Drawing
from solver.layout.parts import Layout
from solver.quantities.wording import capitalised

MOST_OF_NAME = 76
"""Characters of a change that become the name of its alternative; the note has all of a longer one."""

_WHICH_STARTS = re.compile(r" before the start in (every case that is colder|the case [^,]*?)(?=, and |, |$)")
"""Of a fluid to be warmed: they go from a long name before its temperature would."""


def free_name(state: State, wanted: str) -> str:
    """The name, or with the first number that makes it new among the alternatives."""
    name, number = wanted, 2
    while name in state.drawing.alternatives or name in state.drawing.broken:
        name, number = f"{wanted} {number}", number + 1
    return name


def kept(state: State, change: str, layout: Layout, note: str = "") -> State:
    """A layout kept as an alternative under a free name made from its change; what is shown stays shown.

    note: what the name does not say; after the change in full where the name has no room for it.
    """
    name = _short(change)
    whole = f"{_capital(change)}." if name != _capital(change) else ""
    written = " ".join(each for each in (whole, note) if each)
    alternative = Alternative(written, replace(layout, units=state.layout.units))
    return _with(state, {**state.drawing.alternatives, free_name(state, name): alternative})


def kept_and_shown(state: State, change: str, layout: Layout) -> State:
    """A layout kept as an alternative under a free name made from its change, which is then shown."""
    after = kept(state, change, layout)
    (name,) = after.drawing.alternatives.keys() - state.drawing.alternatives.keys()
    return replace(after, alternative=name)


def is_kept(drawing: Drawing, change: str, layout: Layout) -> bool:
    """Whether a change is an alternative already, by the name it was kept under or by what it makes."""
    alike = (
        each.layout == replace(layout, units=each.layout.units) for each in drawing.alternatives.values()
    )
    return _short(change) in drawing.alternatives or any(alike)


def _short(change: str) -> str:
    name = _capital(change)
    if len(name) > MOST_OF_NAME:
        name = _WHICH_STARTS.sub("", name)
    return name if len(name) <= MOST_OF_NAME else name[: MOST_OF_NAME - 1].rstrip() + "…"


def _capital(change: str) -> str:
    return capitalised(change)


def renamed(state: State, name: str, wanted: str) -> State:
    """An alternative under another name, at its own place.

    Raises ValueError for a name that is taken or that a layout file would refuse, KeyError for an unknown
    alternative.
    """
    state.drawing.alternatives[name]
    called = wanted.strip()
    if not called or len(called) > LONGEST_NAME or not called.isprintable():
        raise ValueError(f"a name has 1 to {LONGEST_NAME} printable characters")
    if called != name and (called in state.drawing.alternatives or called in state.drawing.broken):
        raise ValueError(f'there is an alternative "{called}" already')
    others = state.drawing.alternatives.items()
    shown = called if state.alternative == name else state.alternative
    changed = _with(state, {called if key == name else key: each for key, each in others})
    readings = taps.line_renamed(state.drawing.base.readings, name, called)
    return State(with_readings(changed.drawing, readings), shown)


def with_note(state: State, name: str, note: str) -> State:
    """An alternative with another note. Raises KeyError."""
    alternative = replace(state.drawing.alternatives[name], note=note.strip())
    return _with(state, {**state.drawing.alternatives, name: alternative})


def moved(state: State, name: str, step: int) -> State:
    """An alternative so many places further on in their order, no farther than there are. Raises KeyError."""
    names = list(state.drawing.alternatives)
    at = names.index(name) if name in names else -1
    if at < 0:
        raise KeyError(name)
    names.insert(max(0, min(at + step, len(names) - 1)), names.pop(at))
    return _with(state, {each: state.drawing.alternatives[each] for each in names})


def mended(state: State, name: str) -> State:
    """An alternative that does not hold without what keeps it from that. Errors as `file.with_mended`."""
    return replace(state, drawing=file.with_mended(state.drawing, name))


def dropped(state: State, name: str) -> State:
    """The drawing without an alternative that does not hold. Raises KeyError."""
    broken = dict(state.drawing.broken)
    del broken[name]
    return replace(state, drawing=replace(state.drawing, broken=broken))


def promoted(state: State, name: str, called: str) -> State:
    """An alternative made the drawing itself, which is shown; the drawing until now is kept as `called`.

    Every other alternative stays what it is. Raises KeyError for an unknown one, ValueError as `renamed`.
    """
    drawing, chosen = state.drawing, state.drawing.alternatives[name]
    before = Alternative(f"The drawing before {name} took its place", drawing.base)
    others = {
        called if key == name else key: before if key == name else each
        for key, each in drawing.alternatives.items()
    }
    if called != name and (called in drawing.alternatives or called in drawing.broken):
        raise ValueError(f'there is an alternative "{called}" already')
    readings = taps.lines_exchanged(drawing.base.readings, "", name, called)
    return State(with_readings(replace(drawing, base=chosen.layout, alternatives=others), readings), "")


def with_copies(state: State, layout: Layout, originals: Mapping[str, str]) -> State:
    """The state with a layout in which parts were copied; each alternative has a copy as it has its original.

    originals: the names of the copies, by their originals'.
    """
    base = state.drawing.base
    if state.alternative:
        return replace(state, drawing=with_layout(state.drawing, state.alternative, layout))
    layout = beginning.drop_note(layout)
    drawing = with_layout(state.drawing, "", layout)
    others = {
        name: replace(each, layout=copies.in_alternative(drawing.base, each.layout, base, originals))
        for name, each in drawing.alternatives.items()
    }
    return replace(state, drawing=replace(drawing, alternatives=others))


def with_removed(state: State, layout: Layout, names: Collection[str]) -> State:
    """The state with a layout that parts were taken out of; an alternative that varies one loses it too."""
    base = state.drawing.base
    if state.alternative:
        return replace(state, drawing=with_layout(state.drawing, state.alternative, layout))
    layout = beginning.drop_note(layout)
    drawing = with_layout(state.drawing, "", layout)
    gone = [name for name in selection.everything(base) if not selection.has_part(layout, name)]
    others = {
        name: replace(
            each, layout=_without(state.drawing.alternatives[name].layout, each.layout, names, gone)
        )
        for name, each in drawing.alternatives.items()
    }
    return replace(state, drawing=replace(drawing, alternatives=others))


def _without(other: Layout, carried: Layout, names: Collection[str], gone: Collection[str]) -> Layout:
    """An alternative as it follows its base, or without those parts itself where it has kept one of them."""
    if not any(selection.has_part(carried, name) for name in gone):
        return carried
    try:
        return selection.remove(other, [name for name in names if selection.has_part(other, name)])
    except EditError:
        return carried


def _with(state: State, alternatives: dict[str, Alternative]) -> State:
    return replace(state, drawing=replace(state.drawing, alternatives=alternatives))
