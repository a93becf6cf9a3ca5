"""What must hold of every output, whatever drawing it is of."""

from __future__ import annotations

import json
import math
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from solver.__main__ import main

SLOWEST_S = 2.0
FORMS = ("", "--json", "--csv", "--html", "--working", "--limits", "--priming", "--readings")


def check_output(path: Path | str, form: str, capsys: pytest.CaptureFixture[str]) -> int:
    """Print a drawing in a form; its status. A refusal or a sound answer, and no failure."""
    begun = time.process_time()
    status = main([str(path), *([form] if form else [])])
    spent = time.process_time() - begun
    printed = capsys.readouterr()
    assert status in (0, 1, 2, 3), printed.err
    assert status != 2 or printed.err
    # A case that does not hold is said there too, and is not judged; a reading changes no status.
    assert status != 0 or all(key.startswith("readings[") for key in problem_keys(printed.err))
    assert "Traceback" not in printed.err
    assert "\x1b" not in printed.out + printed.err
    assert spent < SLOWEST_S
    if form == "--json" and status != 2:
        check_record(printed.out)
    return status


def problem_keys(text: str) -> list[str]:
    """The keys of the drawing that problems on standard error are about, printed as text or as JSON."""
    if text.startswith("{"):
        return [str(error["key"]) for error in json.loads(text)["errors"]]
    return [line.split(": ")[1] for line in text.splitlines()]


def check_record(text: str) -> None:
    """No figure that is none; the shares of a pump and its margin make the whole."""
    record = json.loads(text)
    assert all(math.isfinite(each) for each in figures(record))
    for pump in record["pumps"].values():
        whole = sum(entry["share"] or 0.0 for entry in pump["entries"])
        if pump["budget_Pa"] > 0:
            assert whole + pump["margin_Pa"] / pump["budget_Pa"] == pytest.approx(1.0, abs=1e-6)


def figures(data: object) -> Iterator[float]:
    """Every figure in a record."""
    if isinstance(data, dict):
        data = list(data.values())
    if isinstance(data, list):
        for each in data:
            yield from figures(each)
    elif isinstance(data, float):
        yield data
