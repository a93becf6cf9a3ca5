"""One headline for all that is known: never better than the worst of it."""

from dataclasses import replace

import pytest

from solver.findings.checks import check
from solver.findings.kinds import Severity
from solver.findings.outlook import every_pump_sound, in_trouble, outlook, own_headline
from solver.layout.parts import Limit
from solver.ledger.sentences import verdict
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from tests.drawings import drawing, intake, metres, pump, run, tee
from tests.solver.checking import ledger, lifted, over_the_wall, with_floor, with_fluid, with_pump

START = Quantity("5 degC", 278.15)


def seen(layout, name="pump", **criteria):
    solution = solve(layout)
    return outlook(solution, check(solution), name, System(layout.units))


def comfortable(**more):
    """A short wide line that nothing is found against, but for notes."""
    return with_fluid(lifted(z=0.9, lead=1.6, bore=0.08, port=0.08, flow=0.002, **more))


def cold(layout):
    return with_fluid(layout, coldest_start=START)


def inlet_at_start(layout):
    return solve(with_fluid(layout, temperature=START)).pumps["pump"].inlet


def two_pumps(main_floor=80e3, pilot_floor=60e3):
    """Two pumps on one tee, with the floors that their makers ask for."""
    layout = drawing(
        intake(bore=0.08),
        tee("split", (0.9, 0.9), bore=0.08),
        pump("main", at=(2.6, 0.9), bore=0.08, flow=0.001),
        pump("pilot", at=(0.9, 2.4), bore=0.08, flow=0.001),
        run("riser", "strainer", "split", bore=0.08),
        run("main leg", "split", "main", bore=0.08),
        run("pilot leg", "split", "pilot", bore=0.08),
    )
    floors = {"main": main_floor, "pilot": pilot_floor}
    asked = {
        name: replace(each, limit=Limit("pressure", ((None, Quantity("typed", floors[name])),)))
        for name, each in layout.pumps.items()
    }
    return replace(layout, pumps=asked)


def test_good_is_the_verdict_and_nothing_else():
    found = seen(comfortable())
    assert found.severity == "good"
    assert found.word == "Within the limit"
    assert found.headline == verdict(solve(comfortable()).pumps["pump"], System.SI)
    assert found.detail == ""


def test_over_is_a_stop():
    found = seen(with_floor(lifted(), 99e3))
    assert (found.severity, found.word) == ("stop", "Over the limit")
    assert found.headline.startswith("Over by ")


def test_without_a_budget():
    found = seen(with_floor(lifted(), 120e3))
    assert (found.severity, found.word) == ("stop", "No budget")
    assert found.headline.startswith("No lift works here")


def faster(rpm, floor=30e3):
    """A pump at some speed whose maker has stated its limit at 1500 rpm."""
    speeds = {"speed": Quantity("typed", rpm / 60), "rated_speed": Quantity("typed", 25.0)}
    return with_pump(with_floor(comfortable(), floor), **speeds)


@pytest.mark.parametrize(("rpm", "floor"), [(1510, 30e3), (1510, 99.5e3)])
def test_a_headline_on_an_estimated_limit_says_so(rpm, floor):
    found = seen(faster(rpm, floor))
    assert found.headline == f"{verdict(ledger(faster(rpm, floor)), System.SI)} (limit estimated)"
    assert "estimated" not in seen(faster(1500, floor)).headline


def test_only_the_cold_start_may_hang_on_an_estimate():
    """Cold fluid is denser than the maker's, warm fluid is not."""
    rated = Quantity("typed", ledger(lifted()).density + 1.0)
    layout = cold(with_pump(with_floor(lifted(), 90e3), rated_density=rated))
    assert not solve(layout).pumps["pump"].limit_estimated
    assert seen(layout).headline.endswith(" at the 5 °C start (limit estimated)")


@pytest.mark.parametrize(("floor", "severity"), [(15e3, "caution"), (99e3, "stop")])
def test_beyond_the_reach_of_an_estimate_the_maker_is_asked_and_no_figure_given(floor, severity):
    found = seen(faster(3000, floor))
    asked = "ask the pump maker for the limit at that speed"
    assert found.headline == f"No estimate of the limit reaches 3000 rpm: {asked}"
    assert (found.severity, found.word) == (severity, "Limit not known")


