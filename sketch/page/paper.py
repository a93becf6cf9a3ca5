"""Pages on their way to a file: PDF, SVG or PNG from the same paint functions, and never half a file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRect, QSaveFile, QSize, QSizeF
from PySide6.QtGui import QImage, QPageSize, QPainter, QPdfWriter

MILLIMETRES = {"A4": (297.0, 210.0), "Letter": (279.4, 215.9)}
"""Width and height of a sheet on its side."""

DOTS = {".pdf": 12.5, ".svg": 1.0, ".png": 2.0}
"""Device units a logical pixel, by the file's ending: 1200, 96 and 192 dots an inch."""

Page = Callable[[QPainter, float, float, float], None]
"""Paints one page: painter, width and height in device units, dot."""


class SheetError(OSError):
    """A page that could not be written; the message says where and why."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet of paper, on its side."""

    name: str
    dot: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in device units."""
        wide, high = MILLIMETRES[self.name]
        return wide / 25.4 * 96.0 * self.dot, high / 25.4 * 96.0 * self.dot


def paper(name: str, path: Path) -> Paper:
    """The paper for a file. Raises ValueError for a size or an ending that is not known."""
    if name not in MILLIMETRES:
        raise ValueError(f"no paper called {name!r}; known are {', '.join(MILLIMETRES)}")
    ending = path.suffix.lower()
    if ending not in DOTS:
        raise ValueError(f"a sheet ends in {', '.join(DOTS)}, not {ending or 'nothing'!r}")
    return Paper(name, DOTS[ending])


def write(path: Path, sheet: Paper, pages: Sequence[Page], title: str) -> None:
    """Write the pages: a PDF page each; SVG and PNG below one another.

    The file appears whole or not at all. Raises SheetError when it cannot be written.
    """
    made = {".pdf": _pdf, ".svg": _svg, ".png": _png}[path.suffix.lower()](sheet, pages, title)
    file = QSaveFile(str(path))
    written = file.open(QIODevice.OpenModeFlag.WriteOnly) and file.write(made) == made.size()
    if not written or not file.commit():
        raise SheetError(f"{path}: {file.errorString()}")


def _begin(painter: QPainter, device: QPdfWriter | QImage | object) -> None:
    if not painter.begin(device):  # type: ignore[arg-type]
        raise SheetError("the page could not be begun")


def _pdf(sheet: Paper, pages: Sequence[Page], title: str) -> QByteArray:
    made, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(made)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setCreator("Liftledger")
    writer.setResolution(round(96 * sheet.dot))
    wide, high = MILLIMETRES[sheet.name]
    # A page defined on its side needs no orientation, which some viewers turn twice.
    writer.setPageSize(QPageSize(QSizeF(wide, high), QPageSize.Unit.Millimeter, sheet.name))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    painter = QPainter()
    _begin(painter, writer)
    for number, page in enumerate(pages):
        if number:
            writer.newPage()
        page(painter, *sheet.size, sheet.dot)
    painter.end()
    buffer.close()
    return made


def _stacked(painter: QPainter, sheet: Paper, pages: Sequence[Page]) -> None:
    for number, page in enumerate(pages):
        painter.resetTransform()
        painter.translate(0.0, number * sheet.size[1])
        page(painter, *sheet.size, sheet.dot)
    painter.end()


def _svg(sheet: Paper, pages: Sequence[Page], title: str) -> QByteArray:
    from PySide6.QtSvg import QSvgGenerator

    made, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(made)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    size = QSize(round(sheet.size[0]), round(sheet.size[1] * len(pages)))
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setResolution(96)
    generator.setSize(size)
    generator.setViewBox(QRect(0, 0, size.width(), size.height()))
    generator.setTitle(title)
    painter = QPainter()
    _begin(painter, generator)
    _stacked(painter, sheet, pages)
    buffer.close()
    return made


def _png(sheet: Paper, pages: Sequence[Page], title: str) -> QByteArray:
    size = QSize(round(sheet.size[0]), round(sheet.size[1] * len(pages)))
    image = QImage(size, QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    image.setText("Title", title)
    # Dots a metre, so that the picture prints at its true scale.
    image.setDotsPerMeterX(round(96 * sheet.dot / 0.0254))
    image.setDotsPerMeterY(round(96 * sheet.dot / 0.0254))
    painter = QPainter()
    _begin(painter, image)
    _stacked(painter, sheet, pages)
    made, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(made)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if not image.save(buffer, "PNG"):  # type: ignore[call-overload]
        raise SheetError("the picture could not be made")
    buffer.close()
    return made
