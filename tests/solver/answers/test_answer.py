"""Answers for a reader."""

from dataclasses import replace

from solver.answers.answer import HIGHEST_PORT, Status, in_brief
from solver.answers.ask import ask_all
from solver.layout import file
from tests.drawings import RISER
from tests.solver.checking import lifted, with_floor


def test_what_is_not_enough_alone_is_named_in_one_line():
    answers = ask_all(with_floor(lifted(), 99e3), "pump")
    brief = in_brief(answers)
    hopeless = [a for a in answers if a.status == Status.ALREADY_OVER and a.value is None]
    assert len(hopeless) > 3
    others = [each for each in hopeless if each.question != HIGHEST_PORT]
    assert brief[-1].text == (
        f"Not enough alone: {', '.join(a.question for a in others)}; still over however far each goes"
    )
    assert len(brief) == len(answers) - len(others) + 1
    within = ask_all(lifted(), "pump")
    assert in_brief(within) == within


def test_what_two_answers_say_alike_is_said_once():
    """A hose is the longest run of its line too; what a case takes off the barometer is named."""
    low = '\n[cases.low]\nsite.weather_allowance = "2 kPa"\n'
    base = file.parse(RISER + low).base
    hose = replace(base, runs={k: replace(run, material="rubber hose") for k, run in base.runs.items()})
    texts = {each.question: each.text for each in in_brief(ask_all(hose, next(iter(hose.pumps))))}
    assert "straight hose in " in texts["longest run"]
    assert "longest hose" not in texts
    assert texts["lowest barometer"].endswith("the allowance for a low-pressure day comes off it")
