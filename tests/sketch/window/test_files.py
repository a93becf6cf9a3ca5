"""Files opened and written from the window."""

from __future__ import annotations

import dataclasses
import os
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox, QPushButton
from pytestqt.qtbot import QtBot

from sketch.model import storage
from sketch.strip.whatif import WhatIfStrip
from tests.sketch.card.cards import type_in
from tests.sketch.window.windows import CARRIAGE, CONTROL, Opener, raise_port
from tests.thorough import first, one_in

ONE_WINDOW = True


def answer_next(button: QMessageBox.StandardButton) -> None:
    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        box.button(button).click()

    QTimer.singleShot(50, press)


BAD = {
    "not TOML": "format = [",
    "unknown key": 'format = 1\ntitle = "x"\ncolour = "red"\n',
    "a binary file": "\x00\x01\x02",
}


@pytest.mark.parametrize("text", first(BAD.values()), ids=BAD.keys())
def test_a_bad_file_is_refused_with_its_errors_and_the_drawing_stays(
    opener: Opener, tmp_path: Path, text: str
) -> None:
    window = opener()
    held, path = window.document.layout, tmp_path / "bad.toml"
    path.write_text(text, "utf-8")
    assert not window.files.open(path)
    assert window.document.layout is held
    assert "bad.toml was not opened" in window.notice.text
    assert "untouched" in window.notice.text
    assert window.notice.rows()


def test_every_error_of_a_file_is_listed_with_line_and_key(opener: Opener, tmp_path: Path) -> None:
    window = opener()
    path = tmp_path / "wrong.toml"
    text = CARRIAGE.read_text("utf-8")
    path.write_text(text.replace('"45 degC"', '"45 m"').replace('"1450 rpm"', '"nan rpm"'), "utf-8")
    assert not window.files.open(path)
    rows = window.notice.rows()
    lines = path.read_text("utf-8").splitlines()
    assert {row[1] for row in rows} >= {"fluid.temperature", "pumps.carriage.speed"}
    for line, key, found, allowed in rows:
        assert key.rpartition(".")[2] in lines[int(line) - 1]
        assert found
        assert allowed


@pytest.mark.parametrize("kind", ["directory", "missing", "forbidden"])
def test_what_is_no_readable_file_is_refused(opener: Opener, tmp_path: Path, kind: str) -> None:
    path = tmp_path / "there"
    if kind == "directory":
        path.mkdir()
    elif kind == "forbidden":
        path.write_text("format = 1", "utf-8")
        path.chmod(0)
        if os.access(path, os.R_OK):
            pytest.skip("this user may read everything")
    window = opener()
    held = window.document.layout
    assert not window.files.open(path)
    assert window.document.layout is held
    assert "was not opened" in window.notice.text


@pytest.mark.thorough
def test_a_mended_file_opens_on_another_try(qtbot: QtBot, opener: Opener, tmp_path: Path) -> None:
    window, path = opener(None), tmp_path / "mended.toml"
    path.write_text("format = [", "utf-8")
    assert not window.files.open(path)
    assert "untouched" not in window.notice.text
    path.write_text(CARRIAGE.read_text("utf-8"), "utf-8")
    again = next(b for b in window.notice.findChildren(QPushButton) if b.text() == "Try again")
    qtbot.mouseClick(again, Qt.MouseButton.LeftButton)
    assert window.document.path == path
    assert window.notice.text == ""


def test_saving_keeps_the_file_and_clears_the_mark(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    assert window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL)
    assert not window.isWindowModified()
    assert "# stands on six-inch legs; y = 0 is the mill floor" in copy.read_text("utf-8")
    again = opener(copy)
    assert again.document.layout.pumps == window.document.layout.pumps


def test_save_as_asks_for_a_name_and_adds_the_ending(
    opener: Opener, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener(copy)
    wanted = copy.parent / "other"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(wanted), ""))
    assert window.files.save_as()
    assert window.document.path == wanted.with_suffix(".toml")
    assert storage.recent_files()[0] == wanted.with_suffix(".toml").resolve()
    assert wanted.with_suffix(".toml").read_text("utf-8") == CARRIAGE.read_text("utf-8")


