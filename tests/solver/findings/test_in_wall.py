"""Parts and pumps across the wall of a tank, from both sides of where they cross."""

from dataclasses import replace

import pytest

from solver.findings import in_wall
from solver.findings.judgement import judge
from tests.drawings import drawing, fitting, intake, metres, pump, run, tank, tee
from tests.solver.checking import found, mesh, only, with_screen

PART, PUMP = "part in a wall", "pump in a wall"
NOZZLE = intake("nozzle", (1.2, 0.12), kind="wall nozzle")
HALF = 0.025
"""Half of the bore of parts [m]: a part is at least as long as it is wide."""


def flooded(x, z=0.12, kind="ball valve", start=NOZZLE, **figures):
    """A line from the wall at x = 1.2 m, or through it, to a pump with one part in it."""
    part = replace(fitting("part", (x, z), kind=kind), **figures)
    return drawing(
        start, part, pump(at=(2.4, z)), run("outlet", start.name, "part"), run("lead", "part", "pump")
    )


@pytest.mark.parametrize(
    ("x", "across"),
    [(1.2 - HALF - 1e-4, False), (1.2 - HALF + 1e-4, True), (1.2, True), (1.2 + HALF - 1e-4, True),
     (1.2 + HALF, False), (1.2 + HALF + 1e-4, False)],
)  # fmt: skip
def test_a_valve_lies_across_the_wall_where_its_length_does(x, across):
    layout = flooded(x, start=intake(at=(0.7, 0.12)))
    assert bool(found(layout, PART)) is across


def test_a_valve_on_the_wall_itself_hides_no_line_that_passes_it():
    """The line ends on the valve, so that nothing else is found there: the caution names the nozzle too."""
    layout = flooded(1.2, start=intake(at=(0.7, 0.12)))
    assert not found(layout, "line through a wall")
    one = only(layout, PART)
    assert (one.severity, one.part, one.value) == ("caution", "part", pytest.approx(0.12))
    assert one.text == "part: it stands across the wall of tank, at 0.120 m, under the fluid"
    assert one.advice.startswith("Set part 0.025 m or more further out")
    assert one.advice.endswith("in a nozzle.")
    assert not only(flooded(1.2 + HALF / 2), PART).advice.endswith("in a nozzle."), "it has one"


@pytest.mark.parametrize(("x", "across"), [(1.449, True), (1.4501, False)])
def test_a_connector_reaches_as_far_as_its_typed_length(x, across):
    layout = flooded(x, kind="flexible connector", length=metres(0.5))
    hits = found(layout, PART)
    assert bool(hits) is across
    if across:
        assert hits[0].text.startswith("part: it is 0.500 m long and reaches across the wall of tank")
        assert "Set part 0.001 m or more" in hits[0].advice


def test_where_a_part_is_set_as_it_says_nothing_is_found():
    layout = flooded(1.3, kind="flexible connector", length=metres(0.5))
    by = float(only(layout, PART).advice.split(" m or more")[0].rsplit(" ", 1)[1])
    assert by == pytest.approx(0.15)
    assert not found(flooded(1.3 + by, kind="flexible connector", length=metres(0.5)), PART)


def test_a_part_follows_its_line_round_a_corner():
    """0.2 m from the wall, 0.3 m long, and a corner away from the wall between them: it stays outside."""
    connector = replace(fitting("part", (1.4, 0.3), kind="flexible connector"), length=metres(0.3))
    start = intake("nozzle", (1.2, 0.12), kind="wall nozzle")
    layout = drawing(
        start, connector, pump(at=(1.4, 1.2)),
        run("outlet", "nozzle", "part", via=[(1.4, 0.12)], bend_radius=0.05), run("lead", "part", "pump"),
    )  # fmt: skip
    assert not found(layout, PART)
    straight = drawing(
        start, replace(connector, at=(metres(1.34), metres(0.12))), pump(at=(2.4, 0.12)),
        run("outlet", "nozzle", "part"), run("lead", "part", "pump"),
    )  # fmt: skip
    assert found(straight, PART)


