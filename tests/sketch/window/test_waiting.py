"""A disk that does not answer: the hand goes on meanwhile, is told what is waited for, and may give it up."""

from __future__ import annotations

import shutil
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.appearance import Choice
from sketch.model import disk
from sketch.model.disk import SaveError
from sketch.window.main_window import Window, make_window
from solver.layout import file
from tests.drawings import SHIPPED

LEFT = Qt.MouseButton.LeftButton
PART = "carriage"


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Window:
    window = make_window(qapp, None, Choice.LIGHT)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    source = next(path for path in SHIPPED if path.stem == "carriage-at-altitude")
    assert window.files.read(Path(shutil.copy(source, tmp_path / "carriage.toml")))
    with qtbot.waitExposed(window):
        window.show()
    return window


@pytest.fixture
def gone(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """A share that answers nothing until the event is set."""
    back, read, write = threading.Event(), disk.file.contents, disk._write
    monkeypatch.setattr(disk.file, "contents", lambda path: back.wait(30) and read(path))
    monkeypatch.setattr(disk, "_write", lambda path, *given: _late(back, write, path, *given))
    yield back
    back.set()


def _late(back: threading.Event, write: Callable[..., None], path: Path, *given: object) -> None:
    if path.name == "carriage.toml":
        back.wait(30)
    write(path, *given)


def meanwhile(window: Window, qtbot: QtBot, *acts: Callable[[], object]) -> list[object]:
    """Do things by the hand once the bar is seen, one after another; what they come to is listed."""
    came: list[object] = []

    def look() -> None:
        if window.files.waiting.isVisible():
            timer.stop()
            came.extend(act() for act in acts)

    timer = QTimer(window, interval=20)
    timer.timeout.connect(look)
    timer.start()
    return came


def lift(window: Window, qtbot: QtBot) -> None:
    """The pump one step up, by the arrow key."""
    window.document.select(PART)
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Up)


def cancel(window: Window, qtbot: QtBot) -> None:
    qtbot.mouseClick(window.files.waiting.cancel, LEFT)


def test_the_hand_goes_on_while_a_drawing_is_read_and_may_give_it_up(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document, begun = window.document, time.monotonic()
    path, before = document.path, document.layout
    assert path is not None
    came = meanwhile(
        window,
        qtbot,
        lambda: window.files.waiting.text,
        lambda: lift(window, qtbot),
        lambda: document.layout is not before,
        lambda: window.files.read(path),
        window.close,
        lambda: cancel(window, qtbot),
    )
    assert not window.files.read(path)
    assert time.monotonic() - begun < 4.0
    sentence, _, moved, second, closed, _ = came
    assert "Reading carriage.toml" in str(sentence)
    assert moved
    assert not second, "one thing after the other"
    assert not closed
    assert window.isVisible()
    assert window.files.waiting.isHidden()
    assert "not waited for" in window.notice.text
    assert document.layout is not before, "what the hand did is kept"


def test_what_is_done_while_a_drawing_is_saved_is_not_taken_for_saved(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document = window.document
    lift(window, qtbot)
    saved = document.layout
    meanwhile(window, qtbot, lambda: lift(window, qtbot), window.files.save, gone.set)
    assert window.files.save()
    assert document.path is not None
    assert file.read(document.path).base == saved
    assert document.layout != saved
    assert not document.clean
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert not document.clean, "the file holds what was undone"
    assert window.files.save()
    assert document.clean
    assert file.read(document.path).base == document.layout


def test_a_save_that_is_given_up_is_said_and_never_written_late(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document = window.document
    assert document.path is not None
    before = document.path.read_bytes()
    lift(window, qtbot)
    meanwhile(window, qtbot, lambda: cancel(window, qtbot))
    assert not window.files.save()
    assert "not known to be written" in window.notice.text
    assert not document.clean
    gone.set()
    qtbot.wait(100)
    assert document.path.read_bytes() == before


def test_what_nobody_waits_for_any_more_replaces_nothing(tmp_path: Path) -> None:
    path = tmp_path / "late.toml"
    path.write_text("newer", "utf-8")
    with pytest.raises(SaveError):
        disk._write(path, b"older", False, threading.Event())
    assert path.read_text("utf-8") == "newer"