def test_a_save_that_fails_is_told_and_offers_another_name(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    assert not window.files._save(copy.parent / "nowhere" / "drawing.toml")
    assert "unchanged" in window.notice.text
    assert window.isWindowModified()


@pytest.mark.parametrize(
    ("button", "closed", "saved"),
    one_in(
        3,
        [
            (QMessageBox.StandardButton.Save, True, True),
            (QMessageBox.StandardButton.Cancel, False, False),
            (QMessageBox.StandardButton.Discard, True, False),
        ],
        several=True,
    ),
)
def test_unsaved_changes_are_asked_about(
    opener: Opener, copy: Path, button: QMessageBox.StandardButton, closed: bool, saved: bool
) -> None:
    window = opener(copy)
    raise_port(window)
    answer_next(button)
    assert window.close() is closed
    assert (copy.read_text("utf-8") != CARRIAGE.read_text("utf-8")) is saved


def test_a_drawing_without_changes_closes_unasked(opener: Opener) -> None:
    assert opener().close()


def test_a_file_dropped_on_the_window_opens(opener: Opener, copy: Path) -> None:
    window = opener(None)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(copy))])
    event = QDropEvent(
        QPointF(50, 50),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    assert window.document.path == copy


def test_recent_drawings_stand_in_the_menu(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    menu = window.actions_by_name.menu("File/Open recent")
    menu.aboutToShow.emit()
    assert menu.actions()[0].text() == copy.name
    assert storage.recent_files()[0] == copy.resolve()


def test_a_change_by_another_program_is_told(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    text = copy.read_text("utf-8").replace('title = "Log', 'title = "Lumber')
    copy.write_text(text, "utf-8")
    qtbot.waitUntil(lambda: "Another program" in window.notice.text, timeout=3000)
    again = next(b for b in window.notice.findChildren(QPushButton) if b.text() == "Read it again")
    qtbot.mouseClick(again, Qt.MouseButton.LeftButton)
    assert window.windowTitle().startswith("Lumber")


def test_what_the_last_session_left_unsaved_is_offered(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    moved = window.document.layout.pumps["carriage"].at
    window.document.file.keep()
    window.document.file._autosave.recovery.release()  # as when its process is gone
    again = opener(copy)
    assert "earlier session" in again.notice.text
    take = next(b for b in again.notice.findChildren(QPushButton) if b.text().startswith("Take up "))
    qtbot.mouseClick(take, Qt.MouseButton.LeftButton)
    assert again.document.layout.pumps["carriage"].at == moved
    assert again.isWindowModified()


@pytest.mark.parametrize("ending", first([".txt", ".csv", ".json"]))
def test_the_ledger_is_written_from_the_menu(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str
) -> None:
    from sketch.window.exports import ledger_text
    from sketch.window.files import LEDGERS

    window = opener()
    chosen = next(each for each in LEDGERS.split(";;") if f"*{ending}" in each)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "ledger"), chosen))
    window.actions_by_name["ledger file"].trigger()
    written = (tmp_path / f"ledger{ending}").read_text("utf-8")
    assert written == ledger_text(window.document, ending)
    assert not window.files.write_ledger_to(tmp_path / "nowhere" / "ledger.txt")
    assert "not written" in window.notice.text


def test_the_calculation_is_written_from_the_menu(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sketch.window.exports import page_writer

    window = opener()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "carriage"), ""))
    window.actions_by_name["calculation file"].trigger()
    written = (tmp_path / "carriage.html").read_text("utf-8")
    assert written == page_writer(window.document)()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    window.actions_by_name["calculation file"].trigger()
    assert [path.name for path in tmp_path.glob("*.html")] == ["carriage.html"]
    assert not window.files.write_calculation_to(tmp_path / "nowhere" / "carriage.html")
    assert "The calculation was not written" in window.notice.text


def test_there_is_no_calculation_to_write_while_the_drawing_is_refused(
    opener: Opener, tmp_path: Path
) -> None:
    window = opener()
    layout = window.document.layout
    window.document.apply("Unjoin", dataclasses.replace(layout, runs={}))
    assert window.document.solution is None
    assert not window.actions_by_name["calculation file"].isEnabled()
    assert not window.files.write_calculation_to(tmp_path / "carriage.html")
    assert "nothing is calculated" in window.notice.text
    assert not (tmp_path / "carriage.html").exists()


def test_the_ledger_is_copied_and_the_window_pictured(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    window.actions_by_name["copy ledger"].trigger()
    assert "Over by" in QApplication.clipboard().text()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "window"), ""))
    window.actions_by_name["picture"].trigger()
    assert (tmp_path / "window.png").stat().st_size > 10_000


