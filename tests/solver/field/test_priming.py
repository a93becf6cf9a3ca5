"""The plan for a first start says what this drawing needs, in the order that hurts nobody."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from solver.field.plan import steps
from solver.field.priming import Priming, priming
from solver.findings.judgement import alone
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED, drawing, fitting, intake, pump, run, tank, tee, twins

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}


def plan(layout: Layout) -> tuple[Priming, tuple[str, ...]]:
    solution, system = solve(layout), System(layout.units)
    priming_plan = priming(solution, next(iter(layout.pumps)), system)
    return priming_plan, steps(priming_plan, alone(solution, ()), solution, system)


def test_a_flooded_line_is_shut_and_locked_before_it_is_opened() -> None:
    priming_plan, work = plan(LAYOUTS["baler-flooded"])
    assert priming_plan.flooded
    shut = next(i for i, text in enumerate(work) if "Close isolator and lock it" in text)
    filled = next(i for i, text in enumerate(work) if text.startswith("Fill baler"))
    opened = next(i for i, text in enumerate(work) if "Open isolator all the way" in text)
    jogged = next(i for i, text in enumerate(work) if text.startswith("Jog"))
    assert shut < filled < opened < jogged
    assert work[0].startswith("Lower or prop the load")


def test_a_flooded_line_without_a_valve_says_so() -> None:
    layout = LAYOUTS["baler-flooded"]
    bare = replace(
        layout,
        fittings={name: part for name, part in layout.fittings.items() if name != "isolator"},
        runs={
            "outlet": replace(layout.runs["outlet"], end="connector"),
            "lead": layout.runs["lead"],
        },
    )
    priming_plan, work = plan(bare)
    assert priming_plan.isolator == ""
    assert any("no isolating valve" in text for text in work)


def test_a_valve_that_shuts_one_of_two_lines_or_that_no_hand_reaches_is_not_said_to_shut_the_line() -> None:
    start, valve = intake("nozzle", (1.2, 0.12), kind="wall nozzle"), fitting("valve", (1.6, 0.12))
    lines = run("outlet", "nozzle", "valve"), run("lead", "valve", "join"), run("last", "join", "pump")
    second = intake("other", (1.2, 0.3), kind="wall nozzle"), run("drop", "other", "join", via=[(2.0, 0.3)])
    port = pump(at=(2.6, 0.12))
    both = drawing(start, valve, tee("join", (2.0, 0.12)), port, *lines, *second)
    inside = drawing(
        intake("nozzle", (0.4, 0.12)), fitting("valve", (0.8, 0.12)), port, run("outlet", "nozzle", "valve"),
        run("last", "valve", "pump"),
    )  # fmt: skip
    for layout in (both, inside):
        priming_plan, work = plan(layout)
        assert priming_plan.isolator in ("valve", "")
        assert not any("and lock it before" in text for text in work)
        assert any("between tank and pump: the line may be opened only with the" in text for text in work)
    assert "There is no valve that a hand reaches on every line" in " ".join(plan(inside)[1])


def test_a_high_place_above_the_fluid_is_never_a_vent() -> None:
    _, work = plan(LAYOUTS["over-the-bund-wall"])
    (text,) = (text for text in work if "high place in crossing" in text)
    assert "never open it as a vent" in text
    assert not any("open its vent" in text for text in work)


def test_without_the_maker_s_figure_nobody_is_told_that_a_pump_draws_dry() -> None:
    priming_plan, work = plan(LAYOUTS["carriage-at-altitude"])
    assert priming_plan.draws_dry is None
    assert any("Only its maker knows" in text for text in work)
    assert not any("draws it full" in text for text in work)


@pytest.mark.parametrize(("lift", "may"), [("3 ft", True), ("1 ft", False)])
def test_the_maker_s_figure_decides_on_both_sides(lift: str, may: bool) -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    stated = replace(layout.pumps["carriage"], dry_lift=quantity(lift, Kind.LENGTH))
    priming_plan, work = plan(replace(layout, pumps={"carriage": stated}))
    assert priming_plan.lift == pytest.approx((22 + 2.067 / 2) * 0.0254)
    assert priming_plan.draws_dry is may
    assert any("draws it full" in text for text in work) is may


def test_the_time_to_fill_is_what_is_empty_over_full_flow() -> None:
    priming_plan, work = plan(LAYOUTS["carriage-at-altitude"])
    flow = solve(LAYOUTS["carriage-at-altitude"]).pumps["carriage"].flow
    assert priming_plan.shortest_fill == pytest.approx(priming_plan.dry_volume / flow)
    assert any("at the very least" in text for text in work)


def test_maker_s_speed_time_and_case_are_in_the_plan() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    stated = replace(
        layout.pumps["carriage"],
        priming_speed=quantity("600 rpm", Kind.SPEED),
        priming_time=quantity("30 s", Kind.TIME),
        case_volume=quantity("1.2 L", Kind.VOLUME),
    )
    priming_plan, work = plan(replace(layout, pumps={"carriage": stated}))
    assert priming_plan.case_volume == pytest.approx(0.0012)
    assert any("600 rpm or faster" in text for text in work)
    assert any("No flow after 30" in text for text in work)
    assert any("its case with 0.3" in text for text in work)


@pytest.mark.parametrize(("longest", "may"), [("1.3 s", False), ("1.5 s", True)])
def test_a_line_that_takes_longer_to_fill_than_the_maker_allows_is_not_drawn_dry(
    longest: str, may: bool
) -> None:
    """What is empty takes 1.4 s at full flow."""
    layout = LAYOUTS["carriage-at-altitude"]
    stated = replace(
        layout.pumps["carriage"],
        dry_lift=quantity("3 ft", Kind.LENGTH),
        priming_time=quantity(longest, Kind.TIME),
    )
    priming_plan, work = plan(replace(layout, pumps={"carriage": stated}))
    assert priming_plan.draws_dry is may
    assert any("even at full flow" in text for text in work) is not may


def test_a_line_over_a_fluid_in_thin_air_is_held_against_what_the_site_leaves() -> None:
    """The maker's 2 ft stand at sea level; 82.3 of 101.3 kPa leave 1.6 ft, and the line rises 22 in."""
    layout = LAYOUTS["carriage-at-altitude"]
    stated = replace(layout.pumps["carriage"], dry_lift=quantity("2 ft", Kind.LENGTH))
    priming_plan, work = plan(replace(layout, pumps={"carriage": stated}))
    assert priming_plan.draws_dry is False
    assert "that its site and fluid leave of the 2.00 ft" in priming_plan.draws_dry_why
    assert not any("draws it full" in text for text in work)


