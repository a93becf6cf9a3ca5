"""The baseline of every painting: what Qt itself takes for a drawing whose places are known."""

from __future__ import annotations

from collections.abc import Callable


def bare_paint(drawn: object, sheet: object) -> Callable[[], None]:
    """Strokes, shapes, boxes and texts of a drawing with their places known: what Qt itself takes."""
    from PySide6.QtCore import QLineF, QPointF, QRectF
    from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPen, QPolygonF

    from sketch.drawing.painting import Drawn
    from sketch.drawing.symbols import symbol

    assert isinstance(drawn, Drawn)
    assert isinstance(sheet, QImage)
    pipes = [QPolygonF([QPointF(*p) for p in glyph.points]) for glyph in drawn.glyphs if glyph.is_pipe]
    width = next(glyph.width for glyph in drawn.glyphs if glyph.is_pipe)
    shapes = [
        QPolygonF([QPointF(*p) for p in polygon])
        for glyph in drawn.glyphs
        if not glyph.is_pipe
        for polygon in symbol(glyph, 1.0).fills
    ]
    texts = [(QRectF(*label.box), label.text) for label in drawn.labels]
    wide, high = float(sheet.width()), float(sheet.height())
    grid = [QLineF(k * 60.0, 0.0, k * 60.0, high) for k in range(int(wide) // 60 + 1)]
    dark, light, font = QColor("#33383d"), QColor("#f98e09"), QFont()
    font.setPixelSize(11)

    def paint() -> None:
        painter = QPainter(sheet)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(QRectF(0, 0, wide, high), QColor("#fbfbf9"))
        painter.drawLines(grid)
        for colour, thick in ((dark, width + 3.0), (light, width)):
            painter.setPen(QPen(colour, thick))
            for line in pipes:
                painter.drawPolyline(line)
        painter.setPen(QPen(dark, 1.4))
        painter.setBrush(light)
        for shape in shapes:
            painter.drawPolygon(shape)
        painter.setFont(font)
        for box, text in texts:
            painter.drawRect(box)
            painter.drawText(box.bottomLeft(), text)
        painter.end()

    return paint
