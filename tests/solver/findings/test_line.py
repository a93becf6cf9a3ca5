"""Every check of a line at its threshold, from both sides."""

import math
import re
from dataclasses import replace

import pytest
import shapely

from solver.findings.judgement import judge
from solver.findings.line import least_cover
from solver.formulas import flow
from solver.geometry import moving
from solver.geometry.reservoirs import floor_under
from solver.layout import file
from solver.layout.kinds import Bend, IntakeKind
from solver.layout.parts import Intake, Site
from solver.layout.shapes import polygon
from solver.ledger import dry_lift
from solver.ledger.solve import solve
from solver.network.row_cache import RowCache
from solver.quantities.units import Kind, Quantity, System
from tests import drawings
from tests.drawings import drawing, fitting, intake, metres, point, pump, run, tank, twins
from tests.solver.checking import (
    HAIR,
    found,
    ledger,
    lifted,
    mesh,
    only,
    over_the_wall,
    with_pump,
    with_screen,
)


def test_suction_velocity():
    v = ledger(lifted()).entries[1].velocity
    stop = only(lifted(), "suction velocity", velocity_stop=v - HAIR, velocity_caution=v - 0.1)
    assert (stop.severity, stop.part, stop.value) == ("stop", "riser", pytest.approx(v))
    caution = only(lifted(), "suction velocity", velocity_stop=v + HAIR, velocity_caution=v - HAIR)
    assert caution.severity == "caution"
    assert not found(lifted(), "suction velocity", velocity_stop=v + 0.1, velocity_caution=v + HAIR)


def test_suction_velocity_of_a_centrifugal_pump_has_a_limit_of_its_own():
    layout = with_pump(lifted(), type="centrifugal")
    v = ledger(layout).entries[1].velocity
    strict = {"velocity_stop": 0.1, "velocity_caution": 0.1}
    assert only(layout, "suction velocity", velocity_centrifugal=v - HAIR, **strict).severity == "caution"
    assert not found(layout, "suction velocity", velocity_centrifugal=v + HAIR, **strict)


@pytest.mark.parametrize(("below", "wrong"), [(HAIR, False), (0.0, True), (-HAIR, True)])
def test_intake_not_under_the_minimum_level(below, wrong):
    layout = lifted(at=(0.9, 0.4 - below))
    assert bool(found(layout, "intake not under the minimum level", "normal")) is wrong


def test_submergence():
    entrance = ledger(lifted()).entries[0]
    needed = flow.submergence(0.05, entrance.velocity)
    one = only(lifted(at=(0.9, 0.4 - needed + HAIR)), "submergence")
    assert (one.severity, one.threshold) == ("caution", pytest.approx(needed))
    assert one.value == pytest.approx(needed - HAIR)
    assert not found(lifted(at=(0.9, 0.4 - needed - HAIR)), "submergence")


@pytest.mark.parametrize(("speed", "needed"), [(0.0, 1.5 * 0.05), (0.1, 0.0839), (2.0, 0.3785)])
def test_a_bell_mouth_is_covered_by_its_mouth_in_slow_flow_and_by_its_throat_in_fast(speed, needed):
    """ANSI/HI 9.8, D (1 + 2.3 v/√(g D)), worked out by hand for a throat of 50 mm and a mouth of 75."""
    bell = Intake("bell", "tank", point((0, 0)), IntakeKind.BELL_MOUTH, bore=metres(0.05))
    assert least_cover(bell, 0.05, speed) == pytest.approx(needed, abs=1e-4)
    assert least_cover(replace(bell, kind=IntakeKind.PLAIN_END), 0.05, speed) <= needed + 1e-9


def test_submergence_counts_from_the_level_in_use():
    shallow = lifted(at=(0.9, 0.38))
    assert only(shallow, "submergence").value == pytest.approx(0.02)
    assert only(shallow, "submergence", "normal").value == pytest.approx(0.17)


def test_submergence_under_a_screen_is_a_note():
    assert only(with_screen(lifted(at=(0.9, 0.38)), **mesh()), "submergence").severity == "note"


@pytest.mark.parametrize(("kind", "bores"), [("plain end", 1.5), ("bell-mouth", 0.5), ("strainer", 0.5)])
def test_floor_clearance(kind, bores):
    low = lifted(at=(0.9, bores * 0.05 - HAIR), kind=kind)
    one = only(low, "floor clearance")
    assert one.threshold == pytest.approx(bores * 0.05)
    assert not found(lifted(at=(0.9, bores * 0.05), kind=kind), "floor clearance")


