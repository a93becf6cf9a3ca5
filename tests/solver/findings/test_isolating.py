"""Valves between the fluid and the pumps under it: that there is one, and that a hand reaches it."""

from dataclasses import replace

import pytest

from solver.findings.isolating import flooding
from solver.findings.judgement import judge
from solver.layout.kinds import CHECK_KINDS, VALVE_KINDS
from tests.drawings import drawing, fitting, intake, metres, pump, run, tank, tee
from tests.solver.checking import found, lifted, only, over_the_wall, with_case, with_pump

NONE, REACH = "no isolating valve", "valve out of reach"
NOZZLE = intake("nozzle", (1.2, 0.12), kind="wall nozzle")
AREA = 1.2 * 0.6
"""Of the fluid of the tank [m²]."""


def bare(z=0.12, start=NOZZLE, **reservoir):
    """A pump beside its tank at a height, with nothing between the two but a line."""
    line = run("lead", start.name, "pump", via=[] if z == 0.12 else [(1.8, 0.12), (1.8, z)], bend_radius=0.05)
    return drawing(replace(tank(), **reservoir), start, pump(at=(2.2, z)), line)


def valved(x=1.6, kind="ball valve", start=NOZZLE, **figures):
    part = replace(fitting("valve", (x, 0.12), kind=kind), **figures)
    return drawing(
        start, part, pump(at=(2.4, 0.12)), run("outlet", start.name, "valve"), run("lead", "valve", "pump")
    )


def drained(layout):
    """What runs out where the pump is opened [m³]."""
    (over,) = flooding(layout, "pump")
    return over.volume


def test_a_pump_under_the_fluid_with_no_valve_is_a_caution():
    one = only(bare(), NONE)
    assert (one.severity, one.part, one.key) == ("caution", "pump", "")
    assert one.value == pytest.approx(0.55 - (0.12 - 0.025))
    assert one.text == (
        "pump: fluid up to 0.455 m over the lower edge of its port, and no isolating valve between it "
        "and tank"
    )


@pytest.mark.parametrize(("z", "said"), [(0.574, True), (0.575, False), (0.576, False)])
def test_it_is_flooded_from_the_lower_edge_of_its_port_on(z, said):
    """The normal level, the highest that is drawn, stands at 0.55 m; the port is 50 mm wide."""
    for level in ("minimum", "normal"):
        assert bool(found(bare(z), NONE, level=level)) is said, level


def test_a_level_of_its_own_over_the_normal_one_counts():
    raised = bare(0.6, level=metres(0.65))
    assert only(raised, NONE).value == pytest.approx(0.075)
    case = with_case(bare(0.6), "full", levels__tank=metres(0.65))
    (one,) = (each for each in judge(case).findings if each.finding == NONE)
    assert one.cases == ("full",)
    assert not [each for each in judge(bare(0.6)).findings if each.finding == NONE]


def test_the_fluid_drains_no_lower_than_the_intake_on_the_way():
    high = intake("nozzle", (1.2, 0.3), kind="wall nozzle")
    layout = drawing(
        high,
        pump(at=(2.2, 0.12)),
        run("lead", "nozzle", "pump", via=[(1.8, 0.3), (1.8, 0.12)], bend_radius=0.05),
    )
    assert drained(layout) == pytest.approx(AREA * (0.55 - 0.275))
    lower = intake("other", (0.1, 0.1))
    more = replace(
        layout,
        intakes={**layout.intakes, "other": lower},
        pumps={**layout.pumps, "lifted": pump("lifted", (0.1, 1.5))},
        runs={**layout.runs, "riser": run("riser", "other", "lifted")},
    )
    assert drained(more) == pytest.approx(AREA * (0.55 - 0.275)), "another line drains nothing here"


@pytest.mark.parametrize("kind", VALVE_KINDS)
def test_any_valve_that_a_hand_turns_shuts_it_off(kind):
    assert not found(valved(kind=kind), NONE)


@pytest.mark.parametrize("kind", [*CHECK_KINDS, "flexible connector"])
def test_a_check_valve_lets_the_fluid_through_to_the_pump(kind):
    assert only(valved(kind=kind), NONE).part == "pump"


