"""The balance of a pump's inlet: what holds whatever is drawn."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Site
from solver.ledger.sentences import verdict
from solver.ledger.solve import PumpLedger, solve, solve_network
from solver.network import build
from solver.network.build import NetworkError
from solver.quantities.units import Kind, Quantity, System, quantity, typeset
from solver.quantities.wording import text_above_zero
from tests.drawings import drawing, intake, metres, point, pump, run, tee
from tests.solver.ledger.lines import INHG, flooded_line, ledger, lift_line, with_limit


def over_the_wall():
    return drawing(
        intake(),
        pump(at=(2.4, 0.2)),
        run("crossing", "strainer", "pump", via=[(0.9, 1.6), (1.9, 1.6), (1.9, 0.2)]),
    )


def with_pressure(layout, gauge):
    held = replace(layout.reservoirs["tank"], pressure=Quantity(f"{gauge!r} Pa", gauge))
    return replace(layout, reservoirs={"tank": held})


def drawings():
    """Lines that lift, lines that are flooded, wide and narrow, slow and fast."""
    lifted = st.builds(
        lift_line,
        z=st.floats(1.1, 3.0),
        length=st.floats(0.3, 5.0),
        bore=st.floats(0.03, 0.06),
        flow=st.floats(1e-4, 5e-3),
    )
    flooded = st.builds(flooded_line, z=st.floats(-1.0, 0.05), flow=st.floats(1e-4, 5e-3))
    return st.one_of(lifted, flooded)


# Shares and sums


@given(layout=drawings(), level=st.sampled_from(["minimum", "normal"]))
def test_shares_and_the_margin_make_a_hundred_percent(layout, level):
    pump_ledger = ledger(layout, level)
    assert pump_ledger.budget > 0
    shares = math.fsum(entry.share for entry in pump_ledger.entries) + pump_ledger.margin / pump_ledger.budget
    assert shares == pytest.approx(1.0, abs=1e-12)


@given(layout=drawings())
def test_what_is_spent_takes_the_surface_to_the_port(layout):
    pump_ledger = ledger(layout)
    assert pump_ledger.inlet == pytest.approx(pump_ledger.surface - pump_ledger.spent, abs=1e-9)
    assert pump_ledger.inlet == pytest.approx(pump_ledger.entries[-1].pressure, abs=1e-6)
    assert pump_ledger.vacuum == pytest.approx(pump_ledger.atmosphere - pump_ledger.inlet, abs=1e-9)
    assert pump_ledger.margin == pytest.approx(pump_ledger.allowed_vacuum - pump_ledger.vacuum, abs=1e-6)
    assert pump_ledger.lowest == pytest.approx(min(entry.pressure for entry in pump_ledger.entries), abs=1e-6)


@given(layout=drawings(), h=st.floats(0.01, 1.0))
def test_raising_everything_but_the_level_s_datum_changes_nothing(layout, h):
    """A drawing with its datum moved."""
    moved = shifted(layout, 3.7, h)
    pump_ledger, there = ledger(layout), ledger(moved)
    for one, other in zip(pump_ledger.entries, there.entries, strict=True):
        assert other.lift == pytest.approx(one.lift, abs=1e-6)
        assert other.loss == pytest.approx(one.loss, rel=1e-9, abs=1e-9)
    assert there.margin == pytest.approx(pump_ledger.margin, abs=1e-5)


def shifted(layout, dx, dy):
    def moved(at):
        return point((at[0].si + dx, at[1].si + dy))

    def tanks(held):
        return replace(
            held,
            outline=tuple(map(moved, held.outline)),
            normal_level=metres(held.normal_level.si + dy),
            minimum_level=metres(held.minimum_level.si + dy),
        )

    def parts(group):
        return {name: replace(part, at=moved(part.at)) for name, part in group.items()}

    return replace(
        layout,
        reservoirs={name: tanks(held) for name, held in layout.reservoirs.items()},
        intakes=parts(layout.intakes),
        fittings=parts(layout.fittings),
        pumps=parts(layout.pumps),
        runs={n: replace(r, via=tuple(map(moved, r.via))) for n, r in layout.runs.items()},
    )


# Lift


def lossless(ledger: PumpLedger):
    return ledger.margin + sum(entry.loss for entry in ledger.entries)


@given(z=st.floats(1.2, 2.5), h=st.floats(0.01, 2.0))
def test_raising_the_port_by_h_costs_exactly_rho_g_h_in_a_line_of_one_length(z, h):
    def of_one_length(at):
        layout = lift_line(at)
        lead = replace(layout.runs["lead"], out_of_plane=metres(5.0 - at))
        return ledger(replace(layout, runs={**layout.runs, "lead": lead}))

    low, high = of_one_length(z), of_one_length(z + h)
    assert low.margin - high.margin == pytest.approx(low.density * GRAVITY * h, rel=1e-9)


@given(z=st.floats(1.2, 2.5), h=st.floats(0.01, 2.0))
def test_raising_the_port_by_h_costs_rho_g_h_and_the_line_it_takes(z, h):
    low, high = ledger(lift_line(z)), ledger(lift_line(z + h))
    weight = low.density * GRAVITY
    assert lossless(low) - lossless(high) == pytest.approx(weight * h, rel=1e-9)
    # The line is longer too, which only adds.
    assert low.margin - high.margin >= weight * h


@given(z=st.floats(-1.0, -0.3), h=st.floats(0.01, 0.3))
def test_below_the_level_too(z, h):
    low, high = ledger(flooded_line(z)), ledger(flooded_line(z + h))
    assert lossless(low) - lossless(high) == pytest.approx(low.density * GRAVITY * h, rel=1e-9)


def test_lift_is_charged_only_above_the_level():
    entries = {e.key: e for e in ledger(lift_line()).entries}
    assert entries["strainer/entrance"].lift == 0.0
    riser = entries["riser/straight 1"]
    density = ledger(lift_line()).density
    assert riser.lift == pytest.approx(density * GRAVITY * (0.9 - 0.4))


def test_a_port_under_the_level_begins_with_a_credit():
    pump_ledger = ledger(flooded_line())
    first = pump_ledger.entries[0]
    assert (first.key, first.kind) == ("tank/flooded head", "flooded head")
    assert first.lift == pytest.approx(-pump_ledger.density * GRAVITY * (0.4 - 0.12))
    assert first.share < 0
    assert all(entry.lift == 0.0 for entry in pump_ledger.entries[1:])


@pytest.mark.parametrize("dz", [-1e-9, 0.0, 1e-9])
def test_nothing_jumps_where_the_port_passes_the_level(dz):
    def at_level(z):
        return drawing(
            intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
            pump(at=(2.2, z)),
            run("lead", "nozzle", "pump", via=[(1.7, 0.12), (1.7, z)], bend_radius=0.03),
        )

    assert ledger(at_level(0.4 + dz)).margin == pytest.approx(ledger(at_level(0.4)).margin, abs=1e-3)


def test_a_line_that_falls_above_the_level_gets_back_what_it_paid():
    pump_ledger = ledger(over_the_wall())
    assert min(entry.lift for entry in pump_ledger.entries[1:]) < 0
    total = sum(entry.lift for entry in pump_ledger.entries)
    assert total == pytest.approx(pump_ledger.density * GRAVITY * (0.2 - 0.4))


def test_the_lowest_pressure_may_lie_at_the_top_of_the_line():
    pump_ledger = ledger(over_the_wall())
    lowest = next(entry for entry in pump_ledger.entries if entry.key == pump_ledger.lowest_at)
    assert lowest.part == "crossing"
    assert lowest.z == pytest.approx(1.6, abs=0.1)
    assert pump_ledger.lowest < pump_ledger.inlet


def test_of_equal_pressures_the_port_is_named_the_lowest():
    assert ledger(lift_line()).lowest_at == "pump/port"


def test_a_higher_level_spends_less():
    low, high = ledger(lift_line(), "minimum"), ledger(lift_line(), "normal")
    assert high.margin - low.margin == pytest.approx(low.density * GRAVITY * 0.15)


# Losses


@given(length=st.floats(0.3, 5.0), more=st.floats(0.01, 20.0), flow=st.floats(1e-4, 6e-3))
def test_a_longer_line_never_costs_less(length, more, flow):
    short = ledger(lift_line(length=length, flow=flow))
    long = ledger(lift_line(length=length + more, flow=flow))
    assert long.margin < short.margin


@given(flow=st.floats(1e-4, 6e-3), more=st.floats(1.001, 2.0))
def test_more_flow_never_costs_less(flow, more):
    assert ledger(lift_line(flow=flow * more)).margin < ledger(lift_line(flow=flow)).margin


def test_the_port_pays_its_own_velocity_head_with_its_own_bore():
    narrow = replace(lift_line().pumps["pump"], bore=metres(0.04))
    pump_ledger = ledger(replace(lift_line(), pumps={"pump": narrow}))
    port = pump_ledger.entries[-1]
    velocity = 0.002 / (math.pi / 4 * 0.04**2)
    assert port.velocity == pytest.approx(velocity)
    assert port.reynolds < 2000
    assert port.loss == pytest.approx(2.0 * pump_ledger.density * velocity**2 / 2)


def test_every_entry_ends_at_its_own_static_pressure():
    pump_ledger = ledger(lift_line())
    lost = 0.0
    for entry in pump_ledger.entries[:-1]:
        lost += entry.loss
        still = (
            pump_ledger.surface + pump_ledger.density * GRAVITY * (pump_ledger.fluid_level - entry.z) - lost
        )
        head = 2.0 * pump_ledger.density * entry.velocity**2 / 2  # laminar
        assert entry.reynolds < 2000
        assert entry.pressure == pytest.approx(still - head)


def test_distances_run_on_along_the_line():
    pump_ledger = ledger(over_the_wall())
    assert all(b.distance >= a.distance for a, b in pairwise(pump_ledger.entries))
    drawn = (1.6 - 0.12) + 1.0 + (1.6 - 0.2) + 0.5
    assert pump_ledger.entries[-1].distance == pytest.approx(drawn, abs=3 * 0.075)


# The budget


def test_npsh_available_and_the_margin_say_the_same():
    pump_ledger = ledger(with_limit(lift_line(), "npsh", "2 m", Kind.HEAD))
    spare = pump_ledger.npsh_available - pump_ledger.npsh_required
    assert pump_ledger.margin == pytest.approx(spare * pump_ledger.density * GRAVITY)


def test_pressure_on_the_reservoir_adds_to_the_budget_and_lowers_the_vacuum():
    plain, pressed = ledger(lift_line()), ledger(with_pressure(lift_line(), 10e3))
    assert pressed.budget - plain.budget == pytest.approx(10e3)
    assert plain.vacuum - pressed.vacuum == pytest.approx(10e3)
    assert pressed.allowed_vacuum == pytest.approx(plain.allowed_vacuum)


def test_the_allowed_vacuum_falls_with_the_barometer():
    """7 inHg at sea level reads 2 inHg where the barometer stands 5 inHg low: common practice, no source."""
    high = Site(barometer=quantity("24.92126 inHg", Kind.PRESSURE))
    assert ledger(lift_line()).allowed_vacuum / INHG == pytest.approx(7.0, abs=1e-3)
    assert ledger(replace(lift_line(), site=high)).allowed_vacuum / INHG == pytest.approx(2.0, abs=1e-3)


def test_without_a_budget_there_are_no_shares_and_the_verdict_says_what_it_takes():
    pump_ledger = ledger(with_limit(lift_line(), "pressure", "1.2 bar"))
    assert pump_ledger.budget < 0
    assert all(entry.share is None for entry in pump_ledger.entries)
    said = verdict(pump_ledger, System.SI)
    surface, floor = (
        typeset(each, Kind.ABSOLUTE, System.SI, 2) for each in (pump_ledger.surface, pump_ledger.floor)
    )
    assert said.startswith(f"No lift works here: {surface} on the fluid, {floor} needed at the port")
    assert "flooded head" not in said  # one figure, that can be built
    assert text_above_zero(pump_ledger.shortfall, Kind.VACUUM, System.SI, places=2) in said
    # What it says it takes is what it takes.
    pressed = ledger(with_pressure(with_limit(lift_line(), "pressure", "1.2 bar"), pump_ledger.shortfall))
    assert pressed.margin == pytest.approx(0.0, abs=1e-6)


def test_enough_fluid_over_the_port_is_within_even_without_a_budget():
    layout = with_limit(flooded_line(-0.8, flow=1e-4), "pressure", "1.04 bar")
    pump_ledger = ledger(layout)
    assert pump_ledger.budget < 0 < pump_ledger.margin
    assert pump_ledger.within
    assert verdict(pump_ledger, System.SI).startswith("Within: ")
    assert verdict(pump_ledger, System.SI).endswith(" needed here")


# The verdict


def test_a_pressure_that_no_fluid_can_have_is_no_reading():
    """Ten metres of water hold a column up; fifteen of oil do not."""
    pump_ledger = ledger(lift_line(z=15.0))
    assert pump_ledger.inlet < 0
    assert pump_ledger.breaks
    assert verdict(pump_ledger, System.SI) == (
        f"The column of fluid breaks before the port: it would need −{-pump_ledger.inlet / 1000:.2f} kPa abs"
    )


def test_the_column_breaks_at_its_vapour_pressure_and_not_above():
    lowest = ledger(lift_line()).lowest

    def boiling_at(pressure):
        fluid = replace(lift_line().fluid, vapor_pressure=Quantity("typed", pressure))
        return ledger(replace(lift_line(), fluid=fluid))

    assert boiling_at(lowest + 1.0).breaks
    assert not boiling_at(lowest - 1.0).breaks


def test_the_column_may_break_on_the_way_to_a_pump_that_is_within():
    layout = with_limit(over_the_wall(), "pressure", "1 kPa")
    lowest = ledger(layout).lowest
    fluid = replace(layout.fluid, vapor_pressure=Quantity("typed", lowest + 1.0))
    pump_ledger = ledger(replace(layout, fluid=fluid))
    assert pump_ledger.within
    assert pump_ledger.breaks
    assert not pump_ledger.sound
    assert verdict(pump_ledger, System.SI).startswith("The column of fluid breaks on the way: ")


# Trees


def two_pumps():
    return drawing(
        intake(bore=0.06),
        tee("header", (0.9, 1.2), bore=0.06),
        pump("top", (0.9, 2.0), flow=0.003),
        pump("side", (2.0, 1.2), flow=0.001),
        run("riser", "strainer", "header", bore=0.06),
        run("up", "header", "top"),
        run("across", "header", "side"),
    )


def test_two_pumps_on_a_header_share_its_entries_and_its_flow():
    solution = solve(two_pumps())
    top, side = solution.pumps["top"], solution.pumps["side"]
    riser = [next(e for e in p.entries if e.key == "riser/straight 1") for p in (top, side)]
    assert riser[0].flow == riser[1].flow == pytest.approx(0.004)
    assert riser[0].loss == riser[1].loss
    assert {e.part for e in top.entries} >= {"riser", "up"}
    assert "across" not in {e.part for e in top.entries}
    assert top.flow == pytest.approx(0.003)


def test_each_pump_of_a_header_has_its_own_balance():
    for pump_ledger in solve(two_pumps()).pumps.values():
        total = math.fsum(e.share for e in pump_ledger.entries) + pump_ledger.margin / pump_ledger.budget
        assert total == pytest.approx(1.0, abs=1e-12)


# Errors and the two doors


def test_an_intake_above_the_level_is_refused_by_name():
    layout = drawing(intake(at=(0.9, 0.45)), run("riser", "strainer", "pump"))
    with pytest.raises(NetworkError) as caught:
        solve(layout)
    assert caught.value.problems[0][0] == "strainer"
    assert solve(layout, "normal").level == "normal"


def test_a_built_network_gives_the_ledger_of_its_drawing():
    layout = lift_line()
    assert solve_network(build.build(layout)).pumps == solve(layout).pumps


def test_site_and_fluid_may_change_under_a_built_network():
    built = build.build(lift_line())
    moved = replace(lift_line(), site=Site(elevation=metres(1650.0)))
    again = solve_network(replace(built, layout=moved)).pumps["pump"]
    assert again == ledger(moved)


def test_a_fluid_that_boils_in_its_tank_is_no_state_to_judge():
    """Water boils at 93 °C where the air has 79.5 kPa, whatever the pump behind it needs."""

    def hot_tank(celsius, elevation="2000 m", held=None):
        layout = with_limit(flooded_line(), "pressure", "0.2 bar")
        water = replace(layout.fluid, name="Water", temperature=quantity(f"{celsius} degC", Kind.TEMPERATURE))
        site = Site(elevation=quantity(elevation, Kind.ELEVATION))
        tanks = {name: replace(each, pressure=held) for name, each in layout.reservoirs.items()}
        return replace(layout, fluid=water, site=site, reservoirs=tanks)

    assert solve(hot_tank(92)).pumps
    with pytest.raises(NetworkError, match=r"tank: its fluid boils: 79\.50 kPa abs is on it, .* under 87"):
        solve(hot_tank(96))
    assert solve(hot_tank(96, held=quantity("0.2 bar", Kind.PRESSURE))).pumps
    assert solve(hot_tank(100, elevation="0 m")).pumps  # held at its boiling point
