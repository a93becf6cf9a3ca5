"""What to do about a drawing is made from what was solved, and nothing missing makes it sound better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from solver.findings.cold_line import warm_first
from solver.findings.judgement import Judgement, PumpState, judge
from solver.fixes.fixes import advise_all
from solver.fixes.remedies import with_remedies
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.cases import CaseSolution
from solver.quantities.units import Kind, System, quantity, typeset
from solver.report.choices import best_fix
from solver.report.choosing import ORDERS, JudgedDrawing, better, missing_cases
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import NOTHING_ELSE, NOTHING_ELSE_AS_DRAWN, recommendation
from tests.drawings import RISER

LAYOUTS = Path(__file__).parents[3] / "layouts"
PRESS = file.read(LAYOUTS / "winter-press.toml")
HEADER = file.read(LAYOUTS / "header-two-pumps.toml")
US = System.US


@pytest.fixture(scope="module")
def before() -> JudgedDrawing:
    return JudgedDrawing("", judge(PRESS.base), advise_all(PRESS.base))


@pytest.fixture(scope="module")
def heated() -> JudgedDrawing:
    layout = PRESS.alternatives["Tank heater to 10 °C"].layout
    return JudgedDrawing("Tank heater to 10 °C", judge(layout), {})


def test_an_alternative_that_stands_better_in_its_worst_case_is_recommended(
    before: JudgedDrawing, heated: JudgedDrawing
) -> None:
    first, *rest = recommendation(before, heated, US)
    assert first.startswith(
        'Build "Tank heater to 10 °C", which is not enough by itself: press is then over '
        "by 5.81 inHg while the line is still at 14 °F; after that within: 2.70 of 4.61 inHg allowed here"
    )  # a heater warms no hose
    assert rest[0].startswith(warm_first("press"))
    assert not any("over by" in text for text in rest), "how it stands is said once"
    assert rest[1].startswith("What would do more is not drawn yet: fill the tank with ")


def test_what_an_alternative_clears_and_says_of_itself_stands_behind_what_it_comes_to() -> None:
    drawing = file.read(LAYOUTS / "over-the-bund-wall.toml")
    sleeve = drawing.alternatives["Sleeve through the wall"]
    before = JudgedDrawing("", judge(drawing.base), {})
    after = JudgedDrawing("Sleeve through the wall", judge(sleeve.layout), {}, note=sleeve.note)
    build, clears, note, without, *_ = recommendation(before, after, System.SI)
    assert build.startswith(
        'Build "Sleeve through the wall", once what the note forbids is permitted: transfer is then within: '
    )
    assert clears == "It clears: trapped high point (crossing)."
    assert note.startswith('Its note: "A level line from a wall nozzle through a sealed sleeve: ')
    assert without.startswith("Without permission the line stays as it is, within, with trapped high point")


def test_one_that_stands_worse_is_not(before: JudgedDrawing, heated: JudgedDrawing) -> None:
    first, *_ = recommendation(heated, before, US)
    assert first == ("No alternative is sure to leave more margin in its worst case by what it builds.")


def test_of_two_files_it_says_which_is_better(before: JudgedDrawing, heated: JudgedDrawing) -> None:
    """Beside another file no alternative is judged, of which it could be said that none is better."""
    first, _, less, *_ = recommendation(heated, before, US, of_file=True)
    assert first == f"The drawing as it stands is better than {before.called}."
    assert less.startswith("Its least margin is ")
    same, *_ = recommendation(heated, heated, US, of_file=True)
    assert "No alternative" not in same


def test_no_sentence_speaks_of_every_drawing_where_it_holds_of_one(
    before: JudgedDrawing, heated: JudgedDrawing
) -> None:
    """Of the best of them it was said that it leaves more, and then that none does."""
    oil = JudgedDrawing("Oil", judge(PRESS.alternatives["High-VI oil, ISO VG 32"].layout), {})
    texts = list(recommendation(oil, before, US, best=heated))
    assert not any(text.startswith("No alternative is sure") for text in texts)
    other = replace(before, name="Other")
    asked = list(recommendation(oil, other, US, best=heated))
    assert any(text.startswith('"Other" is not sure to leave more margin') for text in asked)
    wall = JudgedDrawing("", judge(file.read(LAYOUTS / "strainer-over-a-year.toml").base), {})
    assert NOTHING_ELSE in list(recommendation(wall, None, System.SI))
    both = list(recommendation(wall, other, System.SI))
    assert NOTHING_ELSE_AS_DRAWN in both
    assert NOTHING_ELSE not in both


def test_a_case_that_was_not_judged_makes_nothing_better(
    before: JudgedDrawing, heated: JudgedDrawing
) -> None:
    unjudged = _without(heated.judgement, "first stroke")
    assert better(before.judgement, heated.judgement)
    assert not better(before.judgement, unjudged)
    texts = list(recommendation(before, JudgedDrawing("Heated", unjudged, {}), US))
    assert not any(text.startswith("Build") for text in texts)
    assert any('"first stroke"' in text for text in recommendation(JudgedDrawing("", unjudged, {}), None, US))
    assert any('"first stroke" lacks' in text for text in order_of_work(JudgedDrawing("", unjudged, {}), US))


def _without(judgement: Judgement, case: str) -> Judgement:
    cases = {**judgement.cases, case: CaseSolution(case)}
    return replace(
        judgement,
        cases=cases,
        findings_by_case={k: v for k, v in judgement.findings_by_case.items() if k != case},
    )


def test_without_alternatives_the_change_is_the_best_that_was_solved(before: JudgedDrawing) -> None:
    fix = best_fix(before.advice["press"])
    assert fix is not None
    assert fix.cures
    text = " ".join(recommendation(before, None, US))
    assert fix.text[1:] in text
    assert fix.buys(US) in text
    assert any(fix.text[1:] in step for step in order_of_work(before, US))


def test_the_maker_is_asked_first_and_the_gauge_read_last(heated: JudgedDrawing) -> None:
    steps = list(order_of_work(heated, US))
    assert steps[0].startswith("Ask the maker for the least inlet pressure")
    assert "press at 1450 rpm (estimated here)" in steps[0]
    assert steps[1] == 'Build "Tank heater to 10 °C".'
    assert steps[2] == warm_first("press")
    assert not any(step.startswith("Put right") for step in steps)
    assert "Expected with a warm line: press " in steps[-1]
    worst = heated.judgement.worst("press")
    assert worst is not None
    assert f"{worst.ledger.vacuum / 3386.389:.2f} inHg of vacuum" in steps[-1]


def test_nothing_that_gains_is_said_so(before: JudgedDrawing) -> None:
    text = " ".join(recommendation(JudgedDrawing("", before.judgement, {}), None, US))
    assert "none of the changes that were tried gains anything" in text
    assert best_fix(None) is None


@pytest.mark.thorough
def test_a_pump_that_is_within_but_may_not_run_is_answered_by_what_stops_it() -> None:
    """Two pumps on one header: the oil runs too fast for the pilot's line, whatever margin it has. The wider
    line that the main pump needs ends that too."""
    judgement = with_remedies(judge(HEADER.base))
    choice = JudgedDrawing("", judgement, advise_all(HEADER.base))
    texts = list(recommendation(choice, None, US))
    (of_pilot,) = (text for text in texts if text.startswith("pilot"))
    assert "pilot is within, but: outlet: 6.21 ft/s, over the utmost of 4.92 ft/s." in of_pilot
    assert "What is recommended for main clears that." in of_pilot
    assert not any(step.startswith("Clear") for step in order_of_work(choice, US))
    without = JudgedDrawing("", judgement, {})
    (of_pilot,) = (text for text in recommendation(without, None, US) if text.startswith("pilot"))
    assert "then 2.82 ft/s, under the usual 3.94 ft/s" in of_pilot
    steps = list(order_of_work(without, US))
    assert "Put right for pilot: outlet: 6.21 ft/s, over the utmost of 4.92 ft/s." in steps


def test_an_alternative_that_is_better_and_still_over_is_said_not_to_be_enough() -> None:
    """The larger line buys half of what the carriage pump lacks."""
    drawing = file.read(LAYOUTS / "carriage-at-altitude.toml")
    before = JudgedDrawing("", judge(drawing.base), {})
    layout = drawing.alternatives["Three-inch suction line"].layout
    first, *_ = recommendation(before, JudgedDrawing("Three-inch suction line", judge(layout), {}), US)
    assert first.startswith(
        'Build "Three-inch suction line", which is not enough by itself: carriage is then over by 0.91 inHg'
    )


def test_of_changes_that_are_enough_the_one_that_leaves_least_is_recommended(before: JudgedDrawing) -> None:
    """Pressure on the tank would do for the margin; warming the oil ends its being too thick as well."""
    advice = before.advice["press"]
    enough = [fix for fix in advice.fixes if fix.cures and not fix.worsens and fix.spare >= 0]
    chosen = best_fix(advice)
    assert chosen is not None
    assert {len(fix.leaves) for fix in enough} != {len(chosen.leaves)}
    assert len(chosen.leaves) == min(len(fix.leaves) for fix in enough)
    text = " ".join(recommendation(before, None, US))
    assert ("It leaves open: " in text) is bool(chosen.leaves)


def test_a_margin_that_a_low_pressure_day_takes_is_not_called_enough() -> None:
    """A limit of 6 for 7 inHg leaves 0.7 inHg beside the tank; where no allowance is wanted that will do."""
    drawing = file.read(LAYOUTS / "carriage-at-altitude.toml")
    layout = drawing.alternatives["Pump beside the tank"].layout
    pump = layout.pumps["carriage"]
    limit = replace(pump.limit, table=((None, quantity("6 inHg", Kind.VACUUM)),))
    tight = replace(layout, pumps={"carriage": replace(pump, limit=limit)})
    assert list(recommendation(_with_weather(tight, "0 inHg"), None, US)) == [
        "No check found anything else to put right."
    ]
    choice = _with_weather(tight, None)
    least = min(place.ledger.margin for place in choice.judgement.pumps_in_cases)
    (text,) = recommendation(choice, None, US)
    assert least < 2500.0
    assert text.startswith(f"{least / 3386.389:.2f} inHg is left in the worst case: less than")
    assert "low-pressure day takes (0.74 inHg" in text


def _with_weather(layout: Layout, allowance: str | None) -> JudgedDrawing:
    typed = quantity(allowance, Kind.VACUUM) if allowance else None
    site = replace(layout.site, weather_allowance=typed, barometer=None)
    return JudgedDrawing("", judge(replace(layout, site=site)), {})


def test_what_is_kept_up_is_a_step_of_its_own_where_something_is_built(heated: JudgedDrawing) -> None:
    kept = ("a heater", "a level switch")
    steps = list(order_of_work(heated, US, kept))
    built = next(number for number, step in enumerate(steps) if step.startswith("Build"))
    assert steps[built + 1] == "Provide and keep up: a heater; a level switch."
    alone = list(order_of_work(replace(heated, base=PRESS.base), US, kept))
    assert "Provide and keep up: a heater; a level switch." in alone
    assert not any(step.startswith("Build") for step in alone), "the same work would be two steps"


def test_a_name_that_is_an_order_is_not_built(before: JudgedDrawing, heated: JudgedDrawing) -> None:
    """An alternative kept from a change has its words as its name, whichever change it is."""
    assert heated.order == 'Build "Tank heater to 10 °C"'
    laid = replace(heated, name="Lay the whole line in NPS 3")
    assert laid.order == 'Carry out "Lay the whole line in NPS 3"'
    for drawn in (before, JudgedDrawing("", judge(HEADER.base), advise_all(HEADER.base))):
        fixes = [fix for advice in drawn.advice.values() for fix in advice.fixes]
        assert fixes
        assert not [fix.text for fix in fixes if fix.text.split()[0] not in ORDERS]


SAWMILL = """
format = 1
[site]
elevation = "900 m"
weather_allowance = "2 kPa"
[fluid]
name = "Mineral oil, ISO VG 68"
temperature = "15 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["1.2 m", "0 m"], ["1.2 m", "0.75 m"], ["0 m", "0.75 m"]]
depth = "0.6 m"
normal_level = "0.6 m"
minimum_level = "0.45 m"
[intakes.foot]
reservoir = "tank"
at = ["0.3 m", "0.2 m"]
kind = "plain end"
size = "NPS 1-1/4 schedule 40"
[pumps.saw]
at = ["2.4 m", "1.35 m"]
size = "NPS 1-1/4 schedule 40"
type = "gear"
displacement = "40 cm^3/rev"
speed = "1500 rpm"
rated_density = "880 kg/m^3"
limit = { pressure = "0.70 bar" }
[runs.line]
from = "foot"
to = "saw"
via = [["0.3 m", "1.35 m"]]
size = "NPS 1-1/4 schedule 40"
bend = "threaded elbow"
[alternatives."Next size"]
intakes.foot.size = "NPS 1-1/2 schedule 40"
runs.line.size = "NPS 1-1/2 schedule 40"
[alternatives."Two inch"]
intakes.foot.size = "NPS 2 schedule 40"
runs.line.size = "NPS 2 schedule 40"
"""


def test_what_would_take_an_alternative_out_is_not_ordered_on_top_of_it() -> None:
    """A wider line, and beside it a pump on a new line of its own: one or the other, never one after the
    other."""
    drawing = file.parse(SAWMILL)
    before = JudgedDrawing("", judge(drawing.base), {})
    for name in ("Next size", "Two inch"):
        layout = drawing.alternatives[name].layout
        advice = advise_all(layout)
        flooded = [fix for fix in advice["saw"].fixes if "line" not in fix.layout.runs]
        assert flooded
        alone = {"saw": replace(advice["saw"], fixes=tuple(flooded), together=())}
        after = JudgedDrawing(name, judge(layout), alone, drawing.base)
        assert better(before.judgement, after.judgement)
        (pump,) = after.judgement.pumps_in_cases
        texts, steps = list(recommendation(before, after, System.SI)), list(order_of_work(after, US))
        if pump.pump_state is PumpState.OVER:
            assert texts[0].startswith(
                f'"{name}" is better than the drawing as it is, but not enough: saw is then over'
            )
            assert f'In place of "{name}", put saw' in " ".join(texts)
            assert not any(step.startswith("Build") for step in steps)
            assert steps[0].startswith(f'In place of "{name}", put saw')
        else:
            assert pump.pump_state is PumpState.THIN
            assert texts[0].startswith(f'Build "{name}": saw is then within')
            assert f'For more margin, in place of "{name}", put saw' in " ".join(texts)
            assert not any("put saw" in step for step in steps)


def test_a_rebuilt_line_is_filled_before_its_pump_starts(heated: JudgedDrawing) -> None:
    steps = list(order_of_work(heated, US))
    fill = "Fill press, which draws its empty line full, before the first start"
    assert steps[-2] == f"{fill}."
    steps = list(order_of_work(heated, US, priming_plan="First start"))
    assert steps[-2] == f'{fill}, as the priming plan says (under "First start").'


def test_a_case_that_an_alternative_has_not_is_no_gain(before: JudgedDrawing) -> None:
    """Nothing is built anew: the first stroke is only not asked about."""
    judgement, worst = before.judgement, before.judgement.worst()
    assert worst is not None
    case = worst.case

    def without(table: Mapping[str, Any]) -> dict[str, Any]:
        return {name: each for name, each in table.items() if name != case}

    fewer_cases = replace(
        judgement, cases=without(judgement.cases), findings_by_case=without(judgement.findings_by_case)
    )
    fewer = JudgedDrawing("Fewer cases", fewer_cases, {})
    assert missing_cases(before.judgement, fewer.judgement) == (case,)
    assert not better(before.judgement, fewer.judgement)
    texts = list(recommendation(before, fewer, US))
    assert not any(text.startswith("Build") for text in texts)
    assert any(f'"Fewer cases" has no case "{case}"' in text for text in texts)
    more = JudgedDrawing("More cases", judgement, {})
    texts = list(recommendation(JudgedDrawing("", fewer_cases, {}), more, US))
    assert f'The drawing as it stands has no case "{case}": how it stands there is not known.' in texts
    left = fewer_cases.worst()
    assert left is not None
    margin = typeset(left.ledger.margin, Kind.VACUUM, US, 2)
    both = f'In the cases that both have the least margin of "More cases" is {margin}'
    assert f"{both}, that of the drawing as it stands {margin}." in texts


def test_what_an_alternative_comes_to_is_a_sentence_about_its_pump() -> None:
    drawing = file.read(LAYOUTS / "header-two-pumps.toml")
    name = "Three-inch header"
    before, after = judge(drawing.base), judge(drawing.alternatives[name].layout)
    first, *_ = recommendation(JudgedDrawing("", before, {}), JudgedDrawing(name, after, {}), US)
    assert first.startswith('Build "Three-inch header": main is then within: 1.59 of 3.35 inHg allowed here')


def test_how_the_worst_pump_stands_is_not_repeated() -> None:
    drawing = file.read(LAYOUTS / "carriage-at-altitude.toml")
    layout = drawing.alternatives["Three-inch suction line"].layout
    after = JudgedDrawing("Three-inch suction line", judge(layout), advise_all(layout), drawing.base)
    first, second, *_ = recommendation(JudgedDrawing("", judge(drawing.base), {}), after, US)
    assert "carriage is then over by 0.91 inHg" in first
    assert "over by 0.91 inHg" not in second


def test_a_case_of_a_screen_that_is_taken_out_is_no_gap() -> None:
    """Half blocked, a strainer that is gone comes to what is drawn; a colder fluid does not."""
    cases = '\n[cases.due]\nintakes.strainer.screen.blocked = "50 %"\n'
    cases += '\n[cases.cold]\nfluid.temperature = "20 degC"\n'
    base = file.parse(RISER + cases).base
    (strainer,) = base.intakes.values()
    open_end = replace(strainer, screen=None)
    after = replace(base, intakes={strainer.name: open_end}, cases={})
    drawn = judge(base)
    assert set(missing_cases(drawn, judge(after))) == {"cold"}
    assert set(missing_cases(drawn, judge(replace(base, cases={})))) == {"due", "cold"}


def test_conditions_that_differ_in_cases_of_one_name_are_said() -> None:
    """Warmer in the alternative alone: what that buys is no work of the line."""
    hot, mild = (
        replace(
            PRESS.base,
            cases=file.parse(RISER + f'\n[cases.gust]\nfluid.temperature = "{text}"\n', "").base.cases,
        )
        for text in ("4 degC", "30 degC")
    )
    drawn = JudgedDrawing("", judge(hot), {})
    texts = " ".join(recommendation(drawn, JudgedDrawing("Warm", judge(mild), {}, hot), System.SI))
    assert (
        "Conditions differ, so that it is not the line alone that is compared: "
        'in "gust" "Warm" has fluid at 30 °C, the drawing as it stands fluid at 4 °C.'
    ) in texts
    alike = " ".join(recommendation(drawn, JudgedDrawing("Alike", judge(hot), {}, hot), System.SI))
    assert "Conditions differ" not in alike


def test_one_that_was_asked_for_is_not_said_to_be_built_where_another_leaves_more() -> None:
    """With the better one by name and margin, and what the one asked for takes away."""
    name, better_name = "Main pump alone", "Three-inch header"
    judged = {each: judge(HEADER.alternatives[each].layout) for each in (name, better_name)}
    before, best = (
        JudgedDrawing("", judge(HEADER.base), {}),
        JudgedDrawing(better_name, judged[better_name], {}),
    )
    asked = JudgedDrawing(name, judged[name], {}, HEADER.base)
    first, second, *rest = recommendation(before, asked, US, best=best)
    least = [judged[each].worst() for each in (better_name, name)]
    margins = [typeset(each.ledger.margin, Kind.VACUUM, US, 2) for each in least if each is not None]
    left = f"its least margin is {margins[0]}, here {margins[1]}"
    assert first == f'Compared as asked for; "{better_name}" leaves more: {left}.'
    assert second.startswith(f'"{name}" is better than the drawing as it is: main is then within: ')
    taken = f'"{name}" takes away the pump pilot, what that supplies and the case "pilot alone".'
    assert taken in rest
    assert not any(text.startswith("Build") for text in (first, second, *rest))
    alone = list(recommendation(before, asked, US))
    assert alone[0].startswith(f'Build "{name}"')
    assert taken in alone, "whoever chose it"
    assert not any("takes away" in text for text in recommendation(before, best, US))
