"""The client's sheet: a page that is enough to decide on, and behind it everything that it rests on."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Any

from sketch.editing import beginning
from sketch.look.colours import LIGHT, Theme
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.logo import read_logo
from sketch.page.options import (
    DRAWING_ITSELF,
    Option,
    advised,
    as_it_was_read,
    best_of,
    in_units,
    option_of,
    under_its_conditions,
    with_findings,
    with_recommended,
    without_readings_of,
)
from sketch.page.packing import Draft, in_columns
from sketch.page.paper import FileInfo, Page, Paper, SheetError, paper, usual, write
from sketch.page.sheet_frame import Folio, Panel, Sheet
from sketch.page.sheet_pages import (
    columns_page,
    comparison_page,
    likely_of,
    text_of_first,
    text_page,
)
from sketch.page.sheet_parts import SHEET_PARTS, SheetPart, SheetWish, parts_of
from sketch.page.sheet_rest import left_out_of
from sketch.page.sheet_single import drawing_page
from solver.answers import ask
from solver.answers.answer import Status, in_short
from solver.field.age import reading_dates
from solver.findings.judgement import Judgement
from solver.layout.parts import Layout, Level
from solver.quantities.units import System
from solver.report.choosing import advised_on
from solver.report.consequences import if_cautions_left, if_left, if_left_as_read
from solver.report.uncertainty import DecidingTrials, deciding_trials

__all__ = ["Option", "SheetError", "SheetWish", "option_of", "write_sheet"]

Call = Callable[[Callable[[], Sheet]], Sheet]
"""Calls what works out all that stands on a sheet, which may take minutes: here or on another thread."""

FEWEST_WITH_CONTENTS = 2
"""Pages from which on the first says what stands behind it."""


def write_sheet(
    options: Sequence[Option],
    path: Path | str,
    wish: SheetWish | None = None,
    *,
    level: Level = Level.MINIMUM,
    system: System | None = None,
    theme: Theme = LIGHT,
    date: datetime.date | None = None,
    file: Path | None = None,
    call: Call | None = None,
    report_omitted: Callable[[Sequence[str]], None] | None = None,
    report_pages: Callable[[int, Sequence[tuple[str, int]]], None] | None = None,
) -> tuple[Path, ...]:
    """Write the sheet of a drawing, alone or beside the best of its alternatives, as PDF, SVG or PNG.

    Parameters: `options`, the drawing itself first, then its alternatives, judged at `level`; `system`, the
    units of the figures, the drawing's own if None; `date`, that of the title block or today if None;
    `file`, the drawing's own, beside which its logo lies; `call`, None for a call as usual;
    `report_omitted`, told which parts that were asked for no page has, where pages are too few for them;
    `report_pages`, told how many pages were written, and which part begins on which.
    SVG and PNG are a file a page, numbered where there are several. Returns the files written.
    Needs an application (QGuiApplication) but no display. Raises ValueError for a drawing that is not
    calculated, for a paper, an ending, a part or a case that is not known, and for a logo that cannot be
    read; KeyError for a pump that is not in the drawing; SheetError (an OSError) when the file cannot be
    written.
    """
    asked, target = wish or SheetWish(), Path(path)
    on = paper(asked.paper or usual(_judged(options).layout.units), target, upright=asked.upright)
    laid_out = on_any_paper(
        options, asked, level=level, system=system, theme=theme, date=date, file=file, call=call
    )
    pages, about = laid_out(on)
    if report_omitted is not None and len(pages) == asked.pages:
        listed = [title for title, _ in about.bookmarks]
        titles = [part.title for name, part in SHEET_PARTS.items() if name in asked.parts]
        report_omitted([title for title in titles if title not in listed])
    files = write(target, on, pages, about, replace=asked.replace)
    if report_pages is not None:
        report_pages(len(pages), about.bookmarks)
    return files


def on_any_paper(
    options: Sequence[Option],
    wish: SheetWish,
    *,
    level: Level = Level.MINIMUM,
    system: System | None = None,
    theme: Theme = LIGHT,
    date: datetime.date | None = None,
    file: Path | None = None,
    call: Call | None = None,
) -> Callable[[Paper], tuple[list[Page], FileInfo]]:
    """What lays a sheet out on a paper: all that it asks of the disk is read here, once for every paper.

    Parameters and errors as `write_sheet`.
    """
    parts, units = parts_of(wish.parts), system or _judged(options).layout.units
    work_out = partial(_sheet, options, wish, level, units, "" if file is None else file.name)
    sheet = _dressed(work_out() if call is None else call(work_out), theme, date, file)
    blocks_of = _kept_blocks()

    def on(paper: Paper) -> tuple[list[Page], FileInfo]:
        pages, bookmarks = _pages(sheet, paper, parts, wish.pages, blocks_of)
        return pages, _about(sheet, bookmarks)

    return on


def _judged(options: Sequence[Option]) -> Judgement:
    """The judgement of the drawing itself."""
    drawn = options[0]
    if drawn.judgement is None:
        raise ValueError(f"the drawing is not calculated: {drawn.why}")
    return drawn.judgement


def _about(sheet: Sheet, bookmarks: Sequence[tuple[str, int]]) -> FileInfo:
    block = sheet.title_block
    return FileInfo(
        title=sheet.title,
        author=block.drawn_by or next(iter(block.company), ""),
        subject=", ".join(part for part in (block.project, block.client) if part),
        date=datetime.date.fromisoformat(sheet.date),
        bookmarks=tuple(bookmarks),
    )


def _sheet(options: Sequence[Option], wish: SheetWish, level: Level, units: System, file: str = "") -> Sheet:
    """What stands on the sheet, before it is dressed. file: the drawing's own."""
    drawn = _judged(options)
    own = [
        option if option.judgement is None else replace(option, judgement=in_units(option.judgement, units))
        for option in options
    ]
    own[1:] = [without_readings_of(option, own[0]) for option in own[1:]]
    own = [as_it_was_read(option, own[0], level) for option in own]
    if others := [option for option in own[1:] if option.file]:
        name = _beside_files(others, file, drawn.layout.title)
        own[0] = replace(own[0], revision=drawn.layout.title_block.revision, own_name=name)
    aside = tuple(option for option in own if option.aside)
    own = [option for option in own if not option.aside]
    best = best_of(own[1:], own[0])
    every = tuple(
        (advised if option in (own[0], best) else with_findings)(option, level, _base(option, own[0]))
        for option in own
    )
    drawn_ones = [
        option if plain is own[0] else under_its_conditions(option, own[0], level)
        for option, plain in zip(every, own, strict=True)
        if plain is own[0] or plain is best
    ]
    panels = tuple(
        replace(_panel(option, wish, level, units), as_read=option.as_read) for option in drawn_ones
    )
    notes = beginning.without_note(drawn.layout).notes
    sheet = Sheet(
        drawn.layout.title, units, level, LIGHT, "", panels, every, notes=notes,
        title_block=drawn.layout.title_block, aside=aside,
        read_on=reading_dates(drawn.layout) if drawn.layout.readings else None,
        likely=likely_of(drawn.layout, units, panels[0].as_read), trials=tuple(_trials(panels, wish, level)),
        if_left=_if_left(panels, level, units),
    )  # fmt: skip
    return _with_recommended(sheet, {option.name: option for option in own})


