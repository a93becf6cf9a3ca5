"""When what is unsaved is kept."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model import autosave, disk, storage
from sketch.model.document import Document
from tests.sketch.model.documents import ShortDisk, crash, height, raised


def test_unsaved_work_is_kept_when_idle_and_offered_on_the_next_open(
    document: Document, riser: Path, qtbot: QtBot
) -> None:
    raised(document, 1.25)
    qtbot.waitUntil(storage.recovery_file(riser).exists, timeout=4000)
    crash(document)
    later = Document()
    later.open(riser)
    (kept,) = later.file.recoveries
    later.recover(kept)
    assert later.layout == document.layout
    assert not later.clean
    later.undo_stack.undo()
    assert height(later) == 1.0


@pytest.mark.thorough
def test_a_busy_hand_is_kept_too(
    document: Document, riser: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Changes that follow one another faster than the rest that is waited for."""
    assert autosave.AT_MOST_MS <= 5000
    monkeypatch.setattr(autosave, "AT_MOST_MS", autosave.REST_MS + 300)
    begun = time.monotonic()
    at = 1.0
    while not storage.recovery_file(riser).exists():
        at += 0.001
        raised(document, at)
        qtbot.wait(20)
        assert time.monotonic() - begun < 4.0
    assert time.monotonic() - begun > autosave.REST_MS / 1000


def test_offer_outlives_the_changes_made_before_it_is_answered(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.file.keep()
    crash(document)
    later = Document()
    later.open(riser)
    (kept,) = later.file.recoveries
    raised(later, 1.5)
    later.file.keep()
    later.undo_stack.undo()
    later.recover(kept)
    assert height(later) == 1.25


def test_saved_work_leaves_nothing_to_recover(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.file.keep()
    document.save()
    assert not storage.recovery_file(riser).exists()
    crash(document)
    later = Document()
    later.open(riser)
    assert later.file.recoveries == ()


def test_a_state_folder_that_takes_nothing_is_told_once(
    document: Document, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    document.file.unkept.connect(told.append)
    monkeypatch.setattr(disk, "QSaveFile", lambda name: ShortDisk(name, "write"))
    for at in (1.25, 1.5):
        raised(document, at)
        document.file.keep()
    assert len(told) == 1
    assert "No space left" in told[0]


def test_work_given_up_leaves_nothing_to_recover(document: Document, riser: Path) -> None:
    raised(document, 1.25)
    document.file.keep()
    document.file.close()
    assert not storage.recovery_file(riser).exists()
