"""Drawings mutated at random, through every output: a refusal or a sound answer, never a failure.

Seeds are numbers in a row, so that one that fails can be tried again alone. `LIFTLEDGER_MUTATIONS` says how
many; the checks take a few.
"""

from __future__ import annotations

import json
import math
import os
import random
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from solver.__main__ import main

pytestmark = pytest.mark.hostile

LAYOUTS = sorted((Path(__file__).resolve().parents[2] / "layouts").glob("*.toml"))
MANY = int(os.environ.get("LIFTLEDGER_MUTATIONS", "60"))
SLOWEST_S = 2.0
FORMS = ("", "--json", "--csv", "--html", "--working", "--limits")
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


def figures(made: object) -> Iterator[float]:
    if isinstance(made, dict):
        made = list(made.values())
    if isinstance(made, list):
        for each in made:
            yield from figures(each)
    elif isinstance(made, float):
        yield made


@pytest.mark.parametrize("seed", range(MANY))
def test_a_mutated_drawing_is_refused_or_answered(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "mutated.toml"
    source = LAYOUTS[seed % len(LAYOUTS)].read_text("utf-8")
    path.write_text(mutated(source, seed), encoding="utf-8", errors="replace")
    form = FORMS[seed // len(LAYOUTS) % len(FORMS)]
    begun = time.process_time()
    status = main([str(path), *([form] if form else [])])
    spent = time.process_time() - begun
    printed = capsys.readouterr()
    assert status in (0, 1, 2, 3), printed.err
    assert (status == 2) == bool(printed.err)
    assert spent < SLOWEST_S
    if form == "--json" and status != 2:
        made = json.loads(printed.out)
        assert all(math.isfinite(each) for each in figures(made))
        for pump in made["pumps"].values():
            whole = sum(entry["share"] or 0.0 for entry in pump["entries"])
            if pump["budget_Pa"] > 0:
                assert whole + pump["margin_Pa"] / pump["budget_Pa"] == pytest.approx(1.0, abs=1e-6)
