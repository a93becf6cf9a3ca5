"""What answers a finding by its own figure is made, read afresh from its text, and held to what it says."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from solver.findings.checks import check
from solver.findings.judgement import judge as judge_cases
from solver.findings.kinds import FindingId
from solver.fixes.aims import AIMED, AIMS, BY_THE_MARGIN, Remedy, best
from solver.fixes.candidate import FixKind
from solver.fixes.figures import figure_of
from solver.fixes.fixes import advise
from solver.fixes.judging import judge
from solver.fixes.remedies import remedy, with_remedies
from solver.fixes.search import NOTHING
from solver.layout import file
from solver.layout.parts import Layout, Level, Limit
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, System, quantity
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.solver.checking import lifted, over_the_wall, with_pump
from tests.solver.fixes.examples import riser
from tests.solver.fixes.test_fixes import LAYOUTS, advice, each_pump, least_margin
from tests.thorough import one_in


def untrue(base: Layout, remedy: Remedy) -> str:
    """What a remedy says and does not do once it is written, read and solved; "" for nothing."""
    changed = file.parse(file.write(file.Drawing(remedy.layout))).base
    after = judge(changed, remedy.pump, Level.MINIMUM)
    look = AIMS[remedy.finding][0] if remedy.finding in AIMS else BY_THE_MARGIN[remedy.finding]
    figure = figure_of(after, look, remedy.part)
    if (figure is None) != (remedy.figure is None):
        return f"{remedy.text}: a figure that is not there"
    before, then = (0.0 if each is None else each.value for each in (remedy.figure, figure))
    if abs(then - before) > 1e-3 * abs(then):
        return f"{remedy.text}: says {before}, comes to {then}"
    names = {(each.finding, each.part) for each in after.findings}
    if remedy.ends and (remedy.finding, remedy.part) in names and (figure is None or figure.excess > 1e-6):
        return f"{remedy.text}: the finding is there still"
    gain = after.margin - least_margin(base, remedy.pump)
    return "" if abs(gain - remedy.gain) < 3.0 else f"{remedy.text}: says {remedy.gain} Pa, gains {gain} Pa"


@pytest.mark.parametrize(("name", "pump"), one_in(48, each_pump(), several=True))
def test_every_remedy_does_what_it_says(name: str, pump: str) -> None:
    assert [wrong for each in advice(name, pump).remedies if (wrong := untrue(LAYOUTS[name], each))] == []


def one(layout: Layout, finding: FindingId) -> list[Remedy]:
    (pump,) = layout.pumps
    return best((each for each in advise(layout, pump).remedies if each.finding is finding), 9)


def with_flow(text: str) -> Layout:
    layout = riser()
    (pump,) = layout.pumps.values()
    fast = replace(pump, flow=quantity(text, Kind.FLOW), speed=None, displacement=None)
    return replace(layout, pumps={pump.name: fast})


def test_a_velocity_is_answered_by_the_bore_that_brings_it_under_what_is_allowed() -> None:
    layout = with_flow("300 L/min")
    assert FindingId.SUCTION_VELOCITY in {each.finding for each in check(solve(layout))}
    remedies = one(layout, FindingId.SUCTION_VELOCITY)
    assert any(each.text.startswith("lay the whole line in") for each in remedies)
    for each in remedies:
        assert each.ends
        assert each.figure is not None
        assert each.figure.value <= 1.2
        assert re.search(
            r"then \d\.\d\d? m/s, (under the usual 1\.20? m/s|no more than allowed)", each.sentence(System.SI)
        )


def whole_line(layout: Layout) -> Remedy:
    remedies = one(layout, FindingId.SUCTION_VELOCITY)
    return next(each for each in remedies if each.text.startswith("lay the whole line in"))


@pytest.mark.thorough
def test_a_velocity_takes_as_many_sizes_as_are_enough() -> None:
    """ASME B36.10, schedule 40: NPS 6 has 6.065 in, where 900 L/min run at 0.80 m/s; in NPS 4 at 1.8."""
    whole = whole_line(with_flow("900 L/min"))
    assert whole.text == "lay the whole line in NPS 6 schedule 40"
    assert whole.ends
    assert whole.figure is not None
    assert whole.figure.value == pytest.approx(0.015 / (math.pi / 4 * (6.065 * 0.0254) ** 2), rel=1e-3)
    assert whole.enough == ""


@pytest.mark.thorough
def test_a_velocity_takes_one_size_more_where_the_margin_asks_for_it() -> None:
    layout = with_flow("200 L/min")
    (drawn,), (strainer,) = layout.pumps.values(), layout.intakes.values()
    x, y = drawn.at
    wide = {"size": "NPS 4 schedule 40"}
    thirsty = replace(
        drawn,
        at=(x, replace(y, si=1.5, text="1.5 m")),
        limit=Limit("vacuum", ((None, quantity("5 inHg", Kind.VACUUM)),)),
        **wide,
    )
    layout = replace(
        layout,
        pumps={drawn.name: thirsty},
        intakes={strainer.name: replace(strainer, screen=None, kind="plain end", **wide)},
        fluid=replace(layout.fluid, temperature=quantity("10 degC", Kind.TEMPERATURE)),
    )
    whole = whole_line(layout)
    assert whole.text == "lay the whole line in NPS 3 schedule 40"
    assert "; NPS 2-1/2 schedule 40 would be enough, but not for the margin." in whole.sentence(System.SI)
    fix = next(each for each in advise(layout, drawn.name).fixes if each.text == whole.text)
    assert (fix.ample, fix.slow_enough) == ("NPS 3 schedule 40", "NPS 2-1/2 schedule 40")
    assert not any("over" in each for each in fix.leaves)


@pytest.mark.thorough
def test_a_fluid_too_thick_to_start_is_warmed_to_where_it_is_thin_enough_and_no_further() -> None:
    layout = riser()
    (pump,) = layout.pumps.values()
    thick = quantity("600 cSt", Kind.VISCOSITY)
    layout = replace(
        layout,
        pumps={pump.name: replace(pump, start_viscosity=thick)},
        fluid=replace(layout.fluid, coldest_start=quantity("-5 degC", Kind.TEMPERATURE)),
    )
    remedies = one(layout, FindingId.START_VISCOSITY)
    (warm,) = (each for each in remedies if each.text.startswith("warm"))
    assert warm.figure is not None
    assert 0.85 * 600e-6 < warm.figure.value <= 600e-6
    assert 'in the case "coldest start"' in warm.text
    assert any(each.text.startswith("fill the tank with") for each in remedies)


def test_a_shallow_intake_goes_down_or_its_level_up_by_as_much_as_is_lacking() -> None:
    layout = riser()
    (tank,) = layout.reservoirs.values()
    (intake,) = layout.intakes.values()
    shallow = replace(tank.minimum_level, si=intake.at[1].si + 0.06, text=f"{intake.at[1].si + 0.06} m")
    layout = replace(layout, reservoirs={tank.name: replace(tank, minimum_level=shallow)})
    remedies = one(layout, FindingId.SUBMERGENCE)
    assert any(each.text.startswith("keep the minimum level") for each in remedies)
    for each in remedies:
        assert each.ends
        assert each.figure is not None
        assert each.figure.value >= each.figure.threshold * (1 - 1e-9)


@pytest.mark.thorough
def test_what_ends_a_finding_is_named_alone_where_something_does() -> None:
    remedies = advice("header-two-pumps", "main").remedies
    velocity = [each for each in remedies if each.finding is FindingId.SUCTION_VELOCITY]
    assert any(not each.ends for each in velocity)
    assert all(each.ends for each in best(velocity, 3))
    left = [each for each in velocity if not each.ends]
    excesses = [each.figure.excess for each in best(left, 3) if each.figure is not None]
    assert excesses == sorted(excesses)


def test_no_finding_that_is_answered_so_has_a_fixed_text() -> None:
    for layout in (LAYOUTS["header-two-pumps"], with_flow("300 L/min")):
        aimed = [each for each in judge_cases(layout).findings if each.finding in AIMED]
        assert aimed
        own_figures = FindingId.NO_FOOT_VALVE  # its words have those of the ledger
        assert all(each.advice == "" for each in aimed if each.finding is not own_figures)


@pytest.mark.thorough
def test_a_remedy_that_takes_margin_says_so() -> None:
    remedy = advice("header-two-pumps", "main").remedies[0]
    assert "; takes 0.89 inHg" in replace(remedy, gain=-3000.0, margin=-3000.0).sentence(System.US)
    assert "buys" not in replace(remedy, gain=NOTHING / 2).sentence(System.US)


def test_an_intake_that_the_cylinders_leave_bare_goes_under_what_they_leave() -> None:
    layout = riser()
    (tank,) = layout.reservoirs.values()
    (intake,) = layout.intakes.values()
    for litres in range(10, 400, 10):
        drawn = replace(tank, draw_down=quantity(f"{litres} L", Kind.VOLUME))
        thirsty = replace(layout, reservoirs={tank.name: drawn})
        if any(each.finding is FindingId.INTAKE_DRAWN_DRY for each in check(solve(thirsty))):
            break
    remedies = one(thirsty, FindingId.INTAKE_DRAWN_DRY)
    assert [each.text.partition(" to ")[0] for each in remedies] == [f"lower {intake.name}"]
    assert remedies[0].ends


def test_flow_between_laminar_and_turbulent_is_led_out_of_it_by_a_bore_that_was_solved() -> None:
    for litres in range(60, 400, 10):
        layout = with_flow(f"{litres} L/min")
        thin = replace(layout.fluid, name="Mineral oil, ISO VG 22")
        layout = replace(layout, fluid=thin, criteria={"transitional_share": Quantity("1 %", 0.01)})
        if any(each.finding is FindingId.TRANSITIONAL_FLOW for each in check(solve(layout))):
            break
    remedies = one(layout, FindingId.TRANSITIONAL_FLOW)
    assert remedies
    assert all(untrue(layout, each) == "" for each in remedies)


def words_for(layout: Layout, which: FindingId) -> str:
    return next(each.advice for each in with_remedies(judge_cases(layout)).findings if each.finding is which)


def test_a_fall_after_a_high_point_is_taken_out_by_a_line_without_it_that_stays_above_the_fluid() -> None:
    """A line that rises from the strainer to the pump passes the wall at 0.525 m."""
    layout = over_the_wall(fall=0.2)
    low = replace(layout.reservoirs["tank"], normal_level=Quantity("0.45 m", 0.45))
    words = words_for(replace(layout, reservoirs={"tank": low}), FindingId.TRAPPED_HIGH_POINT)
    assert "Lay crossing without its corners 1 and 2: then the finding is gone; buys " in words
    assert "Put pump beside tank, flooded through its wall: then the finding is gone; buys " in words
    drowned = words_for(layout, FindingId.TRAPPED_HIGH_POINT)
    assert "without its corners" not in drowned


def test_a_bend_at_the_port_is_answered_by_as_much_room_as_is_lacking() -> None:
    """Half a bore of straight line where five are asked for, in 50 mm: 0.226 m more."""
    words = words_for(lifted(lead=0.1), FindingId.STRAIGHT_BEFORE_PORT)
    assert words == "Set pump 0.226 m further from the last bend: then 0.251 m, over 0.250 m."
    wide = words_for(lifted(lead=0.2, bore=0.08), FindingId.STRAIGHT_BEFORE_PORT)
    assert wide.endswith("then 0.401 m, over 0.400 m."), "five of the pipe's bores, not of the port's"


def test_a_line_that_drains_gets_a_foot_valve_with_what_that_takes_or_a_flooded_pump() -> None:
    words = words_for(with_pump(lifted(), type="piston"), FindingId.NO_FOOT_VALVE)
    assert re.search(
        r"Put a foot valve in the place of strainer: then the finding is gone; takes \d\.\d\d kPa\.", words
    )
    assert "Put pump beside tank, flooded through its wall: then it stays under the level; buys " in words


def test_what_nothing_answers_keeps_the_figures_that_the_check_saw() -> None:
    layout = with_pump(lifted(), type="piston")
    finding = next(each for each in judge_cases(layout).findings if each.finding is FindingId.NO_FOOT_VALVE)
    nothing = replace(advise(layout, "pump"), fixes=(), together=(), remedies=())
    assert remedy(finding, nothing, System.SI) == finding.advice
    assert "bring the line down by 0.825 m" in finding.advice


def test_the_fastest_run_is_offered_in_wider_pipe_by_itself() -> None:
    """The middle one of three, neither the costliest nor the one at the port."""
    layout = drawing(
        fitting("a", (0.9, 0.8), bore=0.06),
        fitting("b", (0.9, 1.0), bore=0.06),
        replace(run("riser", "strainer", "a"), size="NPS 2 schedule 40", bore=None, out_of_plane=metres(9.0)),
        replace(run("middle", "a", "b"), size="NPS 1-1/2 schedule 40", bore=None),
        replace(run("lead", "b", "pump"), size="NPS 2 schedule 40", bore=None),
        intake(bore=0.06),
        pump(flow=0.0024, bore=0.05),
    )
    texts = [each.text for each in one(layout, FindingId.SUCTION_VELOCITY)]
    assert "lay middle in NPS 2 schedule 40" in texts
    assert len(texts) == len(set(texts))


def test_a_strainer_that_takes_too_much_is_changed_until_its_share_is_what_it_may_be() -> None:
    """Not until the margin is ample: three times the screen where six times gain a little more."""
    remedies = [
        each for each in advice("carriage-at-altitude", "carriage").remedies
        if each.finding is FindingId.STRAINER_DROP
    ]  # fmt: skip
    assert all(each.part == "strainer" for each in remedies)
    larger = next(each for each in remedies if each.text.startswith("give strainer"))
    assert larger.text.startswith("give strainer 3.0 times the screen")
    assert larger.ends
    assert larger.figure is not None
    assert larger.figure.value <= 0.20
    gone = next(each for each in remedies if each.text.startswith("put a filter in the return line"))
    assert gone.figure is None
    assert not [each for each in remedies if FixKind.PLACE in each.kinds or FixKind.SIZE in each.kinds]


@pytest.mark.thorough
def test_a_bypass_that_opens_is_answered_by_less_drop_than_it_opens_at() -> None:
    name = "baler-flooded: Filter in the line, half blocked"
    opens = [each for each in advice(name, "baler").remedies if each.finding is FindingId.BYPASS_OPEN]
    drops = [each.figure.value for each in opens if each.ends and each.figure is not None]
    assert drops
    assert all(each <= 25e3 for each in drops)


@pytest.mark.parametrize("system", System)
def test_a_change_buys_as_much_where_it_answers_a_finding_as_among_the_fixes(system: System) -> None:
    """Each is what the margin as shown has over that before, not its own value rounded."""
    advised = advice("header-two-pumps", "main")
    bought = {each.text: each.buys(system).partition(",")[0] for each in advised.fixes}
    alike = [each for each in advised.remedies if each.text in bought and each.margin > 0.0]
    assert "lay the whole line in NPS 3 schedule 40" in {each.text for each in alike}
    assert [each.text for each in alike if f"; {bought[each.text]}" not in each.sentence(system)] == []
