"""The walk from the fluid surface to the pump port: entries, shares, pressures, margin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from solver.fluid import FluidState
from solver.layout import Layout
from solver.network import Floats, Network


@dataclass(frozen=True, slots=True)
class Entry:
    """What one element takes from the inlet budget. Pressures [Pa], absolute."""

    key: str  # the row's key; "tank/flooded head" and "carriage/port" for the two that are no row
    part: str
    element: str
    kind: str  # a row kind, or "flooded head", "port"
    flow: float  # [m³/s], negative where it runs against the row
    bore: float  # [m]
    length: float  # [m]
    velocity: float  # [m/s]
    reynolds: float
    friction_factor: float  # Darcy; nan where there is no length
    k: float  # k_inf + k_re/Re
    lift: float  # [Pa], negative for a credit
    loss: float  # [Pa]
    share: float  # (lift + loss) / budget; nan when the budget is not positive
    pressure: float  # static, at the end of the element, with its own velocity head taken off [Pa]
    distance: float  # developed length from the intake to the end of the element [m]
    z: float  # elevation of its end [m]


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One step of what there is to spend, kept apart so that it can be shown: "sea level", "altitude",
    "weather", "reservoir pressure", "maker's limit", "density correction", "speed correction", ..."""

    name: str
    value: float  # [Pa]: what this step adds to (+) or takes from (−) the budget; see `total`
    total: float  # running absolute pressure after this step [Pa]
    text: str  # the formula with its numbers in SI, one line
    source: str
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class PumpLedger:
    """One pump's inlet, from the surface to the port. Pressures [Pa], absolute unless named otherwise."""

    pump: str
    flow: float  # [m³/s]
    speed: float  # [rev/s]; nan when only the flow is given
    atmosphere: float
    surface: float
    floor: float
    budget: float  # surface − floor
    spent: float
    margin: float  # budget − spent
    inlet: float  # static pressure at the port
    vacuum: float  # atmosphere − inlet: what a gauge at the port shows
    allowed_vacuum: float  # atmosphere − floor
    npsh_available: float  # [m]
    npsh_required: float  # [m]; nan unless the limit is given so
    lowest: float  # least static pressure anywhere on the way
    lowest_at: str  # key of the entry where it is
    level: float  # fluid level used [m]
    reservoir: str
    surface_lines: tuple[BudgetLine, ...]  # from the standard sea-level atmosphere to `surface`
    floor_lines: tuple[BudgetLine, ...]  # from the maker's figure to `floor`
    limit_estimated: bool
    entries: tuple[Entry, ...]  # walking order: flooded head if any, rows, port

    @property
    def within(self) -> bool:
        """True when the pump has a budget and it is not overspent."""
        return self.budget > 0 and self.margin >= 0


@dataclass(frozen=True, slots=True)
class Solution:
    """Everything a view or a report shows of one drawing at one level."""

    layout: Layout
    level: str  # "minimum" or "normal"
    atmosphere: float  # [Pa]
    elevation: float | None  # of the site [m], where it was given
    fluid: FluidState
    network: Network
    flows: Floats  # of each row [m³/s]
    drops: Floats  # of each row [Pa]
    pumps: Mapping[str, PumpLedger]
