"""The order of work: what no change of the line can do is settled before anything is built."""

from __future__ import annotations

from dataclasses import replace

from solver.findings.judgement import judge
from solver.fixes.overhead import ASK
from solver.layout.file import parse
from solver.quantities.units import Kind, System, typeset
from solver.report.choices import Choice
from solver.report.choosing import JudgedDrawing
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import NONE_ENOUGH, recommendation
from tests.drawings import SHIPPED
from tests.solver.fixes.test_overhead import advice, hungry
from tests.solver.report.test_choices import MIDDLE, THIN, changed, cold_header, filled
from tests.solver.report.test_choices import advice as advice_of

SI = System.SI


def test_where_no_change_is_enough_what_would_be_is_settled_first_and_told_once() -> None:
    """A pump that needs more at its port than the atmosphere has: a tank above it, or a charge pump."""
    now = judge(hungry(190e3))
    drawn = JudgedDrawing("", now, {"pump": advice()})
    needed = drawn.chosen["pump"].overhead
    assert needed is not None
    fix = drawn.chosen["pump"].fix
    assert fix is not None
    assert not fix.cures
    (text,) = recommendation(drawn, None, SI)
    steps = list(order_of_work(drawn, (), SI))
    assert NONE_ENOUGH in text
    assert needed.would_do(SI) in text
    assert f"Of what was tried, to {fix.text} {fix.buys(SI)}" in text
    (first,) = (number for number, step in enumerate(steps) if step.startswith("Settle first"))
    assert first == 0
    assert needed.in_short(SI) in steps[0]
    assert ASK in steps[0]
    assert not any(fix.text[1:] in step for step in steps), "what is not enough is no step"
    kept = f"{typeset(needed.thin, Kind.VACUUM, SI, 2)} of that is kept"
    assert kept in text
    assert not any(kept in step for step in steps)


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


def filling(name: str, **pump: object) -> str:
    """The order to fill an example's line, its pumps changed."""
    base = parse(next(each for each in SHIPPED if each.stem == name).read_text()).base
    changed = replace(base, pumps={key: replace(each, **pump) for key, each in base.pumps.items()})
    (order,) = (
        step for step in order_of_work(JudgedDrawing("", judge(changed), {}), (), SI) if "Fill " in step
    )
    return order


def test_a_pump_that_draws_its_line_full_is_filled_alone_as_its_plan_has_it() -> None:
    """Its plan has the line stay empty, with nothing to hold it full."""
    assert filling("winter-press") == "Fill press, which draws its empty line full, before the first start."
    assert filling("winter-press", dry_lift=None) == "Fill line and pump before the first start."
    assert filling("over-the-bund-wall") == "Fill line and pump before the first start.", (
        "its valve holds it full"
    )


def test_a_machine_that_was_read_running_has_had_its_first_start() -> None:
    assert filling("strainer-over-a-year").endswith(" before the first start after the line was opened.")
