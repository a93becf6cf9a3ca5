"""A drawing's own text is shown as it stands: no label, tip or box of the window reads it as markup."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from itertools import count
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QAbstractItemModel, QAbstractListModel, QModelIndex, Qt, QTimer
from PySide6.QtGui import QColor, QImage, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QApplication, QLabel, QMessageBox, QTextBrowser, QWidget
from pytestqt.qtbot import QtBot

from sketch.page.sheet_parts import SheetWish
from sketch.views import case_making
from sketch.views.tabs import TABS
from sketch.window.main_window import Window
from sketch.window.sheet_choice import SheetChoice
from solver.answers.proposals import proposals
from tests.sketch.window.windows import Opener
from tests.thorough import first

ONE_WINDOW = True

RICH = Path(__file__).parents[2] / "hostile" / "broke" / "rich.toml"
OUR_OWN = "What there is to spend"
"""The accessible name of the one label whose markup the program writes itself."""


@pytest.fixture
def window(opener: Opener, tmp_path: Path) -> Window:
    """A window on a drawing whose every text asks for a picture from the reader's disk."""
    picture = QPixmap(40, 40)
    picture.fill(QColor("#ff00ff"))
    assert picture.save(str(tmp_path / "picture.png"))
    text = RICH.read_text("utf-8").replace("/PATH/TO/A/PICTURE.png", str(tmp_path / "picture.png"))
    path = tmp_path / "rich.toml"
    path.write_text(text, encoding="utf-8")
    return opener(path)


def states(window: Window, alternatives: bool) -> Iterator[str]:
    """Every part and tab, one after the other; of every alternative too, if that is asked for."""
    document = window.document
    for alternative in ("", *(document.alternatives if alternatives else ())):
        document.show_alternative(alternative)
        layout = document.layout
        for part in ("", *layout.reservoirs, *layout.intakes, *layout.fittings, *layout.pumps, *layout.runs):
            document.select(part)
            window.workspace.views["card"].refresh()
            yield f"{alternative}: {part}"
        for tab in TABS:
            window.workspace.show_tab(tab)
            yield f"{alternative}: {tab}"


def indexes(model: QAbstractItemModel, parent: QModelIndex) -> Iterator[QModelIndex]:
    for row in range(model.rowCount(parent)):
        for column in count():  # a list's own number of columns is private
            index = model.index(row, column, parent)
            if not index.isValid():
                break
            yield index
            if column == 0 and not isinstance(model, QAbstractListModel):
                yield from indexes(model, index)


def tips(widget: QWidget) -> Iterator[str]:
    for each in (widget, *widget.findChildren(QWidget)):
        yield each.toolTip()
        if isinstance(each, QAbstractItemView) and each.model() is not None:
            for index in indexes(each.model(), QModelIndex()):
                yield str(index.data(Qt.ItemDataRole.ToolTipRole) or "")


def check(widget: QWidget) -> None:
    for label in (*widget.findChildren(QLabel), *([widget] if isinstance(widget, QLabel) else [])):
        if label.accessibleName() != OUR_OWN:
            assert label.textFormat() == Qt.TextFormat.PlainText, label.text()
        assert "<img" not in label.text() or label.textFormat() == Qt.TextFormat.PlainText
    for page in widget.findChildren(QTextBrowser):
        assert "<img" not in page.toHtml()
    for tip in tips(widget):
        assert "<img" not in tip, tip
        assert "<h1>" not in tip, tip


@pytest.mark.thorough
@pytest.mark.parametrize("alternatives", first([False, True]))
def test_no_label_or_tip_holds_the_picture_and_no_pixel_of_it_is_painted(
    window: Window, alternatives: bool
) -> None:
    wanted = QColor("#ff00ff").rgb()
    seen = 0
    for _ in states(window, alternatives):
        check(window)
        image = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
        pixels = np.frombuffer(image.constBits(), np.uint32)
        assert wanted not in pixels[::7]
        seen += 1
    assert seen > 10


def test_the_box_that_asks_and_the_bar_that_speaks(window: Window) -> None:
    boxes = []

    def look() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        boxes.append((box.textFormat(), box.text()))
        box.button(QMessageBox.StandardButton.Cancel).click()

    document = window.document
    document.add_alternative("<img src='x'>")
    QTimer.singleShot(50, look)
    assert not window.files.may_leave()
    assert boxes[0][0] == Qt.TextFormat.PlainText
    assert "<img" in boxes[0][1]
    window.notice.show_message(f"{document.layout.title}", severity="stop")
    check(window)


@pytest.mark.thorough
def test_every_box_that_the_cases_ask_with(window: Window) -> None:
    """The names of parts stand in what they ask."""
    window.workspace.show_tab("cases")
    card, document = window.workspace.views["cases"].card, window.document
    asked: list[str] = []

    def look() -> None:
        box = QApplication.activeModalWidget()
        assert box is not None
        check(box)
        asked.extend(label.text() for label in box.findChildren(QLabel))
        box.reject()

    def ask(does: Callable[[], object]) -> None:
        before = len(asked)
        QTimer.singleShot(0, window, look)
        does()
        assert len(asked) > before

    ask(card.new)
    case_making.add(document, "<img src='x'>", {"fluid": {"temperature": "30 degC"}})
    ask(card.rename)
    for place in range(1, card.more.count()):
        ask(partial(card.more.activated.emit, place))
    for each in proposals(document.layout):
        if each.asked:
            ask(partial(card.add_proposal, each))
    assert any("<img" in text for text in asked)


def test_the_dialog_of_the_sheet(window: Window, qtbot: QtBot) -> None:
    dialog = SheetChoice(window.document, SheetWish(), window)
    qtbot.addWidget(dialog)
    check(dialog)
