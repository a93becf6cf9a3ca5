"""Every check of a pump at its threshold, from both sides."""

from dataclasses import replace

import pytest

from solver.findings.judgement import judge
from solver.findings.outlook import outlook
from solver.findings.pump import free_air_at
from solver.formulas import flow
from solver.layout.parts import FluidChoice, Limit
from solver.ledger.limit import ASSUMED, MAKER
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, System
from tests.drawings import metres
from tests.solver.checking import (
    HAIR,
    found,
    ledger,
    lifted,
    mesh,
    only,
    over_the_wall,
    with_floor,
    with_fluid,
    with_pump,
    with_screen,
)
from tests.solver.ledger.lines import flooded_line

# The pump and its budget


@pytest.mark.parametrize(
    ("form", "figure", "meant", "so"),
    [
        ("pressure", 24e3, "a vacuum of 24.00 kPa", "77.33 kPa abs"),
        ("vacuum", 80e3, "an absolute pressure of 80.00 kPa", "80.00 kPa abs"),
    ],
)
def test_a_limit_lower_than_any_pump_for_oil_is_doubted(form, figure, meant, so):
    typed = Limit(form, ((None, Quantity("typed", figure)),))
    one = only(with_pump(lifted(), limit=typed), "limit lower than usual")
    assert (one.severity, one.part, one.threshold) == ("caution", "pump", 40e3)
    assert meant in one.advice
    assert f"the limit is {so}" in one.advice
    assert ("in bar" in one.advice) is (form == "pressure")
    doubted = outlook(judge(with_pump(lifted(), limit=typed)), System.SI).headline
    assert "(limit lower than usual" in doubted or "; limit lower than usual" in doubted


def test_a_limit_is_doubted_under_four_tenths_of_a_bar():
    for figure, doubted in ((39.9e3, True), (40e3, False)):
        typed = Limit("pressure", ((None, Quantity("typed", figure)),))
        assert bool(found(with_pump(lifted(), limit=typed), "limit lower than usual")) is doubted


def test_an_npsh_required_is_doubted_under_a_metre():
    """0.8 is the bar of another line of the sheet; a centrifugal pump may ask for as little as it likes."""
    for figure, doubted in ((0.8, True), (0.99, True), (1.0, False)):
        head = Limit("npsh", ((None, metres(figure)),))
        asking = with_pump(lifted(), limit=head)
        assert bool(found(asking, "limit lower than usual")) is doubted
        assert not found(with_pump(asking, type="centrifugal"), "limit lower than usual")


def test_a_pump_for_water_is_doubted_under_a_fifth_of_a_bar():
    for figure, doubted in ((19.9e3, True), (20e3, False)):
        typed = Limit("pressure", ((None, Quantity("typed", figure)),))
        asking = with_pump(lifted(), limit=typed, type="centrifugal")
        assert bool(found(asking, "limit lower than usual")) is doubted


def test_over_the_allowed_vacuum():
    inlet = ledger(lifted()).inlet
    one = only(with_floor(lifted(), inlet + 1.0), "over the allowed vacuum")
    assert (one.severity, one.part, one.key, one.kind) == ("stop", "pump", "pump/port", Kind.VACUUM)
    assert one.value - one.threshold == pytest.approx(1.0, abs=1e-3)
    assert not found(with_floor(lifted(), inlet - 1.0), "over the allowed vacuum")


def test_short_of_npsh():
    have = ledger(lifted()).npsh_available

    def asking(head):
        return with_pump(lifted(), limit=Limit("npsh", ((None, metres(head)),)))

    one = only(asking(have + 0.01), "over the allowed vacuum")
    assert one.kind is Kind.HEAD
    assert (one.value, one.threshold) == (pytest.approx(have), pytest.approx(have + 0.01))
    assert not found(asking(have - 0.01), "over the allowed vacuum")


def test_thin_margin():
    left = ledger(lifted()).margin / ledger(lifted()).budget
    one = only(lifted(), "thin margin", thin_margin=left + HAIR)
    assert (one.severity, one.value) == ("caution", pytest.approx(left))
    assert not found(lifted(), "thin margin", thin_margin=left - HAIR)


def test_a_margin_that_is_spent_is_not_also_called_thin():
    assert not found(with_floor(lifted(), 100e3), "thin margin")


