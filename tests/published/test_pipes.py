"""Worked examples of pipes and their fittings, each drawn as a level pipe and read off its ledger.

How each was read stands in its docstring, as in `test_suction`.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import Entry, PumpLedger
from tests.drawings import pipe
from tests.published.comparing import Published
from tests.published.figures import (
    FOOT,
    GALLON,
    GPM,
    INCH,
    POUND_PER_CUBIC_FOOT,
    PSI,
    SLUG_PER_CUBIC_FOOT,
    area,
    ledger,
    lost,
)

Read = Callable[[str], Layout]

PSF = PSI / 144
WATER = 62.4 * POUND_PER_CUBIC_FOOT
WHITE = "White, Fluid Mechanics"
GILES = "Giles, Fluid Mechanics and Hydraulics"


def line(pump_ledger: PumpLedger) -> Entry:
    """The straight of the pipe."""
    return next(entry for entry in pump_ledger.entries if entry.part == "line")


def head(pump_ledger: PumpLedger, density: float, *parts: str) -> float:
    """What parts lose, as head of that fluid [ft]."""
    return lost(pump_ledger, *parts) / (density * GRAVITY * FOOT)


def test_white_6_6(read: Read, published: Published) -> None:
    """White, Fluid Mechanics, Example 6.6 (from memory): water at 6 ft/s in 200 ft of 6 in asphalted cast
    iron, ε 0.0004 ft, 1.1e-5 ft²/s: Re 270 000, f 0.02 off the chart, 4.5 ft, 280 lbf/ft². Tolerance 1.5 %:
    the chart, and two digits."""
    density = 1.94 * SLUG_PER_CUBIC_FOOT
    text = pipe(
        bore=FOOT / 2,
        length=200 * FOOT,
        flow=6 * FOOT * area(FOOT / 2),
        density=density,
        viscosity=1.1e-5 * FOOT**2,
        roughness=0.0004 * FOOT,
    )
    pump_ledger = ledger(read(text))
    published(WHITE, "Ex. 6.6 Reynolds number", 270e3, line(pump_ledger).reynolds, rel=0.015)
    published(WHITE, "Ex. 6.6 f", 0.02, line(pump_ledger).friction_factor, rel=0.015)
    published(WHITE, "Ex. 6.6 head lost", 4.5, head(pump_ledger, density, "line"), "ft", rel=0.015)
    published(WHITE, "Ex. 6.6 pressure drop", 280, lost(pump_ledger, "line") / PSF, "lb/ft²", rel=0.015)


def test_white_6_7(read: Read, published: Published) -> None:
    """White, Example 6.7 (from memory): oil of 900 kg/m³ and 1e-5 m²/s, 0.2 m³/s through 500 m of 200 mm cast
    iron, ε 0.26 mm: 6.4 m/s, Re 128 000, f 0.0225 off the chart, 117 m; down 10° a drop of 265 kPa.
    Tolerance 1.2 %: the chart, and two digits of the velocity; of the drop 2 %, a difference of heads."""
    text = pipe(bore=0.2, length=500.0, flow=0.2, density=900.0, viscosity=1e-5, roughness=0.26e-3)
    pump_ledger = ledger(read(text))
    friction = lost(pump_ledger, "line")
    published(WHITE, "Ex. 6.7 Reynolds number", 128e3, line(pump_ledger).reynolds, rel=0.01)
    published(WHITE, "Ex. 6.7 f", 0.0225, line(pump_ledger).friction_factor, rel=0.012)
    published(WHITE, "Ex. 6.7 head lost", 117, friction / (900 * GRAVITY), "m", rel=0.01)
    drop = (friction - 900 * GRAVITY * 500 * 0.173648) / 1e3
    published(WHITE, "Ex. 6.7 pressure drop", 265, drop, "kPa", rel=0.02)


def test_white_6_16(read: Read, published: Published) -> None:
    """White, Example 6.16 (from memory): water, 0.2 ft³/s through 400 ft of 2 in pipe of ε/D 0.001 with minor
    losses of 12.2: Re 139 000, f 0.0216, 84 ft of losses. Tolerance 0.7 %: two digits."""
    density = 1.94 * SLUG_PER_CUBIC_FOOT
    text = pipe(
        bore=2 * INCH,
        length=400 * FOOT,
        flow=0.2 * FOOT**3,
        density=density,
        viscosity=1.1e-5 * FOOT**2,
        roughness=0.002 * INCH,
        k=12.2,
    )
    pump_ledger = ledger(read(text))
    published(WHITE, "Ex. 6.16 Reynolds number", 139e3, line(pump_ledger).reynolds, rel=2e-3)
    published(WHITE, "Ex. 6.16 f", 0.0216, line(pump_ledger).friction_factor, rel=3e-3)
    published(WHITE, "Ex. 6.16 losses", 84, head(pump_ledger, density, "line", "losses"), "ft", rel=7e-3)


def test_munson_8_8(read: Read, published: Published) -> None:
    """Munson, Young and Okiishi, Example 8.8 (from memory): water of 60 °F, 8.70 ft/s in 60 ft of 0.0625 ft
    copper, ε 5e-6 ft, with four elbows of 1.5, a globe valve of 10 and a faucet of 2: Re 45 000, f 0.0215,
    10.6 psi of friction and 9.2 of minor losses. Tolerance 1 %: the chart."""
    density = 1.94 * SLUG_PER_CUBIC_FOOT
    bore = 0.0625 * FOOT
    text = pipe(
        bore=bore,
        length=60 * FOOT,
        flow=8.70 * FOOT * area(bore),
        density=density,
        viscosity=2.34e-5 * PSF / density,
        roughness=5e-6 * FOOT,
        k=4 * 1.5 + 10 + 2,
    )
    pump_ledger = ledger(read(text))
    source = "Munson, Young and Okiishi"
    published(source, "Ex. 8.8 Reynolds number", 45000, line(pump_ledger).reynolds, rel=0.01)
    published(source, "Ex. 8.8 f", 0.0215, line(pump_ledger).friction_factor, rel=0.01)
    published(source, "Ex. 8.8 friction", 10.6, lost(pump_ledger, "line") / PSI, "psi", rel=0.01)
    published(source, "Ex. 8.8 minor losses", 9.2, lost(pump_ledger, "losses") / PSI, "psi", rel=0.01)


def test_giles_laminar_oil(read: Read, published: Published) -> None:
    """Giles, Fluid Mechanics and Hydraulics, solved problems (from memory): oil of 0.00210 lb·s/ft² and SG
    0.850, 1.57 ft³/s through 10 000 ft of 12 in pipe: 2.00 ft/s, Re 1570, f 0.0407, 25.4 ft. Tolerance 0.4 %:
    last digits."""
    density = 0.85 * WATER
    text = pipe(
        bore=FOOT,
        length=10e3 * FOOT,
        flow=1.57 * FOOT**3,
        density=density,
        viscosity=0.0021 * PSF / density,
    )
    pump_ledger = ledger(read(text))
    published(GILES, "oil, velocity", 2.00, line(pump_ledger).velocity / FOOT, "ft/s", rel=4e-3)
    published(GILES, "oil, Reynolds number", 1570, line(pump_ledger).reynolds, rel=4e-3)
    published(GILES, "oil, f", 0.0407, line(pump_ledger).friction_factor, rel=4e-3)
    published(GILES, "oil, head lost", 25.4, head(pump_ledger, density, "line"), "ft", rel=4e-3)


def test_giles_heavy_fuel_oil(read: Read, published: Published) -> None:
    """Giles, solved problems (from memory): fuel oil of 0.00444 ft²/s and SG 0.918 through 3000 ft of 6 in
    pipe from 155 to 5 psi: 7.08 ft/s, Re 797, 1.39 ft³/s. Tolerance 0.6 %: three digits."""
    text = pipe(
        bore=FOOT / 2,
        length=3000 * FOOT,
        flow=1.39 * FOOT**3,
        density=0.918 * WATER,
        viscosity=0.00444 * FOOT**2,
    )
    pump_ledger = ledger(read(text))
    published(GILES, "fuel oil, velocity", 7.08, line(pump_ledger).velocity / FOOT, "ft/s", rel=2e-3)
    published(GILES, "fuel oil, Reynolds number", 797, line(pump_ledger).reynolds, rel=2e-3)
    published(GILES, "fuel oil, pressure drop", 150, lost(pump_ledger, "line") / PSI, "psi", rel=6e-3)


@pytest.mark.parametrize(
    ("bore", "flow", "velocity", "loss"),
    [(2.067, 50, 4.78, 4.67), (3.068, 100, 4.34, 2.39), (4.026, 200, 5.04, 2.27), (6.065, 500, 5.55, 1.66)],
)
def test_friction_tables_of_new_steel(
    bore: float, flow: int, velocity: float, loss: float, read: Read, published: Published
) -> None:
    """Hydraulic Institute, friction of water of 60 °F in new schedule 40 steel, ft in 100 ft (from memory).
    Tolerance 0.6 %: last digits, and its chart."""
    density = 62.37 * POUND_PER_CUBIC_FOOT
    text = pipe(
        bore=bore * INCH,
        length=100 * FOOT,
        flow=flow * GPM,
        density=density,
        viscosity=1.217e-5 * FOOT**2,
        roughness=0.00015 * FOOT,
    )
    pump_ledger = ledger(read(text))
    source, case = "Hydraulic Institute friction tables", f"{flow} gpm in {bore} in"
    published(source, f"{case}, velocity", velocity, line(pump_ledger).velocity / FOOT, "ft/s", rel=2e-3)
    published(source, f"{case}, head", loss, head(pump_ledger, density, "line"), "ft", rel=6e-3)


def test_cengel_8_2(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-2 (public collection): water of 40 °F, 62.42 lb/ft³ and 1.038e-3
    lb/(ft·s), 3 ft/s in 30 ft of 0.12 in pipe: Re 1803, f 0.0355, 14.9 ft, 929 lbf/ft². Tolerance 0.1 %: last
    digits."""
    density, bore = 62.42 * POUND_PER_CUBIC_FOOT, 0.12 * INCH
    text = pipe(
        bore=bore,
        length=30 * FOOT,
        flow=3 * FOOT * area(bore),
        density=density,
        viscosity=1.038e-3 * POUND_PER_CUBIC_FOOT * FOOT**2 / density,
    )
    pump_ledger = ledger(read(text))
    source = "Çengel and Cimbala"
    published(source, "Ex. 8-2 Reynolds number", 1803, line(pump_ledger).reynolds, rel=1e-3)
    published(source, "Ex. 8-2 f", 0.0355, line(pump_ledger).friction_factor, rel=1e-3)
    published(source, "Ex. 8-2 head lost", 14.9, head(pump_ledger, density, "line"), "ft", rel=1.5e-3)
    published(source, "Ex. 8-2 pressure drop", 929, lost(pump_ledger, "line") / PSF, "lb/ft²", rel=1e-3)