def _beside_files(others: Iterable[Option], file: str, title: str) -> str:
    """What the drawing itself is called beside other files: by its title where each of them is, else by its
    file; "" where it has no name that none of them has."""
    by_title = all(not option.name.startswith(option.file) for option in others)
    name = title.strip() if by_title and title.strip() else file
    return "" if any(name in (option.file, option.name) for option in others) else name


def _if_left(panels: Sequence[Panel], level: Level, system: System) -> str:
    """What it costs to leave the drawing as it is; of one that may run so, to build what must not run, and
    what comes of its cautions."""
    drawn, built = panels[0], panels[-1]
    if text := if_left(drawn.judgement, level, system):
        return text
    if drawn.as_read is not None and drawn.as_read.is_over:
        return if_left_as_read(drawn.as_read, drawn.judgement.layout, system)
    with_it = f'With "{built.option.title}"'
    beside = None if built is drawn else built.judgement
    fails = "" if built is drawn else if_left(built.judgement, level, system, with_it)
    return " ".join(filter(None, (fails, if_cautions_left(drawn.judgement, beside))))


def _trials(panels: Iterable[Panel], wish: SheetWish, level: Level) -> Iterator[DecidingTrials]:
    """How sure each drawing is where it decides: of the pump asked for, or of all."""
    every = (deciding_trials(panel.judgement, wish.pump or None, level) for panel in panels)
    return (each for each in every if each is not None)


