"""Worked examples of single lines, each drawn as a layout file and read off the network and its ledger.

How each was read stands in its docstring; "public collection" is one of worked solutions to the book's own
examples. Where a book is at hand, the book wins.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger
from tests.drawings import fluid, known_k, pipe, plumb
from tests.published.comparing import Published
from tests.published.figures import (
    FOOT,
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

POUND_FORCE = 4.4482216152605
PSF = POUND_FORCE / FOOT**2
WATER = 62.4 * POUND_PER_CUBIC_FOOT
ESPOSITO = "Esposito, Fluid Power"
SULLIVAN = "Sullivan, Fluid Power"
MUNSON = "Munson, Young and Okiishi"
CENGEL = "Çengel and Cimbala"
CRANE = "Crane TP-410"


def reynolds(ledger: PumpLedger) -> float:
    """In the run "line"."""
    return next(e.reynolds for e in ledger.entries if e.part == "line")


def friction_factor(ledger: PumpLedger) -> float:
    return next(e.friction_factor for e in ledger.entries if e.part == "line")


def test_esposito_4_1_and_4_3(read: Read, published: Published) -> None:
    """Esposito, Fluid Power with Applications, Examples 4-1 and 4-3 (public collection): 100 cSt, SG 0.9,
    10 ft/s, 100 ft of 1 in pipe: Re 774, 60 psi. Tolerance 0.1 % and 0.3 %: the book rounds its constants."""
    pump_ledger = ledger(
        read(
            pipe(
                bore=INCH, length=100 * FOOT, flow=10 * FOOT * area(INCH), density=0.9 * WATER, viscosity=1e-4
            )
        )
    )
    published(ESPOSITO, "Ex. 4-1 Reynolds number", 774, reynolds(pump_ledger), rel=1e-3)
    published(ESPOSITO, "Ex. 4-3 pressure drop", 60, lost(pump_ledger, "line") / PSI, "psi", rel=3e-3)


def test_esposito_4_2_and_4_4(read: Read, published: Published) -> None:
    """Esposito, Examples 4-2 and 4-4 (public collection): 0.001 m²/s, 5 m/s, 50 m of 50 mm pipe, 8800 N/m³:
    Re 250, 326.5 m, 28.7 bar (that collection labels it kPa). Tolerance 0.2 %: g of 9.8, and last digits."""
    density = 8800 / GRAVITY
    pump_ledger = ledger(
        read(pipe(bore=0.05, length=50.0, flow=5 * area(0.05), density=density, viscosity=0.001))
    )
    published(ESPOSITO, "Ex. 4-2 Reynolds number", 250, reynolds(pump_ledger), rel=1e-9)
    published(ESPOSITO, "Ex. 4-4 head loss", 326.5, lost(pump_ledger, "line") / 8800, "m", rel=2e-3)
    published(ESPOSITO, "Ex. 4-4 pressure drop", 28.7, lost(pump_ledger, "line") / 1e5, "bar", rel=2e-3)


@pytest.mark.parametrize(
    ("case", "k", "bore", "speed", "head", "unit", "length"),
    [
        ("Ex. 4-6 globe valve", 10.0, INCH, 12.2 * FOOT, 23.1, "ft", FOOT),
        ("Ex. 4-7 gate valve", 0.19, 0.05, 0.02 / area(0.05), 1.01, "m", 1.0),
    ],
)
def test_esposito_4_6_and_4_7(
    case: str,
    k: float,
    bore: float,
    speed: float,
    head: float,
    unit: str,
    length: float,
    read: Read,
    published: Published,
) -> None:
    """Esposito, Examples 4-6 and 4-7 (public collection): a globe valve of K 10 at 30 gpm in 1 in, a gate
    valve of K 0.19 at 0.02 m³/s in 50 mm: 23.1 ft and 1.01 m.

    The book rounds 30 gpm in 1 in to 12.2 ft/s, and so do we here. Tolerance 0.7 %: its last digit.
    """
    pump_ledger = ledger(
        read(pipe(bore=bore, length=1.0, flow=speed * area(bore), density=900.0, viscosity=1e-4, k=k))
    )
    loss = lost(pump_ledger, "losses") / (900 * GRAVITY * length)
    published(ESPOSITO, case, head, loss, unit, rel=7e-3)


def test_esposito_4_8(read: Read, published: Published) -> None:
    """Esposito, Example 4-8 (public collection): the globe valve of K 10 in 1 in pipe with 100 cSt at
    12.2 ft/s loses as much as 12.3 ft of the pipe. Tolerance 0.5 %: the book's last digit."""
    pump_ledger = ledger(
        read(
            pipe(bore=INCH, length=FOOT, flow=12.2 * FOOT * area(INCH), density=900.0, viscosity=1e-4, k=10.0)
        )
    )
    as_much = lost(pump_ledger, "losses") / lost(pump_ledger, "line")
    published(ESPOSITO, "Ex. 4-8 equivalent length", 12.3, as_much, "ft", rel=5e-3)


