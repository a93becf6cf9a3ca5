"""An answer to a question asked backwards: how far one thing may go, and what binds it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from solver.answers.reasons import Reason
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised

NOT_ENOUGH = "not enough alone"
UNNAMED = 'Where nothing else is named, the floor sets the limit. "Now" is as drawn.'


class Status(StrEnum):
    """How far the search for an answer came."""

    FOUND = "found"
    NO_LIMIT = "no limit in the range searched"
    ALREADY_OVER = "already over"
    NOT_ASKED = "does not apply"
    NO_ANSWER = "no answer"


@dataclass(frozen=True, slots=True)
class Answer:
    """How far one thing may go.

    `status` "found": `value` is where the margin reaches zero, or where something else stops the pump before
    (see `reason`). "no limit in the range searched": there is
    margin all the way to `value`, its end. "already over": there is no margin now; `value` is where it would
    begin, None where nothing in the range brings it. "does not apply": there is no such thing in the drawing.
    "no answer": the search was refused or found no figure; `text` says why, and `value` is None.
    """

    question: str
    value: float | None  # [SI unit of `kind`]; None where there is none
    text: str
    kind: Kind
    status: Status
    size: str = ""  # the standard size that the value leads to, where the question is a bore
    reason: Reason | None = None  # what binds it; None where there is no value
    by_margin: float | None = None  # where its margin would be spent, if something else stops it before


def in_brief(answers: Iterable[Answer]) -> tuple[Answer, ...]:
    """The answers for a reader: what two of them say alike is said once, and those that are over as far as
    they go are named in one, at the end."""
    answers, alike = tuple(answers), dict[str, Answer]()
    for each in answers:
        alike.setdefault(each.text.partition(": ")[2] if each.value is not None else each.text, each)
    answers = tuple(alike.values()) if len(alike) < len(answers) else answers
    hopeless = [each for each in answers if each.status == Status.ALREADY_OVER and each.value is None]
    if len(hopeless) < 2:
        return answers
    named = ", ".join(each.question for each in hopeless)
    text = f"{capitalised(NOT_ENOUGH)}: {named}; still over however far each goes"
    others = tuple(each for each in answers if each not in hopeless)
    return (*others, Answer(NOT_ENOUGH, None, text, Kind.NUMBER, Status.ALREADY_OVER))


def stopped(answer: Answer, value: float, reason: Reason, text: str) -> Answer:
    """The answer where something stops the pump before its margin is spent."""
    spent = answer.value if answer.status == Status.FOUND else None
    return replace(answer, value=value, status=Status.FOUND, reason=reason, text=text, by_margin=spent)
