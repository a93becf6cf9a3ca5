"""What the first page of a sheet has no room for on its paper, in full right behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

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

    What remains, what changes and what it is based on have parts of their own behind the first page.
    """
    most = WHOLE.most
    sections = (
        (*advice(sheet, most), *also_judged(sheet)),
        tuple(bought(sheet, WHOLE)),
        tuple(cautions_of_built(sheet, most)),
        tuple(work(sheet, most)),
    )
    return {blocks[0].text: blocks for blocks in sections if blocks and isinstance(blocks[0], Heading)}


def left_out_of(sheet: Sheet, shown: Sequence[Block]) -> frozenset[str]:
    """The headings of the sections that the first page does not show whole.

    shown: all the text of that page, torn or run into one paragraph as it may be.
    """
    texts = _run_together(f"{each.lead} {each.text}" for each in shown if isinstance(each, Paragraph))
    bars = any(isinstance(block, Table) for block in shown)

    def stands(block: Block) -> bool:
        if isinstance(block, Paragraph):
            return _run_together([block.text]) in texts
        return bars or not isinstance(block, Table)

    return frozenset(heading for heading, blocks in _sections(sheet).items() if not all(map(stands, blocks)))


def _run_together(texts: Iterable[str]) -> str:
    """Without any space, as lines end anywhere."""
    return "".join("".join(text.split()) for text in texts)


def rest_part(sheet: Sheet) -> Iterator[Block]:
    """The sections that the first page cuts off, each whole; nothing where it has room for all."""
    sections = _sections(sheet) if sheet.continued else {}
    blocks = [block for heading, blocks in sections.items() if heading in sheet.continued for block in blocks]
    if blocks:
        yield Heading("Continued from the first page")
        yield Columns(tuple(blocks))
