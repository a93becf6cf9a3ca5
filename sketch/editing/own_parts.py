"""Parts out of a catalogue of one's own, put into a drawing, and a drawing's parts as ones of a catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from solver.layout import file
from solver.layout import raw as layout_raw
from solver.layout.file import LayoutErrors
from solver.layout.keys import idle_keys
from solver.layout.own_parts import OF_ITS_PLACE, Catalogue, OwnPart, own_table
from solver.layout.parts import Layout

KIND_OF = {"pumps": "pumps", "fittings": "fittings", "runs": "hoses"}
"""The table of a catalogue by the group of a drawing's parts."""


def kinds_for(layout: Layout, name: str) -> tuple[str, ...]:
    """The tables of a catalogue whose parts a part of the drawing can be; "" is the drawing and its fluid.

    Raises KeyError.
    """
    if not name:
        return ("fluids",)
    group, table = layout_raw.part_raw(layout, name)
    kinds = (KIND_OF[group],) if group in KIND_OF else ()
    return (*kinds, "screens") if "screen" in table else kinds


def table_for(layout: Layout, name: str, kind: str) -> dict[str, Any]:
    """What a catalogue would hold of a part, or of the fluid for "". Raises KeyError."""
    return own_table(kind, _drawn(layout, name, kind))


def _drawn(layout: Layout, name: str, kind: str) -> dict[str, Any]:
    if kind == "fluids":
        return layout_raw.fluid_raw(layout.fluid)
    table = layout_raw.part_raw(layout, name)[1]
    return dict(table["screen"]) if kind == "screens" else table


def with_own_part(layout: Layout, name: str, own: OwnPart) -> Layout:
    """The layout with the figures of a catalogue's part in the place of those of a part.

    Where the part is and how it is run stays, a blocked screen among it. `name` is the part's, "" for
    the fluid.
    Raises KeyError, and LayoutErrors where the drawing cannot have them.
    """
    drawn, raw = _drawn(layout, name, own.kind), layout_raw.to_raw(layout)
    table = {**_staying(drawn, own), **own.table}
    if isinstance(table.get("screen"), dict) and "blocked" in (old := drawn.get("screen", {})):
        table["screen"] = {**table["screen"], "blocked": old["blocked"]}
    if own.kind == "fluids":
        return file.from_raw({**raw, "fluid": {"name": own.name, **_without_name(table)}})
    group, part = layout_raw.part_raw(layout, name)
    table["own_part"] = own.name
    if own.kind == "screens":
        table = {**part, "screen": table}
    else:
        table = {key: value for key, value in table.items() if key not in idle_keys(group, table)}
    return file.from_raw({**raw, group: {**raw[group], name: table}})


def _without_name(table: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in table.items() if key != "name"}


def _staying(drawn: Mapping[str, Any], own: OwnPart) -> dict[str, Any]:
    """What stays of a part's own table: its place, and how it is run."""
    staying = {key: drawn[key] for key in OF_ITS_PLACE[own.kind] if key in drawn}
    if own.kind == "pumps" and not {"speed", "flow"} & own.table.keys():
        staying |= {key: drawn[key] for key in ("speed", "flow") if key in drawn}
        if "speed" in drawn:
            staying.pop("flow", None)  # it now comes of the new displacement
    return staying


def other_figures(layout: Layout, name: str, catalogue: Catalogue) -> str:
    """What to say where a catalogue has other figures for a part than the drawing; "" where it has not.

    `name` is the part's, "" for the fluid. Raises KeyError.
    """
    for kind in kinds_for(layout, name):
        own = catalogue.part(kind, _name_in_catalogue(layout, name, kind))
        if own is not None and differs(layout, name, own):
            changed = f", changed {own.changed}" if own.changed else ""
            return f"{Path(own.source).name} has other figures for {own.name}{changed}"
    return ""


def table_of_own(layout: Layout, name: str, catalogue: Catalogue) -> Mapping[str, Any] | None:
    """What a catalogue has of the part that a pump is; nothing where it is not at hand, None of any other."""
    pump = layout.pumps.get(name)
    if pump is None or pump.own_part is None:
        return None
    own = catalogue.part("pumps", pump.own_part)
    return own.table if own is not None else {}


def _name_in_catalogue(layout: Layout, name: str, kind: str) -> str:
    drawn = _drawn(layout, name, kind)
    return str(drawn.get("name" if kind == "fluids" else "own_part", ""))


def differs(layout: Layout, name: str, own: OwnPart) -> bool:
    """Whether a part, or the fluid for "", has other figures than the catalogue's. Raises KeyError."""
    kind = own.kind
    held = own_table(kind, _drawn(layout, name, kind))
    if held == own_table(kind, own.table):
        return False  # as it mostly is, and a card may ask in every frame of a drag
    try:
        copied = with_own_part(layout, name, own)
    except LayoutErrors:
        return True
    return held != own_table(kind, _drawn(copied, name, kind))
