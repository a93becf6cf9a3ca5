"""A widget as a picture for a file."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.look.screenshot import png_of


def test_a_widget_in_its_size_and_none_of_no_size(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.resize(40, 30)
    image = QImage.fromData(png_of(widget), "PNG")
    assert (image.width(), image.height()) == (40, 30)
    widget.resize(0, 0)
    with pytest.raises(ValueError, match="no picture"):
        png_of(widget)
