"""What lies in a reservoir, against areas and places worked out by hand."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from solver.geometry import reservoirs
from solver.layout.parts import Baffle, Level, Site
from solver.layout.shapes import polygon
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.properties.atmosphere import station_pressure
from solver.quantities.units import Quantity
from tests.drawings import drawing, intake, metres, point, pump, run, tank


def problems(*parts):
    return reservoirs.reservoir_problems(drawing(*parts))


def test_volume_under_a_level():
    assert reservoirs.volume(tank(), 0.4) == pytest.approx(1.2 * 0.4 * 0.6)
    assert reservoirs.volume(tank(), -0.1) == 0.0
    assert reservoirs.volume(tank(), 5.0) == pytest.approx(1.2 * 0.7 * 0.6)


def test_a_sloped_floor_holds_less():
    sloped = replace(tank(), outline=tuple(map(point, [(0, 0), (1.2, 0.3), (1.2, 0.7), (0, 0.7)])))
    assert reservoirs.volume(sloped, 0.3) == pytest.approx(0.5 * 1.2 * 0.3 * 0.6)


def test_two_sumps_in_the_floor_hold_what_lies_under_the_level():
    two = [(0, 0), (0.4, 0), (0.4, 0.3), (0.8, 0.3), (0.8, 0), (1.2, 0), (1.2, 0.7), (0, 0.7)]
    stepped = replace(tank(), outline=tuple(map(point, two)))
    assert reservoirs.volume(stepped, 0.2) == pytest.approx(2 * 0.4 * 0.2 * 0.6)
    assert reservoirs.volume(stepped, 0.5) == pytest.approx((2 * 0.4 * 0.3 + 1.2 * 0.2) * 0.6)


def test_the_level_in_use():
    assert reservoirs.level(tank(), "minimum") == 0.4
    assert reservoirs.level(tank(), "normal") == 0.55


def test_an_intake_on_the_wall_is_inside():
    assert problems(intake(at=(1.2, 0.2), kind="wall nozzle")) == []


def test_an_intake_outside_is_refused_by_name():
    ((part, text),) = problems(intake(at=(1.3, 0.2)))
    assert part == "strainer"
    assert "lies outside tank, at 1.3" in text


def test_an_intake_above_the_level_in_use_is_named():
    layout = drawing(intake(at=(0.9, 0.5)))
    assert problems(intake(at=(0.9, 0.5))) == []
    assert reservoirs.intakes_above(layout, "normal") == ()
    ((part, text),) = reservoirs.intakes_above(layout, "minimum")
    assert part == "strainer"
    assert "above the minimum level of tank" in text


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"normal_level": metres(0.71)}, "normal level 0.710 m is above the rim"),
        ({"minimum_level": metres(-0.1)}, "minimum level -0.100 m is under the floor"),
        ({"minimum_level": metres(0.6)}, "minimum level is above its normal level"),
        ({"outline": tuple(map(point, [(0, 0), (1, 1), (1, 0), (0, 1)]))}, "outline crosses itself"),
    ],
)
def test_a_reservoir_that_cannot_be_is_refused(changes, text):
    listed_problems = problems(replace(tank(), **changes))
    assert [part for part, _ in listed_problems if part == "tank"]
    assert any(text in said for _, said in listed_problems)


def test_where_a_run_passes_the_walls():
    lead = run("lead", "strainer", "pump", via=[(0.9, 1.0), (1.8, 1.0)])
    layout = drawing(pump(at=(1.8, 0.2)), lead)
    assert reservoirs.wall_crossings(layout, lead) == (("tank", (pytest.approx(0.9), pytest.approx(0.7))),)


def test_a_run_through_two_walls_meets_them_in_order():
    far = tank("far", at=(2.0, 0.0))
    lead = run("lead", "strainer", "pump")
    layout = drawing(tank(), far, intake(at=(0.9, 0.2)), pump(at=(4.0, 0.2)), lead)
    through_wall = reservoirs.wall_crossings(layout, lead)
    assert [name for name, _ in through_wall] == ["tank", "far", "far"]
    assert [x for _, (x, _) in through_wall] == pytest.approx([1.2, 2.0, 3.2])


# What cylinders draw out


def drawn(volume, **changes):
    return replace(tank(), draw_down=Quantity(f"{volume} m^3", volume), **changes)


def outline(*corners):
    return tuple(map(point, corners))


def test_what_is_not_known_to_be_drawn_out_leaves_the_minimum_level():
    assert reservoirs.level(tank(), "drawn down") == tank().minimum_level.si
    assert reservoirs.level(drawn(0.0), "drawn down") == pytest.approx(0.55)


def test_a_square_tank_falls_by_volume_over_area():
    assert reservoirs.level(drawn(0.1), "drawn down") == pytest.approx(0.55 - 0.1 / (1.2 * 0.6))


def test_a_wedge_falls_as_the_root_of_what_is_left():
    """V = b y²/(2 h) · depth, by hand."""
    wedge = drawn(0.1, outline=outline((0, 0), (1.2, 0.7), (0, 0.7)))
    left = 1.2 * 0.55**2 / (2 * 0.7) * 0.6 - 0.1
    assert reservoirs.drawn_down(wedge) == pytest.approx((left * 2 * 0.7 / (1.2 * 0.6)) ** 0.5)


def test_a_step_in_the_wall_is_fallen_past():
    stepped = drawn(0.2, outline=outline((0, 0), (0.6, 0), (0.6, 0.4), (1.2, 0.4), (1.2, 0.7), (0, 0.7)))
    over_the_step = 0.15 * 1.2 * 0.6
    assert reservoirs.drawn_down(stepped) == pytest.approx(0.4 - (0.2 - over_the_step) / (0.6 * 0.6))


def test_more_than_there_is_leaves_the_floor():
    assert reservoirs.drawn_down(drawn(5.0)) == pytest.approx(0.0)


@given(st.floats(1e-6, 0.25), st.sampled_from([0.1, 0.3, 0.45]))
def test_the_level_after_is_the_one_that_holds_so_much_less(volume, low):
    shape = outline((0, low), (0.5, 0), (0.9, 0.2), (1.2, 0.2), (1.4, 0.7), (0.2, 0.7))
    sloped = drawn(volume, outline=shape)
    after = reservoirs.drawn_down(sloped)
    assume(after > polygon(sloped.outline).bounds[1] + 1e-9)
    assert reservoirs.volume_between(sloped, after, 0.55) == pytest.approx(volume, rel=1e-9)
    assert reservoirs.volume_drawn(sloped, after) == pytest.approx(volume, rel=1e-9)


def baffled(volume=0.2, top=0.45, bottom=None, **changes):
    plate = Baffle(metres(0.8), metres(top), None if bottom is None else metres(bottom))
    return drawn(volume, baffle=plate, return_at=point((0.1, 0.3)), **changes)


def test_behind_a_baffle_on_the_floor_the_fluid_stays():
    """Down to the top of the baffle all of it falls, from there the third on the suction side."""
    above = 0.1 * 1.2 * 0.6
    assert reservoirs.drawn_down(baffled(0.12)) == pytest.approx(0.45 - (0.12 - above) / (0.4 * 0.6))
    assert reservoirs.volume_drawn(baffled(), 0.3) == pytest.approx(above + 0.15 * 0.4 * 0.6)


def test_under_a_baffle_with_a_gap_the_fluid_follows():
    assert reservoirs.drawn_down(baffled(bottom=0.05)) == pytest.approx(reservoirs.drawn_down(drawn(0.2)))
    assert reservoirs.passes_under(baffled(bottom=0.05))
    assert not reservoirs.passes_under(baffled(bottom=0.0005))
    assert not reservoirs.passes_under(baffled())


def test_the_suction_side_is_the_one_without_the_return():
    assert reservoirs.suction_side(baffled()).bounds == (0.8, 0.0, 1.2, 0.7)
    other = replace(baffled(), return_at=point((1.0, 0.3)))
    assert reservoirs.suction_side(other).bounds == (0.0, 0.0, 0.8, 0.7)
    unknown = replace(baffled(), return_at=None)
    assert reservoirs.suction_side(unknown).bounds == (0.8, 0.0, 1.2, 0.7)  # the smaller one
    assert reservoirs.suction_volume(baffled(), 0.3) == pytest.approx(0.4 * 0.3 * 0.6)
    assert reservoirs.suction_volume(tank(), 0.3) == pytest.approx(reservoirs.volume(tank(), 0.3))


# What stands on the fluid


SEA = Site(elevation=metres(0.0))


def test_an_open_tank_has_the_atmosphere_and_a_pressurised_one_its_gauge():
    assert reservoirs.pressure_change(tank(), "minimum", SEA) is None
    held = replace(tank(), pressure=Quantity("0.2 bar", 20e3))
    assert reservoirs.gauge(held, "drawn down", SEA) == 20e3
    breathing = replace(tank(), breather_drop=Quantity("1 kPa", 1e3))
    assert reservoirs.gauge(breathing, "minimum", SEA) == -1e3
    assert reservoirs.pressure_change(breathing, "minimum", SEA).name == "breather"


def test_shut_in_gas_expands_by_boyle_s_law():
    """0.15 m of gas over the fluid; the fluid falls by 0.15 m, so the gas has twice the room."""
    shut = replace(tank(), sealed=True, pressure=Quantity("0.2 bar", 20e3))
    assert reservoirs.gauge(shut, "normal", SEA) == pytest.approx(20e3)
    assert reservoirs.gauge(shut, "minimum", SEA) == pytest.approx((101325.0 + 20e3) / 2 - 101325.0)
    change = reservoirs.pressure_change(shut, "minimum", SEA)
    assert change.name == "gas expansion"
    assert change.value == pytest.approx(-(101325.0 + 20e3) / 2)
    assert "Boyle" in change.source


def test_a_sealed_tank_on_a_mountain_has_less_to_expand():
    shut = replace(tank(), sealed=True)
    high = reservoirs.gauge(shut, "minimum", Site(elevation=metres(3000.0)))
    assert high == pytest.approx(-station_pressure(Site(elevation=metres(3000.0))) / 2)
    allowance = Site(elevation=metres(0.0), weather_allowance=Quantity("2 kPa", 2e3))
    assert reservoirs.gauge(shut, "minimum", allowance) == pytest.approx(-(101325.0 - 2e3) / 2)


def test_a_sealed_tank_without_gas_is_refused_by_name():
    full = replace(tank(), sealed=True, normal_level=metres(0.7))
    ((part, text),) = problems(full, intake())
    assert (part, "no gas is left" in text) == ("tank", True)
    assert problems(replace(full, normal_level=metres(0.69)), intake()) == []
    assert reservoirs.gauge(full, "normal", SEA) == pytest.approx(0.0)
    assert reservoirs.gauge(full, "minimum", SEA) == pytest.approx(-101325.0, rel=1e-6)


def place_of(layout, height):
    return reservoirs.no_place(layout, "pump", "tank", height)


def test_a_port_in_the_ground_or_the_floor_that_stands_on_it_has_no_place():
    """By hand: half of a bore of 0.100 m and 0.10 m over the ground."""
    beside = pump(at=(3.0, 1.2), bore=0.1)
    on_the_ground = drawing(beside)
    raised = drawing(tank(at=(0.0, 1.0), normal=1.5, minimum=1.4), beside)
    in_a_pit = drawing(tank(at=(0.0, -2.0), normal=-1.5, minimum=-1.6), beside)
    assert place_of(on_the_ground, 0.16) == ""
    assert place_of(on_the_ground, 0.14) == "too near the tank's floor"
    assert place_of(on_the_ground, -0.1) == "below the tank's floor"
    assert place_of(raised, 0.5) == "", "as low as the floor of its tank, and lower"
    assert place_of(raised, -0.1) == "below the ground"
    assert place_of(in_a_pit, -1.8) == "", "beside its tank, in the pit"
    assert place_of(in_a_pit, -2.1) == "below the tank's floor"
    assert reservoirs.lowest_port(on_the_ground, on_the_ground.pumps["pump"], 0.0) == pytest.approx(0.15)


def test_a_port_over_a_tank_has_no_place_in_it():
    """By hand: the rim at 0.70 m and 0.10 m over it; under a raised tank there is place again."""
    over = drawing(pump(at=(0.6, 1.2)))
    raised = drawing(tank(at=(0.0, 1.0), normal=1.5, minimum=1.4), pump(at=(0.6, 2.0)))
    assert [place_of(over, height) for height in (1.3, 0.81)] == ["", ""]
    assert place_of(over, 0.75) == "too near the tank's lid"
    assert place_of(over, 0.5) == "below the tank's lid"
    assert place_of(raised, 0.5) == "", "under its tank"
    assert reservoirs.no_place(over, "pump", "another", 0.5) == "below the lid of tank"
    assert reservoirs.lowest_port(over, over.pumps["pump"], 0.0) == pytest.approx(0.8)


def test_a_pump_stands_where_it_is_drawn():
    low = drawing(pump(at=(3.0, 0.02)))
    assert place_of(low, 0.02) == ""
    assert place_of(low, 0.01) == "too near the tank's floor"


def test_what_covers_a_tank_is_as_wide_as_it_is_seen_from_above():
    """Walls that lean out, 1.2 m apart at the floor and 2.0 m at the rim; and a roof drawn in to 0.4 m, which
    pressure lifts by all that it covers."""
    out, roof = (
        replace(tank(), outline=tuple(map(point, ring)))
        for ring in (
            [(0.4, 0), (1.6, 0), (2.0, 0.8), (0, 0.8)],
            [(0, 0), (1.2, 0), (1.2, 0.5), (0.8, 0.8), (0.4, 0.8), (0, 0.5)],
        )
    )
    assert reservoirs.lid(out) == pytest.approx((2.0, 0.6))
    assert reservoirs.lid(roof) == pytest.approx((1.2, 0.6))


HUMPED = [(0, 0), (0.4, 0), (0.4, 0.3), (0.5, 0.3), (0.5, 0), (1.2, 0), (1.2, 0.7), (0, 0.7)]
"""Two sumps, 0.4 m and 0.7 m wide, with a hump of 0.3 m between them; 0.6 m deep, filled to 0.55 m."""


def humped(x, volume, outline=HUMPED):
    """The tank of a drawing whose intake lies in one of the sumps."""
    shaped = replace(drawn(volume), outline=tuple(map(point, outline)))
    return drawing(shaped, intake(at=(x, 0.05))).reservoirs["tank"]


@pytest.mark.parametrize(("x", "wide"), [(0.2, 0.4), (0.9, 0.7)])
def test_fluid_behind_a_hump_in_the_floor_does_not_reach_the_intake(x, wide):
    """By hand: 0.25 m over the hump, 1.2 m wide, then that side of it alone."""
    over = 1.2 * 0.25 * 0.6
    assert reservoirs.drawn_down(humped(x, over)) == pytest.approx(0.3)
    assert reservoirs.drawn_down(humped(x, over + 0.02)) == pytest.approx(0.3 - 0.02 / (wide * 0.6))
    assert reservoirs.volume_drawn(humped(x, over), 0.2) == pytest.approx(over + 0.1 * wide * 0.6)
    levels = [reservoirs.drawn_down(humped(x, over + step * 0.002)) for step in range(-20, 20)]
    assert all(0.0 < before - after < 0.012 for before, after in pairwise(levels)), "no step at the hump"


def test_of_sides_that_both_have_an_intake_or_neither_the_smaller_counts():
    over = 1.2 * 0.25 * 0.6
    shaped = replace(drawn(over + 0.02), outline=tuple(map(point, HUMPED)))
    least = 0.3 - 0.02 / (0.4 * 0.6)
    assert reservoirs.drawn_down(shaped) == pytest.approx(least), "no intake drawn"
    both = drawing(shaped, intake(at=(0.2, 0.05)), intake("other", at=(0.9, 0.05)))
    assert reservoirs.drawn_down(both.reservoirs["tank"]) == pytest.approx(least)


def test_a_floor_without_a_hump_or_a_pointed_one_is_told_apart():
    pointed = [(0, 0), (0.5, 0.3), (1.2, 0), (1.2, 0.7), (0, 0.7)]
    over = 1.2 * 0.25 * 0.6
    left = 0.5 * 0.3 / 2 * 0.6
    assert reservoirs.drawn_down(humped(0.2, over + left, pointed)) == pytest.approx(0.0, abs=1e-6)
    sloped = [(0, 0), (1.2, 0.3), (1.2, 0.7), (0, 0.7)]
    assert not replace(tank(), outline=tuple(map(point, sloped))).has_several_low_places
    assert not tank().has_several_low_places


def test_a_tank_that_is_drawn_dry_behind_its_hump_stops_the_pump():
    shaped = replace(drawn(1.2 * 0.25 * 0.6 + 0.06), outline=tuple(map(point, HUMPED)))
    layout = drawing(
        shaped, intake(at=(0.2, 0.06)), pump(), run("riser", "strainer", "pump", via=[(0.2, 1.5)])
    )
    with pytest.raises(NetworkError, match="above the drawn down level"):
        solve(layout, Level.DRAWN_DOWN)
    moved = replace(layout, intakes={"strainer": replace(layout.intakes["strainer"], at=point((0.9, 0.06)))})
    assert solve(moved, Level.DRAWN_DOWN).pumps["pump"].fluid_level == pytest.approx(0.3 - 0.06 / (0.7 * 0.6))