def test_a_margin_of_few_pascals_is_thin_without_a_budget_too():
    """At a budget of nothing and below it there is no share to hold it against."""
    flooded = flooded_line(-0.8, flow=1e-4)
    surface, inlet = ledger(flooded).surface, ledger(flooded).inlet
    assert inlet > surface + 1000.0
    for floor in (surface, inlet - 200.0):
        layout = with_floor(flooded, floor)
        assert ledger(layout).budget <= 0.0
        assert ledger(layout).within
        thin = found(layout, "thin margin", thin_pressure=inlet - floor + 0.1)
        (alike,) = (one.text for one in thin)
        assert ": just under " in alike
        assert alike.endswith(" is left")
        (apart,) = (one.text for one in found(layout, "thin margin", thin_pressure=2 * (inlet - floor)))
        assert " is left, under " in apart
        assert [one.kind for one in thin] == [Kind.VACUUM]
        assert not found(layout, "thin margin", thin_pressure=inlet - floor - 1.0)
    assert outlook(judge(with_floor(flooded, inlet - 200.0)), System.SI).severity == "caution"


def test_limit_estimated():
    density = ledger(lifted()).density
    one = only(with_pump(lifted(), rated_density=Quantity("typed", density - 1)), "limit estimated")
    assert one.severity == "note"
    assert "density correction" in one.text
    assert one.value > one.threshold
    assert not found(with_pump(lifted(), rated_density=Quantity("typed", density + 1)), "limit estimated")


@pytest.mark.parametrize(("rated", "marked"), [(-1.0, True), (1.0, False)])
def test_over_an_estimated_limit_says_so(rated, marked):
    density = Quantity("typed", ledger(lifted()).density + rated)
    one = only(with_pump(with_floor(lifted(), 99e3), rated_density=density), "over the allowed vacuum")
    assert one.text.endswith("; limit estimated)") is marked


def test_an_estimate_too_far_from_the_maker_s_speed_is_a_caution():
    def at(rpm):
        return with_pump(
            with_floor(lifted(), 30e3), speed=Quantity("typed", rpm / 60), rated_speed=Quantity("typed", 25.0)
        )

    assert only(at(2240), "limit estimated").severity == "note"
    one = only(at(2260), "limit estimated")
    assert one.severity == "caution"
    assert one.text.endswith(
        "no estimate of the limit reaches 2260 rpm: ask the pump maker for the limit at that speed"
    )


def test_near_vapour_pressure():
    lowest = ledger(lifted()).lowest
    one = only(lifted(), "near vapour pressure", vapor_margin=lowest + 1.0)
    assert (one.severity, one.key) == ("caution", "pump/port")
    assert one.value == pytest.approx(lowest)
    assert not found(lifted(), "near vapour pressure", vapor_margin=lowest - 1.0)


def test_below_the_vapour_pressure_is_a_stop():
    def boiling_at(pressure):
        return with_fluid(lifted(), vapor_pressure=Quantity("typed", pressure))

    lowest = ledger(lifted()).lowest
    assert only(boiling_at(lowest + 1.0), "near vapour pressure").severity == "stop"
    assert only(boiling_at(lowest - 1.0), "near vapour pressure").severity == "caution"


def test_vapour_pressure_is_watched_at_the_top_of_the_line_too():
    lowest = ledger(over_the_wall())
    one = only(over_the_wall(), "near vapour pressure", vapor_margin=lowest.lowest + 1.0)
    assert one.part == "crossing"


def test_free_air():
    found_here = ledger(lifted())
    fluid = solve(lifted()).fluid
    given = fluid.dissolved_air, found_here.surface, found_here.lowest, 0.0, fluid.temperature
    share = flow.free_air(*given)
    one = only(lifted(), "free air", free_air=share - HAIR)
    assert one.value == pytest.approx(share)
    assert "upper bound" in one.text
    assert not found(lifted(), "free air", free_air=share + HAIR)


def water_at(celsius, line=None):
    """The line of `lifted` with water in it, its tank and, where that is another, its line so warm [°C]."""
    warm, other = (None if t is None else metres(t + 273.15) for t in (celsius, line))
    return solve(replace(lifted(), fluid=FluidChoice("Water", warm, line_temperature=other)))


def test_a_bubble_in_hot_water_is_full_of_vapour_as_well():
    """Dalton: air that comes out shares the pressure with the vapour, and near boiling its bubbles have no
    end. The bound left the vapour out, and was none of hot water."""
    hot = water_at(80.0)
    fluid = hot.fluid
    share = free_air_at(hot, 101325.0, 60e3)
    left = 60e3 - fluid.vapor_pressure
    assert share == pytest.approx(fluid.dissolved_air * (101325.0 - 60e3) / left * fluid.temperature / 273.15)
    assert free_air_at(hot, 101325.0, fluid.vapor_pressure + 1.0) > 100.0
    assert free_air_at(hot, 101325.0, fluid.vapor_pressure) is None


def test_air_dissolved_in_a_cold_tank_comes_out_in_a_warm_line():
    assert free_air_at(water_at(5.0, 30.0), 101325.0, 60e3) > 1.4 * free_air_at(
        water_at(30.0), 101325.0, 60e3
    )


