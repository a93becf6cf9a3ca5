"""Drawings for the window's tests, built from typed text as a layout file would be."""

from __future__ import annotations

import sys
import weakref
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.drawings import BENT, RISER

if TYPE_CHECKING:
    from sketch.model.document import Document
    from sketch.model.watch import Watch


@pytest.fixture
def riser(tmp_path: Path) -> Path:
    """The straight riser, in a file."""
    path = tmp_path / "riser.toml"
    path.write_text(RISER, encoding="utf-8")
    return path


@pytest.fixture
def bent(tmp_path: Path) -> Path:
    """The riser with a bend, in a file."""
    path = tmp_path / "bent.toml"
    path.write_text(BENT, encoding="utf-8")
    return path


@pytest.fixture
def document() -> Document:
    """The carriage at altitude, opened: what tests begin with, unless a folder has its own."""
    from tests.sketch.shown import opened

    return opened()


STATES = count()


@pytest.fixture(autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Recovery files and the list of recent files in a folder of the test's own, once something is kept."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path_factory.getbasetemp() / f"state-{next(STATES)}"))


@pytest.fixture(scope="session")
def watches() -> Iterator[list[weakref.ref[Watch]]]:
    """What has begun to watch a file since the list was last emptied."""
    watches: list[weakref.ref[Watch]] = []
    if "PySide6.QtCore" not in sys.modules:
        yield watches
        return
    from sketch.model.watch import Watch

    follow = Watch.follow

    def follow_and_note(watch: Watch, *given: Any, **named: Any) -> None:
        watches.append(weakref.ref(watch))
        follow(watch, *given, **named)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Watch, "follow", follow_and_note)
        yield watches


@pytest.fixture(autouse=True)
def no_file_watched(watches: list[weakref.ref[Watch]]) -> Iterator[None]:
    """End every watch with its test: by the end of a run, hundreds of threads took a third of the time."""
    yield
    while watches:
        import shiboken6

        watch = watches.pop()()
        if watch is not None and watch._seen is not None:
            watch._seen.stop.set()
        if watch is not None and shiboken6.isValid(watch):
            watch._timer.stop()


@pytest.fixture(autouse=True)
def no_button_held() -> Iterator[None]:
    """Let go of a button that a test has left pressed, which Qt would hold for all tests after it."""
    yield
    if "PySide6.QtWidgets" not in sys.modules:
        return
    from PySide6.QtCore import Qt
    from PySide6.QtGui import QGuiApplication
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QWidget

    if QGuiApplication.instance() is None:
        return
    for button in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton, Qt.MouseButton.RightButton):
        if QGuiApplication.mouseButtons() & button:
            QTest.mouseRelease(QWidget(), button)
