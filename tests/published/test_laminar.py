"""Worked examples of thick fluids in laminar flow, each drawn as a layout file and read off its ledger.

"From memory": no copy was at hand, and the arithmetic was done again. "Public page": an excerpt was read.
Where a book is at hand, the book wins.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from tests.drawings import fluid, pipe, plumb
from tests.published.comparing import Published
from tests.published.figures import FOOT, GPM, INCH, POUND, PSI, area, ledger, lost

Read = Callable[[str], Layout]

WHITE = "White, Fluid Mechanics"
POUND_FORCE_PER_CUBIC_FOOT = POUND / FOOT**3  # of mass, where the book's weight is by standard gravity


def test_bird_stewart_lightfoot_2_3_1(read: Read, published: Published) -> None:
    """Bird, Stewart and Lightfoot, Transport Phenomena, Example 2.3-1 (from memory): glycerine of 26.5 °C and
    1.261 g/cm³, 0.00398 ft³/min through 1 ft of 0.1 in tube at 40 psi has 4.92 g/cm·s. Tolerance 0.2 %: the
    three digits of the flow and the viscosity."""
    flow, density = 0.00398 * FOOT**3 / 60, 1261.0
    text = pipe(bore=0.1 * INCH, length=FOOT, flow=flow, density=density, viscosity=0.492 / density)
    drop = lost(ledger(read(text)), "line") / PSI
    published("Bird, Stewart and Lightfoot", "Ex. 2.3-1 pressure drop", 40.0, drop, "psi", rel=2e-3)


def test_white_6_4(read: Read, published: Published) -> None:
    """White, Fluid Mechanics, Example 6.4 (from memory): oil of 900 kg/m³ and 0.0002 m²/s runs up 10 m of
    60 mm pipe: 0.0076 m³/s at 4.9 m of friction, 2.7 m/s, Re 810. Tolerance 1 %: two digits of the flow."""
    pump_ledger = ledger(
        read(pipe(bore=0.06, length=10.0, flow=0.00764, density=900.0, viscosity=2e-4, depth=4.0))
    )
    entry = next(e for e in pump_ledger.entries if e.part == "line")
    published(WHITE, "Ex. 6.4 friction", 4.9, entry.loss / (900 * GRAVITY), "m", rel=0.01)
    published(WHITE, "Ex. 6.4 velocity", 2.7, entry.velocity, "m/s", rel=0.01)
    published(WHITE, "Ex. 6.4 Reynolds number", 810, entry.reynolds, rel=0.01)


def test_white_6_5(read: Read, published: Published) -> None:
    """White, Example 6.5 (from memory): a liquid of 58 lbf/ft³ runs out of a tank, 1 ft deep, through 1 ft of
    upright tube of 0.004 ft bore into the air, 0.15 ft³/h; with a kinetic factor of 2 in laminar flow it has
    1.45e-5 slug/ft·s, Re 1650. So a port at the tube's end is at the atmosphere, the entrance left out, which
    the book neglects. Tolerance 0.01 ft; with a factor of 1 it would be 0.17 ft off."""
    density, bore = 58 * POUND_FORCE_PER_CUBIC_FOOT, 0.004 * FOOT
    viscosity = 1.45e-5 * (POUND * GRAVITY / FOOT**2) / density
    text = plumb(
        "ft", -2.0, site='barometer = "14.7 psi"', fluid=fluid("58 lb/ft^3", "0 Pa"), mouth=-1.0, half=1.0,
        middle=-1.5, bore=f"{bore!r} m", flow=f"{0.15 * FOOT**3 / 3600!r} m^3/s",
        viscosity=f"{viscosity!r} m^2/s",
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    entrance = next(e.loss for e in pump_ledger.entries if e.element == "entrance")
    left = (pump_ledger.vacuum - entrance) / (density * GRAVITY * FOOT)
    published(WHITE, "Ex. 6.5 vacuum at the end of the tube", 0.0, left, "ft", abs=0.01)
    published(WHITE, "Ex. 6.5 Reynolds number", 1650, pump_ledger.entries[-1].reynolds, rel=2e-3)


def test_engine_oil_of_70_fahrenheit(read: Read, published: Published) -> None:
    """A course's Example 16-2 (public page): engine oil of 70 °F, 1888 lb/ft·h, at 1.5 ft/s through 10 ft of
    1/2 in pipe: 31.3 psi. Tolerance 0.2 %: its last digit, and its 32.2. Its density is not in the excerpt
    and has no bearing in laminar flow."""
    density = 888.0
    viscosity = 1888 * POUND / FOOT / 3600 / density
    text = pipe(
        bore=INCH / 2, length=10 * FOOT, flow=1.5 * FOOT * area(INCH / 2), density=density,
        viscosity=viscosity,
    )  # fmt: skip
    drop = lost(ledger(read(text)), "line") / PSI
    published("Engine oil, course example", "Ex. 16-2 pressure drop", 31.3, drop, "psi", rel=2e-3)


@pytest.mark.parametrize(
    ("centistokes", "head"), [(4, 1.7e4), (25, 11e4), (45, 20e4), (250, 110e4), (500, 220e4)]
)
def test_head_lost_in_oil_pipes(centistokes: int, head: float, read: Read, published: Published) -> None:
    """A public table of oil pipes in laminar flow: metres of oil a metre of pipe, times d⁴/f with d in mm and
    f in L/s. Tolerance 8 %: two digits, which lie 2 to 7 % over Hagen and Poiseuille."""
    bore, flow = 60.0, 0.1
    text = pipe(bore=bore / 1e3, length=1.0, flow=flow / 1e3, density=870.0, viscosity=centistokes / 1e6)
    ours = lost(ledger(read(text)), "line") / (870 * GRAVITY) * bore**4 / flow
    published("Public table of oil pipes", f"{centistokes} cSt", head, ours, rel=0.08)
    assert ours < head


def test_a_filter_s_drop_goes_with_viscosity_and_specific_gravity(read: Read, published: Published) -> None:
    """Filter makers' sheets (common practice, no source): a drop read with 150 SUS and SG 0.86 is multiplied
    by the viscosity over 150 SUS and by the specific gravity over 0.86. 2 psi at 20 gpm is 3.72 psi with
    250 SUS and SG 0.96. Tolerance 2 %: seconds are taken in proportion there, and are not quite."""
    points = 'drops = [["20 gpm", "2 psi"]], viscosity = "150 SUS", density = "860 kg/m^3"'
    screen = f'"strainer"\nscreen = {{ {points} }}'
    text = pipe(bore=2.067 * INCH, length=1.0, flow=20 * GPM, density=960.0, viscosity=1e-6)
    thick = text.replace("1e-06 m^2/s", "250 SUS").replace('"bell-mouth"', screen)
    pump_ledger = ledger(read(thick))
    (entry,) = (e for e in pump_ledger.entries if e.kind == "screen")
    ours = entry.loss / PSI
    published("Filter makers' sheets", "2 psi, thicker and heavier", 3.72, ours, "psi", rel=0.02)
