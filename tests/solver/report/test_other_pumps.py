"""A pump with other figures is another pump, and one whose maker allows more has to say so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.judgement import judge
from solver.layout.file import parse
from solver.layout.kinds import LimitForm
from solver.layout.parts import Layout, Limit, Pump
from solver.network.build import build
from solver.quantities.units import Kind, System, quantity
from solver.report.choosing import JudgedDrawing
from solver.report.order_of_work import order_of_work
from solver.report.other_pumps import limit_text, other_pumps
from solver.report.parts_list import PUMPS, parts_list
from solver.report.recommendation import recommendation
from tests import drawings

SI = System.SI


@pytest.fixture
def before() -> Layout:
    return parse(drawings.RISER).base


def _with(layout: Layout, **figures: object) -> Layout:
    (pump,) = layout.pumps.values()
    return replace(layout, pumps={pump.name: replace(pump, **figures)})  # type: ignore[arg-type]


def _looser(layout: Layout) -> tuple[Pump, Layout]:
    (pump,) = layout.pumps.values()
    ((at, figure),) = pump.limit.table
    limit = replace(pump.limit, table=((at, replace(figure, si=figure.si * 1.5)),))
    return pump, _with(layout, limit=limit)


def test_nothing_where_the_pump_only_moves_or_is_typed_otherwise(before: Layout) -> None:
    (pump,) = before.pumps.values()
    moved = _with(before, at=(quantity("9 m", Kind.ELEVATION), pump.at[1]))
    assert other_pumps(before, moved) == ()
    assert other_pumps(before, before) == ()


def test_another_limit_takes_another_pump_or_the_word_of_its_maker(before: Layout) -> None:
    pump, after = _looser(before)
    (other,) = other_pumps(before, after, SI)
    assert not other.bought
    assert "its maker's written consent" in other.needs
    for layout in (before, after):
        assert limit_text(layout.pumps[pump.name].limit, SI) in other.order


def test_a_looser_limit_in_one_case_is_one_too() -> None:
    cases = '\n[cases.cold]\nfluid.temperature = "20 degC"\n'
    before = parse(drawings.RISER + cases).base
    after = parse(drawings.RISER + cases + 'pumps.carriage.limit = { vacuum = "10 inHg" }\n').base
    (other,) = other_pumps(before, after, SI)
    assert 'limit 33.9 kPa of vacuum in place of 23.7 kPa of vacuum in "cold"' in other.order
    (back,) = other_pumps(after, before, SI)
    assert 'limit 23.7 kPa of vacuum in place of 33.9 kPa of vacuum in "cold"' in back.order
    assert other_pumps(after, after) == ()


def test_another_displacement_is_bought_whatever_the_maker_says(before: Layout) -> None:
    (other,) = other_pumps(
        _with(before, displacement=quantity("50 cm^3", Kind.DISPLACEMENT)),
        _with(before, displacement=quantity("80 cm^3", Kind.DISPLACEMENT)),
        SI,
    )
    assert other.bought
    assert "consent" not in other.order
    assert "80.0 cm³/rev in place of 50.0 cm³/rev" in other.order


def test_it_is_ordered_and_counted_on_and_no_line_of_the_list_is_for_both(before: Layout) -> None:
    pump, after = _looser(before)
    drawn = JudgedDrawing("", judge(before), {})
    chosen = JudgedDrawing("Other", judge(after), {}, before)
    steps = list(order_of_work(chosen, SI))
    assert any(step.startswith(f"Buy another pump for {pump.name}, or get") for step in steps)
    assert any(f"another pump for {pump.name}" in text for text in recommendation(drawn, chosen, SI))
    assert not any(step.startswith("Buy") for step in order_of_work(drawn, SI))
    one, other = (
        {item.key for item in parts_list(each, build(each).rows) if item.group == PUMPS}
        for each in (before, after)
    )
    assert one.isdisjoint(other)


def test_an_absolute_limit_is_shown_in_the_unit_of_the_column() -> None:
    limit = Limit(LimitForm.PRESSURE, ((None, quantity("0.8 bar", Kind.PRESSURE)),))
    assert limit_text(limit, System.US) == "23.6 inHg absolute"
    assert limit_text(limit, SI) == "80.0 kPa absolute"
