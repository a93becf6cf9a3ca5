"""Worked examples of suction lines, each drawn as a layout file and read off the network and its ledger.

How each was read stands in its docstring: "public collection" is one of worked solutions to the book's own
examples, "public page" an excerpt of the source itself. Where a book is at hand, the book wins. The program
counts a velocity head with the kinetic factor of the profile, 1.05 in turbulent flow, where most books take
1: examples that hang on a static pressure differ by that, and say so.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.optimize import brentq

from solver.answers import ask
from solver.answers.answer import Status
from solver.formulas.flow import GRAVITY
from solver.geometry import reservoirs
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger
from tests.drawings import READ_WITH_IT, fluid, known_drop, known_k, own_water, plumb
from tests.published.comparing import Published
from tests.published.figures import (
    FOOT,
    INCH,
    INCH_OF_MERCURY,
    POUND_PER_CUBIC_FOOT,
    PSI,
    SLUG_PER_CUBIC_FOOT,
    area,
    ledger,
    lost,
)

Read = Callable[[str], Layout]

WATER = 62.4 * POUND_PER_CUBIC_FOOT
"""What handbooks take cold water for [kg/m³]."""


def feet_of(density: float, pressure: float) -> float:
    """Pressure [Pa] as head of that fluid [ft]."""
    return pressure / (density * GRAVITY * FOOT)


def found_at(layout: Layout, question: str) -> float:
    """The answer to a question put to the drawing [m]."""
    answer = ask.ask(question, layout, "pump")
    assert answer.status in (Status.FOUND, Status.ALREADY_OVER)
    return answer.value


def velocity_head(ledger: PumpLedger) -> float:
    """Of the port, with a kinetic factor of 1 [m]."""
    return ledger.entries[-1].velocity ** 2 / (2 * GRAVITY)


def test_de_nevers_10_2(read: Read, published: Published) -> None:
    """De Nevers, Fluid Mechanics for Chemical Engineers, Example 10.2 (public collection): water of 150 °F,
    61.3 lb/ft³, 3.72 psi vapour pressure, 14.5 psi, 10 ft/s, 4 ft of friction: inlet at most 19.77 ft up.

    Tolerance 0.1 ft: a kinetic factor of 1.05 on the velocity head of 1.55 ft takes 0.08 ft; with the book's
    factor of 1 it is met to 0.02 ft.
    """
    density = 61.3 * POUND_PER_CUBIC_FOOT
    flow = 10 * FOOT * area(6 * INCH)

    def drawn(losses: str) -> PumpLedger:
        text = plumb(
            "ft", 15.0, site='barometer = "14.5 psi"', fluid=fluid("61.3 lb/ft^3", "3.72 psi"),
            losses=losses, flow=f"{flow!r} m^3/s",
        )  # fmt: skip
        return ledger(read(text))

    rest = 4 * FOOT - lost(drawn(known_k(0))) / (density * GRAVITY)
    pump_ledger = drawn(known_drop(rest, density))
    highest = 15 + feet_of(density, pump_ledger.inlet - 3.72 * PSI)
    published("De Nevers, Fluid Mechanics", "Ex. 10.2 highest inlet", 19.77, highest, "ft", abs=0.1)
    assert highest + 0.05 * velocity_head(pump_ledger) / FOOT == pytest.approx(19.77, abs=0.02)


def test_khan_12_5(read: Read, published: Published) -> None:
    """Khan, Fluid Mechanics, Example 12.5 (public collection): Thoma's σ 0.08 at 60 m needs 4.8 m; 98 kPa,
    1707 Pa, 1 m lost, 9810 N/m³: lift at most 4.02 m. Tolerance 0.01 m: the book's last digit."""
    density = 9810 / GRAVITY
    layout = read(
        plumb(
            "m", 3.0, site='barometer = "98 kPa"', fluid=fluid(f"{density!r} kg/m^3", "1707 Pa"),
            losses=known_drop(1.0, density), limit='{ npsh = "4.8 m" }',
        )
    )  # fmt: skip
    published("Khan, Fluid Mechanics", "Ex. 12.5 lift", 4.02, found_at(layout, "highest port"), "m", abs=0.01)


