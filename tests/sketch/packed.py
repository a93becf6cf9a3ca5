"""How well the pages behind the first of a sheet are packed: what is empty, torn, or without its heading."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from sketch.drawing.pencil import Ruler
from sketch.look.colours import LIGHT
from sketch.page.blocks import CONTINUED, Block, Heading, Paragraph, total_height
from sketch.page.columns import LINES_UNDER_HEADING, Columns, LeftAndRight
from sketch.page.options import Option
from sketch.page.packing import Draft
from sketch.page.paper import Paper, paper
from sketch.page.sheet import _dressed, _kept_blocks, _settled, _sheet
from sketch.page.sheet_frame import later_body
from sketch.page.sheet_pages import column_of
from sketch.page.sheet_parts import SheetWish, parts_of
from sketch.page.table import Table
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import DAY


@dataclass(frozen=True, slots=True)
class Column:
    """What stands below one another in a column of a page, each block for itself."""

    blocks: tuple[Block, ...]
    ruler: Ruler
    wide: float
    page: int


@dataclass(frozen=True, slots=True)
class Packed:
    """What a reader would find fault with."""

    empty: tuple[float, ...]  # of every page behind the first
    torn: tuple[str, ...]  # tables that one column or page has room for
    alone: tuple[str, ...]  # headings with a line or two at a foot
    silent: tuple[str, ...]  # ends of pages within a paragraph that the next does not name
    over: int  # columns that run over the foot


def packed(options: Sequence[Option], name: str, system: System, *, upright: bool) -> Packed:
    """The pages behind the first one, on a paper of that name."""
    on = paper(name, Path("sheet.pdf"), upright=upright)
    sheet = _dressed(_sheet(options, SheetWish(), Level.MINIMUM, system), LIGHT, DAY, None)
    _, drafts = _settled(sheet, on, parts_of(frozenset()), 0, _kept_blocks())
    columns = [each for page, draft in enumerate(drafts) for each in _columns(draft, on, page)]
    body = later_body(*on.size, on.dot)
    return Packed(
        tuple(1.0 - _area(columns, page) / (body.width * body.height) for page in range(len(drafts))),
        tuple(_torn(columns, body.height)),
        tuple(_alone(columns)),
        tuple(_silent(columns)),
        sum(_too_tall(draft, on, body.height) for draft in drafts),
    )


def _columns(draft: Draft, on: Paper, page: int) -> Iterator[Column]:
    body, ruler = later_body(*on.size, on.dot), Ruler(draft.size * on.dot)
    wide = body.width if len(draft.columns) == 1 else column_of(body, on.dot)
    for blocks in draft.columns:
        yield from _parted(blocks, ruler, wide, page)


def _parted(blocks: Sequence[Block], ruler: Ruler, wide: float, page: int) -> Iterator[Column]:
    run: list[Block] = []
    for block in blocks:
        if isinstance(block, LeftAndRight) and not block.stacked(ruler, wide):
            left, right = block._widths(ruler, wide)
            yield Column((*run, *block.left), ruler, left, page)
            yield Column(block.right, ruler, right, page)
            run = []
        elif isinstance(block, Columns):
            yield Column(tuple(run), ruler, wide, page)
            run = []
            for column in block.arranged(ruler, wide)[1]:
                yield from _parted(column, ruler, block.column_width(ruler, wide), page)
        else:
            run += block.stacked(ruler, wide) if isinstance(block, LeftAndRight) else [block]
    yield Column(tuple(run), ruler, wide, page)


def _area(columns: Sequence[Column], page: int) -> float:
    return sum(total_height(each.blocks, each.ruler, each.wide) * each.wide
               for each in columns if each.page == page)  # fmt: skip


def _torn(columns: Sequence[Column], height: float) -> Iterator[str]:
    for at, column in enumerate(columns):
        for table in (each for each in column.blocks if isinstance(each, Table) and each.rest):
            rows = table.rows
            for before in reversed(columns[:at]):
                parts = [each for each in before.blocks
                         if isinstance(each, Table) and each.headings == table.headings]  # fmt: skip
                rows = (*(row for part in parts[-1:] for row in part.rows), *rows)
                if parts and not parts[-1].rest:
                    break
            whole = replace(table, rows=rows, rest=False)
            if whole.height(column.ruler, column.wide) <= 0.97 * height:
                yield table.name or table.headings[0]


def _alone(columns: Sequence[Column]) -> Iterator[str]:
    for column, following in pairwise(each for each in columns if each.blocks):
        lines = 0
        for block in reversed(column.blocks):
            if isinstance(block, Heading):
                if not isinstance(following.blocks[0], Heading):
                    yield block.text
                break
            lines += block.lines(column.ruler, column.wide) if isinstance(block, Paragraph) else 99
            if lines >= LINES_UNDER_HEADING:
                break


def _silent(columns: Sequence[Column]) -> Iterator[str]:
    for column, following in pairwise(each for each in columns if each.blocks):
        last, first = column.blocks[-1], following.blocks[0]
        over_page = following.page > column.page and isinstance(last, Paragraph)
        if over_page and isinstance(first, Paragraph) and first.rest and CONTINUED not in first.lead:
            yield last.text[-40:]


def _too_tall(draft: Draft, on: Paper, height: float) -> int:
    body, ruler = later_body(*on.size, on.dot), Ruler(draft.size * on.dot)
    wide = body.width if len(draft.columns) == 1 else column_of(body, on.dot)
    return sum(total_height(each, ruler, wide) > height + on.dot for each in draft.columns)
