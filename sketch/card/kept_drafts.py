"""What was typed on the card and refused, kept for each part while others are shown. No Qt here."""

from __future__ import annotations

from collections.abc import Iterator

from sketch.card.card_draft import Typed
from sketch.card.card_subject import CardSubject
from sketch.editing import building
from sketch.editing.edits import EditError
from sketch.model.outcome import has_part
from solver.layout.parts import Layout
from solver.quantities.units import System

Draft = dict[str, Typed]


class KeptDrafts:
    """By whose figures they are; each is given back once, where they are shown again, also where a part has
    another name by then."""

    def __init__(self) -> None:
        self._kept: dict[CardSubject, tuple[Layout, Draft]] = {}
        self._renamed: list[tuple[str, str]] = []

    def note_rename(self, old: str, new: str) -> None:
        """Note that a part has another name from now on."""
        self._renamed.append((old, new))
        self._kept = {
            named[0]: (named[1], draft)
            for subject, (before, draft) in self._kept.items()
            for named in (_renamed(subject, before, old, new),)
        }

    def keep(self, subject: CardSubject, before: Layout, draft: Draft, system: System, layout: Layout) -> str:
        """Keep what is typed of something, begun on a drawing; returns what to say of it.

        layout: the drawing as it is, by whose names it is said.
        """
        subject, before = self._as_named(subject, before, layout)
        self._kept[subject] = before, draft
        text = subject.draft_text(before, draft, system)
        again = f"until {subject.owner} {'are' if subject.is_several else 'is'} selected again"
        return f"Not taken over from the part card, and kept there {again}: {text}."

    def take(self, subject: CardSubject, layout: Layout) -> tuple[Layout | None, Draft]:
        """What was kept of something, with the drawing that it was begun on by the names of the drawing as it
        is; nothing where nothing was."""
        for kept, (before, draft) in self._kept.items():
            named, begun = self._as_named(kept, before, layout)
            if named == subject:
                del self._kept[kept]
                return begun, draft
        return None, {}

    def refused_texts(self, system: System, layout: Layout) -> Iterator[str]:
        """All that is kept, each with what it was typed as."""
        for kept, (before, draft) in self._kept.items():
            subject, begun = self._as_named(kept, before, layout)
            yield from subject.refused_texts(begun, draft, system)

    def _as_named(self, subject: CardSubject, before: Layout, layout: Layout) -> tuple[CardSubject, Layout]:
        """Something and the drawing that its draft was begun on, by the names of another drawing."""
        for name in subject.names:
            subject, before = _renamed(subject, before, name, self._name_in(layout, name))
        return subject, before

    def _name_in(self, layout: Layout, name: str) -> str:
        """A name that a part has had, in a drawing that has it by one of those; else as it is."""
        names = [name]
        for each in names:
            if has_part(layout, each):
                return each
            pairs = (pair for pair in self._renamed if each in pair)
            names += [other for pair in pairs for other in pair if other not in names]
        return name

    def forget(self) -> None:
        """Keep nothing, for another drawing is open."""
        self._kept.clear()
        self._renamed.clear()


def _renamed(subject: CardSubject, before: Layout, old: str, new: str) -> tuple[CardSubject, Layout]:
    """Something and the drawing that its draft was begun on, where a part has another name."""
    if old == new or old not in subject.names:
        return subject, before
    try:
        return subject.renamed(old, new), building.rename(before, old, new)
    except EditError:  # that drawing had another part of the name
        return subject, before
