"""What is at stake, on the first page: what leaving the line as it is costs, how sure its margin is."""

from __future__ import annotations

from collections.abc import Iterator

from sketch.page.blocks import Block, Paragraph
from sketch.page.sheet_frame import Sheet
from solver.report.like_conditions import harder_conditions
from solver.report.uncertainty import how_often_over, varied


def why_it_matters(sheet: Sheet) -> Iterator[Block]:
    """What leaving the line as it is costs; nothing where it may run so."""
    if sheet.if_left:
        yield Paragraph(sheet.if_left, "Why it matters:")


def how_sure(sheet: Sheet, *, in_short: bool = False) -> Iterator[Block]:
    """In how many trials the budget is overspent as it stands and as built; what is varied stands behind, or
    here where nothing does, unless in short."""
    if not sheet.trials:
        return
    over = how_often_over({_whose(sheet, at): each for at, each in enumerate(sheet.trials)})
    of_trials = (
        f" {varied(sheet.trials, sheet.system, figures=False)}." if sheet.alone and not in_short else ""
    )
    yield Paragraph(f"{over}.{_not_alike(sheet)}{of_trials}", "How sure it is:")


def _not_alike(sheet: Sheet) -> str:
    """Under which other conditions the trials of an alternative are, a sentence; "" where they are alike."""
    drawn, shown = sheet.drawn.judgement, sheet.chosen.judgement
    if drawn is None or len(sheet.trials) < len(sheet.panels) or len(sheet.panels) < 2:
        return ""
    others = harder_conditions(drawn.layout, shown.layout, sheet.system)
    named = f'Those with "{sheet.chosen.option.title}" are under other conditions ({"; ".join(others)})'
    return f" {named}: the two counts are not alike." if others else ""


def _whose(sheet: Sheet, at: int) -> str:
    """Which drawing a figure is of, where there are two."""
    panel = sheet.panels[at]
    screens = panel.not_as_read.removeprefix(", ")
    which = f'with "{panel.option.title}"' if at else "as it stands" if len(sheet.trials) > 1 else ""
    return ", ".join(filter(None, (which, screens))) if at or not screens else f"with {screens}"