def cold(layout, celsius=5.0):
    return with_fluid(layout, temperature=Quantity(f"{celsius} degC", celsius + 273.15))


def test_start_viscosity_against_the_maker_s_limit():
    thick = only(with_pump(cold(lifted()), start_viscosity=Quantity("typed", 1e-6)), "start viscosity")
    assert thick.severity == "stop"

    def limited(to):
        return with_pump(cold(lifted()), start_viscosity=Quantity("typed", to))

    assert found(limited(thick.value - 1e-9), "start viscosity")
    assert not found(limited(thick.value + 1e-9), "start viscosity")


@pytest.mark.parametrize(
    ("kind", "field"), [("vane", "start_viscosity_vane"), ("gear", "start_viscosity_other")]
)
def test_start_viscosity_against_the_usual_one_of_its_type(kind, field):
    layout = with_pump(cold(lifted()), type=kind)
    thick = only(layout, "start viscosity", **{field: 1e-6})
    assert thick.severity == "caution"
    assert found(layout, "start viscosity", **{field: thick.value - 1e-9})
    assert not found(layout, "start viscosity", **{field: thick.value + 1e-9})
    assert not found(with_pump(layout, type="centrifugal"), "start viscosity", **{field: 1e-6})


def test_running_viscosity():
    runs = solve(lifted()).fluid.viscosity
    one = only(lifted(), "running viscosity", running_viscosity=runs + 1e-9)
    assert one.value == pytest.approx(runs)
    assert not found(lifted(), "running viscosity", running_viscosity=runs - 1e-9)
    strokes = {"speed": Quantity("typed", 1.0), "cylinder_constant": 0.1}
    for kind in ("centrifugal", "reciprocating"):  # water is what they are for
        water_pump = with_pump(lifted(), type=kind, **strokes)
        assert not found(water_pump, "running viscosity", running_viscosity=runs + 1e-9)


# The strainer


def test_strainer_drop_is_that_of_the_clean_strainer():
    layout = with_screen(lifted(), **mesh())
    clean = only(layout, "strainer drop", strainer_share=0.0)
    assert clean.value == pytest.approx(ledger(layout).entries[0].share)
    dirty = only(with_screen(lifted(), **mesh(blocked=0.6)), "strainer drop", strainer_share=0.0)
    assert dirty.value == pytest.approx(clean.value)
    assert found(layout, "strainer drop", strainer_share=clean.value - HAIR)
    assert not found(layout, "strainer drop", strainer_share=clean.value + HAIR)


def test_strainer_without_a_bypass():
    layout = cold(with_screen(lifted(), **mesh()), 0.0)
    one = only(layout, "strainer without bypass", bypass_opening=0.0)
    assert one.value == pytest.approx(ledger(layout).entries[0].loss)
    assert found(layout, "strainer without bypass", bypass_opening=one.value - 1.0)
    assert not found(layout, "strainer without bypass", bypass_opening=one.value + 1.0)
    opens = cold(with_screen(lifted(), **mesh(bypass=Quantity("typed", 20e3))), 0.0)
    assert not found(opens, "strainer without bypass", bypass_opening=0.0)


def test_bypass_open():
    drop = ledger(with_screen(lifted(), **mesh())).entries[0].loss

    def opening(at):
        return with_screen(lifted(), **mesh(bypass=Quantity("typed", at)))

    one = only(opening(drop - 0.1), "bypass open")
    assert (one.part, one.value, one.threshold) == (
        "strainer",
        pytest.approx(drop),
        pytest.approx(drop - 0.1),
    )
    assert not found(opening(drop + 0.1), "bypass open")


def test_a_limit_that_no_maker_has_stated_is_marked_everywhere():
    typed, assumed = lifted(), with_pump(lifted(), limit_assumed=True)
    one = only(assumed, "limit assumed")
    assert one.severity == "caution"
    assert "no maker has stated it" in one.text
    assert not found(typed, "limit assumed")
    assert "(limit assumed" in outlook(judge(assumed), System.SI).headline
    assert "assumed" not in outlook(judge(typed), System.SI).headline
    line = ledger(assumed).floor_lines[0]
    assert line.source == ASSUMED
    assert ledger(typed).floor_lines[0].source == MAKER
    assert ledger(assumed).margin == ledger(typed).margin


def test_a_screen_that_nobody_has_stated_is_named_with_what_it_takes():
    typed = lifted()
    assumed = with_screen(typed, **mesh(assumed=True))
    one = only(assumed, "screen assumed")
    assert (one.severity, one.part) == ("caution", "strainer")
    assert one.value > 0
    assert "set Screen is assumed to no" in one.advice
    assert "screen assumed" in outlook(judge(assumed), System.SI).headline
    assert not found(with_screen(typed, **mesh()), "screen assumed")
