"""The verdict: one sentence in large type, with an icon and a word, not a colour alone."""

from __future__ import annotations

import math
from functools import partial

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, Ruler
from sketch.drawing.symbols import circle
from sketch.look.colours import Theme
from sketch.look.marks import severity_colour
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook

SPARE = 10.0
"""Logical pixels under the sentence that its last line may take where its room is given."""
EVENED = (0.55, 0.65, 0.75, 0.85)
"""Parts of the room that a sentence of several lines is tried in, so that its lines come out alike."""


def paint_outlook(
    pencil: Pencil, area: Box, outlook: Outlook, theme: Theme, room: float | None = None, most: float = LARGE
) -> float:
    """Paint how a pump stands at the top of an area. Returns the height it took, in device units.

    room: the height that it is to take; a sentence too long for it is set smaller, as long as it fits then.
    most: the largest size of type that it is set in.
    """
    dot = pencil.dot
    colour = severity_colour(outlook.severity, theme)
    left, y = area.x + 12 * dot, area.y + 20 * dot
    _icon(pencil, left + 8 * dot, y, outlook.severity, colour, theme)
    most_wide = area.width - 48 * dot
    word_size = BODY if pencil.width(outlook.word, BODY, bold=True) <= most_wide else SMALL
    word = pencil.elide(outlook.word, most_wide, word_size, bold=True)
    pencil.text(left + 24 * dot, y, word, colour, word_size, bold=True)
    headline, wide = outlook.headline, area.width - 24 * dot
    for size in (most,) if room is None else (most, *(each for each in (BODY, SMALL) if each < most)):
        lines = pencil.known(
            ("headline", headline, wide, size), (), partial(_even, pencil, headline, wide, size)
        )
        step = _step(pencil, size)
        beneath = _beneath(pencil, outlook, wide)
        high = 44 * dot + step * len(lines) + _step(pencil, BODY) * len(beneath)
        if room is not None and high - SPARE * dot <= room:
            high = room
            break
    y += 14 * dot + step / 2
    for line in lines:
        pencil.text(left, y, line, theme.ink, size)
        y += step
    y += (_step(pencil, BODY) - step) / 2
    for line in beneath:
        pencil.text(left, y, line, theme.ink, BODY)
        y += _step(pencil, BODY)
    return high


def outlook_height(ruler: Ruler, width: float, outlook: Outlook, size: float = LARGE) -> float:
    """What `paint_outlook` takes of an area of that width, its sentence set in a size, in device units."""
    most = width - 24 * ruler.dot
    lines, beneath = _even(ruler, outlook.headline, most, size), _beneath(ruler, outlook, most)
    return 44 * ruler.dot + _step(ruler, size) * len(lines) + _step(ruler, BODY) * len(beneath)


def _beneath(ruler: Ruler, outlook: Outlook, room: float) -> list[str]:
    """The lines of what belongs under the headline; none where nothing does."""
    return ruler.wrap(outlook.beneath, room, BODY) if outlook.beneath else []


def _even(ruler: Ruler, sentence: str, room: float, size: float = LARGE) -> list[str]:
    """The sentence on as few lines as it takes, no line a mere word left over from the one above."""
    lines = ruler.wrap(sentence, room, size)
    if len(lines) > 1:
        for share in EVENED:
            narrower = ruler.wrap(sentence, share * room, size)
            if len(narrower) == len(lines) and max(ruler.width(line, size) for line in narrower) <= room:
                return narrower
    return lines


def _step(ruler: Ruler, size: float) -> float:
    return ruler.height(size) * 1.08


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
