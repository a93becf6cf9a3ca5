"""Drawings for the window's tests, built from typed text as a layout file would be."""

from __future__ import annotations

from pathlib import Path

import pytest

RISER = """\
# A pump straight above its strainer.
format = 1
title = "Riser"
units = "SI"

[site]
elevation = "0 m"

[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "45 degC"             # warm

[reservoirs.tank]
outline = [["0 m", "0 m"], ["1.2 m", "0 m"], ["1.2 m", "0.7 m"], ["0 m", "0.7 m"]]
depth = "0.6 m"
normal_level = "0.55 m"
minimum_level = "0.40 m"

[intakes.strainer]
reservoir = "tank"
at = ["0.6 m", "0.12 m"]
kind = "strainer"
size = "NPS 2 schedule 40"
screen = { mesh = "100 per inch", wire = "0.11 mm", area = "0.06 m^2", blocked = 0.1, bypass = "0.2 bar" }

[pumps.carriage]
at = ["0.6 m", "1.00 m"]
size = "NPS 2 schedule 40"
type = "vane"
displacement = "82 cm^3/rev"
speed = "1450 rpm"
limit = { vacuum = "7 inHg" }

[runs.riser]
from = "strainer"
to = "carriage"
size = "NPS 2 schedule 40"

[alternatives."Half speed"]
note = "Slower."
pumps.carriage.speed = "725 rpm"
"""

BENT = RISER.replace('at = ["0.6 m", "1.00 m"]', 'at = ["1.6 m", "1.00 m"]').replace(
    'to = "carriage"', 'to = "carriage"\nvia = [["0.6 m", "1.00 m"]]'
)
"""The same with the pump beside the tank and one bend over the strainer."""


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


@pytest.fixture(autouse=True)
def own_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Recovery files and the list of recent files in a folder of the test's own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
