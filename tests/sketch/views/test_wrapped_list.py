"""Rows of sentences: as high as they wrap, and wrapped anew in another type."""

from __future__ import annotations

from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from sketch.views.wrapped_list import WrappedList

TEXT = (
    "A sentence that is long enough for two lines where there is little room, and for one where there is much"
)


def test_a_text_is_higher_where_there_is_less_room_and_wider_in_bold(qtbot: QtBot) -> None:
    listed = WrappedList("Sentences")
    qtbot.addWidget(listed)
    one = listed.height_of("Word", 400)
    assert listed.height_of(TEXT, 5000) == one < listed.height_of(TEXT, 200)
    assert listed.height_of(TEXT, 200, bold=True) >= listed.height_of(TEXT, 200)
    assert listed.accessibleName() == "Sentences"


def test_another_type_is_wrapped_anew(qtbot: QtBot) -> None:
    listed = WrappedList("Sentences")
    qtbot.addWidget(listed)
    before, font = listed.height_of(TEXT, 200), listed.font()
    font.setPointSize(2 * max(font.pointSize(), 8))
    listed.setFont(font)
    assert listed.bold.pointSize() == font.pointSize()
    assert listed.bold.bold()
    assert listed.height_of(TEXT, 200) > before


def test_a_text_is_written_in_its_colour(qtbot: QtBot) -> None:
    listed = WrappedList("Sentences")
    qtbot.addWidget(listed)
    image = QImage(60, 30, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    listed.write(painter, QRect(0, 0, 60, 30), "MM", QColor("red"), bold=True)
    painter.end()
    inked = {image.pixelColor(x, y).green() for x in range(60) for y in range(30)}
    assert min(inked) < 100