def test_the_floor_may_slope():
    sloped = replace(tank(), outline=tuple(map(point, [(0, 0.2), (1, 0), (1, 1), (0, 1)])))
    assert floor_under(sloped, 0.0) == pytest.approx(0.2)
    assert floor_under(sloped, 0.25) == pytest.approx(0.15)
    assert floor_under(sloped, 1.0) == pytest.approx(0.0)


@pytest.mark.parametrize(("fall", "trapped"), [(0.024, False), (0.026, True)])
def test_a_high_point_is_one_when_the_line_falls_by_half_a_bore(fall, trapped):
    """A slanted fall: two bends of a square one would need more room than that."""
    layout = drawing(
        intake(),
        pump(at=(2.9, 1.6 - fall)),
        run("crossing", "strainer", "pump", via=[(0.9, 1.6), (1.9, 1.6)], bend_radius=0.025),
    )
    hits = found(layout, "trapped high point")
    assert bool(hits) is trapped
    if trapped:
        assert (hits[0].value, hits[0].threshold) == (pytest.approx(fall, abs=1e-3), pytest.approx(0.025))


def test_a_flow_fast_enough_to_sweep_the_air_on_makes_it_a_note():
    entry = next(e for e in ledger(over_the_wall()).entries if e.part == "crossing")
    froude = entry.velocity / math.sqrt(flow.GRAVITY * 0.05)
    slow = only(over_the_wall(), "trapped high point", clearing_froude=froude + HAIR)
    swept = only(over_the_wall(), "trapped high point", clearing_froude=froude - HAIR)
    assert (slow.severity, swept.severity) == ("caution", "note")
    assert slow.value == pytest.approx(1.4)


def test_a_line_that_only_rises_or_only_falls_traps_nothing():
    assert not found(lifted(), "trapped high point")
    falling = drawing(
        intake("nozzle", (1.2, 0.3), kind="wall nozzle"),
        pump(at=(2.2, -0.5)),
        run("lead", "nozzle", "pump", via=[(1.7, 0.3), (1.7, -0.5)]),
    )
    assert not found(falling, "trapped high point")


def test_two_summits_are_two_findings():
    via = [(0.9, 1.6), (1.5, 1.6), (1.5, 1.0), (2.1, 1.0), (2.1, 1.5), (2.7, 1.5), (2.7, 0.8)]
    layout = drawing(
        intake(), pump(at=(3.4, 0.8)), run("wave", "strainer", "pump", via=via, bend_radius=0.025)
    )
    falls = [finding.value for finding in found(layout, "trapped high point")]
    assert falls == [pytest.approx(0.6), pytest.approx(0.7)]


@pytest.mark.parametrize(("bores", "short"), [(4.999, True), (5.0, False), (5.001, False)])
def test_straight_before_the_port(bores, short):
    layout = lifted(lead=bores * 0.05 + 0.075)  # a bend of 75 mm radius takes its tangent
    hits = found(layout, "straight before the port")
    assert bool(hits) is short
    if short:
        assert hits[0].value == pytest.approx(bores)


def test_no_straight_before_the_port_is_not_given_in_bores():
    layout = drawing(
        intake(),
        fitting("valve", (1.899, 1.2)),
        pump(at=(1.9, 1.2)),
        run("riser", "strainer", "valve", via=[(0.9, 1.2)]),
        run("stub", "valve", "pump"),
    )
    assert (
        only(layout, "straight before the port").text
        == "pump: no straight pipe before the port, under 5 bores"
    )


def test_a_valve_ends_the_straight():
    layout = drawing(
        intake(),
        fitting("valve", (1.8, 1.2)),
        pump(at=(1.9, 1.2)),
        run("riser", "strainer", "valve", via=[(0.9, 1.2)]),
        run("stub", "valve", "pump"),
    )
    assert only(layout, "straight before the port").value == pytest.approx(2.0)


def test_bore_under_the_port():
    one = only(lifted(port=0.05 / (0.98 - 1e-4)), "bore under the port")
    assert (one.part, one.value, one.kind) == ("riser", pytest.approx(0.05), Kind.BORE)
    assert not found(lifted(port=0.05 / (0.98 + 1e-4)), "bore under the port")


def lifting_by(z, kind="piston", valve="ball valve"):
    layout = drawing(
        intake("mouth", (1.2, 0.12), kind="wall nozzle"),
        fitting("valve", (1.6, 0.12), kind=valve),
        pump(at=(2.4, z)),
        run("inside", "mouth", "valve"),
        run("lead", "valve", "pump", via=[(2.0, 0.12), (2.0, z)], bend_radius=0.025),
    )
    return with_pump(layout, type=kind)


