"""An alternative is built for what it is for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.judgement import Judgement, judge
from solver.layout import file
from solver.layout.parts import Case, Layout, Level
from solver.ledger.cases import CaseSolution
from solver.ledger.sentences import sentence_of_pump
from solver.network.build import NetworkError
from solver.quantities.units import Kind, System, quantity
from solver.report import choosing
from solver.report.choosing import (
    JudgedDrawing,
    advised_on,
    better,
    for_other_conditions,
    only_conditions,
    other_conditions,
    pumps_gone_in,
    rebuilds,
    under_conditions_of,
)
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import recommendation
from tests.drawings import SHIPPED
from tests.solver.checking import lifted, with_floor
from tests.solver.report.test_choices import MIDDLE, THIN, advice, cold_header, filled

SI = System.SI


def test_where_a_fault_put_right_is_enough_nothing_is_built() -> None:
    cold = cold_header()
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
        assert ("No alternative is sure to leave more margin" in texts) is not bool(wanted)
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


def on_a_mild_day(layout: Layout) -> Layout:
    """A drawing on a site that lies lower: more air, and nothing of the line is other."""
    return replace(layout, site=replace(layout.site, elevation=quantity("-300 m", Kind.ELEVATION)))


def test_what_is_no_work_is_no_remedy_however_much_more_margin_it_has() -> None:
    drawn, mild = judge(with_floor(lifted(), 99e3)), judge(on_a_mild_day(with_floor(lifted(), 99e3)))
    worst, then = drawn.worst(), mild.worst()
    assert worst is not None
    assert then is not None
    assert then.ledger.margin > worst.ledger.margin + 1e3
    assert only_conditions(drawn.layout, mild.layout)
    assert not better(drawn, mild)
    before, after = JudgedDrawing("", drawn, {}), JudgedDrawing("Lower", mild, {}, drawn.layout)
    assert advised_on(before, after, SI) is before
    texts = " ".join(recommendation(before, after, SI))
    assert '"Lower" builds nothing new, it is the line as drawn under other conditions (site: ' in texts
    assert "Build" not in texts
    heated = replace(
        drawn.layout, fluid=replace(drawn.layout.fluid, temperature=quantity("60 degC", Kind.TEMPERATURE))
    )
    assert not only_conditions(drawn.layout, heated), "a heater is to be provided"


def test_a_narrower_line_is_not_better_for_a_site_that_lies_lower() -> None:
    drawn = judge(with_floor(lifted(), 99e3))
    narrower, wider = (judge(with_floor(lifted(bore=bore), 99e3)) for bore in (0.045, 0.06))
    lower, wide = (judge(on_a_mild_day(each.layout)) for each in (narrower, wider))
    margins = [
        place.ledger.margin for each in (narrower, drawn, lower) if (place := each.worst()) is not None
    ]
    assert margins == sorted(margins), "on the lower site it has the most"
    assert rebuilds(drawn.layout, lower.layout)
    assert not better(drawn, narrower)
    assert not better(drawn, lower)
    assert better(drawn, wider)
    assert better(drawn, wide)


def test_one_that_cannot_be_judged_on_the_site_of_the_drawing_is_not_better(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drawn = judge(with_floor(lifted(), 99e3))
    wide = judge(on_a_mild_day(with_floor(lifted(bore=0.06), 99e3)))
    there = judge(replace(wide.layout, site=drawn.layout.site))
    assert better(drawn, wide)
    unjudged = replace(there, cases={**there.cases, "frost": CaseSolution("frost")})
    monkeypatch.setattr(choosing, "judge", lambda *_: unjudged)
    assert not better(drawn, judge(wide.layout))

    def refuse(*_: object) -> Judgement:
        raise NetworkError((("pump", "no answer"),))

    monkeypatch.setattr(choosing, "judge", refuse)
    assert not better(drawn, judge(wide.layout))


def test_an_alternative_for_other_conditions_says_how_the_line_as_drawn_stands_under_them() -> None:
    """Colder oil in the line as drawn, and in a wider one that is built for it."""
    drawn, after = judge(lifted()), judge(in_the_cold(lifted(bore=0.045)))
    layout = under_conditions_of(drawn, after)
    assert layout is not None
    assert (layout.runs, layout.fluid) == (drawn.layout.runs, after.layout.fluid)
    assert under_conditions_of(drawn, drawn) is None
    for unchanged, would in (
        (judge(layout), "would do too"),
        (judge(with_floor(layout, 99e3)), "would not do"),
    ):
        named = JudgedDrawing("Other", after, {}, drawn.layout, unchanged=unchanged)
        texts = " ".join(recommendation(JudgedDrawing("", drawn, {}), named, SI))
        worst = unchanged.worst()
        assert worst is not None
        assert f"Under them the line as drawn {would}: {sentence_of_pump(worst.ledger, SI)}." in texts
        assert "that of the drawing as it stands" not in texts


@pytest.mark.parametrize("height", [1.2, 0.2])
def test_a_line_that_rises_over_the_fluid_is_filled_before_a_first_start(height: float) -> None:
    """Whether anything is built or not: a pump under the fluid has it run in by itself. Common practice, no
    source."""
    drawn = judge(lifted(z=height))
    colder = judge(in_the_cold(lifted(z=height)))
    after = JudgedDrawing("Cold", colder, {}, drawn.layout)
    for each in (JudgedDrawing("", drawn, {}), after):
        steps = " ".join(order_of_work(each, SI))
        assert ("Fill line and pump before the first start." in steps) is (height > 0.4)


def test_where_pressure_is_asked_for_no_vacuum_gauge_is_read() -> None:
    path = next(each for each in SHIPPED if each.stem == "carriage-at-altitude")
    beside = judge(file.read(path).alternatives["Pump beside the tank"].layout)
    steps = order_of_work(JudgedDrawing("", beside, {}), SI)
    (step,) = (text for text in steps if text.startswith("Read"))
    assert step.startswith("Read a compound gauge (")
    assert "at the port. Expected: carriage " in step


def test_a_narrower_line_is_not_better_for_a_case_that_is_milder() -> None:
    """It is rebuilt, and has the drawing's cold morning on a mild day: that is no gain of its line."""
    narrow, wide = lifted(bore=0.045), lifted(bore=0.06)
    cold, mild = (
        {"cold morning": Case(figures={("fluid", "temperature"): quantity(text, Kind.TEMPERATURE)})}
        for text in ("5 degC", "40 degC")
    )
    limit = 97e3
    drawn, milder, wider, both = (
        judge(with_floor(replace(layout, cases=cases), limit))
        for layout, cases in ((lifted(), cold), (narrow, mild), (wide, cold), (wide, mild))
    )
    worst, then = drawn.worst(), milder.worst()
    assert worst is not None
    assert then is not None
    assert then.order > worst.order, "by its own case"
    assert rebuilds(drawn.layout, milder.layout)
    assert not better(drawn, milder)
    assert better(drawn, wider)
    assert better(drawn, both)


