"""What a card is about: one part, the whole drawing, several parts, a text or dimension. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sketch.card import card_remark, card_several, card_words, typed_flow
from sketch.card.card_draft import Refused, Typed, changed, drafted, shown
from sketch.card.card_lines import LINES, WHOLE, CardLine
from sketch.card.part_lines import group_of, heading, lines_of
from sketch.editing.placing import AT, is_place, place_text
from sketch.editing.remarks import Remark, count
from sketch.model.outcome import has_part
from solver.geometry.followed import followed_text, with_followed
from solver.layout.parts import Layout
from solver.quantities.units import System
from solver.quantities.wording import capitalised, uncapitalised

Draft = Mapping[str, Typed]
THE_WHOLE = "Site and fluid"


@dataclass(frozen=True, slots=True)
class CardSubject:
    """The parts that the card shows, by name, or a remark; none for the drawing as a whole."""

    names: tuple[str, ...] = ()
    remark: Remark | None = None

    @property
    def is_several(self) -> bool:
        """Whether it is more than one part."""
        return len(self.names) > 1

    @property
    def name(self) -> str:
        """The one part; "" for the drawing as a whole, and for several."""
        return self.names[0] if len(self.names) == 1 else WHOLE

    @property
    def is_whole(self) -> bool:
        """Whether it is the drawing as a whole."""
        return not self.names and self.remark is None

    @property
    def owner(self) -> str:
        """Whose figures they are, in few words."""
        if self.remark is not None:
            return f"a {self.remark.what}"
        return f"{len(self.names)} parts" if self.is_several else self.name or THE_WHOLE

    def is_in(self, layout: Layout) -> bool:
        """Whether a layout has all of it."""
        if self.remark is not None and self.remark.number >= count(layout, self.remark.what):
            return False
        return all(has_part(layout, name) for name in self.names)

    def heading(self, layout: Layout, system: System, alternative: str = "") -> str:
        """What it is, in a few words; `alternative` is the one that its figures are of, "" for none."""
        if self.remark is not None:
            return card_remark.heading(layout, self.remark, system)
        if not self.is_several:
            return heading(layout, self.name, alternative)
        only = f" – in the alternative {alternative} only" if alternative else ""
        return card_several.heading_of(layout, self.names) + only

    def undo_text(self, layout: Layout, edited: Layout, line: CardLine) -> str:
        """What the undo menu calls a change of a line."""
        if self.remark is not None:
            return card_words.remark_text(edited, self.remark, line)
        if typed_flow.gave_displacement(edited, self.names, line.key):
            line = next(each for each in LINES["pumps"] if each.key == typed_flow.DISPLACEMENT)
        return with_followed(card_words.undo_text(layout, edited, self.names, line), layout, edited)

    def replaced_text(self, layout: Layout, edited: Layout, line: CardLine) -> str:
        """Which other figures a change of a line takes the place of, and what else it does to lines; "" for
        nothing."""
        lost = "" if self.remark else card_words.replaced_text(layout, edited, self.names, line)
        return ". ".join(filter(None, (lost, capitalised(followed_text(layout, edited)))))

    def texts_of_change(
        self, layout: Layout, edited: Layout, draft: Draft, lines: Sequence[CardLine], system: System
    ) -> tuple[str, str]:
        """What the undo menu calls all that was typed, and what it took the place of, line by line."""
        alone = [(line, self._with_line(layout, edited, draft, line, system)) for line in lines]
        first, *others = (self.undo_text(layout, one, line) for line, one in alone)
        lost = (
            typed_flow.text_of_flow(one, self.name, str(draft[line.key]))
            if self.name and typed_flow.gave_displacement(one, self.names, line.key)
            else self.replaced_text(layout, one, line)
            for line, one in alone
        )
        return "; ".join((first, *map(uncapitalised, others))), ". ".join(filter(None, lost))

    def _with_line(
        self, layout: Layout, edited: Layout, draft: Draft, line: CardLine, system: System
    ) -> Layout:
        """The layout with what was typed into one line; with all of it where that holds together alone."""
        if len(draft) == 1:
            return edited
        try:
            return self.changed(layout, {line.key: draft[line.key]}, system)
        except Refused:
            return edited

    def moves_pump(self, layout: Layout, draft: Draft) -> bool:
        """Whether what is typed moves a pump and does nothing else."""
        return self.name in layout.pumps and all(key in AT for key in draft)

    def lines(self, layout: Layout, draft: Draft, system: System) -> tuple[CardLine, ...]:
        """The lines that have a meaning, with everything in the draft typed."""
        if self.remark is not None:
            return card_remark.lines(layout, self.remark)
        if self.is_several:
            return card_several.shared_lines(layout, self.names)
        return lines_of(group_of(layout, self.name), drafted(layout, self.name, draft, system))

    def values(
        self, layout: Layout, draft: Draft, system: System, lines: tuple[CardLine, ...]
    ) -> dict[str, Typed]:
        """What every line's field holds: what is typed, else what the drawing has."""
        if self.remark is not None:
            return {**card_remark.values(layout, self.remark), **draft}
        if self.is_several:
            shared = {line.key: card_several.shared_value(layout, self.names, line) for line in lines}
            return {**shared, **draft}
        table = drafted(layout, self.name, draft, system)
        own = {
            line.key: place_text(layout, self.name, line.key) if is_place(line.key) else shown(table, line)
            for line in lines
        }
        return {**own, **draft}

    def is_alike(self, layout: Layout, other: Layout, draft: Draft, system: System) -> bool:
        """Whether what is typed would take the place of the very same figures in two layouts."""
        if not self.is_in(layout) or not self.is_in(other):
            return False
        one, two = (self.values(each, {}, system, self.lines(each, {}, system)) for each in (layout, other))
        return all(one.get(key) == two.get(key) for key in draft)

    def refusal(self, layout: Layout, draft: Draft, system: System) -> Refused | None:
        """Why what is typed makes no valid drawing; None where it does, or nothing is typed."""
        try:
            if draft:
                self.changed(layout, draft, system)
        except Refused as refused:
            return refused
        return None

    def draft_text(self, layout: Layout, draft: Draft, system: System) -> str:
        """What is typed, by the names of its lines."""
        labels = {line.key: line.label for line in self.lines(layout, {}, system)}
        return ", ".join(f'{labels.get(key, key)} "{typed}"' for key, typed in draft.items())

    def refused_texts(self, layout: Layout, draft: Draft, system: System) -> tuple[str, ...]:
        """What is typed, each with the name of its line and whose it is."""
        labels = {line.key: line.label for line in self.lines(layout, draft, system)}
        return tuple(f'"{typed}" in {labels.get(key, key)} of {self.owner}' for key, typed in draft.items())

    def renamed(self, old: str, new: str) -> CardSubject:
        """The subject where a part is called otherwise."""
        return replace(self, names=tuple(new if name == old else name for name in self.names))

    def changed(self, layout: Layout, draft: Draft, system: System) -> Layout:
        """The layout with everything in the draft done. Raises Refused."""
        if self.remark is not None:
            return card_remark.changed(layout, self.remark, draft, system)
        if self.is_several:
            return card_several.changed_in_all(layout, self.names, draft, system)
        return changed(layout, self.name, draft, system)
