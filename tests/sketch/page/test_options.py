"""Which of several drawings stands best: by its worst case, and nothing missing makes it look better."""

from __future__ import annotations

from dataclasses import replace

from sketch.page.options import (
    Option,
    advised,
    as_it_was_read,
    best_of,
    in_units,
    option_of,
    side_by_side,
    with_findings,
    with_recommended,
    without_readings_of,
)
from solver.findings.kinds import OVER_BUDGET
from solver.findings.outlook import fails_for_a_moment
from solver.fixes.remedies import remedy
from solver.layout.parts import Level
from solver.ledger.cases import CaseSolution
from solver.quantities.units import Kind, System, quantity
from solver.report.choices import Choice
from tests.sketch.sheets import drawing, options_of, small_options
from tests.solver.checking import lifted

PRESS = "winter-press"


def test_the_best_is_the_one_whose_worst_moment_is_least_bad() -> None:
    """The heater has more left with a warm line, and is over at every start while its line is cold."""
    base, oil, heater = options_of(PRESS)
    assert best_of((oil, heater), base) is best_of((heater, oil)) is oil
    least = [option.worst() for option in (oil, heater)]
    assert all(place is not None and place.ledger.sound for place in least)
    assert least[0].ledger.margin < least[1].ledger.margin  # type: ignore[union-attr]
    assert heater.judgement is not None
    assert fails_for_a_moment(heater.judgement)
    assert max(base.order, heater.order) < oil.order


def test_a_case_that_was_not_judged_makes_a_drawing_stand_behind() -> None:
    _, oil, heater = options_of(PRESS)
    assert oil.judgement is not None
    cases = {**oil.judgement.cases, "strainer due": CaseSolution("strainer due")}
    findings = {name: each for name, each in oil.judgement.findings_by_case.items() if name != "strainer due"}
    unjudged = replace(oil, judgement=replace(oil.judgement, cases=cases, findings_by_case=findings))
    assert best_of((heater, unjudged)) is heater


def test_an_alternative_that_keeps_a_screen_read_as_blocked_comes_behind_one_that_does_not() -> None:
    """Over as read, whatever it comes to with the screen clean."""
    drawn, twice = options_of("strainer-over-a-year")
    assert drawn.judgement is not None
    kept = as_it_was_read(replace(drawn, name="Kept"), drawn, Level.MINIMUM)
    other = as_it_was_read(twice, drawn, Level.MINIMUM)
    assert kept.as_read is not None
    assert kept.as_read.is_surely_over
    assert other.as_read is None
    assert kept.order < other.order
    assert kept.order < drawn.order, "with the screen as drawn it is within"


def test_what_is_recommended_is_named_first_in_what_is_found_of_its_pump() -> None:
    """Of two pumps for which one change does, the other's finding says so."""
    plain = option_of("", "", drawing("header-two-pumps").base, Level.MINIMUM, System.US)
    option = advised(plain, Level.MINIMUM)
    assert option.judgement is not None
    assert option.choices is not None
    other = next(
        fix for fix in option.advice["main"].fixes if fix is not option.choices["main"].fix and fix.cures
    )
    chosen = {"main": Choice(other), "pilot": Choice(other, serves="main")}
    named = with_recommended(replace(option, choices=chosen), plain, Level.MINIMUM)
    assert named.judgement is not None
    over = [each for each in named.judgement.findings if each.finding in OVER_BUDGET]
    assert over
    for each in over:
        assert f"Recommended: {other.text}: {other.buys(System.US)}" in each.advice
        assert each.advice.lower().count(other.text) == 1
    served = replace(over[0], part="pilot")
    text = remedy(served, option.advice["pilot"], System.US, recommended=other)
    assert f"What is recommended for main does here too: {other.text}." in text


def test_what_is_built_and_better_goes_before_a_milder_day() -> None:
    layout = lifted()
    sea = replace(layout.site, elevation=quantity("-300 m", Kind.ELEVATION))
    base, wider, narrow, mild = (
        option_of(name, "", each, Level.MINIMUM, System.SI)
        for name, each in (
            ("", layout),
            ("Wider", lifted(bore=0.06)),
            ("Narrow", lifted(bore=0.045)),
            ("Lower", replace(layout, site=sea)),
        )
    )
    assert narrow.order < base.order < wider.order < mild.order
    assert best_of((mild, wider, narrow)) is mild
    assert best_of((mild, wider, narrow), base) is wider
    assert best_of((mild, narrow), base) is mild, "where nothing is better it is shown all the same"


def test_what_is_refused_is_never_the_best() -> None:
    refused = Option("Broken", "", None, "riser: ends in the air")
    assert best_of((refused,)) is None
    assert best_of((refused, options_of(PRESS)[1])) is options_of(PRESS)[1]


def test_a_drawing_that_cannot_be_calculated_says_why() -> None:
    layout = drawing(PRESS).base
    option = option_of("Alone", "", replace(layout, runs={}), Level.MINIMUM, System.US)
    assert option.judgement is None
    assert option.why


def test_a_judgement_in_other_units_says_all_in_those() -> None:
    judgement = options_of(PRESS)[0].judgement
    assert judgement is not None
    assert in_units(judgement, System.US) is judgement
    other = in_units(judgement, System.SI)
    assert other.layout.units == "SI"
    assert not any("inHg" in finding.text for finding in other.findings)


def test_of_an_alternative_what_has_suffered_is_put_back_as_drawn_first() -> None:
    drawn = drawing("carriage-at-altitude").base
    narrow = replace(drawn.runs["lead"], size=None, bore=quantity("30 mm", Kind.BORE))
    option = option_of(
        "worn", "", replace(drawn, runs={**drawn.runs, "lead": narrow}), Level.MINIMUM, System.US
    )
    judgement = with_findings(option, Level.MINIMUM, drawn).judgement
    assert judgement is not None
    over = next(each for each in judgement.findings if each.finding in OVER_BUDGET)
    assert over.advice.index("Put lead back as drawn") < over.advice.index("buys")


def test_of_another_file_only_readings_count_that_the_drawing_has_not() -> None:
    layout = drawing("strainer-over-a-year").base
    own = replace(layout.readings[-1], when="2026-03-30")
    drawn = option_of("", "", layout, Level.MINIMUM, System.SI)
    for readings, count in (((), 0), (layout.readings, len(layout.readings)), ((*layout.readings, own), 12)):
        other = option_of("B", "", replace(layout, readings=readings), Level.MINIMUM, System.SI)
        assert without_readings_of(other, drawn) is other, "an alternative of the same file keeps them"
        left = without_readings_of(replace(other, file="b.toml"), drawn)
        assert left.shared_readings == count
        assert left.judgement is not None
        assert left.judgement.layout.readings == ((own,) if own in readings else ())


def test_of_two_files_each_is_called_by_its_own_name() -> None:
    (drawn,) = small_options()
    other = replace(drawn, name="Rev-B.toml", file="Rev-B.toml")
    own = replace(drawn, own_name="Rev-A.toml", revision="A")
    assert (own.title, own.inside) == ("Rev-A.toml, revision A",) * 2
    assert (drawn.title, drawn.inside) == ("The drawing itself", "the drawing itself")
    assert (other.title, other.inside) == ("Rev-B.toml",) * 2
    assert side_by_side((own, other)) == "Drawings side by side"
    assert side_by_side((drawn, replace(drawn, name="Wider"))) == "Alternatives side by side"
