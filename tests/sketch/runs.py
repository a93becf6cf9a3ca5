"""Runs of the program."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sketch.__main__ import main

LAYOUTS = Path(__file__).parents[2] / "layouts"


CARRIAGE = LAYOUTS / "carriage-at-altitude.toml"


FLOODED = LAYOUTS / "baler-flooded.toml"


class Run:
    """One run of the program in this process, with an application that is there already."""

    def __init__(self, capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> None:
        self.returncode = main([*map(str, arguments)])
        self.stdout, self.stderr = capsys.readouterr()


Runner = Callable[..., Run]
