"""An answer to a question asked backwards: how far one thing may go, and what binds it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from solver.answers.reasons import Reason
from solver.ledger.solve import PumpLedger
from solver.quantities.adding import places_of
from solver.quantities.units import Kind, System, shown_beside, typeset
from solver.quantities.wording import capitalised, degrees

HIGHEST_PORT = "highest port"
LOWEST_LEVEL = "lowest fluid level"
HOPELESS = "over however far it goes"
NO_HEIGHT = "no height will do"
NOT_ENOUGH = "not enough alone"
THE_FLOOR = "Where nothing else is named, the least inlet pressure of the pump sets the limit."
UNNAMED = f'{THE_FLOOR} "Now" is as drawn.'


class Status(StrEnum):
    """How far the search for an answer came."""

    FOUND = "found"
    NO_LIMIT = "no limit in the range searched"
    ALREADY_OVER = "already over"
    NOT_ASKED = "does not apply"
    NO_ANSWER = "no answer"


DECIDES = '; "{}" decides'
"""What names the case that sets an answer, at the end of its sentence."""


@dataclass(frozen=True, slots=True)
class AnswerInCase:
    """How far one thing may go in one case, whatever the others come to."""

    case: str
    status: Status
    value: float | None  # as of an `Answer`
    text: str  # in short: "1.58 ft", or "none, 1.58 ft would be below the tank's lid"
    decides: bool  # whether it is the case that sets the answer for all of them

    @property
    def name(self) -> str:
        """The case in quotation marks, and whether it decides."""
        return f'"{self.case}"{" (decides)" if self.decides else ""}'


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
    stated: float | None = None  # the value in the digits shown, on the side within; None: the value itself
    by_margin: float | None = None  # where its margin would be spent, if something else stops it before
    no_place: str = ""  # why no port can be there, "below the tank's lid", or no level, "over the normal one"
    case: str = ""  # the only one that it is asked of; "" of all of them
    by_case: tuple[AnswerInCase, ...] = ()  # each case by itself, where they differ

    @property
    def figure(self) -> float | None:
        """The value as it is said: in the digits shown, rounded to the side that is within."""
        rounded = self.status in (Status.FOUND, Status.ALREADY_OVER) and self.stated is not None
        return self.stated if rounded else self.value

    @property
    def hopeless(self) -> bool:
        """Whether the pump is over, however far it goes."""
        return self.status == Status.ALREADY_OVER and self.value is None

    @property
    def whole_text(self) -> str:
        """The sentence with what it comes to in each case by itself."""
        lines = self.case_lines
        if not lines:
            return self.text
        cases = "; ".join(lines)
        return f"{self.text}; in {cases}" if len(lines) == 1 else f"{self.text}; by case: {cases}"

    @property
    def case_lines(self) -> tuple[str, ...]:
        """How far in each case, those that come to one figure in one line: "every case" where all do, and
        none where the answer itself begins with that figure."""
        names: dict[str, list[str]] = {}
        for each in self.by_case:
            names.setdefault(each.text, []).append(each.name)
        if len(names) == 1:
            said = self.text.partition(": ")[2]
            return tuple(f"every case: {text}" for text in names if not said.startswith(f"{text} ("))
        return tuple(f"{', '.join(cases)}: {text}" for text, cases in names.items())


def in_short(answer: Answer, system: System, *, shortest: bool = False) -> str:
    """An answer as a figure: "1.58 ft", "none, 1.58 ft would be below the tank's lid", "no height will do".

    shortest: without the figure of a height where no pump can stand, nor why it cannot.
    """
    if shortest and (answer.hopeless or (answer.question == HIGHEST_PORT and answer.no_place)):
        return NO_HEIGHT
    if answer.hopeless:
        return NO_HEIGHT if answer.question == HIGHEST_PORT else HOPELESS
    if answer.figure is None:
        return str(answer.status)
    figure = shown_as(answer.kind)(answer.figure, system)
    if answer.status == Status.NO_LIMIT:
        return f"at least {figure}" if answer.question == HIGHEST_PORT else f"{figure}, where the search ends"
    if answer.question != HIGHEST_PORT:
        return f"up to {figure}, {answer.no_place}" if answer.no_place and not shortest else figure
    return f"none, {figure} would be {answer.no_place}" if answer.no_place else figure


def shown_as(kind: Kind) -> Callable[[float, System], str]:
    """How a value of a kind is written in a system of units."""
    if kind is Kind.ELEVATION:
        return _above_sea
    if kind is Kind.TEMPERATURE:
        return degrees
    return lambda si, system: typeset(si, kind, system, places_of(kind))


def within(status: Status, value: float, now: float, kind: Kind, system: System) -> float:
    """The shown figure next to where a margin is spent, on the side on which there is some [SI unit of the
    kind]. now: where the search began."""
    if status not in (Status.FOUND, Status.ALREADY_OVER):
        return value
    above = (value > now) == (status == Status.ALREADY_OVER)
    return shown_beside(value, kind, system, above=above, places=places_of(kind))


def as_stated(answer: Answer, now: float, system: System) -> Answer:
    """The answer with its value as it is shown: what is said to be within is so, to its last digit."""
    if answer.value is None or answer.value == now:
        return answer
    return replace(answer, stated=within(answer.status, answer.value, now, answer.kind, system))


def on_estimate(answer: Answer, ledger: PumpLedger) -> Answer:
    """The answer with a note where it hangs on a floor that is no figure of the maker's."""
    if not ledger.limit_estimated:
        return answer
    text = f"{answer.text}; the least inlet pressure there is an estimate"
    return replace(answer, text=text if ledger.limit_reaches else f"{text} too far from the maker's speed")