HALF = 0.05 / 2
"""Half the bore of what these tests draw [m]."""


@pytest.mark.parametrize("kind", ["piston", "centrifugal"])
def test_no_foot_valve(kind):
    """A line is under the fluid once the top of its bore is: above the axis it holds air until then."""
    one = only(lifting_by(0.4 - HALF + HAIR, kind), "no foot valve")
    assert (one.value, one.threshold) == (pytest.approx(HAIR), 0.0)
    assert not found(lifting_by(0.4 - HALF, kind), "no foot valve")


def test_what_holds_the_line_full_is_looked_for_once_for_all_cases_and_moves(monkeypatch):
    asked = []
    held_full = dry_lift._held_full
    monkeypatch.setattr(dry_lift, "_held_full", lambda *given: asked.append(given) or held_full(*given))
    text = drawings.steps_text(20) + '[cases.cold]\nfluid.temperature = "5 °C"\n'
    layout, cache = file.parse(text, "twice").base, RowCache()
    for height in (0.02, 0.04):
        x, z = (value.si for value in layout.pumps["pump"].at)
        assert len(judge(moving.move_part(layout, "pump", x, z + height), cache=cache).cases) == 2
    assert len(asked) == 1


@pytest.mark.parametrize("kind", ["gear", "vane", "screw"])
def test_a_pump_whose_maker_states_no_height_to_prime_counts_as_drawing_none_of_it(kind):
    """Some of them draw air, and only their makers know which: without it the line is filled by hand."""
    one = only(lifting_by(0.4 - HALF + HAIR, kind), "no foot valve")
    assert (one.severity, one.value, one.threshold) == ("caution", pytest.approx(HAIR), 0.0)
    assert "its maker states no height up to which" in one.text
    assert one.advice.startswith("Ask its maker, and type the height up to which it primes. ")
    assert one.advice.endswith("or fill it before every start.")
    assert not found(lifting_by(0.4 - HALF, kind), "no foot valve")
    stated = with_pump(lifting_by(0.8, kind), dry_lift=Quantity("1 m", 1.0))
    assert not found(stated, "no foot valve")


@pytest.mark.parametrize("kind", ["gear", "piston"])
def test_a_maker_s_figure_for_drawing_dry_decides_on_both_sides(kind):
    def stated(dry_lift):
        return with_pump(lifting_by(0.8, kind), dry_lift=Quantity("typed", dry_lift))

    lift = 0.4 + HALF
    one = only(stated(lift - HAIR), "no foot valve")
    assert (one.value, one.threshold) == (pytest.approx(lift), pytest.approx(lift - HAIR))
    assert "its maker lets it prime an empty line" in one.text
    assert not found(stated(lift + HAIR), "no foot valve")


def test_a_maker_s_figure_for_drawing_dry_is_what_the_site_leaves_of_it():
    """In 70 kPa of air 0.5 m come to 0.345 m, under the 0.425 m that the line rises."""
    layout = with_pump(lifting_by(0.8), dry_lift=Quantity("0.5 m", 0.5))
    assert not found(layout, "no foot valve")
    high = replace(layout, site=Site(barometer=Quantity("70 kPa", 70e3)))
    one = only(high, "no foot valve")
    assert one.threshold == pytest.approx(0.5 * 70 / 101.325)
    assert "of which its site and fluid leave" in one.text


def test_a_pump_slower_than_its_maker_asks_does_not_draw_dry():
    figures = {"dry_lift": Quantity("5 m", 5.0), "priming_speed": Quantity("600 rpm", 10.0)}
    slow = with_pump(lifting_by(0.8), speed=Quantity("590 rpm", 590 / 60), **figures)
    assert "turns slower" in only(slow, "no foot valve").text
    assert not found(with_pump(slow, speed=Quantity("600 rpm", 10.0)), "no foot valve")


@pytest.mark.parametrize("valve", ["foot valve", "swing check", "lift check"])
def test_a_valve_that_holds_the_prime_is_enough(valve):
    assert not found(lifting_by(0.8, valve=valve), "no foot valve")


def test_a_line_over_a_wall_needs_one_even_with_the_port_flooded():
    assert only(with_pump(over_the_wall(), type="piston"), "no foot valve").value == pytest.approx(1.2 + HALF)


