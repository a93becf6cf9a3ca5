"""The sheet is seen as it will be printed, page by page, and printed as it is seen."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QAction, QPageLayout, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo, QPrintPreviewWidget
from pytestqt.qtbot import QtBot

from sketch.page.paper import Page, Paper
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
    preview = SheetPreview(None, "A4", False, two_pages)
    qtbot.addWidget(preview)
    (setup,) = (each for each in preview.findChildren(QAction) if each.text() == "Page setup")
    assert setup.isEnabled() == bool(QPrinterInfo.availablePrinters())
