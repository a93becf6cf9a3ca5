"""A pump at rest takes nothing in; its port stands under the pressure of the line that leads to it."""

from __future__ import annotations

from dataclasses import dataclass

from solver.layout.kinds import CHECK_KINDS
from solver.layout.parts import Pump
from solver.ledger import path
from solver.quantities import columns


@dataclass(frozen=True, slots=True)
class RestingPump:
    """The port of a pump that stands still. It has no margin, and never counts as within.

    A check valve in its outlet is assumed: without one, the other pumps would draw through it.
    """

    pump: str
    reservoir: str
    atmosphere: float  # [Pa]
    inlet: float  # static pressure at its port [Pa], absolute
    z: float  # elevation of its port [m]
    fluid_level: float  # of the fluid [m]
    check_valve: str  # the check or foot valve in its leg; "" where there is none

    @property
    def vacuum(self) -> float:
        """Below the atmosphere, as a gauge at the port would show [Pa]."""
        return self.atmosphere - self.inlet

    @property
    def draws_air(self) -> bool:
        """Whether air can get through its shaft seal into the line, and the line drain once all stop."""
        return self.vacuum > 0 and not self.check_valve


def resting(
    solved: path.SolvedNetwork,
    pump: Pump,
    surface: float,
    levels: tuple[float, float],
    atmosphere: float,
) -> RestingPump:
    """The port of a pump at rest.

    Parameters: `surface`, absolute pressure on its reservoir's fluid [Pa]; `levels` of that fluid, and that
    up to which the fluid of the line would stand [m]; `atmosphere` [Pa]. The static pressure in the line that
    its leg leaves is taken, velocity head off, which is the lower one.
    """
    tank, route = path.route(solved, pump.name)
    charges = path.charges(solved, route, path.port(solved, pump), surface, levels[1])
    heads = columns.by_row(solved.drops.velocity_head[route])
    flows = columns.by_row(solved.flow[route])
    moving = [head for head, flow in zip(heads, flows, strict=True) if flow]
    leg = [solved.network.rows[i].part for i, flow in zip(route, flows, strict=True) if not flow]
    layout = solved.network.layout
    drawn = (layout.fittings.get(part) or layout.intakes.get(part) for part in leg)
    checks = [part.name for part in drawn if part is not None and part.kind in CHECK_KINDS]
    inlet = surface - charges.spent - (moving[-1] if moving else 0.0)
    return RestingPump(
        pump.name, tank, atmosphere, inlet, pump.at[1].si, levels[0], checks[0] if checks else ""
    )
