"""The disk asked with care: what is no plain file, too large, or does not answer, never stops the hand."""

from __future__ import annotations

import os
import threading
import time
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from sketch.model import disk
from sketch.model.disk import SaveError, contents, fingerprint, with_time_limit, write_safely
from sketch.model.document import Document
from sketch.window.files import LayoutErrors
from solver.layout import file

SOON = 1.0
"""Seconds: what a hand may wait at most."""


def become_pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def become_endless(path: Path) -> None:
    path.unlink()
    path.symlink_to("/dev/zero")


def become_huge(path: Path) -> None:
    os.truncate(path, 6 * 2**30)


ODD = [become_pipe, become_endless, become_huge]


@pytest.mark.parametrize("become", ODD)
def test_a_file_that_has_become_something_else_stops_nobody(riser: Path, qtbot: QtBot, become) -> None:
    document = Document()
    document.open(riser)
    with qtbot.waitSignal(document.file.changed_outside, timeout=4000):
        become(riser)
    begun = time.monotonic()
    assert document.file.overtaken
    with pytest.raises((LayoutErrors, OSError)):
        document.reload()
    with pytest.raises((LayoutErrors, OSError)):
        document.open(riser)
    assert document.layout.pumps
    assert time.monotonic() - begun < SOON


@pytest.mark.parametrize("become", [become_pipe, become_endless])
def test_nothing_is_written_over_what_is_no_plain_file(riser: Path, become) -> None:
    document = Document()
    document.open(riser)
    become(riser)
    with pytest.raises(SaveError, match="no plain file"):
        document.save()


def test_what_becomes_a_pipe_between_asking_and_opening(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain, pipe = tmp_path / "plain.toml", tmp_path / "pipe.toml"
    plain.write_text("format = 1", "utf-8")
    os.mkfifo(pipe)
    status = plain.stat()
    monkeypatch.setattr(Path, "stat", lambda self, **_: status)
    begun = time.monotonic()
    with pytest.raises((LayoutErrors, OSError)):
        file.read(pipe)
    with pytest.raises(OSError, match="no plain file"):
        contents(pipe)
    assert time.monotonic() - begun < SOON


def test_a_share_that_has_gone_leaves_the_window_alive(
    riser: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every look at the disk hangs, as on a share whose server is gone: what is painted goes on."""
    document = Document()
    document.open(riser)
    gone = threading.Event()
    monkeypatch.setattr(disk.file, "contents", lambda path: gone.wait(30))
    monkeypatch.setattr(disk, "_write", lambda *_: gone.wait(30))
    monkeypatch.setattr(disk, "READ_S", 0.6)
    monkeypatch.setattr(disk, "WRITE_S", 0.6)
    ticks: list[float] = []
    timer = QTimer(interval=50)
    timer.timeout.connect(lambda: ticks.append(time.monotonic()))
    timer.start()
    try:
        with pytest.raises(TimeoutError, match="did not answer"):
            document.reload()
        with pytest.raises(SaveError, match="not known to be written"):
            document.save()
    finally:
        gone.set()
    assert len(ticks) > 10
    assert max(b - a for a, b in pairwise(ticks)) < 0.3


def test_the_watch_asks_nothing_on_the_thread_that_draws(
    riser: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: set[int] = set()
    sound = Path.stat

    def stat(self: Path, **given: bool) -> os.stat_result:
        if self == riser:
            asked.add(threading.get_ident())
        return sound(self, **given)

    document = Document()
    document.open(riser)
    monkeypatch.setattr(Path, "stat", stat)
    with qtbot.waitSignal(document.file.changed_outside, timeout=4000):
        riser.write_bytes(riser.read_bytes() + b"# more\n")
    assert asked
    assert threading.get_ident() not in asked


def test_a_result_and_a_failure_come_through_from_the_other_thread() -> None:
    assert with_time_limit(1.0, lambda: 5) == 5
    with pytest.raises(ZeroDivisionError):
        with_time_limit(1.0, lambda: 1 // 0)


def test_a_disk_that_takes_only_some_is_said_to_be_full(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Short:
        def __init__(self, name: str) -> None: ...
        def open(self, mode: object) -> bool:
            return True

        def write(self, data: bytes) -> int:
            return len(data) // 2

        def cancelWriting(self) -> None: ...
        def commit(self) -> bool:
            return False

        def errorString(self) -> str:
            return "Unknown error"

    monkeypatch.setattr(disk, "QSaveFile", Short)
    with pytest.raises(SaveError, match="no room left on the disk"):
        write_safely(tmp_path / "x.toml", "text")


def test_two_that_hold_the_same_have_one_fingerprint(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.write_text("same", "utf-8")
    other.write_text("same", "utf-8")
    assert fingerprint(one) == fingerprint(other) is not None
    other.write_text("else", "utf-8")
    assert fingerprint(one) != fingerprint(other)
    assert fingerprint(tmp_path / "none") is None


def test_a_catalogue_is_refused_for_what_it_is(tmp_path: Path) -> None:
    path = tmp_path / "mine.parts.toml"
    path.write_text('[hoses.thin]\nbore = "wide"\n', encoding="utf-8")
    with pytest.raises(LayoutErrors) as refused:
        disk.drawing(path)
    assert [(each.line, each.key) for each in refused.value.problems] == [(2, "hoses.thin.bore")]
