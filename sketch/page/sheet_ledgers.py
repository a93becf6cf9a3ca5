"""The ledgers on paper, each with its air column, and how their budgets are made."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from PySide6.QtCore import QRectF

from sketch.air_column.labels import column_width
from sketch.air_column.painting import paint_column
from sketch.air_column.side_by_side import (
    FOOT,
    HEAD,
    LINES,
    NAMES,
    NAMES_EDGE,
    ComparedColumn,
    paint_side_by_side,
)
from sketch.air_column.side_by_side import WIDE as COLUMN_WIDE
from sketch.air_column.slices import slices, whole
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
from sketch.look.colours import CREDIT, Theme, share_colour
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.columns import LeftAndRight
from sketch.page.sheet_basis import source_words
from sketch.page.sheet_frame import LEAST_INLET, LEAST_INLET_SHORT, Panel, Sheet, case_name
from sketch.page.table import Row, Table, in_lines
from sketch.views import ledger_rows
from solver.findings.judgement import PumpInCase
from solver.formulas.flow import AFFINITY
from solver.layout.cases import AS_DRAWN
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.sentences import clause, rounding_note
from solver.ledger.solve import BudgetLine, PumpLedger, Solution
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, ledger_pressure

COLUMN, LEAST_LEDGER = 268.0, 560.0
"""Logical pixels: the height of an air column beside its ledger, the least width of a ledger there."""

LEAST_COMPARED, LEAST_NARROW, LEAST_JOINED, ONE_MORE = 460.0, 350.0, 154.0, 94.0
"""Logical pixels: the least width of two air columns beside one another, of those with short names, and what
of it is no room for names; one more takes so much more."""

LOWEST, HIGHEST, NAME, NAMED, LEVELS = 170.0, 250.0, 15.5, 0.025, 2
"""Logical pixels: the least and the greatest height of two air columns, and of a name beside them; the least
share of a column that a name is written for, and how many levels are named besides."""

GROWS = 1.7
"""How many times as high two air columns may be where their page has room: slices then hold their names."""

WHEN = ("before", "after")
"""The drawing, and the alternative that is set beside it."""

AS_READ, READ_FIRST = ("as read", "as drawn"), ("as read", "before", "after")
"""The line with its screens as read, and the drawing, alone or before and after."""

SHORT, ROOMY, SHORT_OF_BUDGETS, MOST_BUDGETS = 8, 14, 12, 4
"""Characters in a line of a heading of the ledger, where room is short and where not, and of the budgets;
columns of a table of budgets."""

PRESSURE_AFTER = (
    "Pressure after is the static pressure at the end of each element: its depth below the fluid level adds "
    "to it there, its velocity takes from it. Entries charge lift above that level only, and velocity once, "
    "at the port: so it is no running sum of them, but at the port both agree. The least inlet pressure is "
    "what a pump needs at its port; over it lies the margin."
)

ON_FIRST = " The air column of {} is on the first page."

SENTENCE = re.compile(r"(?<=[a-z]{2})\. ")
"""Between sentences of a source; not behind "U.S."."""


def ledger_part(sheet: Sheet) -> Iterator[Block]:
    """Ledger and air column of every pump in its worst case: as drawn, and of the alternative beside it."""
    yield Heading("Ledgers and air columns")
    shown = sheet.panels[0]
    on_first = ON_FIRST.format(shown.pump) if _is_on_first(sheet, shown.judgement.worst(shown.pump)) else ""
    pumps = dict.fromkeys(pump for panel in sheet.panels for pump in panel.judgement.layout.pumps)
    apart = rounding_note([place.ledger for pump in pumps for _, place in _places(sheet, pump)], sheet.system)
    yield Paragraph(f"{PRESSURE_AFTER}{apart}{on_first}", quiet=True, keep=True)
    for pump in pumps:
        places = _places(sheet, pump)
        read = _read_place(sheet, pump)
        if read is not None:
            yield from _ledger_as_read(sheet, read)
        if _stands_once(sheet, places):
            yield from _ledger_and_column(sheet, places)
            if read is not None:
                yield from _air_columns(sheet, [read, places[0][1]], AS_READ)
            continue
        for panel, place in places:
            yield _ledger_heading(sheet, [(panel, place)])
            yield replace(_ledger(sheet, panel, place), name=_whose_ledger([(panel, place)]))
        first = () if read is None else (read,)
        yield from _air_columns(
            sheet, [*first, *(place for _, place in places)], READ_FIRST[1 - len(first) :]
        )
    yield from _budgets(sheet)


def _places(sheet: Sheet, pump: str) -> list[tuple[Panel, PumpInCase]]:
    """The worst case of a pump in each of the drawings that run it."""
    worst = [(panel, panel.judgement.worst(pump)) for panel in sheet.panels
             if pump in panel.judgement.layout.pumps]  # fmt: skip
    return [(panel, place) for panel, place in worst if place is not None]


def _read_place(sheet: Sheet, pump: str) -> PumpInCase | None:
    """Where the drawing stands with its screens as read, where that is its headline and of this pump."""
    read = sheet.panels[0].read_place(sheet.system)
    return read if read is not None and read.pump == pump else None


def _ledger_as_read(sheet: Sheet, read: PumpInCase) -> Iterator[Block]:
    """The ledger that the headline is of: what the newest readings of its screens make of the line now."""
    known = sheet.panels[0].as_read
    if known is None or known.solution is None:
        return
    whose = f"Ledger of {read.pump} as read, {case_name(read.case)}, with {known.most}"
    yield Paragraph("", f"{whose}: {clause(read.ledger, sheet.system)}", keep=True)
    yield replace(ledger_table(known.solution, read.pump, sheet.system, sheet.theme), name=whose)


def _stands_once(sheet: Sheet, places: Sequence[tuple[Panel, PumpInCase]]) -> bool:
    """Whether there is one ledger of a pump, or two that are alike."""
    tables = [_ledger(sheet, panel, place) for panel, place in places]
    return len(places) == 1 or tables[1:] == tables[:1]


def _air_columns(sheet: Sheet, places: Sequence[PumpInCase], titles: Sequence[str] = WHEN) -> Iterator[Block]:
    if not places:
        return
    cases = [case_name(place.case) for place in places]
    named = [" ".join(each) for each in zip(titles, cases, strict=True)] if len(set(cases)) > 1 else cases[:1]
    text = f"Air columns of {places[0].pump}, with its margin: {', '.join(named)}."
    yield Paragraph(f"{text}{column_key([place.ledger for place in places])}", quiet=True, keep=True)
    yield before_and_after(places, sheet.system, titles)


def column_key(ledgers: Sequence[PumpLedger]) -> str:
    """What the patterns in air columns are, those that there are; with a space before it."""
    lacks = f"between red dashes, what the air lacks of the {LEAST_INLET} before the line takes what is grey"
    patterns = {
        "hatched, what is given back": any(piece.credit for each in ledgers for piece in slices(each)),
        "crossed, what is over budget": any(whole(each) and each.margin < 0.0 for each in ledgers),
        lacks: not all(whole(each) for each in ledgers),
    }
    shown = "; ".join(text for text, there in patterns.items() if there)
    return f" {capitalised(shown)}." if shown else ""


def _ledger_heading(sheet: Sheet, places: Sequence[tuple[Panel, PumpInCase]]) -> Paragraph:
    text = f"{_whose_ledger(places)}: {clause(places[0][1].ledger, sheet.system)}"
    return Paragraph("", text, keep=True)


def _whose_ledger(places: Sequence[tuple[Panel, PumpInCase]]) -> str:
    """The heading of a ledger: of one drawing, or of both where it is the same."""
    named = {panel.option.name: case_name(place.case) for panel, place in places}
    both = len(named) > 1
    own = {"": "the drawing itself"} if both else {}
    whose = [", ".join(filter(None, (name or ("" if case == AS_DRAWN else own.get(name)), case)))
             for name, case in named.items()]  # fmt: skip
    return f"Ledger of {places[0][1].pump}, {' and '.join(whose)}"


def _ledger(sheet: Sheet, panel: Panel, place: PumpInCase) -> Table:
    solution = panel.option.solution(place.case)
    assert solution is not None  # a place has a ledger
    return ledger_table(solution, place.pump, sheet.system, sheet.theme)


def _ledger_and_column(sheet: Sheet, places: Sequence[tuple[Panel, PumpInCase]]) -> Iterator[Block]:
    panel, place = places[0]
    solution = panel.option.solution(place.case)
    assert solution is not None  # a place has a ledger
    yield _ledger_heading(sheet, places)

    def column(pencil: Pencil, theme: Theme, box: Box) -> None:
        pencil.painter.save()  # the type of this pencil, as another one writes here
        paint_column(
            pencil.painter, QRectF(*box), solution, place.pump, theme, sheet.system, dot=pencil.dot,
            headline=False, floor_name=LEAST_INLET_SHORT,
        )  # fmt: skip
        pencil.painter.restore()

    ledger = replace(_ledger(sheet, panel, place), name=_whose_ledger(places))
    if _is_on_first(sheet, place):
        yield ledger
        return
    wide = column_width(Ruler(), solution, place.pump, sheet.system, LEAST_INLET_SHORT)
    key = column_key([place.ledger]).strip()
    text = f"Air column of {place.pump}, {case_name(place.case)}. {key}".rstrip()
    drawn = Picture(COLUMN, column, wide, floats=True)
    caption = Paragraph(text, quiet=True, keep=True)
    yield LeftAndRight((ledger,), (caption, drawn), wide=wide, least=LEAST_LEDGER)


def _is_on_first(sheet: Sheet, place: PumpInCase | None) -> bool:
    """Whether the first page has this very air column: that of one drawing alone shows one."""
    return len(sheet.panels) == 1 and place == sheet.panels[0].place


def before_and_after(places: Sequence[PumpInCase], system: System, titles: Sequence[str] = WHEN) -> Picture:
    """The air columns of a pump on one scale, as drawn and of the alternative, with like joined to like."""
    margins = [ledger_pressure(each.ledger.margin, system) for each in places]
    compared = [
        ComparedColumn(title, title, margin, place.ledger)
        for title, margin, place in zip(titles, margins, places, strict=True)
    ]
    more = (len(compared) - 2) * ONE_MORE

    def draw(pencil: Pencil, theme: Theme, box: Box) -> None:
        names = min(NAMES, (box.width / pencil.dot - LEAST_JOINED - more) / 2)
        pencil.painter.save()  # the type of this pencil, as another one writes here
        paint_side_by_side(pencil.painter, box, compared, theme, dot=pencil.dot, names=names,
                           floor_name=LEAST_INLET_SHORT)  # fmt: skip
        pencil.painter.restore()

    least = LEAST_NARROW + more if _are_short(compared) else LEAST_COMPARED
    return Picture(_height(compared), draw, least, floats=True, grows=GROWS)


def _are_short(compared: Sequence[ComparedColumn]) -> bool:
    """Whether all names fit beside and above two air columns that are as narrow as they may be."""
    ruler, room = Ruler(), (LEAST_NARROW - LEAST_JOINED) / 2 - NAMES_EDGE
    over = LEAST_NARROW - 2 * (room + NAMES_EDGE) - COLUMN_WIDE - NAMES_EDGE
    lines = [ruler.wrap(piece.name, room) for each in compared for piece in slices(each.ledger)]
    return all(ruler.width(each.title) <= over for each in compared) and all(
        len(each) <= LINES and all(ruler.width(line) <= room for line in each) for each in lines
    )


def _height(compared: Sequence[ComparedColumn]) -> float:
    """What the names beside two air columns need [logical pixels]."""
    named = 0
    for each in compared:
        pieces = slices(each.ledger)
        reach = max(piece.high for piece in pieces) - min(piece.low for piece in pieces)
        named = max(named, sum(piece.high - piece.low >= NAMED * reach for piece in pieces))
    return min(max(LOWEST, HEAD + FOOT + NAME * (named + LEVELS)), HIGHEST)


def ledger_table(solution: Solution, pump: str, system: System, theme: Theme) -> Table:
    """The ledger of one pump: what there is, every entry, what is left."""
    shares = solution.pumps[pump].budget > 0
    columns = [each for each in range(ledger_rows.ESSENTIAL) if shares or each != ledger_rows.SHARE]
    columns.remove(ledger_rows.PART)  # named with its element
    rows = tuple(
        _row(row, columns, system, theme)
        for row in ledger_rows.rows(solution, pump)
        if row.role != ledger_rows.Role.LINE
    )
    headings, roomy = (
        tuple(in_lines(ledger_rows.heading(column, system), longest) for column in columns)
        for longest in (SHORT, ROOMY)
    )
    chip = columns.index(ledger_rows.SHARE) if shares else -1
    return Table(headings, rows, frozenset((0,)), roomy, chip=chip, whole=True, may_tear=True, dense=True)


def _row(row: ledger_rows.LedgerRow, columns: Sequence[int], system: System, theme: Theme) -> Row:
    part, element, *figures = (ledger_rows.text(row, each, system) for each in (ledger_rows.PART, *columns))
    named = f"{part}, {element}" if row.key else ", ".join(each for each in (element, part) if each)
    named = named.replace("the floor", f"the {LEAST_INLET}") if row.role == ledger_rows.Role.SUM else named
    cells = (named, *figures)
    share = row.figures[ledger_rows.SHARE]
    chip = None
    if row.role == ledger_rows.Role.ENTRY and share is not None:
        chip = theme.classes[CREDIT] if share < 0 else share_colour(share, theme)
    head = row.role == ledger_rows.Role.FOLD
    first_sum = row.role == ledger_rows.Role.SUM and row.name == "Spent"
    quiet = row.role in (ledger_rows.Role.LINE, ledger_rows.Role.PARALLEL)
    return Row(cells, bold=head or row.role == ledger_rows.Role.SUM, quiet=quiet, rule=first_sum, chip=chip)


def _budgets(sheet: Sheet) -> Iterator[Block]:
    """How the budgets of all these ledgers are made, a column for each that is made in its own way."""
    ledgers: dict[tuple[BudgetLine, ...], tuple[list[_LedgerName], PumpLedger]] = {}
    for panel in sheet.panels:
        for pump in panel.judgement.layout.pumps:
            place = panel.judgement.worst(pump)
            if place is not None:
                lines = (*place.ledger.surface_lines, *place.ledger.floor_lines)
                whose = _LedgerName(panel.option.title, pump, case_name(place.case))
                ledgers.setdefault(lines, ([], place.ledger))[0].append(whose)
    every = [whose for held, _ in ledgers.values() for whose in held]
    for some in _in_groups(list(ledgers.values()), MOST_BUDGETS):
        heading = _budgets_heading(every, len(ledgers))
        notes = _further([ledger for _, ledger in some])
        yield Paragraph(notes, f"{heading}{'.' if notes else ''}", keep=True)
        columns = (_heading(_named(held, every), sheet.system) for held, _ in some)
        headings = ("Step", *columns, "Source")
        rows = tuple(_budget_rows([ledger for _, ledger in some], sheet.system))
        words = frozenset((0, len(some) + 1))
        yield Table(headings, rows, words, dense=True, floats=True, name=heading)
    if any(ledger.limit_estimated and not _names_estimate(ledger) for _, ledger in ledgers.values()):
        yield Paragraph(
            "A least inlet pressure is estimated from the maker's figure by the affinity laws; a figure "
            "from the maker "
            "for this fluid and speed replaces it.",
            lead="Estimated.",
        )


def _names_estimate(ledger: PumpLedger) -> bool:
    """Whether a step of the floor says itself that it is an estimate."""
    return any(AFFINITY in line.source for line in ledger.floor_lines)


class _LedgerName(NamedTuple):
    """Whose ledger it is."""

    drawing: str
    pump: str
    case: str


def _budgets_heading(every: Sequence[_LedgerName], count: int) -> str:
    """What stands over the budgets, with the case where it is that of all of them."""
    if count == 1:
        return "Inlet budget, alike in every ledger"
    cases = {whose.case for whose in every}
    return f"Inlet budgets, {cases.pop()}" if len(cases) == 1 else "Inlet budgets"


DISTINGUISHING_FIELDS = ((1,), (0,), (1, 0), (2,), (1, 2), (0, 2), (1, 0, 2))
"""Fields of `_LedgerName` that may be enough to tell ledgers from others."""


def _named(held: Sequence[_LedgerName], every: Sequence[_LedgerName]) -> list[str]:
    """The ledgers that have one budget, each by as little as tells them from the others."""
    others = [whose for whose in every if whose not in held]
    if not others:
        return []
    for fields in DISTINGUISHING_FIELDS:
        names, theirs = ([", ".join(whose[field] for field in fields) for whose in some]
                         for some in (held, others))  # fmt: skip
        if not set(names) & set(theirs):
            break
    return list(dict.fromkeys(names))


def _in_groups(
    ledgers: Sequence[tuple[list[_LedgerName], PumpLedger]], most: int
) -> Iterator[Sequence[tuple[list[_LedgerName], PumpLedger]]]:
    return (ledgers[first : first + most] for first in range(0, len(ledgers), most))


def _heading(names: Sequence[str], system: System) -> str:
    """The ledgers that a budget is of, where they differ, and its unit."""
    return in_lines("\n".join([*names, units.unit(Kind.ABSOLUTE, system)]), SHORT_OF_BUDGETS)


def _further(ledgers: Sequence[PumpLedger]) -> str:
    """What the sources of steps say in further sentences, which would make tall rows of a narrow column."""
    steps: dict[str, dict[str, None]] = {}
    for ledger in ledgers:
        for row, line in zip(
            ledger_rows.budget(ledger), (*ledger.surface_lines, *ledger.floor_lines), strict=True
        ):
            more = ". ".join(SENTENCE.split(line.source)[1:])
            if more:
                steps.setdefault(more, {})[row.name] = None
    return " ".join(f"{', '.join(names)}: {source_words(more)}." for more, names in steps.items())


def _budget_rows(ledgers: Sequence[PumpLedger], system: System) -> Iterator[Row]:
    """What every step adds, two sums under their names, and what the one has over the other."""
    steps: dict[tuple[str, str], tuple[dict[str, list[str]], list[str]]] = {}
    for number, ledger in enumerate(ledgers):
        lines = (*ledger.surface_lines, *ledger.floor_lines)
        for row, line in zip(ledger_rows.budget(ledger), lines, strict=True):
            sources, cells = steps.setdefault((row.part, row.name), ({}, [""] * len(ledgers)))
            cells[number] = ledger_rows.text(row, ledger_rows.TOTAL, system)
            sources.setdefault(source_words(SENTENCE.split(line.source)[0]), []).append(cells[number])
    part = ""
    for (group, name), (sources, cells) in steps.items():
        if group != part:
            yield Row((capitalised(group), *[""] * len(ledgers), ""), bold=True, rule=bool(part))
        part = group
        yield Row((name, *cells, _sources(sources)))
    whole = [in_writing(RoundedLedger(ledger, system).budget) for ledger in ledgers]
    yield Row(("Inlet budget", *whole, "what there is less what must remain"), bold=True, rule=True)


def _sources(sources: Mapping[str, Sequence[str]]) -> str:
    """Where the figures of a step come from; each named by its figures where not all come from one place."""
    if len(sources) == 1:
        return next(iter(sources))
    return "; ".join(f"{', '.join(dict.fromkeys(cells))}: {source}" for source, cells in sources.items())
