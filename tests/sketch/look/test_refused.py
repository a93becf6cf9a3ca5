"""Text that was not accepted is known of by the window that it stands in."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.refused import KeepsRefused, is_refused, mark, refused_texts


def test_what_was_not_accepted_is_listed_until_it_is(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    field, other = QLineEdit("3 x", window), QLineEdit("4 m", window)
    field.setAccessibleName("Distance")
    assert refused_texts(window) == ()
    mark(field, True)
    assert is_refused(field)
    assert not is_refused(other)
    assert refused_texts(window) == ('"3 x" in Distance',)
    mark(field, False)
    assert refused_texts(window) == ()


class Card(QWidget, KeepsRefused):
    def refused_texts(self) -> tuple[str, ...]:
        return ('"fast" in Speed of pump',)


def test_what_a_widget_keeps_itself_is_listed_too(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    card = Card(window)
    assert refused_texts(window) == card.refused_texts()
