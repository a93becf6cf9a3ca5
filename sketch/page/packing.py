"""The pages behind the first one: their blocks packed so that few pages hold them and little is torn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, permutations
from typing import NamedTuple

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Picture, total_height
from sketch.page.columns import Columns, lowest, paginate
from sketch.page.flow import floats_ahead, flowed, parts_on
from sketch.page.paper import Paper
from sketch.page.sheet_frame import later_body
from sketch.page.sheet_pages import column_of
from sketch.page.sheet_parts import SheetPart
from sketch.page.table import Table, tearable
from sketch.page.writing_grid import WritingGrid


@dataclass(frozen=True, slots=True)
class Draft:
    """The blocks of a page behind the first one, in one column or two."""

    columns: tuple[tuple[Block, ...], ...]
    parts: tuple[str, ...]  # titles of those that it has something of
    size: float = 1.0  # of its type, against the usual


class Packing(NamedTuple):
    """How closely the blocks of a sheet are set."""

    least: float = 1.0  # of the room usually asked for where something is torn
    ahead: bool = False  # what may stand before what it follows does
    torn: bool = False  # tables are torn that stand whole elsewhere


PACKINGS = (
    Packing(),
    Packing(0.5),
    Packing(0.25),
    Packing(0.25, ahead=True),
    Packing(0.25, torn=True),
    Packing(0.15, ahead=True, torn=True),
)
"""To be tried in this order, each only where it saves a page."""


SMALLER = (0.96, 0.93, 0.9, 0.87)
"""Of the usual type, the largest that saves most pages: one of a few lines looks as if more were missing. It
tears no table, unless all that save a page do, or a long sheet has a page less."""


SMALLEST = (0.85, 0.83)
"""Of the usual type, tried where only that brings a long sheet to `LONG` pages behind the first."""


LARGER = (1.2, 1.15, 1.1, 1.05)
"""Of the usual type, the largest that takes no page more, where the last would be half empty: what is read at
arm's length may use the paper."""

HALF_FULL = 0.55
"""Of a page but the last: to save a page no smaller type leaves one emptier, unless the usual does."""

LEAST_FULL = 0.75
"""Of a page but the last: where one is emptier, a part that fits is moved forward."""

LONG = 5
"""Pages behind the first: over so many, what saves one is looked for in other orders of the parts too, and
may tear a table."""

EMPTY_FOOT, LOOSEST = 0.06, 1.4
"""Of a page but the last: from so much that is empty at its foot the rows of its tables have more room, so
many times the usual at most."""

MOSTLY_FULL = 2 / 3
"""Of a page: a last one that is fuller is left as it is, and no other should be emptier."""


def sized(
    blocks: Sequence[Block], dot: float, width: float, height: float, count: int, *, flows: bool
) -> tuple[float, list[list[Block]]]:
    """The size of the type, and the blocks in columns of that height, so many on a page."""
    usual = packed(blocks, Ruler(dot), width, height, flows=flows)
    smaller = list(_smaller(SMALLER, blocks, usual, dot, width, height, count, flows=flows))
    if min(len(each) for each in (usual, *(each for _, each in smaller))) > LONG * count:
        every = _smaller(SMALLEST, blocks, usual, dot, width, height, count, flows=flows)
        smaller += [each for each in every if len(each[1]) <= LONG * count]
    if not smaller:
        return _larger(blocks, usual, dot, width, height) if flows else (1.0, usual)
    whole = [each for each in smaller if not _tears(each[1], Ruler(each[0] * dot), width)]
    best = min(whole, key=lambda each: len(each[1]), default=smaller[0])
    return min(best, *smaller, key=lambda each: len(each[1])) if len(best[1]) > LONG * count else best


def _smaller(
    sizes: Sequence[float],
    blocks: Sequence[Block],
    usual: Sequence[Sequence[Block]],
    dot: float,
    width: float,
    height: float,
    count: int,
    *,
    flows: bool,
) -> Iterator[tuple[float, list[list[Block]]]]:
    """Those sizes of type that save a page, and the blocks in columns in each."""
    pages, over = math.ceil(len(usual) / count), _too_tall(usual, Ruler(dot), width, height)
    for size in sizes:
        small = Ruler(size * dot)
        least = sum(lowest(block, small, width) for column in usual for block in column) / height
        if math.ceil(least / count) >= pages:
            continue
        closer = packed(blocks, small, width, height, flows=flows)
        if math.ceil(len(closer) / count) >= pages or _too_tall(closer, small, width, height) > over:
            continue
        emptiest = min(HALF_FULL, _emptiest(usual, Ruler(dot), width, height))
        if not flows or _emptiest(closer, small, width, height) >= emptiest:
            yield size, closer


