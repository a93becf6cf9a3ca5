"""A logo beside a drawing: read with limits, and nothing that it names is read."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRectF, QSize
from PySide6.QtGui import QImage, QImageReader, QPainter

from sketch.model.disk import READ_S, contents, with_time_limit

MOST_BYTES = {".png": 4 * 2**20, ".svg": 512 * 2**10}
MOST_PIXELS = 4096
MOST_ELEMENTS = 4000
"""Of a picture's file; of a PNG, a side; of an SVG."""

Logo = tuple[Callable[[QPainter, QRectF], None], float]
"""Paints a logo in a rectangle; its width over its height."""

_OUTSIDE = re.compile(
    rb"<!DOCTYPE|<!ENTITY|<\?xml-stylesheet|@import|<script|<foreignObject"
    rb"|href\s*=\s*[\"'](?!\s*(?:#|data:image/png))|url\(\s*[\"']?(?!\s*#)",
    re.IGNORECASE,
)
"""In an SVG, what reads something else or runs."""


def read_logo(folder: Path | None, name: str) -> Logo:
    """A logo by its name in a folder, that of the drawing. Raises ValueError with what is wrong with it."""
    if folder is None:
        raise ValueError(f'the logo "{name}" lies beside no file yet; save the drawing first')
    path, ending = folder / name, Path(name).suffix.lower()
    most, data = MOST_BYTES.get(ending, 0), None
    try:
        if Path(name).name == name:
            data = with_time_limit(READ_S, lambda: None if path.is_symlink() else contents(path, most + 1))
    except OSError as error:
        raise ValueError(f'the logo "{name}" beside the drawing: {error.strerror or error}') from error
    if data is None:
        raise ValueError(f'the logo "{name}" is no file beside the drawing')
    if len(data) > most:
        raise ValueError(f'the logo "{name}" is larger than {most // 1024} KiB')
    return _svg(data, name) if ending == ".svg" else _png(data, name)


def _png(data: bytes, name: str) -> Logo:
    bytes_ = QByteArray(data)
    buffer = QBuffer(bytes_)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(b"png"))
    size: QSize = reader.size()
    if not size.isValid() or size.isEmpty():
        raise ValueError(f'the logo "{name}" is no PNG')
    if max(size.width(), size.height()) > MOST_PIXELS:
        raise ValueError(f'the logo "{name}" has more than {MOST_PIXELS} pixels on a side')
    image: QImage = reader.read()
    if image.isNull():
        raise ValueError(f'the logo "{name}" cannot be read: {reader.errorString()}')

    def paint(painter: QPainter, area: QRectF) -> None:
        painter.drawImage(area, image)

    return paint, size.width() / size.height()


def _svg(data: bytes, name: str) -> Logo:
    from PySide6.QtSvg import QSvgRenderer

    if _OUTSIDE.search(data):
        raise ValueError(f'the logo "{name}" names something outside itself, which is not read')
    if data.count(b"<") > MOST_ELEMENTS:
        raise ValueError(f'the logo "{name}" has more than {MOST_ELEMENTS} elements')
    renderer = QSvgRenderer(QByteArray(data))
    size = renderer.viewBoxF() if not renderer.viewBoxF().isEmpty() else QRectF(renderer.viewBox())
    if not renderer.isValid() or size.isEmpty():
        raise ValueError(f'the logo "{name}" is no SVG')
    return renderer.render, size.width() / size.height()
