"""The clipboard after the copy commands, asked for what other programs ask for."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from sketch.window.copying import PNG, SVG, TABLE, table_text
from sketch.window.exports import ledger_text
from tests.sketch.pixels import pixels
from tests.sketch.window.windows import ALT, CONTROL, Opener

ONE_WINDOW = True


def clipboard() -> QMimeData:
    return QGuiApplication.clipboard().mimeData()


@pytest.mark.thorough
def test_the_picture_is_there_as_dots_and_as_lines(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document = window.document
    window.workspace.elevation.sight.pan(5000.0, 0.0)
    qtbot.keyClick(window, Qt.Key.Key_I, CONTROL | ALT)
    data = clipboard()
    assert data.hasImage()
    picture = QImage.fromData(data.data(PNG), "PNG")
    assert picture.width() > 1500
    assert picture.textKeys()
    svg = bytes(data.data(SVG).data()).decode("utf-8")
    assert svg.startswith("<?xml")
    assert document.outlook.headline.split(" in ")[0] in svg
    for said in ("carriage, case as drawn", "As drawn", "strainer", "riser", document.layout.title):
        assert said in svg, said
    colours = set(map(tuple, pixels(picture)[200:1100:6, ::6].reshape(-1, 3).tolist()))
    assert len(colours) > 8, "the whole drawing is on it, wherever the window looks"
    document.show_alternative("Pump beside the tank")
    qtbot.keyClick(window, Qt.Key.Key_I, CONTROL | ALT)
    assert "Pump beside the tank" in bytes(clipboard().data(SVG).data()).decode("utf-8")


def test_the_ledger_goes_to_a_spreadsheet_cell_by_cell(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    qtbot.keyClick(window, Qt.Key.Key_K, CONTROL | ALT)
    data = clipboard()
    assert bytes(data.data(TABLE).data()).decode("utf-8") == data.text()
    cells = list(csv.reader(io.StringIO(data.text()), delimiter="\t"))
    assert cells == list(csv.reader(io.StringIO(ledger_text(window.document, ".csv"))))
    assert len({len(row) for row in cells}) == 1
    at = cells[0].index("margin_Pa")
    assert float(cells[1][at]) == window.document.ledger.margin


def test_no_cell_is_taken_for_a_formula(opener: Opener) -> None:
    window = opener()
    document = window.document
    document.rename("riser", "=1+1")
    assert "\t'=1+1\t" in table_text(document)
    assert "\t=1+1" not in table_text(document)


def test_without_a_ledger_nothing_can_be_copied(opener: Opener) -> None:
    window = opener()
    window.document.apply("Break", replace(window.document.layout, runs={}))
    for name in ("copy picture", "copy table"):
        assert not window.actions_by_name[name].isEnabled()
