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


@pytest.mark.parametrize(("ending", "begin"), [(".png", b"\x89PNG"), (".svg", b"<?xml")])
def test_the_drawing_alone_is_written_as_a_picture(
    qtbot: QtBot, opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str, begin: bytes
) -> None:
    window = opener()
    path = tmp_path / f"drawing{ending}"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *given: (str(path), ""))
    qtbot.keyClick(window, Qt.Key.Key_H, CONTROL | Qt.KeyboardModifier.AltModifier)
    assert path.read_bytes().startswith(begin)
    assert f"Wrote drawing{ending}" in window.statusBar().currentMessage()
    page_file.write_to(
        page_file.PICTURE, window.document, tmp_path / "d.gif", window.notice, lambda said: None
    )
    assert "as .png or .svg, not as .gif" in window.notice.text
