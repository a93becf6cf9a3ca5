"""The plan for a first start in words and as data: the figures are those of the plan, in their units."""

from __future__ import annotations

import json

import pytest

from solver.__main__ import main
from solver.field.priming import priming
from solver.findings.judgement import alone, judge
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.appendices import AppendixInput, texts
from solver.report.priming import NOT_JUDGED, record, text
from tests.drawings import SHIPPED

PATHS = {path.stem: path for path in SHIPPED}


def test_the_text_numbers_the_steps_and_ends_with_the_caution() -> None:
    judgement = judge(file.read(PATHS["over-the-bund-wall"]).base)
    solution = judgement.cases[AS_DRAWN].solution
    assert solution is not None
    words = " ".join(text(judgement, solution).split())
    assert words.startswith("transfer: before the first start Within: ")
    assert "The line holds: 26.5 L Of that, above the fluid: 17.2 L" in words
    assert "transfer: where air may come in Joints below the atmosphere" in words
    assert "1. Lower or prop the load." in words
    assert "never open it as a vent" in words
    assert words.endswith("never loosen a fitting on a running or pressurised machine.")


def test_the_record_holds_the_plan_in_si() -> None:
    solution = solve(file.read(PATHS["over-the-bund-wall"]).base)
    plan, fields = priming(solution, "transfer", System.SI), record(alone(solution, ()), solution, "transfer")
    assert fields["line_volume_m3"] == plan.line_volume
    assert fields["shortest_fill_s"] == pytest.approx(plan.dry_volume / solution.pumps["transfer"].flow)
    assert fields["case_volume_m3"] is None
    assert [pocket["may_be_vented"] for pocket in fields["pockets"]] == [False]
    vacuums = [joint["vacuum_pa"] for joint in fields["air"]["joints_below_atmosphere"]]
    assert vacuums == sorted(vacuums, reverse=True)
    assert fields["air"]["covers"][0]["cylinders_out_m"] is None


@pytest.mark.thorough
def test_the_terminal_prints_it_and_json_carries_it(capsys: pytest.CaptureFixture[str]) -> None:
    main([str(PATHS["baler-flooded"]), "--priming"])
    assert "Close isolator and lock it before the flooded line is opened anywhere." in " ".join(
        capsys.readouterr().out.split()
    )
    main([str(PATHS["header-two-pumps"]), "--priming", "--json"])
    pumps = json.loads(capsys.readouterr().out)["pumps"]
    assert {name: bool(pump["priming"]["steps"]) for name, pump in pumps.items()} == {
        "main": True,
        "pilot": True,
    }


@pytest.mark.parametrize("form", ["--csv", "--working", "--html", "--brief"])
def test_it_is_refused_where_it_would_not_be_printed(form: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([str(PATHS["baler-flooded"]), "--priming", form])
    assert "--priming" in capsys.readouterr().err


def test_a_pump_at_rest_has_no_plan_and_is_not_passed_over(capsys: pytest.CaptureFixture[str]) -> None:
    main([str(PATHS["header-two-pumps"]), "--priming", "--case", "pilot alone"])
    printed = capsys.readouterr().out
    assert "main: at rest in this state" in printed
    assert "pilot: before the first start" in printed


def test_a_case_that_is_not_judged_has_no_plan() -> None:
    text = PATHS["baler-flooded"].read_text(encoding="utf-8").replace('"5 degC"', '"-60 degC"')
    judgement = judge(file.parse(text, "frozen").base)
    assert judgement.cases["coldest start"].solution is None
    asked = AppendixInput(judgement, None, "", None, Level.MINIMUM)
    assert NOT_JUDGED in texts(asked, ["priming"])
