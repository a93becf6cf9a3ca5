"""The public face: what a reader of its docstrings types works, and says what the ledger says."""

from __future__ import annotations

import doctest
import subprocess
import sys
from pathlib import Path

import numpy as np
import pint
import pytest

import solver
from solver import public
from solver.ledger import solve as solving

TREE = Path(__file__).resolve().parents[2]
CARRIAGE = TREE / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def carriage() -> solver.Solution:
    return solver.solve(solver.read(CARRIAGE))


@pytest.mark.parametrize("module", [solver, public], ids=["solver", "public"])
def test_every_example_of_a_docstring_holds(module: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(TREE)
    outcome = doctest.testmod(module)  # type: ignore[arg-type]
    assert outcome.attempted > 0
    assert outcome.failed == 0


def test_public_names_are_there_and_few() -> None:
    assert len(solver.__all__) <= 25
    for name in solver.__all__:
        assert getattr(solver, name) is not None
    assert set(solver.__all__) <= set(dir(solver))
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        solver.nonsense  # noqa: B018 # asking is the test


def test_public_functions_and_classes_say_what_they_do() -> None:
    for name in solver.__all__:
        thing = getattr(solver, name)
        if callable(thing):
            assert thing.__doc__, name


def test_import_loads_nothing_that_is_not_asked_for() -> None:
    code = "import sys, solver; assert not {'numpy', 'pint', 'fluids', 'solver.public'} & set(sys.modules)"
    subprocess.run([sys.executable, "-c", code], cwd=TREE, check=True)


def test_a_ledger_says_what_the_calculation_says(carriage: solver.Solution) -> None:
    ledger, solved = carriage.pumps["carriage"], solving.solve(carriage.layout).pumps["carriage"]
    assert ledger.margin == solved.margin
    assert ledger.margin.to("kPa").magnitude == pytest.approx(solved.margin / 1000)
    assert ledger.flow.to("L/min").magnitude == pytest.approx(solved.flow * 60_000)
    assert [entry.loss for entry in ledger.entries] == [entry.loss for entry in solved.entries]
    spent = sum(entry.lift + entry.loss for entry in ledger.entries)
    assert spent == pytest.approx(ledger.spent)
    assert ledger.npsh_required is None


def test_a_figure_refuses_a_unit_of_another_kind(carriage: solver.Solution) -> None:
    with pytest.raises(pint.DimensionalityError):
        carriage.pumps["carriage"].margin.to("m")


def test_findings_and_answers_belong_to_the_solution(carriage: solver.Solution) -> None:
    assert any(finding.part == "carriage" for finding in solver.check(carriage))
    assert set(solver.ask(carriage)) == {"carriage"}
    with pytest.raises(KeyError):
        solver.ask(carriage, "no such pump")


def test_a_swept_column_says_what_single_solutions_say() -> None:
    drawing = solver.read(CARRIAGE)
    columns = solver.sweep(drawing, {"temperature": ["25 degC", "45 degC"], "blocked": [0.0, 0.3]}, grid=True)
    assert {len(column) for column in columns.values()} == {4}
    as_drawn = solver.solve(drawing).pumps["carriage"]
    warm_clean = (columns["temperature [K]"] == 318.15) & (columns["blocked [1]"] == 0.0)
    assert columns["carriage: margin [Pa]"][warm_clean] == pytest.approx([as_drawn.margin], rel=1e-9)
    one_part = solver.sweep(drawing, {"blocked of strainer": np.array([0.3])})
    both = (columns["temperature [K]"] == 318.15) & (columns["blocked [1]"] == 0.3)
    assert one_part["carriage: margin [Pa]"] == pytest.approx(columns["carriage: margin [Pa]"][both])
    with pytest.raises(solver.SweepError):
        solver.sweep(drawing, {"colour": [1.0]})


def test_a_notebook_shows_a_ledger_and_no_markup_of_the_drawing_s(carriage: solver.Solution) -> None:
    page = carriage._repr_html_()  # the name that a notebook asks for
    assert "<table>" in page
    assert "Over by" in page
    base = CARRIAGE.read_text().partition("[alternatives")[0]
    hostile = base.replace("[pumps.carriage]", '[pumps."<i class=x"]').replace('"carriage"', '"<i class=x"')
    shown = solver.solve(solver.parse(hostile))._repr_html_()  # as above
    assert "<i" not in shown
    assert "&lt;i class=x" in shown
