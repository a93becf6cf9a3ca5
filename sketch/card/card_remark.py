"""The card of a text or a dimension of one's own: its words, its place, what it hangs on. No Qt here."""

from __future__ import annotations

import math
from collections.abc import Mapping

from sketch.card.card_draft import Refused, Typed, raw_value
from sketch.card.card_lines import CardLine
from sketch.editing import edits, remarks
from sketch.editing.edits import EditError
from sketch.editing.remarks import DIMENSION, Remark
from solver.geometry import measured
from solver.layout.parts import Layout
from solver.layout.remarks import Direction, TextAnchor, TextSize
from solver.quantities.units import Kind, System, typeset

END_TIP = 'A part, a corner such as "tank, corner 2", or a place: x; height'
OF_TEXT = (
    CardLine("text", "Text", words=True),
    CardLine("x", "Position x", Kind.LENGTH, tip="To the right of the datum"),
    CardLine("y", "Elevation", Kind.LENGTH, tip="Above the datum, at half the height of the text"),
    CardLine("size", "Size", options=tuple(TextSize)),
    CardLine("anchor", "Anchor", options=tuple(TextAnchor),
         tip="Which of it stands at its place: its left end, its middle or its right end"),
)  # fmt: skip
OF_DIMENSION = (
    CardLine("from", "From", open=True, tip=END_TIP),
    CardLine("to", "To", open=True, tip=END_TIP),
    CardLine("direction", "Measures", options=tuple(Direction),
         tip="All of the way, or what of it goes across or up"),
    CardLine("offset", "Line stands off", Kind.LENGTH,
         tip="From the first end: up where it measures across, to the right where it measures up"),
)  # fmt: skip
ENDS = ("from", "to")
LONGEST = 40  # characters of a name in a list


def lines(layout: Layout, remark: Remark) -> tuple[CardLine, ...]:
    """The figures of a text, or of a dimension with the parts and corners it may be between."""
    if remark.what != DIMENSION:
        return OF_TEXT
    ends = remarks.ends_to_choose(layout)
    return tuple(line._replace(options=ends) if line.key in ENDS else line for line in OF_DIMENSION)


def values(layout: Layout, remark: Remark) -> dict[str, Typed]:
    """What the drawing has for each of its lines."""
    if remark.what != DIMENSION:
        text = layout.texts[remark.number]
        return {
            "text": text.text,
            "x": text.at[0].text,
            "y": text.at[1].text,
            "size": str(text.size),
            "anchor": str(text.anchor),
        }
    own = layout.dimensions[remark.number]
    ends = {key: remarks.end_text(end) for key, end in zip(ENDS, (own.start, own.end), strict=True)}
    return {**ends, "direction": str(own.direction), "offset": own.offset.text}


def changed(layout: Layout, remark: Remark, draft: Mapping[str, Typed], system: System) -> Layout:
    """The layout with everything in the draft done. Raises Refused."""
    known = {line.key: line for line in lines(layout, remark)}
    for key, typed in draft.items():
        try:
            layout = _with(layout, remark, known[key], str(typed), system)
        except EditError as error:
            raise Refused({key: str(error)}, ()) from error
    return layout


def _with(layout: Layout, remark: Remark, line: CardLine, typed: str, system: System) -> Layout:
    number = remark.number
    if line.kind is not None:
        figure = edits.read_typed(str(raw_value(line, typed, system) or ""), line.kind, system)
        return remarks.set_figure(layout, remark, line.key, figure)
    if line.key in ENDS:
        return remarks.set_end(layout, number, ENDS.index(line.key), remarks.end_typed(layout, typed, system))
    if line.key == "direction":
        return remarks.set_direction(layout, number, Direction(typed))
    if line.key == "text":
        return remarks.set_words(layout, number, typed)
    return remarks.set_look(layout, number, **{line.key: typed})


def heading(layout: Layout, remark: Remark, system: System) -> str:
    """What it is, in a few words."""
    if remark.what != DIMENSION:
        return "Text of your own"
    line = measured.dimension_line(layout, layout.dimensions[remark.number])
    if line is None:
        return "Dimension of a part that is not drawn here"
    return f"Dimension of your own: {typeset(math.dist(*line), Kind.LENGTH, system)}"


def name(layout: Layout, remark: Remark) -> str:
    """What a list calls it, as long as it has room for."""
    if remark.what == DIMENSION:
        own = layout.dimensions[remark.number]
        text = f"Dimension: {remarks.end_text(own.start)} to {remarks.end_text(own.end)}"
    else:
        text = f"Text: {layout.texts[remark.number].text}"
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1].rstrip()}…"