def _emptiest(pages: Sequence[Sequence[Block]], ruler: Ruler, width: float, height: float) -> float:
    """How much is taken of the emptiest page but the last."""
    return min((_share(page, ruler, width, height) for page in pages[:-1]), default=1.0)


def _tears(columns: Iterable[Iterable[Block]], ruler: Ruler, width: float) -> bool:
    """Whether a table goes on elsewhere that stands whole unless tearing it saves a page."""
    for block in chain.from_iterable(columns):
        if isinstance(block, Columns):
            wide = block.column_width(ruler, width)
            if _tears(block.arranged(ruler, width)[1], ruler, wide):
                return True
        elif isinstance(block, Table) and block.rest and block.may_tear and not block.whole:
            return True
    return False


def _larger(
    blocks: Sequence[Block], usual: list[list[Block]], dot: float, width: float, height: float
) -> tuple[float, list[list[Block]]]:
    """Blocks that flow in larger type, where their last page is not even mostly full in the usual."""
    ruler = Ruler(dot)
    shares = [_share(page, ruler, width, height) for page in usual]
    for size in LARGER if shares[-1] < MOSTLY_FULL else ():
        if sum(shares) * size**2 > len(usual):
            continue
        large = Ruler(size * dot)
        pages = packed(blocks, large, width, height, flows=True)
        if _faults(pages, large, width, height) <= _faults(usual, ruler, width, height):
            return size, pages
    return 1.0, usual


def _share(page: Sequence[Block], ruler: Ruler, width: float, height: float) -> float:
    """How much of a page is taken."""
    return sum(lowest(block, ruler, width) for block in page) / height


def _faults(
    pages: Sequence[Sequence[Block]], ruler: Ruler, width: float, height: float
) -> tuple[int, int, int]:
    """How many pages run over the foot, how many there are, and how many before the last have a large gap."""
    gaps = sum(_share(page, ruler, width, height) < MOSTLY_FULL for page in pages[:-1])
    return _too_tall(pages, ruler, width, height), len(pages), gaps


def packed(
    blocks: Sequence[Block], ruler: Ruler, width: float, height: float, *, flows: bool
) -> list[list[Block]]:
    """The blocks in columns of that height, packed closer only where that saves one or closes a large gap.

    flows: whether what is narrow enough stands in columns inside it.
    """

    def packed(packing: Packing) -> list[list[Block]]:
        placed = floats_ahead(blocks) if packing.ahead else blocks
        loose = [tearable(block) for block in placed] if packing.torn else placed
        flow = flowed(loose, ruler, width, packing.least, height) if flows else loose
        return paginate(flow, ruler, width, height, packing.least)

    def faults(pages: Sequence[Sequence[Block]]) -> tuple[int, int, int]:
        return _faults(pages, ruler, width, height)

    best = packed(PACKINGS[0])
    at_best = math.ceil(sum(_share(page, ruler, width, height) for page in best))
    for packing in PACKINGS[1:]:
        if faults(best) > (0, at_best, 0):
            best = min(best, packed(packing), key=faults)
    return best


def _too_tall(columns: Sequence[Sequence[Block]], ruler: Ruler, width: float, height: float) -> int:
    """How many columns run over the foot, where nothing of them would be seen."""
    return sum(total_height(column, ruler, width) > height + ruler.dot for column in columns)


def in_columns(
    parts: Sequence[tuple[SheetPart, list[Block]]], on: Paper, count: int, *, flows: bool = False
) -> list[Draft]:
    """Parts on pages of so many columns; with `flows`, what is narrow enough in columns of its own."""
    usual = _in_order(parts, on, count, flows=flows)
    best, least = usual, _gaps(usual, on)
    enough = len(usual) - _may_be_fewer(usual, on), 0
    for order in _other_orders(parts) if flows else ():
        if least <= enough:
            break
        other = _in_order(order, on, count, flows=flows)
        gaps = _gaps(other, on)
        fewer = LONG <= gaps[0] < least[0]
        if gaps < least and (fewer or _smallest(other) >= _smallest(best)):
            best, least = other, gaps
    body = later_body(*on.size, on.dot)
    wide = body.width if count == 1 else column_of(body, on.dot)
    return [
        _with_room_used(draft, Ruler(draft.size * on.dot), wide, body.height, last=draft is best[-1])
        for draft in best
    ]


def _with_room_used(draft: Draft, ruler: Ruler, width: float, height: float, *, last: bool) -> Draft:
    """A page with the pictures in its columns as high as they may be, and the rows of its tables apart, where
    they leave its foot empty."""
    columns = tuple(_grown(each, ruler, width, height) for each in draft.columns)
    if not last:
        columns = tuple(_loosened(each, ruler, width, height) for each in columns)
    return replace(draft, columns=columns)


