"""The client's page: the drawing, the air column, the ledger and what they stand on, as PDF, SVG or PNG."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from sketch.drawing.pencil import Ruler, shown
from sketch.editing import beginning
from sketch.look.colours import LIGHT, Theme
from sketch.page import sheet_changes, sheet_text
from sketch.page.blocks import Block, paginate
from sketch.page.paper import Page, Paper, SheetError, paper, usual, write
from sketch.page.sheet_changes import Option
from sketch.page.sheet_frame import Folio, Panel, Sheet, body_of
from sketch.page.sheet_pages import column_of, columns_page, comparison_page, drawing_page, text_page
from sketch.page.sheet_working import working_blocks
from solver.answers import ask
from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, judge, judged
from solver.fixes.remedies import with_remedies
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System
from solver.working.text import Section

__all__ = ["Option", "SheetError", "write_sheet"]


def write_sheet(
    solution: Solution,
    path: Path | str,
    pump: str = "",
    findings: Sequence[Finding] | None = None,
    *,
    system: System | None = None,
    paper: str = "",
    theme: Theme = LIGHT,
    name: str = "",
    others: Mapping[str, Solution] | None = None,
    options: Sequence[Option] = (),
    judgements: Mapping[str, Judgement] | None = None,
    working: bool = False,
    date: datetime.date | None = None,
    file: str = "",
) -> tuple[Path, ...]:
    """Write a drawing, its column, ledger, findings, assumptions and cautions to a PDF, SVG or PNG file.

    SVG and PNG are a file a page, numbered where there are several. Returns the files written.

    `paper` is "A4" or "Letter", the usual one of the drawing's units if empty. `pump` is whose ledger is
    shown, the first one if empty; `findings` its findings, worked out here if None;
    `name` what to call the drawing beside `others`, the alternatives to show with it, by name, each before
    and after on a page with what it buys. `options` are all alternatives, for a table of them: drawn or
    not, calculated or not; by default those that are drawn. `judgements` are by all cases, by the names of
    the drawings, where their solutions are of one case. With `working`, every step of the calculation
    follows, for the drawing and for each of `others`. `file` is the name of the drawing's file.
    Needs an application (QGuiApplication) but no display. Raises ValueError for a paper size or an ending
    that is not known, KeyError for a pump that is not in the drawing, SheetError (an OSError) when the file
    cannot be written.
    """
    target = Path(path)
    sheet_paper = _paper(paper or usual(solution.layout.units), target)
    chosen = pump or next(iter(solution.pumps))
    solution.pumps[chosen]
    shown_in = system or solution.layout.units
    notes = {option.name: option.note for option in options}
    given = judgements or {}
    panels = [
        _panel(
            _option(name, notes.get(name, ""), solution, findings, shown_in, given.get(name)),
            solution,
            chosen,
            shown_in,
        )
    ]
    for other, each in (others or {}).items():
        if chosen in each.pumps:
            option = _option(other, notes.get(other, ""), each, None, shown_in, given.get(other))
            panels.append(_panel(option, each, chosen, shown_in))
    drawn = tuple(panel.option for panel in panels)
    every = (drawn[0], *(options or drawn[1:]))
    day = f"{date or datetime.date.today():%Y-%m-%d}"
    sheet = Sheet(chosen, shown_in, _for_print(theme), day, tuple(panels), every, working, file)
    return write(target, sheet_paper, _pages(sheet, sheet_paper), solution.layout.title)


_paper = paper


def _for_print(theme: Theme) -> Theme:
    """On a light page the paper is the paper: no tint to print."""
    return replace(theme, paper=theme.box) if theme is LIGHT else theme


def _option(
    name: str,
    note: str,
    solution: Solution,
    findings: Sequence[Finding] | None,
    system: System,
    given: Judgement | None,
) -> Option:
    """A drawing with its findings, judged in every case that it has; every sentence in the units shown.

    given: by all cases, where the solution is of one of them: its drawing has no others.
    """
    layout = replace(given.layout if given is not None else solution.layout, units=system)
    whole = judge(layout, solution.level) if given is None else judged(layout, given.cases)
    judgement = with_remedies(whole, solution.level)
    tried = {(each.finding, each.part, each.key): each.advice for each in judgement.findings}
    shown = judgement.findings if findings is None else findings
    advised = (
        each if each.advice else replace(each, advice=tried.get((each.finding, each.part, each.key), ""))
        for each in shown
    )
    return Option(name, note, solution, tuple(advised), "", judgement)


def _panel(option: Option, solution: Solution, pump: str, system: System) -> Panel:
    layout = option.judged.layout if option.judged is not None else solution.layout
    answer = ask.highest_port(layout, pump, solution.level)
    height = answer.value if answer.status in (ask.Status.FOUND, ask.Status.ALREADY_OVER) else None
    text = answer.status if height is None else shown(height, Kind.LENGTH, system)
    return Panel(option, solution, height, text)


SUBTITLE = "Liftledger, where the inlet budget goes"

_PageDraft = tuple[Callable[[Folio], Page], Panel, str]
"""Makes a page; the panel that its title block is about, and what stands under the title."""


def _pages(sheet: Sheet, on: Paper) -> list[Page]:
    """Before and after, then the drawings, a page each; then the text, as many pages as it takes."""
    ruler = Ruler(on.dot)
    body = body_of(*on.size, on.dot)
    first, others = sheet.panels[0], sheet.panels[1:]
    drafts: list[_PageDraft] = []
    for after in others:
        page = partial(comparison_page, sheet, first, after)
        drafts.append((page, first, f"Liftledger, before and after: {after.option.title}"))
    for panel in sheet.panels:
        name = panel.option.title if others else panel.option.name
        under = f"{SUBTITLE}: {name}" if name else SUBTITLE
        drafts.append((partial(drawing_page, sheet, panel), panel, under))
        drafts += [
            (partial(drawing_page, replace(sheet, pump=pump), own), own, f"{under}, {pump}")
            for pump, own in _of_other_pumps(sheet, panel)
        ]
    for blocks in paginate(list(_text(sheet)), ruler, body.width, body.height):
        drafts.append((partial(text_page, sheet, blocks), first, SUBTITLE))
    drafts += _working_pages(sheet, on)
    return [
        make(Folio(number, len(drafts), panel, under))
        for number, (make, panel, under) in enumerate(drafts, 1)
    ]


def _of_other_pumps(sheet: Sheet, panel: Panel) -> Iterator[tuple[str, Panel]]:
    """The panel as it is for each pump that the sheet is not about; its column is another."""
    for pump in panel.solution.pumps:
        if pump != sheet.pump:
            yield pump, _panel(panel.option, panel.solution, pump, sheet.system)


def _working_pages(sheet: Sheet, on: Paper) -> list[_PageDraft]:
    """Every step of each panel, in two columns."""
    if not sheet.working:
        return []
    body, drafts, printed = body_of(*on.size, on.dot), list[_PageDraft](), dict[Section, str]()
    for panel in sheet.panels:
        name = panel.option.title if len(sheet.panels) > 1 else panel.option.name
        blocks = list(working_blocks(panel.solution, sheet.pump, sheet.system, sheet.theme, name, printed))
        columns = paginate(blocks, Ruler(on.dot), column_of(body, on.dot), body.height)
        for pair in (columns[i : i + 2] for i in range(0, len(columns), 2)):
            drafts.append((partial(columns_page, sheet, pair), panel, f"{SUBTITLE}: the working"))
    return drafts


def _all_ledgers(named: Sequence[tuple[str, Solution]], pump: str) -> list[tuple[str, PumpLedger]]:
    """The ledgers of every panel: of `pump`, then of the others under their name."""
    own = [(name, solution.pumps[pump]) for name, solution in named]
    others = (
        (", ".join(part for part in (name, other) if part), ledger)
        for name, solution in named
        for other, ledger in solution.pumps.items()
        if other != pump
    )
    return [*own, *others]


def _text(sheet: Sheet) -> Iterator[Block]:
    pump, system, theme = sheet.pump, sheet.system, sheet.theme
    several = len(sheet.panels) > 1
    named = [(panel.option.title if several else panel.option.name, panel.solution) for panel in sheet.panels]
    yield from sheet_changes.summary_blocks(sheet.options, pump, system)
    shown_before = {panel.option.name for panel in sheet.panels}
    untold = [option for option in sheet.options[1:] if option.name not in shown_before]
    yield from sheet_changes.change_blocks((sheet.options[0], *untold), pump, system)
    for panel, (name, solution) in zip(sheet.panels, named, strict=True):
        for each in (pump, *(other for other in solution.pumps if other != pump)):
            yield from sheet_text.ledger_blocks(solution, panel.judgement, each, system, theme, name)
    yield from sheet_text.budgets(_all_ledgers(named, pump), system)
    for panel, (name, _) in zip(sheet.panels, named, strict=True):
        yield from sheet_text.finding_blocks(panel.option.findings, theme, name)
    notes = [(panel.option.name, panel.option.note) for panel in sheet.panels]
    yield from sheet_text.note_blocks(
        [("", beginning.without_note(sheet.panels[0].solution.layout).notes), *notes]
    )
    yield from sheet_text.assumption_blocks(named, pump, system)
    yield from sheet_text.caution_blocks()