def test_a_case_of_a_pump_that_is_gone_is_told_apart_from_one_that_is_not_judged() -> None:
    drawing = file.read(SHIPPED[0].with_name("header-two-pumps.toml"))
    before = JudgedDrawing("", judge(drawing.base), {})
    alone = judge(drawing.alternatives["Main pump alone"].layout)
    after = JudgedDrawing("Main pump alone", alone, {}, base=drawing.base)
    assert pumps_gone_in(before.judgement, alone) == {"pilot alone": ("pilot",)}
    said = " ".join(recommendation(before, after, System.US))
    gone = '"Main pump alone" takes away the pump pilot, what that supplies and the case "pilot alone".'
    assert gone in said
    assert "Judge it there first" not in said
    bare = judge(replace(drawing.base, cases={"pilot alone": drawing.base.cases["pilot alone"]}))
    said = " ".join(recommendation(before, JudgedDrawing("Bare", bare, {}, base=drawing.base), System.US))
    assert '"Bare" has no case "main alone": how it stands there is not known. Judge it there first.' in said


def test_an_alternative_is_judged_once_under_the_same_conditions(monkeypatch: pytest.MonkeyPatch) -> None:
    layout = file.read(SHIPPED[0]).base
    warmer = replace(layout, site=replace(layout.site, elevation=quantity("700 m", Kind.LENGTH)))
    after, asked = judge(layout), []

    def judged(layout: Layout, level: Level) -> Judgement:
        asked.append(layout)
        return judge(layout, level)

    monkeypatch.setattr(choosing, "judge", judged)
    first = choosing.judged_alike(warmer, after)
    assert first is not None
    assert choosing.judged_alike(replace(warmer, title=warmer.title), after) is first
    assert choosing.judged_alike(layout, after) is not first
    assert asked == [warmer, layout]
