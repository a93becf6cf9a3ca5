"""One headline for all cases and pumps: never better than the worst of them."""

from dataclasses import replace

from solver.findings.judgement import START_NOT_COUNTED, PumpState, judge
from solver.findings.outlook import headline_as_drawn, outlook, own_headline, unsound_pumps
from solver.geometry.moving import move_part
from solver.layout.parts import Layout, Limit
from solver.ledger.sentences import verdict
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from tests.drawings import drawing, intake, pump, run, tee
from tests.solver.checking import START, cold, lifted, with_case, with_floor, with_fluid, with_pump
from tests.solver.geometry.test_leads import fed_from_below


def seen(layout):
    return outlook(judge(layout), System(layout.units))


def comfortable(**more):
    """A short wide line that nothing is found against, but for notes."""
    line = lifted(z=0.9, lead=1.6, bore=0.08, port=0.08, flow=0.002, **more)
    return with_fluid(with_pump(line, dry_lift=Quantity("1 m", 1.0)))


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
        name: replace(
            each,
            limit=Limit("pressure", ((None, Quantity("typed", floors[name])),)),
            dry_lift=Quantity("3 m", 3.0),
        )
        for name, each in layout.pumps.items()
    }
    return replace(layout, pumps=asked)


def test_good_is_the_verdict_and_nothing_else():
    layout = with_coldest(comfortable())
    outlook_seen = seen(layout)
    assert outlook_seen.severity == "good"
    assert outlook_seen.word == "Within the limit"
    assert outlook_seen.headline == verdict(solve(layout).pumps["pump"], System.SI)
    assert outlook_seen.detail == ""


def with_coldest(layout):
    """Started no colder than it runs."""
    return with_fluid(layout, coldest_start=layout.fluid.temperature)


def test_a_coldest_start_that_nobody_has_stated_is_said_in_the_headline():
    """A case that was not judged makes no answer look better; one that is over needs no such word."""
    alone = verdict(solve(comfortable()).pumps["pump"], System.SI)
    unjudged = seen(comfortable())
    assert unjudged.headline == f"{alone}; coldest start not judged"
    assert (unjudged.severity, unjudged.word) == ("caution", "Within, cold start not judged")
    assert "coldest" not in seen(with_floor(lifted(), 99e3)).headline
    cold_case = with_case(comfortable(), "winter", fluid__temperature=START)
    assert "coldest" not in seen(cold_case).headline
    water = with_fluid(comfortable(), name="Water", temperature=Quantity("20 degC", 293.15))
    assert "coldest" not in seen(water).headline


def test_a_coldest_start_that_is_warmer_than_the_fluid_as_drawn_is_said_in_the_headline():
    running = comfortable().fluid.temperature
    warm = seen(with_fluid(comfortable(), coldest_start=replace(running, si=running.si + 10)))
    assert warm.headline.endswith('; "coldest start" is not the coldest, the fluid is colder as drawn')
    assert (warm.severity, warm.word) == ("caution", "Within, coldest start in doubt")
    milder = with_case(
        with_coldest(comfortable()), "frost", fluid__temperature=replace(running, si=running.si - 2)
    )
    assert '"coldest start" is not the coldest, the fluid is colder in "frost"' in seen(milder).headline
    assert "not the coldest" not in seen(with_coldest(comfortable())).headline


def marked(layout: Layout) -> Layout:
    """The layout with its last case marked as lacking a start."""
    name, case = list(layout.cases.items())[-1]
    return replace(layout, cases={**layout.cases, name: replace(case, table={"start_not_counted": True})})


def test_a_name_alone_marks_a_case_only_as_it_was_before_there_was_a_mark() -> None:
    named = with_case(with_coldest(comfortable()), f"worst cold, {START_NOT_COUNTED}")
    assert seen(named).headline.endswith('; start not counted in "worst cold"')
    other = with_case(with_coldest(comfortable()), f"no {START_NOT_COUNTED} here")
    assert START_NOT_COUNTED not in seen(other).headline


def test_a_start_that_was_not_counted_is_said_wherever_its_case_does_not_decide():
    """How much it would take is not known, so that it may be more than what decides."""
    layout = with_coldest(comfortable())
    uncounted = marked(with_case(layout, "worst cold"))
    assert seen(uncounted).headline == f'{seen(layout).headline}; start not counted in "worst cold"'
    assert own_headline(judge(uncounted), "pump", System.SI) == seen(uncounted).headline
    assert (seen(uncounted).severity, seen(uncounted).word) == ("caution", "Within, start not counted")
    colder = seen(marked(with_case(layout, "worst cold", fluid__temperature=START)))
    assert colder.headline.endswith('in "worst cold"; start not counted'), "of the case that decides"
    assert START_NOT_COUNTED not in seen(with_pump(uncounted, flow_rise=Quantity("9 s", 9.0))).headline


def test_over_is_a_stop():
    outlook_seen = seen(with_floor(lifted(), 99e3))
    assert (outlook_seen.severity, outlook_seen.word) == ("stop", "Over the limit")
    assert outlook_seen.headline.startswith("Over by ")


