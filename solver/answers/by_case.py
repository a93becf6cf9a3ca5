"""How far one thing may go in each case by itself, beside the answer that holds in all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from solver.answers.answer import DECIDES, HIGHEST_PORT, Answer, AnswerInCase, Status, in_short
from solver.answers.reasons import decisive
from solver.answers.temperatures import OF_TEMPERATURE
from solver.answers.varied_drawing import PresentDrawing
from solver.layout.cases import only_case

AskDrawing = Callable[[str, PresentDrawing], Answer]


def with_each_case(answers: Iterable[Answer], drawn: PresentDrawing, asked: AskDrawing) -> list[Answer]:
    """Answers with those of each case: how high a port may stand, and what is over however far it goes.

    A temperature is one for all cases. Where all of them are over as far as one thing goes, no case says
    more. Parameters: `drawn`, what was asked about; `asked`, how a drawing answers a question.
    """
    wanted = [each for each in answers if len(drawn.present) > 1 and _worth_asking(each)]
    alone = dict(_alone(drawn)) if wanted else {}
    return [
        _with_cases(each, {name: asked(each.question, one) for name, one in alone.items()}, drawn)
        if each in wanted
        else each
        for each in answers
    ]


def _worth_asking(answer: Answer) -> bool:
    of_all = answer.question in OF_TEMPERATURE
    return answer.question == HIGHEST_PORT or (answer.hopeless and not of_all)


def _alone(drawn: PresentDrawing) -> Iterator[tuple[str, PresentDrawing]]:
    """The drawing in each case in which the pump runs, without the others."""
    for name in drawn.present:
        yield name, PresentDrawing(only_case(drawn.layout, name), drawn.pump, drawn.level, drawn.rows)


def _with_cases(answer: Answer, alone: dict[str, Answer], drawn: PresentDrawing) -> Answer:
    if answer.question != HIGHEST_PORT and all(each.hopeless for each in alone.values()):
        return answer
    alone = {name: _as_far_as_all(each, answer) for name, each in alone.items()}
    first = _deciding(answer, alone, drawn)
    system = drawn.layout.units
    by_case = tuple(
        AnswerInCase(name, each.status, each.value, in_short(each, system), name == first)
        for name, each in alone.items()
    )
    text = answer.text.replace(DECIDES.format(first), "") if first else answer.text  # its own line says so
    return replace(answer, text=text, by_case=by_case)


def _as_far_as_all(alone: Answer, of_all: Answer) -> Answer:
    """The answer of a case; where its search ended at a line that cannot be built, that of all cases."""
    if not alone.hopeless or of_all.value is None:
        return alone
    return replace(alone, value=of_all.value, status=Status.NO_LIMIT)


def _deciding(answer: Answer, alone: dict[str, Answer], drawn: PresentDrawing) -> str:
    """The case that sets the answer for all: one over as far as it goes, else the one nearest to it.

    None does, and it is "", where the search for all of them ended before any was over.
    """
    hopeless = {name: drawn.present[name] for name, each in alone.items() if each.hopeless}
    if hopeless:
        return decisive(hopeless, drawn.pump)
    of_all = answer.value
    known = {name: each.value for name, each in alone.items() if each.value is not None}
    if of_all is None or not known or answer.status == Status.NO_LIMIT:
        return ""
    return min(known, key=lambda name: (alone[name].status == Status.NO_LIMIT, abs(known[name] - of_all)))