def test_esposito_4_9(read: Read, published: Published) -> None:
    """Esposito, Example 4-9 (public collection): a pump of 5 hp gives 30 gpm of SG 0.9, 100 cSt oil through
    21 ft of 1 in pipe, 20 ft up, and an elbow of K 0.9: 260 psi at the far end.

    The line is drawn as the pump's inlet, and the pump's rise put on top; the book counts the velocity head
    once, the program twice in laminar flow. Tolerance 1.5 psi: the book rounds at each step.
    """
    text = plumb(
        "ft",
        20.0,
        site='barometer = "14.7 psi"',
        fluid=fluid(f"{0.9 * 62.4!r} lb/ft^3", "0 Pa"),
        losses=known_k(0.9),
        bore="1 in",
        flow="30 gpm",
        viscosity="100 cSt",
    )
    pump_ledger = ledger(read(text))
    port = pump_ledger.entries[-1]
    assert port.k == 2.0
    taken = pump_ledger.surface - pump_ledger.inlet - port.loss + port.loss / port.k
    rise = 5 * 550 * POUND_FORCE * FOOT / pump_ledger.flow
    published(ESPOSITO, "Ex. 4-9 pressure at 2", 260, (rise - taken) / PSI, "psi", abs=1.5)


def test_sullivan_5_2(read: Read, published: Published) -> None:
    """Sullivan, Fluid Power: Theory and Applications, 4th ed., Example 5.2 (public collection): 15 gpm of
    SG 0.85, 0.08 in²/s through 400 ft of 1 in pipe: Re 919, 71.7 psi. Tolerance 0.5 %: the text's constants
    (3.12, 0.433, 0.785) stand 0.25 % off."""
    text = pipe(
        bore=INCH,
        length=400 * FOOT,
        flow=15 * GPM,
        density=0.85 * WATER,
        viscosity=0.08 * INCH**2,
    )
    pump_ledger = ledger(read(text))
    published(SULLIVAN, "Ex. 5.2 Reynolds number", 919, reynolds(pump_ledger), rel=2e-3)
    published(SULLIVAN, "Ex. 5.2 pressure drop", 71.7, lost(pump_ledger, "line") / PSI, "psi", rel=5e-3)


def test_sullivan_5_5(read: Read, published: Published) -> None:
    """Sullivan, Example 5.5 (public collection): 50 gpm of SG 0.91 in 1 in pipe through an inward entrance
    0.78, an exit 1.0, a globe valve 10, four elbows of 0.9, an enlargement 0.75 and a contraction 0.375:
    K 16.505, 42.1 psi. Tolerance 0.3 %: the text's constants."""
    k = 0.78 + 1.0 + 10 + 4 * 0.9 + 0.75 + 0.375
    text = pipe(bore=INCH, length=FOOT, flow=50 * GPM, density=0.91 * WATER, viscosity=40e-6, k=k)
    pump_ledger = ledger(read(text))
    (losses,) = (e for e in pump_ledger.entries if e.part == "losses")
    published(SULLIVAN, "Ex. 5.5 sum of K", 16.505, losses.k, rel=1e-9)
    published(SULLIVAN, "Ex. 5.5 pressure drop", 42.1, losses.loss / PSI, "psi", rel=3e-3)


