"""Drawings mutated at random, through every output: a refusal or a sound answer, never a failure.

Seeds are numbers in a row, so that one that fails can be tried again alone. `LIFTLEDGER_MUTATIONS` says how
many; the checks take a few. With `--hours` more are made by the clock.
"""

from __future__ import annotations

import os
import random
import time
from pathlib import Path

import pytest

from tests.hostile.outputs import FORMS, check_output

pytestmark = pytest.mark.hostile

LAYOUTS = sorted((Path(__file__).resolve().parents[2] / "layouts").glob("*.toml"))
MANY = int(os.environ.get("LIFTLEDGER_MUTATIONS", "60"))
FIRST = int(os.environ.get("LIFTLEDGER_FIRST_SEED", "1000000"))
ODD = ("0", "-1", "1e-9", "1e18", "nan", "inf", "", "\x1b", "\u202e", "=1+1", "9" * 400, "[]", "{}", "true")


def mutated(text: str, seed: int) -> str:
    """One to four changes: a line lost, doubled or moved, a number or a text made another."""
    chance = random.Random(seed)
    lines = text.split("\n")
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(lines))
        how = chance.randrange(5)
        if how == 0:
            del lines[at]
        elif how == 1:
            lines.insert(at, lines[chance.randrange(len(lines))])
        elif how == 2 and '"' in lines[at]:
            parts = lines[at].split('"')
            parts[chance.randrange(len(parts))] = chance.choice(ODD)
            lines[at] = '"'.join(parts)
        elif lines[at]:
            place = chance.randrange(len(lines[at]))
            lines[at] = lines[at][:place] + chance.choice('0159.-eE"[]{}=, \x00é') + lines[at][place + 1 :]
    return "\n".join(lines)


def attack(seed: int, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The mutated drawing of a seed through one of the outputs."""
    path = folder / "mutated.toml"
    source = LAYOUTS[seed % len(LAYOUTS)].read_text("utf-8")
    path.write_text(mutated(source, seed), encoding="utf-8", errors="replace")
    check_output(path, FORMS[seed // len(LAYOUTS) % len(FORMS)], capsys)


@pytest.mark.parametrize("seed", range(MANY))
def test_a_mutated_drawing_is_refused_or_answered(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    attack(seed, tmp_path, capsys)


def test_mutated_drawings_by_the_clock(
    seconds: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Seeds of their own, one after another until the time is up."""
    if not seconds:
        pytest.skip("the short run has its seeds above; --hours says for how long to go on")
    begun, seed = time.monotonic(), FIRST
    while time.monotonic() - begun < seconds:
        try:
            attack(seed, tmp_path, capsys)
        except AssertionError as error:
            raise AssertionError(f"seed {seed}: {error}") from error
        seed += 1
    with capsys.disabled():
        print(f"{seed - FIRST} mutated drawings, seeds {FIRST} to {seed - 1}")
