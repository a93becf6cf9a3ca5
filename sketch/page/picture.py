"""The drawing as a picture for a page of another program: what it shows, how it stands, and the drawing."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtGui import QPainter

from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import BODY, SMALL, Pencil
from sketch.look.colours import LIGHT
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.page.options import DRAWING_ITSELF
from sketch.page.paper import DOTS, Paper, page_data

SIZE = (254.0, 159.0)  # mm
EDGE = 12.0  # logical pixels
LINE = 1.6  # heights of a line of text


class Picture(NamedTuple):
    """One picture, as dots and as lines."""

    png: bytes
    svg: bytes


def picture_of(document: Document, state: str) -> Picture:
    """What a document shows, in light colours, under its verdict and the alternative, pump and case shown.

    `state` says what else the figures depend on. Raises ValueError when nothing is calculated, SheetError
    when the picture cannot be made.
    """
    if document.solution is None or document.outlook is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    lines = _lines(document, state)

    def page(painter: QPainter, width: float, height: float, dot: float) -> None:
        _paint(document, lines, painter, (width, height), dot)

    title = document.layout.title
    png, svg = (page_data(e, Paper("picture", DOTS[e], SIZE), page, title) for e in (".png", ".svg"))
    return Picture(png, svg)


def _lines(document: Document, state: str) -> tuple[str, str, str]:
    outlook = gauger(document).outlook
    assert outlook is not None
    shown = document.alternative or DRAWING_ITSELF
    return (
        document.layout.title or "Untitled drawing",
        " ".join(each for each in (outlook.sentence, outlook.detail) if each),
        f"Shown: {shown}, {document.pump}, case {document.case}, {state}",
    )


def _paint(
    document: Document, lines: tuple[str, str, str], painter: QPainter, size: tuple[float, float], dot: float
) -> None:
    width, height = size
    pencil = Pencil(painter, dot)
    pencil.box(Box(0.0, 0.0, width, height), LIGHT.paper)
    y = EDGE * dot
    for at, text in enumerate(lines):
        letters, bold = (BODY, True) if at == 0 else (SMALL, False)
        for line in pencil.wrap(text, width - 2 * EDGE * dot, letters, bold=bold):
            step = LINE * pencil.height(letters)
            ink = LIGHT.ink if at < 2 else LIGHT.quiet
            pencil.text(EDGE * dot, y + step / 2, line, ink, letters, bold=bold)
            y += step
    room = (width, height - y)
    painter.translate(0.0, y)
    layout = document.solution.layout if document.solution is not None else document.layout
    view = fit(layout, *room, dot)
    paint_elevation(
        painter, layout, document.solution, view, room, LIGHT, document.system, pump=document.pump
    )