def _above_sea(si: float, system: System) -> str:
    """An elevation, in words where it lies below sea level."""
    shown = typeset(abs(si), Kind.ELEVATION, system)
    return f"{shown} below sea level" if si < 0 else shown


def how_far(answers: Sequence[Answer]) -> str:
    """What is asked, as a heading without a mark at its end; of which case alone, where it is of one."""
    alone = f' in "{answers[0].case}" alone' if answers[0].case else ""
    return f"How far may it go{alone}, one thing at a time"


def unnamed(answers: Sequence[Answer]) -> str:
    """What holds where an answer names nothing else."""
    return f'{THE_FLOOR} "Now" is in that case.' if answers[0].case else UNNAMED


def reach_lines(answers: Sequence[Answer]) -> Iterator[tuple[str, int]]:
    """Answers in writing below each other, how far each line is indented; an empty one comes first."""
    if not answers:
        return
    yield from [("", 0), (f"{how_far(answers)}? {unnamed(answers)}", 1)]
    for answer in answers:
        yield answer.text, 2
        yield from ((f"in {line}", 3) for line in answer.case_lines)


def in_brief(answers: Iterable[Answer]) -> tuple[Answer, ...]:
    """The answers for a reader: what two of them say alike is said once, and those that are over as far as
    they go are named in one, at the end.

    How high a port may stand keeps its own, and so does what is over in some cases alone.
    """
    answers, alike = tuple(map(_shortened, answers)), dict[tuple[str, tuple[AnswerInCase, ...]], Answer]()
    for each in answers:
        by_name = each.value is None and not each.by_case
        alike.setdefault((each.text if by_name else each.text.partition(": ")[2], each.by_case), each)
    answers = tuple(alike.values())
    apart = [each for each in answers if each.question == HIGHEST_PORT or each.by_case]
    hopeless = [each for each in answers if each.hopeless and each not in apart]
    if len(hopeless) < 2:
        return answers
    named = ", ".join(each.question for each in hopeless)
    text = f"{capitalised(NOT_ENOUGH)}: {named}; still over however far each goes"
    others = tuple(each for each in answers if each not in hopeless)
    return (*others, Answer(NOT_ENOUGH, None, text, Kind.NUMBER, Status.ALREADY_OVER))


def _shortened(answer: Answer) -> Answer:
    """What is over in some cases alone, its sentence short before the figures of the others."""
    if not (answer.hopeless and answer.by_case) or answer.question == HIGHEST_PORT:
        return answer
    return replace(answer, text=f"{answer.text.partition(': ')[0]}: {NOT_ENOUGH}")


def stopped(answer: Answer, value: float, reason: Reason, text: str) -> Answer:
    """The answer where something stops the pump before its margin is spent."""
    spent = answer.value if answer.status == Status.FOUND else None
    return replace(answer, value=value, status=Status.FOUND, reason=reason, text=text, by_margin=spent)