def test_munson_8_2(read: Read, published: Published) -> None:
    """Munson, Young and Okiishi, Example 8.2 (public collection): oil of 0.40 Pa·s and 900 kg/m³, 2e-5 m³/s
    through 10 m of 20 mm pipe: Re 2.86 (2.865), 20.4 kPa. Tolerances: the last digits."""
    text = pipe(bore=0.02, length=10.0, flow=2e-5, density=900.0, viscosity=0.4 / 900)
    pump_ledger = ledger(read(text))
    published(MUNSON, "Ex. 8.2 Reynolds number", 2.86, reynolds(pump_ledger), abs=0.006)
    published(MUNSON, "Ex. 8.2 pressure drop", 20.4, lost(pump_ledger, "line") / 1e3, "kPa", abs=0.05)


def test_munson_8_3(read: Read, published: Published) -> None:
    """Munson, Young and Okiishi, Example 8.3 (public collection): corn syrup of 100 °F, 0.0038 lb·s/ft²,
    2.05 slug/ft³, 0.5 ft³/s through 6 ft of 3 in pipe: Re 1374, 119 lb/ft². Tolerance 0.2 %: last digits."""
    density = 2.05 * SLUG_PER_CUBIC_FOOT
    text = pipe(
        bore=3 * INCH, length=6 * FOOT, flow=0.5 * FOOT**3, density=density, viscosity=0.0038 * PSF / density
    )
    pump_ledger = ledger(read(text))
    published(MUNSON, "Ex. 8.3 Reynolds number", 1374, reynolds(pump_ledger), rel=2e-3)
    published(MUNSON, "Ex. 8.3 pressure drop", 119, lost(pump_ledger, "line") / PSF, "lb/ft²", rel=2e-3)


