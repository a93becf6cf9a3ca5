"""What would do in the place of an alternative that is not enough."""

from __future__ import annotations

from dataclasses import replace

from solver.findings.judgement import judge
from solver.quantities.units import System
from solver.report.choices import Choice
from solver.report.choosing import JudgedDrawing
from solver.report.recommendation import recommendation
from tests.solver.report.test_choices import MIDDLE, THIN, changed, cold_header, filled
from tests.solver.report.test_choices import advice as advice_of

SI = System.SI


def test_without_an_alternative_that_is_not_enough_what_the_drawing_would_take_is_told() -> None:
    cold = cold_header()
    fix = filled(cold, "main", THIN)
    before, *others = (
        JudgedDrawing("", cold, {}, choices={"main": Choice(each), "pilot": Choice(each, serves="main")})
        for each in (fix, replace(fix, cures=False), replace(fix, only="Only with a tank built for it"))
    )
    after = judge(filled(cold, "main", MIDDLE).layout)
    assert not after.sound
    further = changed("main", "lower main", cold.layout)
    named = JudgedDrawing("Middle oil", after, {"main": advice_of(further)}, cold.layout)
    texts = " ".join(recommendation(before, named, SI))
    said = (
        f'Without "Middle oil", to {fix.text} ({fix.buys(SI)}) would be enough in the drawing as it stands.'
    )
    assert said in texts
    for without in others:
        assert "Without" not in " ".join(recommendation(without, named, SI))
