"""The title block is filled in on a card, kept as one undo step, and refused as a file would refuse it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication

from sketch.model.document import Document
from sketch.window.title_dialog import TitleDialog, ask_for_title_block, logos_in_folder
from solver.layout import file
from solver.layout.title_block import Revision, TitleBlock

PRESS = Path(__file__).parents[3] / "layouts" / "winter-press.toml"
BLOCK = TitleBlock(
    client="Upper Farm", revision="B", revisions=(Revision("A", "2026-01-10", "first | issue"),),
    company=("Hill Hydraulics", "1 Some Lane"), logo="gone.svg",
)  # fmt: skip


@pytest.fixture
def document(qapp: QApplication, tmp_path: Path) -> Document:
    path = tmp_path / "press.toml"
    path.write_bytes(PRESS.read_bytes())
    document = Document(qapp, keeps=False)
    document.open(path)
    return document


def test_it_gives_back_what_it_was_given(qtbot) -> None:
    dialog = TitleDialog(BLOCK, ("logo.png",))
    qtbot.addWidget(dialog)
    assert dialog.block() == BLOCK


def test_what_is_typed_is_one_step_that_alternatives_have_too_and_is_saved(
    qtbot, document: Document, tmp_path: Path
) -> None:
    (tmp_path / "logo.png").write_bytes(b"")

    def type_and_accept() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, TitleDialog)
        qtbot.keyClicks(dialog.lines["client"], "Upper Farm")
        qtbot.keyClicks(dialog.lines["date"], "2026-03-31")
        qtbot.keyClicks(dialog.revisions, "A | 2026-01-10 | first issue")
        qtbot.keyClick(dialog.logo, Qt.Key.Key_End)
        qtbot.keyClick(dialog.lines["client"], Qt.Key.Key_Return)

    document.show_alternative("Tank heater to 10 °C")
    QTimer.singleShot(0, type_and_accept)
    assert ask_for_title_block(None, document)
    wanted = TitleBlock(
        client="Upper Farm", date="2026-03-31", logo="logo.png",
        revisions=(Revision("A", "2026-01-10", "first issue"),),
    )  # fmt: skip
    assert document.layout.title_block == document.drawing.base.title_block == wanted
    assert file.parse(file.write(document.drawing)).base.title_block == wanted
    document.undo_stack.undo()
    assert document.layout.title_block == TitleBlock()


def test_what_a_file_would_refuse_is_said_and_the_card_stays(qtbot) -> None:
    dialog = TitleDialog(TitleBlock(client="kept"), ())
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.keyClicks(dialog.lines["date"], "soon")
    dialog.accept()
    assert dialog.isVisible()
    assert 'date: "soon"' in dialog.trouble.text()
    assert dialog.lines["client"].text() == "kept"


def test_pictures_beside_the_drawing_are_offered(tmp_path: Path) -> None:
    for name in ("b.svg", "a.PNG", "c.txt"):
        (tmp_path / name).write_bytes(b"")
    assert logos_in_folder(tmp_path / "press.toml") == ("a.PNG", "b.svg")
    assert logos_in_folder(None) == ()
    assert logos_in_folder(tmp_path / "none" / "press.toml") == ()
