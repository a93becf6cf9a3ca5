"""What a page of text is set from: headings, paragraphs and whatever else knows its height."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Protocol

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.look.colours import Theme
from sketch.look.words import pieces

LEADING, BELOW = 1.14, 3.0
"""Of lines of text, in their height; under a paragraph [logical pixels]."""

MEASURE = 860.0
"""Logical pixels: longer lines of text are hard to follow."""

FEWEST_LINES = 2
"""Of a paragraph that is torn, on either side."""

CONTINUED = "(continued)"
"""Over the rest of what is torn, on another page."""

SENTENCE_END = re.compile(r"(?<=[a-z)\"\d%][.]) (?=[A-Z])")
"""Between two sentences of a paragraph."""


class Block(Protocol):
    """A piece of a page. `keep` ties it to what follows, so that no heading ends a page."""

    @property
    def keep(self) -> bool: ...

    def height(self, ruler: Ruler, width: float) -> float:
        """Its height in device units when it is that wide."""
        ...

    def needs(self, ruler: Ruler) -> float:
        """The least width that it is well set in [device units]."""
        ...

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        """What fits in `room` and what does not; (None, itself) when nothing does."""
        ...

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        """Draw it with its top left corner at (x, y)."""
        ...


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's name."""

    text: str
    large: bool = False
    tight: bool = False  # with less room above it
    keep: bool = True

    @property
    def _size(self) -> float:
        return LARGE if self.large else BODY

    @property
    def _above(self) -> float:
        return 4.0 if self.tight else 9.0

    def height(self, ruler: Ruler, width: float) -> float:
        lines = len(ruler.wrap(self.text, width, self._size, bold=True))
        return ruler.height(self._size) * LEADING * lines + (self._above + 4) * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return 0.0

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height(self._size) * LEADING
        middle = y + self._above * pencil.dot + step / 2
        for line in pencil.wrap(self.text, width, self._size, bold=True):
            pencil.text(x, middle, line, theme.ink, self._size, bold=True)
            middle += step


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text, with an optional bold lead word in its own colour and a mark in the margin."""

    text: str
    lead: str = ""
    lead_colour: QColor | None = None
    quiet: bool = False
    indent: float = 0.0  # logical pixels
    tears: bool = False  # may end in the next column
    rest: bool = False  # of a paragraph that began in another column
    name: str = ""  # the lead of the paragraph that it is the rest of
    close: bool = False  # the next one stands right under it, as in a list
    keep: bool = False

    def lines(self, ruler: Ruler, width: float) -> int:
        """How many lines it takes."""
        return len(self._lines(ruler, width))

    def _lines(self, ruler: Ruler, width: float) -> list[tuple[str, str]]:
        """What of the lead, and what of the text after it, stands on each line."""
        room = min(width, MEASURE * ruler.dot) - self.indent * ruler.dot
        return list(_set_lines(ruler.family, ruler.dot, self.lead, self.text, room))

    def height(self, ruler: Ruler, width: float) -> float:
        return len(self._lines(ruler, width)) * ruler.height() * LEADING + self._below * ruler.dot

    @property
    def _below(self) -> float:
        return 0.0 if self.close else BELOW

    def needs(self, ruler: Ruler) -> float:
        return 0.0

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        """What tears leaves two lines at least on either side."""
        lines = self._lines(ruler, width)
        fits = min(
            int((room - self._below * ruler.dot) / (ruler.height() * LEADING)), len(lines) - FEWEST_LINES
        )
        if not self.tears or fits < FEWEST_LINES or any(lead for lead, _ in lines[fits:]):
            return None, self
        head, tail = (" ".join(line for _, line in part) for part in (lines[:fits], lines[fits:]))
        return replace(self, text=head), replace(
            self, text=tail, lead="", rest=True, name=self.lead or self.name
        )

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height() * LEADING
        left, middle = x + self.indent * pencil.dot, y + step / 2
        colour = theme.quiet if self.quiet else theme.ink
        for lead, line in self._lines(pencil, width):
            start = left
            if lead:
                pencil.text(left, middle, lead, self.lead_colour or theme.ink, bold=True)
                start += pencil.width(f"{lead} ", bold=True)
            pencil.text(start, middle, line, colour)
            middle += step


@lru_cache(maxsize=4096)
def _set_lines(family: str, dot: float, lead: str, text: str, room: float) -> tuple[tuple[str, str], ...]:
    """The lines of a paragraph in that type; kept, as columns are tried at many heights."""
    ruler = Ruler(dot)
    if not lead:
        return tuple(("", line) for line in ruler.wrap(text, room))
    leads = ruler.wrap(lead, room, bold=True)
    first = room - ruler.width(f"{leads[-1]} ", bold=True)
    words, line = list(pieces(text)), ""
    while words and ruler.width(f"{line} {words[0]}".strip()) <= first:
        line = f"{line} {words.pop(0)}".strip()
    following = ruler.wrap(" ".join(words), room) if words else []
    return (*((each, "") for each in leads[:-1]), (leads[-1], line), *(("", each) for each in following))


@dataclass(frozen=True, slots=True)
class Picture:
    """Something drawn in a rectangle of a given height."""

    high: float  # logical pixels
    draw: Callable[[Pencil, Theme, Box], object]
    least: float = math.inf  # logical pixels, of its width; all that a page has unless given
    floats: bool = False  # may stand before what it follows, where that leaves room for it
    grows: float = 1.0  # how many times as high it may be, where a page across which it stands has room
    keep: bool = False

    def height(self, ruler: Ruler, width: float) -> float:
        return self.high * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return self.least * ruler.dot

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        self.draw(pencil, theme, Box(x, y, width, self.high * pencil.dot))


def over_page(head: Paragraph, tail: Paragraph, ruler: Ruler, width: float) -> tuple[Paragraph, Paragraph]:
    """The two parts of a paragraph that is torn between pages: at the end of a sentence, where the first part
    has one, and with the rest named as such."""
    *_, last = (0, *(each.end() for each in SENTENCE_END.finditer(head.text)))
    whole = replace(head, text=head.text[:last].rstrip())
    if last and whole.lines(ruler, width) >= FEWEST_LINES:
        head, tail = whole, replace(tail, text=f"{head.text[last:]} {tail.text}")
    name = f"{tail.name.rstrip(':')} {CONTINUED}:" if tail.name else CONTINUED
    return head, replace(tail, lead=name)


def total_height(blocks: Sequence[Block], ruler: Ruler, width: float) -> float:
    """The height of blocks below one another, in device units."""
    return sum(block.height(ruler, width) for block in blocks)


def paint_blocks(
    pencil: Pencil, theme: Theme, blocks: Sequence[Block], x: float, y: float, width: float
) -> None:
    """Draw blocks below one another, the top left corner of the first at (x, y)."""
    for block in blocks:
        block.paint(pencil, theme, x, y, width)
        y += block.height(pencil, width)
