"""The elevation, painted: one path for the screen, for PDF and for SVG."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto
from functools import partial

from PySide6.QtGui import QPainter

from sketch.drawing import annotation, backdrop, cells, pins, remarks, tags, tanks
from sketch.drawing import legend as legends
from sketch.drawing.annotation import credit
from sketch.drawing.arrows import Arrow, arrows
from sketch.drawing.cells import Cells
from sketch.drawing.glyphs import Glyph, glyphs, pump_circle
from sketch.drawing.labels import Box, Grid, Label, LabelKind
from sketch.drawing.line_painting import cells_of_glyph, paint_arrows, paint_line
from sketch.drawing.memory import MANY, PORTION
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.recorder import Recorder
from sketch.drawing.scale_bar import scale_bar
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View, fit
from sketch.look.colours import Theme
from sketch.model.pins import Pin
from solver.geometry.reservoirs import no_place
from solver.layout.cases import cases_of
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution
from solver.quantities.units import System

__all__ = ["Drawn", "Label", "View", "fit", "paint_elevation", "pump_circle"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What has been painted, as data: for hit tests, and so that a drawing can be tested."""

    glyphs: tuple[Glyph, ...]
    labels: tuple[Label, ...]
    arrows: tuple[Arrow, ...]
    scale_bar: Box


