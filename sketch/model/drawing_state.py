"""A drawing with its alternatives, which of them is shown, and how all follow a change of one. No Qt."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from sketch.editing import building, edits, remarks
from solver.layout import file
from solver.layout.cases import cases_of
from solver.layout.checks import LONGEST_NAME
from solver.layout.file import Alternative, Drawing
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.layout.remarks import OwnDimension, OwnText
from solver.layout.title_block import TitleBlock

BEGUN_FROM = "Begun from"
"""How the note of an alternative begins that nobody has written: it was copied from another."""


@dataclass(frozen=True, slots=True)
class State:
    """What one undo step restores: the drawing, and which of its alternatives is shown."""

    drawing: Drawing
    alternative: str

    @property
    def layout(self) -> Layout:
        """The layout that it shows."""
        return layout_of(self.drawing, self.alternative)

    def replaced(self, layout: Layout) -> State:
        """The state with that in the place of the layout that it shows."""
        return replace(self, drawing=with_layout(self.drawing, self.alternative, layout))


def layout_of(drawing: Drawing, alternative: str) -> Layout:
    """The base for "", or that alternative's whole layout. Raises KeyError."""
    return drawing.alternatives[alternative].layout if alternative else drawing.base


def with_layout(drawing: Drawing, alternative: str, layout: Layout) -> Drawing:
    """The drawing with one layout replaced; a change of the base goes through to the alternatives."""
    if alternative:
        changed = replace(drawing.alternatives[alternative], layout=layout)
        edited = replace(drawing, alternatives={**drawing.alternatives, alternative: changed})
        others = tuple(each.layout for name, each in drawing.alternatives.items() if name != alternative)
        dimensions = remarks.of_file(
            drawing.base.dimensions, layout.dimensions, layout, (drawing.base, *others)
        )
        edited = with_remarks(edited, layout.texts, dimensions)
        return with_readings(edited, _of_line(drawing.base.readings, layout.readings, alternative))
    follow = {
        name: replace(other, layout=edits.carry(drawing.base, layout, other.layout))
        for name, other in drawing.alternatives.items()
    }
    return replace(drawing, base=layout, alternatives=follow)


def with_text(drawing: Drawing, text: str) -> Drawing:
    """The drawing with the text of its file; itself where it has it, as at every move of a drag."""
    return drawing if drawing.text is text else replace(drawing, text=text)


def with_readings(drawing: Drawing, readings: tuple[LoggedReading, ...]) -> Drawing:
    """The drawing with other readings, which its alternatives have too: they belong to the file."""
    layouts = (drawing.base, *(each.layout for each in drawing.alternatives.values()))
    if all(layout.readings == readings for layout in layouts):
        return drawing
    others = {
        name: replace(each, layout=replace(each.layout, readings=readings))
        for name, each in drawing.alternatives.items()
    }
    return replace(drawing, base=replace(drawing.base, readings=readings), alternatives=others)


def with_remarks(
    drawing: Drawing, texts: tuple[OwnText, ...], dimensions: tuple[OwnDimension, ...]
) -> Drawing:
    """The drawing with other texts and dimensions, which its alternatives have too: they are the file's."""
    layouts = (drawing.base, *(each.layout for each in drawing.alternatives.values()))
    if all((layout.texts, layout.dimensions) == (texts, dimensions) for layout in layouts):
        return drawing
    base, *others = (replace(layout, texts=texts, dimensions=dimensions) for layout in layouts)
    named = zip(drawing.alternatives.items(), others, strict=True)
    alternatives = {name: replace(each, layout=layout) for (name, each), layout in named}
    return replace(drawing, base=base, alternatives=alternatives)


def with_ends_kept(before: State, after: State) -> State:
    """The state after a step: a dimension stays where a part was that no drawing of the file has any more."""
    drawing, old = after.drawing, before.drawing
    if not drawing.base.dimensions:
        return after
    now, then = (
        (each.base, *(other.layout for other in each.alternatives.values())) for each in (drawing, old)
    )
    unread = tuple(broken.table for broken in drawing.broken.values())
    kept = remarks.with_ends_kept(drawing.base.dimensions, now, then, unread)
    if kept == drawing.base.dimensions:
        return after
    return replace(after, drawing=with_remarks(drawing, drawing.base.texts, kept))


def with_title_block(state: State, block: TitleBlock) -> State:
    """The state with another title block, which alternatives have too: it belongs to the file."""
    drawing = state.drawing
    others = {
        name: replace(each, layout=replace(each.layout, title_block=block))
        for name, each in drawing.alternatives.items()
    }
    base = replace(drawing.base, title_block=block)
    return replace(state, drawing=replace(drawing, base=base, alternatives=others))


def with_title_or_notes(state: State, key: str, words: str, instead_of: str) -> State:
    """The state with another title or other notes, in every drawing of it that has these until now."""

    changed: dict[str, Any] = {key: words}

    def worded(layout: Layout) -> Layout:
        return replace(layout, **changed) if getattr(layout, key) == instead_of else layout

    drawing = state.drawing
    others = {name: replace(each, layout=worded(each.layout)) for name, each in drawing.alternatives.items()}
    return replace(state, drawing=replace(drawing, base=worded(drawing.base), alternatives=others))


def state_with_readings(state: State, readings: tuple[LoggedReading, ...]) -> State:
    """The state with other readings in its drawing."""
    return replace(state, drawing=with_readings(state.drawing, readings))


