"""The wire that cloth of a mesh commonly has: offered where nobody has stated it, never used unasked."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

INCH = 0.0254  # [m]

MARKET_GRADE: Mapping[int, float] = MappingProxyType(
    {30: 0.012, 40: 0.010, 60: 0.0075, 80: 0.0055, 100: 0.0045, 200: 0.0021}
)
"""Wire [in] by wires to the inch: market grade, from memory; openings checked in tests/published."""


def usual_wire(mesh: float) -> tuple[str, float] | None:
    """The wire of market-grade cloth as one would type it, and its opening [m]; None for a mesh not listed.

    mesh: wires to a length [1/m].
    """
    count = round(mesh * INCH)
    wire = MARKET_GRADE.get(count)
    if wire is None or abs(mesh * INCH - count) > 0.01 * count:
        return None
    return f"{wire:g} in", (1 / count - wire) * INCH


def typical_wire(mesh: float) -> str:
    """The wire of market-grade cloth as one would type it, and its opening; "" for a mesh not in the list.

    mesh: wires to a length [1/m].
    """
    usual = usual_wire(mesh)
    return "" if usual is None else f"{usual[0]}, which leaves {usual[1] * 1e3:.2f} mm"