def test_a_valve_on_another_line_shuts_nothing_off():
    layout = valved()
    more = replace(
        layout,
        intakes={**layout.intakes, "second": intake("second", (1.2, 0.3), kind="wall nozzle")},
        pumps={**layout.pumps, "booster": pump("booster", (2.4, 0.3))},
        runs={**layout.runs, "short": run("short", "second", "booster")},
    )
    assert only(more, NONE).part == "booster"


def twice(*, valves):
    """Two nozzles of two tanks into one pump; a valve on the lines named."""
    lines = {"left": (1.2, "tank"), "right": (3.6, "day tank")}
    parts = [tank(), tank("day tank", at=(3.6, 0.0)), tee("join", (2.4, 0.12)), pump(at=(2.4, 0.5))]
    for name, (x, of) in lines.items():
        parts.append(intake(f"{name} nozzle", (x, 0.12), kind="wall nozzle", reservoir=of))
        if name in valves:
            parts.append(fitting(f"{name} valve", ((x + 2.4) / 2, 0.12)))
            parts.append(run(f"{name} outlet", f"{name} nozzle", f"{name} valve"))
            parts.append(run(f"{name} line", f"{name} valve", "join"))
        else:
            parts.append(run(f"{name} line", f"{name} nozzle", "join"))
    return drawing(*parts, run("up", "join", "pump"))


def test_every_way_to_a_pump_needs_its_valve():
    assert not found(twice(valves=("left", "right")), NONE)
    assert "between it and day tank" in only(twice(valves=("left",)), NONE).text
    assert "between it and tank and day tank" in only(twice(valves=()), NONE).text


def test_one_valve_before_a_header_is_enough_for_all_its_pumps():
    def header(*, valve):
        first = [run("outlet", "nozzle", "valve"), run("header", "valve", "split")]
        return drawing(
            NOZZLE, tee("split", (2.0, 0.12)), pump("one", (2.8, 0.12)), pump("two", (2.0, 0.3)),
            *([fitting("valve", (1.6, 0.12)), *first] if valve else [run("header", "nozzle", "split")]),
            run("leg one", "split", "one"), run("leg two", "split", "two"),
        )  # fmt: skip

    assert not found(header(valve=True), NONE)
    both = header(valve=False)
    assert [each.part for each in found(both, NONE)] == ["one", "two"]
    rests = replace(both, pumps={**both.pumps, "two": replace(both.pumps["two"], at_rest=True)})
    assert [each.part for each in found(rests, NONE)] == ["one", "two"], "a pump at rest is taken out as well"


def test_a_line_over_a_wall_runs_out_over_it_once_it_is_full():
    assert only(over_the_wall(fall=1.4), NONE).part == "pump"
    assert not found(over_the_wall(fall=0.9), NONE)


def test_a_lifted_pump_needs_none():
    assert not found(lifted(), NONE)


def test_a_pump_inside_the_tank_is_found_as_such_alone():
    layout = drawing(intake(), pump(at=(0.9, 0.3)), run("tail", "strainer", "pump"))
    assert found(layout, "pump inside a reservoir")
    assert not found(layout, NONE)


def test_a_sloped_floor_holds_what_lies_over_it():
    """Under the nozzle at 0.1 m a triangle falls away to the left: of what is over it all may run out."""
    ring = ((0.0, 0.0), (1.2, 0.0), (1.2, 0.7), (0.0, 0.3))
    layout = bare(outline=tuple((metres(x), metres(z)) for x, z in ring))
    lid = 0.3 + 0.4 * 0.75  # of the sloped top at x = 0.9 m
    assert lid == pytest.approx(0.6)
    # From 0.095 m to 0.55 m, less the triangle over the slope, which meets 0.55 m at x = 0.75 m.
    area = 1.2 * (0.55 - 0.095) - 0.75 * 0.25 / 2
    assert drained(layout) == pytest.approx(0.6 * area)


