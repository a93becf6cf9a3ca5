"""What a gauge showed beside the machine, on the sheet: what the drawing expects, and what explains it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import partial

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.columns import Columns
from sketch.page.sheet_frame import Sheet, case_name
from sketch.page.sheet_parts import SHEET_PARTS
from sketch.views.trend_picture import area_of, paint_trend
from solver.field import trend
from solver.field.causes import CauseKind
from solver.field.cleaning import cleaning_due
from solver.field.compared import Comparison, compare
from solver.field.diagnosis import (
    OTHERWISE,
    CauseWords,
    Diagnosis,
    NothingToExplainError,
    against_trend,
    diagnose,
)
from solver.field.explain import POSSIBLE
from solver.field.headline import due_sentences
from solver.field.trend import Trend
from solver.layout.parts import Layout
from solver.ledger.sentences import at_port
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import capitalised, error_text
from solver.report.readings import CAUTION, alike_once, open_shares, trend_words

HIGH, LEAST = 130.0, 260.0
"""Logical pixels: height of the picture of a trend, and the least width that it is well set in."""

FAR_LIKELIER = "far likelier"
"""The word of a cause that stands clearly before all others."""

IN_BRACKETS = "In brackets: nine in ten of what that reading alone leaves likely."

CANNOT = "cannot"
"""The word of a cause that explains the readings in no size."""


def readings_part(sheet: Sheet) -> Iterator[Block]:
    """The readings of the drawing as it is built, pump by pump; nothing where none is written in it."""
    drawn = sheet.panels[0].judgement.layout
    if not drawn.readings:
        return
    whose = f": {sheet.panels[0].option.title}" if len(sheet.options) > 1 else ""
    yield Heading(f"Readings{whose}")
    yield Paragraph(CAUTION, "Caution:", sheet.theme.caution)
    comparisons = compare(drawn, "")
    for pump in dict.fromkeys(each.logged.pump for each in comparisons):
        own = [each for each in comparisons if each.logged.pump == pump]
        own.sort(key=lambda each: (each.logged.moment, each.number))
        yield from _of_pump(sheet, drawn, pump, own)


def readings_in_short(sheet: Sheet) -> Iterator[Block]:
    """What the newest readings of each pump come to, where its strainer goes, and what to look at next."""
    drawn = sheet.panels[0].judgement.layout
    if not drawn.readings:
        return
    yield Heading(SHEET_PARTS["readings in short"].title)
    yield Paragraph(CAUTION, "Caution:", sheet.theme.caution)
    yield from _as_read(sheet)
    for pump in dict.fromkeys(each.pump for each in drawn.readings):
        diagnosis = _diagnosis(drawn, pump, sheet.system)
        yield from _come_to(pump, diagnosis)
        if pump in drawn.pumps:
            for each in trend.trends(drawn, pump):
                yield from _going(each) if each.points else ()
        if isinstance(diagnosis, Diagnosis) and diagnosis.next is not None:
            yield Paragraph(f"{diagnosis.next.what}.", "Next:")


def _as_read(sheet: Sheet) -> Iterator[Block]:
    """What the first page has of the line as it was read: at its port, and from which share on it is over."""
    read, place = sheet.as_read, None if sheet.as_read is None else sheet.as_read.far
    if read is None or place is None:
        return
    shown, allowed = at_port(place.ledger, sheet.system)
    due = cleaning_due(sheet.panels[0].judgement.layout, place.pump)
    blocked = None if due.blocked is None else f"{due.blocked * 100:.0f} % of {due.screen} blocked"
    share = f" On a low-pressure day it is over from {blocked}." if blocked else ""
    lead = f"{place.pump}, {case_name(place.case)}, as read:"
    yield Paragraph(f"{shown} at the port, where {allowed}.{share}", lead)


def _come_to(pump: str, diagnosis: Diagnosis | str) -> Iterator[Block]:
    """What the latest visit to a pump comes to, or why nothing explains it."""
    if isinstance(diagnosis, str):
        yield Paragraph(f"not explained, {diagnosis.removesuffix('.')}.", f"{pump}:", keep=True)
        return
    yield Paragraph(diagnosis.headline, f"{pump}, readings of {diagnosis.visit}:", keep=True)
    for words in diagnosis.beneath:
        yield Paragraph(words)


def _going(each: Trend) -> Iterator[Block]:
    """What is left of a screen by its first reading and its newest, and where that leads."""
    shares = list(open_shares(each))
    (since, first), (day, newest) = shares[0], shares[-1]
    led = f"{newest} on {day}, {first} on {since}. {IN_BRACKETS}" if len(shares) > 1 else ""
    yield Paragraph(f"{led} {trend_words(each)}".strip(), f"{each.screen} over time:", keep=True)
    yield Picture(HIGH, partial(_painted, each), LEAST)


def _of_pump(sheet: Sheet, layout: Layout, pump: str, own: list[Comparison]) -> Iterator[Block]:
    diagnosis = _diagnosis(layout, pump, sheet.system)
    yield from _come_to(pump, diagnosis)
    yield Columns((*_read(sheet, own), *_trends(layout, pump, diagnosis), *_explained(diagnosis)))


def _read(sheet: Sheet, own: list[Comparison]) -> Iterator[Block]:
    """What was read, and what the drawing expects; what holds of several alike is stated once."""
    lines, alike = alike_once(own, sheet.system)
    for each, texts in zip(own, lines, strict=True):
        yield Paragraph(" ".join(texts), f"{each.logged.dated}, {each.logged.place_in(sheet.system)}:")
    for which, shared in alike.items():
        yield Paragraph(" ".join(shared), f"{which}:")


def _diagnosis(layout: Layout, pump: str, system: System) -> Diagnosis | str:
    """What explains the latest visit, or why nothing does."""
    try:
        return diagnose(layout, pump, "")
    except NothingToExplainError as error:
        return str(error)
    except (NetworkError, FluidError) as error:
        return error_text(error, system)


def _explained(diagnosis: Diagnosis | str) -> Iterator[Block]:
    """What would explain the latest readings, the likeliest first, and what to look at next."""
    if isinstance(diagnosis, str):
        return
    yield Heading(f"What would explain the readings of {diagnosis.pump}, {diagnosis.visit}", tight=True)
    likely = [cause for cause in diagnosis.causes if cause.word != CANNOT]
    full = [cause for cause in likely if cause is likely[0] or cause.explanation.weight >= POSSIBLE]
    for cause in full:
        size = f", {cause.size}" if cause.size else ""
        sides = {
            "For it": cause.evidence_for,
            "Against it": cause.evidence_against,
            "Says nothing of it": cause.neutral,
        }
        speaks = [f"{side}: {'; '.join(lines)}." for side, lines in sides.items() if lines]
        yield Paragraph(f"{cause.name}{size}. {' '.join(speaks)}", _share(cause))
    less = [f"{cause.name}, {_share(cause)}" for cause in likely if cause not in full]
    if less:
        yield Paragraph(f"{'; '.join(less)}.", "Less likely:", quiet=True)
    ruled_out = [cause.name for cause in diagnosis.causes if cause.word == CANNOT]
    if ruled_out:
        yield Paragraph(f"{', '.join(ruled_out)}.", "Cannot explain them, in any size:", quiet=True)
    for number, step in enumerate(diagnosis.steps):
        shows = " ".join(f"{capitalised(each)}." for each in step.shows)
        yield Paragraph(f"{step.what}. {shows}", f"{OTHERWISE if number else 'Next'}:")
    for caveat in diagnosis.caveats:
        yield Paragraph(caveat, quiet=True)


def _share(cause: CauseWords) -> str:
    return f"{cause.explanation.weight * 100:.0f} %"


def _trends(layout: Layout, pump: str, diagnosis: Diagnosis | str) -> Iterator[Block]:
    """Where a screen that fills is going."""
    if pump in layout.pumps:
        for each in trend.trends(layout, pump, ""):
            against = "" if isinstance(diagnosis, str) else against_trend(diagnosis, each.screen)
            shares = "; ".join(f"{day}: {share}" for day, share in open_shares(each))
            words = (f"{shares}." if shares else "", trend_words(each), against)
            yield Paragraph(" ".join(filter(None, words)), f"{each.screen} over time:", keep=bool(shares))
            if shares:
                yield Picture(HIGH, partial(_painted, each), LEAST)


def _painted(trend: Trend, pencil: Pencil, theme: Theme, box: Box) -> None:
    paint_trend(pencil, theme, area_of(box, pencil.dot), trend)


def likely_causes(layout: Layout, system: System, sized: Collection[str] = ()) -> tuple[str, ...]:
    """What the newest readings of each pump come from, where one cause is far likelier than any other, and
    that its strainer is due by the trend of them.

    sized: the screens of which the reader has how much is blocked by their newest reading.
    """
    likely: list[str] = []
    for pump in dict.fromkeys(each.pump for each in layout.readings if each.pump in layout.pumps):
        diagnosis = _diagnosis(layout, pump, system)
        likely += [] if isinstance(diagnosis, str) else _far_likelier(pump, diagnosis, sized)
        likely += due_sentences(trend.due_screens(layout, trend.long_trends(layout, pump)))
    return tuple(dict.fromkeys(likely))


def _far_likelier(pump: str, diagnosis: Diagnosis, sized: Collection[str]) -> Iterator[str]:
    """The size of a cause by the whole visit would be a second figure beside that of its newest reading."""
    first = diagnosis.causes[0]
    is_sized = first.explanation.cause is CauseKind.SCREEN and first.explanation.part in sized
    size = "" if is_sized else first.size
    if diagnosis.explained.word == FAR_LIKELIER and first.explanation.cause is not CauseKind.NOTHING:
        cause, _, part = first.name.partition(": ")
        likeliest = ", ".join(filter(None, (f"{cause} ({part})" if part else cause, size)))
        read = f"By what was read at {pump} ({diagnosis.visit})"
        yield f"{read} one cause is far likelier than any other: {likeliest}."
