from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch import startup
from sketch.window.welcome import PATH, STAMP, ExamplePicture, Welcome, examples, first_sentence


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("One. Two.", "One."),
        ("At 1.5 m it howls! Then not.", "At 1.5 m it howls!"),
        ("\nA line\nthat goes on. Next.", "A line that goes on."),
        ("no stop", "no stop"),
        ("", ""),
    ],
)
def test_the_first_sentence_tells_the_story(text: str, first: str) -> None:
    assert first_sentence(text) == first


def test_every_shipped_drawing_has_a_title_and_a_story() -> None:
    example_files = examples(startup.examples_folder())
    assert len(example_files) >= 7
    assert all(example.title and example.story for example in example_files)


def test_what_cannot_be_read_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text('title = "Good"', "utf-8")
    (tmp_path / "b.toml").write_text("title = [", "utf-8")
    (tmp_path / "c.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "d.txt").write_text('title = "Other"', "utf-8")
    assert [example.title for example in examples(tmp_path)] == ["Good"]
    assert examples(None) == []


@pytest.mark.thorough
def test_every_example_gets_its_picture_once_the_page_is_seen(qtbot: QtBot) -> None:
    opened: list[Path] = []
    listed = examples(startup.examples_folder())
    page = Welcome(listed, [], opened.append, lambda: None, QWidget())
    qtbot.addWidget(page)
    page.resize(900, 700)
    items = [page.list.item(row) for row in range(page.list.count())]
    stamps = [item.data(STAMP) for item in items if item.data(PATH) is not None]
    assert len(stamps) == len(listed)
    assert not any(stamp.ready for stamp in stamps)
    with qtbot.waitExposed(page):
        page.show()
    qtbot.waitUntil(lambda: all(stamp.ready for stamp in stamps), timeout=20000)
    item = items[1]
    place = page.list.visualItemRect(item).center()
    qtbot.mouseClick(page.list.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert opened == [item.data(PATH)]


def test_what_was_opened_lately_comes_before_the_examples(qtbot: QtBot, tmp_path: Path) -> None:
    listed = examples(startup.examples_folder())
    own = tmp_path / "press.toml"
    page = Welcome(listed, [own, listed[0].path.resolve()], lambda path: None, lambda: None, QWidget())
    qtbot.addWidget(page)
    paths = [page.list.item(row).data(PATH) for row in range(page.list.count())]
    assert paths == [None, own, None, *(example.path for example in listed)]  # None: a heading


def test_the_list_of_a_tall_window_ends_with_its_last_drawing(qtbot: QtBot) -> None:
    page = Welcome(examples(startup.examples_folder()), [], lambda path: None, lambda: None, QWidget())
    qtbot.addWidget(page)
    page.resize(1200, 1800)
    page.grab()
    last = page.list.visualItemRect(page.list.item(page.list.count() - 1))
    assert 0 <= page.list.viewport().height() - 1 - last.bottom() <= 2


def test_an_example_that_does_not_read_has_none(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text('title = "Good"', "utf-8")
    stamp = ExamplePicture()
    stamp.read(tmp_path / "a.toml")
    assert not stamp.ready
