"""Curves on paper: the margin over each figure that decides most, in every case, with where it is spent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np
from PySide6.QtCore import QRectF

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.drawing.separation import separated
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.columns import LeftAndRight
from sketch.page.plot import Plot, paint_axes
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_parts import SHEET_PARTS
from sketch.plots.curves import CurveLine, CurveQuantity, CurvesPicture, LineRole, picture
from solver.answers import ask
from solver.answers.answer import Status
from solver.answers.curves import Curves, curves, subjects
from solver.answers.temperatures import COLDEST_START
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities import units
from solver.quantities.units import Kind, shown_beside
from solver.quantities.wording import degrees

SUBJECTS = ("temperature", "port height", "blocked", "speed")
"""What the margin is drawn over, where the drawing has it."""

BEFORE = "before, worst case"
"""What the drawing itself is called beside its alternative."""

POINTS = 41
HIGH, LEAST = 230.0, 380.0
ROOM, DEEPEST = 0.12, 2.0
LEADER = 14.0
"""Values of a curve; the height of a plot and its least width [logical pixels]; empty paper above and below,
of the figures, and how far below none they go, in multiples of the most; from a curve to its name [logical
pixels]."""


def curves_part(sheet: Sheet) -> Iterator[Block]:
    """The margin of the pump that is shown last, over what decides it most; the drawing before in dashes."""
    panel, base = sheet.chosen, sheet.panels[0]
    shown = list(_pictures(sheet, panel, base))
    if not shown:
        return
    yield Heading(f"Curves of {panel.pump}, {panel.option.title}")
    dashes = f" Dashes: {BEFORE}." if panel is not base else ""
    yield Paragraph(
        f"Margin over one figure at a time. Full: the worst case; thin: each case.{dashes}",
        quiet=True,
        keep=True,
    )
    drawn = [Picture(HIGH, partial(_paint, each), LEAST) for each in shown]
    for first in range(0, len(drawn), 2):
        pair = drawn[first : first + 2]
        yield pair[0] if len(pair) == 1 else LeftAndRight((pair[0],), (pair[1],), least=LEAST)
    at_one = _at_one_temperature(sheet, panel)
    for remark in dict.fromkeys(remark for each in shown for remark in each.remarks):
        more = at_one if remark.startswith(OVER_TEMPERATURE) else ""
        yield Paragraph(f"{remark}{more}.")


OVER_TEMPERATURE = "Over temperature, "
"""How it begins that cases keep temperatures of their own."""


def _at_one_temperature(sheet: Sheet, panel: Panel) -> str:
    """Where the margin is spent with one temperature in all cases; "" where nowhere in the range."""
    answer = ask.ask(COLDEST_START, panel.judgement.layout, panel.pump, sheet.level)
    at = answer.by_margin if answer.by_margin is not None else answer.value
    if at is None or answer.status not in (Status.FOUND, Status.ALREADY_OVER):
        return ""
    at = shown_beside(at, Kind.TEMPERATURE, sheet.system, above=True)
    place, where = degrees(at, sheet.system), SHEET_PARTS["reach"].title
    return f'; with one temperature in every case, as under "{where}", the margin is spent at {place}'


def _pictures(sheet: Sheet, panel: Panel, base: Panel) -> Iterator[CurvesPicture]:
    layout = panel.judgement.layout
    known = {each.name: each for each in subjects(layout, panel.ledger, sheet.level)}
    for name in SUBJECTS:
        if name not in known:
            continue
        try:
            swept = curves(layout, panel.pump, known[name], sheet.level, POINTS)
        except (NetworkError, FluidError, ValueError):
            continue
        others = {} if panel is base else dict(_other(sheet, base, panel.pump, name))
        yield picture(swept, CurveQuantity.MARGIN, sheet.system, others)


def _other(sheet: Sheet, base: Panel, pump: str, name: str) -> Iterator[tuple[str, Curves]]:
    """The drawing itself over the same figure, where it has the pump and the figure."""
    layout = base.judgement.layout
    place = base.judgement.worst(pump) if pump in layout.pumps else None
    if place is None:
        return
    known = {each.name: each for each in subjects(layout, place.ledger, sheet.level)}
    if name in known:
        try:
            yield BEFORE, curves(layout, pump, known[name], sheet.level, POINTS)
        except (NetworkError, FluidError, ValueError):
            return


def _paint(shown: CurvesPicture, pencil: Pencil, theme: Theme, box: Box) -> None:
    finite = [float(y) for line in shown.lines for y in line.ys[np.isfinite(line.ys)]]
    if not finite:
        pencil.text(box.x, box.y + 20 * pencil.dot, "Nothing is judged over this figure.", theme.quiet)
        return
    low, high = _span(finite)
    names = max(pencil.width(line.name) for line in shown.lines) / pencil.dot + LEADER + 6
    plot = Plot.within(pencil, box, _ends(shown, low), (low, high), names)
    paint_axes(
        pencil, theme, plot, f"{shown.x_label}; upwards: margin, {units.unit(shown.y_kind, shown.system)}"
    )
    pencil.painter.save()
    pencil.painter.setClipRect(QRectF(*plot.box))
    zero = plot.at(plot.left, 0.0)[1]
    pencil.lines([((plot.box.x, zero), (plot.box.right, zero))], theme.stop, 1.4)
    for line in shown.lines:
        _line(pencil, theme, plot, line)
    pencil.painter.restore()
    _names(pencil, theme, plot, shown.lines)
    x, y = plot.at(shown.today.x, shown.today.y)
    pencil.circle(x, y, 3.5 * pencil.dot, theme.paper, theme.ink, 1.4)
    for mark in shown.crossings:
        at = plot.at(mark.x, 0.0)
        pencil.circle(*at, 3.0 * pencil.dot, theme.stop, theme.stop, 1.0)
        _mark(pencil, theme, plot, at, mark.text)


def _mark(pencil: Pencil, theme: Theme, plot: Plot, at: tuple[float, float], text: str) -> None:
    """Where the margin is spent, on paper of its own over the curves."""
    dot, wide, high = pencil.dot, pencil.width(text), pencil.height()
    x = at[0] + 6 * dot if at[0] < plot.box.x + plot.box.width / 2 else at[0] - wide - 6 * dot
    y = at[1] - 10 * dot
    pencil.box(Box(x - 2 * dot, y - high / 2, wide + 4 * dot, high), theme.paper)
    pencil.text(x, y, text, theme.stop)


def _span(figures: Sequence[float]) -> tuple[float, float]:
    """The margins that a plot shows: what lies far below none would flatten what is to be read."""
    least, most = min(*figures, 0.0), max(*figures, 0.0)
    low = max(least, -DEEPEST * most) if most > 0.0 else least
    spare = ROOM * (most - low) or 1.0
    return low - spare, most + spare


def _ends(shown: CurvesPicture, low: float) -> tuple[float, float]:
    """From where to where a curve is on the plot, a step more on either side, or the figure is as drawn."""
    ends = [shown.today.x]
    for line in shown.lines:
        places = np.flatnonzero(np.isfinite(line.ys) & (line.ys >= low))
        if places.size:
            ends += [
                float(line.xs[max(places[0] - 1, 0)]),
                float(line.xs[min(places[-1] + 1, len(line.xs) - 1)]),
            ]
    return min(ends), max(ends)


def _line(pencil: Pencil, theme: Theme, plot: Plot, line: CurveLine) -> None:
    """A curve in the stretches in which it is known."""
    stretches: list[list[tuple[float, float]]] = [[]]
    for x, y in zip(line.xs, line.ys, strict=True):
        if np.isfinite(y):
            stretches[-1].append(plot.at(float(x), float(y)))
        else:
            stretches.append([])
    dashes = {LineRole.ALTERNATIVE: (7.0, 3.0, 1.5, 3.0), LineRole.LIMIT: (3.0, 3.0)}.get(line.role, ())
    wide = {LineRole.WORST: 2.4, LineRole.ALTERNATIVE: 1.4}.get(line.role, 0.8)
    colour = theme.ink if line.role is not LineRole.CASE else theme.quiet
    pencil.polylines([each for each in stretches if len(each) > 1], colour, wide, dashes)


def _names(pencil: Pencil, theme: Theme, plot: Plot, lines: Sequence[CurveLine]) -> None:
    """Each curve's name beside its right end, apart from one another."""
    dot, box = pencil.dot, plot.box
    ends = [(line.name, line.ys[np.isfinite(line.ys) & (line.xs <= plot.right)]) for line in lines]
    named = [(name, plot.at(plot.right, float(ys[-1]))[1]) for name, ys in ends if ys.size]
    named.sort(key=lambda each: each[1])
    named = [(name, min(max(y, box.y), box.bottom)) for name, y in named]
    step = pencil.height() + 1 * dot
    heights = separated([y for _, y in named], [step] * len(named), box.y - step / 2, box.bottom + dot)
    for (name, y), middle in zip(named, heights, strict=True):
        elbow = box.right + LEADER * dot
        pencil.lines([((box.right, y), (elbow, middle))], theme.construction, 0.8)
        pencil.text(elbow + 3 * dot, middle, name, theme.quiet)