def test_joint_below_the_atmosphere():
    one = only(lifting_by(0.8, "vane"), "joint below the atmosphere")
    assert one.value > 0 == one.threshold
    assert one.key == "lead/straight 3"
    assert not found(lifting_by(0.12 - 0.3, "vane"), "joint below the atmosphere")


def test_threaded_elbows_have_two_joints_each():
    """Pipe elbows of ASME B16.3 are threaded at either end: what is screwed on may draw air there.
    The first joint of the lower elbow is under the level of the tank, and still above the atmosphere."""
    layout = lifting_by(0.8, "vane")
    lead = replace(layout.runs["lead"], bend=Bend.THREADED_ELBOW, bend_radius=None)
    screwed = replace(layout, runs={**layout.runs, "lead": lead})
    text = only(screwed, "joint below the atmosphere").text
    assert ": 4 joints are under vacuum, 3 of them at threaded elbows, at most " in text
    assert "elbows" not in only(layout, "joint below the atmosphere").text


@pytest.mark.parametrize("path", drawings.SHIPPED, ids=lambda path: path.stem)
@pytest.mark.parametrize("units", System)
def test_no_place_with_a_joint_stands_lower_than_the_lowest_joint_that_is_named(path, units):
    """The ledger had the end of a bend, and the pipe after a change of bore, under more vacuum than the
    joints that were named; the first joint to look at is the one at that vacuum."""
    drawn = file.read(path)
    for layout in (drawn.base, *(each.layout for each in drawn.alternatives.values())):
        judgement = judge(replace(layout, units=units))
        for case, held in judgement.cases.items():
            for name in held.solution.pumps if held.solution is not None else ():
                lowest = max(vacuums_at_joints(held.solution, name), default=0.0)
                told = [
                    each.value
                    for each in judgement.findings_by_case[case]
                    if each.finding == "joint below the atmosphere" and each.text.startswith(f"{name}: ")
                ]
                assert told == ([pytest.approx(lowest)] if lowest > 0.0 else [])
        for each in judgement.worded.findings:
            if each.finding == "joint below the atmosphere" and each.advice:
                figure = re.search(r"at most ([\d.]+)", each.text)
                assert figure is None or each.advice.partition("(")[2].startswith(f"{figure[1]} ")


def vacuums_at_joints(solution, name):
    """Vacuum at the end of every entry of a walk at which something is joined outside the fluid [Pa]."""
    ledger, rows, index = solution.pumps[name], solution.network.rows, solution.network.index
    tank = solution.layout.reservoirs[ledger.reservoir]
    inside = polygon(tank.outline)
    walk = [(each, rows[index[each.key]]) for each in ledger.entries if each.key in index]
    for i, (entry, row) in enumerate(walk):
        after = walk[i + 1][1] if i + 1 < len(walk) else None
        near = [each for each in (row, after) if each is not None]
        runs = solution.layout.runs
        fitted = any(each.kind == "bend" and runs[each.part].bend_radius is None for each in near)
        changes = any(each.kind == "bore change" for each in near)
        if not (after is None or after.part != row.part or fitted or changes):
            continue
        x, z = row.path[-1 if entry.flow >= 0 else 0]
        if z > ledger.fluid_level or not shapely.contains_xy(inside, x, z):
            at_port = [ledger.entries[-1].pressure] if after is None else []
            yield ledger.atmosphere - min([entry.pressure, *at_port])


def test_a_joint_is_below_the_atmosphere_by_a_hair():
    def pressed(gauge):
        layout = lifting_by(0.8, "vane")
        held = replace(layout.reservoirs["tank"], pressure=Quantity("typed", gauge))
        return replace(layout, reservoirs={"tank": held})

    lowest = only(pressed(0.0), "joint below the atmosphere").value
    assert only(pressed(lowest - 1.0), "joint below the atmosphere").value == pytest.approx(1.0)
    assert not found(pressed(lowest + 1.0), "joint below the atmosphere")


def test_a_joint_under_the_fluid_draws_no_air():
    inside = drawing(
        intake(at=(0.9, 0.1)),
        fitting("valve", (0.9, 0.3)),
        pump(at=(0.9, 0.35)),
        run("tail", "strainer", "valve"),
        run("stub", "valve", "pump"),
    )
    assert not found(inside, "joint below the atmosphere", "minimum")


