"""The verdict: one sentence in large type, with an icon and a word, not a colour alone."""

from __future__ import annotations

import math

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.drawing.symbols import circle
from sketch.look.colours import Theme
from sketch.look.marks import severity_colour
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook

EVENED = (0.55, 0.65, 0.75, 0.85)
"""Parts of the room that a sentence of several lines is tried in, so that its lines come out alike."""


def paint_outlook(pencil: Pencil, area: Box, outlook: Outlook, theme: Theme) -> float:
    """Paint how a pump stands at the top of an area. Returns the height it took, in device units."""
    dot = pencil.dot
    colour = severity_colour(outlook.severity, theme)
    left, y = area.x + 12 * dot, area.y + 20 * dot
    _icon(pencil, left + 8 * dot, y, outlook.severity, colour, theme)
    word = pencil.elide(outlook.word, area.width - 48 * dot, BODY, bold=True)
    pencil.text(left + 24 * dot, y, word, colour, BODY, bold=True)
    step = _step(pencil)
    y += 14 * dot + step / 2
    for line in _lines(pencil, area.width, outlook):
        pencil.text(left, y, line, theme.ink, LARGE)
        y += step
    return outlook_height(pencil, area.width, outlook)


def outlook_height(ruler: Ruler, width: float, outlook: Outlook) -> float:
    """What `paint_verdict` takes of an area of that width, in device units."""
    return 44 * ruler.dot + _step(ruler) * len(_lines(ruler, width, outlook))


def _lines(ruler: Ruler, width: float, outlook: Outlook) -> list[str]:
    return _even(ruler, outlook.headline, width - 24 * ruler.dot)


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


def _icon(pencil: Pencil, x: float, y: float, severity: Grade, colour: QColor, theme: Theme) -> None:
    """A ticked disc where all is well, a triangle with its mark for a caution, an octagon with a bar for a
    stop."""
    r = 8 * pencil.dot
    if severity == Grade.STOP:
        turns = [math.radians(22.5 + 45 * step) for step in range(8)]
        corners = [(x + r * math.cos(turn), y + r * math.sin(turn)) for turn in turns]
        pencil.polygon(corners, colour, None)
        pencil.lines([((x - 0.5 * r, y), (x + 0.5 * r, y))], theme.paper, 2.0)
        return
    if severity == Grade.GOOD:
        pencil.polygon(circle(x, y, r), colour, None)
        tick = ((x - 0.48 * r, y + 0.02 * r), (x - 0.12 * r, y + 0.4 * r), (x + 0.5 * r, y - 0.36 * r))
        pencil.pen(theme.paper, 2.0)
        pencil.polyline(tick)
        return
    pencil.polygon(((x, y - r), (x + 1.05 * r, y + 0.8 * r), (x - 1.05 * r, y + 0.8 * r)), colour, None)
    pencil.lines([((x, y - 0.45 * r), (x, y + 0.25 * r))], theme.paper, 2.0)
    pencil.lines([((x, y + 0.4 * r), (x, y + 0.65 * r))], theme.paper, 2.0)
