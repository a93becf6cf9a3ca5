"""Twelve visits with a gauge: what is read, what is said of it, and what must not be said.

Readings are typed as a hand reads them, to a tenth of an inch of mercury, off a machine that has the fault.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.causes import CauseKind, thicker, with_bore_times, with_resistance
from solver.field.compared import STOP, compare
from solver.field.diagnosis import Diagnosis, diagnose
from solver.field.places import Place
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution, solve, solve_network
from solver.network.build import Network, build
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

INHG = 3386.389
(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
TEXT = PATH.read_text(encoding="utf-8").partition("[alternatives")[0].replace("format = 1", "format = 2")
COAST = TEXT.replace('elevation = "1650 m"', 'elevation = "10 m"')
"""The carriage pump where 7 inHg is allowed."""


Machine = Callable[[Layout], Network]

FINE = 'gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0, zero = "0 inHg" }'
NOT_VENTED = FINE.replace(', zero = "0 inHg"', "").replace("1.0", "0.5")


def sound(state: Layout) -> Network:
    return build(state)


def blocked(share: float) -> Machine:
    return lambda state: build(inputs.blocked(state, ("strainer",), share, Level.MINIMUM))


def reading(
    text: str,
    machine: Machine,
    celsius: float = 45.0,
    rpm: float = 1450.0,
    tap: bool = False,
    gauge: str = FINE,
    off: float = 0.0,
    more: str = "",
) -> str:
    """One reading as it is typed, off the machine; `off`: what the gauge shows too much [Pa of vacuum]."""
    drawn = inputs.temperature(file.parse(text).base, ("",), celsius + 273.15, Level.MINIMUM)
    state = inputs.speed(drawn, ("carriage",), rpm / 60.0, Level.MINIMUM)
    solution = solve_network(machine(state), Level.MINIMUM)
    place = Place("carriage", "riser", 0.1) if tap else Place("carriage")
    where = 'run = "riser"\ndistance = "0.1 m"\n' if tap else ""
    return (
        f'\n[[readings]]\nwhen = "2026-03-04"\npump = "carriage"\n{where}'
        f'vacuum = "{(places.vacuum(solution, place) + off) / INHG:.1f} inHg"\n{gauge}\n'
        f'measured_at = "line"\n'
        f'state = {{ level = "minimum", fluid.temperature = "{celsius} degC", '
        f'pumps.carriage.speed = "{rpm} rpm" }}\n{more}'
    )


def at_rest(text: str, solution: Solution, off: float = 0.0) -> str:
    """What the gauge shows with the pump stopped, to be put behind a reading."""
    return f'rest_vacuum = "{(places.at_rest(solution, Place("carriage")) + off) / INHG:.1f} inHg"\n'


def said(text: str, *readings: str) -> Diagnosis:
    return diagnose(file.parse(text + "".join(readings)).base, "carriage")


def first(diagnosis: Diagnosis) -> CauseKind:
    return diagnosis.causes[0].explanation.cause


def test_1_a_gauge_at_the_port_alone_cannot_name_a_dirty_strainer() -> None:
    output = said(COAST, reading(COAST, blocked(0.85)))
    assert output.explained.word == "cannot be distinguished"
    assert any(each.explanation.cause is CauseKind.SCREEN and each.word != "cannot" for each in output.causes)
    assert output.next is not None
    assert "likelier" not in output.headline


@pytest.mark.thorough
def test_2_a_tap_two_temperatures_and_the_cap_name_the_strainer() -> None:
    machine = blocked(0.85)
    taps = [reading(COAST, machine, celsius, tap=tap) for celsius in (45.0, 30.0) for tap in (False, True)]
    output = said(COAST, *taps, reading(COAST, machine, more='filler_cap = "no change"\n'))
    assert (first(output), output.explained.word) == (CauseKind.SCREEN, "far likelier")
    assert output.causes[0].explanation.low <= 0.85 <= output.causes[0].explanation.high


def test_3_a_gauge_that_is_off_is_vented_before_anything_is_said() -> None:
    rest = at_rest(COAST, solve(file.parse(COAST).base), 1.5e3)
    output = said(COAST, reading(COAST, sound, gauge=NOT_VENTED, off=1.5e3, more=rest))
    assert {each.explanation.cause for each in output.causes[:2]} == {CauseKind.OFFSET, CauseKind.LEVEL}
    assert output.explained.word != "far likelier"
    assert output.next is not None
    assert "vent the gauge" in output.next.what


@pytest.mark.thorough
def test_4_a_low_level_shows_at_rest_on_a_gauge_that_was_vented() -> None:
    drawn = solve(file.parse(COAST).base)
    shift = 0.15 * drawn.fluid.density * 9.80665
    rest = at_rest(COAST, drawn, shift)
    output = said(COAST, *(reading(COAST, sound, celsius, off=shift, more=rest) for celsius in (45.0, 35.0)))
    assert first(output) is CauseKind.LEVEL
    assert output.causes[0].size.endswith("lower")


HOSE = COAST.replace('material = "commercial steel"\nbend', 'material = "rubber hose"\nbend')
"""The riser as a hose."""


def soft(state: Layout) -> Network:
    warm = (state.fluid.temperature.si - 293.15) / 40.0
    return build(with_bore_times(state, "riser", 1.0 - 0.5 * min(max(warm, 0.0), 1.2)))


@pytest.mark.thorough
@pytest.mark.parametrize("morning", ["2026-03-04", "2026-03-05 07:00"])
def test_5_a_vacuum_that_rises_warm_is_a_soft_hose_and_no_thick_fluid(morning: str) -> None:
    hot, cold = (reading(HOSE, soft, celsius) for celsius in (55.0, 22.0))
    afternoon = "2026-03-04 15:00" if " " in morning else morning
    output = said(HOSE, hot.replace("2026-03-04", afternoon), cold.replace("2026-03-04", morning))
    assert len(output.comparisons) == 2
    assert first(output) is CauseKind.HOSE
    thick = next(each for each in output.causes if each.explanation.cause is CauseKind.FLUID)
    assert thick.word == "cannot"
    assert thick.evidence_against


@pytest.mark.thorough
def test_6_a_valve_half_shut_goes_as_the_square_of_the_speed() -> None:
    def half_shut(state: Layout) -> Network:
        return with_resistance(build(state), "connector", 25.0)

    fast = [reading(COAST, half_shut, rpm=rpm) for rpm in (1450.0, 800.0)]
    output = said(COAST, *fast, reading(COAST, half_shut, 30.0), reading(COAST, half_shut, tap=True))
    assert first(output) is CauseKind.RESISTANCE
    assert not any(each.name.startswith("screen") and each.word != "cannot" for each in output.causes[:1])


@pytest.mark.thorough
def test_7_a_thicker_grade_and_colder_fluid_are_one_answer() -> None:
    def thick(state: Layout) -> Network:
        return build(thicker(state, 2.2))

    output = said(COAST, *(reading(COAST, thick, tap=tap) for tap in (False, True)))
    (words,) = {
        each.name
        for each in output.causes
        if each.explanation.cause is CauseKind.FLUID and not each.explanation.second
    }
    assert words == "fluid thicker than drawn, or colder"


def test_8_a_sea_level_figure_at_altitude_is_a_wrong_limit_and_no_fault() -> None:
    output = said(TEXT, *(reading(TEXT, sound, celsius) for celsius in (45.0, 35.0)))
    assert output.headline.startswith(STOP)
    assert "Over by design, and not from a fault" in output.headline
    assert first(output) is CauseKind.NOTHING


def test_9_an_erratic_noise_within_the_allowed_is_air_of_no_size() -> None:
    output = said(
        COAST, reading(COAST, sound, more='sound = "erratic"\nfoam = true\njar = "clears from below"\n')
    )
    assert not output.stop
    assert first(output) is CauseKind.JOINT
    assert output.headline.startswith("Likelier than any other: air is drawn in")
    assert output.causes[0].size == ""
    assert "Stop" not in output.headline


def test_10_a_worn_pump_shows_less_vacuum_and_slow_cylinders() -> None:
    def worn(state: Layout) -> Network:
        return build(
            inputs.speed(state, ("carriage",), state.pumps["carriage"].speed.si * 0.5, Level.MINIMUM)
        )  # type: ignore[union-attr]

    cold = [reading(COAST, worn, 20.0, tap=tap, more="slow_cylinder = true\n") for tap in (False, True)]
    output = said(COAST, *cold)
    assert first(output) is CauseKind.LESS_FLOW
    assert "nothing is wrong" not in output.headline
    assert not output.stop


@pytest.mark.thorough
def test_10_a_thinner_grade_reads_as_less_flow_does_and_is_named_with_it() -> None:
    """A machine filled with a fluid of a third of the viscosity, read warm and cold."""

    def thin(state: Layout) -> Network:
        return build(thicker(state, 0.33))

    cold = [reading(COAST, thin, 10.0, tap=tap) for tap in (False, True)]
    output = said(COAST, *cold)
    assert first(output) is CauseKind.LESS_FLOW
    assert "or fluid thinner" in output.headline


@pytest.mark.thorough
def test_11_a_plugged_breather_answers_to_the_cap() -> None:
    shown = [reading(COAST, sound, celsius, off=6e3) for celsius in (45.0, 25.0)]
    capped = reading(
        COAST, sound, off=6e3, more='filler_cap = "changed"\nsound = "steady"\nsound_when = ["extending"]\n'
    )
    output = said(COAST, *shown, capped)
    assert first(output) is CauseKind.SURFACE
    assert "likelier" in output.headline


def test_12_a_tube_that_nobody_looked_at_hides_two_metres_of_oil() -> None:
    gauge = 'gauge = { name = "A", over_port = "2 m" }'
    text = COAST + reading(COAST, sound, gauge=gauge, off=0.5 * 17e3)
    (compared,) = compare(file.parse(text).base)
    (one,) = compared.compared
    assert one.read.high - one.read.low == pytest.approx(2.0 * 9.80665 * 856.0, rel=0.02)
    assert one.inside
    assert diagnose(file.parse(text).base, "carriage").explained.word != "far likelier"
    over = COAST + reading(COAST, sound, gauge=gauge, off=5.0 * INHG)
    assert compare(file.parse(over).base)[0].stop  # of the band the upper end counts


def test_the_allowed_vacuum_is_that_of_the_site() -> None:
    drawn = file.parse(COAST).base
    high = replace(drawn, site=replace(drawn.site, elevation=quantity("1650 m", Kind.ELEVATION)))
    assert solve(high).pumps["carriage"].allowed_vacuum < 0.3 * solve(drawn).pumps["carriage"].allowed_vacuum
