"""Every key is found where it stands in the text."""

from __future__ import annotations

import tomllib
from functools import cache

import pytest

from solver.layout.file import Drawing, parse
from solver.layout.positions import Positions
from tests.drawings import ARRANGEMENTS, EVERY_KEY, SHIPPED
from tests.solver.layout.refused import problems
from tests.solver.layout.test_refusals import TYPED
from tests.solver.layout.test_text import leaves
from tests.solver.layout.texts import place


@pytest.mark.parametrize("row", TYPED, ids=[row[2] for row in TYPED])
def test_the_line_is_that_of_the_key(row: tuple[str, str, str, str, str]) -> None:
    """The last name of the key stands in the line that is told, or its table does where it is missing."""
    text = EVERY_KEY.replace(row[0], row[1], 1)
    problem = next(problem for problem in problems(text) if problem.key == row[2])
    line = text.split("\n")[problem.line - 1]
    names = [name.partition("[")[0].strip('"') for name in row[2].split(".")]
    told = line[problem.column - 1 :]
    missing = "nothing" in problem.found or "neither" in problem.found or "no part" in problem.found
    assert told.strip()
    assert missing or "[" in row[2] or names[-1] in line


def test_line_and_column_of_a_value_deep_in_an_array() -> None:
    text = EVERY_KEY.replace('["1.2 m", "0.8 m"],', '["1.2 m", "0.8 psi"],')
    (problem,) = problems(text)
    line, column = place(text, '"0.8 psi"')
    assert (problem.line, problem.column, problem.key) == (line, column, "runs.riser.via[1][1]")


TEXTS = (EVERY_KEY, ARRANGEMENTS, *(path.read_text(encoding="utf-8") for path in SHIPPED))


@cache
def drawn(text: str) -> Drawing:
    return parse(text)


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: parse(text).base.title[:20])
def test_every_key_is_found_where_it_stands(text: str) -> None:
    """The value at every position is the value that a TOML parser reads there."""
    raw, positions = tomllib.loads(text), Positions(text)
    seen = 0
    for path, entry in positions.entries.items():
        value = raw
        for step in path:
            value = value[step]  # type: ignore[index] # a step into an array is a number
        if entry.origin in ("key", "inner"):
            assert tomllib.loads(f"value = {text[entry.value : entry.end]}")["value"] == value
            seen += 1
        line, column = positions.at(entry.start)
        assert text.split("\n")[line - 1][column - 1] == text[entry.start]
    assert seen >= sum(1 for _ in leaves(raw))
