"""File > Write card for the machine: asks for a name, writes, and says why it did not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from sketch.window import page_file
from tests.sketch.window.windows import CONTROL, Opener

ONE_WINDOW = True


def test_by_its_key_to_a_file_and_a_notice_where_it_cannot(
    qtbot: QtBot, opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    asked: list[str] = []

    def name(parent: object, title: str, start: str, kinds: str) -> tuple[str, str]:
        asked.append(start)
        return str(tmp_path / "card"), "PDF (*.pdf)"

    monkeypatch.setattr(QFileDialog, "getSaveFileName", name)
    qtbot.keyClick(window, Qt.Key.Key_K, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    assert asked[0].endswith("carriage-at-altitude card.pdf")
    assert "Wrote card.pdf" in window.statusBar().currentMessage()
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda *given: (str(tmp_path / "no" / "card.pdf"), "")
    )
    window.write_page_file(page_file.CARD)
    assert "The card was not written" in window.notice.text
