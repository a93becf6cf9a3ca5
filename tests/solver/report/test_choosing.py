"""What is recommended for several pumps can be built together; an alternative is built for what it is for."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from solver.findings.judgement import Judgement, judge
from solver.fixes.fixes import Advice, Fix
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from solver.report.choosing import (
    JudgedDrawing,
    advised_on,
    choices_of,
    for_other_conditions,
    other_conditions,
    rebuilds,
    worst_places,
)
from solver.report.recommendation import order_of_work, recommendation
from tests.drawings import SHIPPED
from tests.solver.checking import lifted, with_floor

SI = System.SI
THICK, MIDDLE, THIN = (f"Mineral oil, ISO VG {grade}" for grade in (100, 46, 32))


@pytest.fixture(scope="module")
def cold() -> Judgement:
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
    texts, steps = " ".join(recommendation(chosen, None, SI)), " ".join(order_of_work(chosen, (), SI))
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


def test_where_a_fault_put_right_is_enough_nothing_is_built(cold: Judgement) -> None:
    mended = replace(filled(cold, "main", MIDDLE), as_drawn=True)
    both = {"main": advice(mended), "pilot": advice(replace(mended, pump="pilot"))}
    drawn = JudgedDrawing("", cold, both)
    thin = judge(filled(cold, "main", THIN).layout)
    other = JudgedDrawing("Thin oil", thin, {}, cold.layout)
    assert advised_on(drawn, other, SI) is drawn
    first, *more = recommendation(drawn, other, SI)
    assert first == 'Put right what is wrong before "Thin oil" or anything else is built.'
    assert any(MIDDLE in each for each in more)
    as_it_is = JudgedDrawing("", cold, {"main": advice(replace(mended, as_drawn=False))})
    assert advised_on(as_it_is, other, SI) is other


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


def in_the_cold(layout: Layout) -> Layout:
    return replace(layout, fluid=replace(layout.fluid, temperature=quantity("20 degC", Kind.TEMPERATURE)))


def test_an_alternative_with_less_margin_is_built_only_for_what_the_drawing_does_not_do() -> None:
    drawn = judge(lifted())
    same, cold_one = judge(lifted(bore=0.045)), judge(in_the_cold(lifted(bore=0.045)))
    before = JudgedDrawing("", drawn, {})
    for after, wanted in ((same, ()), (cold_one, other_conditions(drawn, cold_one, SI))):
        assert for_other_conditions(drawn, after, SI) == wanted
        named = JudgedDrawing("Other", after, {}, drawn.layout, note="So that it costs less.")
        assert advised_on(before, named, SI) is (named if wanted else before)
        texts = " ".join(recommendation(before, named, SI))
        assert 'Its note: "So that it costs less."' in texts
        assert ("No alternative shown here leaves more margin" in texts) is not bool(wanted)
    assert wanted


def test_colder_fluid_in_the_same_line_is_nothing_to_build() -> None:
    drawn, colder = judge(lifted()), judge(in_the_cold(lifted()))
    before, after = JudgedDrawing("", drawn, {}), JudgedDrawing("Cold", colder, {}, drawn.layout)
    assert not rebuilds(drawn.layout, colder.layout)
    assert not for_other_conditions(drawn, colder, SI)
    assert advised_on(before, after, SI) is before
    texts = " ".join(recommendation(before, after, SI))
    assert "The line as drawn does for other conditions too (" in texts
    assert "Build" not in texts


@pytest.mark.parametrize("height", [1.2, 0.2])
def test_a_line_that_rises_over_the_fluid_is_filled_before_a_first_start(height: float) -> None:
    """Whether anything is built or not: a pump under the fluid has it run in by itself. Common practice, no
    source."""
    drawn = judge(lifted(z=height))
    colder = judge(in_the_cold(lifted(z=height)))
    after = JudgedDrawing("Cold", colder, {}, drawn.layout)
    for each in (JudgedDrawing("", drawn, {}), after):
        steps = " ".join(order_of_work(each, (), SI))
        assert ("Fill line and pump before the first start." in steps) is (height > 0.4)


def test_where_pressure_is_asked_for_no_vacuum_gauge_is_read() -> None:
    above = judge(with_floor(lifted(), 110e3))
    (step,) = (
        text for text in order_of_work(JudgedDrawing("", above, {}), (), SI) if text.startswith("Read")
    )
    assert step == "Read a gauge that shows pressure and vacuum at each port, with warm and with cold fluid."
