"""Wrong figures, signs, exponents, rows and branches: each must be noticed by the test of its own subject.

A copy of the source is made once; an error is written into it, the one test named beside it runs there, and
has to fail. `LIFTLEDGER_PLANTED` says how many are tried, spread over the list; the checks take a few.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from tests.planted.errors import PLANTED, Planted

pytestmark = pytest.mark.planted

TREE = Path(__file__).resolve().parents[2]
MANY = int(os.environ.get("LIFTLEDGER_PLANTED", "8"))
SAMPLE = PLANTED[:: max(1, len(PLANTED) // MANY)]
FAILED = 1
"""Exit code of a run of tests in which one failed; a test that cannot be collected ends with another."""


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The source and its tests, where they may be spoilt."""
    there = tmp_path_factory.mktemp("planted")
    for folder in ("solver", "sketch", "tests", "layouts"):
        shutil.copytree(TREE / folder, there / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for file in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(TREE / file, there)
    return there


@pytest.fixture
def planted(copy: Path, request: pytest.FixtureRequest) -> Iterator[Planted]:
    """An error that stands in the copy while its test runs."""
    error: Planted = request.param
    file = copy / error.file
    right = file.read_text(encoding="utf-8")
    file.write_text(right.replace(error.right, error.wrong), encoding="utf-8")
    yield error
    file.write_text(right, encoding="utf-8")


def run(copy: Path, tests: Iterable[str]) -> subprocess.CompletedProcess[str]:
    """Run tests in the copy, which imports nothing from here."""
    command = (sys.executable, "-B", "-m", "pytest", "-q", "-p", "no:cacheprovider", *tests)
    surroundings = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(command, cwd=copy, env=surroundings, capture_output=True, text=True, check=False)


def test_without_an_error_their_tests_pass(copy: Path) -> None:
    done = run(copy, dict.fromkeys(error.killed_by for error in SAMPLE))
    assert done.returncode == 0, done.stdout[-3000:]


@pytest.mark.parametrize("planted", SAMPLE, indirect=True, ids=lambda error: error.name)
def test_a_planted_error_is_noticed(copy: Path, planted: Planted) -> None:
    done = run(copy, [planted.killed_by])
    assert done.returncode == FAILED, f"{planted.killed_by} says nothing\n{done.stdout[-2000:]}"