def paint_elevation(
    onto: QPainter | Pencil,
    layout: Layout,
    solution: Solution | None,
    view: View,
    size: XY,
    theme: Theme,
    system: System,
    *,
    pump: str,
    pointed: str = "",
    selected: Collection[str] = (),
    highest_port: float | None = None,
    legend: bool = True,
    trouble: Collection[str] = (),
    shapes: Sequence[Glyph] | None = None,
    ground: Callable[[Pencil], None] | None = None,
    marks: Sequence[Pin] = (),
    on_paper: bool = False,
) -> Drawn:
    """Paint the whole elevation in `size` device units from the origin of a painter, or with a pencil.

    `pointed` is the key of an entry, `selected` holds names of parts, `highest_port` an elevation [m];
    `trouble` names the parts that keep the drawing from being calculated. Without a solution everything is
    drawn plain and nothing is claimed. `shapes` holds the glyphs, where they are made already;
    `ground` paints what lies on the paper under everything; `marks` are pins put on the drawing; `on_paper`
    has places for labels looked for longer than a drag has time for. Returns what was drawn where.
    """
    sheet_box = Box(0.0, 0.0, *size)
    pencil = onto if isinstance(onto, Pencil) else Pencil(onto, view.dot, sheet_box)
    placer = (PaperPlacer if on_paper else Placer)(*size, view.dot)
    pencil.fill(theme.paper)
    if ground is not None:
        ground(pencil)
    backdrop.grid(pencil, view, size, theme, system)
    used = solution.level if solution else Level.MINIMUM
    tanks.reservoirs(pencil, layout, view, size, theme, used, selected, placer, trouble)
    drawn = tuple(shapes) if shapes is not None else glyphs(layout, solution, view, pump)
    find_levels = partial(backdrop.levels, layout, view, size, used)
    surfaces = pencil.known(("levels", view, size, used), (layout.reservoirs,), find_levels)
    backdrop.level_lines(pencil, surfaces, theme, placer)
    paint_line(pencil, layout, drawn, view, theme, pointed, selected, trouble)
    ways = arrows(solution, drawn, view.dot)
    paint_arrows(pencil, ways, theme)
    _block_labels(pencil, layout, drawn, view, size, placer)
    boxes = backdrop.tanks(layout, view) if on_paper else ()
    bar = scale_bar(pencil, view, size, theme, system, placer, boxes)
    sheet = _Sheet(pencil, placer, layout, solution, pump, view, size, theme, system, pointed)
    labels = remarks.write(pencil, layout, view, placer, theme, system)
    always = frozenset({pointed, *selected} - {""})
    wanted = tags.tags(pencil, layout, drawn, view, theme, system, always, on_paper=on_paper)
    explained = legend and solution is not None and pump in solution.pumps
    texts = _Texts(drawn, tuple(surfaces), highest_port, tuple(marks), tuple(wanted), explained)
    labels += _write(sheet, texts, _first(sheet, texts))
    backdrop.axes(pencil, view, size, theme, system)
    return Drawn(drawn, tuple(labels), ways, bar)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What the labels of one elevation share."""

    pencil: Pencil
    placer: Placer
    layout: Layout
    solution: Solution | None
    pump: str
    view: View
    size: XY
    theme: Theme
    system: System
    pointed: str


@dataclass(frozen=True, slots=True)
class _Texts:
    """What is to be written on an elevation."""

    shapes: tuple[Glyph, ...]
    surfaces: tuple[backdrop.LevelLine, ...]
    highest_port: float | None
    marks: tuple[Pin, ...]
    wanted: tuple[tags.Tag, ...]
    explained: bool  # whether the colours are


class _First(Enum):
    """What is written first, and has the best places."""

    MEASURED = auto()  # highest port, levels and lift
    LIFT = auto()  # then the shares, then what else is measured
    SHARES = auto()  # with the names of parts
    SHARES_ALONE = auto()  # before the names too


def _write(sheet: _Sheet, texts: _Texts, first: _First) -> list[Label]:
    """Write it all in that order."""
    pencil, placer, theme = sheet.pencil, sheet.placer, sheet.theme
    labels = _lift(sheet) if first is _First.LIFT else []
    sooner: list[tags.Tag] = []
    if first is not _First.MEASURED:
        kinds = (LabelKind.SHARE,) if first is _First.SHARES_ALONE else (LabelKind.SHARE, LabelKind.NAME)
        sooner = [tag for tag in texts.wanted if tag.kind in kinds]
        labels += tags.write(pencil, sooner, placer, theme, sheet.pointed)
    labels += _heights(sheet, texts.surfaces, texts.highest_port)
    labels += _lift(sheet) if first is not _First.LIFT else []
    labels += pins.write(pencil, texts.marks, sheet.view, placer, theme)
    # On a small sheet the shares themselves come first.
    small = sheet.size[0] < legends.WIDE_ENOUGH * sheet.view.dot
    labels += _explain(sheet, texts.shapes) if texts.explained and not small else []
    rest = [tag for tag in texts.wanted if tag not in sooner] if sooner else texts.wanted
    labels += tags.write(pencil, rest, placer, theme, sheet.pointed)
    labels += _explain(sheet, texts.shapes) if texts.explained and small else []
    return labels


def _first(sheet: _Sheet, texts: _Texts) -> _First:
    """On paper that with which the most of the largest shares find a place; for a small share nothing that is
    measured goes without its figure."""
    best = _First.MEASURED
    if not isinstance(sheet.placer, PaperPlacer):
        return best
    lost, figures = _tried(sheet, sheet.placer.copied(), texts, best)
    least = figures if not lost or -lost[0] >= FOREMOST else 0
    for order in (_First.LIFT, _First.SHARES, _First.SHARES_ALONE) if lost else ():
        less, figures = _tried(sheet, sheet.placer.copied(), texts, order)
        if less < lost and figures >= least:
            best, lost = order, less
    return best


FOREMOST = 4
"""Shares, with the credit of a flooded port, for which a level may go without its figure."""


def _tried(sheet: _Sheet, placer: PaperPlacer, texts: _Texts, first: _First) -> tuple[tuple[int, ...], int]:
    """Which shares find no place, a credit and the largest first: the less, the better; and how much that is
    measured has its figure."""
    recorder = Recorder(sheet.view.dot, Box(0.0, 0.0, *sheet.size))
    labels = _write(replace(sheet, pencil=recorder, placer=placer), texts, first)
    solution, given = sheet.solution, {"%" in label.text for label in labels if label.kind is LabelKind.LIFT}
    flooded = solution is not None and sheet.pump in solution.pumps and credit(solution.pumps[sheet.pump])
    written = {label.key for label in labels if label.kind is LabelKind.SHARE}
    shares = [tag.wish.key in written for tag in texts.wanted if tag.share]
    placed = [not flooded or True in given, *shares]
    figures = sum(label.kind in MEASURED for label in labels)
    return tuple(-at for at, each in enumerate(placed) if not each), figures


MEASURED = (LabelKind.LEVEL, LabelKind.LIFT, LabelKind.LIMIT)


def _heights(
    sheet: _Sheet, surfaces: Sequence[backdrop.LevelLine], highest_port: float | None
) -> list[Label]:
    """Highest port and levels."""
    pencil, placer, view, theme, system = sheet.pencil, sheet.placer, sheet.view, sheet.theme, sheet.system
    labels: list[Label | None] = []
    solution, pump = sheet.solution, sheet.pump
    shown = solution is not None and pump in solution.pumps
    if highest_port is not None:
        tank = solution.pumps[pump].reservoir if solution is not None and shown else ""
        too_low = no_place(sheet.layout, pump, tank, highest_port) if tank else ""
        labels.append(
            annotation.highest_port(
                pencil,
                view,
                sheet.size,
                highest_port,
                theme,
                system,
                placer,
                too_low,
                in_all_cases=len(cases_of(sheet.layout)) > 1,
                of=pump if len(sheet.layout.pumps) > 1 else "",
            )
        )
    labels += backdrop.mark_levels(pencil, surfaces, theme, placer, system)
    return [label for label in labels if label is not None]


def _lift(sheet: _Sheet) -> list[Label]:
    """The height from the level to the port, where it has room."""
    solution, pump = sheet.solution, sheet.pump
    if solution is None or pump not in solution.pumps:
        return []
    lit = sheet.pointed.endswith("/flooded head")
    label = annotation.lift(
        sheet.pencil, sheet.layout, solution, pump, sheet.view, sheet.theme, sheet.system, sheet.placer, lit
    )
    return [label] if label is not None else []


def _explain(sheet: _Sheet, shown: Sequence[Glyph]) -> list[Label]:
    past = any(glyph.crossing < 1.0 for glyph in shown)
    layout, view = sheet.layout, sheet.view
    of = sheet.pump if len(layout.pumps) > 1 else ""
    boxes = sheet.pencil.known(("tanks", view), (layout.reservoirs,), partial(backdrop.tanks, layout, view))
    if any(glyph.share is not None for glyph in shown):
        label = legends.legend(sheet.pencil, sheet.size, sheet.theme, sheet.placer, boxes, past=past, of=of)
    else:
        label = legends.without_budget(sheet.pencil, sheet.size, sheet.theme, sheet.placer, boxes)
    return [label] if label is not None else []


def _block_labels(
    pencil: Pencil, layout: Layout, shapes: Sequence[Glyph], view: View, size: XY, placer: Placer
) -> None:
    """Keep labels off the line, the pumps and the axes."""
    dot, lines = view.dot, placer.lines
    what = ("cells", lines.columns, len(lines.rows), dot)
    if len(shapes) > MANY:
        for at in range(0, len(shapes), PORTION):
            portion = tuple(shapes[at : at + PORTION])
            make = partial(_cells_of_several, pencil, what, portion, lines, dot)
            cells.block(lines, pencil.known((what, PORTION), portion, make))
    else:
        things = [(glyph,) for glyph in shapes]
        for taken in pencil.known_each(
            "cells", what, things, lambda glyph: cells_of_glyph(glyph, lines, dot)
        ):
            cells.block(lines, taken)
    for name in layout.pumps:
        x, y, radius = pump_circle(layout, name, view)
        placer.lines.block(_square(x, y, radius + 2 * dot))
        placer.texts.block(_square(x, y, 0.7 * radius))
    for box in _axis_boxes(size, dot):
        placer.block_text(box)


def _cells_of_several(pencil: Pencil, what: object, shapes: Sequence[Glyph], grid: Grid, dot: float) -> Cells:
    known = pencil.known
    return cells.merged(
        *(known(what, (glyph,), partial(cells_of_glyph, glyph, grid, dot)) for glyph in shapes)
    )


def _square(x: float, y: float, half: float) -> Box:
    return Box(x - half, y - half, 2 * half, 2 * half)


def _axis_boxes(size: XY, dot: float) -> tuple[Box, Box]:
    left, bottom = AXIS_LEFT * dot, AXIS_BOTTOM * dot
    return Box(0.0, 0.0, left, size[1]), Box(0.0, size[1] - bottom, size[0], bottom)
