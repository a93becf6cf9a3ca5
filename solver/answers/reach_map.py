"""Where on the elevation a port may stand: the margin at every place of a grid, its line led after it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.answers.inputs import typed
from solver.geometry import moving
from solver.layout.parts import Layout, Level
from solver.ledger.solve import balances
from solver.network.build import NetworkError, build
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer
from solver.quantities.units import Kind, Quantity

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@dataclass(frozen=True)
class ReachMap:
    """Margins on a grid; rows go with `ys`, columns with `xs`. nan where none can be had."""

    pump: str
    xs: Floats  # places of the port along the sheet [m]
    ys: Floats  # and up [m]
    margin: Floats  # least of all cases [Pa]
    budget: Floats  # in the case that decides [Pa]
    case: NDArray[np.intp]  # which one decides, an index into `cases`; -1 where none does
    cases: tuple[str, ...]
    lacks_room: bool = False  # whether no place is left out but for a line whose bends find no room there


def reach_map(cases: Mapping[str, tuple[Layout, Level]], pump: str, xs: Floats, ys: Floats) -> ReachMap:
    """The least margin with the port at every place, the line laid as when the pump is dragged there.

    cases: the drawing and its level in each. xs, ys: of the places, (m,) and (n,) [m].
    A place where some case cannot be solved is nan: it is not judged, and so never within.
    Raises KeyError for a pump that is not in the drawing.
    """
    margins, budgets, reasons = [], [], set[bool]()
    for layout, level in cases.values():
        margin, budget, lacks_room = _one_case(layout, level, pump, xs, ys)
        margins.append(margin)
        budgets.append(budget)
        reasons |= lacks_room
    all_margins, all_budgets = np.stack(margins), np.stack(budgets)
    missing = np.isnan(all_margins).any(axis=0)
    case = np.where(missing, -1, np.argmin(np.nan_to_num(all_margins, nan=np.inf), axis=0))
    picked = np.maximum(case, 0)[None]
    least, budget = (np.take_along_axis(table, picked, axis=0)[0] for table in (all_margins, all_budgets))
    least, budget = np.where(missing, np.nan, least), np.where(missing, np.nan, budget)
    return ReachMap(pump, xs, ys, least, budget, case, tuple(cases), reasons == {True})


def _one_case(
    layout: Layout, level: Level, pump: str, xs: Floats, ys: Floats
) -> tuple[Floats, Floats, set[bool]]:
    """Margin and budget on the grid in one case [Pa]; for places without them, whether bends lack room."""
    if pump not in layout.pumps:
        raise KeyError(pump)
    across, up = (grid.ravel() for grid in np.meshgrid(xs, ys))
    margin, budget = np.full(across.size, np.nan), np.full(across.size, np.nan)
    waiting: list[Ints] = [np.arange(across.size)]
    lacks_room = set[bool]()
    while waiting:
        members = waiting.pop()
        try:
            moved = moving.move_part(layout, pump, _column(across[members]), _column(up[members]), _exact)
            ledger = balances(build(moved), level)[pump]
        except VariantsDiffer as differing:  # places from which the line is laid in another way
            order = np.argsort(differing.groups, kind="stable")
            bounds = np.cumsum(np.bincount(differing.groups))[:-1]
            waiting += [group for group in np.split(members[order], bounds) if group.size]
        except ValueError as error:  # these places are not judged
            lacks_room.add(isinstance(error, NetworkError) and all(map(_is_of_bends, error.problems)))
        else:
            margin[members], budget[members] = ledger.margin, ledger.budget
    shape = (len(ys), len(xs))
    return margin.reshape(shape), budget.reshape(shape), lacks_room


def _is_of_bends(problem: tuple[str, str]) -> bool:
    """Whether what is wrong with a part is that its bends find no room."""
    return problem[1].startswith("bend ")


def _column(values: Floats) -> float:
    return columns.collapsed(columns.column(values))


def _exact(old: Quantity, si: float, kind: Kind) -> Quantity:
    return typed(si, kind)
