"""The clipboard after the copy commands, asked for what other programs ask for."""

from __future__ import annotations

import csv
import io
import threading
from collections.abc import Mapping
from dataclasses import replace

import pytest
from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from sketch.model.advisor import AdviceQuestion, Advisor, advisor
from sketch.window.copying import PNG, SVG, TABLE, table_text
from sketch.window.exports import WORKING_OUT, ledger_text
from solver.fixes import remedies
from solver.fixes.fixes import Advice
from tests.sketch.pixels import pixels
from tests.sketch.window.windows import ALT, CONTROL, Opener, raise_port

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
    for said in ("carriage, case as drawn", "The drawing itself", "strainer", "riser", document.layout.title):
        assert said in svg, said
    colours = set(map(tuple, pixels(picture)[200:1100:6, ::6].reshape(-1, 3).tolist()))
    assert len(colours) > 8, "the whole drawing is on it, wherever the window looks"
    document.show_alternative("Pump beside the tank")
    qtbot.keyClick(window, Qt.Key.Key_I, CONTROL | ALT)
    assert "Pump beside the tank" in bytes(clipboard().data(SVG).data()).decode("utf-8")


@pytest.mark.thorough
def test_the_ledger_is_copied_at_once_and_what_to_try_is_added(
    qtbot: QtBot, opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Fixes take up to a second to solve: the hand never waits, and no other drawing gets them."""
    window = opener(own=True)
    document, known = window.document, advisor(window.document)
    asked = threading.Event()

    def late(question: AdviceQuestion) -> Mapping[str, Advice]:
        assert threading.current_thread() is not threading.main_thread()
        asked.wait(30)
        return by_hand(question)

    by_hand = Advisor.work
    monkeypatch.setattr(known, "work", late)
    monkeypatch.setattr(remedies, "advise_lazily", None)  # never on this thread
    qtbot.keyClick(window, Qt.Key.Key_C, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert WORKING_OUT in clipboard().text()
    assert "Over by" in clipboard().text()
    asked.set()
    qtbot.waitUntil(lambda: WORKING_OUT not in clipboard().text())
    assert clipboard().text() == ledger_text(document, ".txt")
    asked.clear()
    raise_port(window)
    qtbot.keyClick(window, Qt.Key.Key_C, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    before = clipboard().text()
    qtbot.waitUntil(lambda: known._running is not None)
    document.undo_stack.undo()
    asked.set()
    qtbot.waitUntil(lambda: known.at_hand)
    assert clipboard().text() == before


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
