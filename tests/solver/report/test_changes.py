"""Fixes in writing: every figure of them, and a partial drawing that makes the change."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from solver.field.as_read import as_read
from solver.layout import file
from solver.layout.raw import lay_over
from solver.quantities.units import System
from solver.report import changes
from tests.solver.fixes.test_fixes import LAYOUTS, advice, least_margin
from tests.solver.fixes.test_together import advice as starved

NAME, PUMP = "carriage-at-altitude", "carriage"


def test_each_record_is_plain_json_whose_alternative_can_be_laid_over_the_file() -> None:
    base = LAYOUTS[NAME]
    parsed = json.loads(json.dumps(changes.records(advice(NAME, PUMP), base), allow_nan=False))
    assert len(parsed) == len(advice(NAME, PUMP).fixes)
    for each in parsed:
        changed = file.from_raw(lay_over(file.to_raw(base), each["alternative"]))
        assert least_margin(changed, PUMP) == pytest.approx(each["margin_Pa"], abs=0.5)
        assert each["within"] is (each["margin_Pa"] >= 0)
        assert each["alternative"]["note"] == each["text"]


def test_the_text_names_the_case_each_change_what_it_buys_and_what_it_takes() -> None:
    text = "\n".join(line for line, _ in changes.lines(advice(NAME, PUMP), System.US))
    assert "(case: coldest start)" in text
    for fix in advice(NAME, PUMP).fixes:
        assert f"{fix.text[1:]}: {fix.buys(System.US)}" in text
        assert f"It needs: {fix.cost}." in text
    assert "Just enough: 0.88 psi; margin no longer thin: 1.27 psi." in text


def test_an_ample_margin_is_said_to_be_enough_and_a_thin_one_or_one_not_judged_is_not() -> None:
    ample = advice("baler-flooded", "baler")
    (text,) = changes.nothing_needed(ample)
    assert text == "The margin is enough as it is drawn (limit estimated)."
    unjudged = replace(ample, now=replace(ample.now, unjudged={"frost": "no data"}))
    assert list(changes.nothing_needed(unjudged)) == []
    assert list(changes.nothing_needed(advice(NAME, PUMP))) == []


def test_under_a_screen_read_as_blocked_the_margin_is_enough_as_drawn_and_cleaning_comes_first() -> None:
    layout = LAYOUTS["strainer-over-a-year"]
    read, ample = as_read(layout), advice("strainer-over-a-year", "feed")
    assert read is not None
    share = "strainer as drawn (clean), not as read (74 to 83 % blocked)"
    first = "As read feed is over: clean strainer before all else."
    assert list(changes.nothing_needed(ample, read)) == [f"The margin is enough with {share}.", first]
    short = replace(ample, now=replace(ample.now, unjudged={"frost": "no data"}))
    assert list(changes.nothing_needed(short, read)) == [f"These figures are with {share}.", first]
    brief = next(changes.brief_lines(ample, System.SI, read))
    assert brief == f"feed: clean strainer before all else; these are with {share}"
    assert first in "\n".join(line for line, _ in changes.lines(ample, System.SI, read))


def test_a_single_last_resort_that_is_enough_is_not_passed_over_in_silence() -> None:
    short = starved()
    assert short.together
    pressed = replace(short.fixes[0], only="Only with a tank built for it", cures=True, worsens=())
    text = [line for line, _ in changes.lines(replace(short, fixes=(pressed,)), System.SI)]
    assert "Only a last resort is enough by itself without harm elsewhere. Together:" in text
    others = replace(short, fixes=tuple(fix for fix in short.fixes if not fix.only))
    text = [line for line, _ in changes.lines(others, System.SI)]
    assert "No single change is enough without harm elsewhere. Together:" in text


def test_a_record_says_what_a_last_resort_asks_for() -> None:
    records = changes.records(advice(NAME, PUMP), LAYOUTS[NAME])
    asked = {each["text"]: each["last_resort"] for each in records}
    pressed = next(text for text in asked if text.startswith("hold"))
    assert asked[pressed] == "Only with a tank built for it"
    assert asked[next(iter(asked))] is None


def test_a_size_that_is_enough_for_several_things_is_named_once() -> None:
    whole = next(
        fix for fix in advice("header-two-pumps", "main").fixes if fix.text.startswith("lay the whole line")
    )
    assert (
        "Just enough and margin no longer thin: NPS 2-1/2 schedule 40;"
        " fluid no longer too fast: NPS 3 schedule 40." in changes.details(whole)
    )