def outside(copy: Path) -> None:
    copy.write_text(copy.read_text(encoding="utf-8").replace("1450 rpm", "1400 rpm"), encoding="utf-8")


@pytest.mark.thorough
@pytest.mark.parametrize(
    ("button", "saved"),
    one_in(
        2, [(QMessageBox.StandardButton.Cancel, False), (QMessageBox.StandardButton.Save, True)], several=True
    ),
)
def test_what_another_program_has_saved_is_not_written_over_unasked(
    qtbot: QtBot, opener: Opener, copy: Path, button: QMessageBox.StandardButton, saved: bool
) -> None:
    window = opener(copy)
    document = window.document
    raise_port(window)
    with qtbot.waitSignal(document.file.changed_outside, timeout=3000):
        outside(copy)
    assert "Another program" in window.notice.text
    answer_next(button)
    assert window.files.save() is saved
    assert document.clean is saved
    assert ("1400 rpm" in copy.read_text(encoding="utf-8")) is not saved
    assert ("Another program" in window.notice.text) is not saved


def test_saving_says_which_text_is_not_in_the_file(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    heard: list[str] = []
    window.files.message.connect(heard.append)
    field = window.workspace.whatif.turners["Strainer blocked"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "120 %")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.files.save()
    assert heard[-1].endswith(', without what was not accepted: "120 %" in Strainer blocked')
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert window.files.save()
    assert heard[-1] == f"Saved {copy.name}"


def test_saving_names_what_the_part_card_keeps_of_a_part(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    heard: list[str] = []
    window.files.message.connect(heard.append)
    card = window.workspace.card
    window.document.select("carriage")
    window.workspace.show_tab("card")
    type_in(qtbot, card, "speed", "fast")
    window.document.select("riser")
    assert window.files.save()
    assert heard[-1].endswith(', without what was not accepted: "fast" in Speed of carriage')


def test_own_saves_ask_nothing(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    for _ in range(2):
        raise_port(window)
        assert window.files.save()
    assert window.document.clean


@pytest.mark.thorough
def test_what_was_discarded_is_not_offered_again(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    window.document.file.keep()
    answer_next(QMessageBox.StandardButton.Discard)
    assert window.files.open(CARRIAGE)
    assert window.files.open(copy)
    assert window.notice.text == ""
    assert window.document.file.recoveries == ()


@pytest.mark.thorough
def test_a_second_window_on_one_file_says_so_and_leaves_the_first_alone(opener: Opener, copy: Path) -> None:
    first, second = opener(copy), opener(copy, own=True)
    assert "open in another window" in second.notice.text
    assert second.document.path is None
    assert not second.files._save(copy)
    assert "open in another window" in second.notice.text
    assert first.document.path == copy


def test_a_path_that_is_no_utf8_opens_and_says_why_it_is_not_written(opener: Opener, tmp_path: Path) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.toml"))
    path.write_bytes(CARRIAGE.read_bytes())
    window = opener(path)
    assert window.document.path == path
    raise_port(window)
    window.document.file.keep()
    assert not window.files.save()
    assert "UTF-8" in window.notice.text
    assert path.read_bytes() == CARRIAGE.read_bytes()
    window.actions_by_name.menu("File/Open recent").aboutToShow.emit()
    assert window.files.may_leave is not None
    window.sync()


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Cement mill, lube unit 2", "cement-mill-lube-unit-2.toml"),
        ("New drawing", "drawing.toml"),
        ("../..", "drawing.toml"),
        ("", "drawing.toml"),
        ("Größe " * 40, f"{'-'.join(['größe'] * 10)}.toml"),
    ],
)
def test_a_file_is_offered_under_the_title_of_its_drawing(title: str, name: str) -> None:
    from sketch.window.files import name_for

    assert name_for(title) == name


def test_a_drawing_without_a_title_is_called_by_its_file_once_it_has_one(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    window.begin()
    assert window.windowTitle().startswith("New drawing")
    back = window.findChildren(WhatIfStrip)[0].turners["Port height"].back
    assert "the value it began with" in back.toolTip()
    path = str(tmp_path / "press line.toml")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *given: (path, ""))
    window.actions_by_name["save as"].trigger()
    assert "the saved value" in back.toolTip()
    assert window.windowTitle().startswith("press line.toml[*]")
