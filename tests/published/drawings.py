"""Layout files of the lines that examples describe, and what to read off their ledgers.

An example that gives its head losses as one figure is drawn as a plumb line whose losses are a known drop,
with so small a flow in so wide a pipe that nothing else is lost. An example that gives pipe, flow and fluid
is drawn as that pipe.
"""

from __future__ import annotations

import math

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger, solve

FOOT, INCH, PSI, POUND = 0.3048, 0.0254, 6894.757293168, 0.45359237
GALLON = 231 * INCH**3
GPM = GALLON / 60
INCH_OF_MERCURY = 3386.38864
SLUG_PER_CUBIC_FOOT = POUND * GRAVITY / FOOT**4
POUND_PER_CUBIC_FOOT = POUND / FOOT**3

PLUMB = """\
format = 1
title = "A plumb line with the losses of the example"

[site]
{site}

[fluid]
name = "As in the example"
temperature = "20 degC"
viscosity = "{viscosity}"
dissolved_air = 0
{fluid}

[reservoirs.sump]
outline = [["-{half} m", "{floor}"], ["{half} m", "{floor}"], ["{half} m", "{rim}"], ["-{half} m", "{rim}"]]
depth = "{depth}"
normal_level = "{level}"
minimum_level = "{level}"
{surface}

[intakes.mouth]
reservoir = "sump"
at = ["0 m", "{floor}"]
kind = "bell-mouth"
bore = "{bore}"

[fittings.losses]
at = ["0 m", "{middle}"]
bore = "{bore}"
{losses}

[pumps.pump]
at = ["{across}", "{port}"]
bore = "{bore}"
type = "centrifugal"
flow = "{flow}"
limit = {limit}

[runs.tail]
from = "mouth"
to = "losses"
bore = "{bore}"
roughness = "{roughness}"
out_of_plane = "{hidden}"

[runs.line]
from = "losses"
to = "pump"
bore = "{bore}"
roughness = "{roughness}"
"""

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

    return PLUMB.format(
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
    """The same with the program's own water at a temperature in place of typed figures."""
    for typed, ours in OWN_WATER:
        text = text.replace(typed, ours)
    return text.replace('temperature = "20 degC"', f'temperature = "{temperature}"')


def fluid(density: str, vapor_pressure: str) -> str:
    """The figures of a fluid that hold at any temperature."""
    return f'density = [["20 degC", "{density}"]]\nvapor_pressure = "{vapor_pressure}"'


def known_drop(head: float, density: float) -> str:
    """A known drop of that much head [m] of a fluid of that density [kg/m³]."""
    return f'kind = "known drop"\ndrop = "{head * density * GRAVITY!r} Pa"'


def known_k(k: float) -> str:
    return f'kind = "known K"\nk = {k!r}'


LEVEL = """\
format = 1
title = "A level pipe"

[site]
barometer = "101325 Pa"

[fluid]
name = "As in the example"
temperature = "20 degC"
density = [["20 degC", "{density!r} kg/m^3"]]
viscosity = "{viscosity!r} m^2/s"
vapor_pressure = "0 Pa"
dissolved_air = 0

[reservoirs.tank]
outline = [["-9 m", "-9 m"], ["0 m", "-9 m"], ["0 m", "9 m"], ["-9 m", "9 m"]]
depth = "9 m"
normal_level = "0 m"
minimum_level = "0 m"

[intakes.mouth]
reservoir = "tank"
at = ["0 m", "{z!r} m"]
kind = "bell-mouth"
bore = "{bore!r} m"

[fittings.losses]
at = ["{length!r} m", "{z!r} m"]
bore = "{bore!r} m"
kind = "known K"
k = {k!r}

[pumps.pump]
at = ["{end!r} m", "{z!r} m"]
bore = "{bore!r} m"
type = "gear"
flow = "{flow!r} m^3/s"
limit = {{ vacuum = "5 inHg" }}

[runs.line]
from = "mouth"
to = "losses"
bore = "{bore!r} m"
roughness = "{roughness!r} m"

[runs.rest]
from = "losses"
to = "pump"
bore = "{bore!r} m"
roughness = "0 m"
"""


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
    return LEVEL.format(
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


def area(bore: float) -> float:
    """Of a bore [m²]."""
    return math.pi / 4 * bore**2


def ledger(layout: Layout, level: str = "minimum") -> PumpLedger:
    """Of the only pump in the drawing, which is called "pump"."""
    return solve(layout, level).pumps["pump"]


def lost(found: PumpLedger, *parts: str) -> float:
    """What the named parts lose [Pa]; all that is lost on the way where none is named."""
    ours = [e for e in found.entries if e.kind not in ("port", "flooded head")]
    return sum(entry.loss for entry in ours if not parts or entry.part in parts)
