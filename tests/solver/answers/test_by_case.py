"""How far one thing may go in each case by itself."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers.answer import (
    HIGHEST_PORT,
    HOPELESS,
    NO_HEIGHT,
    Answer,
    AnswerInCase,
    Status,
    in_brief,
    in_short,
)
from solver.answers.ask import ask, ask_all, highest_port
from solver.answers.by_case import _as_far_as_all
from solver.layout import file
from solver.layout.cases import AS_DRAWN, only_case
from solver.layout.parts import SHORT_CASE, Layout
from solver.quantities.units import Kind, quantity
from tests.drawings import RISER

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def started_at(temperature: str) -> Layout:
    """The lifted line of a drawing with a limit that a cold start makes hard to keep."""
    layout = file.parse(RISER, "riser").base
    cold = quantity(temperature, Kind.TEMPERATURE)
    return replace(layout, cases={}, fluid=replace(layout.fluid, coldest_start=cold))


def test_the_highest_port_has_a_line_for_each_case_and_the_deciding_one_is_marked():
    layout = started_at("5 degC")
    pump = next(iter(layout.pumps))
    answers = ask_all(layout, pump)
    whole = answers[0]
    assert [each.case for each in whole.by_case] == [AS_DRAWN, SHORT_CASE]
    for each in whole.by_case:
        alone = highest_port(only_case(layout, each.case), pump)
        assert each.value == pytest.approx(alone.value, abs=1e-4)
    (decides,) = [each for each in whole.by_case if each.decides]
    assert decides.case == SHORT_CASE
    assert decides.value == pytest.approx(whole.value, abs=1e-4)
    assert f'"{SHORT_CASE}" (decides): ' in whole.whole_text
    assert whole.whole_text.count("decides") == 1


def test_of_a_case_that_is_asked_for_alone_the_others_have_no_say():
    layout = started_at("5 degC")
    pump = next(iter(layout.pumps))
    alone = ask_all(layout, pump, case=AS_DRAWN)
    assert {each.case for each in alone} == {AS_DRAWN}
    assert not any(each.by_case for each in alone)
    lone = ask_all(only_case(layout, AS_DRAWN), pump)
    assert [(each.value, each.text) for each in alone] == [(each.value, each.text) for each in lone]


def test_what_is_hopeless_in_one_case_alone_is_answered_for_the_others():
    layout = started_at("-20 degC")
    pump = next(iter(layout.pumps))
    answers = in_brief(ask_all(layout, pump))
    height = answers[0]
    assert (height.question, height.status, height.value) == (HIGHEST_PORT, Status.ALREADY_OVER, None)
    by_case = {each.case: each for each in height.by_case}
    assert by_case[SHORT_CASE].text == NO_HEIGHT
    assert by_case[SHORT_CASE].decides
    assert by_case[AS_DRAWN].value is not None
    others = [each for each in answers if each.by_case and each is not height]
    assert others
    for answer in others:
        assert answer.text.endswith(": not enough alone")
        assert any(each.text == HOPELESS for each in answer.by_case)
        assert not all(each.text == HOPELESS for each in answer.by_case)


def test_one_case_alone_needs_no_lines_by_case():
    layout = only_case(started_at("5 degC"), AS_DRAWN)
    assert not any(each.by_case for each in ask_all(layout, next(iter(layout.pumps))))


def test_a_case_whose_own_search_ends_at_a_line_that_cannot_be_built_has_what_holds_in_all():
    layout = started_at("5 degC")
    pump = next(iter(layout.pumps))
    of_all = highest_port(layout, pump)
    ended = replace(of_all, value=None, status=Status.ALREADY_OVER)
    held = _as_far_as_all(ended, of_all)
    assert (held.value, held.status) == (of_all.value, Status.NO_LIMIT)
    assert in_short(held, layout.units).startswith("at least ")
    assert _as_far_as_all(of_all, ended) is of_all
    assert _as_far_as_all(ended, ended).hopeless


def test_no_case_decides_where_the_search_ends_at_a_line_that_cannot_be_built():
    layout = file.read(LAYOUTS / "over-the-bund-wall.toml").base
    height = ask_all(layout, "transfer")[0]
    assert (height.question, height.status) == (HIGHEST_PORT, Status.NO_LIMIT)
    assert {each.status for each in height.by_case} == {Status.FOUND, Status.NO_LIMIT}
    assert not any(each.decides for each in height.by_case), "3.14 m as drawn does not set 1.67 m for all"


def test_cases_that_come_to_one_figure_share_a_line_and_two_questions_alike_are_one():
    def of(*texts):
        cases = tuple(
            AnswerInCase(f"c{at}", Status.ALREADY_OVER, None, text, at == 1) for at, text in enumerate(texts)
        )
        text = "Longest run: already over at 1 m, straight pipe in hose"
        return Answer("longest run", None, text, Kind.LENGTH, Status.ALREADY_OVER, by_case=cases)

    some = of(HOPELESS, HOPELESS, "13 ft")
    assert some.case_lines == (f'"c0", "c1" (decides): {HOPELESS}', '"c2": 13 ft')
    assert of(HOPELESS, HOPELESS).whole_text.endswith(f"; in every case: {HOPELESS}")
    hose = replace(some, question="longest hose", text=some.text.replace("run", "hose"))
    assert [each.question for each in in_brief((some, hose))] == ["longest run"]


def test_a_coldest_start_asked_of_cases_that_differ_is_one_temperature_for_all():
    layout = started_at("5 degC")
    pump = next(iter(layout.pumps))
    assert "the same in every case" in ask("coldest start", layout, pump).text
    assert "the same in every case" not in ask("coldest start", only_case(layout, AS_DRAWN), pump).text


def test_a_figure_that_all_cases_come_to_is_said_once():
    layout = started_at("5 degC")
    pump = next(iter(layout.pumps))
    height = ask_all(
        replace(layout, fluid=replace(layout.fluid, temperature=layout.fluid.coldest_start)), pump
    )[0]
    assert {each.text for each in height.by_case} == {height.text.partition(": ")[2].partition(" (")[0]}
    assert height.case_lines == ()
    assert height.whole_text == height.text
