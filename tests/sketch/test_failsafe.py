"""A painting that raises: told once, logged, and no end of the program."""

import logging
from pathlib import Path

import pytest
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from sketch.canvas import picture
from sketch.failsafe import Failsafe
from sketch.look.appearance import ThemeChoice
from sketch.model.document import Document
from sketch.window.main_window import make_window
from tests.sketch.canvas.mouse import drag


class Sheet(QWidget):
    """Paints through the failsafe whatever it is given."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.setAccessibleName("Sheet")
        self.failsafe = Failsafe(self, document)
        self.error: Exception | None = ZeroDivisionError("no scale")
        self.count = 0

    def paintEvent(self, event: object) -> None:
        self.failsafe.paint(self._paint)

    def _paint(self, painter: QPainter) -> None:
        self.count += 1
        painter.save()
        if self.error is not None:
            raise self.error
        painter.restore()
        painter.fillRect(self.rect(), "#ff0000")


def test_error_is_told_and_logged_once_however_often_it_is_painted(
    qtbot: QtBot, riser: Path, caplog: pytest.LogCaptureFixture
) -> None:
    document, told = Document(), []
    document.failed.connect(told.append)
    sheet = Sheet(document)
    qtbot.addWidget(sheet)
    with caplog.at_level(logging.ERROR):
        images = [sheet.grab().toImage() for _ in range(5)]
    assert sheet.count == 5
    qtbot.waitUntil(lambda: bool(told))
    QApplication.processEvents()
    assert told == ["The sheet could not be drawn (ZeroDivisionError: no scale)."]
    assert len(caplog.records) == 1
    assert caplog.records[0].exc_info is not None
    assert images[0].pixelColor(1, 1).lightness() > 200
    document.open(riser)
    with caplog.at_level(logging.ERROR):
        sheet.grab()
    qtbot.waitUntil(lambda: len(told) == 2)


def test_painting_that_is_mended_paints_again(qtbot: QtBot, caplog: pytest.LogCaptureFixture) -> None:
    sheet = Sheet(Document())
    qtbot.addWidget(sheet)
    sheet.grab()
    sheet.error = None
    assert sheet.grab().toImage().pixelColor(1, 1).name() == "#ff0000"


def test_elevation_that_cannot_be_painted_is_told_in_the_window_and_undo_brings_it_back(
    qtbot: QtBot, qapp: QApplication, riser: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = make_window(qapp, None, ThemeChoice.LIGHT)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    assert window.files.read(riser)
    with qtbot.waitExposed(window):
        window.show()
    sound, calls = picture.paint_elevation, []

    def broken(*arguments: object, **named: object) -> None:
        calls.append(arguments)
        raise OverflowError("a coordinate too large")

    monkeypatch.setattr(picture, "paint_elevation", broken)
    logging.getLogger("sketch.failsafe").disabled = True
    try:
        window.workspace.elevation.zoom(1.1)
        qtbot.waitUntil(lambda: "could not be drawn" in window.notice.text)
        qtbot.wait(200)
        count = len(calls)
        x, y = (each.si for each in next(iter(window.document.layout.pumps.values())).at)
        drag(window.workspace.elevation, (x, y), (x, y + 0.1))
    finally:
        logging.getLogger("sketch.failsafe").disabled = False
    assert "OverflowError: a coordinate too large" in window.notice.text
    assert count <= 4, "an error must not bring about its own repainting"
    assert len(calls) > count, "nothing was dragged, so that nothing was tried"
    monkeypatch.setattr(picture, "paint_elevation", sound)
    assert window.workspace.elevation.grab().toImage().pixelColor(500, 10).isValid()
    assert window.document.solution is not None
