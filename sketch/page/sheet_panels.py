"""One drawing on the first page: to scale, with the figures that a client asks for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import chain

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch.drawing.backdrop import tanks
from sketch.drawing.labels import Box, LabelKind
from sketch.drawing.painting import Drawn, paint_elevation
from sketch.drawing.pencil import BODY, Pencil, Ruler
from sketch.drawing.recorder import Recorder
from sketch.drawing.view import XY, View, bounds
from sketch.page import sheet_text
from sketch.page.sheet_frame import Panel, Sheet, case_name
from sketch.page.title_painting import Field
from solver.quantities.wording import degrees, ledger_pressure

FIGURES = 44.0
CAPTION = 18.0
"""Logical pixels: a line of figures, the line under it that says whose they are."""


def paint_panel(
    painter: QPainter, sheet: Sheet, panel: Panel, view: View, box: Box, *, legend: bool = True
) -> None:
    """Paint a drawing of the sheet into a box of the page."""
    _at(painter, box, lambda: _paint(painter, sheet, panel, view, (box.width, box.height), legend=legend))


def _paint(
    onto: QPainter | Pencil, sheet: Sheet, panel: Panel, view: View, size: XY, *, legend: bool
) -> Drawn:
    return paint_elevation(
        onto, panel.solution.layout, panel.solution, view, size, sheet.theme, sheet.system,
        pump=panel.pump, highest_port=panel.highest_port, legend=legend, on_paper=True,
    )  # fmt: skip


CLOSER = (0.25, 0.5, 0.75)
"""Of the usual margins, the largest drawing first."""


def closest(
    sheet: Sheet, panels: Sequence[Panel], size: XY, view_of: Callable[[float], View], *, legend: bool
) -> View:
    """The largest view on which all that is written at the usual margins has room.

    size: of each drawing [device units]; view_of: gives the view with a part of the usual margins.
    """
    usual, before = view_of(1.0), None
    for margin in CLOSER:
        view = view_of(margin)
        if view.scale <= usual.scale:
            break
        before = before or [_written(sheet, panel, usual, size, legend=legend) for panel in panels]
        after = [_written(sheet, panel, view, size, legend=legend) for panel in panels]
        if all(has >= had for has, had in zip(chain(*after), chain(*before), strict=True)):
            return view
    return usual


def _written(sheet: Sheet, panel: Panel, view: View, size: XY, *, legend: bool) -> tuple[int, ...]:
    """How many labels of each kind a drawing has, how many of its shares a name, and whether its scale bar
    covers nothing."""
    recorder = Recorder(view.dot, Box(0.0, 0.0, *size))
    drawn = _paint(recorder, sheet, panel, view, size, legend=legend)
    counts = Counter(label.kind for label in drawn.labels)
    names = sum(1 for label in drawn.labels if label.kind == LabelKind.SHARE and not label.text.endswith("%"))
    clear = not any(drawn.scale_bar.overlaps(tank) for tank in tanks(panel.solution.layout, view))
    return *(counts[kind] for kind in COUNTED), names, int(clear)


COUNTED = (
    LabelKind.SHARE,
    LabelKind.NAME,
    LabelKind.LEVEL,
    LabelKind.LIFT,
    LabelKind.LIMIT,
    LabelKind.LEGEND,
)
"""What a larger drawing must not cost."""


def _at(painter: QPainter, box: Box, paint: Callable[[], object]) -> None:
    """Paint about the corner of a box, and no further than the box."""
    painter.save()
    painter.setClipRect(QRectF(*box))
    painter.translate(box.x, box.y)
    paint()
    painter.restore()


def in_sight(panel: Panel) -> tuple[XY, ...]:
    """The highest port, unless showing it would make the drawing small."""
    left, bottom, _, top = bounds(panel.solution.layout)
    high = panel.highest_port
    if high is None:
        return ()
    near = bottom - 0.4 * (top - bottom) <= high <= top + 0.4 * (top - bottom)
    return ((left, high),) if near else ()


def strip_height(ruler: Ruler, sheet: Sheet, panel: Panel, width: float, names: Sequence[str] = ()) -> float:
    """How high the figures under a drawing are, with what they are of, at a width [pixels of the page]."""
    rows = figure_rows(ruler, key_figures(sheet, panel, names), width)
    return (FIGURES * len(rows) + CAPTION * len(_caption(ruler, sheet, panel, width))) * ruler.dot


def _caption(ruler: Ruler, sheet: Sheet, panel: Panel, width: float) -> list[str]:
    """Whose figures these are; a case of one name may be warmer in an alternative, and a screen that was read
    is drawn as it is typed."""
    read, as_read = panel.read_place(sheet.system), panel.as_read
    fluid = degrees(panel.solution.tank_fluid.temperature, panel.judgement.layout.units)
    text = f"Shown: {panel.shown_as}, fluid at {fluid}{panel.not_as_read}"
    if read is not None and as_read is not None:
        margin = ledger_pressure(panel.ledger.margin, sheet.system)
        other = "" if (read.pump, read.case) == (panel.pump, panel.place.case) else f", {panel.shown_as}"
        drawn = f"{' and '.join(as_read.names)} as drawn, margin {margin}{other}"
        text = f"As read: {read.pump}, {case_name(read.case)}. The picture: {drawn}"
    return ruler.wrap(text, width - 16 * ruler.dot)


def key_figures(sheet: Sheet, panel: Panel, names: Sequence[str]) -> list[Field]:
    """The handful of numbers a client asks for; only those of the given names, if any.

    They are of the line as read where the verdict over them is; a highest port is known as drawn alone.
    """
    highest, read = panel.highest_shortest if names else panel.highest_text, panel.read_place(sheet.system)
    ledger = panel.ledger if read is None else read.ledger
    fields = sheet_text.key_figures(ledger, sheet.system, highest)
    shown = [(name, figure) for name, figure in fields if not names or name in names]
    if read is None:
        return shown if highest else shown[:-1]
    return [(f"{name} as read" if name == "Margin" else name, text) for name, text in shown[:-1]]


def figure_rows(ruler: Ruler, fields: Sequence[Field], width: float) -> list[list[tuple[float, Field]]]:
    """Figures in as few rows as they need, about as wide each, with how far from the left each begins; none
    is cut."""
    gap, room = 9 * ruler.dot, width - 16 * ruler.dot
    wides = [max(ruler.width(name), ruler.width(figure, BODY, bold=True)) + gap for name, figure in fields]
    count = len(_rows_within(wides, room + gap))
    runs = (sum(wides[at:end]) for at in range(len(wides)) for end in range(at + 1, len(wides) + 1))
    least = min((each for each in runs if len(_rows_within(wides, each)) == count), default=room)
    spare = max(room + gap - sum(wides), 0.0) / len(fields) if count == 1 else 0.0
    rows = []
    for row in _rows_within(wides, least):
        lefts = [sum(wides[row[0] : each]) + (each - row[0]) * spare for each in row]
        rows.append([(left, fields[each]) for left, each in zip(lefts, row, strict=True)])
    return rows


def _rows_within(wides: Sequence[float], room: float) -> list[list[int]]:
    """What has those widths in rows of that width, one at the least in each."""
    rows: list[list[int]] = [[]]
    left = 0.0
    for number, wide in enumerate(wides):
        if rows[-1] and left + wide > room:
            rows.append([])
            left = 0.0
        rows[-1].append(number)
        left += wide
    return rows


def paint_figures(pencil: Pencil, sheet: Sheet, panel: Panel, strip: Box, names: Sequence[str] = ()) -> None:
    """Write the figures of a drawing into the strip under it. names: only these of them, if any."""
    dot, fields = pencil.dot, key_figures(sheet, panel, names)
    for number, row in enumerate(figure_rows(pencil, fields, strip.width)):
        y = strip.y + FIGURES * dot * number
        for at, (name, figure) in row:
            x = strip.x + 8 * dot + at
            pencil.text(x, y + 14 * dot, name, sheet.theme.quiet)
            pencil.text(x, y + 31 * dot, figure, sheet.theme.ink, BODY, bold=True)
    y = strip.y + FIGURES * dot * len(figure_rows(pencil, fields, strip.width)) + 5 * dot
    for line in _caption(pencil, sheet, panel, strip.width):
        pencil.text(strip.x + 8 * dot, y, line, sheet.theme.quiet)
        y += CAPTION * dot
