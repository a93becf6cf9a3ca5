"""What holds in each case, said from the figures of the drawing."""

from __future__ import annotations

from typing import Any

import pytest

from solver.layout import file
from solver.layout.cases import PART_KEYS, TABLE_KEYS
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.case_words import _PARTS, _REST, _TABLES, as_drawn_words, case_words
from tests.drawings import RISER, twins_text

CASES = """
[cases.cold]
note = "A morning in winter."
fluid.temperature = "5 degC"
site.weather_allowance = "2 kPa"
[cases."one alone"]
level = "normal"
pumps.press.at_rest = true
[cases.quick]
pumps.pilot = { flow = "60 L/min", flow_rise = "0.5 s" }
fluid.viscosity = [["20 degC", "100 cSt"], ["40 degC", "46 cSt"]]
[cases."as ever"]
"""


def _words(text: str, system: System = System.SI) -> dict[str, str]:
    return dict(case_words(file.parse(text, "drawing").base, system))


def test_each_case_says_what_it_has_otherwise() -> None:
    words = _words(twins_text() + CASES)
    assert words["cold"] == "fluid at 5 °C, 2.0 kPa off the air for a low-pressure day"
    assert words["quick"].startswith("60.0 L/min into pilot, the flow of pilot comes up in 0.50 s")
    assert words["quick"].endswith("viscosity of the fluid by a table of its own")
    assert words["one alone"] == "every reservoir at its normal level, press at rest"
    assert words["as ever"] == "as drawn so far, with no figure of its own"
    assert "fluid at 41 °F" in _words(twins_text() + CASES, System.US)["cold"]


def test_as_drawn_says_what_the_others_keep() -> None:
    solution = solve(file.parse(RISER, "riser").base)
    words = as_drawn_words(solution, System.SI)
    (ledger,) = solution.pumps.values()
    assert f"into {ledger.pump}" in words
    assert words.startswith("fluid at ")
    assert "every reservoir at its minimum level" in words


def _leaves(table: dict[str, Any]) -> set[str]:
    return {leaf for key, inner in table.items() for leaf in (inner if isinstance(inner, dict) else [key])}


@pytest.mark.parametrize("group", [*TABLE_KEYS, *PART_KEYS])
def test_every_figure_that_a_case_may_have_has_words(group: str) -> None:
    known = {key for table, key in _TABLES if table == group} | (set(_PARTS) if group in PART_KEYS else set())
    assert _leaves(dict({**TABLE_KEYS, **PART_KEYS}[group])) <= known | {"at_rest"}
    assert set(_REST) == {True, False}
