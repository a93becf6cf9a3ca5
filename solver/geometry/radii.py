"""How wide a part is, and how wide the bends of a line are."""

from __future__ import annotations

from solver.layout.kinds import Bend
from solver.layout.parts import Fitting, Intake, Pump, Run, Tee
from solver.properties import sizes
from solver.quantities import columns

Joint = Intake | Fitting | Tee | Pump

_RADII = {
    Bend.LONG_RADIUS: 1.5,
    Bend.SHORT_RADIUS: 1.0,
    Bend.THREADED_ELBOW: 1.0,
    Bend.THREADED_LONG_ELBOW: 1.5,
    Bend.MITRE: 0.0,
    Bend.TWO_WELD_MITRE: 1.5,
    Bend.THREE_WELD_MITRE: 1.5,
}


def bore(part: Joint | Run) -> float:
    """Inside diameter of a part [m].

    Raises SizeError for a size that no standard table holds.
    """
    return part.bore.si if part.bore is not None else sizes.bore(part.size or "")


def nominal(part: Joint | Run) -> float:
    """Nominal diameter of a part [m]: by its standard's name, or the bore itself."""
    return sizes.nominal(part.size, bore(part))


def bend_radius(run: Run) -> float:
    """Centre-line radius of every bend of a run [m]; 0 for a mitre."""
    if run.bend_radius is not None:
        return run.bend_radius.si
    return _standard_radius(run.bend, nominal(run))


@columns.remembered(64)
def _standard_radius(bend: Bend, width: float) -> float:
    """Radius of a bend that is bought [m]: one object for one column, by which its coefficient is known."""
    return _RADII[bend] * width
