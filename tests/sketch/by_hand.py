"""A ledger made by hand, with round figures, for views that only read one."""

from dataclasses import replace

import networkx as nx
import numpy as np

from solver.layout.parts import Layout, Limit
from solver.ledger.solve import BudgetLine, Entry, PumpLedger, Solution
from solver.network.build import Network
from solver.properties.fluid import FluidState
from solver.quantities.units import Kind, quantity
from tests import drawings


def layout() -> Layout:
    """A drawing of which only the pump matters."""
    pump = replace(
        drawings.pump("press", (2.0, 1.0), flow=1 / 600),
        limit=Limit("vacuum", ((None, quantity("20 kPa", Kind.VACUUM)),)),
    )
    return replace(drawings.drawing(pump), reservoirs={}, intakes={})


def entry(key: str, kind: str, lift: float, loss: float, pressure: float, distance: float) -> Entry:
    """An entry against a budget of 20 kPa."""
    part, element = key.split("/")
    return Entry(
        key, part, element, kind, 0.001667, 0.05, 0.0, 0.849, 1234.5, None, 0.5,
        lift, loss, (lift + loss) / 20_000.0, pressure, distance, 0.0,
    )  # fmt: skip


def ledger(extra: float = 0.0) -> PumpLedger:
    """A budget of 20 kPa, of which 12 kPa and `extra` are spent."""
    entries = (
        entry("sock/screen", "screen", 0.0, 1_000.0, 100_325.0, 0.0),
        entry("riser/straight 1", "straight", 9_000.0, 2_100.0, 89_225.0, 1.0),
        entry("riser/bend 1", "bend", 0.0, 30.0, 89_195.0, 1.1),
        entry("fall/straight 1", "straight", -500.0, 170.0 + extra, 89_525.0 - extra, 2.0),
        entry("press/port", "port", 0.0, 200.0, 89_325.0 - extra, 2.0),
    )
    spent = 12_000.0 + extra
    return PumpLedger(
        pump="press", flow=0.001667, speed=None, atmosphere=101_325.0, surface=101_325.0, floor=81_325.0,
        budget=20_000.0, spent=spent, margin=20_000.0 - spent, inlet=101_325.0 - spent, vacuum=spent,
        allowed_vacuum=20_000.0, npsh_available=9.0, npsh_required=None, lowest=89_195.0 - extra,
        lowest_at="riser/bend 1", fluid_level=0.0, line_level=0.0, port_z=0.0, reservoir="tank",
        surface_lines=(
            BudgetLine("sea level", 101_325.0, 101_325.0, "101 325 Pa", "standard atmosphere"),
            BudgetLine("altitude", 0.0, 101_325.0, "0 m", "standard atmosphere"),
        ),
        floor_lines=(
            BudgetLine("maker's limit", -81_325.0, 81_325.0, "101 325 − 20 000 Pa", "maker", estimated=True),
        ),
        limit_estimated=False, limit_reaches=True, entries=entries, parallel_entries=(), density=870.0,
        vapor_pressure=0.0,
    )  # fmt: skip


def solution(extra: float = 0.0, vapor_pressure: float = 0.0) -> Solution:
    """The ledger in its solution, with a network of no rows."""
    drawn = layout()
    nothing = np.zeros(0)
    oil = FluidState("By hand", 313.15, 870.0, 46e-6, vapor_pressure, 0.09, {})
    return Solution(
        layout=drawn,
        level="minimum",
        atmosphere=101_325.0,
        elevation=0.0,
        fluid=oil,
        tank_fluid=oil,
        network=Network(drawn, (), {}, nx.MultiDiGraph(), {}, {}),
        flows=nothing,
        drops=nothing,
        pumps={"press": ledger(extra)},
    )
