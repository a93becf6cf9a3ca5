"""Drawings for the window's tests, built from typed text as a layout file would be."""

from __future__ import annotations

from itertools import count
from pathlib import Path

import pytest

from tests.drawings import BENT, RISER


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


STATES = count()


@pytest.fixture(autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Recovery files and the list of recent files in a folder of the test's own, once something is kept."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path_factory.getbasetemp() / f"state-{next(STATES)}"))