def test_a_pump_slower_than_its_maker_asks_does_not_prime() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    fast = quantity("6000 rpm", Kind.SPEED)
    stated = replace(layout.pumps["carriage"], dry_lift=quantity("9 ft", Kind.LENGTH), priming_speed=fast)
    priming_plan, _ = plan(replace(layout, pumps={"carriage": stated}))
    assert priming_plan.draws_dry is False
    assert "turns slower" in priming_plan.draws_dry_why


def test_lines_in_parallel_are_filled_as_well() -> None:
    """Two risers of 1.2 m, one with 1.0 m across, then 0.5 and 1.0 m; the fluid stands 0.75 m under them."""
    solution = solve(twins())
    priming_plan = priming(solution, "press", System.SI)
    area = math.pi / 4 * 0.052**2
    assert priming_plan.line_volume == pytest.approx(area * (2 * 1.2 + 1.0 + 1.5), rel=0.03)
    dry = area * (2 * 0.75 + 1.0 + 1.5)
    assert priming_plan.dry_volume == pytest.approx(dry, rel=0.03)
    assert priming_plan.shortest_fill == pytest.approx(dry / (160 / 60_000), rel=0.03)


def test_a_foot_valve_on_one_of_two_intakes_keeps_no_line_full() -> None:
    """The left strainer is nearly blocked, so that the way to the pump is by the right one, that has it."""
    layout = twins()
    left, right = layout.intakes["left"], layout.intakes["right"]
    assert left.screen is not None
    blocked = replace(left, screen=replace(left.screen, blocked=0.98))
    valve = replace(right, kind="foot valve", screen=None)
    solution = solve(replace(layout, intakes={"left": blocked, "right": valve}))
    assert "right" in {entry.part for entry in solution.pumps["press"].entries}
    assert priming(solution, "press", System.SI).foot_valve == ""


