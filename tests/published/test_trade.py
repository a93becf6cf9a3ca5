"""What everybody in the trade knows, through a layout file, the network and the ledger where it makes sense.

Common practice, no source, where a test names none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from solver.findings import checks
from solver.findings.criteria import Criteria
from solver.formulas.flow import GRAVITY
from solver.layout.parts import FluidChoice, Layout
from solver.ledger.sentences import verdict
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, System, show
from tests.drawings import READ_WITH_IT, fluid, known_drop, own_water, pipe, plumb, stand
from tests.published.comparing import Published
from tests.published.figures import FOOT, GPM, INCH, INCH_OF_MERCURY, POUND_PER_CUBIC_FOOT, PSI, area, ledger

Read = Callable[[str], Layout]

PRACTICE = "Common practice, no source"
OIL = fluid("56.4 lb/ft^3", "0 Pa")
SEVEN = '{ vacuum = "7 inHg" }'
AT_SEA = 'elevation = "0 ft"'


def test_the_atmosphere_is_29_92_inches_or_14_7_psi(read: Read, published: Published) -> None:
    pump_ledger = ledger(read(plumb("ft", 1.0, site=AT_SEA, fluid=OIL)))
    published(PRACTICE, "sea level", 29.92, pump_ledger.atmosphere / INCH_OF_MERCURY, "inHg", abs=0.005)
    published(PRACTICE, "sea level", 14.7, pump_ledger.atmosphere / PSI, "psi", abs=0.005)
    assert show(pump_ledger.atmosphere, Kind.PRESSURE, System.US) == "14.7 psi"


def test_an_inch_of_mercury_is_about_half_a_psi(read: Read, published: Published) -> None:
    """0.491 psi: so a lift that a gauge shows as 2 inHg is nearly 1 psi."""
    density = 56.4 * POUND_PER_CUBIC_FOOT
    lift = 2 * INCH_OF_MERCURY / (density * GRAVITY * FOOT)
    pump_ledger = ledger(read(plumb("ft", lift, site=AT_SEA, fluid=OIL)))
    published(PRACTICE, "2 inHg of lift", 1.0, pump_ledger.vacuum / PSI, "psi", abs=0.02)
    assert pump_ledger.vacuum / INCH_OF_MERCURY == pytest.approx(2.0, abs=1e-4)


def test_62_4_and_56_4_pounds_a_cubic_foot_are_sg_0_904(read: Read, published: Published) -> None:
    """Water of 62.4 lb/ft³ and oil of 56.4: a foot of each lifts as the ratio of the two."""
    oil, water = (
        ledger(read(plumb("ft", 10.0, site=AT_SEA, fluid=fluid(f"{weight} lb/ft^3", "0 Pa"))))
        for weight in (56.4, 62.4)
    )
    published(PRACTICE, "SG of oil by its lift", 0.904, oil.vacuum / water.vacuum, abs=0.0005)
    published(PRACTICE, "water", 62.4, water.density / POUND_PER_CUBIC_FOOT, "lb/ft³", abs=1e-9)


def test_a_limit_of_seven_inches_reads_two_where_the_barometer_stands_five_low(
    read: Read, published: Published
) -> None:
    """The maker's vacuum is a sea-level figure: 7 inHg at 29.92 leaves 2 inHg on the gauge at 24.92. The
    floor stays where it was, as an absolute pressure."""
    sea, low = (
        ledger(
            read(
                plumb("ft", 1.0, site=f'barometer = "{inches} inHg"', fluid=OIL, limit=SEVEN).replace(
                    "limit =", 'rated_density = "56.4 lb/ft^3"\nlimit ='
                )
            )
        )
        for inches in (29.92, 24.92)
    )
    allowed = low.allowed_vacuum / INCH_OF_MERCURY
    published(PRACTICE, "7 inHg, barometer 5 low", 2.0, allowed, "inHg", abs=0.005)
    assert low.floor == pytest.approx(sea.floor)
    assert sea.allowed_vacuum / INCH_OF_MERCURY == pytest.approx(7.0, abs=0.005)
    assert "of 2.00 inHg allowed here" in verdict(low, System.US)


def test_a_gauge_reads_nothing_at_the_atmosphere(read: Read) -> None:
    """Gauge zero is the atmosphere, wherever the pump stands: a port at the level, with nothing lost, reads 0
    at the sea and in the hills, while the absolute pressure falls."""
    sea, hills = (
        ledger(read(plumb("ft", 0.0, mouth=-0.5, site=site, fluid=OIL)))
        for site in (AT_SEA, 'elevation = "7000 ft"')
    )
    assert sea.vacuum == pytest.approx(0.0, abs=0.1)
    assert hills.vacuum == pytest.approx(0.0, abs=0.1)
    assert sea.inlet - hills.inlet == pytest.approx(sea.atmosphere - hills.atmosphere, abs=1e-6)
    assert sea.inlet - hills.inlet > 6.8 * INCH_OF_MERCURY


def test_a_gauge_does_not_feel_the_altitude(read: Read) -> None:
    """A line shows the same vacuum a mile up, where less of it is allowed."""
    drop = known_drop(5.0, 56.4 * POUND_PER_CUBIC_FOOT)
    sea, mile = (
        ledger(read(plumb("ft", 2.0, site=site, fluid=OIL, losses=drop, limit=SEVEN)))
        for site in (AT_SEA, 'elevation = "5280 ft"')
    )
    assert mile.vacuum == pytest.approx(sea.vacuum, abs=1e-6)
    assert sea.allowed_vacuum - mile.allowed_vacuum == pytest.approx(sea.atmosphere - mile.atmosphere)


def test_a_foot_of_water_is_0_433_psi(read: Read, published: Published) -> None:
    """And 2.31 ft are 1 psi, 1.133 ft are 1 inHg: water of 62.4 lb/ft³. Last digits."""
    pump_ledger = ledger(read(plumb("ft", 10.0, site=AT_SEA, fluid=fluid("62.4 lb/ft^3", "0 Pa"))))
    published(PRACTICE, "a foot of water", 0.433, pump_ledger.vacuum / PSI / 10, "psi", abs=5e-4)
    published(PRACTICE, "feet of water to a psi", 2.31, 10 / (pump_ledger.vacuum / PSI), "ft", abs=0.005)
    feet = 10 / (pump_ledger.vacuum / INCH_OF_MERCURY)
    published(PRACTICE, "feet of water to an inch of mercury", 1.133, feet, "ft", abs=1e-3)


@pytest.mark.parametrize(
    ("speed", "severity"), [(2.0, None), (3.9, None), (4.0, "caution"), (4.9, "caution"), (5.0, "stop")]
)
def test_two_to_four_feet_a_second_in_a_suction_line(speed: float, severity: str | None, read: Read) -> None:
    """Read in a public general-information sheet on hose velocities: 2 to 4 ft/s (0.6 to 1.2 m/s)."""
    text = pipe(bore=2 * INCH, length=2.0, flow=speed * FOOT * area(2 * INCH), density=870.0, viscosity=46e-6)
    told = checks.check(solve(read(text)))
    assert [f.severity for f in told if f.finding == "suction velocity"] == ([severity] if severity else [])


def test_the_limits_of_the_checks_are_those_of_the_trade(published: Published) -> None:
    """Bypass openings of 1 to 3 psi (read in public pages), start viscosities of 860 cSt for vane pumps and
    1000 cSt in general, 10 cSt at the least (from memory and two public maintenance articles): ranges, of
    which the program takes the far end."""
    limits = Criteria()
    published(PRACTICE, "strainer bypass, at most", 3, limits.bypass_opening / PSI, "psi", rel=1e-4)
    published(PRACTICE, "start, vane", 860, limits.start_viscosity_vane * 1e6, "cSt", abs=1e-9)
    published(PRACTICE, "start, other", 1000, limits.start_viscosity_other * 1e6, "cSt", abs=1e-9)
    published(PRACTICE, "running, least", 10, limits.running_viscosity * 1e6, "cSt", abs=1e-9)


@pytest.mark.parametrize(
    ("case", "bore", "flow", "theirs"),
    [
        ("0.5 m, 1.5 m/s", 0.5, 1.5 * area(0.5), 1.279),
        ("10 in, 2000 gpm", 10 * INCH, 2000 * GPM, 46.3 * INCH),
        ("2.067 in, 4 ft/s", 2.067 * INCH, 4 * FOOT * area(2.067 * INCH), 10.14 * INCH),
    ],
)
def test_hydraulic_institute_submergence(
    case: str, bore: float, flow: float, theirs: float, read: Read, published: Published
) -> None:
    """ANSI/HI 9.8 (formula read in a public page): S = D (1 + 2.3 v/√(g D)), and in customary units
    S = D + 0.574 Q/D^1.5 (read on a dealer's public page): 46.3 in for 10 in at 2000 gpm by either.
    Tolerance 0.3 %."""
    text = plumb(
        "m", 2.0, mouth=-0.01, bore=f"{bore!r} m", flow=f"{flow!r} m^3/s", site=AT_SEA,
        fluid=fluid("998 kg/m^3", "2339 Pa"),
    )  # fmt: skip
    told = {f.finding: f for f in checks.check(solve(read(text)))}
    published("ANSI/HI 9.8", f"submergence, {case}", theirs, told["submergence"].threshold, "m", rel=3e-3)


@pytest.mark.parametrize(("bar", "share"), [(0.9, 0.0113), (0.8, 0.0240), (0.7, 0.0403), (0.5, 0.0924)])
def test_air_released_by_henrys_law(bar: float, share: float, read: Read, published: Published) -> None:
    """Bunsen coefficient 0.09, saturated at 1.01325 bar: 0.09 (p₀ − p)/p comes out at most, as a volume at
    0 °C, at which the IUPAC's Gold Book (entry 15317, public page) counts it; as warm as the oil it takes
    more room, in proportion to the absolute temperature. Last digits.

    Where less than the 2 % of the check comes out, nothing is said, and there is nothing to read.
    """
    drop = f'kind = "known drop"\ndrop = "{101325 - bar * 1e5!r} Pa"\n{READ_WITH_IT}'
    text = plumb("m", 0.0, mouth=-0.1, site=AT_SEA, fluid=OIL, losses=drop)
    layout = read(text.replace("dissolved_air = 0\n", "dissolved_air = 0.09\n"))
    told = {f.finding: f for f in checks.check(solve(layout))}
    if share < Criteria().free_air:
        assert "free air" not in told
    else:
        warm = layout.fluid.temperature.si / 273.15
        ours = told["free air"].value / warm
        assert warm > 1.05
        published("Henry's law", f"free air at {bar} bar, at 0 °C", share, ours, abs=2e-4)


def test_cold_water_weighs_what_handbooks_say(read: Read, published: Published) -> None:
    """62.3666 lb/ft³ at 60 °F and 62.3160 at 68 °F by CoolProp; handbooks round to 62.4. 0.002 %."""
    for fahrenheit, weight in ((60, 62.3666), (68, 62.3160)):
        layout = read(own_water(plumb("ft", 1.0, site=AT_SEA), f"{fahrenheit} degF"))
        ours = ledger(layout).density / POUND_PER_CUBIC_FOOT
        published("IAPWS-95 by CoolProp", f"water, {fahrenheit} °F", weight, ours, "lb/ft³", rel=5e-5)


# Family, and by how much a vane pump's maker raises the absolute inlet pressure that it asks for with oil.
RAISED = [
    ("Water-glycol (HFC)", 1.25),
    ("Phosphate ester (HFDR)", 1.35),
    ("Polyol ester (HFDU)", 1.10),
    ("Natural ester", 1.10),
]


@pytest.mark.parametrize(("family", "factor"), RAISED)
def test_a_limit_for_oil_is_raised_with_a_heavier_family(
    family: str, factor: float, published: Published
) -> None:
    """A vane pump catalogue (from memory): the absolute pressure at the inlet times 1.25 with HF-3 and HF-4
    fluids, 1.35 with HF-5, 1.10 with esters. Ours is the ratio of the densities at 50 °C to that of a light
    petroleum oil, and 5 % off at most; to 900 kg/m³, the heaviest, it would be 9 %. HF-3, an invert emulsion,
    is asked 13 % more of than by its density: there a finding says so."""
    choice = FluidChoice(family, Quantity("50 degC", 323.15))
    pump_ledger = solve(replace(stand(port_height=0.9), fluid=choice)).pumps["press"]
    (first, *_) = pump_ledger.floor_lines
    ours = (pump_ledger.floor - pump_ledger.vapor_pressure) / first.total
    published("A vane pump catalogue", f"inlet with {family}", factor, ours, rel=0.05)
