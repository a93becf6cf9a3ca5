"""What a drawing says is shown as it stands."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.look.label import Label


def test_markup_is_shown_and_never_followed(qtbot: QtBot) -> None:
    typed = '<img src="file:///etc/hostname"><b>oil</b>'
    label, short = Label(typed), Label("oil")
    qtbot.addWidget(label)
    qtbot.addWidget(short)
    assert label.text() == typed
    assert label.textFormat() is Qt.TextFormat.PlainText
    assert label.sizeHint().width() > 4 * short.sizeHint().width(), "every sign takes its room"


def test_a_text_that_is_set_later_is_plain_too(qtbot: QtBot) -> None:
    label = Label()
    qtbot.addWidget(label)
    label.setText("<i>x</i>")
    assert label.grab().toImage() != Label("x").grab().toImage()
    assert label.textFormat() is Qt.TextFormat.PlainText
