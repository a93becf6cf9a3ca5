"""What is recommended for several pumps can be built together, and says why another change is not."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from solver.findings.judgement import Judgement, judge
from solver.fixes.fixes import Advice, Fix
from solver.layout import file
from solver.layout.kinds import LimitForm
from solver.layout.parts import Layout, Limit
from solver.quantities.units import Kind, System, quantity
from solver.report.choices import choices_of, worst_places
from solver.report.choosing import JudgedDrawing
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import NONE_ENOUGH, recommendation
from tests.drawings import SHIPPED

SI = System.SI
THICK, MIDDLE, THIN = (f"Mineral oil, ISO VG {grade}" for grade in (100, 46, 32))


@pytest.fixture(scope="module")
def cold() -> Judgement:
    """Judged once for all of these tests."""
    return cold_header()


def cold_header() -> Judgement:
    """Two pumps on one header and one tank, both over in the cold."""
    (path,) = (each for each in SHIPPED if each.stem == "header-two-pumps")
    base = file.read(path).base
    fluid = replace(base.fluid, temperature=quantity("45 degF", Kind.TEMPERATURE), coldest_start=None)
    judgement = judge(replace(base, fluid=fluid, cases={}, units=SI))
    assert [pump for pump, place in worst_places(judgement) if not place.ledger.within] == ["main", "pilot"]
    return judgement


def filled(judgement: Judgement, pump: str, oil: str) -> Fix:
    """Another oil as a change that is enough for a pump."""
    layout = judgement.layout
    return changed(pump, f"fill the tank with {oil}", replace(layout, fluid=replace(layout.fluid, name=oil)))


def changed(pump: str, text: str, layout: Layout) -> Fix:
    return Fix(
        text=text, pump=pump, case="as drawn", gain=2e4, margin=1e4, spare=1e3, cost="work", leaves=(),
        worsens=(), heads=None, cures=True, ends=frozenset(), kinds=(), parts=(), only="", layout=layout,
        just_enough="", ample="", slow_enough="", as_drawn=False,
    )  # fmt: skip


def advice(*fixes: Fix) -> Advice:
    now: Any = SimpleNamespace(sound=False)
    return Advice(now, fixes, (), ())


def test_one_oil_that_does_for_both_pumps_is_filled_in_once(cold: Judgement) -> None:
    """The thinner oil is enough for the main pump, and more than enough for the pilot."""
    of_both = {
        "main": advice(filled(cold, "main", THIN)),
        "pilot": advice(filled(cold, "pilot", MIDDLE)),
    }
    chosen = JudgedDrawing("", cold, of_both)
    choices = chosen.chosen
    assert choices["pilot"].serves == "main"
    assert choices["pilot"].fix is choices["main"].fix
    assert choices["pilot"].then is not None
    assert choices["pilot"].then.ledger.within
    texts, steps = " ".join(recommendation(chosen, None, SI)), " ".join(order_of_work(chosen, SI))
    assert "What is recommended for main does for pilot too: pilot is within" in texts
    for text in (texts, steps):
        assert THIN in text
        assert MIDDLE not in text


def test_of_two_oils_the_one_that_does_for_both_is_chosen_whichever_pump_it_is_of(cold: Judgement) -> None:
    of_both = {
        "main": advice(filled(cold, "main", THICK)),
        "pilot": advice(filled(cold, "pilot", THIN)),
    }
    choices = choices_of(cold, of_both, None)
    assert choices["main"].serves == "pilot"
    assert choices["main"].fix is not None
    assert choices["main"].fix.layout.fluid.name == THIN


def test_two_oils_for_one_tank_are_never_ordered_together(cold: Judgement) -> None:
    """Neither does for both: the pump that stands worse gets its own, the other what goes with that."""
    lower = replace(
        cold.layout.pumps["pilot"], at=(cold.layout.pumps["pilot"].at[0], quantity("0 m", Kind.LENGTH))
    )
    moved = replace(cold.layout, pumps={**cold.layout.pumps, "pilot": lower})
    main, pilot = filled(cold, "main", THICK), filled(cold, "pilot", f"{THICK}0")
    choices = choices_of(cold, {"main": advice(main), "pilot": advice(pilot)}, None)
    assert choices["main"].fix is main
    assert choices["pilot"].fix is None
    assert choices["pilot"].excluded
    texts = list(
        recommendation(JudgedDrawing("", cold, {"main": advice(main), "pilot": advice(pilot)}), None, SI)
    )
    assert any(
        "What is enough for pilot cannot be built together with that change." in text for text in texts
    )
    other = changed("pilot", "lower pilot", moved)
    choices = choices_of(cold, {"main": advice(main), "pilot": advice(pilot, other)}, None)
    assert choices["pilot"].fix is other


def test_what_has_suffered_is_put_back_as_drawn_before_anything_that_gains_more(cold: Judgement) -> None:
    larger = replace(filled(cold, "main", THIN), gain=3e4)
    mended = replace(filled(cold, "main", MIDDLE), as_drawn=True)
    assert choices_of(cold, {"main": advice(larger, mended)}, None)["main"].fix is mended
    short = replace(mended, cures=False)
    assert choices_of(cold, {"main": advice(larger, short)}, None)["main"].fix is larger


def test_a_change_that_leaves_no_margin_thin_is_made_before_one_that_does(cold: Judgement) -> None:
    """Oil of the middle grade is just enough for the pilot, that of the thin one leaves it plenty."""
    margins = {
        oil: worst.ledger.margin
        for oil in (MIDDLE, THIN)
        if (worst := judge(filled(cold, "main", oil).layout).worst("pilot")) is not None
    }
    asked = (margins[MIDDLE] + margins[THIN]) / 2
    assert 0 < margins[MIDDLE] < asked < margins[THIN]
    mild, held = (
        replace(cold, criteria=replace(cold.criteria, thin_margin=0.0, thin_pressure=each))
        for each in (0.0, asked)
    )
    of_both = {
        "main": advice(filled(cold, "main", MIDDLE), replace(filled(cold, "main", THIN), gain=1e4)),
        "pilot": advice(),
    }
    for judgement, oil in ((mild, MIDDLE), (held, THIN)):
        fix = choices_of(judgement, of_both, None)["pilot"].fix
        assert fix is not None
        assert fix.layout.fluid.name == oil


def of_main(cold: Judgement, *fixes: Fix) -> JudgedDrawing:
    return JudgedDrawing("", cold, {"main": advice(*fixes), "pilot": advice()})


def test_what_is_named_first_and_is_not_recommended_is_passed_over_for_a_reason(cold: Judgement) -> None:
    """Each lacks one thing that the recommended change has; nothing is said of one that lacks nothing."""
    thin = filled(cold, "main", THIN)
    for lack, but in (
        ({"spare": -1.0}, "its margin would be thin"),
        (
            {"leaves": ("lead: bore 40 mm, under the port's 50 mm",)},
            "it leaves open: lead: bore 40 mm, under",
        ),
        ({"worsens": ("pilot: no straight pipe",), "gain": 1e4}, "then: pilot: no straight pipe"),
        ({"gain": 1e4}, "it buys less"),
    ):
        other = replace(thin, **{"text": "lay another line", "gain": 3e4, **lack})
        choice = of_main(cold, other, thin).chosen["main"]
        assert choice.fix is thin
        assert choice.passed_over is not None
        assert choice.passed_over.fix is other
        assert choice.passed_over.but.startswith(but)
        said = f"To lay another line would be enough too ({other.buys(SI)}), but {choice.passed_over.but}."
        assert said in " ".join(recommendation(of_main(cold, other, thin), None, SI))
    for harmless in (
        replace(thin, cures=False),
        replace(thin, only="Only with a tank built for it"),
        replace(thin, gain=3e4, worsens=("main: over while the line is cold",), stops=True),
    ):
        assert of_main(cold, thin, harmless).chosen["main"].passed_over is None


def test_a_change_is_passed_over_where_another_pump_stays_over_with_it(cold: Judgement) -> None:
    """What is recommended for the main pump does for the pilot, which the other one leaves as it is."""
    thin = filled(cold, "main", THIN)
    other = replace(changed("main", "lower main", cold.layout), gain=3e4, leaves=("pilot: over",))
    choices = of_main(cold, other, thin).chosen
    assert choices["pilot"].serves == "main"
    passed = choices["main"].passed_over
    assert passed is not None
    pilot = next(place for pump, place in worst_places(cold) if pump == "pilot")
    assert passed.but.startswith("pilot is over by ")
    assert f"{-pilot.ledger.margin / 1e3:.2f} kPa" in passed.but


def allowing(layout: Layout, **vacuum: str) -> Layout:
    """Pumps by name with makers that allow other vacuums."""
    pumps = {
        name: replace(
            layout.pumps[name],
            limit=Limit(LimitForm.VACUUM, ((None, quantity(each, Kind.VACUUM)),)),
        )
        for name, each in vacuum.items()
    }
    return replace(layout, pumps={**layout.pumps, **pumps})


def test_a_last_resort_for_all_gives_way_to_changes_that_are_enough_together(cold: Judgement) -> None:
    """The pilot's best change cannot go with that of the main pump; a tank for pressure would do for both."""
    layout = cold.layout
    main = changed("main", "agree on another limit", allowing(layout, main="80 kPa"))
    excluded = changed("pilot", "agree on two", allowing(layout, main="1 kPa", pilot="80 kPa"))
    goes_with = replace(changed("pilot", "agree on one", allowing(layout, pilot="80 kPa")), gain=1e4)
    resort = replace(
        changed("main", "hold a pressure", allowing(layout, main="81 kPa", pilot="81 kPa")),
        only="Only with a tank built for it",
    )
    for pilots, chosen in (((excluded, goes_with), [main, goes_with]), ((excluded,), [resort, resort])):
        choices = choices_of(cold, {"main": advice(main, resort), "pilot": advice(*pilots)}, None)
        assert [choices[pump].fix for pump in ("main", "pilot")] == chosen


