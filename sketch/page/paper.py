"""Pages on their way to a file: PDF, SVG or PNG from the same paint functions, and never half a file."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRect, QSize, QSizeF
from PySide6.QtGui import QImage, QPageSize, QPainter, QPdfWriter

from sketch.model.disk import READ_S, WRITE_S, SaveError, contents, with_time_limit, write_safely
from solver.quantities.units import System

MILLIMETRES = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "Letter": (279.4, 215.9),
    "Tabloid": (431.8, 279.4),
}
"""Width and height of a sheet on its side."""

DOTS = {".pdf": 12.5, ".svg": 1.0, ".png": 2.0}
"""Device units a logical pixel, by the file's ending: 1200, 96 and 192 dots an inch."""

if TYPE_CHECKING:
    from pypdf import PdfWriter

Page = Callable[[QPainter, float, float, float], None]
"""Paints one page: painter, width and height in device units, dot."""


MAKER = "Liftledger"
HEAD = 4096  # bytes at the head of a page, which name its maker


@dataclass(frozen=True, slots=True)
class FileInfo:
    """What a file says of itself."""

    title: str
    author: str = ""
    subject: str = ""
    date: datetime.date | None = None  # given it, a PDF of the same pages has the same bytes again
    bookmarks: tuple[tuple[str, int], ...] = ()  # of a PDF: what begins on which page, from 1


class SheetError(OSError):
    """A page that could not be written; the message says where and why."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet of paper."""

    name: str
    dot: float
    millimetres: tuple[float, float]  # width and height

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in device units."""
        wide, high = self.millimetres
        return wide / 25.4 * 96.0 * self.dot, high / 25.4 * 96.0 * self.dot


def usual(units: str) -> str:
    """The paper that a drawing in those units is printed on, where none is asked for."""
    return "Letter" if units == System.US else "A4"


def paper(name: str, path: Path, *, upright: bool = False) -> Paper:
    """The paper for a file. Raises ValueError for a size or an ending that is not known."""
    if name not in MILLIMETRES:
        raise ValueError(f"no paper called {name!r}; known are {', '.join(MILLIMETRES)}")
    ending = path.suffix.lower()
    if ending not in DOTS:
        raise ValueError(f"a sheet ends in {', '.join(DOTS)}, not {ending or 'nothing'!r}")
    wide, high = MILLIMETRES[name]
    return Paper(name, DOTS[ending], (high, wide) if upright else (wide, high))


def write(
    path: Path, sheet: Paper, pages: Sequence[Page], about: FileInfo, *, replace: bool = True
) -> tuple[Path, ...]:
    """Write the pages: one PDF of them all; SVG and PNG a file a page. Returns the files written.

    Pages with a number take the place of pages of a sheet alone, and those that a longer one has left go.
    Each file appears whole or not at all, and none before all pages are made. Raises SheetError when one
    cannot be written, or is no page of a sheet and may not be replaced.
    """
    ending = path.suffix.lower()
    if ending == ".pdf":
        contents = [_with_about(_pdf(sheet, pages, about.title), about)]
    else:
        contents = [page_data(ending, sheet, page, about.title) for page in pages]
    paths = paths_of(path, len(contents))
    if len(paths) > 1 or not replace:
        _refuse_strangers(paths)
    for each, content in zip(paths, contents, strict=True):
        _save(each, content)
    if ending != ".pdf":
        with_time_limit(WRITE_S, lambda: _remove_longer(path, paths))
    return paths


def page_data(ending: str, sheet: Paper, page: Page, title: str) -> bytes:
    """One page as SVG or PNG, by the ending of its kind. Raises SheetError when it cannot be made."""
    make = {".svg": _svg, ".png": _png}[ending]
    return bytes(make(sheet, page, title).data())


def pages_at(path: Path) -> tuple[Path, ...]:
    """The pages with a number of a sheet that was written to that name before. Raises OSError."""
    return with_time_limit(READ_S, lambda: _pages_at(path))


def _remove_longer(path: Path, written: Sequence[Path]) -> None:
    for left in _pages_at(path):
        if left not in written:
            left.unlink(missing_ok=True)


def _pages_at(path: Path) -> tuple[Path, ...]:
    pages: list[Path] = []
    for number in count(1):
        page = path.with_name(f"{path.stem}-{number}{path.suffix}")
        if not (page.exists() and _is_page(page)):
            return tuple(pages)
        pages.append(page)
    raise AssertionError


def _is_page(path: Path) -> bool:
    try:
        head = contents(path, HEAD)
    except OSError:
        return False
    return any(MAKER.encode(encoding) in head for encoding in ("ascii", "utf-16-be"))  # as pypdf or Qt has it


def _refuse_strangers(paths: Sequence[Path]) -> None:
    """Nobody was asked about files whose numbers are this program's own."""
    strange = with_time_limit(
        READ_S, lambda: [path.name for path in paths if path.exists() and not _is_page(path)]
    )
    if strange:
        names = f"{', '.join(strange)} {'is' if len(strange) == 1 else 'are'}"
        # One name alone is refused only to the command line: the window has asked about it.
        advice = "choose another name" + (", or give --replace to write over it" if len(paths) == 1 else "")
        raise SheetError(f"{names} there already, and no page of a sheet; {advice}")


