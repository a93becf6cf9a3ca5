"""A drawing out of the tables of a file: what is refused, and what is kept with why."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from solver.layout.drawing import MOST_ALTERNATIVES, MOST_PARTS, Drawing, drawing_of, mended
from solver.layout.reading import Trouble
from tests.drawings import RISER


def read(**changes: Any) -> tuple[Drawing | None, list[Trouble]]:
    troubles: list[Trouble] = []
    return drawing_of({**tomllib.loads(RISER), **changes}, RISER, troubles), troubles


def test_a_drawing_keeps_its_text_and_its_alternatives() -> None:
    drawing, troubles = read()
    assert troubles == []
    assert drawing is not None
    assert drawing.text == RISER
    assert drawing.alternatives["Half speed"].note == "Slower."
    assert drawing.alternatives["Half speed"].layout.pumps["carriage"].speed.text == "725 rpm"
    assert drawing.base.pumps["carriage"].speed.text == "1450 rpm"


@pytest.mark.parametrize(
    ("partial", "path", "refused"),
    [
        ({"format": 1}, ("format",), 'the key "format"'),
        ({"without": ["no such part"]}, ("without", 0), '"no such part"'),
        ({"without": "riser"}, ("without",), '"riser"'),
        ({"pumps": {"carriage": {"speed": "fast"}}}, ("pumps", "carriage", "speed"), '"fast"'),
        ({"cases": {"without": ["no such case"]}}, ("cases", "without", 0), '"no such case"'),
    ],
)
def test_an_alternative_that_does_not_hold_is_kept_with_why_and_the_base_stands(
    partial: dict[str, Any], path: tuple[str | int, ...], refused: str
) -> None:
    drawing, troubles = read(alternatives={"odd": partial})
    assert troubles == []
    assert drawing is not None
    assert drawing.alternatives == {}
    broken = drawing.broken["odd"]
    assert broken.table == partial
    assert [each.path for each in broken.troubles] == [("alternatives", "odd", *path)]
    assert refused in broken.troubles[0].found
    assert broken.why.startswith("alternatives.odd.")
    assert f"found {broken.troubles[0].found}; allowed: {broken.troubles[0].allowed}" in broken.why


def test_more_alternatives_than_a_window_can_show_are_refused() -> None:
    assert read(alternatives={str(i): {} for i in range(MOST_ALTERNATIVES)})[1] == []
    drawing, troubles = read(alternatives={str(i): {} for i in range(MOST_ALTERNATIVES + 1)})
    assert drawing is None
    assert [(each.path, each.found) for each in troubles] == [(("alternatives",), "101 alternatives")]


def test_more_parts_than_can_be_drawn_are_refused_before_one_is_read() -> None:
    drawing, troubles = read(fittings=dict.fromkeys(map(str, range(MOST_PARTS)), "no table"))
    assert drawing is None
    assert [each.found for each in troubles] == [f"{MOST_PARTS + 4} parts"], (
        "with tank, strainer, pump and riser"
    )


@pytest.mark.parametrize("number", [True, "1", 3, None])
def test_another_format_is_refused(number: object) -> None:
    drawing, troubles = read(format=number)
    assert drawing is None
    assert [each.path for each in troubles] == [("format",)]


@pytest.mark.parametrize(
    ("partial", "left"),
    [
        ({"intakes": {"strainer": {"at": ["99 m", "0.12 m"]}}, "notes": "x"}, {"notes": "x"}),
        ({"without": ["nobody", "riser", "no one"], "pumps": {"carriage": {"speed": "fast"}}}, None),
        ({"tees": {"loose": {"at": ["1 m"]}}, "pumps": {"carriage": {"speed": "900 rpm"}}},
         {"pumps": {"carriage": {"speed": "900 rpm"}}}),
        ({"colour": "red"}, {}),
    ],
)  # fmt: skip
def test_what_keeps_an_alternative_from_holding_is_left_out_of_it(
    partial: dict[str, Any], left: dict[str, Any] | None
) -> None:
    drawing, _ = read(alternatives={"odd": partial})
    assert drawing is not None
    alternative = mended(tomllib.loads(RISER), drawing.broken["odd"], "odd")
    if left is None:  # without the riser nothing leads to the pump: that is a trouble of no figure
        assert alternative is None or "riser" not in alternative.layout.runs
        return
    assert alternative is not None
    wanted, _ = read(alternatives={"odd": left})
    assert wanted is not None
    assert alternative == wanted.alternatives["odd"]
    assert drawing.broken["odd"].table == partial, "the one that is kept is left alone"