@pytest.mark.parametrize(("z", "severity"), [(0.574, "caution"), (0.576, "note")])
def test_over_the_highest_level_it_is_a_note(z, severity):
    """The fluid stands at 0.55 m, and wets the lower edge of a part 25 mm higher."""
    layout = drawing(
        intake(at=(0.4, 0.12)), fitting("part", (1.2, z)), pump(at=(2.4, z)),
        run("outlet", "strainer", "part", via=[(0.4, z)]), run("lead", "part", "pump"),
    )  # fmt: skip
    assert only(layout, PART).severity == severity


@pytest.mark.parametrize("level", ["normal", "minimum"])
def test_what_is_found_is_so_at_every_level_that_is_looked_at(level):
    layout = flooded(1.2, z=0.45, start=intake(at=(0.7, 0.12)))
    bent = replace(layout.runs["outlet"], via=((metres(0.7), metres(0.45)),))
    layout = replace(layout, runs={**layout.runs, "outlet": bent})
    assert only(layout, PART, level=level).severity == "caution", "the normal level stands over it"


def riser(kind):
    """A line up through the lid of the tank, at 0.7 m, with a part in it there."""
    return drawing(
        fitting("part", (0.9, 0.7), kind=kind), pump(at=(0.9, 1.5)),
        run("tail", "strainer", "part"), run("lead", "part", "pump"),
    )  # fmt: skip


def test_in_the_lid_it_is_a_note_that_says_so():
    one = only(riser("ball valve"), PART)
    assert (one.severity, one.text) == ("note", "part: it stands across the lid of tank, at 0.700 m")


def test_what_may_be_made_for_a_wall_is_no_caution():
    layout = riser("ball valve")
    screen = a_screen()
    in_lid = replace(layout.fittings["part"], kind="filter", screen=screen)
    assert not found(replace(layout, fittings={"part": in_lid}), PART)
    wall = flooded(1.2, kind="filter", screen=screen)
    wall = replace(wall, intakes={"nozzle": intake("nozzle", (0.7, 0.12))})
    one = only(wall, PART)
    assert one.severity == "note"
    assert one.advice.startswith("Leave it only if it is made to be built into a wall. Else: Set part")
    known = replace(layout.fittings["part"], kind="known K", k=1.0)
    assert not found(replace(layout, fittings={"part": known}), PART)


def a_screen():
    return with_screen(drawing(run("line", "strainer", "pump")), **mesh()).intakes["strainer"].screen


def test_a_tee_in_a_wall_is_a_part_too():
    layout = drawing(
        intake(at=(0.7, 0.12)), tee("split", (1.2, 0.12)), pump("one", (2.4, 0.12)), pump("two", (1.8, 0.9)),
        run("header", "strainer", "split"), run("first", "split", "one"),
        run("second", "split", "two", via=[(1.8, 0.4)], bend_radius=0.05),
    )  # fmt: skip
    assert only(layout, PART).part == "split", "once, whichever pump is looked at"


def test_the_wall_of_a_tank_that_feeds_nothing_counts_as_well():
    other = tank("day tank", at=(1.5, 0.0))
    layout = flooded(1.5)
    layout = replace(layout, reservoirs={**layout.reservoirs, "day tank": other})
    assert "the wall of day tank" in only(layout, PART).text


def sloped():
    """A tank whose floor falls from 0.3 m on the right to 0 m on the left."""
    ring = ((0.0, 0.0), (1.2, 0.3), (1.2, 0.7), (0.0, 0.7))
    return replace(tank(), outline=tuple((metres(x), metres(z)) for x, z in ring))


@pytest.mark.parametrize(("z", "across"), [(0.1, True), (0.07, False)])
def test_a_sloped_floor_is_met_where_it_is(z, across):
    """At x = 0.4 m it lies at 0.1 m."""
    layout = drawing(
        sloped(), intake(at=(0.4, 0.3)), fitting("part", (0.4, z)), pump(at=(0.4, -0.6)),
        run("tail", "strainer", "part"), run("lead", "part", "pump"),
    )  # fmt: skip
    assert bool(found(layout, PART)) is across
    if across:
        assert "the floor of tank, at 0.100 m, under the fluid" in only(layout, PART).text


