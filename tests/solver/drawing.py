"""Small drawings for tests, in metres."""

from collections.abc import Sequence

from solver.layout.parts import (
    Fitting,
    FluidChoice,
    Intake,
    Layout,
    Limit,
    Point,
    Pump,
    Reservoir,
    Run,
    Screen,
    Site,
    Tee,
)
from solver.quantities.units import Quantity

Place = tuple[float, float]


def metres(value: float) -> Quantity:
    return Quantity(f"{value!r} m", value)


def point(at: Place) -> Point:
    return metres(at[0]), metres(at[1])


def tank(
    name: str = "tank",
    at: Place = (0.0, 0.0),
    size: Place = (1.2, 0.7),
    normal: float = 0.55,
    minimum: float = 0.4,
) -> Reservoir:
    (x, y), (w, h) = at, size
    ring = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
    return Reservoir(name, tuple(map(point, ring)), metres(0.6), metres(y + normal), metres(y + minimum))


def intake(
    name: str = "strainer",
    at: Place = (0.9, 0.12),
    bore: float = 0.05,
    kind: str = "plain end",
    reservoir: str = "tank",
    screen: Screen | None = None,
) -> Intake:
    return Intake(name, reservoir, point(at), kind, bore=metres(bore), screen=screen)


def pump(name: str = "pump", at: Place = (0.9, 1.5), bore: float = 0.05, flow: float = 0.002) -> Pump:
    limit = Limit("vacuum", ((None, Quantity("7 inHg", 23705.0)),))
    return Pump(name, point(at), "vane", limit, bore=metres(bore), flow=Quantity(f"{flow!r} m^3/s", flow))


def run(
    name: str,
    start: str,
    end: str,
    via: Sequence[Place] = (),
    bore: float = 0.05,
    bend_radius: float | None = 0.075,
    bend: str = "long radius",
    out_of_plane: float | None = None,
) -> Run:
    return Run(
        name,
        start,
        end,
        tuple(map(point, via)),
        bore=metres(bore),
        bend=bend,
        bend_radius=None if bend_radius is None else metres(bend_radius),
        out_of_plane=None if out_of_plane is None else metres(out_of_plane),
    )


def fitting(name: str, at: Place, bore: float = 0.05, kind: str = "ball valve") -> Fitting:
    return Fitting(name, point(at), kind, bore=metres(bore))


def tee(name: str, at: Place, bore: float = 0.05) -> Tee:
    return Tee(name, point(at), bore=metres(bore))


def drawing(*parts: Reservoir | Intake | Pump | Run | Fitting | Tee, units: str = "SI") -> Layout:
    """A drawing of those parts; the tank, strainer and pump of this module where none is given."""
    have = list(parts)
    for kind, standard in ((Reservoir, tank), (Intake, intake), (Pump, pump)):
        if not any(isinstance(part, kind) for part in have):
            have.append(standard())
    return Layout(
        title="Drawing",
        site=Site(elevation=metres(0.0)),
        fluid=FluidChoice("Mineral oil, ISO VG 46", Quantity("45 degC", 318.15)),
        reservoirs={part.name: part for part in have if isinstance(part, Reservoir)},
        intakes={part.name: part for part in have if isinstance(part, Intake)},
        pumps={part.name: part for part in have if isinstance(part, Pump)},
        runs={part.name: part for part in have if isinstance(part, Run)},
        fittings={part.name: part for part in have if isinstance(part, Fitting)},
        tees={part.name: part for part in have if isinstance(part, Tee)},
        units=units,
    )
