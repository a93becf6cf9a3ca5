"""The sheet is seen as it will be printed, page by page, and printed as it is seen."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QAction, QPageLayout, QPainter, QScreen
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo, QPrintPreviewWidget
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.page.paper import Page, Paper
from sketch.window import preview, small_screen
from sketch.window.preview import SheetPreview, paper_of, print_pages
from tests.sketch.sheets import words


def two_pages(on: Paper) -> list[Page]:
    def paint(text: str) -> Page:
        def page(painter: QPainter, width: float, height: float, dot: float) -> None:
            font = painter.font()
            font.setPixelSize(round(20 * dot))
            painter.setFont(font)
            painter.drawText(round(100 * dot), round(100 * dot), text)

        return page

    return [paint("first page"), paint("second page")]


@pytest.mark.parametrize(("upright", "size"), [(False, (297.0, 210.0)), (True, (210.0, 297.0))])
def test_every_page_is_shown_on_the_paper_that_was_chosen(qtbot, upright: bool, size: tuple) -> None:
    papers: list[Paper] = []

    def pages_on(on: Paper) -> list[Page]:
        papers.append(on)
        return two_pages(on)

    dialog = SheetPreview(None, "A4", upright, pages_on)
    qtbot.addWidget(dialog)
    dialog.show()
    (shown,) = dialog.findChildren(QPrintPreviewWidget)
    qtbot.waitUntil(lambda: shown.pageCount() == 2)
    assert [paper.millimetres for paper in papers] == [size]


class Window(QWidget):
    """A window on a screen of its own."""

    def __init__(self, wide: int, high: int) -> None:
        super().__init__()
        self._room = QSize(wide, high)
        self.resize(wide, high)

    def screen(self) -> QScreen:
        return SimpleNamespace(availableSize=lambda: self._room)  # type: ignore[return-value]


def test_the_preview_grows_with_its_window_and_never_past_the_screen(qtbot: QtBot) -> None:
    for wide, high in ((2560, 1440), (1366, 768), (1280, 720)):
        window = Window(wide, high)
        qtbot.addWidget(window)
        size = preview._size(window)
        assert size.width() <= wide - small_screen.FRAME.width()
        assert size.height() <= high - small_screen.FRAME.height()
        assert size.width() >= min(1000, wide - small_screen.FRAME.width())
    assert preview._size(None) == preview.LEAST
    large = Window(2560, 1440)
    qtbot.addWidget(large)
    assert preview._size(large).height() > 1200, "a page can be read on a large screen"


def test_what_is_printed_holds_the_words_of_every_page(qapp, tmp_path: Path) -> None:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    printer.setPageOrientation(QPageLayout.Orientation.Landscape)
    printer.setFullPage(True)
    on = paper_of(printer)
    print_pages(printer, on, two_pages(on))
    assert words(tmp_path / "out.pdf") == "first page second page"


def test_a_printer_is_set_up_only_where_there_is_one(qtbot: QtBot) -> None:
    dialog = SheetPreview(None, "A4", False, two_pages)
    qtbot.addWidget(dialog)
    (setup,) = (each for each in dialog.findChildren(QAction) if each.text() == "Page setup")
    assert setup.isEnabled() == bool(QPrinterInfo.availablePrinters())
