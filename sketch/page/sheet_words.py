"""The words of a sheet that its reader may not know, each in one sentence."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from sketch.look.glossary import words_on_paper
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.sheet_cases import case_blocks
from sketch.page.sheet_findings import finding_part
from sketch.page.sheet_first import TELLINGS, first_pages
from sketch.page.sheet_frame import LEAST_INLET, Sheet
from sketch.page.sheet_halves import SHORT
from sketch.page.sheet_panels import key_figures
from sketch.page.sheet_parts import SHEET_PARTS
from sketch.page.table import Table
from solver.layout.parts import SHORT_CASE
from solver.quantities.units import System

DRAWN = "lift, share of the inlet budget, given back, over budget, at the port, abs"
"""What the drawings of the first page and their key, and the ledgers, say of every line."""


def words_part(sheet: Sheet) -> Iterator[Block]:
    """Those of the glossary that stand on the first page, in the table of cases or in the findings."""
    blocks = (*next(first_pages(sheet, TELLINGS[0])), *case_blocks(sheet), *finding_part(sheet))
    names = SHORT if len(sheet.panels) > 1 else ()
    figures = (" ".join(figure) for panel in sheet.panels for figure in key_figures(sheet, panel, names))
    known = words_on_paper(" ".join((DRAWN, *figures, *_own(sheet, _texts(blocks)))))
    if known:
        yield Heading(SHEET_PARTS["words"].title)
    other_units = {"inHg"} if sheet.system is System.SI else set()  # in what was typed
    for word, meaning in ((word, meaning) for word, meaning in known.items() if word not in other_units):
        yield Paragraph(
            meaning.replace("the floor", f"the {LEAST_INLET}"), f"{word}:", quiet=True, close=True
        )


def _own(sheet: Sheet, texts: Iterable[str]) -> Iterator[str]:
    """Texts without what the author of the drawing has typed: a valve that is called "port" is none."""
    typed = sorted(_typed(sheet), key=len, reverse=True)
    pattern = re.compile("|".join(rf"(?<!\w){re.escape(each)}(?!\w)" for each in typed), re.IGNORECASE)
    return (pattern.sub(" ", text) for text in texts) if typed else iter(texts)


def _typed(sheet: Sheet) -> set[str]:
    """Names of parts, cases and alternatives, and notes; the coldest start is a name of ours."""
    typed = {text for option in sheet.options for text in (option.name, option.note)}
    for layout in (each.judgement.layout for each in sheet.options if each.judgement is not None):
        joints = layout.intakes, layout.fittings, layout.tees, layout.pumps
        typed |= {name for group in (*joints, layout.reservoirs, layout.runs, layout.cases) for name in group}
        typed |= {case.note for case in layout.cases.values()}
    return {" ".join(each.split()) for each in typed if each.strip()} - {SHORT_CASE}


def _texts(blocks: Iterable[Block]) -> Iterator[str]:
    """All that is written in blocks of text and in tables."""
    for block in blocks:
        if isinstance(block, Paragraph):
            yield f"{block.lead} {block.text}"
        elif isinstance(block, Heading):
            yield block.text
        elif isinstance(block, Table):
            yield from block.headings
            yield from (cell for row in block.rows for cell in row.cells)
