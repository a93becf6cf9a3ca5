"""What the menu does with the sheet: its preview, a comparison with another file, the parts list."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from PySide6.QtPrintSupport import QPrintPreviewDialog
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from sketch.model.document import Document
from sketch.page.sheet_parts import SheetWish
from sketch.window.files import Files
from sketch.window.notice import Notice
from sketch.window.sheet_choice import SheetChoice
from sketch.window.sheets import Sheets
from tests.drawings import BENT

PRESS = Path(__file__).parents[3] / "layouts" / "winter-press.toml"


@pytest.fixture
def sheets(qtbot, qapp: QApplication) -> Sheets:
    window = QWidget()
    qtbot.addWidget(window)
    document = Document(window, keeps=False)
    document.open(PRESS)
    notice = Notice()
    qtbot.addWidget(notice)
    Sheets_result = Sheets(window, document, Files(window, document, notice), notice)
    Sheets_result.shown_notice = notice
    return Sheets_result


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The titles of the previews that were opened."""
    titles: list[str] = []
    monkeypatch.setattr(QPrintPreviewDialog, "exec", lambda dialog: titles.append(dialog.windowTitle()))
    return titles


def test_the_preview_shows_what_was_asked_for(sheets: Sheets, shown: list, monkeypatch) -> None:
    def agree(choice: SheetChoice) -> SheetChoice.DialogCode:
        choice.first_alone.setChecked(True)
        return SheetChoice.DialogCode.Accepted

    monkeypatch.setattr(SheetChoice, "exec", agree)
    sheets.show_preview()
    assert shown == ["The sheet before it is printed"]


@pytest.mark.thorough
def test_another_file_is_compared_and_stays_in_the_next_wish(
    sheets: Sheets, shown: list, monkeypatch, riser: Path, tmp_path: Path
) -> None:
    other = tmp_path / "rev-b.toml"
    other.write_text(BENT, "utf-8")
    sheets._document.open(riser)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(other), ""))
    sheets.compare()
    assert len(shown) == 1
    wish = sheets._files.sheet_wish
    assert wish == SheetWish(other=other)
    choice = SheetChoice(sheets._document, wish)
    assert choice.other.text() == "rev-b.toml"
    assert choice.wish().other == other


def test_a_file_that_is_no_drawing_is_said_and_nothing_is_shown(
    sheets: Sheets, shown: list, monkeypatch, tmp_path: Path
) -> None:
    other = tmp_path / "odd.toml"
    other.write_text("format = 9", "utf-8")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(other), ""))
    sheets.compare()
    assert not shown
    assert "odd.toml" in sheets.shown_notice.text


def test_the_parts_list_is_a_table(sheets: Sheets, tmp_path: Path, monkeypatch) -> None:
    target = tmp_path / "parts"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), "CSV (*.csv)"))
    sheets.write_parts()
    rows = list(csv.DictReader(target.with_suffix(".csv").read_text("utf-8").splitlines()))
    assert {row["item"].partition(",")[0] for row in rows} >= {"rubber hose", "strainer", "gear pump"}
    assert {row["alternative"] for row in rows} == {"", *sheets._document.alternatives}
    assert not sheets.write_parts_to(tmp_path / "no folder" / "parts.csv")
    assert "not written" in sheets.shown_notice.text