def _of_line(
    before: tuple[LoggedReading, ...], after: tuple[LoggedReading, ...], line: str
) -> tuple[LoggedReading, ...]:
    """Readings after an edit of one alternative: those of other lines keep their places."""
    if len(before) != len(after):
        return after
    return tuple(new if line in (old.line, new.line) else old for old, new in zip(before, after, strict=True))


def alternative_trouble(state: State, layout: Layout) -> str:
    """What an alternative could not be saved for if the drawing itself became `layout`; "" for nothing."""
    if state.alternative:
        return ""
    return trouble_of_alternatives(with_layout(state.drawing, "", layout))


def trouble_of_alternatives(drawing: Drawing) -> str:
    """What an alternative could not be saved for; "" for nothing."""
    for name, other in drawing.alternatives.items():
        for problem in file.check(other.layout):
            return f"the alternative {name} would not hold: {_in_words(problem.key, problem.found)}"
    return ""


def _in_words(key: str, refused: str) -> str:
    """What is wrong with a figure of a part, by the name of that and not by the keys of a file."""
    _, _, rest = key.partition(".")
    part, _, figure = rest.rpartition(".")
    figure = {"at": "place"}.get(figure, figure.replace("_", " "))
    text = re.sub(r'^\["([^"]*)", "([^"]*)"\]', r"\1; \2", refused)
    return ", ".join(filter(None, (part.strip('"'), f"{figure} {text}".strip())))


def renamed(state: State, name: str, wanted: str) -> State:
    """A part under another name wherever the drawing and its alternatives have it. Raises EditError."""
    drawing = state.drawing
    others = {
        key: replace(other, layout=building.rename(other.layout, name, wanted))
        for key, other in drawing.alternatives.items()
    }
    base = building.rename(drawing.base, name, wanted)
    named = replace(drawing, base=base, alternatives=others)
    dimensions = remarks.renamed(drawing.base.dimensions, name, wanted)
    named = with_remarks(named, base.texts, dimensions)
    layouts = (base, *(other.layout for other in others.values()))
    changed = [each.readings for each in layouts if each.readings != drawing.base.readings]
    return replace(state, drawing=with_readings(named, changed[0]) if changed else named)


def with_cases(state: State, change: Callable[[Layout], Layout]) -> State:
    """A change of the cases in the layout that is shown, and in the base and the other alternatives too.

    What happens to a line happens to whatever is built. An alternative that does not take the change itself,
    as a part of the case is not in it, has the case as the base has it. Raises EditError where the layout
    that is shown does not take the change.
    """
    drawing, shown = state.drawing, change(state.layout)
    base = _applied_or(change, drawing.base, drawing.base) if state.alternative else shown

    def carried(layout: Layout) -> Layout:
        cases = edits.carry(drawing.base.cases, base.cases, layout.cases)
        return _applied_or(change, layout, replace(layout, cases=cases))

    others = {
        name: replace(other, layout=shown if name == state.alternative else carried(other.layout))
        for name, other in drawing.alternatives.items()
    }
    changed = replace(drawing, base=base, alternatives=others)
    return replace(state, drawing=with_readings(changed, shown.readings))


def with_case_figure(state: State, case: str, change: Callable[[Layout], Layout]) -> State:
    """A figure of a case changed in the alternative that is shown, and in the drawing itself where that has
    the case and takes the figure; other alternatives follow the drawing. Raises EditError.

    Alternatives are compared case by case: what happens to a line must not be milder in one of them unasked.
    """
    drawing, shown = state.drawing, change(state.layout)
    base = drawing.base
    if case in cases_of(base):
        base = _applied_or(change, base, base)
    return replace(state, drawing=with_layout(with_layout(drawing, "", base), state.alternative, shown))


def _applied_or(change: Callable[[Layout], Layout], layout: Layout, otherwise: Layout) -> Layout:
    try:
        return change(layout)
    except edits.EditError:
        return otherwise


def next_alternative(state: State, step: int) -> str:
    """The alternative so many steps on from the one shown; the drawing itself is one of the round."""
    names = ("", *state.drawing.alternatives)
    return names[(names.index(state.alternative) + step) % len(names)]


def with_alternative(state: State, name: str) -> State:
    """The drawing with what is shown kept as an alternative of that name, which is shown from then on.

    Raises ValueError for a name that is taken or that a layout file would refuse.
    """
    if not name.strip() or len(name) > LONGEST_NAME or not name.isprintable():
        raise ValueError(f"a name has 1 to {LONGEST_NAME} printable characters")
    if name in state.drawing.alternatives:
        raise ValueError(f'there is an alternative "{name}" already')
    note = f"{BEGUN_FROM} {state.alternative}." if state.alternative else ""
    alternatives = {**state.drawing.alternatives, name: Alternative(note, state.layout)}
    return State(replace(state.drawing, alternatives=alternatives), name)


def written_note(alternative: Alternative) -> str:
    """The note of an alternative for a reader; "" where nobody has written it."""
    is_automatic = alternative.note.startswith(f"{BEGUN_FROM} ") and ". " not in alternative.note
    return "" if is_automatic else alternative.note


def without_alternative(state: State) -> State:
    """The drawing without the alternative that is shown; the base is shown from then on."""
    kept = {name: each for name, each in state.drawing.alternatives.items() if name != state.alternative}
    return State(replace(state.drawing, alternatives=kept), "")
