"""The sheet as it will be printed, seen before it is: zoom, pages, and the way to a printer."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QMarginsF, QSize, QSizeF
from PySide6.QtGui import QAction, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrintPreviewDialog
from PySide6.QtWidgets import QWidget

from sketch.page.paper import MILLIMETRES, Page, Paper
from sketch.window.small_screen import within_screen

PagesOn = Callable[[Paper], list[Page]]
"""Lays a sheet out on a paper."""

RESOLUTION = 1200
LEAST = QSize(1000, 740)
SHARE = 0.9  # of the window


class SheetPreview(QPrintPreviewDialog):
    """Shows a sheet on a paper of a name that is known, and prints it from there.

    `pages_on` is asked again for every paper that is chosen in it.
    """

    def __init__(self, window: QWidget | None, name: str, upright: bool, pages_on: PagesOn) -> None:
        """Errors as `pages_on`."""
        self._on = printer_of(name, upright)  # Qt's dialog keeps no printer alive that it is given
        self._pages_on = pages_on
        first = paper_of(self._on)
        self._shown = {first.millimetres: pages_on(first)}
        super().__init__(self._on, window)
        self.setWindowTitle("The sheet before it is printed")
        self.paintRequested.connect(self._paint)
        for action in self.findChildren(QAction):
            if action.text() == "Page setup":  # Qt asks a printer's own dialog, and warns where there is none
                action.setEnabled(self._on.outputFormat() == QPrinter.OutputFormat.NativeFormat)
        self.resize(_size(window))

    def _paint(self, on: QPrinter) -> None:
        sheet = paper_of(on)
        if sheet.millimetres not in self._shown:
            self._shown[sheet.millimetres] = self._pages_on(sheet)
        print_pages(on, sheet, self._shown[sheet.millimetres])


def _size(window: QWidget | None) -> QSize:
    """Nearly the size of the window, for a page to be read, within the screen."""
    if window is None:
        return LEAST
    return within_screen(window, (window.size() * SHARE).expandedTo(LEAST))


def printer_of(name: str, upright: bool) -> QPrinter:
    """A printer with a paper of that name, used to its edges."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setResolution(RESOLUTION)
    wide, high = MILLIMETRES[name]
    size = QPageSize(QSizeF(high, wide), QPageSize.Unit.Millimeter, name)
    way = QPageLayout.Orientation.Portrait if upright else QPageLayout.Orientation.Landscape
    printer.setPageLayout(QPageLayout(size, way, QMarginsF(0, 0, 0, 0)))
    printer.setFullPage(True)
    return printer


def paper_of(printer: QPrinter) -> Paper:
    """The paper that a printer has, with its dots."""
    size = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter).size()
    millimetres = round(size.width(), 1), round(size.height(), 1)
    return Paper(printer.pageLayout().pageSize().name(), printer.resolution() / 96.0, millimetres)


def print_pages(printer: QPrinter, sheet: Paper, pages: list[Page]) -> None:
    """Paint pages onto a printer."""
    painter = QPainter(printer)
    for number, page in enumerate(pages):
        if number:
            printer.newPage()
        page(painter, *sheet.size, sheet.dot)
    painter.end()
