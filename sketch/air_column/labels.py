"""The notes beside the air column as painted: apart from one another, each with a leader back."""

from __future__ import annotations

from collections.abc import Sequence

from sketch.air_column.frame import COLUMN, SCALES, PaintedColumn
from sketch.air_column.notes import Note, NoteKind, keep, notes, smaller
from sketch.air_column.slices import FLOOR_NAME, Slice, slices
from sketch.drawing.labels import Box, Label
from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.separation import separated
from sketch.look.colours import CREDIT, Theme, share_colour, text_on
from solver.ledger.solve import Solution
from solver.quantities.units import System


def paint_labels(
    column: PaintedColumn, slices: Sequence[Slice], pointed: str, more: Sequence[Note] = ()
) -> list[Label]:
    """Names and shares, and `more`, moved apart so that none covers another, with leaders back."""
    pencil, area, frame, dot = column.pencil, column.area, column.frame, column.pencil.dot
    high = pencil.height() + 4 * dot
    most = int((area.bottom - frame.y + 4 * dot) // high)
    every = [*notes(column.ledger, slices, column.system, pointed, most, column.floor_name), *more]
    kept = keep(every, most)
    if smaller(slices, kept, column.ledger, column.system) is not None:
        kept = keep(every, most - 1)  # and a line for the rest
    rest = smaller(slices, kept, column.ledger, column.system)
    wanted = sorted([*kept, *([rest] if rest else [])], key=lambda note: (-note.pressure, note.order))
    heights = [column.y(note.pressure) for note in wanted]
    centres = separated(heights, [high] * len(wanted), frame.y - 8 * dot, area.bottom - 4 * dot)
    elbow, left = frame.right + 14 * dot, frame.right + 20 * dot
    leaders = []
    labels = []
    for note, at, y in zip(wanted, heights, centres, strict=True):
        at = min(max(at, frame.y), frame.bottom)
        if note is not rest:
            leaders.append(((frame.right + 2 * dot, at), (elbow, y)))
            leaders.append(((elbow, y), (left - 3 * dot, y)))
        box = Box(left, y - high / 2, area.right - left - 4 * dot, high)
        labels.append(_note(pencil, note, box, column.theme, lit=bool(note.key) and note.key == pointed))
    pencil.lines(leaders, column.theme.construction, 0.8)
    return labels


def column_width(
    ruler: Ruler, solution: Solution, pump: str, system: System, floor_name: str = FLOOR_NAME
) -> float:
    """How wide a column must be for none of its labels to be cut [device units]."""
    ledger, dot = solution.pumps[pump], ruler.dot
    widest = 0.0
    for note in notes(ledger, slices(ledger), system, "", floor_name=floor_name):
        cell = max(40 * dot, ruler.width(note.share, bold=True) + 7 * dot) + 5 * dot if note.share else 0.0
        widest = max(widest, cell + ruler.width(note.text, bold=note.kind in (NoteKind.FLOOR, NoteKind.OVER)))
    return (SCALES + COLUMN + 28) * dot + widest


def _note(pencil: Pencil, note: Note, box: Box, theme: Theme, *, lit: bool) -> Label:
    dot, left, middle = pencil.dot, box.x, box.y + box.height / 2
    if note.share:
        wide = max(40 * dot, pencil.width(note.share, bold=True) + 7 * dot)
        cell = Box(left, box.y + 1 * dot, wide, box.height - 2 * dot)
        colour = theme.classes[CREDIT] if note.credit else share_colour(note.value, theme)
        pencil.box(cell, colour, theme.halo if lit else theme.casing, 2.5 if lit else 1.0, radius=2.0)
        pencil.text(cell.right - 3 * dot, middle, note.share, text_on(colour), bold=True, align=1.0)
        left = cell.right + 5 * dot
    room = box.right - left
    fits = pencil.width(note.text, bold=True) <= room  # a lit one that does not is known by its frame
    bold = (lit and fits) or note.kind in (NoteKind.FLOOR, NoteKind.OVER)
    text = _shortened(pencil, note.text, room, bold)
    colour = {
        NoteKind.FLOOR: theme.limit,
        NoteKind.OVER: theme.stop,
        NoteKind.SLICE: theme.ink,
    }.get(note.kind, theme.quiet)
    pencil.text(left, middle, text, colour, bold=bold)
    return Label(note.key, note.kind, f"{note.share} {text}".strip(), box)


def _shortened(pencil: Pencil, text: str, width: float, bold: bool) -> str:
    """The part's name gives way before the element's, which tells one slice from the next."""
    part, comma, element = text.partition(", ")
    if comma and pencil.width(text, bold=bold) > width:
        room = width - pencil.width(comma + element, bold=bold)
        if room > 3 * pencil.height():
            return pencil.elide(part, room, bold=bold) + comma + element
        if pencil.width(element, bold=bold) <= width:
            return element
    return pencil.elide(text, width, bold=bold)