def _with_recommended(sheet: Sheet, plain: Mapping[str, Option]) -> Sheet:
    """The sheet with what is recommended named first in what is found of the line that is advised on."""
    name = advised_on(*sheet.choices, sheet.system).name
    (option,) = (panel.option for panel in sheet.panels if panel.option.name == name)
    named = with_recommended(option, plain[name], sheet.level)
    panels = (replace(each, option=named) if each.option is option else each for each in sheet.panels)
    options = (named if each is option else each for each in sheet.options)
    return replace(sheet, panels=tuple(panels), options=tuple(options))


def _base(option: Option, drawn: Option) -> Layout | None:
    """The drawing itself, of an alternative to it; None of that drawing and of another file's."""
    is_alternative = option is not drawn and not option.file and drawn.judgement is not None
    return drawn.judgement.layout if is_alternative and drawn.judgement is not None else None


def _dressed(sheet: Sheet, theme: Theme, date: datetime.date | None, file: Path | None) -> Sheet:
    """The sheet with its colours, date, file and logo."""
    block = sheet.title_block
    return replace(
        sheet,
        theme=_for_print(theme),
        date=f"{date:%Y-%m-%d}" if date else block.date or f"{datetime.date.today():%Y-%m-%d}",
        file=file.name if file is not None else "",
        logo=read_logo(None if file is None else file.parent, block.logo) if block.logo else None,
    )


def _for_print(theme: Theme) -> Theme:
    """On a light page the paper is the paper: no tint to print."""
    return replace(theme, paper=theme.box) if theme is LIGHT else theme


def _panel(option: Option, wish: SheetWish, level: Level, system: System) -> Panel:
    """Raises KeyError for a pump that is not there, ValueError where there is no ledger to show."""
    assert option.judgement is not None  # only what was calculated is drawn
    pump = wish.pump
    if pump and pump not in option.judgement.layout.pumps:
        if not option.name:
            raise KeyError(pump)
        raise ValueError(f"{option.name} cannot be set beside the drawing: {pump} is not in it")
    cases = [wish.case] if wish.case else None
    place = option.worst(pump, cases) or (option.worst(pump) if option.name else None)
    if place is None:
        raise ValueError(_nothing_to_show(option.judgement, wish))
    solution = option.solution(place.case)
    assert solution is not None  # a place has a ledger
    answer = ask.highest_port(option.judgement.layout, place.pump, level)
    if BUT_THEN in answer.text:  # behind it stands with what speaks against it
        return Panel(option, place, solution, None, "")
    stands = answer.status in (Status.FOUND, Status.ALREADY_OVER) and not answer.no_place
    height, shortest = answer.value if stands else None, in_short(answer, system, shortest=True)
    return Panel(option, place, solution, height, in_short(answer, system), shortest)


BUT_THEN = "but then: "
"""How an answer begins to say what speaks against it."""


def _nothing_to_show(judgement: Judgement, wish: SheetWish) -> str:
    if wish.case and wish.case not in judgement.cases:
        return f'there is no case "{wish.case}"'
    return f"no pump runs {f'in {wish.case!r}' if wish.case else 'in any case that was judged'}"


_BlocksOf = Callable[[SheetPart, Sheet], list[Block]]


