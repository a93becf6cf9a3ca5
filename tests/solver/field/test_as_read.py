"""How a drawing stands with its strainer as blocked as it was read: as with that share typed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field.as_read import (
    AGAIN,
    DUE,
    MAY_BE_OVER,
    OVER,
    ReadScreen,
    as_read,
    as_read_first,
    drawn_share,
    read_again,
    screens_as_read,
    takes_out,
    with_screens,
)
from solver.field.diagnosis import diagnose
from solver.findings.judgement import judge
from solver.findings.kinds import Grade
from solver.findings.outlook import outlook
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.quantities.units import System
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def typed(share: float) -> Layout:
    """The drawing with a share of its strainer typed as blocked."""
    return inputs.blocked(DRAWN, ("strainer",), share, Level.MINIMUM)


def screen(low: float, high: float, due: str = "") -> ReadScreen:
    return ReadScreen("strainer", "2026-02-23", low, high, False, due)


def test_a_strainer_past_what_a_case_allows_comes_before_within() -> None:
    read = as_read(DRAWN)
    assert read is not None
    assert read.far is not None
    assert read.is_over
    (strainer,) = read.screens
    assert (strainer.name, strainer.day, strainer.due) == ("strainer", "2026-02-23", "is due")
    worst = judge(typed(strainer.high)).worst()
    assert worst is not None
    assert not worst.ledger.sound
    assert read.far.ledger.margin == pytest.approx(worst.ledger.margin)
    drawn = outlook(judge(DRAWN), System.SI)
    first = as_read_first(drawn, read, System.SI)
    assert drawn.severity is Grade.GOOD
    assert (first.severity, first.word) == (Grade.STOP, OVER)
    assert first.headline.startswith("As read on 2026-02-23: feed is over by ")
    assert (
        'in "cold morning", with 83 % of strainer blocked (74 to 83 % by its newest reading)'
        in first.headline
    )
    assert first.beneath.startswith("Strainer is due for cleaning. As drawn: within: ")
    assert "Lock out the drive" in read.order()
    assert "clean strainer" in read.order()
    gone = read.order(["strainer"])
    assert gone.startswith("Lock out the drive")
    assert "pull and clean" not in gone
    assert "What is built next takes out strainer (74 to 83 % of strainer is blocked" in gone


def with_tap(vacuum: str) -> Layout:
    """The drawing with another vacuum read at the tap right behind the strainer on the last day."""
    text = PATH.read_text(encoding="utf-8")
    assert text.count('vacuum = "3.7 kPa"') == 1
    return file.parse(text.replace('vacuum = "3.7 kPa"', f'vacuum = "{vacuum}"'), "tap").base


@pytest.mark.parametrize(
    ("vacuum", "rival"),
    [
        ("3.7 kPa", ""),
        ("0 kPa", " (likelier than a blocked strainer: drawing not as built: longer lines)"),
        ("-1 kPa", " (that strainer is blocked does not explain it)"),
    ],
)
def test_what_is_likelier_than_a_blocked_screen_stands_in_the_same_sentence(vacuum: str, rival: str) -> None:
    """Nothing is lost before the tap, so that the strainer is not what the port shows. It still counts."""
    layout = with_tap(vacuum)
    read = as_read(layout)
    assert read is not None
    assert read.headline(System.SI).startswith(f"As read on 2026-02-23{rival}: feed is over by ")
    first = as_read_first(outlook(judge(layout), System.SI), read, System.SI)
    assert (first.severity, first.word) == (Grade.STOP, OVER)
    if vacuum == "0 kPa":
        assert diagnose(layout, "feed").explained.explanations[0].name in rival


def test_a_strainer_just_cleaned_says_nothing() -> None:
    cleaned = replace(DRAWN.readings[4], when="2026-02-24")
    assert cleaned.work == ("strainer cleaned",)
    assert as_read(replace(DRAWN, readings=(*DRAWN.readings, cleaned))) is None


@pytest.mark.parametrize(
    ("low", "high", "due", "word"),
    [(0.3, 0.4, "", None), (0.3, 0.4, "may be due already", DUE), (0.5, 0.85, "", MAY_BE_OVER)],
)
def test_the_unfavourable_end_of_the_band_decides(
    low: float, high: float, due: str, word: str | None
) -> None:
    read = with_screens(DRAWN, (screen(low, high, due),))
    assert (read is None) == (word is None)
    if word is not None:
        first = as_read_first(outlook(judge(DRAWN), System.SI), read, System.SI)
        assert (first.severity, first.word) == (Grade.CAUTION, word)


def test_a_case_of_a_clean_strainer_is_as_blocked_too() -> None:
    path, cold = ("intakes", "strainer", "screen", "blocked"), DRAWN.cases["cold morning"]
    clean = replace(cold, figures={**cold.figures, path: 0.0})
    read = with_screens(replace(DRAWN, cases={"cold morning": clean}), screens_as_read(DRAWN))
    usual = as_read(DRAWN)
    assert read is not None
    assert usual is not None
    assert read.far is not None
    assert usual.far is not None
    assert read.far.ledger.margin == pytest.approx(usual.far.ledger.margin)


def test_a_screen_is_removed_by_another_one_or_none_and_not_by_a_clean_one() -> None:
    twice = file.read(PATH).alternatives["Twice the strainer"].layout
    bare = replace(DRAWN.intakes["strainer"], screen=None)
    assert takes_out(twice, DRAWN, "strainer")
    assert takes_out(replace(DRAWN, intakes={"strainer": bare}), DRAWN, "strainer")
    assert takes_out(replace(DRAWN, intakes={"other": DRAWN.intakes["strainer"]}), DRAWN, "strainer")
    assert not takes_out(typed(0.5), DRAWN, "strainer")


def test_the_share_of_a_screen_as_drawn_is_named_with_the_cases_that_have_it_otherwise() -> None:
    path, cold = ("intakes", "strainer", "screen", "blocked"), DRAWN.cases["cold morning"]
    assert drawn_share(DRAWN, "strainer") == "clean"
    dirty = replace(cold, figures={**cold.figures, path: 0.4})
    assert drawn_share(replace(DRAWN, cases={"cold morning": dirty}), "strainer") == (
        'clean, 40 % blocked in "cold morning"'
    )
    assert drawn_share(typed(0.2), "strainer") == "20 % blocked"


def test_a_drawing_that_says_stop_keeps_its_headline() -> None:
    stop = replace(outlook(judge(DRAWN), System.SI), severity=Grade.STOP)
    first = as_read_first(stop, as_read(DRAWN), System.SI)
    assert first.headline == stop.headline
    assert "As read on 2026-02-23: feed is over by" in first.beneath


def test_while_it_is_worked_out_again_it_is_no_better_than_it_last_was() -> None:
    drawn, read = outlook(judge(DRAWN), System.SI), as_read(DRAWN)
    again = read_again(drawn, read, System.SI)
    assert (again.severity, again.word, again.beneath) == (Grade.STOP, OVER, AGAIN)
    assert again.headline == f"As drawn: w{drawn.headline[1:]}"
    assert read_again(drawn, None, System.SI) == drawn
    due = with_screens(DRAWN, (screen(0.1, 0.2, "is due"),))
    assert read_again(drawn, due, System.SI).headline == drawn.headline
    assert (read_again(drawn, due, System.SI).severity, due is None) == (Grade.CAUTION, False)
