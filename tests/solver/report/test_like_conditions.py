"""Of two drawings that are judged under different conditions neither comes first by these."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.findings.judgement import Judgement, judge
from solver.layout import file
from solver.layout.parts import Case, Layout
from solver.quantities.units import Kind, System, quantity, typeset
from solver.report.choosing import JudgedDrawing
from solver.report.doubts import compared_as_asked
from solver.report.like_conditions import at_conditions_of, harder_conditions, under_those_of

LAYOUTS = Path(__file__).parents[3] / "layouts"
TEXT = (LAYOUTS / "header-two-pumps.toml").read_text(encoding="utf-8")
HEADER = file.read(LAYOUTS / "header-two-pumps.toml")
PRESS = file.read(LAYOUTS / "winter-press.toml")
COLD = 'coldest_start = "60 degF"', 'coldest_start = "50 degF"'
SI = System.SI


@pytest.fixture(scope="module")
def cold() -> Layout:
    """Pipe of the next size, for a colder start than is drawn."""
    wider = TEXT.replace("NPS 2 schedule 40", "NPS 2-1/2 schedule 40").replace(*COLD)
    return file.parse(wider).base


@pytest.fixture(scope="module")
def wide() -> Judgement:
    return judge(HEADER.alternatives["Three-inch header"].layout)


def test_the_other_is_judged_with_the_cold_of_the_one_asked_for(cold: Layout, wide: Judgement) -> None:
    asked = judge(cold)
    alike = under_those_of(wide, asked, HEADER.base)
    assert alike is not None
    (typed,) = (each.layout for each in [file.parse(TEXT.replace(*COLD)).alternatives["Three-inch header"]])
    own, then, least = (each.worst() for each in (judge(typed), alike, asked))
    assert own is not None
    assert then is not None
    assert least is not None
    assert then.ledger.margin == pytest.approx(own.ledger.margin)
    assert wide.worst().ledger.margin > least.ledger.margin > then.ledger.margin
    left, other = (typeset(each.ledger.margin, Kind.VACUUM, SI, 2) for each in (then, least))
    named = JudgedDrawing("B.toml", asked, {}), JudgedDrawing("Three-inch header", wide, {})
    assert compared_as_asked(*named, HEADER.base, SI) == (
        'Compared as asked for; under the conditions of "B.toml", "Three-inch header" leaves less: '
        f"its least margin is {left}, here {other}."
    )


def test_what_is_judged_alike_is_not_judged_again_and_a_heater_is_not_lent(wide: Judgement) -> None:
    narrow = judge(HEADER.base)
    assert under_those_of(wide, narrow, HEADER.base) is wide
    oil, heater = (judge(each.layout) for each in PRESS.alternatives.values())
    assert under_those_of(oil, heater, PRESS.base) is oil
    assert under_those_of(heater, oil, PRESS.base) is heater
    assert harder_conditions(PRESS.base, heater.layout, SI) == ()


def test_one_without_a_case_of_the_one_asked_for_is_ranked_by_nothing(wide: Judgement) -> None:
    further = Case({}, {("fluid", "temperature"): quantity("70 degF", Kind.TEMPERATURE)})
    asked = judge(replace(HEADER.base, cases={**HEADER.base.cases, "noon": further}))
    assert under_those_of(wide, asked, HEADER.base) is None
    named = JudgedDrawing("B.toml", asked, {}), JudgedDrawing("Three-inch header", wide, {})
    assert compared_as_asked(*named, HEADER.base, SI) == (
        'Compared as asked for; "Three-inch header" is not judged under the conditions of "B.toml", '
        "so that neither is said to leave more."
    )


def test_colder_fluid_and_another_site_are_named(cold: Layout) -> None:
    assert harder_conditions(HEADER.base, cold, System.US) == ("a start at 50 °F in place of 60 °F",)
    assert harder_conditions(cold, HEADER.base, System.US) == ()
    higher = replace(HEADER.base.site, elevation=quantity("3000 ft", Kind.ELEVATION))
    (text,) = harder_conditions(HEADER.base, replace(HEADER.base, site=higher), System.US)
    assert text.startswith("site: elevation 3000 ft")


def test_the_line_of_another_file_is_judged_at_the_temperatures_of_the_drawing() -> None:
    """Two temperatures set against one another are no gain of a line: the warmer file had all of it."""
    drawn = judge(HEADER.base)
    fluid = HEADER.base.fluid
    warmer = replace(fluid, temperature=quantity("120 degF", Kind.TEMPERATURE), coldest_start=None)
    warm = judge(replace(HEADER.base, fluid=warmer))
    now, then = drawn.worst(), warm.worst()
    assert now is not None
    assert then is not None
    assert then.ledger.margin > now.ledger.margin
    alike = at_conditions_of(warm, drawn)
    assert alike is not None
    same = alike.worst()
    assert same is not None
    assert same.ledger.margin == pytest.approx(now.ledger.margin)
    assert at_conditions_of(drawn, drawn) is drawn
