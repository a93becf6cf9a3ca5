"""A change that was solved and would do as well as an alternative is named beside it, with what it leaves."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.findings.judgement import judge
from solver.fixes.fixes import advise_all
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import Kind, System, quantity
from solver.report.choices import makes
from solver.report.choosing import JudgedDrawing
from solver.report.clearing import uncleared
from solver.report.moments import is_within_in_all
from solver.report.not_drawn import would_do_too
from solver.report.recommendation import recommendation

LAYOUTS = Path(__file__).parents[3] / "layouts"
US = System.US


def both(name: str, alternative: str) -> tuple[JudgedDrawing, JudgedDrawing]:
    """A drawing and an alternative, each with what was solved for it."""
    drawing = file.read(LAYOUTS / f"{name}.toml")
    base, other = drawing.base, drawing.alternatives[alternative].layout
    advice = advise_all(other, Level.MINIMUM, base)
    return (
        JudgedDrawing("", judge(base), advise_all(base)),
        JudgedDrawing(alternative, judge(other), advice, base=base),
    )


@pytest.fixture(scope="module")
def press() -> tuple[JudgedDrawing, JudgedDrawing]:
    return both("winter-press", "High-VI oil, ISO VG 32")


@pytest.fixture(scope="module")
def header() -> tuple[JudgedDrawing, JudgedDrawing]:
    return both("header-two-pumps", "Three-inch header")


def test_a_solved_change_that_leaves_more_than_the_alternative_is_named(press) -> None:
    before, after = press
    text = would_do_too(before, after, US)
    assert text.startswith(
        "What would do more is not drawn yet: fill the tank with Mineral oil, ISO VG 22 (margin 0.97 inHg)"
    )
    assert text.endswith(" Draw it before ordering.")
    texts = list(recommendation(before, after, US))
    assert text in texts
    assert texts[0].startswith('Choose "High-VI oil, ISO VG 32": press is then within'), texts[0]
    (fix,) = (each for each in before.advice["press"].fixes if "ISO VG 22" in each.text)
    then = judge(fix.layout)
    assert is_within_in_all(then)
    assert not is_within_in_all(after.judgement), "over on a low-pressure day"
    assert uncleared(then) == []


def test_one_that_is_over_in_a_moment_or_makes_worse_is_not_named(press) -> None:
    """A heater buys most, and leaves its line cold."""
    before, after = press
    advice = before.advice["press"]
    warm = tuple(each for each in advice.fixes if each.text.startswith("warm the fluid"))
    assert warm
    assert all(each.cures and each.gain > 6.8 * 3386.389 for each in warm), "more than the oil buys"
    only = replace(before, advice={"press": replace(advice, fixes=warm)})
    assert would_do_too(only, after, US) == ""
    assert would_do_too(replace(before, advice={}), after, US) == ""


def test_one_that_leaves_less_would_also_do_and_what_is_drawn_is_built(press) -> None:
    """Beside an oil that is thinner still, which leaves nothing to be cleared either."""
    before, _ = press
    (fix,) = (each for each in before.advice["press"].fixes if "ISO VG 22" in each.text)
    pump = fix.layout.pumps["press"]
    lower = replace(pump, limit=replace(pump.limit, table=((None, quantity("6.2 inHg", Kind.VACUUM)),)))
    after = JudgedDrawing(
        "Other", judge(replace(fix.layout, pumps={"press": lower})), {}, before.judgement.layout
    )
    assert after.judgement.worst().ledger.margin > fix.margin
    first, *_ = recommendation(before, after, US)
    assert first.startswith('Build "Other"')


def test_none_is_set_beside_an_alternative_that_is_judged_at_a_colder_start(header) -> None:
    before, after = header
    layout = after.judgement.layout
    colder = replace(layout.fluid, coldest_start=quantity("55 degF", Kind.TEMPERATURE))
    cold = replace(after, judgement=judge(replace(layout, fluid=colder)))
    assert cold.judgement.sound
    assert would_do_too(before, after, US)
    assert would_do_too(before, cold, US) == "", "it was solved for the start that is drawn"


def test_a_change_that_the_alternative_makes_among_others_is_said_to_be_drawn(press) -> None:
    before, _ = press
    base = before.judgement.layout
    (fix,) = (each for each in before.advice["press"].fixes if "ISO VG 22" in each.text)
    tank = base.reservoirs["tank"]
    fuller = replace(tank, minimum_level=quantity("13 in", Kind.LENGTH))
    both = replace(base, fluid=fix.layout.fluid, reservoirs={"tank": fuller})
    text = would_do_too(before, JudgedDrawing("B.toml", judge(both), {}, base), US)
    assert text.startswith(
        'Of what "B.toml" changes this alone would do: fill the tank with Mineral oil, ISO VG 22'
    )
    assert "not drawn" not in text
    assert not makes(replace(base, reservoirs={"tank": fuller}), fix, base)


def test_a_change_for_one_pump_is_named_where_it_does_for_all(header) -> None:
    before, after = header
    text = would_do_too(before, after, US)
    assert (
        "yet: lay the whole line from tank to main in NPS 3 schedule 40 (margin 3.25 inHg). Draw it " in text
    )
    fixes = before.advice["main"].fixes
    unfit = tuple(each for each in fixes if not is_within_in_all(judge(each.layout)))
    assert any(each.cures for each in unfit)
    only = replace(before, advice={**before.advice, "main": replace(before.advice["main"], fixes=unfit)})
    assert would_do_too(only, after, US) == "", "the fluid stays too fast for the pilot to run"
