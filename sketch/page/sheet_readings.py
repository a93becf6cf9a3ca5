"""What a gauge showed beside the machine, on the sheet: what the drawing expects, and what explains it."""

from __future__ import annotations

from collections.abc import Iterator

from sketch.page.blocks import Block, Columns, Heading, Paragraph
from sketch.page.sheet_frame import Sheet
from solver.field import trend
from solver.field.compared import Comparison, compare
from solver.field.diagnosis import OTHERWISE, Diagnosis, NothingToExplainError, against_trend, diagnose
from solver.layout.parts import Layout
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.wording import capitalised, error_text
from solver.report.readings import CAUTION, trend_words

CANNOT = "cannot"
"""The word of a cause that explains the readings in no size."""


def readings_part(sheet: Sheet) -> Iterator[Block]:
    """The readings of the drawing as it is built, pump by pump; nothing where none is written in it."""
    drawn = sheet.panels[0].judgement.layout
    if not drawn.readings:
        return
    yield Heading("Readings")
    yield Paragraph(CAUTION, "Caution:", sheet.theme.caution)
    comparisons = compare(drawn, "")
    for pump in dict.fromkeys(each.logged.pump for each in comparisons):
        own = [each for each in comparisons if each.logged.pump == pump]
        own.sort(key=lambda each: (each.logged.moment, each.number))
        yield from _of_pump(sheet, drawn, pump, own)


def _of_pump(sheet: Sheet, layout: Layout, pump: str, own: list[Comparison]) -> Iterator[Block]:
    diagnosis = _diagnosis(sheet, layout, pump)
    if isinstance(diagnosis, Diagnosis):
        yield Paragraph(diagnosis.headline, f"{pump}, readings of {diagnosis.visit}:", keep=True)
        for words in diagnosis.beneath:
            yield Paragraph(words)
    else:
        yield Paragraph(f"not explained, {diagnosis}", f"{pump}:", keep=True)
    read = [Paragraph(f"{' '.join(each.words(sheet.system))}", f"{each.logged.dated}, {each.logged.place}:")
            for each in own]  # fmt: skip
    yield Columns((*read, *_explained(diagnosis), *_trends(layout, pump, diagnosis)))


def _diagnosis(sheet: Sheet, layout: Layout, pump: str) -> Diagnosis | str:
    """What explains the latest visit, or why nothing does."""
    try:
        return diagnose(layout, pump, "")
    except NothingToExplainError as error:
        return str(error)
    except (NetworkError, FluidError) as error:
        return error_text(error, sheet.system)


def _explained(diagnosis: Diagnosis | str) -> Iterator[Block]:
    """What would explain the latest readings, the likeliest first, and what to look at next."""
    if isinstance(diagnosis, str):
        return
    yield Heading(f"What would explain the readings of {diagnosis.pump}, {diagnosis.visit}", tight=True)
    for cause in diagnosis.causes:
        if cause.word == CANNOT:
            continue
        size = f", {cause.size}" if cause.size else ""
        speaks = [f"for: {each}" for each in cause.evidence_for]
        speaks += [f"against: {each}" for each in cause.evidence_against]
        speaks += [f"says nothing of it: {each}" for each in cause.neutral]
        share = f"{cause.explanation.weight * 100:.0f} %"
        yield Paragraph(f"{cause.name}{size}. {'; '.join(speaks)}", share)
    ruled_out = [cause.name for cause in diagnosis.causes if cause.word == CANNOT]
    if ruled_out:
        yield Paragraph(f"{', '.join(ruled_out)}.", "Cannot explain them, in any size:", quiet=True)
    for number, step in enumerate(diagnosis.steps):
        shows = " ".join(f"{capitalised(each)}." for each in step.shows)
        yield Paragraph(f"{step.what}. {shows}", f"{OTHERWISE if number else 'Next'}:")
    for caveat in diagnosis.caveats:
        yield Paragraph(caveat, quiet=True)


def _trends(layout: Layout, pump: str, diagnosis: Diagnosis | str) -> Iterator[Block]:
    """Where a screen that fills is going."""
    if pump in layout.pumps:
        for each in trend.trends(layout, pump, ""):
            against = "" if isinstance(diagnosis, str) else against_trend(diagnosis, each.screen)
            yield Paragraph(" ".join(filter(None, (trend_words(each), against))), f"{each.screen} over time:")