def test_schaschke_9_6(read: Read, published: Published) -> None:
    """Schaschke, Fluid Mechanics: Worked Examples for Engineers, 9.6 (public collection): 970 kg/m³, 18 kPa
    vapour pressure, 0.94 · 101.3 kPa, pump 3 m over the tank's bottom, 0.5 m lost, 5 m required; 3 m tank
    filled to 2.5 m, 5 m³/h: lowest level 0.385 m, 14.95 m³ and 2.99 h until then.

    Tolerance 0.01 of each, and 0.03 m³ for the volume: the book's g of 9.81 puts the level 0.003 m higher.
    """
    text = plumb(
        "m", 3.0, site=f'barometer = "{0.94 * 101.3!r} kPa"', fluid=fluid("970 kg/m^3", "18 kPa"),
        losses=known_drop(0.5, 970), limit='{ npsh = "5 m" }', level=2.5, mouth=0.0, flow="5 m^3/h",
        half=1.5, depth=f"{math.pi / 4 * 3!r} m",
    )  # fmt: skip
    layout = read(text)
    lowest = found_at(layout, "lowest fluid level")
    sump = layout.reservoirs["sump"]
    volume = reservoirs.volume(sump, 2.5) - reservoirs.volume(sump, lowest)
    source = "Schaschke, Fluid Mechanics"
    published(source, "9.6 lowest level", 0.385, lowest, "m", abs=0.01)
    published(source, "9.6 volume", 14.95, volume, "m³", abs=0.03)
    published(source, "9.6 time", 2.99, volume / ledger(layout).flow / 3600, "h", abs=0.01)


def test_schaschke_9_8(read: Read, published: Published) -> None:
    """Schaschke, 9.8 (public collection): a vessel at 50 kPa absolute, 992 kg/m³, 7.38 kPa, 0.2 m lost, NPSH
    required 2.8 · 0.14^1.33 · 30 = 6.147 m: alarm at 1.967 m over the pump. Tolerance 0.005 m."""
    text = plumb(
        "m", 0.0, site='barometer = "101.3 kPa"', surface='pressure = "-51.3 kPa"', mouth=0.5, level=4.0,
        fluid=fluid("992 kg/m^3", "7.38 kPa"), losses=known_drop(0.2, 992),
        limit=f'{{ npsh = "{2.8 * 0.14**1.33 * 30!r} m" }}',
    )  # fmt: skip
    lowest = found_at(read(text), "lowest fluid level")
    published("Schaschke, Fluid Mechanics", "9.8 alarm level", 1.967, lowest, "m", abs=0.005)


# Source, case, head of the atmosphere [ft], elevation [ft], temperature [°F], level over the pump [ft],
# vapour pressure [ft], losses [ft], NPSH available [ft], its last digit as typed, and how far the program's
# own atmosphere and water may be off.
BACHUS = "Bachus and Custodio"
SPELLMAN = "Spellman, Water and Wastewater"
ELSEY = "Elsey, NPSH primer (2018)"
SUMS = [
    (BACHUS, "Fig. 2-1 flooded", 33.9, 0, 70, 6.0, 0.839, 4.0, 35.061, 0.001, 0.1),
    (BACHUS, "Fig. 2-2 lift at 7000 ft", 26.2, 7000, 50, -8.0, 0.411, 3.0, 14.789, 0.001, 0.12),
    (SPELLMAN, "Ex. 10.10 flooded", 34.0, 0, 60, 15.0, 0.6, 2.4, 46.0, 1e-3, 0.15),
    (SPELLMAN, "Ex. 10.11 lift", 34.0, 0, 60, -20.0, 0.6, 2.4, 11.0, 1e-3, 0.15),
    (ELSEY, "flooded 10 ft", 33.9, 0, 68, 10.0, 0.783, 3.2, 39.9, 0.05, 0.1),
    (ELSEY, "lift 10 ft", 33.9, 0, 68, -10.0, 0.783, 3.2, 19.9, 0.05, 0.1),
]


@pytest.mark.parametrize(
    ("source", "case", "air", "site", "warmth", "head", "vapor", "losses", "theirs", "digit", "off"), SUMS
)
def test_npsh_sums(
    source: str,
    case: str,
    air: float,
    site: float,
    warmth: float,
    head: float,
    vapor: float,
    losses: float,
    theirs: float,
    digit: float,
    off: float,
    read: Read,
    published: Published,
) -> None:
    """NPSH available in feet of water: atmosphere + head − vapour pressure − losses, with every term given.

    Bachus and Custodio, Know and Understand Centrifugal Pumps, Figs. 2-1 and 2-2 (public page; the sum of the
    second is ours); Spellman, Examples 10.10 and 10.11 (public page; author from memory); J. Elsey, a trade
    magazine's primer of 2018, parts 1 and 2 (public page; the sum of the lift is ours). First with the
    figures typed, to the last digit; then with the program's own atmosphere and water, as far as the tables
    round: 0.1 ft of atmosphere, and Spellman's 14.7 psi as 34 ft for 33.9.
    """
    drop = known_drop(losses * FOOT, WATER)
    mouth = 0.5 if head > 0 else -1.0
    typed = plumb(
        "ft", 0.0 if head > 0 else -head, level=max(head, 0.0), mouth=mouth, losses=drop,
        site=f'barometer = "{air * WATER * GRAVITY * FOOT!r} Pa"',
        fluid=fluid("62.4 lb/ft^3", f"{vapor * WATER * GRAVITY * FOOT!r} Pa"),
    )  # fmt: skip
    available = ledger(read(typed)).npsh_available / FOOT
    published(source, f"{case}, figures typed", theirs, available, "ft", abs=digit)
    own = own_water(
        plumb(
            "ft", 0.0 if head > 0 else -head, level=max(head, 0.0), mouth=mouth, losses=drop,
            site=f'elevation = "{site} ft"',
        ),
        f"{warmth} degF",
    )  # fmt: skip
    available = ledger(read(own)).npsh_available / FOOT
    published(source, f"{case}, own air and water", theirs, available, "ft", abs=off)


