"""Windows killed while they save and recover: the file is always whole, and nothing that was safe is lost.

`LIFTLEDGER_KILLS` says how many; with `--hours` as many as there is time for. The checks make a few.
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from solver.layout import file
from tests.kill.victim import state_of

pytestmark = pytest.mark.kill

EXAMPLE = Path(__file__).resolve().parents[2] / "layouts" / "carriage-at-altitude.toml"
MANY = int(os.environ.get("LIFTLEDGER_KILLS", "6"))
LONGEST_S = 60.0  # until a window is open, on a busy machine
MOST_WORK_S = 0.5


class Prey:
    """A process with a window, and what it has printed."""

    def __init__(self, path: Path, state: Path, mark: str, seed: int) -> None:
        self.mark, self._printed = mark, state.parent / f"printed-{mark}-{seed}"
        environment = {**os.environ, "XDG_STATE_HOME": str(state), "QT_QPA_PLATFORM": "offscreen"}
        with self._printed.open("wb") as out:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "tests.kill.victim", str(path), mark, str(seed)],
                stdout=out, stderr=subprocess.STDOUT, env=environment,
            )  # fmt: skip

    @property
    def lines(self) -> list[str]:
        return self._printed.read_text("utf-8", "replace").splitlines()

    def wait_for(self, *words: str) -> str:
        """Wait until a line begins with one of the words; that word."""
        end = time.monotonic() + LONGEST_S
        while time.monotonic() < end:
            begun = [line.split(" ")[0] for line in self.lines]
            if first := next((word for word in words if word in begun), ""):
                return first
            assert self.process.poll() is None, self.lines
            time.sleep(0.005)
        raise AssertionError(f"nothing within {LONGEST_S:g} s: {self.lines}")

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()
        odd = [line for line in self.lines if line.split(" ")[0] not in WORDS]
        assert not odd, odd

    def last(self, *words: str) -> int:
        """The last state that it called by one of those words."""
        numbers = [int(line.split(" ")[1]) for line in self.lines if line.split(" ")[0] in words]
        return numbers[-1] if numbers else 0


WORDS = ("open", "copy", "recovered", "saved", "kept", "This")  # "This plugin…": a platform without a screen


def number_in(path: Path, mark: str) -> int:
    """The state that a file holds; fails where the file does not read."""
    return state_of(file.parse(path.read_text("utf-8"), str(path)).base.title, mark)


def safe(path: Path, state: Path, mark: str) -> int:
    """The newest state of that mark in the drawing's file and in all recoveries, each of which must read."""
    kept = sorted(state.rglob("recovery-*.toml"))
    return max(number_in(each, mark) for each in (path, *kept))


def settings(folder: Path) -> tuple[Path, Path]:
    path, state = folder / "drawing.toml", folder / "state"
    if not path.exists():
        shutil.copy(EXAMPLE, path)
        state.mkdir()
    return path, state


def kill_one(path: Path, state: Path, seed: int, chance: random.Random) -> None:
    """One window on the file, killed at any moment; what was safe before it is still offered."""
    before = safe(path, state, "A")
    prey = Prey(path, state, "A", seed)
    assert prey.wait_for("open", "copy") == "open"  # the lock of one that was killed holds nobody up
    prey.wait_for("kept", "saved")
    time.sleep(chance.uniform(0.0, MOST_WORK_S))
    prey.kill()
    assert number_in(path, "A") >= prey.last("saved")
    assert safe(path, state, "A") >= max(prey.last("kept", "saved"), before)


def kill_two(path: Path, state: Path, seed: int, chance: random.Random) -> int:
    """Two windows on one file: the second has a copy, and neither's death harms the other's drawing."""
    first = Prey(path, state, "A", seed)
    assert first.wait_for("open", "copy") == "open"
    first.wait_for("kept", "saved")
    second = Prey(path, state, "B", seed)
    assert second.wait_for("open", "copy") == "copy"
    second.wait_for("kept")
    time.sleep(chance.uniform(0.0, MOST_WORK_S))
    for prey in chance.sample((first, second), 2):
        prey.kill()
    assert number_in(path, "A") >= first.last("saved")
    assert number_in(path, "B") == 0  # a copy is never saved over what it is a copy of
    assert safe(path, state, "A") >= first.last("kept", "saved")
    assert safe(path, state, "B") >= second.last("kept")
    return 2


def test_nothing_that_was_safe_is_lost_with_the_window(tmp_path: Path, seconds: float) -> None:
    chance, kills, begun = random.Random(7), 0, time.monotonic()
    path, state = settings(tmp_path)
    while time.monotonic() - begun < seconds if seconds else kills < MANY:
        if kills % 5 == 4:
            kills += kill_two(path, state, kills, chance)
        else:
            kill_one(path, state, kills, chance)
            kills += 1
        for each in tmp_path.glob("printed-*"):
            each.unlink()
    print(f"{kills} windows killed")