def test_changes_that_are_not_enough_together_give_no_way_to_a_last_resort(cold: Judgement) -> None:
    """What each is said to do by itself is judged once more with the other."""
    layout = cold.layout
    main = changed("main", "agree on another limit", allowing(layout, main="80 kPa"))
    excluded = changed("pilot", "agree on two", allowing(layout, main="1 kPa", pilot="80 kPa"))
    short = replace(changed("pilot", "agree on too little", allowing(layout, pilot="1 kPa")), gain=1e4)
    resort = replace(
        changed("main", "hold a pressure", allowing(layout, main="81 kPa", pilot="81 kPa")),
        only="Only with a tank built for it",
    )
    choices = choices_of(cold, {"main": advice(main, resort), "pilot": advice(excluded, short)}, None)
    assert [choice.fix for choice in choices.values()] == [resort, resort]


def test_what_one_change_leaves_open_is_not_said_where_another_that_goes_with_it_ends_it(
    cold: Judgement,
) -> None:
    main = replace(filled(cold, "main", THICK), leaves=("pilot: over by 1 kPa", "nozzle: too near"))
    pilot = replace(
        changed("pilot", "lower pilot", cold.layout), leaves=("main: over by 2 kPa", "nozzle: too near")
    )
    texts = " ".join(
        recommendation(JudgedDrawing("", cold, {"main": advice(main), "pilot": advice(pilot)}), None, SI)
    )
    assert texts.count("It leaves open: nozzle: too near.") == 2
    assert "pilot: over by 1 kPa" not in texts
    assert "main: over by 2 kPa" not in texts


