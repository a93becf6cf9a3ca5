"""The list of the card: all that it can show, and what of it is chosen."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from sketch.card.card_subject import THE_WHOLE, CardSubject
from sketch.card.part_picker import PartPicker
from sketch.editing import remarks
from sketch.editing.remarks import TEXT, Remark
from tests.drawings import drawing, run


def test_it_offers_the_drawing_its_parts_and_its_texts(qtbot: QtBot) -> None:
    layout = remarks.add_text(drawing(run("riser", "strainer", "pump")), 0.5, 0.5, "by others")
    picker = PartPicker()
    qtbot.addWidget(picker)
    for subject, named, picked in (
        (CardSubject(), THE_WHOLE, ("", None)),
        (CardSubject(("pump",)), "pump", ("pump", None)),
        (CardSubject((), Remark(TEXT, 0)), "by others", ("", Remark(TEXT, 0))),
    ):
        picker.show_subject(layout, subject)
        assert named in picker.currentText()
        assert picker.picked(picker.currentIndex()) == picked
    picker.show_subject(layout, CardSubject(("pump", "riser")))
    assert (picker.currentIndex(), picker.placeholderText()) == (-1, "2 parts")
