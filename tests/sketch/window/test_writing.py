"""Files that are written are named; what kept one from being written is said in the notice."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.disk import GivenUpError, NoWaitBar, SaveError
from sketch.window.notice import Notice
from sketch.window.writing import write_files


def refused(error: Exception) -> list[Path]:
    raise error


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (GivenUpError(), "The card was not written: it was not waited for any longer."),
        (SaveError("the disk is full"), "The card was not written: the disk is full"),
        (ValueError("nothing is calculated"), "The card was not written: nothing is calculated"),
    ],
)
def test_what_was_not_written_is_said_with_why(qtbot: QtBot, error: Exception, words: str) -> None:
    notice, done = Notice(), list[str]()
    qtbot.addWidget(notice)
    path = Path("/folder/card.pdf")
    assert not write_files("card", path, lambda: refused(error), NoWaitBar(), notice, done.append)
    assert (notice.text, done) == (words, [])


def test_what_was_written_is_named_without_its_folder(qtbot: QtBot) -> None:
    notice, done = Notice(), list[str]()
    qtbot.addWidget(notice)
    pages = [Path(f"/folder/sheet-{number}.png") for number in (1, 2)]
    assert write_files("sheet", Path("/folder/sheet.png"), lambda: pages, NoWaitBar(), notice, done.append)
    assert done == ["Wrote sheet-1.png to sheet-2.png, a page each"]
    assert notice.isHidden()