def test_cengel_8_3_in_feet(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-3 in customary units (inputs from a public collection, results from
    memory): water of 60 °F, 62.36 lb/ft³ and 7.536e-4 lb/(ft·s), 0.2 ft³/s through 200 ft of 2 in stainless
    steel, ε 7e-6 ft: Re 126 400, f 0.0174, 27.3 ft, 1700 lbf/ft² (11.8 psi). Tolerance 0.4 %: last digits."""
    density = 62.36 * POUND_PER_CUBIC_FOOT
    text = pipe(
        bore=2 * INCH,
        length=200 * FOOT,
        flow=0.2 * FOOT**3,
        density=density,
        viscosity=7.536e-4 * POUND_PER_CUBIC_FOOT * FOOT**2 / density,
        roughness=7e-6 * FOOT,
    )
    pump_ledger = ledger(read(text))
    source = "Çengel and Cimbala"
    published(source, "Ex. 8-3E Reynolds number", 126400, line(pump_ledger).reynolds, rel=1e-3)
    published(source, "Ex. 8-3E f", 0.0174, line(pump_ledger).friction_factor, rel=4e-3)
    published(source, "Ex. 8-3E head lost", 27.3, head(pump_ledger, density, "line"), "ft", rel=4e-3)
    published(source, "Ex. 8-3E pressure drop", 11.8, lost(pump_ledger, "line") / PSI, "psi", rel=4e-3)


def test_crane_7_13(read: Read, published: Published) -> None:
    """Crane TP-410M, Example 7-13 (public repository): fuel oil of SG 0.815 and 2.7 cSt, 2 gallons a second
    through 100 ft of 2 in schedule 40 pipe: f 0.0230 off the chart, 66.5 kPa, 9.65 psi. Tolerance 1.5 %: by
    Colebrook the repository too has 0.0227, and 65.76 kPa."""
    text = pipe(
        bore=2.067 * INCH,
        length=100 * FOOT,
        flow=2 * GALLON,
        density=0.815 * 999.1,
        viscosity=2.7e-6,
        roughness=0.0018 * INCH,
    )
    pump_ledger = ledger(read(text))
    published("Crane TP-410", "Ex. 7-13 f", 0.0230, line(pump_ledger).friction_factor, rel=0.015)
    published(
        "Crane TP-410", "Ex. 7-13 pressure drop", 66.5, lost(pump_ledger, "line") / 1e3, "kPa", rel=0.015
    )


def test_crane_7_9(read: Read, published: Published) -> None:
    """Crane TP-410, Example 7-9 (public repository, which works it out with `fluids`): SAE 30 oil of 100 °F,
    SG 0.87 and 130 cP, 400 gpm through 300 ft of 5 in schedule 40 pipe with an elbow, a gate and an angle
    valve of 178 f_T, up 50 ft: 6.41 ft/s, Re 1676, f 0.0382, 26.06 psi. Tolerance 0.1 %: its rounded bore."""
    density = 0.87 * 62.364 * POUND_PER_CUBIC_FOOT
    text = pipe(
        bore=5.047 * INCH,
        length=300 * FOOT,
        flow=400 * GPM,
        density=density,
        viscosity=0.13 / density,
        k=178 * 0.015439,
    )
    pump_ledger = ledger(read(text))
    source = "Crane TP-410, by fluids, 1.3.1"
    published(source, "Ex. 7-9 velocity", 6.41, line(pump_ledger).velocity / FOOT, "ft/s", rel=1e-3)
    published(source, "Ex. 7-9 Reynolds number", 1676, line(pump_ledger).reynolds, rel=1e-3)
    published(source, "Ex. 7-9 f", 0.0382, line(pump_ledger).friction_factor, rel=1e-3)
    risen = (lost(pump_ledger, "line", "losses") + density * GRAVITY * 50 * FOOT) / PSI
    published(source, "Ex. 7-9 pressure drop", 26.06, risen, "psi", rel=1e-3)


def test_metric_flow_constant(read: Read, published: Published) -> None:
    """v = 21.22 Q/d² m/s, L/min and mm, of fluid-power tables (public page). Tolerance: its last digit."""
    pump_ledger = ledger(read(pipe(bore=0.03, length=1.0, flow=45 / 60e3, density=870.0, viscosity=46e-6)))
    published("Fluid-power tables", "v d²/Q", 21.22, line(pump_ledger).velocity * 900 / 45, abs=5e-3)
