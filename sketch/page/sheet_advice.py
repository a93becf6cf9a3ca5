"""What the first page recommends, how the alternatives stand that it does not show, and the order of work."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from sketch.look.words import NO_BREAK
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.options import Option
from sketch.page.sheet_cases import measures_of, of_one_file, unchanged_there
from sketch.page.sheet_frame import Sheet, case_name
from sketch.page.sheet_parts import SHEET_PARTS
from solver.findings.outlook import worst_moment
from solver.ledger.sentences import brief
from solver.quantities.wording import ESTIMATED, uncapitalised
from solver.report.asked_in_notes import asked_for, quoted_of
from solver.report.choosing import JudgedDrawing, advised_on, for_other_conditions, purpose
from solver.report.cleaned_first import cleaning_first, cleaning_order
from solver.report.doubts import why_first
from solver.report.instead import in_its_place
from solver.report.measures import measures
from solver.report.moments import LOW_DAY, over_on_low_day
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import (
    NOTHING_ELSE,
    NOTHING_ELSE_AS_DRAWN,
    recommendation,
)

FEWEST = 2
"""Of anything that is told on the first page, where room is short."""

BY_DRAWING = f"By the drawing alone {uncapitalised(NOTHING_ELSE)}"
"""What stands in the place of `NOTHING_ELSE` where readings say that something is to be put right."""


NOT_OF_TWO_LINES = (
    "Nothing is recommended to be built: what one of two different lines has more of is no gain for the "
    "other. Decide on each by a sheet of its own."
)


def in_paragraphs(texts: Iterable[str], most: int) -> Iterator[Block]:
    """A paragraph each, or all in one where room is short."""
    for text in texts if most >= FEWEST else filter(None, [" ".join(texts)]):
        yield Paragraph(_harm_once(text))


def _harm_once(text: str) -> str:
    """A paragraph in which "but then" is said once: every further change has its harm with that."""
    first = re.search("[Bb]ut then: ", text)
    if first is None:
        return text
    rest = text[first.end() :].replace("But then: ", "With that: ")
    return text[: first.end()] + rest.replace("but then: ", "but with that: ")


def numbered(steps: Iterable[str]) -> Iterator[str]:
    """Steps with their numbers, which no line ends with."""
    return (f"{number}.{NO_BREAK}{step}" for number, step in enumerate(steps, 1))


def advice(sheet: Sheet, most: int) -> Iterator[Block]:
    """What is recommended, in so many paragraphs at most, and what an alternative says of itself."""
    yield Heading("Recommendation", tight=True)
    best = sheet.best_aside
    others = [
        JudgedDrawing(each.name, each.judgement, {}, note=each.note, as_read=each.as_read)
        for each in (*sheet.options[1:], *sheet.aside)
        if each.judgement is not None and not _is_shown(sheet, each)
    ]
    texts = [
        *recommendation(
            *sheet.choices,
            sheet.system,
            noted=not any(asked_for(sheet.chosen.option.note)),
            best=best,
            stated=len(sheet.panels) < 2,  # else its verdict stands over its drawing
            ways=len(sheet.panels) < 2 or sheet.built is not sheet.chosen,
            of_file=bool(sheet.chosen.option.file),
            others=others,
        ),
        *_first_all_the_same(sheet, others),
        *_long_note(sheet),
    ]
    texts = [NOT_OF_TWO_LINES] if sheet.other_line else [text for text in texts if text]
    cleaned = tuple(cleaning_first(*sheet.choices, sheet.system, stated=False))  # its verdict says it
    if _is_stopped(sheet):
        keep = "Keep the pump stopped until it is known what raised its reading."
        yield from in_paragraphs((*sheet.likely, keep, *cleaned, "By the drawing alone:", *texts), most)
        return
    if sheet.as_read is not None or sheet.likely:
        texts = [BY_DRAWING if text in (NOTHING_ELSE, NOTHING_ELSE_AS_DRAWN) else text for text in texts]
    elif len(sheet.panels) > 1 and sheet.built is sheet.chosen:  # said under what remains
        texts = [text for text in texts if text != NOTHING_ELSE]
    every = filter(None, (sheet.old_reading, *cleaned, *sheet.likely, *texts))
    yield from in_paragraphs(every, most)


def _first_all_the_same(sheet: Sheet, others: Sequence[JudgedDrawing]) -> Iterator[str]:
    """Why the alternative that is recommended comes before another that holds without a doubt of its own."""
    before, after = sheet.choices
    if after is None or advised_on(before, after, sheet.system) is not after or sheet.best_aside is not None:
        return
    yield from filter(None, (why_first(after, others),))


def _long_note(sheet: Sheet) -> Iterator[str]:
    """Of a long note of the alternative that is built what may be a condition, or how it begins."""
    before, after = sheet.choices
    note = sheet.chosen.option.note
    if after is None or advised_on(before, after, sheet.system) is not after or purpose(after):
        return
    if (own := quoted_of(note)) and not any(asked_for(note)):
        yield f"Its note{_on_page(sheet, 'cases')}: {_in_marks(own)}."


def also_judged(sheet: Sheet) -> Iterator[Block]:
    """How every alternative stands that is not drawn on the page."""
    if others := [each for each in (*sheet.options, *sheet.aside) if not _is_shown(sheet, each)]:
        yield Paragraph("; ".join(_in_short(sheet, option) for option in others) + ".", "Also judged:")
    for option in sheet.options:
        if option.file and (names := of_one_file(sheet, option)):
            yield Paragraph(f"The drawings themselves alone{names}.", "Compared:")


def _is_shown(sheet: Sheet, option: Option) -> bool:
    return option.name in [panel.option.name for panel in sheet.panels]


def _in_short(sheet: Sheet, option: Option) -> str:
    """How an alternative that is not drawn on the page stands in its worst case."""
    worst = option.worst()
    if option.judgement is None or worst is None:
        return f"{option.title}: not calculated"
    lacking = len(option.judgement.not_judged)
    unjudged = f", {lacking} case{'s'[: lacking > 1]} not judged" if lacking else ""
    where = f"{case_name(worst.case)}{unchanged_there(sheet, option)}"
    low = f", {LOW_DAY}" if over_on_low_day(option.judgement, worst) else ""
    moment = worst_moment(option.judgement) if worst.ledger.sound else ""
    stands = ", but ".join(filter(None, (brief(worst.ledger, sheet.system), moment)))
    drawn = sheet.panels[0].judgement.layout.pumps
    gone = [] if option.file else [each for each in drawn if each not in option.judgement.layout.pumps]
    without = f", which gives up {' and '.join(gone)}" if gone else ""
    stands = stands.replace(ESTIMATED, ", limit estimated")
    return f"{option.title}{without}: {stands}{low} ({where}){unjudged}"


def _is_stopped(sheet: Sheet) -> bool:
    """Whether a newest reading of what is shown, or of the drawing it is compared with, says stop."""
    return any(panel.stop(sheet.system) is not None for panel in sheet.panels)


def _of_which(sheet: Sheet, built: JudgedDrawing, after: JudgedDrawing | None) -> str:
    """Of which of two drawings an order of work is, where that is not the alternative alone; or ""."""
    if built is not after:
        return "" if after is None else f" for {sheet.drawn.inside}"
    return "" if sheet.best_aside is None else f", if {built.called} is built"


def asked_in_notes(sheet: Sheet) -> Iterator[str]:
    """What the notes ask for or forbid before anything is built, an order."""
    before, after = sheet.choices
    built = advised_on(before, after, sheet.system)
    note = sheet.chosen.option.note if built is after else ""
    of_both = (
        (f"note of {built.called}", quoted_of(note) if any(asked_for(note)) else (), "cases"),
        ("note of the drawing", tuple(asked_for(sheet.notes)), "assumptions"),
    )
    if asked := [_quoted(sheet, *each) for each in of_both if each[1]]:
        yield f"Settle before any work: {'; '.join(asked)}."


def _quoted(sheet: Sheet, whose: str, texts: Sequence[str], part: str) -> str:
    """What a note asks for in its own words, and where the whole of it stands."""
    return f"{_in_marks(texts)} ({whose}{_on_page(sheet, part)})"


def _in_marks(texts: Sequence[str]) -> str:
    quoted = ", ".join(f'"{text}"' for text in texts[:FEWEST])
    return f"{quoted}{f', {len(texts) - FEWEST} more' if len(texts) > FEWEST else ''}"


def _on_page(sheet: Sheet, part: str) -> str:
    page = sheet.behind.get(SHEET_PARTS[part].title)
    return f", page {page}" if page else ""


def _ordered(
    sheet: Sheet,
    measured: Sequence[str],
    wanted: Sequence[str],
) -> Iterator[str]:
    """The order of work of what is built, with what a gauge shows of the drawing as it stands beside it."""
    before, after = sheet.choices
    built = advised_on(before, after, sheet.system)
    instead = after is built and not built.judgement.sound and any(in_its_place(before, built, sheet.system))
    unlike = built is before or sheet.as_read is not None or bool(wanted)
    now = None if unlike else before.judgement
    plan = sheet.priming_plan
    return order_of_work(built, sheet.system, measured, plan, wanted, instead, now)


def work(sheet: Sheet, most: int) -> Iterator[Block]:
    """What is to be built and kept up for it, in so many lines at most."""
    before, after = sheet.choices
    built = advised_on(before, after, sheet.system)
    wanted = for_other_conditions(before.judgement, built.judgement, sheet.system) if built is after else ()
    measured = measures_of(sheet, sheet.chosen.option)
    if wanted:  # its fluid is what is wanted, not what is provided for the margin
        drawn = before.judgement.layout
        measured = measures(
            replace(drawn, fluid=built.judgement.layout.fluid), built.judgement.layout, sheet.system
        )
    steps = [] if sheet.other_line else list(_ordered(sheet, measured, wanted))
    if steps:
        steps[:0] = asked_in_notes(sheet)
    if cleaning := cleaning_order(*sheet.choices, sheet.system):
        steps.insert(0, cleaning)
    if _is_stopped(sheet):
        steps.insert(0, "With the pump stopped, look for what raised its reading.")
    if steps:
        yield Heading(f"Order of work{_of_which(sheet, built, after)}", tight=True)
    if most < FEWEST:
        yield from in_paragraphs(numbered(steps), most)
        return
    for number, text in enumerate(steps, 1):
        yield Paragraph(text, f"{number}.")
