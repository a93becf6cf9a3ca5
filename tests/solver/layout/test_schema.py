"""The schema of the drawing file against what the program itself reads and refuses."""

import json
import tomllib
from copy import deepcopy
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from solver.__main__ import main
from solver.layout import schema
from solver.layout.file import LayoutErrors, parse
from solver.layout.raw import to_raw
from solver.layout.text import fresh
from tests import drawings
from tests.solver.ledger.test_random_cases import random_drawing

VALIDATOR = jsonschema.Draft202012Validator(schema.drawing_schema())


def as_json(value: Any) -> Any:
    """A TOML value as an editor hands it to a schema: dates as text."""
    return json.loads(
        json.dumps(value, default=lambda each: each.isoformat() if isinstance(each, date) else each)
    )


def keeps_to(text: str) -> bool:
    return bool(VALIDATOR.is_valid(as_json(tomllib.loads(text))))


@pytest.mark.thorough
def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema.drawing_schema())


@pytest.mark.parametrize("path", drawings.SHIPPED, ids=lambda path: path.stem)
def test_every_layout_keeps_to_it(path: Path) -> None:
    raw = as_json(tomllib.loads(path.read_text(encoding="utf-8")))
    assert [error.json_path for error in VALIDATOR.iter_errors(raw)] == []


def test_the_one_beside_the_examples_is_what_the_program_prints(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--schema"])
    assert ended.value.code == 0
    kept = drawings.SHIPPED[0].with_name("drawing.schema.json")
    assert capsys.readouterr().out == kept.read_text(encoding="utf-8"), (
        "write it anew: python -m solver --schema"
    )


def test_every_key_there_is_keeps_to_it() -> None:
    assert keeps_to(drawings.EVERY_KEY)


@pytest.mark.parametrize("seeds", [range(12), pytest.param(range(12, 512), marks=pytest.mark.random)])
def test_random_drawings_keep_to_it(seeds: range) -> None:
    assert [seed for seed in seeds if not keeps_to(random_drawing(seed)[0])] == []


def misspelled(raw: dict[str, Any]) -> list[tuple[Any, dict[str, Any]]]:
    """Copies of a drawing, each with one key of one table misspelled, except names of the drawing's own."""
    copies: list[tuple[Any, dict[str, Any]]] = []

    def walk(table: Any, path: tuple[Any, ...]) -> None:
        for key, value in list(table.items() if isinstance(table, dict) else enumerate(table)):
            if isinstance(key, str) and not own_name(path):
                copy = deepcopy(raw)
                inner: Any = copy
                for step in path:
                    inner = inner[step]
                inner[f"{key}x"] = inner.pop(key)
                copies.append(((*path, key), copy))
            if isinstance(value, dict | list):
                walk(value, (*path, key))

    walk(raw, ())
    return copies


GROUPS = {"reservoirs", "intakes", "fittings", "tees", "pumps", "runs", "levels", "cases", "alternatives"}


def own_name(path: tuple[Any, ...]) -> bool:
    return bool(path) and (path[-1] in GROUPS or path[-1] == "strokes")


@pytest.mark.thorough
def test_a_misspelled_key_is_refused_by_both() -> None:
    raw = tomllib.loads(drawings.EVERY_KEY)
    copies = misspelled(as_json(raw))
    assert len(copies) > 100
    for path, copy in copies:
        assert not VALIDATOR.is_valid(copy), path


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("pumps", "press", "type"), "turbine"),
        (("pumps", "press", "at"), "here"),
        (("runs", "riser", "via"), 3),
        (("units",), "metric"),
        (("format",), 9),
    ],
)
def test_what_the_schema_refuses_the_program_refuses(path: tuple[str, ...], value: Any) -> None:
    raw: Any = to_raw(drawings.stand())
    inner = raw
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    assert not VALIDATOR.is_valid(as_json(raw))
    with pytest.raises(LayoutErrors):
        parse(fresh(raw))