SHEET_25 = "Public best-practice sheet no. 25"


def test_best_practice_sheet_example_4(read: Read, published: Published) -> None:
    """Best-practice sheet no. 25, Example 4 (public page): a gauge 1 ft over the pump reads 2.4 psi, water of
    68 °F, 0.339 psi, 14.7 psi, 10 ft/s: NPSH available 41.27 ft.

    Tolerance 0.01 ft: the sheet's last digit. The foot of pipe below the gauge, which the sheet does not
    count, is put back. 2.31 ft of water to a psi is 62.34 lb/ft³.
    """
    density = 144 / 2.31 * POUND_PER_CUBIC_FOOT
    flow = 10 * FOOT * area(6 * INCH)

    def drawn(surface: float) -> PumpLedger:
        text = plumb(
            "ft", 0.0, level=11.0, mouth=10.0, middle=1.0, site='barometer = "14.7 psi"',
            surface=f'pressure = "{surface!r} Pa"', flow=f"{flow!r} m^3/s",
            fluid=fluid(f"{density!r} kg/m^3", "0.339 psi"),
        )  # fmt: skip
        return ledger(read(text))

    def gauge(pump_ledger: PumpLedger) -> float:
        (entry,) = (e for e in pump_ledger.entries if e.part == "losses")
        return entry.pressure - pump_ledger.atmosphere

    pump_ledger = drawn(2.4 * PSI - gauge(drawn(0.0)))
    assert gauge(pump_ledger) == pytest.approx(2.4 * PSI, abs=0.1)
    available = pump_ledger.npsh_available / FOOT + feet_of(density, lost(pump_ledger, "line"))
    published(SHEET_25, "Ex. 4 by suction gauge", 41.27, available, "ft", abs=0.01)


@pytest.mark.parametrize(("case", "required", "lift"), [("A", 16.0, 10.42), ("B, 10 % margin", 17.6, 8.82)])
def test_best_practice_sheet_example_5(
    case: str, required: float, lift: float, read: Read, published: Published
) -> None:
    """Best-practice sheet no. 25, Example 5 (public page; the printed answer was not in the excerpt, the sum
    is ours): water of 85 °F at 1000 ft, 5 ft lost, 16 ft required: lift 10.42 ft, with a tenth more 8.82 ft.

    Figures typed: 0.01 ft. The program's own air and water: 0.15 ft, as the sheet rounds the atmosphere to
    0.1 ft and takes heads in water of 62.4 lb/ft³, warmer water being lighter.
    """
    drop, limit = known_drop(5 * FOOT, WATER), f'{{ npsh = "{required} ft" }}'
    vapor = f"{1.38 * WATER * GRAVITY * FOOT!r} Pa"
    barometer = f'barometer = "{32.8 * WATER * GRAVITY * FOOT!r} Pa"'
    typed = read(
        plumb("ft", 6.0, site=barometer, fluid=fluid("62.4 lb/ft^3", vapor), losses=drop, limit=limit)
    )
    own = read(own_water(plumb("ft", 6.0, site='elevation = "1000 ft"', losses=drop, limit=limit), "85 degF"))
    highest = found_at(typed, "highest port") / FOOT
    published(SHEET_25, f"Ex. 5 {case}, figures typed", lift, highest, "ft", abs=0.01)
    highest = found_at(own, "highest port") / FOOT
    published(SHEET_25, f"Ex. 5 {case}, own air and water", lift, highest, "ft", abs=0.15)


def test_mccabe_8_1(read: Read, published: Published) -> None:
    """McCabe, Smith and Harriott, Unit Operations, Example 8.1 (from memory): benzene of 100 °F, 54 lb/ft³,
    3.8 psi, pump 4 ft over the tank, 0.5 psi lost, 14.7 psi: NPSH available 23.7 ft. Tolerance 0.1 ft."""
    density = 54 * POUND_PER_CUBIC_FOOT
    text = plumb(
        "ft", 4.0, site='barometer = "14.7 psi"', fluid=fluid("54 lb/ft^3", "3.8 psi"),
        losses=known_drop(0.5 * PSI / (density * GRAVITY), density),
    )  # fmt: skip
    available = ledger(read(text)).npsh_available / FOOT
    published("McCabe, Smith and Harriott", "Ex. 8.1 NPSH available", 23.7, available, "ft", abs=0.1)


