"""What was typed on the card and refused, kept for each part while others are shown. No Qt here."""

from __future__ import annotations

from sketch.card.card_draft import Typed
from sketch.card.card_subject import CardSubject
from solver.layout.parts import Layout
from solver.quantities.units import System


class KeptDrafts:
    """By whose figures they are; each is given back once, where they are shown again."""

    def __init__(self) -> None:
        self._kept: dict[CardSubject, tuple[Layout, dict[str, Typed]]] = {}

    def keep(self, subject: CardSubject, before: Layout, draft: dict[str, Typed], system: System) -> str:
        """Keep what is typed of something, begun on a drawing; returns what to say of it."""
        self._kept[subject] = before, draft
        text = subject.draft_text(before, draft, system)
        again = f"until {subject.owner} {'are' if subject.is_several else 'is'} selected again"
        return f"Not taken over from the part card, and kept there {again}: {text}."

    def take(self, subject: CardSubject) -> tuple[Layout | None, dict[str, Typed]]:
        """What was kept of something, with the drawing that it was begun on; nothing where nothing was."""
        return self._kept.pop(subject, (None, {}))

    def forget(self) -> None:
        """Keep nothing, for another drawing is open."""
        self._kept.clear()
