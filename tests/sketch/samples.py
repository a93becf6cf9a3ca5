"""Lines with invented figures, made by hand, so that a drawing can be tested apart from the calculation."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import numpy as np

from solver.layout.parts import Layout
from solver.ledger.solve import BudgetLine, Entry, PumpLedger, Solution
from solver.network.build import Network, Row
from solver.properties.fluid import FluidState
from tests import drawings

BUDGET = 20_000.0  # [Pa]


def rows(drawn: Layout) -> tuple[Row, ...]:
    """The rows of `drawings.stand`, with the corner as an arc of five points."""
    top, bore, radius = drawn.pumps["press"].at[1].si, 0.0525, 0.08
    arc = tuple(
        (0.9 + radius * (1 - math.cos(a)), top - radius + radius * math.sin(a))
        for a in (math.pi / 2 * k / 4 for k in range(5))
    )

    def row(key: str, kind: str, *path: tuple[float, float]) -> Row:
        part, element = key.split("/")
        return Row(key, part, element, kind, f"{key}<", f"{key}>", path[0][1], path[-1][1], bore, path=path)

    return (
        row("strainer/screen", "screen", (0.9, 0.15)),
        row("strainer/entrance", "entrance", (0.9, 0.15)),
        row("riser/straight 1", "straight", (0.9, 0.15), (0.9, top - radius)),
        row("riser/bend 1", "bend", *arc),
        row("riser/straight 2", "straight", (0.9 + radius, top), (1.5, top)),
        row("isolator/ball valve", "valve", (1.5, top)),
        row("lead/straight 1", "straight", (1.5, top), (2.1, top)),
    )


SHARES = {
    "strainer/screen": 0.12,
    "strainer/entrance": 0.004,
    "riser/straight 1": 0.46,
    "riser/bend 1": 0.03,
    "riser/straight 2": 0.06,
    "isolator/ball valve": 0.015,
    "lead/straight 1": 0.05,
    "press/port": 0.01,
}


def entry(key: str, share: float, kind: str, budget: float = BUDGET) -> Entry:
    part, element = key.split("/")
    taken = share * abs(budget)
    return Entry(
        key, part, element, kind, 100 / 60_000, 0.0525, 1.0, 0.77, 900.0, 0.07, 1.0, 0.0, taken,
        share if budget > 0 else None, 90_000.0, 1.0, 1.0,
    )  # fmt: skip


def ledger(shares: dict[str, float], budget: float = BUDGET, **changes: float) -> PumpLedger:
    """A ledger whose entries take those shares of the budget."""
    kinds = {"flooded head": "flooded head", "port": "port"}
    entries = tuple(
        entry(key, share, kinds.get(key.split("/")[1], "straight"), budget) for key, share in shares.items()
    )
    atmosphere = changes.pop("atmosphere", 95_000.0)
    surface = changes.pop("surface", atmosphere)
    floor = surface - budget
    spent = sum(each.loss for each in entries)
    inlet = surface - spent
    return PumpLedger(
        pump="press", flow=100 / 60_000, speed=24.0, atmosphere=atmosphere, surface=surface, floor=floor,
        budget=budget, spent=spent, margin=budget - spent, inlet=inlet, vacuum=atmosphere - inlet,
        allowed_vacuum=atmosphere - floor, npsh_available=9.0, npsh_required=None, lowest=inlet,
        lowest_at=entries[-1].key if entries else "", fluid_level=0.5, line_level=0.5, port_z=1.0,
            reservoir="tank",
        surface_lines=(BudgetLine("sea level", 101_325.0, 101_325.0, "101325 Pa", "standard atmosphere"),),
        floor_lines=(BudgetLine("maker's limit", floor, floor, "floor", "the pump's maker"),),
        limit_estimated=False, limit_reaches=True, entries=entries, parallel_entries=(), density=870.0,
        vapor_pressure=0.0,
    )  # fmt: skip


def solution(
    drawn: Layout | None = None,
    shares: dict[str, float] | None = None,
    made_rows: tuple[Row, ...] | None = None,
    made_ledger: PumpLedger | None = None,
) -> Solution:
    drawn = drawn or drawings.stand()
    drawn_rows = rows(drawn) if made_rows is None else made_rows
    nothing = np.zeros(len(drawn_rows))
    network = Network(
        drawn, drawn_rows, {}, nx.MultiDiGraph(), {}, {row.key: i for i, row in enumerate(drawn_rows)}
    )
    oil = FluidState("Oil", 313.15, 870.0, 46e-6, 0.0, 0.09, {})
    return Solution(
        layout=drawn, level="minimum", atmosphere=95_000.0, elevation=500.0,
        fluid=oil, tank_fluid=oil, network=network, flows=nothing,
        drops=nothing, pumps={"press": made_ledger or ledger(shares or SHARES)},
    )  # fmt: skip


def staircase(count: int) -> tuple[Layout, Solution]:
    """`drawings.stairs`, each straight with its part of nine tenths of the budget."""
    drawn = drawings.stairs(count)
    places = [
        (x.si, y.si)
        for x, y in (drawn.intakes["strainer"].at, *drawn.runs["riser"].via, drawn.pumps["press"].at)
    ]
    straight = rows(drawings.stand())[2]
    parts = tuple(
        replace(straight, key=f"riser/straight {k}", element=f"straight {k}", path=(a, b))
        for k, (a, b) in enumerate(pairwise(places))
    )
    return drawn, solution(drawn, {row.key: 0.9 / count for row in parts}, parts)
