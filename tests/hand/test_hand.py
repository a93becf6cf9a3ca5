"""The random hand over the whole window, each session in a process of its own, by its seed.

`LIFTLEDGER_GESTURES` says how many gestures a session makes, `LIFTLEDGER_SESSIONS` how many sessions there
are; with `--hours` there are as many as there is time for. The checks make a few.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from typing import cast

import pytest

pytestmark = pytest.mark.hand

GESTURES = int(os.environ.get("LIFTLEDGER_GESTURES", "60"))
SESSIONS = int(os.environ.get("LIFTLEDGER_SESSIONS", "2"))
FIRST = int(os.environ.get("LIFTLEDGER_FIRST_SEED", "1"))
GROWTH_KB = 60_000  # of the second half of a long session: caches fill, nothing leaks
LONG = 10_000  # gestures, by half of which every library that a view takes has been loaded
ALL_REACHED = 20_000  # gestures after which there is no tab, view, menu item or dialog without one


def session(seed: int) -> dict[str, object]:
    """What came of the session of a seed."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    asked = [sys.executable, "-m", "tests.hand.session", str(seed), str(GESTURES)]
    completed = subprocess.run(asked, capture_output=True, text=True, env=environment)
    assert completed.returncode == 0, (
        f"seed {seed}: ended with {completed.returncode}\n{completed.stderr[-3000:]}"
    )
    played: dict[str, object] = json.loads(completed.stdout.splitlines()[-1])
    return played


def test_a_hand_without_a_plan_breaks_nothing(seconds: float) -> None:
    begun, seed, gestures = time.monotonic(), FIRST, 0
    missed: list[set[str]] = []
    while time.monotonic() - begun < seconds if seconds else seed < FIRST + SESSIONS:
        played = session(seed)
        assert not played["trouble"], f"seed {seed}: {played}"
        count = int(str(played["gestures"]))
        assert count == GESTURES, f"seed {seed}: the window closed: {played}"
        if count >= LONG:
            assert int(str(played["grown_kB"])) < GROWTH_KB, f"seed {seed}: {played}"
        missed.append(set(map(str, cast(list[str], played["missed"]))))
        gestures += count
        seed += 1
    nowhere = sorted(set.intersection(*missed))
    print(
        f"{gestures} gestures, seeds {FIRST} to {seed - 1}; never reached: {', '.join(nowhere) or 'nothing'}"
    )
    if gestures >= ALL_REACHED:
        assert nowhere == []
