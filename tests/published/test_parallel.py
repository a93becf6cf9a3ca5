"""Worked examples of parallel and joined pipes, each drawn as a layout file and solved as a network.

The pipes run from one reservoir to one pump, which takes in the flow of the example; where the example asks
for the flow at a known loss, that loss is compared. The books neglect minor losses: the drawings have
bell-mouths and, at the port, changes of bore, a few tenths of a per cent of the friction.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import Solution, solve
from tests.published.comparing import Published

Read = Callable[[str], Layout]

HEAD = """\
format = 1
title = "Pipes as in the example"
[site]
barometer = "101325 Pa"
[fluid]
name = "Water as in the example"
temperature = "20 degC"
density = [["20 degC", "{density} kg/m^3"]]
viscosity = "{viscosity!r} m^2/s"
vapor_pressure = "0 Pa"
dissolved_air = 0
"""

TANK = """\
[reservoirs.tank]
outline = [["-9 m", "-9 m"], ["0 m", "-9 m"], ["0 m", "9 m"], ["-9 m", "9 m"]]
depth = "9 m"
normal_level = "0 m"
minimum_level = "0 m"
[pumps.pump]
at = ["10 m", "-1 m"]
bore = "{bore} m"
type = "centrifugal"
flow = "{flow!r} m^3/s"
limit = {{ npsh = "1 m" }}
"""

PIPE = """\
[intakes.mouth-{name}]
reservoir = "tank"
at = ["0 m", "-1 m"]
kind = "bell-mouth"
bore = "{bore} m"
[runs.{name}]
from = "mouth-{name}"
to = "pump"
bore = "{bore} m"
roughness = "{roughness} mm"
out_of_plane = "{hidden} m"
"""


def abreast(
    pipes: dict[str, tuple[float, float, float]], flow: float, density: float, viscosity: float
) -> str:
    """The text of pipes side by side from a tank to a pump.

    Parameters: `pipes`, by name: length [m], bore [m], roughness [mm]; `flow` of all [m³/s]; `density`
    [kg/m³]; `viscosity` [m²/s].
    """
    widest = max(bore for _, bore, _ in pipes.values())
    parts = [HEAD.format(density=density, viscosity=viscosity), TANK.format(bore=widest, flow=flow)]
    for name, (length, bore, roughness) in pipes.items():
        parts.append(PIPE.format(name=name, bore=bore, roughness=roughness, hidden=length - 10))
    return "\n".join(parts)


def flow_in(solution: Solution, run: str) -> float:
    """Flow through a run, from its start to its end [m³/s]."""
    return float(solution.flows[solution.network.index[f"{run}/straight 1"]])


def friction_in(solution: Solution, run: str) -> float:
    """Head lost to friction in a run [m]."""
    row = solution.network.index[f"{run}/straight 1"]
    return float(solution.drops[row]) / (solution.fluid.density * GRAVITY)


WHITE = "White, Fluid Mechanics"
CENGEL = "Çengel and Cimbala"
WHITES_PIPES = {"one": (100.0, 0.08, 0.24), "two": (150.0, 0.06, 0.12), "three": (80.0, 0.04, 0.20)}
WHITES_WATER = (1000.0, 1.02e-6)


def test_white_6_18(read: Read, published: Published) -> None:
    """White, Fluid Mechanics, Example 6.18 (public collection; ε and lengths by the book's L/d and f): the
    pipes of Example 6.17 side by side carry 62.5 + 25.9 + 11.4 = 99.8 m³/h at 20.3 m. Tolerance 0.5 %:
    three digits, and minor losses of up to 1 % in the 4 cm pipe."""
    solution = solve(read(abreast(WHITES_PIPES, 99.8 / 3600, *WHITES_WATER)))
    for name, theirs in (("one", 62.5), ("two", 25.9), ("three", 11.4)):
        published(WHITE, f"Ex. 6.18 pipe {name}", theirs, flow_in(solution, name) * 3600, "m³/h", rel=5e-3)
    published(WHITE, "Ex. 6.18 head loss", 20.3, friction_in(solution, "one"), "m", rel=5e-3)


def test_cengel_8_7(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-7 (inputs from a public collection, answers from memory): a pump lifts
    water 8 m through 36 m of 4 cm and 36 m of 8 cm pipe side by side, ε 0.045 mm, 998 kg/m³, 1.002 mPa·s;
    with 8 kW at 70 % it carries 0.0300 m³/s, 0.00415 and 0.0259 of it, against 11.1 m of friction.

    Tolerance 1.5 % for the 4 cm pipe, whose widening at the port costs 2.5 % of its friction, else 0.5 %.
    """
    pipes = {"narrow": (36.0, 0.04, 0.045), "wide": (36.0, 0.08, 0.045)}
    solution = solve(read(abreast(pipes, 0.0300, 998.0, 1.002e-3 / 998)))
    published(CENGEL, "Ex. 8-7 pipe 1", 0.00415, flow_in(solution, "narrow"), "m³/s", rel=0.015)
    published(CENGEL, "Ex. 8-7 pipe 2", 0.0259, flow_in(solution, "wide"), "m³/s", rel=5e-3)
    published(CENGEL, "Ex. 8-7 head loss", 11.1, friction_in(solution, "wide"), "m", rel=5e-3)
    lifted = 8000 * 0.70 / (998 * GRAVITY * 0.0300)
    assert lifted == pytest.approx(8 + friction_in(solution, "wide"), rel=5e-3)


def test_cengel_two_lengths_of_one_bore(read: Read, published: Published) -> None:
    """Çengel and Cimbala, problem of chapter 8 on a cast iron main (public page of its solution): 1000 m and
    3000 m of 30 cm pipe of ε 0.26 mm side by side, water of 15 °C, 999.1 kg/m³, 1.138 mPa·s: with 0.4 m³/s
    (5.659 m/s) in the first, 3.267 m/s in the second. Tolerance 0.5 %: the book takes the same f in both."""
    pipes = {"short": (1000.0, 0.30, 0.26), "long": (3000.0, 0.30, 0.26)}
    flow = (5.659 + 3.267) / 5.659 * 0.4
    solution = solve(read(abreast(pipes, flow, 999.1, 1.138e-3 / 999.1)))
    area = 0.4 / 5.659
    published(CENGEL, "cast iron main, 1000 m", 5.659, flow_in(solution, "short") / area, "m/s", rel=5e-3)
    published(CENGEL, "cast iron main, 3000 m", 3.267, flow_in(solution, "long") / area, "m/s", rel=5e-3)


RESERVOIR = """\
[reservoirs.tank-{name}]
outline = [["{x0} m", "0 m"], ["{x1} m", "0 m"], ["{x1} m", "110 m"], ["{x0} m", "110 m"]]
depth = "9 m"
normal_level = "{level} m"
minimum_level = "{level} m"
[intakes.mouth-{name}]
reservoir = "tank-{name}"
at = ["{x} m", "0 m"]
kind = "bell-mouth"
bore = "{bore} m"
[runs.{name}]
from = "mouth-{name}"
to = "{to}"
bore = "{bore} m"
roughness = "{roughness} mm"
out_of_plane = "{hidden} m"
"""

JUNCTION = """\
[tees]
junction = { at = ["25 m", "-10 m"], bore = "0.3 m" }
side = { at = ["24 m", "-10 m"], bore = "0.3 m" }
[pumps.pump]
at = ["24 m", "-12 m"]
bore = "0.3 m"
type = "centrifugal"
flow = "1e-6 m^3/s"
limit = { npsh = "1 m" }
[runs.middle]
from = "side"
to = "junction"
bore = "0.3 m"
roughness = "0 mm"
[runs.suction]
from = "side"
to = "pump"
bore = "0.3 m"
roughness = "0 mm"
"""


def test_white_6_19(read: Read, published: Published) -> None:
    """White, Fluid Mechanics, Example 6.19 (answers from a public page, levels from memory): the same three
    pipes join reservoirs at 20, 100 and 40 m: 52.8 m³/h into the first, 47.0 and 5.8 out of the others.

    The pump that a drawing must have takes next to nothing. Tolerance 1.5 %, and 4 % for the third: the book
    neglects minor losses, which take 0.7, 1.0 and 0.1 m of 14.5, 65.5 and 5.5 m here.
    """
    parts = [HEAD.format(density=WHITES_WATER[0], viscosity=WHITES_WATER[1]), JUNCTION]
    for (name, (length, bore, roughness)), level, x, to in zip(
        WHITES_PIPES.items(), (20, 100, 40), (5, 25, 45), ("side", "junction", "junction"), strict=True
    ):
        drawn = ((x - (24 if to == "side" else 25)) ** 2 + 10**2) ** 0.5
        parts.append(
            RESERVOIR.format(
                name=name, x0=x - 4, x1=x + 4, x=x, level=level, bore=bore, to=to, roughness=roughness,
                hidden=length - drawn,
            )
        )  # fmt: skip
    solution = solve(read("\n".join(parts)))
    for name, theirs, near in (("one", -52.8, 0.015), ("two", 47.0, 0.015), ("three", 5.8, 0.04)):
        published(WHITE, f"Ex. 6.19 pipe {name}", theirs, flow_in(solution, name) * 3600, "m³/h", rel=near)
