"""Parts of one's own on the shelf: what each is put down as, and how it gets its figures. No Qt here."""

from __future__ import annotations

from dataclasses import replace

from sketch.editing import building, own_parts
from sketch.editing.building import PUMP, Built
from sketch.editing.edits import EditError
from solver.layout.file import LayoutErrors
from solver.layout.kinds import FittingKind, IntakeKind
from solver.layout.own_parts import Catalogue, OwnPart
from solver.layout.parts import Layout

MOST = 100
"""Parts of one's own that the shelf has."""

PUT_DOWN_AS = {"pumps": PUMP, "fittings": FittingKind.KNOWN_K, "screens": IntakeKind.STRAINER}
"""What stands in for a part of a catalogue until it has its figures, by the catalogue's table."""


def on_shelf(catalogue: Catalogue) -> tuple[OwnPart, ...]:
    """The parts that can be put down by themselves."""
    return tuple(part for kind in PUT_DOWN_AS for part in catalogue.of_kind(kind))[:MOST]


def key_of(own: OwnPart) -> str:
    """What a part of one's own is called among all that stands on the shelf."""
    return f"own {own.kind}: {own.name}"


def kind_of(own: OwnPart) -> str:
    """What a part of one's own is, by the names of the shelf."""
    if own.kind == "fittings":
        return str(own.table.get("kind", PUT_DOWN_AS[own.kind]))
    return PUT_DOWN_AS[own.kind]


def with_figures(built: Built, own: OwnPart) -> Built:
    """A part that was put down, with the figures and the name of one of a catalogue.

    A pump of which the catalogue has a rated speed, and neither speed nor flow, runs at that.
    Raises EditError where the drawing cannot have them.
    """
    if own.kind == "pumps" and "rated_speed" in own.table and not {"speed", "flow"} & own.table.keys():
        own = replace(own, table={**own.table, "speed": own.table["rated_speed"]})
    try:
        layout = own_parts.with_own_part(built.layout, built.name, own)
    except LayoutErrors as error:
        first = error.problems[0]
        raise EditError(f"{own.name}: {first.found}; allowed: {first.allowed}") from error
    name = _free_name(layout, own.name)
    return Built(building.rename(layout, built.name, name), name)


def _free_name(layout: Layout, name: str) -> str:
    try:
        layout.part(name)
    except KeyError:
        return name
    return building.free_name(layout, f"{name} 2")
