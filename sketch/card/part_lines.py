"""Which lines the card of a part has, what they say while they are empty, and its heading. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sketch.card.card_lines import FLUID_NAME, LINES, NOT_STATED, WHOLE, CardLine
from sketch.editing import stock
from solver.layout import raw as layout_raw
from solver.layout.keys import idle_keys
from solver.layout.kinds import FOR_WATER, VALVE_KINDS, FittingKind
from solver.layout.parts import Layout
from solver.network.coefficients import CONNECTOR_BORES
from solver.properties import cloth, families
from solver.quantities import units
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised

ASSUMED: Mapping[str, tuple[str, ...]] = {
    "limit_assumed": ("limit.vacuum", "limit.pressure", "limit.npsh"),
    "screen.assumed": ("screen.mesh", "screen.wire", "screen.area"),
}
"""The figures that each mark says nobody has stated."""


def assumed_keys(values: Mapping[str, str | bool]) -> frozenset[str]:
    """The figures that nobody has stated, of what the fields of a card hold."""
    return frozenset(key for mark, keys in ASSUMED.items() if values.get(mark) is True for key in keys)


def begun_keys(
    layout: Layout, values: Mapping[str, str | bool], own: Mapping[str, Any] | None = None
) -> frozenset[str]:
    """The speed and displacement that a new pump comes with, where nothing says that somebody has typed them.

    Either is an ordinary figure, and may be typed: one alone counts only while the limit is assumed too, or
    as the speed that a part of one's own leaves to the drawing (`own`, its table).
    """
    new = stock.pump(layout, "", 0.0, 0.0)
    figures = {"displacement": new.displacement, "speed": new.speed}
    held = frozenset(key for key, figure in figures.items() if figure and values.get(key) == figure.text)
    if len(held) == len(figures) or values.get("limit_assumed") is True:
        return held
    return held & {"speed"} if own is not None and not {"speed", "flow"} & own.keys() else frozenset()


def group_of(layout: Layout, name: str) -> str:
    """The group a part stands in; WHOLE for the drawing itself. Raises KeyError."""
    return layout_raw.part_raw(layout, name)[0] if name else WHOLE


ASKED_FOR: Mapping[str, str] = {
    "fluid.viscosity": "asked for",
    "fluid.viscosity_index": "none",
    "fluid.density": "asked for",
    "fluid.vapor_pressure": "missing: not checked for boiling",
    "fluid.dissolved_air": "missing: not checked for free air",
}
"""What the empty field of a fluid of one's own says, which the catalogue has no figure for."""


def lines_of(group: str, raw: Mapping[str, object]) -> tuple[CardLine, ...]:
    """The lines that have a meaning for a part with that table."""
    idle = idle_keys(group, dict(raw)) if group else frozenset()
    lines = tuple(line for line in LINES[group] if line.path[0] not in idle)
    if wire := _usual_wire(raw.get("screen")):
        lines = tuple(
            line._replace(options=(wire,), open=True) if line.key == "screen.wire" else line for line in lines
        )
    if group == "fittings":
        lines = tuple(_of_fitting(line, raw) for line in lines if line.key != "state" or _has_state(raw))
    if group == "pumps":
        lines = tuple(_of_limit(line, raw) for line in lines)
    if group == "runs":
        lines += _straights(raw.get("via"))
    fluid = raw.get("fluid")
    if isinstance(fluid, dict) and fluid.get("name") not in families.catalogue():
        return tuple(line._replace(empty=ASKED_FOR.get(line.key, line.empty)) for line in lines)
    return lines


def _has_state(raw: Mapping[str, object]) -> bool:
    """Whether a fitting can be shut, or a file says that it is."""
    return raw.get("kind") in VALVE_KINDS or "state" in raw


def _of_fitting(line: CardLine, raw: Mapping[str, object]) -> CardLine:
    """A line of a fitting, which says what holds for its kind while nothing is typed."""
    if line.key != "length" or raw.get("kind") != FittingKind.FLEXIBLE_CONNECTOR:
        return line
    tip = "Of the short hose or bellows; its loss counts on top of the lines, drawn up to its middle"
    return line._replace(empty=f"{CONNECTOR_BORES:g} bores", tip=tip)


def _of_limit(line: CardLine, raw: Mapping[str, object]) -> CardLine:
    """A line of a pump, which says what its limit counts as stated for where its maker says nothing of it."""
    limit = raw.get("limit")
    in_head = isinstance(limit, dict) and "npsh" in limit  # the weight of a fluid does not count
    if line.empty != NOT_STATED or in_head or "rated_density" in raw or "rated_fluid" in raw:
        return line
    fluid = "cold water" if raw.get("type") in FOR_WATER else "petroleum oil"
    taken = f"Not stated: it counts as stated for {fluid}"
    return line._replace(empty=f"of {fluid}" if line.kind else fluid, tip=f"{line.tip}.\n{taken}")


def _usual_wire(screen: object) -> str:
    """What the wire of a screen's mesh usually is, to be offered; "" where that is not known."""
    mesh = screen.get("mesh") if isinstance(screen, dict) else None
    try:
        usual = cloth.usual_wire(units.quantity(str(mesh), Kind.WIRES).si)
    except units.UnitError:
        return ""
    return "" if usual is None else usual[0]


def with_fluids(lines: tuple[CardLine, ...], names: tuple[str, ...]) -> tuple[CardLine, ...]:
    """The lines with fluids of one's own in the list of fluids."""
    if not names:
        return lines
    return tuple(
        line._replace(options=(*line.options, *names)) if line.key == FLUID_NAME else line for line in lines
    )


def _straights(via: object) -> tuple[CardLine, ...]:
    """The length of every straight of a run, by the corners in its table."""
    count = len(via) + 1 if isinstance(via, list) else 1
    tip = (
        "As drawn, from corner to corner; its far end moves along it. The ledger and the drawing to scale "
        "have it less its bends"
    )
    to = ", to the corner" if count > 1 else ""
    between = ", between corners" if count > 1 else ""
    return tuple(
        CardLine(
            f"straight.{at + 1}",
            f"Straight {at + 1}{between if 0 < at < count - 1 else to}",
            Kind.LENGTH,
            tip=tip,
        )
        for at in range(count)
    )


def heading(layout: Layout, name: str, alternative: str = "") -> str:
    """What a part is, in a few words; `alternative` is the one that its figures are of, "" for none."""
    only = f" – in the alternative {alternative} only" if alternative else ""
    return _what(layout, name, alternative) + only


def _what(layout: Layout, name: str, alternative: str) -> str:
    if not name:
        return "Site and fluid" if alternative else "Site and fluid, for the whole drawing"
    group, raw = layout_raw.part_raw(layout, name)
    if group == "runs":
        run = layout.runs[name]
        return f"Line from {run.start} to {run.end}"
    kinds = {"pumps": f"{raw.get('type')} pump", "tees": "tee", "reservoirs": "reservoir"}
    what = kinds.get(group) or str(raw.get("kind"))
    return capitalised(what)
