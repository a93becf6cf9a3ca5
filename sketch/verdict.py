"""The verdict: one sentence in large type, with an icon and a word, not a colour alone."""

from __future__ import annotations

from PySide6.QtGui import QColor

from sketch.colours import Theme
from sketch.labels import Box
from sketch.pencil import BODY, LARGE, Pencil, Ruler
from sketch.symbols import circle
from solver import ledger as ledgers
from solver.ledger import PumpLedger
from solver.units import System

EVENED = (0.55, 0.65, 0.75, 0.85)
"""Parts of the room that a sentence of several lines is tried in, so that its lines come out alike."""

THIN_MARGIN = 0.2
"""Of the budget; below it the margin is called thin (common practice, no source)."""


def judge(ledger: PumpLedger, theme: Theme) -> tuple[str, QColor]:
    """The word above the sentence, and its colour."""
    if not ledger.within:
        return ("No budget" if ledger.budget <= 0 else "Over the limit"), theme.stop
    if ledger.budget > 0 and ledger.margin < THIN_MARGIN * ledger.budget:
        return "Within, thin margin", theme.caution
    return "Within the limit", theme.good


def paint_verdict(pencil: Pencil, area: Box, ledger: PumpLedger, theme: Theme, system: System) -> float:
    """Paint the verdict at the top of an area. Returns the height it took, in device units."""
    dot = pencil.dot
    word, colour = judge(ledger, theme)
    left, y = area.x + 12 * dot, area.y + 20 * dot
    _icon(pencil, left + 8 * dot, y, ledger, colour, theme)
    pencil.text(left + 24 * dot, y, word, colour, BODY, bold=True)
    step = _step(pencil)
    y += 14 * dot + step / 2
    for line in _lines(pencil, area.width, ledger, system):
        pencil.text(left, y, line, theme.ink, LARGE)
        y += step
    return verdict_height(pencil, area.width, ledger, system)


def verdict_height(ruler: Ruler, width: float, ledger: PumpLedger, system: System) -> float:
    """What `paint_verdict` takes of an area of that width, in device units."""
    return 44 * ruler.dot + _step(ruler) * len(_lines(ruler, width, ledger, system))


def _lines(ruler: Ruler, width: float, ledger: PumpLedger, system: System) -> list[str]:
    return _even(ruler, ledgers.verdict(ledger, system), width - 24 * ruler.dot)


def _even(ruler: Ruler, sentence: str, room: float) -> list[str]:
    """The sentence on as few lines as it takes, no line a mere word left over from the one above."""
    lines = ruler.wrap(sentence, room, LARGE)
    if len(lines) > 1:
        for share in EVENED:
            narrower = ruler.wrap(sentence, share * room, LARGE)
            if len(narrower) == len(lines) and max(ruler.width(line, LARGE) for line in narrower) <= room:
                return narrower
    return lines


def _step(ruler: Ruler) -> float:
    return ruler.height(LARGE) * 1.08


def _icon(pencil: Pencil, x: float, y: float, ledger: PumpLedger, colour: QColor, theme: Theme) -> None:
    """A ticked disc within, a triangle with its mark over."""
    r = 8 * pencil.dot
    if ledger.within:
        pencil.polygon(circle(x, y, r), colour, None)
        tick = ((x - 0.48 * r, y + 0.02 * r), (x - 0.12 * r, y + 0.4 * r), (x + 0.5 * r, y - 0.36 * r))
        pencil.pen(theme.paper, 2.0)
        pencil.polyline(tick)
        return
    pencil.polygon(((x, y - r), (x + 1.05 * r, y + 0.8 * r), (x - 1.05 * r, y + 0.8 * r)), colour, None)
    pencil.lines([((x, y - 0.45 * r), (x, y + 0.25 * r))], theme.paper, 2.0)
    pencil.lines([((x, y + 0.4 * r), (x, y + 0.65 * r))], theme.paper, 2.0)