@pytest.mark.parametrize(
    ("temperature", "weight", "vapor", "start", "theirs"),
    [(60, 62.4, 0.26, -20.0, -12.7), (200, 62.4 * 0.9635, 11.52, -45.0, -38.4)],
)
def test_white_11_3(
    temperature: int,
    weight: float,
    vapor: float,
    start: float,
    theirs: float,
    read: Read,
    published: Published,
) -> None:
    """White, Fluid Mechanics, Example 11.3 (from memory): NPSH required 40 ft, 6 ft lost, 14.7 psi, water of
    60 and 200 °F: the inlet at least 12.7 and 38.4 ft under the surface. Tolerance 0.05 ft."""
    density = weight * POUND_PER_CUBIC_FOOT
    text = plumb(
        "ft", start, site='barometer = "14.7 psi"', fluid=fluid(f"{weight!r} lb/ft^3", f"{vapor} psi"),
        losses=known_drop(6 * FOOT, density), limit='{ npsh = "40 ft" }',
    )  # fmt: skip
    highest = found_at(read(text), "highest port") / FOOT
    published("White, Fluid Mechanics", f"Ex. 11.3 inlet, {temperature} °F", theirs, highest, "ft", abs=0.05)


def test_munson_3_10(read: Read, published: Published) -> None:
    """Munson, Young and Okiishi, Example 3.10 (public collection): a siphon from +5 ft to -5 ft, water of
    60 °F, 0.256 psi, 14.7 psi: the crest at most 28.3 ft up. Tolerance 0.05 ft.

    The book's hose is frictionless: what ours loses up to the crest is put back. Its speed is Torricelli's,
    10 ft of velocity head with the program's own kinetic factor, so that the end reads the atmosphere.
    """
    density = WATER
    speed = math.sqrt(2 * GRAVITY * 10 * FOOT / 1.05)
    text = plumb(
        "ft", -5.0, site='barometer = "14.7 psi"', fluid=fluid("62.4 lb/ft^3", "0.256 psi"), level=5.0,
        mouth=4.0, middle=20.0, across=40.0, bore="3 in", flow=f"{speed * area(3 * INCH)!r} m^3/s",
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    assert pump_ledger.inlet + lost(pump_ledger) == pytest.approx(14.7 * PSI, abs=1.0)
    (crest,) = (e for e in pump_ledger.entries if e.part == "losses" and e.kind != "corner")
    unspent = crest.pressure + lost(pump_ledger, "mouth", "tail", "losses") - 0.256 * PSI
    highest = 20 + feet_of(density, unspent)
    published("Munson, Young and Okiishi", "Ex. 3.10 siphon crest", 28.3, highest, "ft", abs=0.05)


def test_munson_12_3(read: Read, published: Published) -> None:
    """Munson, Young and Okiishi, Example 12.3 (from memory; arithmetic verified): 0.5 ft³/s of water of 80 °F
    through a filter of K 20 in 4 in pipe, 15 ft required, 14.7 psi: the pump at most 7.65 ft up.

    The book counts the filter alone: what the rest of the line loses is put back. Tolerance 0.04 ft:
    the kinetic factor of 1.05 takes 0.026 ft of the velocity head.
    """
    density = 62.22 * POUND_PER_CUBIC_FOOT
    text = plumb(
        "ft", 5.0, site='barometer = "14.7 psi"', fluid=fluid("62.22 lb/ft^3", "0.5069 psi"),
        losses=known_k(20), bore="4 in", flow="0.5 ft^3/s", viscosity="9.26e-6 ft^2/s",
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    uncounted = feet_of(density, lost(pump_ledger, "mouth", "tail", "line"))
    highest = 5 + pump_ledger.npsh_available / FOOT + uncounted - 15
    published("Munson, Young and Okiishi", "Ex. 12.3 highest pump", 7.65, highest, "ft", abs=0.04)


def test_coulson_and_richardson_8_2(read: Read, published: Published) -> None:
    """Coulson and Richardson, Chemical Engineering, vol. 1, Example 8.2 (public collection): a boiling liquid
    of 800 kg/m³ and 0.5 mPa·s, 0.0004 m³/s, 10 m of smooth 25 mm pipe, 2 m required: 0.815 m/s, Re 32 600,
    0.303 m of friction, level at least 2.3 m over the pump.

    The book reads its friction factor off a chart, 0.0224; Colebrook's for a smooth pipe is 0.0230: 3 % of
    the friction, 0.01 m of the height.
    """
    text = plumb(
        "m", -4.0, site='barometer = "101325 Pa"', fluid=fluid("800 kg/m^3", "101325 Pa"), bore="25 mm",
        flow="0.0004 m^3/s", viscosity=f"{0.5e-3 / 800!r} m^2/s", mouth=-0.2, hidden="6.2 m",
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    entries = [e for e in pump_ledger.entries if e.part in ("tail", "line")]
    assert sum(e.length for e in entries) == pytest.approx(10)
    friction = lost(pump_ledger, "tail", "line") / (800 * GRAVITY)
    source = "Coulson and Richardson, vol. 1"
    published(source, "Ex. 8.2 velocity", 0.815, entries[0].velocity, "m/s", rel=1e-3)
    published(source, "Ex. 8.2 Reynolds number", 32600, entries[0].reynolds, rel=1e-3)
    published(source, "Ex. 8.2 friction", 0.303, friction, "m", rel=0.03)
    published(source, "Ex. 8.2 least height", 2.3, 4 + 2 - pump_ledger.npsh_available, "m", abs=0.03)


def test_esposito_2_6(read: Read, published: Published) -> None:
    """Esposito, Fluid Power with Applications, Example 2-6 (public collection): 14.7 psi holds up 33.9 ft of
    water of 0.0361 lb/in³: no port of a pump that made a perfect vacuum could stand higher. 0.05 ft."""
    weight = 0.0361 * 1728
    text = plumb(
        "ft", 20.0, site='barometer = "14.7 psi"', fluid=fluid(f"{weight!r} lb/ft^3", "0 Pa"),
        limit='{ pressure = "0.01 Pa" }',
    )  # fmt: skip
    highest = found_at(read(text), "highest port") / FOOT
    published("Esposito, Fluid Power", "Ex. 2-6 water barometer", 33.9, highest, "ft", abs=0.05)


def test_esposito_2_7(read: Read, published: Published) -> None:
    """Esposito, Example 2-7 (public collection): a pump inlet at -5 psi gauge is at 9.7 psi absolute, a
    vacuum of 10.18 inHg. Tolerance 0.05 psi and 0.005 inHg: the book's 14.7 psi."""
    density = 56.4 * POUND_PER_CUBIC_FOOT
    text = plumb(
        "ft", 0.0, site='barometer = "14.7 psi"', fluid=fluid("56.4 lb/ft^3", "0 Pa"), mouth=-0.5, level=0.0,
        losses=known_drop(5 * PSI / (density * GRAVITY), density),
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    published(
        "Esposito, Fluid Power", "Ex. 2-7 absolute inlet", 9.7, pump_ledger.inlet / PSI, "psi", abs=0.05
    )
    vacuum = pump_ledger.vacuum / INCH_OF_MERCURY
    published("Esposito, Fluid Power", "Ex. 2-7 vacuum", 10.18, vacuum, "inHg", abs=0.005)


def test_crane_7_32(read: Read, published: Published) -> None:
    """Crane TP-410, Example 7-32 (inputs and 13.89 ft from a public repository's recomputation): 60 °F water
    under 5 psi gauge, 25 ft below a pump that stands 30 ft over the sea, 6 ft lost. Tolerance 0.06 ft: the
    recomputation takes the atmosphere of sea level, 0.04 ft more than 30 ft up."""
    text = plumb(
        "ft", 25.0, site='elevation = "30 ft"', surface='pressure = "5 psi"',
        losses=known_drop(6 * FOOT, 62.364 * POUND_PER_CUBIC_FOOT),
    )  # fmt: skip
    available = ledger(read(own_water(text, "60 degF"))).npsh_available / FOOT
    published("Crane TP-410", "Ex. 7-32 NPSH available", 13.89, available, "ft", abs=0.06)


@pytest.mark.parametrize(
    ("celsius", "density", "dynamic", "vapor", "available", "most"),
    [
        (25, 997.0, 8.91e-4, 3.169, {300: 29.24, 600: 6.25}, 600.0),
        (60, 983.3, 4.67e-4, 19.94, {300: 24.00, 555: 5.44}, 555.0),
    ],
)
def test_cengel_14_3(
    celsius: int,
    density: float,
    dynamic: float,
    vapor: float,
    available: dict[int, float],
    most: float,
    read: Read,
    published: Published,
) -> None:
    """Çengel and Cimbala, Example 14-3 (inputs, the sum of NPSH available and the required one off the pump's
    chart from a public collection's recomputation; the largest flows from memory): 10.5 ft of 4 in pipe of
    ε 0.02 in, minor losses 7.4, 4 ft flooded, 101.3 kPa.

    NPSH available by that sum, its Colebrook and α 1.05 (a loss of α - 1 velocity heads): 29.24 ft at 300 gpm
    and 6.25 ft at 600 gpm, 25 °C. Tolerance 0.02 ft: its g of 9.81, 3.28 ft to the metre and rounded gpm.
    No cavitation up to 600 gpm at 25 °C and 555 gpm at 60 °C: 1 %, since the book rounds to 5 gpm and the
    required NPSH is read off a chart at five flows.
    """
    chart = ((300, 3.8), (400, 4.44), (500, 5.06), (600, 6.13), (680, 7.0))  # [gpm], [ft]
    limit = ", ".join(f'["{flow} gpm", "{head} ft"]' for flow, head in chart)

    def at(flow: float) -> PumpLedger:
        text = plumb(
            "m", 0.0, level=1.219, mouth=1.0, middle=0.5, site='barometer = "101.3 kPa"', bore="4 in",
            fluid=fluid(f"{density} kg/m^3", f"{vapor} kPa"), viscosity=f"{dynamic / density!r} m^2/s",
            losses=known_k(7.4 - 0.04), roughness="0.02 in", hidden=f"{10.5 * FOOT - 1.0!r} m",
            flow=f"{flow!r} gpm", limit=f"{{ npsh = [{limit}] }}",
        )  # fmt: skip
        return ledger(read(text))

    source = "Çengel and Cimbala"
    for flow, theirs in available.items():
        name = f"Ex. 14-3 NPSH available, {flow} gpm, {celsius} °C"
        published(source, name, theirs, at(float(flow)).npsh_available / FOOT, "ft", abs=0.02)

    def margin(flow: float) -> float:
        pump_ledger = at(flow)
        return pump_ledger.npsh_available - pump_ledger.npsh_required

    largest = float(brentq(margin, 400, 680, xtol=0.1))
    published(source, f"Ex. 14-3 most flow, {celsius} °C", most, largest, "gpm", rel=0.01)


def test_mackay_4_4_2_5(read: Read, published: Published) -> None:
    """Mackay, The Practical Pumping Handbook, 4.4.2.5 (public page; the sum is ours): 340 gpm of water of
    140 °F, 45 ft flooded, 25 ft of 6 in pipe, two gate valves of K 0.11 and two elbows of K 0.29: atmosphere
    34.474 ft, vapour pressure 6.775 ft, losses 0.378 ft, so 72.32 ft available.

    Tolerance 0.1 ft: the book's specific gravity of 0.985 is that of water of 62.33 lb/ft³ at 60 °F, and its
    pipe tables stand a tenth over the losses of new steel.
    """
    text = plumb(
        "ft", 0.0, level=45.0, mouth=25.0, site='barometer = "14.7 psi"', bore="6.065 in",
        losses=known_k(2 * 0.11 + 2 * 0.29), roughness="0.0457 mm", flow="340 gpm",
    )  # fmt: skip
    pump_ledger = ledger(read(own_water(text, "140 degF")))
    losses = feet_of(pump_ledger.density, lost(pump_ledger, "tail", "losses", "line"))
    source = "Mackay, Practical Pumping Handbook"
    published(source, "4.4.2.5 losses", 0.378, losses, "ft", abs=0.03)
    published(source, "4.4.2.5 NPSH available", 72.321, pump_ledger.npsh_available / FOOT, "ft", abs=0.1)


OIL_LINE = """\
format = 1
title = "Two feet of lift, six feet of pipe, two elbows and a strainer"
[site]
{site}
[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "{celsius} degC"
density = "870 kg/m^3"
viscosity = [["40 degC", "46 cSt"], ["100 degC", "6.760 cSt"]]
vapor_pressure = "0 Pa"
dissolved_air = 0.09
[reservoirs.tank]
outline = [["-4 ft", "-2 ft"], ["0 ft", "-2 ft"], ["0 ft", "3 ft"], ["-4 ft", "3 ft"]]
depth = "4 ft"
normal_level = "0 ft"
minimum_level = "0 ft"
[intakes.nozzle]
reservoir = "tank"
at = ["0 ft", "-1 ft"]
kind = "wall nozzle"
size = "NPS 1-1/2 schedule 40"
[fittings.strainer]
at = ["1 ft", "-1 ft"]
kind = "known drop"
drop = "0.5 psi"
viscosity = "10000 cSt"
density = "1500 kg/m^3"
size = "NPS 1-1/2 schedule 40"
[pumps.pump]
at = ["{end!r} ft", "2 ft"]
type = "gear"
flow = "20 gpm"
size = "NPS 1-1/2 schedule 40"
limit = {{ vacuum = "7 inHg" }}
[runs.lead]
from = "nozzle"
to = "strainer"
size = "NPS 1-1/2 schedule 40"
[runs.line]
from = "strainer"
to = "pump"
via = [["2 ft", "-1 ft"], ["2 ft", "2 ft"]]
size = "NPS 1-1/2 schedule 40"
bend = "threaded elbow"
"""


@pytest.mark.parametrize(
    ("celsius", "site", "reynolds", "pipe", "fittings", "inlet", "vacuum"),
    [
        (20, 'elevation = "0 ft"', 292.1, 3919, 3129, 84.85, 4.866),
        (0, 'elevation = "0 ft"', 67.2, 17287, 11364, 63.15, 11.27),
        (20, 'elevation = "5280 ft"', 292.1, 3919, 3129, 66.95, 4.866),
    ],
)
def test_oil_line_by_hand(
    celsius: int,
    site: str,
    reynolds: float,
    pipe: float,
    fittings: float,
    inlet: float,
    vacuum: float,
    read: Read,
) -> None:
    """No published value but a calculation by hand, to be followed step by step: VG 46 of index 100, of
    870 kg/m³ at 15 °C, 20 gpm, 2 ft of lift, 6 ft of NPS 1-1/2, flush entrance, two screwed elbows by
    Hooper, 0.5 psi in the strainer, kinetic factor 2. A gauge does not feel the altitude; the absolute
    pressure does.

    Tolerance 0.3 %, and 0.6 % for the fittings, as ours are Darby's.
    """
    # Threaded elbows take one nominal diameter off the straights on each side: 4 · 1.5 in in all.
    missing = 6.0 - (1.0 + 1.0 + 3.0) + 4 * 1.5 / 12
    layout = read(OIL_LINE.format(site=site, celsius=celsius, end=2.0 + missing))
    pump_ledger = ledger(layout)
    straight = [e for e in pump_ledger.entries if e.kind == "straight"]
    assert sum(e.length for e in straight) == pytest.approx(6 * FOOT)
    assert straight[0].velocity == pytest.approx(0.9607, rel=3e-3)
    assert straight[0].reynolds == pytest.approx(reynolds, rel=3e-3)
    assert sum(e.loss for e in straight) == pytest.approx(pipe, rel=3e-3)
    turns = sum(e.loss for e in pump_ledger.entries if e.kind in ("bend", "entrance"))
    assert turns == pytest.approx(fittings, rel=6e-3)
    assert pump_ledger.inlet / 1e3 == pytest.approx(inlet, rel=3e-3)
    assert pump_ledger.vacuum / INCH_OF_MERCURY == pytest.approx(vacuum, rel=3e-3)
    if "5280" in site:
        assert (101325 - pump_ledger.inlet) / INCH_OF_MERCURY == pytest.approx(10.15, rel=3e-3)


def test_mott_13_3(read: Read, published: Published) -> None:
    """Mott, Applied Fluid Mechanics, Example 13.3 (from memory): water of 70 °C in a closed tank at -20 kPa
    under 100.5 kPa, 2.5 m over the pump, 1.19 m lost on the way: 8.39 + 2.50 - 1.19 - 3.25 = 6.45 m of NPSH.

    Tolerance 0.02 m: the book's last digits, its g of 9.81, and the kinetic factor of the port, 0.004 m.
    """
    text = plumb(
        "m", 0.0, site='barometer = "100.5 kPa"', surface='pressure = "-20 kPa"', level=2.5, mouth=0.5,
        losses='kind = "known drop"\nhead = "1.19 m"\nflow = "95 L/min"', bore="40.9 mm", flow="95 L/min",
        limit='{ npsh = "3 m" }',
    )  # fmt: skip
    pump_ledger = ledger(read(own_water(text, "70 degC")))
    rest = sum(e.loss for e in pump_ledger.entries if e.part not in ("losses", "pump", "sump"))
    ours = pump_ledger.npsh_available + rest / (pump_ledger.density * GRAVITY)
    published("Mott, Applied Fluid Mechanics", "Ex. 13.3 NPSH available", 6.45, ours, "m", abs=0.02)


def test_a_density_of_hot_water_is_that_of_hot_water(read: Read, published: Published) -> None:
    """A book types the density of its water as warm as it is: 971.8 kg/m³ at 80 °C (IAPWS-95 at 1 atm, from
    memory; Cengel's Table A-9 has the same), under 101.3 kPa over 47.4 kPa: an open tank 3 m over the pump
    leaves 5.654 + 3 = 8.654 m of NPSH (the sum is ours). As that at 15 °C it was 3 % too light.
    """
    text = plumb(
        "m", 0.0, site='barometer = "101.3 kPa"', level=3.0, mouth=0.5, bore="102 mm", flow="10 L/min",
        limit='{ npsh = "3 m" }',
    )  # fmt: skip
    hot = 'temperature = "80 degC"'
    pump_ledger = ledger(read(own_water(text, "80 degC").replace(hot, f'{hot}\ndensity = "971.8 kg/m^3"')))
    assert pump_ledger.density == pytest.approx(971.8)
    ours = pump_ledger.npsh_available
    published("IAPWS-95, from memory", "NPSH available, 80 °C", 8.654, ours, "m", abs=0.005)


def test_a_pressed_reservoir_over_the_pump(read: Read, published: Published) -> None:
    """A public exercise: a reservoir of oil, SG 0.85, at 80 kPa gauge, the pump's inlet 3 m under the oil, a
    strainer of 6.8 kPa: by its worked steps 80 + 25.0 - 6.8 = 98.2 kPa at the inlet (the sum is ours), with
    no velocity head. Another of the kind: an inlet 0.6 m under oil of SG 0.86 is at 5.06 kPa. Last digits."""
    inlets = [
        ledger(
            read(
                plumb(
                    "m", 0.0, site='barometer = "101.325 kPa"', surface=f'pressure = "{pressed} kPa"',
                    level=level, mouth=level - 0.1, fluid=fluid(f"{gravity} g/cm^3", "0 Pa"), losses=losses,
                )
            )
        )
        for pressed, level, gravity, losses in (
            (80.0, 3.0, 0.85, f'kind = "known drop"\ndrop = "6.8 kPa"\n{READ_WITH_IT}'),
            (0.0, 0.6, 0.86, known_k(0)),
        )
    ]  # fmt: skip
    pressed, vented = (-each.vacuum / 1e3 for each in inlets)
    published("Public exercise", "pressed reservoir, inlet", 98.2, pressed, "kPa", abs=0.06)
    published("Public exercise", "0.6 m under oil, inlet", 5.06, vented, "kPa", abs=0.01)


@pytest.mark.parametrize(("fahrenheit", "vapor", "theirs"), [(80, 1.17, 30.80), (180, 17.3, 14.67)])
def test_fox_and_mcdonald_10_8(
    fahrenheit: int, vapor: float, theirs: float, read: Read, published: Published
) -> None:
    """Fox and McDonald, Introduction to Fluid Mechanics, Example 10.8 (inputs from a public collection; the
    sum is ours): 1000 gpm of water through 6 ft of 5 in schedule 40 pipe, entrance 0.5, an elbow of 30 and
    a gate valve of 8 bores, 3.5 ft flooded, 14.7 psi, 1.93 slug/ft³, vapour heads of 1.17 and 17.3 ft. f
    0.01636 by Colebrook with ε 0.00015 ft: 34.09 + 3.5 − 1.355 · 3.997 − 1.17 or 17.3, and α − 1 of a
    velocity head less, as in Çengel's Example 14-3: 30.80 and 14.67 ft. Tolerance 0.02 ft: g of 32.2."""
    density = 1.93 * SLUG_PER_CUBIC_FOOT
    text = plumb(
        "ft", 0.0, level=3.5, mouth=2.0, middle=1.0, site='barometer = "14.7 psi"', bore="5.047 in",
        fluid=fluid(f"{density!r} kg/m^3", f"{vapor * density * GRAVITY * FOOT!r} Pa"),
        viscosity="0.927e-5 ft^2/s", roughness="0.00015 ft", hidden="4 ft", flow="1000 gpm",
        losses=known_k(0.5 - 0.04 + 0.01636 * 38),
    )  # fmt: skip
    available = ledger(read(text)).npsh_available / FOOT
    source = "Fox and McDonald, Fluid Mechanics"
    published(source, f"Ex. 10.8 NPSH available, {fahrenheit} °F", theirs, available, "ft", abs=0.02)


def test_cengel_5_7(read: Read, published: Published) -> None:
    """Çengel and Cimbala, Example 5-7 (inputs from a public collection, results from memory): gasoline of 750
    kg/m³ siphoned 0.75 m down over a crest 2 m above its surface, 101.3 kPa, no losses: 3.84 m/s, and 81.1
    kPa in the crest. Tolerance 0.1 kPa: the last digit. As in Munson's Example 3.10 what ours loses is put
    back."""
    speed = math.sqrt(2 * GRAVITY * 0.75 / 1.05)
    text = plumb(
        "m", 0.0, site='barometer = "101.3 kPa"', fluid=fluid("750 kg/m^3", "0 Pa"), level=0.75, mouth=0.5,
        middle=2.75, across=5.0, bore="50 mm", flow=f"{speed * area(0.05)!r} m^3/s",
    )  # fmt: skip
    pump_ledger = ledger(read(text))
    assert pump_ledger.inlet + lost(pump_ledger) == pytest.approx(101.3e3, abs=1.0)
    (crest,) = (e for e in pump_ledger.entries if e.part == "losses" and e.kind != "corner")
    pressure = (crest.pressure + lost(pump_ledger, "mouth", "tail", "losses")) / 1e3
    published("Çengel and Cimbala", "Ex. 5-7 pressure in the crest", 81.1, pressure, "kPa", abs=0.1)
    published("Çengel and Cimbala", "Ex. 5-7 velocity", 3.84, speed * math.sqrt(1.05), "m/s", abs=5e-3)
