"""The pressure profile on paper: absolute pressure along the line, to the port, in every case."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise, product
from operator import ne

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.separation import separated
from sketch.drawing.view import XY
from sketch.look.colours import Theme, share_colour
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.columns import LeftAndRight
from sketch.page.plot import Plot, paint_axes
from sketch.page.sheet_frame import LEAST_INLET, LEAST_INLET_SHORT, Panel, Sheet, case_name
from sketch.plots.profile import LevelRole, PressureLevel, Profile, profile, span
from solver.quantities import units
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised

HIGH, LEAST = 150.0, 340.0
"""Logical pixels: the height of a plot, its least width beside another."""

GROWS = 1.4
"""How many times as high a plot may be where its page has room."""

FOOTROOM, HEADROOM = 0.22, 0.12
"""Of what a plot shows: for its key under all lines, and for the name of a level over them."""

MOST_OF_WIDTH = 0.7
"""Of a plot, that the name of a level may take in full."""

MOST_NAMED, OTHERS = 2, "the other cases"
"""Cases that the key of the thin lines names, and what it calls more of them."""


NEVER_ENOUGH = (
    "The least inlet pressure lies above the pressure on the fluid: no line is short or wide enough. By how "
    "much a pump is over is what fluid above its port, or pressure in the reservoir, would have to add: no "
    "pressure along a line is below zero."
)


def profile_part(sheet: Sheet) -> Iterator[Block]:
    """The profile of each drawing shown: its pump in the case shown, the other cases in thin lines."""
    yield Heading("Pressure profile")
    if any(panel.ledger.budget <= 0.0 for panel in sheet.panels):
        yield Paragraph(NEVER_ENOUGH, quiet=True, keep=True)
    least = max(LEAST, *(Ruler().width(_title(sheet, panel), bold=True) for panel in sheet.panels))
    pictures = [Picture(HIGH, partial(_paint, sheet, panel), least, grows=GROWS) for panel in sheet.panels]
    *before, last = pictures
    tied = tuple(replace(each, keep=True) for each in before)  # to be compared, one below the other too
    yield LeftAndRight(tied, (last,), least=least) if tied else last


def _title(sheet: Sheet, panel: Panel) -> str:
    name = f"{panel.option.title}: " if len(sheet.panels) > 1 else ""
    return f"{name}{panel.shown_as}"


def _profile_of(sheet: Sheet, panel: Panel) -> Profile:
    """The profile as far as the fluid can have its pressure: where it would boil its column breaks."""
    others = [
        (name, case.solution.pumps[panel.pump])
        for name, case in panel.judgement.cases.items()
        if name != panel.place.case and case.solution is not None and panel.pump in case.solution.pumps
    ]
    return to_break(_in_plain_words(profile(panel.solution, panel.pump, sheet.system, others)))


def _in_plain_words(shown: Profile) -> Profile:
    """The profile with its floor called what it is on the rest of the sheet."""
    levels = (
        replace(level, text=level.text.replace("Floor", capitalised(LEAST_INLET)))
        if level.role == LevelRole.FLOOR
        else level
        for level in shown.levels
    )
    return replace(shown, levels=tuple(levels))


def _named_to_fit(ruler: Ruler, shown: Profile, wide: float) -> Profile:
    """The profile with names in short where they would take most of a plot: a line leaves little so wide."""
    levels = (
        replace(
            level,
            text=level.text.replace(capitalised(LEAST_INLET), capitalised(LEAST_INLET_SHORT)).replace(
                "estimated", "est."
            ),
        )
        if ruler.width(level.text) > MOST_OF_WIDTH * wide
        else level
        for level in shown.levels
    )
    return replace(shown, levels=tuple(levels))


def to_break(shown: Profile) -> Profile:
    """The profile with every line cut off where it comes down to the vapour pressure."""
    least = next(level.y for level in shown.levels if level.role == LevelRole.VAPOR)
    stretches = []
    for each in shown.stretches:
        if each.y1 > least:
            stretches.append(each)
            continue
        along = (each.y0 - least) / (each.y0 - each.y1) if each.y0 > each.y1 else 0.0
        stretches.append(replace(each, x1=each.x0 + along * (each.x1 - each.x0), y1=least))
        break
    others = tuple(replace(other, points=_cut(other.points, least)) for other in shown.others)
    return replace(shown, stretches=tuple(stretches), others=others)


def _cut(points: Sequence[XY], least: float) -> tuple[XY, ...]:
    kept: list[XY] = []
    for x, y in points:
        if y > least:
            kept.append((x, y))
            continue
        if kept:
            (before, high) = kept[-1]
            kept.append((before + (high - least) / (high - y) * (x - before), least))
        break
    return tuple(kept)


def _scale(sheet: Sheet) -> tuple[float, tuple[float, float]]:
    """How far along, and between which pressures, every plot of a sheet goes: one may be read off another."""
    shown = [_profile_of(sheet, panel) for panel in sheet.panels]
    ends = [entry.distance for panel in sheet.panels for entry in panel.ledger.entries]
    across = units.to_display(max(ends, default=0.0), Kind.LENGTH, sheet.system) or 1.0
    lows, highs = zip(*(span(each) for each in shown), strict=True)
    high, reach = max(highs), max(highs) - min(lows)
    return across, (min(lows) - FOOTROOM * reach, high + HEADROOM * reach)


def _paint(sheet: Sheet, panel: Panel, pencil: Pencil, theme: Theme, box: Box) -> None:
    shown, dot = _profile_of(sheet, panel), pencil.dot
    across, up = _scale(sheet)
    plot = Plot.within(pencil, box, (0.0, across), up)
    title = pencil.elide(_title(sheet, panel), box.width, bold=True)
    pencil.text(box.x, box.y + 9 * dot, title, theme.ink, bold=True)
    unit = shown.y_label.rpartition(", ")[2]
    labels = [f"{shown.x_label}; upwards: {text}" for text in (f"pressure, {unit}", unit)]
    fits = pencil.width(labels[0]) <= plot.box.right - box.x
    paint_axes(pencil, theme, plot, labels[0 if fits else 1], least=0.0)
    shown = _named_to_fit(pencil, shown, plot.box.width)
    _others(pencil, theme, plot, shown)
    _line_and_levels(pencil, theme, plot, shown)
    if panel.ledger.breaks and shown.stretches:
        _break(pencil, theme, plot, shown)


def _break(pencil: Pencil, theme: Theme, plot: Plot, shown: Profile) -> None:
    """A cross at the end of the line, and that nothing flows beyond."""
    last, reach, dot = shown.stretches[-1], 4 * pencil.dot, pencil.dot
    x, y = plot.at(last.x1, last.y1)
    ends = [((x - reach, y - side * reach), (x + reach, y + side * reach)) for side in (-1, 1)]
    pencil.lines(ends, theme.stop, 1.6)
    text, high = "breaks here", pencil.height() + 2 * dot
    wide = pencil.width(text, bold=True)
    left = x + 9 * dot if x + 9 * dot + wide <= plot.box.right else x - 9 * dot - wide
    middle = y - 1.5 * high - 2 * dot  # the name of the vapour pressure stands under it
    pencil.box(Box(left - 2 * dot, middle - high / 2, wide + 4 * dot, high), theme.paper)
    pencil.text(left, middle, text, theme.stop, bold=True)


def _others(pencil: Pencil, theme: Theme, plot: Plot, shown: Profile) -> None:
    for other in shown.others:
        colour = theme.construction if other.sound else theme.stop
        pencil.polylines([[plot.at(x, y) for x, y in other.points]], colour, 0.8, (4.0, 3.0))


def _line(pencil: Pencil, theme: Theme, plot: Plot, shown: Profile) -> None:
    points = [plot.at(each.x0, each.y0) for each in shown.stretches[:1]]
    points += [plot.at(each.x1, each.y1) for each in shown.stretches]
    pencil.polylines([points], theme.casing, 4.6)
    for stretch in shown.stretches:
        ends = plot.at(stretch.x0, stretch.y0), plot.at(stretch.x1, stretch.y1)
        pencil.lines([ends], share_colour(max(stretch.share or 0.0, 0.0), theme), 3.0)


def _line_and_levels(pencil: Pencil, theme: Theme, plot: Plot, shown: Profile) -> None:
    """The line among atmosphere, floor and vapour pressure, where they lie on the plot, and what is left.

    It is painted over the paper behind their names, which must not hide it, and under the names.
    """
    dot, box = pencil.dot, plot.box
    levels = [level for level in shown.levels if plot.low <= level.y <= plot.high]
    heights = [plot.at(0.0, level.y)[1] for level in levels]
    order = sorted(range(len(levels)), key=heights.__getitem__)
    step = pencil.height() + 2 * dot
    left, foot = box.x + 6 * dot, box.bottom - 9 * dot
    key, margin = _key_that_fits(pencil, shown, box.right - left), pencil.width(shown.margin, bold=True)
    wide = margin + (pencil.width(key) + 10 * dot if key else 0.0)
    widest = max((pencil.width(level.text) for level in levels), default=0.0)
    # A name that would run into the key stands over it.
    lowest = box.bottom if left + wide + widest + 16 * dot <= box.right else foot - step / 2
    wanted = _middles(pencil, plot, shown, [levels[k] for k in order], step, lowest)
    placed = separated(wanted, [step] * len(order), box.y, lowest)
    names: list[tuple[Box, str, QColor]] = []
    usual = [
        Box(box.right - pencil.width(levels[k].text) - 8 * dot, middle - step / 2,
            pencil.width(levels[k].text) + 6 * dot, step)
        for k, middle in zip(order, placed, strict=True)
    ]  # fmt: skip
    for at, k in enumerate(order):
        colour = theme.stop if levels[k].role == "floor" else theme.quiet
        pencil.lines([((box.x, heights[k]), (box.right, heights[k]))], colour, 1.2, (6.0, 4.0))
        name = usual[at] = _clear_of_line(shown, plot, usual, at, [heights[each] for each in order])
        pencil.box(name, theme.paper)
        if not name.y - step <= heights[k] <= name.bottom + step:
            pencil.lines([((name.x + step, name.y + step / 2), (name.x + step, heights[k]))], colour, 0.8)
            pencil.box(name, theme.paper)
        names.append((name, levels[k].text, colour))
    pencil.box(Box(left - 2 * dot, foot - step / 2, wide + 4 * dot, step), theme.paper)
    _line(pencil, theme, plot, shown)
    for name, text, colour in names:
        pencil.text(name.right - 3 * dot, name.y + step / 2, text, colour, align=1.0)
    pencil.text(left, foot, shown.margin, theme.ink, bold=True)
    pencil.text(left + margin + 10 * dot, foot, key, theme.quiet)


def _key_that_fits(ruler: Ruler, shown: Profile, room: float) -> str:
    """What thin dashes are, beside the margin; "" where there are none, or no room to say it."""
    if not shown.others:
        return ""
    room -= ruler.width(shown.margin, bold=True) + 16 * ruler.dot
    return next(key for key in (_key(shown), f"thin dashes: {OTHERS}", "") if ruler.width(key) <= room)


def _middles(
    ruler: Ruler, plot: Plot, shown: Profile, levels: Sequence[PressureLevel], step: float, lowest: float
) -> list[float]:
    """Where the names of levels, from the highest, are wanted: on sides where no line goes through one.

    lowest: how far down the page they may reach [device units].
    """
    heights = [plot.at(0.0, level.y)[1] for level in levels]
    usual = [_is_under(shown, level, plot, step) for level in levels]
    ways = sorted(product((False, True), repeat=len(levels)), key=lambda way: sum(map(ne, way, usual)))
    wide = max((ruler.width(level.text) for level in levels), default=0.0) + 8 * ruler.dot

    def crossed(way: Sequence[bool]) -> tuple[int, int]:
        middles = _on_sides(way, heights, step)
        placed = separated(middles, [step] * len(middles), plot.box.y, lowest)
        own = sum(abs(at - height) < 0.4 * step for at in placed for height in heights)
        own += len(levels) * sum(at > plot.box.bottom - 1.49 * step for at in placed)  # over the key
        ends = plot.box.right - wide, plot.box.right
        own += sum(_runs_through(shown, plot, at, ends, 0.4 * step) for at in placed)
        return own, sum(_dashes_through(shown, plot, at, ends, 0.4 * step) for at in placed)

    return _on_sides(min(ways, key=crossed), heights, step)


def _on_sides(way: Sequence[bool], heights: Sequence[float], step: float) -> list[float]:
    return [height + (step if under else -step) / 2 for height, under in zip(heights, way, strict=True)]


def _runs_through(shown: Profile, plot: Plot, middle: float, ends: tuple[float, float], reach: float) -> bool:
    """Whether the line runs within reach of the middle of a name that stands between those ends."""
    pieces = (((each.x0, each.y0), (each.x1, each.y1)) for each in shown.stretches)
    return any(_is_crossed(plot, piece, middle, ends, reach) for piece in pieces)


def _dashes_through(
    shown: Profile, plot: Plot, middle: float, ends: tuple[float, float], reach: float
) -> int:
    """How many thin lines of other cases run there. Parameters as `_runs_through`."""
    return sum(
        any(_is_crossed(plot, piece, middle, ends, reach) for piece in pairwise(other.points))
        for other in shown.others
    )


def _is_crossed(
    plot: Plot, piece: tuple[XY, XY], middle: float, ends: tuple[float, float], reach: float
) -> bool:
    """Whether one straight piece of a line runs there. Parameters as `_runs_through`."""
    left, right = ends
    (x0, y0), (x1, y1) = (plot.at(*end) for end in piece)
    if x1 < left or x0 > right:
        return False
    slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
    start, end = (y0 + slope * (x - x0) if slope else None for x in (max(left, x0), min(right, x1)))
    high, low = sorted((y0 if start is None else start, y1 if end is None else end))
    return high - reach < middle < low + reach


def _clear_of_line(
    shown: Profile, plot: Plot, usual: Sequence[Box], at: int, heights: Sequence[float]
) -> Box:
    """Where a name stands: at the end of the plot unless the line, or more of the thin ones, runs through it
    there and not elsewhere along its level; where it runs through all of that, as near above or under it.

    usual: of all names, from the highest; heights: of their levels [device units].
    """
    box, others = usual[at], [each for each in usual if each is not usual[at]]
    room = max(box.x - plot.box.x - BESIDE * box.height, 0.0)
    for off in range(FARTHEST):
        ways = -1.0 - off / 3, off / 3
        away = [
            Box(box.x - room * step / (STEPS - 1), heights[at] + way * box.height, box.width, box.height)
            for step in range(STEPS)
            for way in ways
        ]
        clear = _clear(shown, plot, box, [box, *away], others, heights)
        if clear:
            return min(clear, key=lambda place: place[0])[1]
    return box


def _clear(
    shown: Profile,
    plot: Plot,
    usual: Box,
    places: Sequence[Box],
    others: Sequence[Box],
    heights: Sequence[float],
) -> list[tuple[int, Box]]:
    """The places for a name that no other name, no level and not the line runs through, each with how many
    thin lines do."""
    clear, reach = [], 0.4 * usual.height
    for each in places:
        middle = each.y + each.height / 2
        on_another = any(abs(height - middle) < reach for height in heights)
        inside = plot.box.y <= each.y and each.bottom <= plot.box.bottom - each.height
        if each is not usual and (on_another or not inside or any(each.overlaps(other) for other in others)):
            continue
        ends = each.x, each.right
        if not _runs_through(shown, plot, middle, ends, OFF_LINE * usual.height):
            clear.append((_dashes_through(shown, plot, middle, ends, reach), each))
    return clear


OFF_LINE = 0.52
"""Of the height of a name, that its middle keeps off the line: half its letters and half the line."""

STEPS, BESIDE, FARTHEST = 24, 0.2, 20
"""Places along a level that its name is tried at, what of its height it keeps off the axis, and how many
thirds of its height it may be off its level."""


def _is_under(shown: Profile, level: PressureLevel, plot: Plot, step: float) -> bool:
    """Whether the name of a level is wanted under it: where the line keeps over it at the end with names."""
    room = plot.box.bottom - plot.at(0.0, level.y)[1]
    if level.role == LevelRole.FLOOR:
        over = min((min(each.y0, each.y1) for each in shown.stretches), default=level.y) >= level.y
    else:
        over = bool(shown.stretches) and shown.stretches[-1].y1 > level.y
    return level.role != LevelRole.VAPOR and over and room >= 2 * step


def _key(shown: Profile) -> str:
    """What the thin dashes are: the cases by name where there are few."""
    names = ", ".join(case_name(other.case) for other in shown.others)
    return f"thin dashes: {names if len(shown.others) <= MOST_NAMED else OTHERS}"
