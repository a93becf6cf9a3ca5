"""Every drawing that tests make: layout files in tests/data, parts in metres, lines of any length."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from solver.formulas.flow import GRAVITY
from solver.layout import file
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
from solver.quantities.units import Quantity, System

DATA = Path(__file__).parent / "data"
SHIPPED = sorted((Path(__file__).parents[1] / "layouts").glob("*.toml"))
"""The example drawings of the program."""


@cache
def text(name: str) -> str:
    """A layout file in tests/data."""
    return (DATA / name).read_text(encoding="utf-8")


EVERY_KEY = text("every_key.toml")
"""Every table, key and way of writing TOML."""

ARRANGEMENTS = text("arrangements.toml")
"""Valves that are shut, a tank that is drawn down, a pump with strokes."""

RISER = text("riser.toml")
"""A pump straight above its strainer."""

BENT = RISER.replace('at = ["0.6 m", "1.00 m"]', 'at = ["1.6 m", "1.00 m"]').replace(
    'to = "carriage"', 'to = "carriage"\nvia = [["0.6 m", "1.00 m"]]'
)
"""The riser with its pump beside the tank and one bend over the strainer."""


def twins_text(vacuum: str = "24 kPa", flow: str = "160 L/min") -> str:
    """Two strainers, the left one blocked, into one header; behind it a tee to a pilot pump."""
    pump = 'flow = "{}"\nlimit = {{ vacuum = "{}" }}'.format
    return text("twins.toml").replace(pump("160 L/min", "24 kPa"), pump(flow, vacuum))


def ring_text(vacuum: str = "40 kPa") -> str:
    """A square of four lines with a large pump at one corner, which is fed from both sides."""
    return text("ring.toml").replace("40 kPa", vacuum)


def twins(vacuum: str = "24 kPa", flow: str = "160 L/min") -> Layout:
    """The drawing of `twins_text`."""
    return file.parse(twins_text(vacuum, flow), "twins").base


def ring(vacuum: str = "40 kPa") -> Layout:
    """The drawing of `ring_text`."""
    return file.parse(ring_text(vacuum), "ring").base


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


def drawing(*parts: Reservoir | Intake | Pump | Run | Fitting | Tee, units: System = System.SI) -> Layout:
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


def stand(*, port_height: float = 1.6, level: float = 0.5) -> Layout:
    """A pump on a stand beside its tank, drawing through a strainer, a riser with one corner and a valve."""
    bore = Quantity("52.5 mm", 0.0525)
    drawn = drawing(
        tank(size=(1.4, 0.8), normal=0.65, minimum=level),
        replace(intake("strainer", (0.9, 0.15), kind="strainer"), bore=bore),
        replace(fitting("isolator", (1.5, port_height)), bore=bore),
        replace(pump("press", (2.1, port_height)), bore=bore, flow=Quantity("100 L/min", 100 / 60_000)),
        Run("riser", "strainer", "isolator", (point((0.9, port_height)),), bore=bore),
        Run("lead", "isolator", "press", bore=bore),
    )
    return replace(
        drawn,
        title="Pump over its tank",
        site=Site(elevation=Quantity("500 m", 500.0)),
        fluid=FluidChoice("Oil", Quantity("40 degC", 313.15)),
    )


def narrowed() -> Layout:
    """The stand with a narrower line behind its valve, in fluid so thick that all of it flows laminar."""
    drawn, slim = stand(), Quantity("35 mm", 0.035)
    lead, press = replace(drawn.runs["lead"], bore=slim), replace(drawn.pumps["press"], bore=slim)
    fluid = FluidChoice("Mineral oil, ISO VG 68", Quantity("20 degC", 293.15))
    return replace(drawn, fluid=fluid, runs={**drawn.runs, "lead": lead}, pumps={"press": press})


def stairs(count: int) -> Layout:
    """The stand with one run of `count` straights, up and across by turns, and no valve."""
    base = stand(port_height=0.15 + 0.02 * (count // 2))
    corners = [(0.9, 0.15)]
    for k in range(count):
        x, y = corners[-1]
        corners.append((x + 0.04, y) if k % 2 else (x, y + 0.04))
    riser = replace(base.runs["riser"], end="press", via=tuple(map(point, corners[1:-1])))
    press = replace(base.pumps["press"], at=point(corners[-1]))
    return replace(base, fittings={}, runs={"riser": riser}, pumps={"press": press})


STEPS = """
format = 1
title = "A line of {count} steps"
units = "SI"
[site]
elevation = "0 m"
[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "45 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "2 m"], ["0 m", "2 m"]]
depth = "1 m"
normal_level = "1.5 m"
minimum_level = "1.2 m"
[intakes.mouth]
reservoir = "tank"
at = ["0.5 m", "0.5 m"]
kind = "strainer"
bore = "52.5 mm"
screen = {{ mesh = "60 per inch", wire = "0.19 mm", area = "0.06 m^2" }}
[pumps.pump]
at = ["{end:.3f} m", "{top:.3f} m"]
bore = "52.5 mm"
type = "vane"
flow = "{flow}"
limit = {{ vacuum = "30 kPa" }}
"""

STEP_VALVE = """
[fittings.v{i}]
at = ["{x:.3f} m", "{y:.3f} m"]
kind = "ball valve"
bore = "52.5 mm"
"""

STEP_RUN = """
[runs.r{i}]
from = "{near}"
to = "{far}"
via = [["{corner:.3f} m", "{y:.3f} m"]]
bore = "52.5 mm"
"""


def steps_text(elements: int, flow: str = "30 L/min") -> str:
    """A line of about that many elements: strainer, then straight, bend, straight and valve by turns.

    At the flow it has of itself, a line of up to 200 elements is within its budget.
    """
    count = max(1, math.ceil((elements - 2) / 4))
    step, rise = 1.0, 0.3
    base = 2.3
    top = base + rise
    parts = [STEPS.format(count=count, end=0.5 + step * count, top=top, flow=flow)]
    near = "mouth"
    for i in range(count):
        y = top - rise * ((count - 1 - i) % 2)
        x = 0.5 + step * (i + 1)
        far = "pump" if i == count - 1 else f"v{i}"
        if far != "pump":
            parts.append(STEP_VALVE.format(i=i, x=x, y=y))
        parts.append(STEP_RUN.format(i=i, near=near, far=far, corner=0.5 + step * i, y=y))
        near = far
    return "\n".join(parts)


def steps(elements: int) -> Layout:
    """The drawing of `steps_text`."""
    return file.parse(steps_text(elements), f"{elements} elements").base


OWN_WATER = (
    ('name = "As in the example"', 'name = "Water"'),
    ('viscosity = "1 cSt"\n', ""),
    ("dissolved_air = 0\n", ""),
)
"""What makes of a plumb line one with the program's own water."""


def plumb(
    unit: str,
    port: float,
    *,
    site: str,
    fluid: str = "",
    limit: str = '{ pressure = "1 Pa" }',
    losses: str = 'kind = "known K"\nk = 0',
    level: float = 0.0,
    mouth: float = -1.0,
    middle: float | None = None,
    across: float = 0.0,
    surface: str = "",
    viscosity: str = "1 cSt",
    roughness: str = "0 mm",
    hidden: str = "0 m",
    bore: str = "6 in",
    flow: str = "1 gpm",
    half: float = 9.0,
    depth: str = "9 m",
) -> str:
    """The text of a plumb line from a sump's floor up or down to a port, all elevations in one unit.

    Parameters: `port`, `level`, `mouth`, `middle`, `across` in `unit`: where the port, the fluid, the floor
    with the line's mouth and the losses stand, and how far aside the port is; `hidden`, more length of line;
    `half` [m] and `depth`, of the sump; the rest as in the file.
    """

    def at(figure: float) -> str:
        return f"{figure!r} {unit}"

    return text("plumb.toml.in").format(
        site=site,
        fluid=fluid,
        viscosity=viscosity,
        half=half,
        depth=depth,
        floor=at(mouth),
        rim=at(max(level, mouth) + 100.0),
        level=at(level),
        surface=surface,
        middle=at((mouth + port) / 2 if middle is None else middle),
        across=at(across),
        port=at(port),
        losses=losses,
        limit=limit,
        bore=bore,
        flow=flow,
        roughness=roughness,
        hidden=hidden,
    )


def own_water(text: str, temperature: str) -> str:
    """A drawing's text with the program's own water at a temperature in place of typed figures."""
    for typed, ours in OWN_WATER:
        text = text.replace(typed, ours)
    return text.replace('temperature = "20 degC"', f'temperature = "{temperature}"')


def fluid(density: str, vapor_pressure: str) -> str:
    """The figures of a fluid that hold at any temperature."""
    return f'density = [["20 degC", "{density}"]]\nvapor_pressure = "{vapor_pressure}"'


READ_WITH_IT = 'viscosity = "10000 cSt"\ndensity = "1500 kg/m^3"'
"""Of a known drop: no fluid of these tests is thicker or heavier, so that what it takes is what was read."""


def known_drop(head: float, density: float) -> str:
    """A known drop of that much head [m] of a fluid of that density [kg/m³]."""
    return f'kind = "known drop"\ndrop = "{head * density * GRAVITY!r} Pa"\n{READ_WITH_IT}'


def known_k(k: float) -> str:
    return f'kind = "known K"\nk = {k!r}'


def pipe(
    *,
    bore: float,
    length: float,
    flow: float,
    density: float,
    viscosity: float,
    roughness: float = 0.0,
    k: float = 0.0,
    depth: float = 0.0,
) -> str:
    """The text of a level pipe: its length in the run "line", its minor losses in the fitting "losses".

    Parameters: `bore`, `length`, `roughness` [m]; `flow` [m³/s]; `density` [kg/m³]; `viscosity` [m²/s];
    `k`, minor losses; `depth` of the pipe under the fluid's level [m].
    """
    return text("level_pipe.toml.in").format(
        bore=bore,
        length=length,
        end=length + 1e-3,
        flow=flow,
        density=density,
        viscosity=viscosity,
        roughness=roughness,
        k=float(k),
        z=-depth,
    )