def paths_of(path: Path, count: int) -> tuple[Path, ...]:
    """The files that so many go to: one under its own name, several with a number each."""
    if count == 1:
        return (path,)
    return tuple(path.with_name(f"{path.stem}-{number}{path.suffix}") for number in range(1, count + 1))


def written_files_text(paths: Sequence[Path]) -> str:
    """Files written, as a message names them."""
    first, *more = paths
    return f"{first} to {more[-1].name}, a page each" if more else str(first)


def _save(path: Path, data: bytes) -> None:
    try:
        write_safely(path, data)
    except SaveError as error:
        raise SheetError(str(error)) from error


def _begin(painter: QPainter, device: QPdfWriter | QImage | object) -> None:
    if not painter.begin(device):  # type: ignore[arg-type]
        raise SheetError("the page could not be begun")


def _pdf(sheet: Paper, pages: Sequence[Page], title: str) -> QByteArray:
    data, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setCreator(MAKER)
    writer.setResolution(round(96 * sheet.dot))
    wide, high = sheet.millimetres
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
    return data


def _with_about(data: QByteArray, about: FileInfo) -> bytes:
    """A PDF with bookmarks and with what it says of itself, its own time of day and chance taken out."""
    from pypdf import PdfReader, PdfWriter

    writer = PdfWriter()  # Qt's own catalogue has the time of day in it twice, and a number by chance
    for page in PdfReader(BytesIO(bytes(data.data()))).pages:
        writer.add_page(page)
    _name_fonts_in_order(writer)
    for title, number in about.bookmarks:
        writer.add_outline_item(title=title, page_number=number - 1)
    stamp = f"D:{about.date:%Y%m%d}000000Z" if about.date else ""
    named = {"/Title": about.title, "/Author": about.author, "/Subject": about.subject, "/Creator": MAKER,
             "/CreationDate": stamp, "/ModDate": stamp}  # fmt: skip
    writer.metadata = {key: text for key, text in named.items() if text}
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _name_fonts_in_order(writer: PdfWriter) -> None:
    """The prefix of an embedded font's name by its place: Qt's own comes by chance."""
    from pypdf.generic import NameObject

    known: set[int] = set()
    for page in writer.pages:
        resources: Any = page["/Resources"]
        for _, font in sorted(resources.get("/Font", {}).items()):
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"].get_object()
            if id(descriptor) not in known:
                known.add(id(descriptor))
                prefix = f"AAAA{chr(ord('A') + len(known) // 26)}{chr(ord('A') + len(known) % 26)}"
                name = str(descriptor["/FontName"]).partition("+")[2]
                descriptor[NameObject("/FontName")] = NameObject(f"/{prefix}+{name}")


def _painted(painter: QPainter, sheet: Paper, page: Page) -> None:
    page(painter, *sheet.size, sheet.dot)
    painter.end()


def _whole(sheet: Paper) -> QSize:
    return QSize(round(sheet.size[0]), round(sheet.size[1]))


def _svg(sheet: Paper, page: Page, title: str) -> QByteArray:
    from PySide6.QtSvg import QSvgGenerator

    data, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    size = _whole(sheet)
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setResolution(96)
    generator.setSize(size)
    generator.setViewBox(QRect(0, 0, size.width(), size.height()))
    generator.setTitle(title)
    generator.setDescription(f"A page of a sheet by {MAKER}")
    painter = QPainter()
    _begin(painter, generator)
    _painted(painter, sheet, page)
    buffer.close()
    return data


def _png(sheet: Paper, page: Page, title: str) -> QByteArray:
    image = QImage(_whole(sheet), QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    image.setText("Title", title)
    image.setText("Software", MAKER)
    # Dots a metre, so that the picture prints at its true scale.
    image.setDotsPerMeterX(round(96 * sheet.dot / 0.0254))
    image.setDotsPerMeterY(round(96 * sheet.dot / 0.0254))
    painter = QPainter()
    _begin(painter, image)
    _painted(painter, sheet, page)
    data, buffer = QByteArray(), QBuffer()
    buffer.setBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if not image.save(buffer, "PNG"):  # type: ignore[call-overload]
        raise SheetError("the picture could not be made")
    buffer.close()
    return data
