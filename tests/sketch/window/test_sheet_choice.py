"""What is asked before a sheet is written."""

from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from sketch.model.document import Document
from sketch.page.sheet_parts import SheetWish
from sketch.window.sheet_choice import EVERY, NOTHING, SheetChoice
from sketch.window.sheet_writing import options_of
from tests.sketch.sheets import words

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def document(qapp: QApplication) -> Document:
    document = Document(qapp, keeps=False)
    document.open(CARRIAGE)
    return document


def test_it_begins_with_the_last_wish_and_gives_it_back(qtbot, document: Document) -> None:
    last = SheetWish("Letter", True, ("Pump beside the tank",), parts=frozenset(["working"]), pages=1)
    choice = SheetChoice(document, last)
    qtbot.addWidget(choice)
    assert choice.wish() == last


def test_keys_choose_paper_comparison_and_working(qtbot, document: Document) -> None:
    choice = SheetChoice(document, SheetWish(compare=()))
    qtbot.addWidget(choice)
    assert choice.compare.currentText() == NOTHING
    qtbot.keyClick(choice.paper, Qt.Key.Key_Home)
    qtbot.keyClick(choice.compare, Qt.Key.Key_End)
    qtbot.keyClick(choice.parts["working"], Qt.Key.Key_Space)
    assert choice.compare.currentText() == EVERY
    assert choice.wish() == SheetWish(
        "A4", compare=tuple(document.alternatives), parts=frozenset(["working"])
    )


def test_unless_chosen_it_compares_with_every_alternative_of_the_drawing_in_view(
    qtbot, document: Document
) -> None:
    choice = SheetChoice(document, SheetWish())
    qtbot.addWidget(choice)
    assert choice.compare.currentText() == EVERY
    document.show_alternative(document.alternatives[0])
    of_alternative = SheetChoice(document, SheetWish())
    qtbot.addWidget(of_alternative)
    assert of_alternative.compare.currentText() == document.alternative
    qtbot.keyClick(of_alternative.compare, Qt.Key.Key_Home)
    assert of_alternative.compare.currentText() == NOTHING
    assert [each.name for each in options_of(document, of_alternative.wish())] == [document.alternative]


def test_a_name_that_is_gone_is_no_wish(qtbot, document: Document) -> None:
    choice = SheetChoice(document, SheetWish(compare=("taken away",)))
    qtbot.addWidget(choice)
    assert choice.wish().compare == ()


@pytest.mark.parametrize(("name", "paper"), [("carriage-at-altitude", "Letter"), ("wash-water-npsh", "A4")])
def test_the_paper_is_the_usual_one_of_the_drawing(qtbot, name: str, paper: str) -> None:
    document = Document(keeps=False)
    document.open(CARRIAGE.with_name(f"{name}.toml"))
    choice = SheetChoice(document, SheetWish())
    qtbot.addWidget(choice)
    assert choice.wish().paper == paper


def test_the_menu_writes_what_was_asked_for(qtbot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sketch.look.appearance import ThemeChoice
    from sketch.run import application, make_window

    window = make_window(application(), None, ThemeChoice("light"), keeps=False)
    qtbot.addWidget(window)
    window.document.open(CARRIAGE)
    target = tmp_path / "page"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), "PDF (*.pdf)"))

    def agree(choice: SheetChoice) -> SheetChoice.DialogCode:
        choice.paper.setCurrentText("Letter")
        choice.compare.setCurrentText("Pump beside the tank")
        choice.first_alone.setChecked(True)
        return SheetChoice.DialogCode.Accepted

    monkeypatch.setattr(SheetChoice, "exec", agree)
    window.files.write_sheet()
    text = words(target.with_suffix(".pdf"))
    assert float(pypdf.PdfReader(target.with_suffix(".pdf")).pages[0].mediabox.width) == pytest.approx(
        792, abs=2
    )
    assert "What changes: Pump beside the tank" in text
    assert "Page 1 of 1" in text