def test_a_size_that_is_just_enough_is_not_said_twice(cold: Judgement) -> None:
    for size, said in ((MIDDLE, False), (f"fluid {MIDDLE}", False), (THICK, True)):
        fix = replace(filled(cold, "main", MIDDLE), just_enough=size)
        assert ("Just enough: " in " ".join(recommendation(of_main(cold, fix), None, SI))) is said


def test_a_change_that_brings_a_stop_comes_behind_every_one_that_is_enough() -> None:
    """It buys more, and another is enough without a stop: what stops the pump is not recommended."""
    now = cold_header()
    thin = filled(now, "main", THIN)
    stopping = replace(
        changed("main", "warm the fluid", thin.layout), gain=9e4, worsens=("main: too cold",), stops=True
    )
    dear = replace(thin, only="Only with a tank built for it", leaves=("main: fast", "main: near"))
    choice = choices_of(now, {"main": advice(stopping, dear), "pilot": advice()}, None)["main"]
    assert choice.fix is dear
    alone = choices_of(now, {"main": advice(stopping), "pilot": advice()}, None)["main"]
    assert alone.fix is stopping, "named, as nothing else gains anything"
    drawn = JudgedDrawing("", now, {"main": advice(stopping), "pilot": advice()})
    texts = " ".join(recommendation(drawn, None, System.US))
    assert texts.count("But then: main: too cold.") == 1
    assert f"{NONE_ENOUGH}; this is the one to begin with." in texts
