"""How far each thing may go, of the drawing and of the alternative beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_parts import SHEET_PARTS
from solver.answers import ask
from solver.answers.answer import UNNAMED, Status, in_brief
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.wording import capitalised, error_text

UNASKED = frozenset({Status.NOT_ASKED})


IN_FULL = {"most added K": "Largest loss coefficient K still to be added"}
"""Questions by their names on paper, where they have a letter for a name."""


def reach_part(sheet: Sheet) -> Iterator[Block]:
    """The answers for every pump of the drawing that is shown last."""
    panel = sheet.chosen
    pumps = list(panel.judgement.layout.pumps)
    whose = f", {panel.option.title}" if len(sheet.panels) > 1 else ""
    yield Heading(f"{SHEET_PARTS['reach'].title}{whose}")
    yield Paragraph(
        f"One at a time, before the margin is spent in any case. {UNNAMED}",
        quiet=True,
        keep=True,
    )
    every = {pump: _answers(sheet, panel, pump) for pump in pumps}
    alike = _of_all(list(every.values())) if len(pumps) > 1 else {}
    if alike:
        yield Paragraph("", f"{', '.join(pumps)}:", keep=True)
        yield _set(alike)
    for pump, answers in every.items():
        if len(pumps) > 1:
            yield Paragraph("", f"{pump}:", keep=True)
        yield _set({name: text for name, text in answers.items() if name not in alike})


def _set(answers: Mapping[str, str]) -> Columns:
    return Columns(tuple(Paragraph(f"{text}.", f"{name}:", tears=True) for name, text in answers.items()))


def _of_all(answers: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """The answers that are alike for every pump."""
    first, *others = answers
    return {name: text for name, text in first.items() if all(each.get(name) == text for each in others)}


def _answers(sheet: Sheet, panel: Panel, pump: str) -> dict[str, str]:
    """What is answered, by question."""
    if panel.judgement.worst(pump) is None:
        return {"All of it": "not asked, as the pump runs in no case that was judged"}
    try:
        answers = in_brief(ask.ask_all(panel.judgement.layout, pump, sheet.level))
    except (NetworkError, FluidError) as error:
        return {"All of it": f"no answer: {error_text(error, sheet.system)}"}
    return {
        IN_FULL.get(answer.question, capitalised(answer.question)): capitalised(
            answer.whole_text.partition(": ")[2] or answer.text
        )
        for answer in answers
        if answer.status not in UNASKED
    }