def test_cengel_8_1(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-1 (public collection): glycerin of 1252 kg/m³ and 0.3073 Pa·s, 3 m/s
    through 70 m of 40 mm pipe: Re 489, 1291 kPa. Tolerance 0.1 %: last digits."""
    text = pipe(bore=0.04, length=70.0, flow=3 * area(0.04), density=1252.0, viscosity=0.3073 / 1252)
    pump_ledger = ledger(read(text))
    published(CENGEL, "Ex. 8-1 Reynolds number", 489, reynolds(pump_ledger), rel=1e-3)
    published(CENGEL, "Ex. 8-1 pressure drop", 1291, lost(pump_ledger, "line") / 1e3, "kPa", rel=1e-3)


def test_cengel_8_3(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-3 (public collection): water of 999 kg/m³ and 1.138 mPa·s, 0.006 m³/s
    through 60 m of 50 mm pipe of ε 0.002 mm: Re 134 300, f 0.0172, 96.4 kPa. Tolerance 0.3 %: the book
    rounds the velocity to 3.06 m/s and f to three digits."""
    text = pipe(bore=0.05, length=60.0, flow=0.006, density=999.0, viscosity=1.138e-3 / 999, roughness=2e-6)
    pump_ledger = ledger(read(text))
    published(CENGEL, "Ex. 8-3 Reynolds number", 134300, reynolds(pump_ledger), rel=3e-3)
    published(CENGEL, "Ex. 8-3 friction factor", 0.0172, friction_factor(pump_ledger), rel=3e-3)
    published(CENGEL, "Ex. 8-3 pressure drop", 96.4, lost(pump_ledger, "line") / 1e3, "kPa", rel=3e-3)


def test_cengel_8_8(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 8-8 (public collection): water of 999.7 kg/m³ and 1.307 mPa·s, 0.006 m³/s
    through 89 m of 50 mm cast iron pipe with minor losses of 0.5 + 2 · 0.3 + 0.2 + 1.06, to a level of 4 m:
    f 0.0315, upper level 31.8 m. Tolerance 0.2 %: last digits."""
    text = pipe(
        bore=0.05,
        length=89.0,
        flow=0.006,
        density=999.7,
        viscosity=1.307e-3 / 999.7,
        roughness=0.26e-3,
        k=0.5 + 2 * 0.3 + 0.2 + 1.06,
    )
    pump_ledger = ledger(read(text))
    upper = 4 + lost(pump_ledger, "line", "losses") / (999.7 * GRAVITY)
    published(CENGEL, "Ex. 8-8 friction factor", 0.0315, friction_factor(pump_ledger), rel=2e-3)
    published(CENGEL, "Ex. 8-8 upper level", 31.8, upper, "m", rel=2e-3)


def test_crane_7_1(read: Read, published: Published) -> None:
    """Crane TP-410M, Example 7-1 (public repository): 200 L/min of water of 30 °C through smooth 50 mm pipe:
    Re 100 600, f 0.0179. The bore of 52.5 mm and 0.80 mPa·s follow from that Reynolds number. Last digits."""
    text = pipe(bore=0.0525, length=10.0, flow=0.2 / 60, density=995.6, viscosity=0.8e-3 / 995.6)
    pump_ledger = ledger(read(text))
    published(CRANE, "Ex. 7-1 Reynolds number", 100600, reynolds(pump_ledger), rel=1e-3)
    published(CRANE, "Ex. 7-1 friction factor", 0.0179, friction_factor(pump_ledger), abs=1e-4)


def test_crane_7_8(read: Read, published: Published) -> None:
    """Crane TP-410M, Example 7-8 (public repository): 600 barrels of oil an hour, SAE 30 of 40 °C,
    869.2 kg/m³ and 130 mPa·s, through 60 m of 200 mm schedule 40 pipe and a globe valve of K 340 · 0.014:
    Re 1113, 6382 Pa. Tolerance 0.2 %: the book's constants."""
    text = pipe(
        bore=0.20274,
        length=60.0,
        flow=600 * 42 * 231 * INCH**3 / 3600,
        density=869.2,
        viscosity=0.13 / 869.2,
        k=340 * 0.014,
    )
    pump_ledger = ledger(read(text))
    published(CRANE, "Ex. 7-8 Reynolds number", 1113, reynolds(pump_ledger), rel=1e-3)
    published(CRANE, "Ex. 7-8 pressure drop", 6382, lost(pump_ledger, "line", "losses"), "Pa", rel=2e-3)


SERIES = """\
format = 1
title = "Three pipes in series"
[site]
barometer = "101325 Pa"
[fluid]
name = "Water as in the example"
temperature = "20 degC"
density = [["20 degC", "1000 kg/m^3"]]
viscosity = "1.02e-6 m^2/s"
vapor_pressure = "0 Pa"
dissolved_air = 0
[reservoirs.tank]
outline = [["-9 m", "-9 m"], ["0 m", "-9 m"], ["0 m", "9 m"], ["-9 m", "9 m"]]
depth = "9 m"
normal_level = "0 m"
minimum_level = "0 m"
[intakes.mouth]
reservoir = "tank"
at = ["0 m", "-1 m"]
kind = "bell-mouth"
bore = "8 cm"
[fittings]
first = { at = ["100 m", "-1 m"], bore = "6 cm", kind = "known K", k = 0 }
second = { at = ["250 m", "-1 m"], bore = "4 cm", kind = "known K", k = 0 }
[pumps.pump]
at = ["330 m", "-1 m"]
bore = "4 cm"
type = "gear"
flow = "10.2 m^3/h"
limit = { vacuum = "5 inHg" }
[runs]
one = { from = "mouth", to = "first", bore = "8 cm", roughness = "0.24 mm" }
two = { from = "first", to = "second", bore = "6 cm", roughness = "0.12 mm" }
three = { from = "second", to = "pump", bore = "4 cm", roughness = "0.20 mm" }
"""


def test_white_6_17(read: Read, published: Published) -> None:
    """White, Fluid Mechanics, Example 6.17 (from memory; the bores, L/d and f agree with Example 6.18 as read
    in a public collection): 100 m of 8 cm, 150 m of 6 cm and 80 m of 4 cm pipe in series, ε 0.24, 0.12 and
    0.20 mm, 1.02e-6 m²/s: 10.2 m³/h at 20.3 m of friction. Tolerance 1 %: three digits of flow, squared."""
    pump_ledger = ledger(read(SERIES))
    friction = lost_straight(pump_ledger) / (1000 * GRAVITY)
    published("White, Fluid Mechanics", "Ex. 6.17 friction in series", 20.3, friction, "m", rel=0.01)


def test_white_6_8(read: Read, published: Published) -> None:
    """White, Example 6.8 (from memory): oil of 950 kg/m³ and 2e-5 m²/s, 8 m of friction in 100 m of 30 cm
    pipe of ε/D 0.0002: 0.342 m³/s, 4.84 m/s, Re 72 600, f 0.0201. Tolerance 0.5 %: three digits, squared."""
    text = pipe(bore=0.3, length=100.0, flow=0.342, density=950.0, viscosity=2e-5, roughness=6e-5, depth=8.0)
    pump_ledger = ledger(read(text))
    friction = lost(pump_ledger, "line") / (950 * GRAVITY)
    published("White, Fluid Mechanics", "Ex. 6.8 friction", 8.0, friction, "m", rel=5e-3)
    published("White, Fluid Mechanics", "Ex. 6.8 Reynolds number", 72600, reynolds(pump_ledger), rel=5e-3)
    published("White, Fluid Mechanics", "Ex. 6.8 f", 0.0201, friction_factor(pump_ledger), rel=5e-3)


def lost_straight(ledger: PumpLedger) -> float:
    """The friction of the pipes alone [Pa]; the book neglects minor losses."""
    return sum(e.loss for e in ledger.entries if e.kind == "straight")


def test_armour_and_cannon(read: Read, published: Published) -> None:
    """Armour and Cannon (1968), AIChE J. 14, 415 (f and Re read in a public abstract, geometry terms from
    memory; evaluated by hand): 100 mesh of 0.0045 in wire, 20 gpm of 46 cSt and 854 kg/m³ through 0.05 m²:
    958 Pa. Tolerance 0.1 %: the last digit."""
    screen = '"strainer"\nscreen = { mesh = "100 per inch", wire = "0.0045 in", area = "0.05 m^2" }'
    text = pipe(bore=0.0525, length=1.0, flow=20 * GPM, density=854.0, viscosity=46e-6)
    pump_ledger = ledger(read(text.replace('"bell-mouth"', screen)))
    (entry,) = (e for e in pump_ledger.entries if e.kind == "screen")
    published("Armour and Cannon (1968)", "100 mesh, 46 cSt", 958, entry.loss, "Pa", rel=1e-3)


def test_customary_constants(read: Read, published: Published) -> None:
    """The constants of fluid-power texts: v = 0.4085 gpm/d² ft/s and Re = 7740 v d/ν (Esposito, public
    collection), so Re = 3162 gpm/(d ν). Tolerance: their last digits; exactly 0.408498, 7741.9 and 3162.6."""
    pump_ledger = ledger(
        read(pipe(bore=2 * INCH, length=FOOT, flow=10 * GPM, density=870.0, viscosity=50e-6))
    )
    entry = next(e for e in pump_ledger.entries if e.part == "line")
    speed = entry.velocity / FOOT
    published("Customary flow constants", "v d²/gpm", 0.4085, speed * 4 / 10, abs=5e-5)
    published("Customary flow constants", "Re d ν/gpm", 3162, entry.reynolds * 2 * 50 / 10, abs=1)
    published(ESPOSITO, "Re ν/(v d)", 7740, entry.reynolds * 50 / (speed * 2), abs=5)