def test_another_pump_beyond_the_reach_of_an_estimate():
    layout = two_pumps(main_floor=99e3)
    main = replace(layout.pumps["main"], speed=Quantity("", 50.0), rated_speed=Quantity("", 25.0))
    found = seen(replace(layout, pumps={**layout.pumps, "main": main}), "pilot")
    assert found.headline == "pilot within; no estimate of main's limit reaches 3000 rpm"


def needing(**more):
    """A pump that needs more than the atmosphere gives, and is over by more at its cold start."""
    return cold(with_floor(lifted(**more), 120e3))


def test_without_a_budget_the_worse_of_warm_and_cold_is_asked_for():
    now = solve(needing()).pumps["pump"]
    then = solve(needing()).cold("pump")
    head = then.flooded_head - then.margin / (then.density * 9.80665)
    assert then.shortfall > 1.2 * now.shortfall
    asked = f"it takes {head:.2f} m of flooded head, or {-then.margin / 1000:.1f} kPa more on the reservoir"
    assert seen(needing()).headline == f"No lift works here: {asked}, for the 5 °C start"
    finding = next(f for f in check(solve(needing())) if f.finding == "over the allowed vacuum")
    assert finding.text.startswith(f"pump: {now.shortfall / 1000:.1f} kPa short of what it needs (")


def test_what_the_headline_asks_for_is_enough_at_the_cold_start_and_no_less():
    """A floor that is lower by so much stands for the pressure on the reservoir."""
    then = solve(needing()).cold("pump")
    for more, within in ((-then.margin + 10.0, True), (-then.margin - 10.0, False)):
        eased = cold(with_floor(lifted(), 120e3 - more))
        assert every_pump_sound(solve(eased)) is within


def test_within_when_warm_and_over_when_cold():
    layout = cold(with_floor(lifted(), inlet_at_start(lifted()) + 3000.0))
    assert solve(layout).pumps["pump"].within
    found = seen(layout)
    assert (found.severity, found.word) == ("stop", "Over at the cold start")
    assert found.headline == "Within at 45 °C; over by 3.0 kPa at the 5 °C start"
    assert not every_pump_sound(solve(layout))


def test_a_hair_within_at_the_cold_start_is_thin():
    layout = cold(with_floor(lifted(), inlet_at_start(lifted()) - 1.0))
    found = seen(layout)
    assert (found.severity, found.word) == ("caution", "Within, thin margin")
    now = verdict(solve(layout).pumps["pump"], System.SI)
    assert found.headline == f"{now}; less than 0.1 kPa left at the 5 °C start"
    assert own_headline(solve(layout), check(solve(layout)), "pump", System.SI) == found.headline
    assert every_pump_sound(solve(layout))


def test_only_a_thin_margin_at_the_cold_start_is_in_the_headline():
    """Ample when cold, and thin when warm alone: nothing is added."""
    assert "start" not in seen(cold(comfortable())).headline
    short = with_floor(comfortable(), solve(comfortable()).pumps["pump"].inlet - 100.0)
    assert seen(short).word == "Within, thin margin"
    assert "left" not in seen(short).headline


def test_a_thin_margin_of_npsh_is_in_head():
    have = solve(with_fluid(lifted(), temperature=START)).pumps["pump"].npsh_available
    layout = cold(with_pump(lifted(), limit=Limit("npsh", ((None, metres(have - 0.1)),))))
    assert seen(layout).headline.endswith(" m required; 0.10 m of NPSH left at the 5 °C start")


def test_over_at_both_says_both():
    layout = cold(with_floor(lifted(), solve(lifted()).pumps["pump"].inlet + 1000.0))
    found = seen(layout)
    now, _, then = found.headline.partition("; ")
    assert now == "Over by 1.0 kPa"
    assert then.startswith("by ")
    assert then.endswith(" kPa at the 5 °C start")


def test_the_column_that_breaks_at_the_cold_start():
    found = seen(cold(lifted(flow=0.0009, bore=0.0225, port=0.0225)))
    assert found.headline.startswith("Within at 45 °C; the column of fluid breaks before the port: it would")
    assert found.headline.endswith(" kPa abs at the 5 °C start")
    assert found.severity == "stop"


def test_npsh_is_short_in_head_at_the_cold_start():
    have = solve(with_fluid(lifted(), temperature=START)).pumps["pump"].npsh_available
    layout = cold(with_pump(lifted(), limit=Limit("npsh", ((None, metres(have + 0.1)),))))
    assert seen(layout).headline == "Within at 45 °C; over by 0.10 m of NPSH at the 5 °C start"


