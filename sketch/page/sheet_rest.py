"""What the first page of a sheet has no room for on its paper, right behind it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet_advice import advice, also_judged, work
from sketch.page.sheet_first import Telling, bought, cautions_of_built
from sketch.page.sheet_frame import Sheet
from sketch.page.table import Table

WHOLE = Telling(6)
"""All that the first page tells where room is not short."""


def _sections(sheet: Sheet) -> Mapping[str, tuple[Block, ...]]:
    """Each section of the first page that stands nowhere else on the sheet, whole, by its heading.

    What remains, what changes and what it is based on have parts of their own behind the first page. None
    names a page: which one it is hangs on what stands here.
    """
    most, sheet = WHOLE.most, replace(sheet, behind={}, ends={})
    sections = (
        (*advice(sheet, most), *also_judged(sheet)),
        tuple(bought(sheet, WHOLE)),
        tuple(cautions_of_built(sheet, most)),
        tuple(work(sheet, most)),
    )
    return {blocks[0].text: blocks for blocks in sections if blocks and isinstance(blocks[0], Heading)}


def left_out_of(sheet: Sheet, shown: Sequence[Block]) -> frozenset[str]:
    """What the first page does not show of its sections, each block by its heading and its text.

    shown: all the text of that page, torn or run into one paragraph as it may be.
    """
    texts = _run_together(f"{each.lead} {each.text}" for each in shown if isinstance(each, Paragraph))
    bars = any(isinstance(block, Table) for block in shown)

    def stands(block: Block) -> bool:
        if isinstance(block, Paragraph):
            return _run_together([block.text]) in texts
        return bars or not isinstance(block, Table)

    return frozenset(
        _named(heading, block)
        for heading, blocks in _sections(sheet).items()
        for block in blocks
        if not stands(block)
    )


def _named(heading: str, block: Block) -> str:
    """A block of a section, by its heading and, of a paragraph, its text: of another one only its kind."""
    return f"{heading}: {block.text if isinstance(block, Paragraph) else type(block).__name__}"


def _run_together(texts: Iterable[str]) -> str:
    """Without the pages that they name, and without any space, as lines end anywhere."""
    return "".join("".join(re.sub(ON_PAGE, "", text).split()) for text in texts)


ON_PAGE = r",\s+pages?\s+\d+(\s+(and|to)\s+\d+)?"


def rest_part(sheet: Sheet) -> Iterator[Block]:
    """What the first page cuts off of its sections, under their headings; nothing where it shows all."""
    blocks: list[Block] = []
    for heading, section in _sections(sheet).items() if sheet.continued else ():
        cut = [each for each in section[1:] if _named(heading, each) in sheet.continued]
        captions = [each for each in section[1:] if isinstance(each, Paragraph) and each.keep]
        wanted = [each for each in section[1:] if each in cut or (each in captions and _has_table(cut))]
        blocks += (section[0], *wanted) if wanted else ()
    if blocks:
        yield Heading("Continued from the first page")
        yield Columns(tuple(blocks))


def _has_table(blocks: Iterable[Block]) -> bool:
    return any(isinstance(block, Table) for block in blocks)
