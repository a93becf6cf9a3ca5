"""Fluid that stands colder or hotter in the line than in the tank: what each row holds, and what balances it.

Every row but those of the intakes holds the fluid of the line. An intake draws from the tank through a mouth
in the line: as either may pass it, it is charged with the thicker and the denser of the two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from solver.formulas import flow as formulas
from solver.layout.parts import Layout
from solver.network.build import Network
from solver.properties.fluid import FluidState
from solver.quantities import columns

DENSER, THICKER = "denser", "thicker"
"""Columns of a network: density and viscosity in each row over those of the line."""


def at_intakes(tank: FluidState, line: FluidState) -> FluidState:
    """What an intake is charged with: the thicker of the two, and as dense as the denser."""
    if tank is line:
        return line
    thicker = tank if columns.every(tank.viscosity >= line.viscosity) else line
    return replace(
        thicker,
        density=columns.largest(tank.density, line.density),
        viscosity=columns.largest(tank.viscosity, line.viscosity),
    )


def with_fluids(network: Network, tank: FluidState, line: FluidState) -> Network:
    """The network with what each of its rows holds; itself where line and tank hold one fluid."""
    if tank is line:
        return network
    mouth, intakes = at_intakes(tank, line), network.layout.intakes
    own: Mapping[str, float] = {
        DENSER: mouth.density / line.density,
        THICKER: mouth.viscosity / line.viscosity,
    }
    held = {
        name: columns.table([factor if row.part in intakes else 1.0 for row in network.rows])
        for name, factor in own.items()
    }
    return replace(network, columns={**network.columns, **held})


def balanced_level(layout: Layout, tank: str, level: float, fluid: FluidState, line: FluidState) -> float:
    """Up to where the fluid of the line would stand in a pipe from a reservoir's intakes [m].

    Parameters: `level` of the reservoir's own `fluid` [m]. Of several intakes, that which leaves the lowest.
    """
    return deciding_intake_and_level(layout, tank, level, fluid, line)[1]


def deciding_intake_and_level(
    layout: Layout, tank: str, level: float, fluid: FluidState, line: FluidState
) -> tuple[float | None, float]:
    """The elevation of the intake that decides, and the level as `balanced_level`; None where line and tank
    hold one fluid."""
    if fluid is line:
        return None, level
    heights = [each.at[1].si for each in layout.intakes.values() if each.reservoir == tank]
    if not heights:
        return None, level
    lowest, decides = None, None
    for z in heights:
        balanced = formulas.balanced_level.scalar(z, level, fluid.density, line.density)
        if lowest is None or columns.every(balanced < lowest):
            decides = z
        lowest = balanced if lowest is None else columns.least(lowest, balanced)
    assert lowest is not None
    return decides, lowest
