"""How sure a margin is, in words: the case, what differs between starts, what could not be solved."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.answers.uncertainty import FROM_START_TO_START, Unsure, uncertainty
from solver.findings.judgement import judge
from solver.findings.kinds import FindingId
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.file import read
from solver.layout.parts import Level
from solver.quantities.units import Kind, System, quantity
from solver.report.uncertainty import (
    deciding_trials,
    every_case,
    how_often_over,
    lines,
    record,
    sentence,
    text,
    varied,
)

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def press():
    return read(LAYOUTS / "winter-press.toml").base


def test_every_case_is_drawn_by_itself():
    layout = press()
    drawn = every_case(layout, "press", draws=300)
    assert list(drawn) == list(cases_of(layout))
    for name, case in cases_of(layout).items():
        drawing = layout_in_case(layout, name, case)
        alone = uncertainty(drawing, "press", drawing.level or Level.MINIMUM, draws=300)
        assert drawn[name].over == alone.over


def test_the_sentence_names_the_case_that_is_over_most_often():
    drawn = every_case(press(), "press", draws=300)
    named = sentence(drawn).split('"')[1]
    assert drawn[named].over == max(each.over for each in drawn.values())
    assert sentence(drawn).endswith("of what is not known")


def test_a_case_that_is_not_judged_comes_first():
    drawn = every_case(press(), "press", draws=300)
    assert sentence({**drawn, "spring": "no such figure"}) == (
        '"spring" is not judged, and so its chance is not known'
    )


def test_what_cannot_be_solved_counts_as_over():
    frozen = replace(press().fluid, coldest_start=quantity("-90 degC", Kind.TEMPERATURE))
    drawn = every_case(replace(press(), fluid=frozen), "press", draws=50)
    assert drawn["coldest start"].over == 1.0
    said = " ".join(lines(drawn, System.SI))
    assert "coldest start: over in every trial of what is not known; no trial could be solved" in said


@pytest.mark.parametrize("system", list(System))
def test_what_differs_between_starts_is_named_apart_and_draws_are_independent(system):
    said = list(lines(every_case(press(), "press", draws=50), system))
    starts = next(each for each in said if each.startswith("Differs from start to start: "))
    same = next(each for each in said if each.startswith("The same at every start, and not known: "))
    for what in Unsure:
        assert (str(what) in starts) == (what in FROM_START_TO_START)
        assert (str(what) in same) == (what not in FROM_START_TO_START)
    assert said[-1].startswith("Every figure is picked by itself")


@pytest.mark.thorough
def test_text_keeps_to_its_width_and_the_pump_that_is_wanted():
    layout = read(LAYOUTS / "header-two-pumps.toml").base
    both = text(layout, None, Level.MINIMUM)
    assert max(map(len, both.splitlines())) <= 100
    assert "\npilot:\n" in both
    assert "pilot:" not in text(layout, "main", Level.MINIMUM)


@pytest.mark.thorough
def test_plain_data_has_every_case_and_the_seed():
    records = record(press(), "press", Level.MINIMUM)
    assert list(records["press"]) == list(cases_of(press()))
    one = records["press"]["as drawn"]
    assert one["margin_5_Pa"] < one["margin_50_Pa"] < one["margin_95_Pa"]
    assert (one["draws"], one["seed"]) == (10_000, 1)


def test_the_terminal_says_it_when_asked(capsys):
    file = str(LAYOUTS / "baler-flooded.toml")
    main([file])
    assert "How sure is it?" not in capsys.readouterr().out
    main([file, "--uncertainty"])
    assert "How sure is it?" in capsys.readouterr().out
    main([file, "--uncertainty", "--json"])
    assert set(json.loads(capsys.readouterr().out)["uncertainty"]["baler"]) == {"as drawn", "coldest start"}


def test_beside_a_screen_read_as_blocked_it_is_said_of_which_share_the_trials_are(capsys):
    path = LAYOUTS / "strainer-over-a-year.toml"
    assert main([str(path), "--uncertainty"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    said = "feed: As read feed is over; these trials are with strainer as drawn (clean), not as read"
    assert f"{said} (74 to 83 % blocked). How sure is it?" in out
    main([str(LAYOUTS / "winter-press.toml"), "--uncertainty"])
    assert "these trials are with" not in capsys.readouterr().out


def test_the_trials_of_a_drawing_are_those_of_the_case_that_decides_and_the_same_every_time():
    judgement = judge(press())
    worst = judgement.worst()
    first, again = (deciding_trials(judgement, None, Level.MINIMUM) for _ in range(2))
    assert (first.pump, first.case) == (worst.pump, worst.case)
    assert first.trials.over == every_case(press(), "press")[worst.case].over
    assert (first.trials.margin == again.trials.margin).all()
    assert how_often_over({"": first}) == 'press, "first stroke": over its budget in every trial'


def test_two_drawings_are_told_apart_by_pump_and_case_where_these_differ():
    drawing = read(LAYOUTS / "baler-flooded.toml")
    cold = drawing.alternatives["Cold morning"].layout
    two = {
        name: deciding_trials(judge(layout), None, Level.MINIMUM)
        for name, layout in (("as it stands", drawing.base), ("rebuilt", cold))
    }
    assert how_often_over(two) == (
        'Over budget in no trial as it stands (baler, "coldest start"), in no trial rebuilt (baler, as drawn)'
    )


def test_what_could_not_be_solved_or_judged_stands_with_its_trials():
    drawn = deciding_trials(judge(press()), None, Level.MINIMUM)
    lost = replace(drawn, trials=replace(drawn.trials, over=0.5, not_judged=0.003), not_judged=("spring",))
    assert how_often_over({"": lost}) == (
        'press, "first stroke": over its budget in 50 of 100 trials (1 of 100 could not be solved and count '
        'as over; not known of "spring", which could not be judged)'
    )


@pytest.mark.parametrize("system", list(System))
def test_what_is_varied_is_named_with_how_far_or_without(system):
    drawn = deciding_trials(judge(press()), None, Level.MINIMUM)
    in_full, in_short = (varied([drawn], system, figures=figures) for figures in (True, False))
    for each in drawn.trials.ranges:
        assert str(each.what) in in_full
        assert str(each.what) in in_short
    assert in_short.startswith(
        "10\N{NARROW NO-BREAK SPACE}000 trials each, varied evenly and each by itself: "
    )
    assert "the maker's limit times 0.95 to 1.05" in in_full
    assert "times" not in in_short


def test_a_line_that_is_still_cold_is_in_no_trial_and_stands_beside_them():
    heated = read(LAYOUTS / "winter-press.toml").alternatives["Tank heater to 10 °C"].layout
    said = how_often_over({"heated": deciding_trials(judge(heated), None, Level.MINIMUM)})
    assert "in no trial heated (over by " in said
    assert "while the line is still at " in said
    worst, *_ = (each for each in judge(heated).findings if each.finding is FindingId.LINE_LEFT_COLD)
    assert f"({worst.text.removeprefix('press: ').partition('; ')[0]})" in said, "as the headline has it"
    assert "(" not in how_often_over({"": deciding_trials(judge(press()), None, Level.MINIMUM)})
