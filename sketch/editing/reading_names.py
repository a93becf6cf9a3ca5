"""What is named in a reading, as typed: the line it was taken on, the strokes of other pumps, valves shut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sketch.editing.edits import EditError
from solver.layout.keys import idle_keys
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.layout.readings import is_moment


def line(text: str, alternatives: Iterable[str]) -> str:
    """The line that a text names: one of the alternatives, or one of a date. Raises EditError."""
    known = tuple(alternatives)
    for name in known:
        if name.lower() == text.lower():
            return name
    if is_moment(text):
        return text
    names = f", or an alternative's name: {', '.join(known)}" if known else ""
    raise EditError(
        'found "{text}", which is no line of this drawing; allowed: nothing, for the drawing itself; the '
        "date that the line was built, such as 2026-03-04{names}",
        text=text, names=names,
    )  # fmt: skip


def strokes(layout: Layout, reading: LoggedReading, text: str) -> dict[str, str]:
    """Strokes of a reading with those of the other pumps as typed. Raises EditError."""
    own = {name: each for name, each in reading.strokes.items() if name == reading.pump}
    for part in filter(None, (each.strip() for each in text.split(";"))):
        name, _, stroke = (each.strip() for each in part.partition(":"))
        if name not in layout.pumps or name == reading.pump:
            others = [each for each in layout.pumps if each != reading.pump]
            raise EditError(
                "found no other pump {name}; allowed: {others}",
                name=name,
                others=_or_nothing(others, "other pump"),
            )
        own[name] = stroke
    return own


def shut_valves(layout: Layout, text: str) -> list[str]:
    """Names of valves that were shut, as typed. Raises EditError for what cannot be shut."""
    names = [each.strip() for each in text.split(",") if each.strip()]
    valves = [name for name, each in layout.fittings.items() if _may_be_shut(each.kind)]
    for name in names:
        if name not in valves:
            allowed = _or_nothing(valves, "valve that can be shut")
            raise EditError(
                "found no valve {name} that can be shut; allowed: {known}", name=name, known=allowed
            )
    return names


def _may_be_shut(kind: str) -> bool:
    return "state" not in idle_keys("fittings", {"kind": kind})


def _or_nothing(names: Sequence[str], what: str) -> str:
    """The names, or that there are none and the field stays empty."""
    return ", ".join(names) or f"nothing, as no {what} is drawn"
