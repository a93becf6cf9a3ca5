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


def assert_written(out: Path, said: str) -> None:
    """One file, or one for each page, of some size and named in the program's answer."""
    written = sorted(out.parent.glob(f"*{out.suffix}"))
    named = out if out.suffix == ".pdf" else f"{written[0]} to {written[-1].name}, a page each"
    assert f"Wrote {named}\n" in said
    assert len(written) == 1 if out.suffix == ".pdf" else len(written) > 1
    assert all(each.stat().st_size > 1000 for each in written)
