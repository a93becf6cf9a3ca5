"""Causes as rows and sentences: the likeliest first, what cannot be is said, no name is markup."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sketch.views.cause_rows import CAUTION, page, rows
from solver.field.diagnosis import Diagnosis, diagnose
from solver.layout import file
from tests.sketch.views.gauged import gauged


@cache
def diagnosis() -> Diagnosis:
    with TemporaryDirectory() as folder:
        return diagnose(file.read(gauged(Path(folder))).base, "transfer", numbers=(0,))


def test_every_cause_has_a_row_and_those_that_cannot_be_come_last() -> None:
    listed = rows(diagnosis())
    assert [row.words for row in listed] == list(diagnosis().causes)
    possible = [row.possible for row in listed]
    assert possible == sorted(possible, reverse=True)
    assert listed[0].share == max(row.share for row in listed)
    assert all(row.cells[1:] == ("cannot explain it", "") for row in listed if not row.possible)


def test_the_page_says_what_speaks_for_a_cause_what_is_next_and_the_caution() -> None:
    first = diagnosis().causes[0]
    shown = page(diagnosis(), first)
    assert "For it" in shown
    steps = diagnosis().steps
    assert ("To look at next" in shown) == bool(steps)
    assert shown.count("Where that cannot be done") == max(len(steps) - 1, 0)
    assert all(caveat.split()[0] in shown for caveat in diagnosis().caveats)
    assert CAUTION[:30] in shown


def test_names_out_of_a_drawing_are_no_markup() -> None:
    named = replace(diagnosis().causes[0], name="screen blocked: <b>x</b>", evidence_for=("<i>y</i>",))
    shown = page(diagnosis(), named)
    assert "<b>" not in shown
    assert "<i>" not in shown


def test_none_of_these_is_said_once_and_nothing_is_said_to_speak_for_it() -> None:
    none = replace(
        diagnosis().causes[0],
        name="none of these",
        word="none of these",
        evidence_for=(),
        evidence_against=(),
    )
    (row,) = rows(replace(diagnosis(), causes=(none,)))
    assert row.cells[:2] == ("None of these", f"{100 * none.explanation.weight:.0f} %")
    assert "Nothing in the readings speaks" not in page(diagnosis(), none)
