"""What a change on the part card is called, and which other figures it takes the place of. No Qt here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sketch.card import card_remark, card_several, typed_flow
from sketch.card.card_draft import shown, table_of
from sketch.card.card_lines import LINES, WHOLE, CardLine
from sketch.card.part_lines import group_of
from sketch.editing.placing import is_place, place_text
from sketch.editing.remarks import Remark
from sketch.look.words import with_signs
from solver.findings.criteria import Finding
from solver.findings.kinds import FindingId
from solver.layout.parts import Layout
from solver.properties import families, fluid
from solver.properties.fluid import FluidError
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import uncapitalised

LONGEST = 40  # characters of a figure in a sentence
MOST = 2  # figures that are named one by one
NAMES = ("Kv", "Cv")  # of figures, which keep their capital
IN_A_SENTENCE = {
    "screen.bypass": "bypass opening pressure",
    "flow_rise": "time in which the flow rises",
    "depth": "depth",
    "draw_down": "volume drawn out by cylinders",
    "dry_lift": "height to which it primes",
    "case_volume": "volume of the case",
}
"""Of a figure whose label is no name of it."""
MARKED = {
    "screen.assumed": ("Mark the screen{} as assumed", "Confirm the screen{}"),
    "limit_assumed": ("Mark the limit{} as assumed", "Confirm the limit{}"),
    "at_rest": ("Put{} at rest", "Run{}"),
    "sealed": ("Seal{}", "Open{} to the air"),
}
"""What it is called when a line of yes or no is set, and when it is taken off."""


_OF_LENGTH = (FindingId.LONG_CONNECTOR, FindingId.REDUCER_WITHOUT_ROOM)


def without_room(findings: Iterable[Finding], name: str) -> list[str]:
    """How the length typed of a part stands against what is drawn, where there is too little of it."""
    return [f"{each.text}." for each in findings if each.part == name and each.finding in _OF_LENGTH]


def undo_text(layout: Layout, edited: Layout, names: Sequence[str], line: CardLine) -> str:
    """What the undo menu calls a change of a line of parts, or of the whole drawing for none."""
    several = len(names) > 1
    count = len(card_several.owners(layout, names)[line.key]) if several else 0
    owner = f"{count} parts" if several else "".join(names)
    of_owner = f" of {owner}" if owner else ""
    label = (
        IN_A_SENTENCE.get(line.key)
        or _of_straight(line)
        or lowered(line.label.removesuffix(f", {card_several.in_parts(count)}"))
    )
    value = _value(edited, names, line)
    done = f"Change {label}{of_owner} to {value}" if value else f"Clear {label}{of_owner}"
    if line.key in MARKED:
        of_it = of_owner if line.key.endswith("assumed") else f" {owner}"
        done = MARKED[line.key][value == "no"].format(of_it)
    lost = _in_words(replaced(layout, edited, names, line.key))
    return f"{done}, in place of {lost}" if lost else done


def _of_straight(line: CardLine) -> str:
    """What a straight is called in a sentence, without from where to where it is; "" of another line."""
    return lowered(line.label.partition(",")[0]) if line.key.startswith("straight.") else ""


def replaced_text(layout: Layout, edited: Layout, names: Sequence[str], line: CardLine) -> str:
    """What a typed figure takes the place of, or moves besides, as a sentence without its end; or ""."""
    lost = replaced(layout, edited, names, line.key)
    if not lost:
        return _moved_text(layout, edited, names, line)
    value = _value(edited, names, line)
    what = " ".join(filter(None, (line.label, value)))
    return f"{what} takes the place of {_in_words(lost)}"


def _moved_text(layout: Layout, edited: Layout, names: Sequence[str], line: CardLine) -> str:
    """What moved with a tank whose floor or left wall was put elsewhere; "" of any other figure."""
    tanks = [edited.reservoirs[name] for name in names if name in edited.reservoirs]
    if line.key not in (FLOOR, LEFT) or len(tanks) != 1 or len(names) != 1:
        return ""
    (tank,), inside = tanks, _moved_with(layout, edited)
    with_it = f", and {' and '.join(inside)} with it" if inside else ""
    moved = f"{line.label} {_value(edited, names, line)} moves all of {tank.name}{with_it}"
    if line.key == LEFT:
        return moved
    levels = f"normal {tank.normal_level.text}, minimum {tank.minimum_level.text}"
    return f"{moved}; its levels are as high over its floor as they were: {levels}"


def _moved_with(layout: Layout, edited: Layout) -> list[str]:
    """The parts that stand elsewhere, but for tanks."""
    groups = ("intakes", "fittings", "tees", "pumps")
    return [
        name
        for group in groups
        for name, part in getattr(edited, group).items()
        if name in getattr(layout, group) and part.at != getattr(layout, group)[name].at
    ]


FLOOR, LEFT = "side.floor", "side.left"


def replaced(layout: Layout, edited: Layout, names: Sequence[str], key: str) -> tuple[tuple[str, str], ...]:
    """Figures that were typed and are none any more, by what they are called; `key` is what was typed."""
    lost: dict[str, str] = {}
    for name in names or (WHOLE,):
        before, after = table_of(layout, name), table_of(edited, name)
        for line in LINES[group_of(layout, name)]:
            if line.key == key or line.flag or is_place(line.key):
                continue
            if (was := str(shown(before, line))) and not shown(after, line):
                lost[line.label] = with_signs(was)
    return tuple(lost.items())


def remark_text(edited: Layout, remark: Remark, line: CardLine) -> str:
    """What the undo menu calls a change of a line of a text or dimension."""
    value = _short(" ".join(str(card_remark.values(edited, remark)[line.key]).split()))
    return (
        f'Change a text to "{value}"'
        if line.words
        else f"Change a {remark.what}: {lowered(line.label)} {value}"
    )


def known_figures(layout: Layout, name: str, system: System) -> dict[str, str]:
    """What stands in the place of figures that are not typed, by the keys of the card of a part, or of the
    drawing for none."""
    if name in layout.pumps:
        return typed_flow.derived(layout.pumps[name], system)
    return {} if name else catalogue_figures(layout, system)


def catalogue_figures(layout: Layout, system: System) -> dict[str, str]:
    """What the catalogue has for a fluid at its temperature, by the keys of the card; none of one's own."""
    name = layout.fluid.name
    if name not in families.catalogue():
        return {}
    try:
        known = fluid.state(layout.fluid)
    except FluidError:
        return {}
    texts = {
        "fluid.viscosity": units.show(known.viscosity, Kind.VISCOSITY, system),
        "fluid.density": units.show(known.density, Kind.DENSITY, system),
        "fluid.vapor_pressure": units.show(known.vapor_pressure, Kind.ABSOLUTE, system),
        "fluid.dissolved_air": f"{known.dissolved_air:.2g}",
    }
    if (index := families.catalogue()[name].viscosity_index) is not None:
        texts["fluid.viscosity_index"] = f"{index:g}"
    return {key: f"{text}, listed" for key, text in texts.items()}


def lowered(label: str) -> str:
    """The name of a figure inside a sentence."""
    first = label.split()[0]
    return label if first.isupper() or first in NAMES else uncapitalised(label)


def _value(layout: Layout, names: Sequence[str], line: CardLine) -> str:
    if len(names) > 1:
        value = card_several.shared_value(layout, names, line)
    else:
        name = "".join(names)
        held = is_place(line.key)
        value = place_text(layout, name, line.key) if held else shown(table_of(layout, name), line)
    if line.flag:
        return "yes" if value else "no"
    return _short(str(value) if line.kind is None else with_signs(str(value)))


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1].rstrip()}…"


def _in_words(lost: Sequence[tuple[str, str]]) -> str:
    words = [f"the {lowered(label)} of {_short(value)}" for label, value in lost[:MOST]]
    if len(lost) > MOST:
        words.append(f"{len(lost) - MOST} more")
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
