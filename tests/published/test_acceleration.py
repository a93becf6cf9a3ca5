"""Worked examples of reciprocating pumps, each drawn as a layout file and read off its ledger.

The textbooks move a piston in simple harmonic motion and take the fluid for rigid: (L/g)(A/a) ω² r is the
Hydraulic Institute's L v N C/(K g) with C = π²/30 and K = 1. They look at the beginning of the stroke, where
the acceleration is greatest and the velocity nothing, so that lift and acceleration are all that is taken;
the program, as the Hydraulic Institute, charges friction at the mean flow on top.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.optimize import brentq

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger
from tests.drawings import fluid, plumb
from tests.published.comparing import Published
from tests.published.figures import FOOT, ledger

Read = Callable[[str], Layout]

WATER = 1000.0
HARMONIC = math.pi**2 / 30


def stroking(
    read: Read,
    *,
    lift: float,
    length: float,
    bore: float,
    piston: float,
    stroke: float,
    speed: float,
    air: float,
) -> PumpLedger:
    """The ledger of a single-acting pump over a sump of cold water.

    Parameters: `lift`, `length` and `bore` of the suction pipe, `piston` and `stroke` [m]; `speed` [rev/s];
    `air`, the atmosphere as head of water [m].
    """
    text = plumb(
        "m", lift, mouth=-0.25, site=f'barometer = "{air * WATER * GRAVITY!r} Pa"',
        fluid=fluid("1000 kg/m^3", "0 Pa"), bore=f"{bore!r} m", hidden=f"{length - lift - 0.25!r} m",
    )  # fmt: skip
    swept = math.pi / 4 * piston**2 * stroke
    turning = (
        f'displacement = "{swept!r} m^3/rev"\nspeed = "{speed!r} rev/s"\n'
        f"cylinder_constant = {HARMONIC!r}\nfluid_constant = 1.0"
    )
    text = text.replace('flow = "1 gpm"', turning).replace('"centrifugal"', '"reciprocating"')
    return ledger(read(text))


def acceleration(ledger: PumpLedger) -> float:
    """Head that the strokes take at the worst moment of a turn [m]."""
    (entry,) = (e for e in ledger.entries if e.kind == "acceleration head")
    return entry.loss / (WATER * GRAVITY)


def at_the_start(ledger: PumpLedger) -> float:
    """Absolute head in the cylinder as the stroke begins, where nothing flows yet [m]."""
    lifted = sum(entry.lift for entry in ledger.entries)
    return (ledger.surface - lifted) / (WATER * GRAVITY) - acceleration(ledger)


def separation(least: float, drawn: Callable[[float], PumpLedger]) -> float:
    """Speed at which the head at the start of the stroke comes down to the least [rev/s]."""
    return float(brentq(lambda n: at_the_start(drawn(n)) - least, 0.05, 3.0, xtol=1e-9))


def test_douglas_24_1(read: Read, published: Published) -> None:
    """Douglas, Gasiorek and Swaffield, Example 24.1 (public collection): 150 mm piston, 400 mm stroke, 2 m of
    50 mm pipe, 1.5 m of lift, 10.3 m of atmosphere: 8.22 m absolute at the start and 9.38 m at the end of a
    stroke at 0.2 rev/s; separation at 2.4 m from 39.9 rpm on (the book rounds to 40). Tolerance 0.01 m and
    0.05 rpm: last digits."""

    def drawn(speed: float) -> PumpLedger:
        return stroking(read, lift=1.5, length=2.0, bore=0.05, piston=0.15, stroke=0.4, speed=speed, air=10.3)

    ledger = drawn(0.2)
    source = "Douglas, Fluid Mechanics"
    published(source, "Ex. 24.1 start of stroke", 8.22, at_the_start(ledger), "m", abs=0.01)
    end = at_the_start(ledger) + 2 * acceleration(ledger)
    published(source, "Ex. 24.1 end of stroke", 9.38, end, "m", abs=0.01)
    published(source, "Ex. 24.1 separation", 39.9, 60 * separation(2.4, drawn), "rpm", abs=0.05)


def test_sarkar_9_5_and_9_6(read: Read, published: Published) -> None:
    """Sarkar, Fluid Mechanics and Hydraulic Machines, Examples 9.5 and 9.6 (public collection): 7 m of pipe,
    A/a 16/9, crank 75 mm, 75 rpm, 2.5 m of lift: 8.369 m below the atmosphere at the start; 80 mm piston,
    150 mm stroke, 4.5 m of 30 mm pipe, 3 m of lift, 78.86 kPa below the atmosphere: 43.34 rpm. 0.1 %."""
    source = "Sarkar, Fluid Mechanics"
    head_entry = stroking(
        read, lift=2.5, length=7.0, bore=0.09, piston=0.12, stroke=0.15, speed=75 / 60, air=10.33
    )
    published(source, "Ex. 9.5 vacuum head", 8.369, 10.33 - at_the_start(head_entry), "m", rel=1e-3)

    def drawn(speed: float) -> PumpLedger:
        return stroking(
            read, lift=3.0, length=4.5, bore=0.03, piston=0.08, stroke=0.15, speed=speed, air=10.33
        )

    least = 10.33 - 78860 / 9810
    published(source, "Ex. 9.6 separation", 43.34, 60 * separation(least, drawn), "rpm", rel=1e-3)


def test_subramanya_16_41_and_16_42(read: Read, published: Published) -> None:
    """Subramanya, 1000 Solved Problems in Fluid Mechanics, 16.41 and 16.42 (public collection): 5 m of 5 cm
    pipe, 15 cm piston, crank 0.15 m, 2.5 m of lift, separation at 2.0 m of 10 m: 27.0 rpm; A/a 4, crank
    0.2 m, 30 rpm, separation at 2.5 m: lift 3.476 m. Tolerance 0.05 rpm and 0.005 m: last digits and a g of
    9.81."""
    source = "Subramanya, 1000 Solved Problems"

    def drawn(speed: float) -> PumpLedger:
        return stroking(read, lift=2.5, length=5.0, bore=0.05, piston=0.15, stroke=0.3, speed=speed, air=10.0)

    published(source, "16.41 separation", 27.0, 60 * separation(2.0, drawn), "rpm", abs=0.05)
    head_entry = stroking(read, lift=3.0, length=5.0, bore=0.1, piston=0.2, stroke=0.4, speed=0.5, air=10.0)
    published(source, "16.42 lift", 3.476, 3.0 + at_the_start(head_entry) - 2.5, "m", abs=0.005)


def test_brasch_and_whyman_6(read: Read, published: Published) -> None:
    """Brasch and Whyman, Problems in Fluid Flow, ch. 6 (public collection): 150 mm piston, 220 mm stroke,
    7.8 m of 45 mm pipe, 4.6 m of lift, 105.4 kPa, 10.85 kPa vapour pressure: at most 0.3624 Hz. 0.1 %."""

    def drawn(speed: float) -> PumpLedger:
        air = 105400 / (WATER * GRAVITY)
        return stroking(
            read, lift=4.6, length=7.8, bore=0.045, piston=0.15, stroke=0.22, speed=speed, air=air
        )

    least = 10850 / (WATER * GRAVITY)
    highest = separation(least, drawn)
    published("Brasch and Whyman", "ch. 6 highest frequency", 0.3624, highest, "Hz", rel=1e-3)


def test_coulson_and_richardson_8_1(read: Read, published: Published) -> None:
    """Coulson and Richardson, vol. 1, Example 8.1 (public collection): 110 mm piston, 230 mm stroke, 6 m of
    50 mm pipe, 3 m of lift, 10.36 m of atmosphere, separation at 1.2 m: 0.677 Hz. 0.1 %."""

    def drawn(speed: float) -> PumpLedger:
        return stroking(
            read, lift=3.0, length=6.0, bore=0.05, piston=0.11, stroke=0.23, speed=speed, air=10.36
        )

    source = "Coulson and Richardson, vol. 1"
    published(source, "Ex. 8.1 highest frequency", 0.677, separation(1.2, drawn), "Hz", rel=1e-3)


TRIPLEX = """\
format = 1
title = "A triplex on six and four inch pipe"
[site]
elevation = "0 ft"
[fluid]
name = "Cold water"
temperature = "60 degF"
density = [["60 degF", "62.4 lb/ft^3"]]
viscosity = "1.13 cSt"
vapor_pressure = "0.26 psi"
dissolved_air = 0
[reservoirs.tank]
outline = [["-30 ft", "-9 ft"], ["0 ft", "-9 ft"], ["0 ft", "9 ft"], ["-30 ft", "9 ft"]]
depth = "9 ft"
normal_level = "8 ft"
minimum_level = "8 ft"
[intakes.mouth]
reservoir = "tank"
at = ["0 ft", "0 ft"]
kind = "wall nozzle"
bore = "{wide} in"
[fittings.joint]
at = ["20 ft", "0 ft"]
bore = "4.026 in"
kind = "known K"
k = 0
[pumps.pump]
at = ["24 ft", "0 ft"]
bore = "4.026 in"
type = "reciprocating"
displacement = "{swept!r} gal/rev"
speed = "360 rpm"
fluid_constant = 1.4
{cylinders}
limit = {{ npsh = "5 ft" }}
[runs.wide]
from = "mouth"
to = "joint"
bore = "{wide} in"
[runs.narrow]
from = "joint"
to = "pump"
bore = "4.026 in"
"""


def triplex(read: Read, cylinders: str = "cylinders = 3", wide: float = 6.065) -> PumpLedger:
    return ledger(read(TRIPLEX.format(swept=73 / 360, cylinders=cylinders, wide=wide)))


def head(ledger: PumpLedger) -> float:
    """The acceleration head of a drawing of the triplex [ft]."""
    (entry,) = (e for e in ledger.entries if e.kind == "acceleration head")
    return entry.loss / (ledger.density * GRAVITY * FOOT)


def test_hydraulic_institute_triplex(read: Read, published: Published) -> None:
    """Hydraulic Institute 6.1 to 6.5 and pump handbooks (formula and C read in a public page, the example
    from memory): a 2 by 5 in triplex at 360 rpm, 73 gpm of water, 20 ft of 6 in and 4 ft of 4 in pipe,
    C 0.066, K 1.4: 8.55 + 3.88 = 12.4 ft. Tolerance 0.03 ft, and 0.04 for the sum: last digits."""
    source = "Hydraulic Institute 6.1-6.5"
    triplex_ledger = triplex(read)
    wide, narrow = (e for e in triplex_ledger.entries if e.kind == "straight")
    published(source, "triplex, 4 in velocity", 1.84, narrow.velocity / FOOT, "ft/s", abs=0.005)
    published(source, "triplex, 6 in velocity", 0.811, wide.velocity / FOOT, "ft/s", abs=0.0005)
    published(source, "triplex, acceleration head", 12.4, head(triplex_ledger), "ft", abs=0.04)
    share = 4 * narrow.velocity / (4 * narrow.velocity + 20 * wide.velocity)
    published(source, "triplex, in the 4 in pipe", 3.88, share * head(triplex_ledger), "ft", abs=0.03)
    published(source, "triplex, in the 6 in pipe", 8.55, (1 - share) * head(triplex_ledger), "ft", abs=0.03)


@pytest.mark.parametrize(
    ("cylinders", "double", "kinematic"),
    [
        (1, False, 0.3948),
        (2, False, 0.1974),
        (2, True, 0.1155),
        (3, False, 0.0658),
        (5, False, 0.0395),
        (7, False, 0.0282),
        (9, False, 0.0219),
    ],
)
def test_cylinder_constants_follow_from_the_crank(
    cylinders: int, double: bool, kinematic: float, read: Read, published: Published
) -> None:
    """C from the motion of crank and rod at r/l = 1/5, differentiated numerically outside. Tolerance
    1.5 %: the Hydraulic Institute prints two digits, 0.40 and 0.040 among them."""
    keys = f"cylinders = {cylinders}" + ("\ndouble_acting = true" if double else "")
    unit = head(triplex(read, "cylinder_constant = 1.0"))
    acting = "double" if double else "single"
    ours = head(triplex(read, keys)) / unit
    published("Slider-crank kinematics", f"C, {cylinders} {acting}", kinematic, ours, rel=0.015)
