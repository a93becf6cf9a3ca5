"""How the parts of a sheet follow one another: in columns where they fit one, across the page where not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Heading, Paragraph, Picture, total_height
from sketch.page.columns import Columns, LeftAndRight

WIDE, GAP = 478.0, 20.0
"""Logical pixels: the least width of a column that tables stand in, and what lies between two."""


MOST, MOST_IF_NARROW = 1.1, 0.85
"""Of what a table takes of a page across it, that it may take in a column: one that is narrow reads badly,
and what goes across a page leaves what stands above it to columns of its own."""


def flowed(
    blocks: Sequence[Block], ruler: Ruler, width: float, least: float = 1.0, page: float = 0.0
) -> list[Block]:
    """The blocks on pages of that width [device units], in columns wherever they fit one, tables and
    pictures where they do not grow too tall there.

    least: what is torn needs so much of the room that is usually asked for at the foot of a column.
    page: the height of a page [device units], where one is known.
    """
    count, wide = _columns(ruler, width)
    flow: list[Block] = []
    run: list[Block] = []
    for tied in _tied(list(single(blocks, ruler, wide, width))):
        narrow = max(block.needs(ruler) for block in tied) <= wide
        if narrow and (isinstance(tied[-1], Paragraph) or _is_better(tied, ruler, wide, width, count)):
            run += tied
            continue
        if not _may_wait(run, tied):
            flow += run if _is_alone(run, ruler, wide, width) else _set(run, count, least, page)
            run = []
        flow += tied
    return [*flow, *_set(run, count, least, page)]


def single(blocks: Sequence[Block], ruler: Ruler, wide: float, across: float) -> Iterator[Block]:
    """One block after another, in a column of that width [device units], of what may stand beside another.

    across: the width of the page [device units]: what stands below one another on all of it is parted too.
    """
    for block in blocks:
        if isinstance(block, Columns):
            yield from single(block.blocks, ruler, wide, across)
        elif isinstance(block, LeftAndRight) and (
            _fits(block.stacked(ruler, wide), ruler, wide) or block.stacked(ruler, across)
        ):
            yield from block.stacked(ruler, wide)
        else:
            yield block


def floats_ahead(blocks: Sequence[Block]) -> list[Block]:
    """The blocks with the pictures that float first in their section, right under the heading."""
    ahead: list[Block] = []
    rest: list[Block] = []
    ordered: list[Block] = []
    for tied in _tied(blocks):
        if isinstance(tied[0], Heading):
            ordered += [*ahead, *rest, tied[0]]
            ahead, rest = [], []
            tied = tied[1:]
        if tied and isinstance(tied[-1], Picture) and tied[-1].floats:
            ahead += tied
        else:
            rest += tied
    return [*ordered, *ahead, *rest]


def inside(block: Block) -> tuple[Block, ...]:
    """The blocks that stand in columns, or the block alone."""
    return block.blocks if isinstance(block, Columns) else (block,)


def parts_on(pages: Sequence[Sequence[Sequence[Block]]], firsts: Mapping[int, str]) -> list[tuple[str, ...]]:
    """The titles of the parts on each page of some columns: of one that goes on from the page before it, and
    of those that begin.

    firsts: the titles by the id of the first block of each part.
    """
    held: list[tuple[str, ...]] = []
    last: tuple[str, ...] = ()
    for columns in pages:
        ids = [id(each) for column in columns for block in column for each in inside(block)]
        begin = tuple(firsts[each] for each in ids if each in firsts)
        held.append(begin if ids and ids[0] in firsts else (*last, *begin))
        last = held[-1][-1:]
    return held


def _may_wait(run: Sequence[Block], across: Sequence[Block]) -> bool:
    """Whether what waits for columns may stand behind what goes across the page, to have more beside it."""
    return not isinstance(across[0], Heading) and all(
        getattr(tied[-1], "floats", False) and not isinstance(tied[0], Heading) for tied in _tied(run)
    )


def _is_alone(run: Sequence[Block], ruler: Ruler, wide: float, width: float) -> bool:
    """Whether a run is one table or picture that would leave a column empty, and is lower across the page."""
    return (
        len(list(_tied(run))) == 1
        and not isinstance(run[-1], Paragraph)
        and total_height(run, ruler, width) < total_height(run, ruler, wide)
    )


def _columns(ruler: Ruler, width: float) -> tuple[int, float]:
    """How many columns, two at the least, and how wide each is [device units]."""
    gap = GAP * ruler.dot
    count = max(int((width + gap) / (WIDE * ruler.dot + gap)), 2)
    return count, (width - (count - 1) * gap) / count


def _is_better(tied: Sequence[Block], ruler: Ruler, wide: float, width: float, count: int) -> bool:
    """Whether blocks take so little of a page in a column of it that they are better there than across."""
    most = MOST if wide >= WIDE * ruler.dot else MOST_IF_NARROW
    return total_height(tied, ruler, wide) <= most * count * total_height(tied, ruler, width)


def _fits(blocks: Sequence[Block], ruler: Ruler, wide: float) -> bool:
    return bool(blocks) and all(block.needs(ruler) <= wide for block in blocks)


def _tied(blocks: Sequence[Block]) -> Iterator[list[Block]]:
    """Blocks that must stand together: each with those that are tied to it."""
    group: list[Block] = []
    for block in blocks:
        group.append(block)
        if not block.keep:
            yield group
            group = []
    if group:
        yield group


def _set(run: Sequence[Block], count: int, least: float, page: float) -> tuple[Block, ...]:
    return (Columns(tuple(run), count, GAP, least, page),) if run else ()
