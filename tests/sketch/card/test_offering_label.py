"""What would be right is clicked in the sentence that says what is wrong."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from sketch.card.offering_label import OfferingLabel
from sketch.card.part_card import PartCard
from sketch.card.size_list import named_sizes
from tests.sketch.card.cards import show
from tests.sketch.shown import opened, shown


def test_what_is_typed_is_no_markup(qtbot: QtBot) -> None:
    label = OfferingLabel()
    qtbot.addWidget(label)
    label.show_text('<b>1</b> is no size, "NPS 1 schedule 40" is', ["NPS 1 schedule 40"])
    assert label.text() == '<b>1</b> is no size, "NPS 1 schedule 40" is'
    assert "&lt;b&gt;" in super(OfferingLabel, label).text()
    with qtbot.waitSignal(label.chosen) as taken:
        label.linkActivated.emit("0")
    assert taken.args == ["NPS 1 schedule 40"]


def test_a_diameter_of_no_list_is_refused_and_the_size_that_was_meant_is_clicked(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 260)
    show(qtbot, card, document, "riser")
    size = card.fields["size"]
    assert isinstance(size.edit, QComboBox)
    editor = size.edit.lineEdit()
    assert editor is not None
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, "41 mm")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    assert "come nearest" in size.trouble.text()
    qtbot.waitUntil(lambda: size.trouble.isVisible() and size.trouble.width() > 200)
    before, names = document.layout, named_sizes(size.trouble.text())
    lines = range(4, size.trouble.height(), 6)
    for place in (QPoint(x, y) for y in lines for x in range(2, size.trouble.width(), 12)):
        QTest.mouseClick(size.trouble, Qt.MouseButton.LeftButton, pos=place)
        if document.layout is not before:
            break
    assert document.layout.runs["riser"].size in names
    assert not card.pending
    assert not size.trouble.isVisible()