def flooded_at(level: float) -> tuple[Priming, tuple[str, ...]]:
    """The line of a pump beside its tank, 50 mm wide at 0.20 m all along, at a level of the fluid [m]."""
    lies = drawing(
        tank(minimum=level),
        intake("nozzle", (1.2, 0.2), kind="wall nozzle"),
        pump(at=(2.4, 0.2), flow=0.0005),
        run("line", "nozzle", "pump"),
    )
    return plan(lies)


def test_a_pump_is_flooded_once_the_fluid_stands_over_the_top_of_its_line() -> None:
    """Between the axis and the top of the bore air gets into the line; opened, it runs out all the same."""
    covered, _ = flooded_at(0.225 + 1e-6)
    assert (covered.flooded, covered.siphons) == (True, False)
    for level in (0.225 - 1e-6, 0.21, 0.2 + 1e-6):
        partly, work = flooded_at(level)
        assert (partly.flooded, partly.siphons, partly.draws_dry) == (False, True, None)
        assert partly.dry_volume > 0.0
        assert any("may be opened only with the tank drained below the port" in text for text in work)
        assert any("fill the line by hand before every start" in text for text in work)


def test_what_is_empty_goes_to_nothing_as_the_fluid_comes_to_the_top_of_the_line() -> None:
    """Half the line is over a level on its axis; no step anywhere, and more fluid leaves less empty."""
    whole = math.pi / 4 * 0.05**2 * 1.2
    dry = [flooded_at(0.2 + step * 0.025 / 40)[0].dry_volume / whole for step in range(42)]
    assert dry[0] == pytest.approx(0.5)
    assert dry[-1] == 0.0
    assert 0.0 < dry[-3] < 0.01
    assert all(before >= after > before - 0.04 for before, after in pairwise(dry))


def test_a_line_from_another_tank_stands_full_to_the_level_of_that_one() -> None:
    """The right riser stands in a tank of its own, lower by 0.2 m: so much more of it is empty."""
    layout = twins()
    second = replace(layout.reservoirs["tank"], name="second", minimum_level=quantity("0.45 m", Kind.LENGTH))
    assert layout.reservoirs["tank"].minimum_level.si == 0.65
    right = replace(layout.intakes["right"], reservoir="second")
    two = replace(
        layout,
        reservoirs={**layout.reservoirs, "second": second},
        intakes={**layout.intakes, "right": right},
        pumps={"press": replace(layout.pumps["press"], flow=quantity("400 L/min", Kind.FLOW))},
        tees={"join": layout.tees["join"]},
        runs={
            **{name: layout.runs[name] for name in ("left riser", "right riser")},
            "header": replace(layout.runs["header"], end="press"),
        },
    )
    solution = solve(two)
    assert solution.pumps["press"].parallel_entries
    area = math.pi / 4 * 0.052**2
    cut = (2 - math.pi / 2) * 0.078
    dry = area * (0.75 + 0.95 + 1.0 + 1.5 - cut)
    assert priming(solution, "press", System.SI).dry_volume == pytest.approx(dry, rel=0.02)
    assert priming(solution, "press", System.SI).lift == pytest.approx(0.95 + 0.026)
