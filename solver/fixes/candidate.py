"""What a change is: an edit of the drawing, the sizes it comes in, and what it costs in kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from solver.findings.criteria import case_in_words
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout
from solver.quantities import units
from solver.quantities.units import Kind, Quantity, System
from solver.quantities.wording import uncapitalised


class FixKind(StrEnum):
    """Changes of one kind stand in each other's place; two of them are never made together."""

    PLACE = "place of the pump"
    RAISED = "height of the tank"
    SIZE = "size of the line"
    BENDS = "bends"
    ROUTE = "route"
    VALVE = "valve"
    REDUCER = "reducer"
    SCREEN = "screen"
    LEVEL = "fluid level"
    SPEED = "speed"
    FLUID = "fluid"
    TEMPERATURE = "temperature"
    LINE_TEMPERATURE = "temperature of the line"
    PRESSURE = "pressure on the fluid"
    TANK = "tank"
    START = "start"


def _never(_: float) -> str:
    return ""


class NoRoomError(ValueError):
    """A change that finds no room in this drawing."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A change that could be made, in any of its sizes.

    A continuous one runs from `now` to `most` and is written in steps of `step`; one that comes in sizes has
    them in `sizes`, the smallest change first. `edit` raises ValueError where the size makes no drawing.
    """

    kind: FixKind
    part: str  # what it changes; "" for the line or the drawing as a whole
    edit: Callable[[Layout, float], Layout]
    describe: Callable[[float, System], str]  # the change as an order: "lower the port to 0.90 m"
    cost: str  # in kind: what has to be bought, done or accepted
    now: float = 0.0
    most: float = 0.0
    step: float = 0.0
    usual: float = 0.0  # the size offered where nothing is lacking
    sizes: tuple[float, ...] = ()
    names: tuple[str, ...] = ()  # of the sizes, where they have some
    enough_unit: Kind | None = None  # of a continuous one, to write the size that is just enough
    adds: Callable[[float, System], str] | None = None  # what a size asks for besides the cost, in figures
    only: Callable[[float], str] = _never  # of a last resort: what it asks for first, "" of any other size

    @property
    def continuous(self) -> bool:
        """Whether any size between `now` and `most` can be had."""
        return not self.sizes


def in_one_size(
    kind: FixKind, part: str, edit: Callable[[Layout], Layout], order: str, cost: str
) -> Candidate:
    """A change that is made or not: it comes in one size. Parameters as the fields of `Candidate`.

    order: the change as an order, which quotes no figure with a unit.
    """
    return Candidate(kind, part, lambda layout, _: edit(layout), lambda _, system: order, cost, sizes=(1.0,))


def rewritten(old: Quantity, si: float, kind: Kind = Kind.LENGTH) -> Quantity:
    """A quantity with another value, in the unit it was typed in."""
    return units.in_unit_of(old, si, kind)


def new_quantity(si: float, kind: Kind, layout: Layout) -> Quantity:
    """A quantity in the units that the drawing is shown in."""
    return units.quantity_in(si, kind, units.unit(kind, layout.units))


def with_case_figure(layout: Layout, case: str, path: tuple[str, ...], figure: Quantity | float) -> Layout:
    """A drawing with one figure of one of its typed cases changed, as the file would have it."""
    old = layout.cases[case]
    written = figure.text if isinstance(figure, Quantity) else figure
    changed = replace(old, table=_put(old.table, path, written), figures={**old.figures, path: figure})
    return replace(layout, cases={**layout.cases, case: changed})


def typed_in(layout: Layout, case: str, path: tuple[str, ...]) -> bool:
    """Whether a case has a figure of its own there, which stands in the place of the drawing's."""
    return case in layout.cases and path in layout.cases[case].figures


def drawbacks(worsens: Sequence[str], only: str) -> str:
    """What speaks against a change, behind what it buys: the worst that it brings, what it asks for first."""
    worse = f"; but then: {worsens[0]}" if worsens else ""
    return f"{worse} ({uncapitalised(only)})" if only else worse


def but_then(worsens: Sequence[str]) -> str:
    """All that a change brings besides, as a sentence behind the one of what it buys; "" for nothing."""
    return f" But then: {'; '.join(worsens)}." if worsens else ""


def when(case: str) -> str:
    """In which case, as the end of an order; "" for the drawing as it is."""
    return "" if case == AS_DRAWN else f" in the case {case_in_words(case)}"


def _put(table: Mapping[str, Any], path: tuple[str, ...], value: Any) -> dict[str, Any]:
    head, *rest = path
    return {**table, head: _put(table.get(head, {}), tuple(rest), value) if rest else value}


def free_name(layout: Layout, name: str) -> str:
    """The name, or with the first number that makes it new in the drawing."""
    groups: tuple[Mapping[str, Any], ...] = (
        layout.reservoirs,
        layout.intakes,
        layout.fittings,
        layout.tees,
        layout.pumps,
        layout.runs,
    )
    names = {part for group in groups for part in group}
    if name not in names:
        return name
    number = 2
    while f"{name} {number}" in names:
        number += 1
    return f"{name} {number}"
