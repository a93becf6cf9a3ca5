"""How far each thing may go, as the solver answers it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.page.sheet_reach import IN_FULL, MOST_COLUMNS, NEVER, _by_case, _sentence
from solver.answers import ask
from solver.answers.answer import NOT_ENOUGH, AnswerInCase, Status, in_brief
from solver.quantities.units import System
from tests.sketch.sheets import drawing, words, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_every_answer_is_on_the_page_for_the_drawing_that_is_recommended() -> None:
    text = words(written("winter-press", compared=True))
    text = text[text.index("How far each thing may go, High-VI oil, ISO VG 32") :]
    layout = drawing("winter-press").alternatives["High-VI oil, ISO VG 32"].layout
    answers = in_brief(ask.ask_all(replace(layout, units=System.US), "press"))
    for answer in answers:
        if answer.status != Status.NOT_ASKED:
            said = answer.text.partition(": ")[2]
            assert _bare(said[1:40]) in _bare(text), said
    assert "Largest loss coefficient K still to be added: " in text


def _bare(text: str) -> str:
    return "".join(text.split())


def test_how_far_in_each_case_stands_in_a_table_where_many_things_are_answered_so() -> None:
    text = _bare(words(written("winter-press")))
    layout = replace(drawing("winter-press").base, units=System.US)
    answers = [each for each in in_brief(ask.ask_all(layout, "press")) if each.by_case]
    assert len(answers) > 3
    for answer in answers:
        cells = [NEVER if each.value is None else each.text for each in answer.by_case]
        name = IN_FULL.get(answer.question, answer.question.capitalize())
        assert _bare(name + "".join(cells)) in text


def test_what_is_not_enough_alone_is_named_in_words_there_too() -> None:
    layout = replace(drawing("carriage-at-altitude").base, units=System.US)
    (named,) = [each for each in in_brief(ask.ask_all(layout, "carriage")) if each.question == NOT_ENOUGH]
    sentence = _sentence(named, with_cases=True)
    assert "largest loss coefficient K still to be added" in sentence
    assert "most added K" not in sentence


def test_more_cases_than_have_room_as_columns_have_a_row_each() -> None:
    """Not the figures of every case in a sentence of each answer."""
    layout = replace(drawing("winter-press").base, units=System.US)
    answers = [each for each in in_brief(ask.ask_all(layout, "press")) if each.by_case]
    own = AnswerInCase("", Status.FOUND, 1.0, "", decides=False)
    more = tuple(replace(own, case=f"case {number}", text=f"{number} ft") for number in range(9))
    asked = [replace(answer, by_case=more) for answer in answers[:MOST_COLUMNS]]
    table = _by_case(asked)
    assert len(more) > MOST_COLUMNS
    assert table is not None
    assert [row.cells[0] for row in table.rows] == [each.case for each in more]
    assert table.rows[4].cells[1:] == ("4 ft",) * len(asked)
    assert len(table.headings) == 1 + len(asked)


def test_there_is_no_table_where_both_cases_and_questions_are_more_than_it_has_room_for() -> None:
    layout = replace(drawing("winter-press").base, units=System.US)
    answers = [each for each in in_brief(ask.ask_all(layout, "press")) if each.by_case]
    own = AnswerInCase("", Status.FOUND, 1.0, "1 ft", decides=False)
    nine = tuple(replace(own, case=f"case {number}") for number in range(9))
    several = [replace(answer, by_case=nine) for answer in (answers * 9)[: MOST_COLUMNS + 1]]
    assert _by_case(several) is None
    assert _by_case(several[:MOST_COLUMNS]) is not None
