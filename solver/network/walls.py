"""The wall of a run: how rough it is, and how that is known."""

from __future__ import annotations

from typing import NamedTuple

from solver.formulas import symbols
from solver.formulas.record import Calculator
from solver.layout.parts import Run
from solver.properties import sizes


class Wall(NamedTuple):
    """The wall of a run: its roughness [m], and where that comes from."""

    roughness: float
    source: str

    def given(self, calc: Calculator) -> float:
        """The roughness, as a figure that is given."""
        return calc.given(symbols.roughness, self.roughness, self.source)


def wall_of(run: Run) -> Wall:
    """The wall of a run as drawn, or as its kind of size has it where no material is given."""
    if run.roughness is not None:
        return Wall(run.roughness.si, "as drawn")
    hose = run.size is not None and sizes.family(run.size) == "hose"
    material = run.material or ("rubber hose" if hose else "commercial steel")
    assumed = "" if run.material else ", as no material is given"
    return Wall(sizes.ROUGHNESS[material], f"{material}{assumed}: {sizes.ROUGHNESS_SOURCE[material]}")