def test_transitional_flow():
    def slowed(reynolds):
        return lifted(flow=reynolds * 0.05 * math.pi / 4 * solve(lifted()).fluid.viscosity)

    inside = only_key(slowed(2001), "riser/straight 1", transitional_share=0.0)
    assert inside.severity == "note"
    assert not only_key(slowed(1999), "riser/straight 1", transitional_share=0.0)
    assert only_key(slowed(3999), "riser/straight 1", transitional_share=0.0)
    assert not only_key(slowed(4001), "riser/straight 1", transitional_share=0.0)
    assert only_key(slowed(2001), "riser/straight 1", transitional_share=inside.value - HAIR)
    assert not only_key(slowed(2001), "riser/straight 1", transitional_share=inside.value + HAIR)


def only_key(layout, key, **criteria):
    hits = [f for f in found(layout, "transitional flow", **criteria) if f.key == key]
    return hits[0] if hits else None


def test_reservoir_volume():
    held = 1.2 * 0.55 * 0.6
    minutes = held / 0.002 / 60
    one = only(lifted(), "reservoir volume", reservoir_minutes=minutes + HAIR)
    assert (one.part, one.key, one.value) == ("tank", "", pytest.approx(held))
    assert not found(lifted(), "reservoir volume", reservoir_minutes=minutes - HAIR)
    sump = with_pump(lifted(), type="centrifugal")
    assert not found(sump, "reservoir volume", reservoir_minutes=minutes + HAIR)


def test_what_to_try_is_worded_from_the_figures_that_were_seen():
    """By hand: 5 bores of 50 mm are 0.25 m, of which 4 are there; 30 minutes of 120 L/min are 3600 L,
    of which 396 are there."""
    short = only(lifted(lead=4.0 * 0.05 + 0.075), "straight before the port")
    assert short.advice.startswith("Leave 0.250 m straight before the port, 0.050 m more than now")
    summit = only(over_the_wall(), "trapped high point")
    assert "the fall of 1.40 m" in summit.advice
    lift = only(lifting_by(1.4, "piston"), "no foot valve")
    assert "bring the line down by 1.02 m" in lift.advice
    small = only(lifted(), "reservoir volume", reservoir_minutes=30.0)
    assert "holds 3600 L at its normal level, 3200 L more than now" in small.advice


def test_a_high_point_of_a_line_in_parallel_traps_air_as_well():
    """Both risers lead to one header, from which the pilot's leg falls: that is one high point. A hump in the
    left one is another, though most of the fluid comes by the right one."""
    layout = twins()
    (shared,) = found(layout, "trapped high point")
    assert shared.part == "right riser"
    over = tuple(map(point, [(0.5, 1.9), (1.2, 1.9), (1.2, 1.4)]))
    left = replace(layout.runs["left riser"], via=over)
    humped = replace(layout, runs={**layout.runs, "left riser": left})
    parts = {each.part: each.value for each in found(humped, "trapped high point")}
    assert parts == {"right riser": pytest.approx(0.7), "left riser": pytest.approx(0.5)}


def test_a_nozzle_in_a_wall_is_under_the_level_once_its_upper_edge_is():
    """It lies level: half covered, it draws air along its top. A mouth that may point down counts so."""

    def nozzle(z, kind="wall nozzle"):
        line = (pump(at=(2.4, 0.1)), run("line", "mouth", "pump", via=[(2.0, z), (2.0, 0.1)]))
        return drawing(intake("mouth", (1.2, z), kind=kind), *line)

    one = only(nozzle(0.4 - HALF + HAIR), "intake not under the minimum level")
    assert (one.severity, one.value, one.threshold) == ("stop", pytest.approx(0.4 + HAIR), 0.4)
    assert "mouth: its upper edge at 0.400 m, not under" in one.text
    assert not found(nozzle(0.4 - HALF - HAIR), "intake not under the minimum level")
    assert not found(nozzle(0.4 - HAIR, "plain end"), "intake not under the minimum level")


def test_a_nozzle_in_a_wall_is_left_bare_by_its_upper_edge():
    def emptied(z):
        line = (pump(at=(2.4, 0.1)), run("line", "mouth", "pump", via=[(2.0, z), (2.0, 0.1)]))
        layout = drawing(intake("mouth", (1.2, z), kind="wall nozzle"), *line)
        taken = replace(layout.reservoirs["tank"], draw_down=Quantity("typed", 1.2 * 0.6 * 0.25))
        return replace(layout, reservoirs={"tank": taken})

    assert only(emptied(0.3 - HALF + HAIR), "intake uncovered by the draw-down").value > 0.3
    assert not found(emptied(0.3 - HALF - HAIR), "intake uncovered by the draw-down")
