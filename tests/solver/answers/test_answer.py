"""Answers for a reader."""

from solver.answers.answer import Status, in_brief
from solver.answers.ask import ask_all
from tests.solver.checking import lifted, with_floor


def test_what_is_not_enough_alone_is_named_in_one_line():
    answers = ask_all(with_floor(lifted(), 99e3), "pump")
    brief = in_brief(answers)
    hopeless = [a for a in answers if a.status == Status.ALREADY_OVER and a.value is None]
    assert len(hopeless) > 3
    assert brief[-1].text == (
        f"Not enough alone: {', '.join(a.question for a in hopeless)}; still over however far each goes"
    )
    assert len(brief) == len(answers) - len(hopeless) + 1
    within = ask_all(lifted(), "pump")
    assert in_brief(within) is within