def _kept_blocks() -> _BlocksOf:
    """What makes the blocks of a part once for every paper, but for what one cuts off its first page."""
    kept: dict[SheetPart, list[Block]] = {}

    def blocks_of(part: SheetPart, sheet: Sheet) -> list[Block]:
        if part == SHEET_PARTS["rest"]:
            return list(_function_of(part)(sheet))
        if part not in kept:
            kept[part] = list(_function_of(part)(sheet)) or _none_of(part)
        return kept[part]

    return blocks_of


def _none_of(part: SheetPart) -> list[Block]:
    """What says of a part that was asked for that the drawing has nothing of it."""
    return [Heading(part.title), Paragraph(part.none)] if part.none else []


def _pages(
    sheet: Sheet, on: Paper, parts: Sequence[SheetPart], most: int, blocks_of: _BlocksOf
) -> tuple[list[Page], list[tuple[str, int]]]:
    """The page to decide on, then the parts behind it, as many pages as they take; and which begins where."""
    first, drafts = _settled(sheet, on, parts, most, blocks_of)
    make = comparison_page if len(sheet.panels) > 1 else drawing_page
    pages = [make(first, _listed(first, drafts), _first_folio(first, drafts))]
    for number, draft in enumerate(drafts, 2):
        folio = Folio(number, 1 + len(drafts))
        if len(draft.columns) == 1:
            pages.append(text_page(sheet, draft.columns[0], folio, draft.size))
        else:
            pages.append(columns_page(sheet, draft.columns, folio, draft.size))
    return pages, [(FIRST, 1), *first.behind.items()]


def _settled(
    sheet: Sheet, on: Paper, parts: Sequence[SheetPart], most: int, blocks_of: _BlocksOf
) -> tuple[Sheet, list[Draft]]:
    """What the first page has to know of the pages behind it, and these, with all that it has no room for.

    What is continued there takes a line of the contents from it, which may leave more to continue.
    """
    while True:
        drafts = _drafts(sheet, on, parts, blocks_of) if most != 1 else []
        drafts = drafts[: most - 1] if most else drafts
        numbers = [(title, number) for number, draft in enumerate(drafts, 2) for title in draft.parts]
        ends = dict(numbers)
        behind = {**ends, **dict(reversed(numbers))}  # the first page of each
        priming = SHEET_PARTS["priming"].title
        plan = priming if priming in behind else ""
        first = replace(sheet, alone=not drafts, priming_plan=plan, behind=behind, ends=ends)
        shown = text_of_first(first, _listed(first, drafts), _first_folio(first, drafts), on)
        left = sheet.continued | left_out_of(first, shown)
        if left == sheet.continued or not drafts:
            return first, drafts
        sheet = replace(first, continued=left)


def _listed(first: Sheet, drafts: Sequence[Draft]) -> list[tuple[str, int]]:
    """The contents that the first page names."""
    return list(first.behind.items()) if 1 + len(drafts) >= FEWEST_WITH_CONTENTS else []


def _first_folio(first: Sheet, drafts: Sequence[Draft]) -> Folio:
    several = len(first.panels) > 1
    names = (
        (first.drawn.title, first.chosen.option.title) if several else (first.drawn.name or DRAWING_ITSELF,)
    )
    lead = "Two different lines: " if first.other_line else ""
    return Folio(1, 1 + len(drafts), lead + ", and ".join(names))


FIRST = "To decide on"
"""The bookmark of the first page."""


def _drafts(sheet: Sheet, on: Paper, parts: Sequence[SheetPart], blocks_of: _BlocksOf) -> list[Draft]:
    """Parts in one column follow one another on a page, unless they want their own; others begin a page."""
    drafts: list[Draft] = []
    waiting: list[tuple[SheetPart, list[Block]]] = []
    for part in parts:
        blocks = blocks_of(part, sheet)
        if part.columns == 1 and not part.own_page:
            waiting.append((part, blocks))
            continue
        drafts += in_columns(waiting, on, 1, flows=True)
        drafts += in_columns([(part, blocks)], on, part.columns)
        waiting = []
    return [*drafts, *in_columns(waiting, on, 1, flows=True)]


def _function_of(part: SheetPart) -> Any:
    module, _, function = part.blocks.partition(":")
    return getattr(import_module(module), function)
