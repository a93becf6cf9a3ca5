"""What is kept between sessions, and for whom."""

from __future__ import annotations

import os
import threading
import time
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model import disk, storage
from sketch.model.disk import SaveError
from sketch.model.document import Document
from tests.sketch.model.documents import crash, height, raised

from ..conftest import RISER


def test_recovery_older_than_the_file_is_kept_and_offered_with_the_newer(
    document: Document, riser: Path
) -> None:
    raised(document, 1.25)
    document.file.keep()
    crash(document)
    stamp = storage.recovery_file(riser).stat().st_mtime_ns + 10**9
    os.utime(riser, ns=(stamp, stamp))
    second = Document()
    second.open(riser)
    raised(second, 1.5)
    second.file.keep()
    crash(second)
    third = Document()
    third.open(riser)
    heights = []
    for kept in third.file.recoveries:
        third.recover(kept)
        heights.append(height(third))
    assert heights == [1.5, 1.25]
    third.file.discard_recoveries()
    assert third.file.recoveries == ()


def test_what_was_taken_up_goes_once_it_is_saved_and_not_before(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.file.keep()
    crash(document)
    later = Document()
    later.open(riser)
    (kept,) = later.file.recoveries
    later.recover(kept)
    assert kept.exists()
    later.save()
    assert not kept.exists()


def test_reader_that_keeps_nothing_leaves_unsaved_work_of_others_alone(
    document: Document, riser: Path
) -> None:
    raised(document, 1.25)
    document.file.keep()
    kept = storage.recovery_file(riser)
    held = kept.read_bytes()
    reader = Document(keeps=False)
    reader.open(riser)
    assert reader.file.recoveries == ()
    raised(reader, 1.4)
    reader.file.keep()
    reader.file.close()
    assert kept.read_bytes() == held
    assert storage.recent_files() == []


def test_second_window_on_a_file_has_a_copy_and_takes_nothing_from_the_first(
    document: Document, riser: Path, tmp_path: Path
) -> None:
    raised(document, 1.25)
    document.file.keep()
    link = tmp_path / "link.toml"
    link.symlink_to(riser)
    second = Document()
    second.open(link)
    assert second.path is None
    assert str(os.getpid()) in second.file.held_by
    raised(second, 1.5)
    second.file.keep()
    with pytest.raises(SaveError):
        second.save(riser)
    assert riser.read_text("utf-8") == RISER
    second.save(tmp_path / "copy.toml")
    assert second.file.held_by == ""
    second.file.close()
    assert storage.recovery_file(riser).exists()
    document.save()
    assert height(document) == 1.25


def test_a_file_that_the_first_window_has_left_is_free(document: Document, riser: Path) -> None:
    document.file.close()
    later = Document()
    later.open(riser)
    assert (later.path, later.file.held_by) == (riser, "")


def test_two_drawings_without_a_file_are_kept_apart(qtbot: QtBot) -> None:
    both = [Document(), Document()]
    for at, each in enumerate(both):
        each.begin(replace(each.layout, title="kept"))
        each.apply("Name", replace(each.layout, title=f"Drawing {at}"))
        each.file.keep()
    kept = sorted(each.read_text("utf-8") for each in storage.state_folder().glob("*-now.toml"))
    assert [f"Drawing {at}" in text for at, text in enumerate(kept)] == [True, True]


def test_what_is_kept_is_for_its_owner_alone(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.file.keep()
    storage.remember(riser)
    for kept in (storage.recovery_file(riser), storage.state_folder() / "recent.txt"):
        assert kept.stat().st_mode & 0o077 == 0
    assert storage.state_folder().stat().st_mode & 0o077 == 0


def test_a_state_folder_that_does_not_answer_is_said_once_and_soon_left_alone(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone, asked = threading.Event(), []
    monkeypatch.setattr(disk, "_write", lambda *given: asked.append(given[0]) or gone.wait(30))
    monkeypatch.setattr(disk, "KEEP_S", 0.2)
    said: list[str] = []
    document.file.unkept.connect(said.append)
    begun = time.monotonic()
    for z in (1.25, 1.3, 1.35):
        raised(document, z)
        document.file.keep()
    gone.set()
    assert time.monotonic() - begun < 10.0  # of the 30 that the folder would take; a busy machine may stall
    own = [path for path in asked if path == storage.recovery_file(document.path)]  # not of an earlier test's
    assert len(own) == 1, "it is asked again after a while, not at every change"
    assert len(said) == 1
    assert "not known to be written" in said[0]