# Pumps


def pump_at(x, z=0.12, start=NOZZLE, via=()):
    return drawing(start, pump(at=(x, z)), run("lead", start.name, "pump", via=via, bend_radius=0.05))


@pytest.mark.parametrize(("x", "said"), [(1.1999, False), (1.2, True), (1.2001, False)])
def test_a_port_in_the_wall_itself(x, said):
    layout = pump_at(x, start=intake(at=(0.5, 0.12)))
    assert bool(found(layout, PUMP)) is said
    assert bool(found(layout, "pump inside a reservoir")) is (x < 1.2)
    if said:
        one = only(layout, PUMP)
        assert (one.severity, one.part, one.key) == ("caution", "pump", "pump/port")
        assert one.text == "pump: its port lies in the wall of tank, at 0.120 m"


@pytest.mark.parametrize(("x", "said"), [(1.299, True), (1.301, False)])
def test_a_body_that_reaches_back_across_the_wall(x, said):
    """The line comes from outside and leads towards the tank: two bores of pump stand behind the port."""
    layout = pump_at(x, 0.4, via=[(1.6, 0.12), (1.6, 0.4)])
    assert bool(found(layout, PUMP)) is said
    if said:
        one = only(layout, PUMP)
        assert one.text == "pump: its body reaches across the wall of tank, its port at 0.400 m"
        by = one.advice.removeprefix("Set pump ").split(" m or more further from tank")[0]
        moved = pump_at(x + float(by), 0.4, via=[(1.9, 0.12), (1.9, 0.4)])
        assert not found(moved, PUMP)


def test_a_pump_turned_towards_the_tank_is_set_as_far_off_as_its_body_is_long():
    turned = pump_at(1.2, 0.4, via=[(1.9, 0.12), (1.9, 0.4)])
    assert "Set pump 0.100 m or more further from tank" in only(turned, PUMP).advice
    assert not found(pump_at(1.3, 0.4, via=[(1.9, 0.12), (1.9, 0.4)]), PUMP)


def test_a_pump_that_looks_away_from_the_wall_may_stand_close_to_it():
    assert not found(pump_at(1.26), PUMP)


@pytest.mark.parametrize(("z", "said"), [(0.724, True), (0.726, False)])
def test_a_pump_that_lies_too_low_over_the_lid(z, said):
    layout = pump_at(0.9, z, start=intake(at=(0.3, 0.12)), via=[(0.3, z)])
    assert bool(found(layout, PUMP)) is said
    if said:
        one = only(layout, PUMP)
        assert "across the lid of tank" in one.text
        assert "0.050 m or more higher" in one.advice


def test_an_upright_port_on_a_lid_has_its_pump_over_it():
    upright = drawing(pump(at=(0.9, 0.75)), run("riser", "strainer", "pump"))
    assert not found(upright, PUMP)


def test_a_pump_between_two_tanks_is_held_against_both():
    other = tank("day tank", at=(1.6, 0.0))
    layout = pump_at(1.55)
    layout = replace(layout, reservoirs={**layout.reservoirs, "day tank": other})
    assert "the wall of day tank" in only(layout, PUMP).text
    apart = replace(layout, reservoirs={**layout.reservoirs, "day tank": tank("day tank", at=(1.7, 0.0))})
    assert not found(apart, PUMP)


def test_a_line_that_does_not_show_its_way_leaves_the_port_alone_to_be_looked_at():
    assert in_wall._pump_crossing(tank().outline, (1.2, 0.3), ()).in_wall
    assert in_wall._pump_crossing(tank().outline, (1.25, 0.3), ()) is None


def test_what_is_found_in_walls_makes_a_drawing_less_than_good():
    assert "caution" in {each.severity for each in judge(flooded(1.21)).findings if each.finding == PART}
