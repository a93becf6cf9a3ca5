"""The ledger at the coldest start, at each threshold from both sides."""

from dataclasses import replace

import pytest

from solver.layout.parts import Limit
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity
from tests.drawings import metres
from tests.solver.checking import HAIR, found, lifted, only, with_floor, with_fluid, with_pump

START = Quantity("5 degC", 278.15)
OVER, THIN = "over at the cold start", "thin margin at the cold start"


def cold(layout, at=START):
    return with_fluid(layout, coldest_start=at)


def at_start(layout):
    """The ledger of the same drawing with the fluid at the coldest start."""
    return solve(with_fluid(layout, temperature=START)).pumps["pump"]


def test_over_at_the_cold_start():
    inlet = at_start(lifted()).inlet
    one = only(cold(with_floor(lifted(), inlet + 100.0)), OVER)
    assert (one.severity, one.part, one.key, one.kind) == ("stop", "pump", "pump/port", Kind.VACUUM)
    assert one.value - one.limit == pytest.approx(100.0, abs=1e-3)
    assert one.text.startswith("pump: at a cold start of 5 °C: over by 0.1 kPa (")
    assert not found(cold(with_floor(lifted(), inlet - 100.0)), OVER)


def test_within_when_warm_and_over_when_cold_are_two_things():
    layout = cold(with_floor(lifted(), at_start(lifted()).inlet + 100.0))
    assert solve(layout).pumps["pump"].within
    assert not found(layout, "over the allowed vacuum")
    assert found(layout, OVER)


def test_short_of_npsh_at_the_cold_start():
    have = at_start(lifted()).npsh_available

    def asking(head):
        return cold(with_pump(lifted(), limit=Limit("npsh", ((None, metres(head)),))))

    one = only(asking(have + 0.02), OVER)
    assert (one.kind, one.value) == (Kind.HEAD, pytest.approx(have))
    assert one.text.startswith("pump: at a cold start of 5 °C: over by 0.02 m of NPSH (")
    assert not found(asking(have - 0.02), OVER)


def test_the_column_may_break_at_the_cold_start():
    layout = cold(lifted(flow=0.006, bore=0.03))
    one = only(layout, OVER)
    assert "the column of fluid breaks before the port: it would need −" in one.text
    assert "at the port," not in one.text


def test_thin_at_the_cold_start():
    then = at_start(lifted())
    left = then.margin / then.budget
    one = only(cold(lifted()), THIN, thin_margin=left + HAIR)
    assert (one.severity, one.value) == ("caution", pytest.approx(left))
    assert not found(cold(lifted()), THIN, thin_margin=left - HAIR)


def test_what_is_over_is_not_also_thin():
    layout = cold(with_floor(lifted(), at_start(lifted()).inlet + 100.0))
    assert not found(layout, THIN)


@pytest.mark.parametrize("celsius", [45.0, 60.0])
def test_a_start_no_colder_than_the_fluid_is_no_cold_start(celsius):
    start = Quantity(f"{celsius} degC", celsius + 273.15)
    layout = cold(with_floor(lifted(), 101e3), start)
    assert solve(layout).cold_start is None
    assert not found(layout, OVER)


def test_a_start_that_cannot_be_calculated_is_said():
    layout = cold(lifted(), Quantity("-90 degC", 183.15))
    assert solve(layout).cold("pump") is None
    assert "cannot be judged" in only(layout, "start beyond the fluid's data").text
    assert not found(layout, OVER)


def test_the_sentence_is_in_the_drawing_s_units():
    layout = cold(replace(with_floor(lifted(), at_start(lifted()).inlet + 1e4), units="US customary"))
    assert only(layout, OVER).text.startswith("pump: at a cold start of 41 °F: over by 3.0 inHg (")


@pytest.mark.parametrize(("celsius", "told"), [(45.0, False), (45.5, True)])
def test_a_start_warmer_than_the_fluid_is_told(celsius, told):
    layout = cold(lifted(), Quantity(f"{celsius} degC", celsius + 273.15))
    hits = found(layout, "start warmer than the fluid")
    assert bool(hits) is told
    if told:
        assert hits[0].severity == "note"
        assert "45.5 °C, is warmer than the fluid at 45 °C" in hits[0].text


def test_one_viscosity_does_not_judge_a_start():
    """A figure for one temperature must not pass for that of a cold morning."""
    layout = cold(lifted(), Quantity("-10 degC", 263.15))
    one = replace(layout, fluid=replace(layout.fluid, viscosity=Quantity("46 cSt", 46e-6)))
    assert one.fluid.at_coldest() is None
    assert solve(one).cold("pump") is None
    told = only(one, "start beyond the fluid's data")
    assert told.severity == "caution"
    assert "cannot be judged: the one viscosity typed, 46.0 cSt" in told.text
    assert not found(one, "start viscosity")
