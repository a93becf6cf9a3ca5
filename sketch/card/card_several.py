"""What the part card shows of several parts at once: the figures that they share. No Qt here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from sketch.card.card_draft import Refused, Typed, changed, shown, table_of
from sketch.card.card_lines import CardLine
from sketch.card.part_lines import group_of, lines_of
from sketch.editing.placing import is_place
from solver.layout.kinds import REDUCER_KINDS
from solver.layout.parts import Fitting, Layout
from solver.properties import sizes
from solver.quantities.units import System

VARIOUS = "various"
"""What an empty field says where the parts have different figures."""

SIZES = ("size", "bore")
_WORDS = {
    "pumps": ("pump", "pumps"),
    "runs": ("line", "lines"),
    "intakes": ("intake", "intakes"),
    "fittings": ("fitting", "fittings"),
    "tees": ("tee", "tees"),
    "reservoirs": ("tank", "tanks"),
}


def heading_of(layout: Layout, names: Sequence[str]) -> str:
    """What is selected, counted by kind."""
    counts = Counter(group_of(layout, name) for name in names)
    return ", ".join(f"{count} {_WORDS[group][count > 1]}" for group, count in counts.items())


def owners(layout: Layout, names: Sequence[str]) -> Mapping[str, tuple[str, ...]]:
    """By the key of a line, the parts that have it with the same choice, where two or more do.

    A size goes to the line alone: a pump's port is as its maker made it, and a reducer has two. Among pumps
    only it is theirs. What a part was copied from is each part's own.
    """
    pumps_alone = all(name in layout.pumps for name in names)
    having: dict[CardLine, list[str]] = {}
    for name in names:
        for line in lines_of(group_of(layout, name), table_of(layout, name)):
            fixed = line.key in SIZES and not pumps_alone and _has_own_size(layout, name)
            if not is_place(line.key) and not fixed and not line.key.endswith("own_part"):
                having.setdefault(line._replace(tip="", label="", empty=""), []).append(name)
    several = sorted(having.items(), key=lambda each: len(each[1]))
    return {line.key: tuple(parts) for line, parts in several if len(parts) > 1}


def _has_own_size(layout: Layout, name: str) -> bool:
    part = layout.part(name)
    return name in layout.pumps or (isinstance(part, Fitting) and part.kind in REDUCER_KINDS)


def shared_lines(layout: Layout, names: Sequence[str]) -> tuple[CardLine, ...]:
    """The lines of the card for several parts; each says how many of them have it, where not all do."""
    having = owners(layout, names)
    lines: dict[str, CardLine] = {}
    for name in names:
        for line in lines_of(group_of(layout, name), table_of(layout, name)):
            parts = having.get(line.key, ())
            if name in parts:
                lines.setdefault(line.key, line)
    return tuple(_of_several(layout, line, having[key], len(names)) for key, line in lines.items())


def in_parts(count: int) -> str:
    """How many of the parts on a card have a line."""
    return f"{count} part{'s' * (count > 1)}"


def _of_several(layout: Layout, line: CardLine, parts: Sequence[str], count: int) -> CardLine:
    label = line.label if len(parts) == count else f"{line.label}, {in_parts(len(parts))}"
    held = {shown(table_of(layout, name), line) for name in parts}
    if len(held) < 2:
        return line._replace(label=label)
    largest = max((size for size in sizes.names() if size in held), key=sizes.bore, default="")
    return line._replace(label=label, empty=line.empty if line.flag else VARIOUS, opens_at=largest)


def shared_value(layout: Layout, names: Sequence[str], line: CardLine) -> Typed:
    """What all the parts that have a line have there; "" where they differ, of a flag no."""
    values = {shown(table_of(layout, name), line) for name in owners(layout, names)[line.key]}
    return values.pop() if len(values) == 1 else False if line.flag else ""


def changed_in_all(
    layout: Layout, names: Sequence[str], draft: Mapping[str, Typed], system: System
) -> Layout:
    """The layout with everything in the draft done to every part that has it.

    Raises Refused where that makes no valid drawing of one of them, by its name.
    """
    having = owners(layout, names)
    for name in names:
        own = {key: typed for key, typed in draft.items() if name in having.get(key, ())}
        if own:
            try:
                layout = changed(layout, name, own, system)
            except Refused as refused:
                by_line = {key: f"{name}: {text}" for key, text in refused.by_line.items()}
                raise Refused(by_line, tuple(f"{name}: {text}" for text in refused.rest)) from refused
    return layout
