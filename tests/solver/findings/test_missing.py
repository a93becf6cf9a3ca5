"""A missing figure never makes the answer more favourable: it is asked for, or the headline says so."""

import re
from dataclasses import replace

import pytest

from solver.answers.running import hottest_temperature
from solver.answers.variations import Variation
from solver.findings.judgement import judge
from solver.findings.outlook import outlook
from solver.layout.parts import Limit, Screen
from solver.ledger.solve import solve
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, Quantity, System, quantity
from solver.report import records
from solver.report.text import report
from solver.working.working import OUTCOME, working
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.solver.checking import found, ledger, lifted, mesh, only, with_fluid, with_pump, with_screen

OWN = {
    "name": "House blend",
    "density": Quantity("870 kg/m^3", 870.0),
    "viscosity": ((Quantity("40 degC", 313.15), Quantity("46 cSt", 46e-6)),
                  (Quantity("100 degC", 373.15), Quantity("6.8 cSt", 6.8e-6))),
}  # fmt: skip
NPSH = Limit("npsh", ((None, metres(3.0)),))


def headline(layout):
    return outlook(judge(layout), System.SI).headline


def known_k(**more):
    """A line with a device known by its K, its port above the fluid."""
    device = replace(fitting("device", (0.9, 0.9), kind="known K"), k=2.0, **more)
    return drawing(
        intake(), device, pump(at=(0.9, 1.6)), run("riser", "strainer", "device"), run("up", "device", "pump")
    )


def test_a_known_k_without_its_laminar_part_is_at_least():
    assert only(known_k(), "loss at least").part == "device"
    assert "losses incomplete" in headline(known_k())
    given = known_k(k_re=800.0)
    assert not found(given, "loss at least")
    assert "at least" not in headline(given)
    assert ledger(given).margin < ledger(known_k()).margin


def test_in_turbulent_flow_a_known_k_lacks_nothing():
    thin = with_fluid(known_k(), name="Water", temperature=Quantity("40 degC", 313.15))
    assert not found(thin, "loss at least")


def opened(**point):
    return with_screen(lifted(), **mesh(area=0.0005, bypass=Quantity("1 kPa", 1e3), **point))


POINT = {
    "bypass_flow": Quantity("0.002 m^3/s", 0.002),
    "bypass_drop": Quantity("5 kPa", 5e3),
    "bypass_viscosity": Quantity("30 cSt", 30e-6),
}


def test_an_open_bypass_without_a_point_is_at_least():
    assert only(opened(), "loss at least").part == "strainer"
    assert "losses incomplete" in headline(opened())
    assert not found(opened(**POINT), "loss at least")
    shut = with_screen(lifted(), **mesh(bypass=Quantity("20 kPa", 2e4)))
    assert not found(shut, "loss at least")


def one_point(*points, temperature="40 degC"):
    """A line with a strainer of its maker's points, as of oil of 32 mm²/s."""
    drops = tuple((quantity(flow, Kind.FLOW), quantity(drop, Kind.VACUUM)) for flow, drop in points)
    figures = {
        "viscosity": quantity("32 cSt", Kind.VISCOSITY),
        "density": quantity("870 kg/m^3", Kind.DENSITY),
    }
    screened = with_screen(lifted(), drops=drops, **figures)
    return with_fluid(screened, temperature=quantity(temperature, Kind.TEMPERATURE))


def test_a_screen_of_one_point_is_at_least_far_from_it():
    """Read half viscous, half inertial, it may take up to twice as much of oil that is far thicker."""
    one = ("300 L/min", "2 kPa")  # turbulent in its end fitting
    assert only(one_point(one, temperature="0 degC"), "loss at least").part == "strainer"
    assert "losses incomplete" in headline(one_point(one, temperature="0 degC"))
    assert not found(one_point(one, ("150 L/min", "0.8 kPa"), temperature="0 degC"), "loss at least")


def test_a_bypass_that_opens_in_a_cold_case_alone_is_a_finding_of_that_case():
    start = Quantity("-5 degC", 268.15)
    layout = with_fluid(
        with_screen(lifted(), **mesh(bypass=quantity("10 kPa", Kind.PRESSURE))), coldest_start=start
    )
    assert not found(layout, "bypass open")
    judgement = judge(layout)
    (one,) = (each for each in judgement.findings if each.finding == "bypass open")
    assert one.cases == ("coldest start",)
    assert one.value > one.threshold == pytest.approx(1e4)
    cold = judgement.cases["coldest start"].solution
    charged = next(e for e in cold.pumps["pump"].entries if e.kind == "screen")
    assert 1e4 < charged.loss < one.value


def test_a_fluid_without_a_vapour_pressure_is_not_judged_for_boiling():
    layout = with_fluid(lifted(), **OWN)
    assert "(not judged for boiling)" in headline(layout)
    assert only(layout, "not judged for boiling").severity == "caution"
    assert only(layout, "not judged for free air").severity == "note"
    typed = with_fluid(layout, vapor_pressure=Quantity("0 Pa", 0.0), dissolved_air=0.09)
    assert not found(typed, "not judged for boiling")
    assert not found(typed, "not judged for free air")
    assert "boiling" not in headline(typed)


def test_what_hangs_on_an_unknown_vapour_pressure_is_never_printed_as_if_it_were_zero():
    """NPSH, boiling and the vapour pressure itself: text, JSON, rows, working and the hottest fluid."""
    layout = with_fluid(lifted(), **OWN)
    judgement, typed = judge(layout), judge(with_fluid(layout, vapor_pressure=Quantity("0 Pa", 0.0)))
    solution = solve(layout)
    text = report(judgement)
    assert "vapour pressure not typed" in text
    assert "NPSH available: not known: no vapour pressure is typed." in text
    recorded = records.record(judgement)
    assert recorded["fluid"]["vapor_pressure_Pa"] is None
    assert recorded["pumps"]["pump"]["npsh_available_m"] is None
    assert "NPSH" not in str(working(solution, "pump", OUTCOME, System.SI))
    answer = hottest_temperature(solution, solution.pumps["pump"])
    assert isinstance(answer, Variation)
    assert answer.note.startswith("not judged for boiling")
    text = report(typed)
    assert "vapour pressure 0.0" in text
    assert re.search(r"NPSH available: \d", text)


@pytest.mark.parametrize("name", ["Mineral oil, ISO VG 46", "Water"])
def test_a_fluid_of_the_catalogue_is_judged(name):
    assert "boiling" not in headline(with_fluid(lifted(), name=name))


def test_an_npsh_limit_asks_for_the_vapour_pressure():
    """Hot condensate at 80 °C, 47.4 kPa: without it NPSH would be 5 m too large."""
    layout = with_pump(with_fluid(lifted(), **OWN), limit=NPSH)
    with pytest.raises(FluidError, match="type vapor_pressure"):
        solve(layout)
    dry, wet = (
        ledger(with_fluid(layout, vapor_pressure=Quantity("typed", pressure))) for pressure in (0.0, 47.4e3)
    )
    assert dry.npsh_available - wet.npsh_available == pytest.approx(47.4e3 / (wet.density * 9.80665))


def test_a_screen_s_row_takes_its_point():
    assert ledger(opened(**POINT)).margin != ledger(opened()).margin
    assert Screen(**mesh(**POINT)).bypass_drop.si == 5e3
