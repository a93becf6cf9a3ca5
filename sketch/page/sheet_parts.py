"""What may stand behind the first page of a sheet, in the order in which it does.

Nothing here imports Qt: the command line must be read where Qt cannot load.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

PAPERS = ("A4", "A3", "Letter", "Tabloid")

NO_READINGS = "None is written in this drawing."
HOW_TO_WRITE_READINGS = "Type one under Readings in the window, or as a [[readings]] table in its file."
"""For whoever makes the sheet, not for its reader."""


class SheetPart(NamedTuple):
    """One thing behind the first page: what the contents call it, and the function that makes its blocks.

    The function takes the `Sheet` of sketch.page.sheet_frame and yields blocks of sketch.page.blocks: text,
    tables, and a `Picture` for whatever is drawn. It yields nothing where the drawing has nothing of the
    kind. Parts follow one another on a page; one in several columns begins a page of its own.
    """

    title: str
    blocks: str  # module and function
    tip: str
    optional: bool = False  # only where it is asked for, by --with or in the window
    columns: int = 1
    own_page: bool = False  # begins a page, though it is in one column
    unless: str = ""  # not where this optional part is asked for, which has all of it
    moves: bool = False  # may stand before or behind others that follow it, where that leaves less empty
    none: str = ""  # of an optional part: what stands in its place where the drawing has nothing of it


SHEET_PARTS: Mapping[str, SheetPart] = {
    "rest": SheetPart(
        "Continued from the first page",
        "sketch.page.sheet_rest:rest_part",
        "what the first page has no room for on that paper",
    ),
    "cases": SheetPart(
        "Every case",
        "sketch.page.sheet_cases:case_blocks",
        "the margin of every pump in every case, and what each alternative changes",
    ),
    "readings in short": SheetPart(
        "Readings in short",
        "sketch.page.sheet_readings:readings_in_short",
        "what the newest readings come to, and when a strainer that fills is due",
        unless="readings",
    ),
    "list": SheetPart(
        "Parts list",
        "sketch.page.sheet_list:list_part",
        "what the line is built from, and what each alternative adds and takes away",
        moves=True,
    ),
    "ledgers": SheetPart(
        "Ledgers and air columns",
        "sketch.page.sheet_ledgers:ledger_part",
        "every pump in its worst case, and how its budget is made",
        moves=True,
    ),
    "profile": SheetPart(
        "Pressure profile",
        "sketch.page.sheet_profile:profile_part",
        "absolute pressure along the line, in every case",
        moves=True,
    ),
    "reach": SheetPart(
        "How far each thing may go",
        "sketch.page.sheet_reach:reach_part",
        "one at a time, before the margin is spent",
        moves=True,
    ),
    "findings": SheetPart(
        "Findings",
        "sketch.page.sheet_findings:finding_part",
        "each once, with the cases and alternatives it applies to",
        moves=True,
    ),
    "assumptions": SheetPart(
        "Assumptions, sources and cautions",
        "sketch.page.sheet_text:assumption_part",
        "what the figures are based on",
    ),
    "words": SheetPart(
        "Words on this sheet",
        "sketch.page.sheet_words:words_part",
        "what its words mean",
    ),
    "curves": SheetPart(
        "Curves",
        "sketch.page.sheet_curves:curves_part",
        "the margin over temperature, port height, a blocked screen and speed, in every case",
        optional=True,
        none="None can be drawn: the line cannot be solved over any figure that they run over.",
    ),
    "readings": SheetPart(
        "Readings",
        "sketch.page.sheet_readings:readings_part",
        "every reading beside what the drawing expects, and every cause that was weighed",
        optional=True,
        none=NO_READINGS,
    ),
    "reach map": SheetPart(
        "Where the port may stand",
        "sketch.page.sheet_reach_map:reach_map_part",
        "every place coloured by the margin that would be left there, in the worst case",
        optional=True,
    ),
    "card": SheetPart(
        "Card for the machine",
        "sketch.page.sheet_field:card_part",
        "what the gauge should show at each pump, in every case and at rest, and where to stop",
        optional=True,
        own_page=True,
    ),
    "priming": SheetPart(
        "Before the first start",
        "sketch.page.sheet_field:priming_part",
        "how to fill each pump and its line, and where air may come in",
        optional=True,
        columns=2,
    ),
    "working": SheetPart(
        "Working",
        "sketch.page.sheet_working:working_part",
        "every step of the calculation, with its numbers and sources",
        optional=True,
        columns=2,
    ),
}

OPTIONAL = tuple(name for name, part in SHEET_PARTS.items() if part.optional)
"""What a sheet has only where it is asked for."""


def parts_of(wanted: frozenset[str]) -> tuple[SheetPart, ...]:
    """The parts of a sheet, in order, with those that are wanted of the optional ones.

    Raises ValueError for a name that no optional part has.
    """
    unknown = sorted(wanted - set(OPTIONAL))
    if unknown:
        raise ValueError(
            f'a sheet has no part "{unknown[0]}"; those to choose from are {", ".join(OPTIONAL)}'
        )
    return tuple(
        part
        for name, part in SHEET_PARTS.items()
        if (not part.optional or name in wanted) and part.unless not in wanted
    )


@dataclass(frozen=True, slots=True)
class SheetWish:
    """What a sheet is to be like."""

    paper: str = ""  # the usual one of the drawing's units
    upright: bool = False
    compare: tuple[str, ...] | None = (
        None  # alternatives beside the drawing; None: all, of the drawing itself
    )
    other: Path | None = None  # the file of another drawing to set beside it
    parts: frozenset[str] = frozenset()  # optional parts, by their names in SHEET_PARTS
    pages: int = 0  # at most so many; 0 for all
    pump: str = ""  # shown on the first page; "" for the one that stands worst
    case: str = ""  # likewise
    replace: bool = True  # whether a file that is no sheet of this program may be written over
