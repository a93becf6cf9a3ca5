"""How far each thing may go, of the drawing and of the alternative beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_parts import SHEET_PARTS
from sketch.page.table import Row, Table, in_lines
from solver.answers import ask
from solver.answers.answer import NOT_ENOUGH, UNNAMED, Answer, AnswerInCase, Status, in_brief
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised, error_text, uncapitalised
from solver.report.consequences import ALL_ELSE

UNASKED = frozenset({Status.NOT_ASKED})

IN_FULL = {"most added K": "Largest loss coefficient K still to be added"}
"""Questions by their names on paper, where they have a letter for a name."""

NEVER = "–"
"""Of what is over in a case, however far it goes."""

FEWEST, MOST_COLUMNS = 3, 6
"""Questions answered for each case, from which on they make a table, and the columns it has room for: the
cases, or the questions where these are fewer."""


def reach_part(sheet: Sheet) -> Iterator[Block]:
    """The answers for every pump of the line that is recommended."""
    panel = sheet.built
    pumps = list(panel.judgement.layout.pumps)
    whose = f", {panel.option.title}" if len(sheet.panels) > 1 else ""
    yield Heading(f"{SHEET_PARTS['reach'].title}{whose}")
    yield Paragraph(
        f"One at a time, before the margin is spent in any case. {UNNAMED}",
        quiet=True,
        keep=True,
    )
    every = {pump: _answers(sheet, panel, pump) for pump in pumps}
    alike = _of_all(list(every.values())) if len(pumps) > 1 else ()
    if alike:
        yield Paragraph("", f"{', '.join(pumps)}:", keep=True)
        yield from _set(alike)
    for pump, answers in every.items():
        if len(pumps) > 1:
            yield Paragraph("", f"{pump}:", keep=True)
        yield from _set([each for each in answers if not _is_among(each, alike)])
    yield from _of_the_first_page(sheet)


def _of_the_first_page(sheet: Sheet) -> Iterator[Block]:
    """What the first page has of a line that is not the one above: its highest port, from where it fails."""
    for panel in sheet.panels:
        if panel is not sheet.built and any(map(str.isdigit, panel.highest_shortest)):
            highest = f"{panel.highest_shortest}, of {panel.pump}, in all its cases"
            yield Paragraph(f"{highest}.", f"Highest port, {panel.option.title}:", close=True)
    failing = [panel.option.title for panel in sheet.panels if panel.not_to_run]
    clauses = [text for text in sheet.if_left.rstrip(".").split("; ") if text.startswith(ALL_ELSE)]
    for title, text in zip(failing, clauses, strict=False):
        yield Paragraph(f"{capitalised(text)}.", f"{title}, from where on:", close=True)


def _set(answers: Sequence[Answer]) -> Iterator[Block]:
    """Answers in sentences; how far in each case in a table, where it is answered for many things."""
    table = _by_case([each for each in answers if each.by_case])
    texts = {
        _name(each): _sentence(each, with_cases=table is None)
        for each in answers
        if table is None or not (each.by_case and _not_enough(each))
    }
    yield Columns(
        tuple(Paragraph(f"{text}.", f"{name}:", tears=True, close=True) for name, text in texts.items())
    )
    if table is not None:
        yield table


def _by_case(answers: Sequence[Answer]) -> Table | None:
    """How far each thing may go in each case by itself."""
    cases = tuple(dict.fromkeys(each.case for answer in answers for each in answer.by_case))
    if len(answers) < FEWEST or min(len(cases), len(answers)) > MOST_COLUMNS:
        return None
    names = tuple(map(_name, answers))
    cells = [[_in_case({each.case: each for each in answer.by_case}.get(case)) for case in cases]
             for answer in answers]  # fmt: skip
    down, across = names, cases
    if len(cases) > MOST_COLUMNS:
        down, across, cells = cases, names, [list(row) for row in zip(*cells, strict=True)]
    headings = (f"Each by itself, in each case\n({NEVER}: {NOT_ENOUGH})", *map(in_lines, across))
    rows = [Row((name, *row), rule=number > 0)
            for number, (name, row) in enumerate(zip(down, cells, strict=True))]  # fmt: skip
    return Table(headings, tuple(rows), frozenset(range(len(headings))), whole=True, dense=True)


def _in_case(own: AnswerInCase | None) -> str:
    if own is None:
        return ""
    if own.status == Status.ALREADY_OVER and own.value is None:
        return NEVER
    return f"{own.text} (decides)" if own.decides else own.text


def _name(answer: Answer) -> str:
    return IN_FULL.get(answer.question, capitalised(answer.question))


def _not_enough(answer: Answer) -> bool:
    """Whether the sentence states no more than that the pump is over however far it goes."""
    return answer.text.partition(": ")[2] == NOT_ENOUGH


def _sentence(answer: Answer, *, with_cases: bool) -> str:
    text = answer.whole_text if with_cases else answer.text
    text = text.partition(": ")[2] or text
    for name, full in IN_FULL.items():
        text = text.replace(name, uncapitalised(full))
    return capitalised(text)


def _of_all(answers: Sequence[Sequence[Answer]]) -> tuple[Answer, ...]:
    """The answers that are alike for every pump."""
    first, *others = answers
    return tuple(each for each in first if all(_is_among(each, given) for given in others))


def _is_among(answer: Answer, answers: Sequence[Answer]) -> bool:
    """Whether one of them says what an answer says."""
    return any((each.text, each.by_case) == (answer.text, answer.by_case) for each in answers)


def _answers(sheet: Sheet, panel: Panel, pump: str) -> tuple[Answer, ...]:
    """What is answered."""
    if panel.judgement.worst(pump) is None:
        return (_unanswered("not asked, as the pump runs in no case that was judged"),)
    try:
        answers = in_brief(ask.ask_all(panel.judgement.layout, pump, sheet.level))
    except (NetworkError, FluidError) as error:
        return (_unanswered(f"no answer: {error_text(error, sheet.system)}"),)
    return tuple(each for each in answers if each.status not in UNASKED)


def _unanswered(why: str) -> Answer:
    return Answer("all of it", None, f"All of it: {why}", Kind.NUMBER, Status.NO_ANSWER)
