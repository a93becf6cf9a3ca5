"""What a page of text is set from: headings, paragraphs and whatever else knows its height; and the pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtGui import QColor

from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.look.colours import Theme
from sketch.look.words import pieces

LEADING = 1.25
MEASURE = 860.0
"""Logical pixels: longer lines of text are hard to follow."""


class Block(Protocol):
    """A piece of a page. `keep` ties it to what follows, so that no heading ends a page."""

    @property
    def keep(self) -> bool: ...

    def height(self, ruler: Ruler, width: float) -> float:
        """Its height in device units when it is that wide."""
        ...

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
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
    keep: bool = True

    @property
    def _size(self) -> float:
        return LARGE if self.large else BODY

    def height(self, ruler: Ruler, width: float) -> float:
        return ruler.height(self._size) * LEADING + 16 * ruler.dot

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        middle = y + 12 * pencil.dot + pencil.height(self._size) * LEADING / 2
        pencil.text(x, middle, self.text, theme.ink, self._size, bold=True)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text, with an optional bold lead word in its own colour and a mark in the margin."""

    text: str
    lead: str = ""
    lead_colour: QColor | None = None
    quiet: bool = False
    indent: float = 0.0  # logical pixels
    keep: bool = False

    def _lines(self, ruler: Ruler, width: float) -> list[str]:
        """The lead takes its room on the first line as words that are not painted twice."""
        room = min(width, MEASURE * ruler.dot) - self.indent * ruler.dot
        if not self.lead:
            return ruler.wrap(self.text, room)
        first = room - ruler.width(f"{self.lead} ", bold=True)
        words, line = pieces(self.text), ""
        while words and ruler.width(f"{line} {words[0]}".strip()) <= first:
            line = f"{line} {words.pop(0)}".strip()
        return [line, *(ruler.wrap(" ".join(words), room) if words else [])]

    def height(self, ruler: Ruler, width: float) -> float:
        return len(self._lines(ruler, width)) * ruler.height() * LEADING + 4 * ruler.dot

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height() * LEADING
        left, middle = x + self.indent * pencil.dot, y + step / 2
        colour = theme.quiet if self.quiet else theme.ink
        for number, line in enumerate(self._lines(pencil, width)):
            start = left
            if number == 0 and self.lead:
                pencil.text(left, middle, self.lead, self.lead_colour or theme.ink, bold=True)
                start += pencil.width(f"{self.lead} ", bold=True)
            pencil.text(start, middle, line, colour)
            middle += step


def paginate(blocks: Sequence[Block], ruler: Ruler, width: float, height: float) -> list[list[Block]]:
    """The blocks in pages of that height; a heading goes with what it heads."""
    pages: list[list[Block]] = [[]]
    waiting = list(blocks)
    left = height
    while waiting:
        block = waiting.pop(0)
        needed = block.height(ruler, width)
        if needed <= left and (not pages[-1] or _kept_together(block, waiting, ruler, width, left, height)):
            pages[-1].append(block)
            left -= needed
            continue
        part, rest = block.split(ruler, width, left)
        if part is not None and _worth_splitting(needed, left, height):
            pages[-1].append(part)
            waiting.insert(0, rest)
        elif not pages[-1]:
            pages[-1].append(block)  # taller than a page: nothing better can be done for it
        else:
            waiting.insert(0, block)
        if waiting:
            pages.append([])
            left = height
    return pages


def _worth_splitting(needed: float, left: float, height: float) -> bool:
    """What would fit whole on a fresh page is not torn unless half of this one would stay empty."""
    return needed > height or left > 0.5 * height


def _kept_together(
    block: Block, waiting: Sequence[Block], ruler: Ruler, width: float, room: float, height: float
) -> bool:
    """Whether all that is tied to a block fits below it, or as much of the last as is worth tearing off."""
    for after in waiting:
        if not block.keep:
            break
        room -= block.height(ruler, width)
        block = after
    needed = block.height(ruler, width)
    if needed <= room:
        return True
    return _worth_splitting(needed, room, height) and block.split(ruler, width, room)[0] is not None