def test_what_to_try_names_the_place_and_what_a_valve_takes_there():
    (one,) = (each for each in judge(bare()).worded.findings if each.finding == NONE)
    assert one.advice.startswith("Set an isolating valve right behind nozzle, outside the wall of tank")
    assert "position switch" in one.advice
    assert one.advice.endswith("Without one up to 328 L of tank must be drained before pump is opened.")
    assert drained(bare()) == pytest.approx(AREA * (0.55 - 0.095))
    valve, plain = (judge(layout).worst().ledger for layout in (valved(), bare()))
    taken = next(each.loss for each in valve.entries if each.part == "valve")
    figure = one.advice.split("takes about ")[1].split(" kPa")[0]
    assert float(figure) == pytest.approx(taken / 1000, abs=0.06)
    assert plain.flow == valve.flow
    inside = bare(start=intake(at=(0.7, 0.12)))
    (one,) = (each for each in judge(inside).worded.findings if each.finding == NONE)
    assert "in the line from strainer, where it has left tank" in one.advice


def test_a_device_that_may_be_a_valve_is_asked_after():
    layout = valved(kind="flow coefficient", kv=metres(0.01))
    (one,) = (each for each in judge(layout).worded.findings if each.finding == NONE)
    assert one.advice.endswith("If valve is such a valve, give it the kind of a valve.")


# Reach


@pytest.mark.parametrize(("z", "where"), [(0.3, "under"), (0.55, "under"), (0.574, "under"), (0.58, "over")])
def test_a_valve_inside_the_tank_is_out_of_reach(z, where):
    """The fluid stands at 0.55 m, and wets a valve of 50 mm to its axis 25 mm higher."""
    layout = drawing(
        intake(at=(0.9, 0.12)), fitting("valve", (0.9, z)), pump(at=(2.4, 0.3)),
        run("tail", "strainer", "valve"),
        run("lead", "valve", "pump", via=[(0.9, 1.2), (2.0, 1.2), (2.0, 0.3)]),
    )  # fmt: skip
    one = only(layout, REACH)
    assert (one.severity, one.part) == ("caution", "valve")
    away = min(0.3, z, 0.7 - z)
    assert one.value == pytest.approx(away)
    assert f"inside tank, {where} the fluid and {away:.3f} m from the nearest wall" in one.text
    assert not found(layout, NONE), "there is one"


def test_on_a_lifted_line_it_is_a_note():
    layout = drawing(
        intake(at=(0.9, 0.12)), fitting("valve", (0.9, 0.4)), pump(at=(0.9, 1.5)),
        run("tail", "strainer", "valve"), run("lead", "valve", "pump"),
    )  # fmt: skip
    assert only(layout, REACH).severity == "note"


def test_outside_any_tank_and_in_the_wall_it_is_not_said():
    assert not found(valved(1.6), REACH)
    for x in (1.2, 1.19, 1.21):
        across = valved(x, start=intake(at=(0.7, 0.12)))
        assert not found(across, REACH), x
        assert found(across, "part in a wall"), x
    assert found(valved(1.17, start=intake(at=(0.7, 0.12))), REACH)


def test_a_check_valve_inside_the_tank_needs_no_hand():
    assert not found(valved(0.9, kind="foot valve", start=intake(at=(0.5, 0.12))), REACH)


def test_inside_a_tank_that_does_not_feed_it_no_hand_reaches_it_either():
    layout = valved(1.8)
    layout = replace(layout, reservoirs={**layout.reservoirs, "day tank": tank("day tank", at=(1.5, 0.0))})
    assert "inside day tank" in only(layout, REACH).text


def test_what_stands_over_a_pump_says_whether_a_hand_shuts_it_off():
    def shut(layout):
        (over,) = flooding(layout, "pump")
        return over.unshut, over.shut_by_hand

    assert shut(bare()) == (("nozzle",), False)
    assert shut(valved()) == ((), True)
    assert shut(valved(0.9, start=intake(at=(0.5, 0.12)))) == ((), False)
    assert flooding(lifted(), "pump") == ()
    assert shut(with_pump(valved(), at_rest=True)) == ((), True)