def test_without_a_budget():
    outlook_seen = seen(with_floor(lifted(), 120e3))
    assert (outlook_seen.severity, outlook_seen.word) == ("stop", "No budget")


def test_the_worst_case_is_the_headline_and_is_named():
    layout = cold(with_floor(lifted(), inlet_at_start(lifted()) + 1000.0))
    outlook_seen = seen(layout)
    assert solve(layout).pumps["pump"].sound
    assert outlook_seen.headline == 'Over by 1.00 kPa in "coldest start"'
    assert (outlook_seen.severity, outlook_seen.word) == ("stop", "Over the limit")


def test_a_case_that_is_milder_changes_no_headline():
    layout = with_floor(lifted(), solve(lifted()).pumps["pump"].inlet + 1000.0)
    warm = with_case(layout, "noon", fluid__temperature=Quantity("60 degC", 333.15))
    assert seen(warm).headline == seen(layout).headline == "Over by 1.00 kPa"


def test_a_hair_within_in_a_case_is_thin():
    layout = cold(with_floor(lifted(), inlet_at_start(lifted()) - 100.0))
    outlook_seen = seen(layout)
    assert (outlook_seen.severity, outlook_seen.word) == ("caution", "Within, thin margin")
    assert outlook_seen.headline.endswith('in "coldest start"')


def test_a_case_that_was_not_judged_stands_beside_the_headline():
    layout = with_fluid(comfortable(), coldest_start=Quantity("-90 degC", 183.15))
    outlook_seen = seen(layout)
    assert (
        outlook_seen.headline == f'{seen(with_coldest(comfortable())).headline}; not judged: "coldest start"'
    )
    assert (outlook_seen.severity, outlook_seen.word) == ("caution", "Not judged in every case")


def test_of_two_pumps_the_worse_is_named():
    layout = two_pumps(pilot_floor=99e3)
    outlook_seen = seen(layout)
    assert outlook_seen.headline.startswith("pilot: over by ")
    assert [name for name, _ in unsound_pumps(judge(layout), System.SI)] == ["pilot"]
    assert own_headline(judge(layout), "main", System.SI).startswith("Within")
    assert seen(with_coldest(two_pumps())).severity == "good"


def test_a_pump_at_rest_in_every_case_has_no_headline_of_its_own():
    layout = two_pumps()
    resting = replace(layout, pumps={**layout.pumps, "main": replace(layout.pumps["main"], at_rest=True)})
    assert own_headline(judge(resting), "main", System.SI) == "At rest in every case"
    assert seen(resting).headline.startswith("Within")


def test_a_stop_finding_is_never_green():
    fast = with_pump(with_coldest(comfortable()), flow=Quantity("typed", 0.009))
    outlook_seen = seen(fast)
    assert outlook_seen.severity == "stop"
    assert outlook_seen.headline == "Within, but the fluid runs too fast"
    assert judge(fast).worst().pump_state == PumpState.UNFIT


def test_a_headline_with_the_maker_s_own_figures_is_not_called_estimated():
    """Only the case in which the fluid is denser than the maker's is estimated, and it is not the worst."""
    warm = lifted(flow=0.004)
    density = solve(warm).fluid.density
    rated = with_pump(warm, rated_density=Quantity("typed", density + 0.1))
    layout = with_case(
        with_floor(rated, 40e3),
        "slow in the cold",
        fluid__temperature=START,
        pumps__pump__flow=Quantity("0.0001 m^3/s", 1e-4),
    )
    judgement = judge(layout)
    slow = judgement.cases["slow in the cold"].solution.pumps["pump"]
    assert slow.limit_estimated
    assert slow.margin > judgement.worst().ledger.margin
    assert not judgement.worst().ledger.limit_estimated
    assert "estimated" not in seen(layout).headline


def test_a_headline_beside_figures_of_a_better_case_says_that_it_is_of_the_case_as_drawn():
    layout = with_case(comfortable(), "noon", fluid__temperature=Quantity("60 degC", 333.15))
    judgement, system = judge(layout), System(layout.units)
    assert judgement.worst().case == "as drawn"
    assert outlook(judgement, system, "noon").headline.endswith("in the case as drawn")
    assert "as drawn" not in outlook(judgement, system).headline


def test_a_headline_without_budget_names_its_case_before_what_it_takes():
    high = with_case(lifted(), "thin air", site__elevation=Quantity("7000 m", 7000.0))
    headline = seen(high).headline
    assert headline.startswith('No lift works here in "thin air": ')
    assert headline.count("thin air") == 1


def test_a_line_that_doubles_back_is_said_in_the_headline():
    folded = move_part(fed_from_below(), "pump", 2.4, 0.9, alone=True)
    assert "; cannot be built as drawn, the line doubles back at joint" in seen(folded).headline
    assert "cannot be built" not in seen(fed_from_below()).headline
    assert "cannot be built" in own_headline(judge(folded), "pump", System.SI)


def test_a_headline_of_the_drawing_goes_on_behind_what_was_read():
    assert headline_as_drawn("Over by 1.8 inHg") == "As drawn: over by 1.8 inHg"
