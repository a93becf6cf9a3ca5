"""The open drawing's file: read, written, kept whole."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model import disk
from sketch.model.disk import SaveError
from sketch.model.document import Document
from tests.sketch.model.documents import ShortDisk, height, raised

from ..conftest import RISER


def test_save_without_a_change_writes_the_same_bytes(document: Document, riser: Path) -> None:
    document.save()
    assert riser.read_text(encoding="utf-8") == RISER


def test_save_keeps_comments_and_typed_text_and_changes_one_line(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.save()
    expected = RISER.replace('["0.6 m", "1.00 m"]', '["0.6 m", "1.25 m"]')
    assert riser.read_text(encoding="utf-8") == expected
    assert document.clean
    again = Document()
    again.open(riser)
    assert again.layout == document.layout


def test_save_as_moves_on_to_the_new_file(document: Document, riser: Path, tmp_path: Path) -> None:
    raised(document, 1.25)
    other = tmp_path / "other.toml"
    document.save(other)
    assert document.path == other
    assert riser.read_text(encoding="utf-8") == RISER


def test_saved_layout_is_what_the_file_holds(document: Document) -> None:
    before = document.ledger
    raised(document, 1.25)
    assert document.saved_layout.pumps["carriage"].at[1].si == 1.0
    assert document.saved_outcome.ledger(document.pump).margin == before.margin
    document.save()
    assert document.saved_outcome.ledger(document.pump).margin == document.ledger.margin


def test_base_and_alternative_are_both_as_they_were_after_saving(document: Document, riser: Path) -> None:
    document.apply("Warm", edits.set_temperature(document.layout, 333.15))
    document.show_alternative("Half speed")
    raised(document, 1.3)
    document.save()
    again = Document()
    again.open(riser)
    assert height(again) == 1.0
    assert again.layout.fluid.temperature.text == "60 degC"
    again.show_alternative("Half speed")
    assert again.layout == document.layout
    assert height(again) == 1.3
    assert again.layout.fluid.temperature.text == "60 degC"
    text = riser.read_text(encoding="utf-8")
    assert text.count("60 degC") == 1
    assert "# warm" in text


@pytest.mark.parametrize("fail", ["open", "write", "commit"])
def test_each_way_a_save_can_fail_is_told_and_the_drawing_stays_unsaved(
    document: Document, riser: Path, monkeypatch: pytest.MonkeyPatch, fail: str
) -> None:
    raised(document, 1.25)
    monkeypatch.setattr(disk, "QSaveFile", lambda name: ShortDisk(name, fail))
    with pytest.raises(SaveError, match="No space left"):
        document.save()
    assert not document.clean
    assert riser.read_text(encoding="utf-8") == RISER


def test_save_into_a_missing_folder_is_refused(document: Document, tmp_path: Path, riser: Path) -> None:
    with pytest.raises(SaveError, match="unchanged"):
        document.save(tmp_path / "none" / "x.toml")
    assert document.path == riser


def test_save_of_a_drawing_without_a_file_asks_for_one(qtbot: QtBot) -> None:
    with pytest.raises(ValueError, match="no file"):
        Document().save()