def test_another_pump_that_is_over_is_named_and_is_a_stop():
    layout = two_pumps(main_floor=99e3)
    found = seen(layout, "pilot")
    short = -solve(layout).pumps["main"].margin / 1000
    assert (found.severity, found.word) == ("stop", "Another pump is over")
    assert found.headline == f"pilot within; main is over by {short:.1f} kPa"
    assert seen(layout, "main").headline.startswith("Over by ")


def test_two_sound_pumps_are_good_both():
    assert [seen(two_pumps(), name).severity for name in ("main", "pilot")] == ["good", "good"]


def test_another_pump_that_is_over_when_cold():
    layout = cold(two_pumps(main_floor=85e3))
    then = solve(with_fluid(layout, temperature=START)).pumps["main"]
    layout = cold(two_pumps(main_floor=then.inlet + 500.0))
    assert solve(layout).pumps["main"].within
    assert seen(layout, "pilot").headline == "pilot within; main is over by 0.5 kPa at the 5 °C start"


def test_another_pump_that_is_over_warm_and_more_so_when_cold():
    layout = cold(two_pumps(main_floor=99e3))
    now, then = solve(layout).pumps["main"], solve(layout).cold("main")
    figures = f"{now.shortfall / 1000:.1f} kPa, by {then.shortfall / 1000:.1f} kPa at the 5 °C start"
    assert seen(layout, "pilot").headline.startswith(f"pilot within; main is over by {figures}")
    told = own_headline(solve(layout), check(solve(layout)), "main", System.SI)
    assert told == f"Over by {figures.replace(',', ';')}"


def test_a_column_that_breaks_when_cold_is_said_beside_what_is_over_when_warm():
    layout = cold(with_floor(lifted(flow=0.0009, bore=0.022, port=0.022), 90e3))
    assert solve(layout).pumps["pump"].breaks is False
    now, _, then = seen(layout).headline.partition("; ")
    assert now.startswith("Over by ")
    assert then.startswith("at the 5 °C start the column of fluid breaks before the port: ")


def test_a_warm_line_that_is_the_worse_one_stands_alone():
    """Hot water: its vapour pressure takes more than the cold start does."""
    hot = with_fluid(lifted(flow=0.001), name="Water", temperature=Quantity("80 degC", 353.15))
    layout = with_fluid(with_pump(hot, limit=Limit("npsh", ((None, metres(20.0)),))), coldest_start=START)
    assert not solve(layout).cold("pump").sound
    assert "start" not in seen(layout).headline


def test_each_pump_has_its_own_headline_and_the_others_are_listed():
    solution = solve(two_pumps(main_floor=99e3))
    findings = check(solution)
    assert own_headline(solution, findings, "pilot", System.SI).startswith("Within: ")
    assert [name for name, _ in in_trouble(solution, System.SI)] == ["main"]


def test_a_stop_finding_is_never_green():
    """The maker's start limit, with a ledger that is within at every temperature."""
    thick = with_pump(cold(comfortable()), start_viscosity=Quantity("100 cSt", 100e-6))
    found = seen(thick)
    assert every_pump_sound(solve(thick))
    assert (found.severity, found.word) == ("stop", "Within, but not fit to run")
    assert found.headline == "Within, but too thick for the pump at the cold start"
    assert "over the pump's start limit of 100 cSt" in found.detail


@pytest.mark.parametrize(("flow", "severity"), [(0.0005, "good"), (0.0040, "stop")])
def test_the_worst_finding_decides(flow, severity):
    layout = with_floor(lifted(z=0.9, lead=1.6, flow=flow), 20e3)
    assert seen(layout).severity == severity


def test_a_caution_is_not_green_either():
    found = seen(with_floor(over_the_wall(flow=0.0005), 20e3))
    assert (found.severity, found.word) == ("caution", "Within, with cautions")
    assert found.detail


def test_more_findings_than_are_told_are_counted():
    solution = solve(comfortable())
    note = check(solution)[0]
    several = [replace(note, severity=Severity.STOP, text=f"thing {i}") for i in range(5)]
    found = outlook(solution, several, "pump", System.SI)
    assert found.detail == "thing 0; thing 1; 3 more under Findings"