def _loosened(blocks: Sequence[Block], ruler: Ruler, width: float, height: float) -> tuple[Block, ...]:
    """The blocks of a page with more room between the rows of its tables, as far as its foot has it."""
    room = height - total_height(blocks, ruler, width)
    tables = [block for block in blocks if isinstance(block, Table)]
    if not tables or room < EMPTY_FOOT * height:
        return tuple(blocks)
    doubled = total_height([replace(each, loose=2.0) for each in tables], ruler, width)
    loose = min(1.0 + room / (doubled - total_height(tables, ruler, width)), LOOSEST)
    return tuple(replace(each, loose=loose) if isinstance(each, Table) else each for each in blocks)


def _grown(blocks: Sequence[Block], ruler: Ruler, width: float, height: float) -> tuple[Block, ...]:
    """The blocks of a page, what stands in columns at its foot with its pictures grown.

    What stands in which column stays so: only what is empty under a column goes to the pictures in it.
    """
    room = height - total_height(blocks, ruler, width)
    *above, last = blocks
    if not isinstance(last, Columns) or room <= 0.0:
        return tuple(blocks)
    high, columns = last.arranged(ruler, width)
    wide = last.column_width(ruler, width)
    return *above, replace(last, full=tuple(_filled(each, ruler, wide, high + room) for each in columns))


def _may_be_fewer(drafts: Sequence[Draft], on: Paper) -> bool:
    """Whether a sheet is long, and in the smallest type what stands on it has room on one page less."""
    body, small = later_body(*on.size, on.dot), Ruler(SMALLEST[-1] * on.dot)
    taken = sum(_share(draft.columns[0], small, body.width, body.height) for draft in drafts)
    return len(drafts) > LONG and taken <= len(drafts) - 1


Parts = Sequence[tuple[SheetPart, list[Block]]]
"""Of a sheet, each with its blocks."""


def _other_orders(parts: Parts) -> Iterator[Parts]:
    """The orders in which one part that moves stands elsewhere among others that do, the nearest first."""
    moving = [at for at, (part, _) in enumerate(parts) if part.moves]
    moves = [(start, end) for start, end in permutations(moving, 2) if end != start - 1]  # one swap, not two
    for start, end in sorted(moves, key=lambda move: abs(move[1] - move[0])):
        order = list(parts)
        order.insert(end, order.pop(start))
        yield order


def _smallest(drafts: Sequence[Draft]) -> float:
    """The size of the type, where it is smaller than the usual."""
    return min((min(draft.size, 1.0) for draft in drafts), default=1.0)


def _gaps(drafts: Sequence[Draft], on: Paper) -> tuple[int, int]:
    """How many pages there are, and on how many but the last more is empty than need be."""
    body = later_body(*on.size, on.dot)
    shares = (
        _share(draft.columns[0], Ruler(draft.size * on.dot), body.width, body.height) for draft in drafts[:-1]
    )
    return len(drafts), sum(share < LEAST_FULL for share in shares)


def _in_order(parts: Parts, on: Paper, count: int, *, flows: bool) -> list[Draft]:
    """Parts in the order given. Parameters as `in_columns`."""
    body = later_body(*on.size, on.dot)
    wide = body.width if count == 1 else column_of(body, on.dot)
    firsts = {id(blocks[0]): part.title for part, blocks in parts if blocks}
    every = [block for _, blocks in parts for block in blocks]
    if not every:
        return []
    size, packed = sized(every, on.dot, wide, body.height, count, flows=flows)
    columns = [_filled(column, Ruler(size * on.dot), wide, body.height) for column in packed]
    pages = [tuple(columns[at : at + count]) for at in range(0, len(columns), count)]
    held = parts_on(pages, firsts)
    return [Draft(page, titles, size) for page, titles in zip(pages, held, strict=True)]


def _filled(blocks: Sequence[Block], ruler: Ruler, width: float, height: float) -> tuple[Block, ...]:
    """A column with all the lines to write on that it has room for, where it ends with such; else with its
    pictures as high as they may be."""
    *above, last = blocks
    if isinstance(last, WritingGrid):
        return *above, last.filling(ruler, width, height - total_height(above, ruler, width))
    growing = [block for block in blocks if isinstance(block, Picture) and block.grows > 1.0]
    high, room = total_height(growing, ruler, width), height - total_height(blocks, ruler, width)
    if not growing or room <= 0.0:
        return tuple(blocks)
    factor = min(1.0 + room / high, *(picture.grows for picture in growing))
    return tuple(
        replace(block, high=factor * block.high) if isinstance(block, Picture) and block in growing else block
        for block in blocks
    )
