"""The machine-readable contract: keys, SI values, nothing that is not JSON."""

import csv
import io
import json
import math
from dataclasses import replace
from importlib.metadata import version
from pathlib import Path

import pytest

from solver.answers.ask import ask_all
from solver.findings.judgement import judge
from solver.layout.file import from_raw, read, to_raw
from solver.ledger.sentences import verdict
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, System, quantity
from solver.report.records import CSV_COLUMNS, REACH_COLUMNS, reach_table, record, table
from tests.solver.checking import lifted, with_floor, with_fluid

WITHIN = Path(__file__).resolve().parents[3] / "layouts" / "baler-flooded.toml"

TOP = [
    "program", "format",
    "title", "alternative", "case", "worst", "headline", "level", "site", "fluid", "pumps", "resting",
    "findings", "cases", "alternatives",
]  # fmt: skip
CASE = [
    "judged", "why", "note", "passed_over", "level", "site", "fluid", "pumps", "resting", "findings",
]  # fmt: skip
PUMP = [
    "flow_m3_s", "surface_Pa", "floor_Pa", "budget_Pa", "spent_Pa", "margin_Pa", "inlet_Pa", "vacuum_Pa",
    "allowed_vacuum_Pa", "npsh_available_m", "lowest_Pa", "lowest_at", "within", "entries",
    "standing", "outlook",
]  # fmt: skip
ENTRY = [
    "part", "element", "kind", "flow_m3_s", "bore_m", "length_m", "velocity_m_s", "reynolds",
    "friction_factor", "k", "lift_Pa", "loss_Pa", "share", "pressure_Pa",
]  # fmt: skip


def recorded(layout, **more):
    return record(judge(layout), **more)


def test_the_keys_are_those_of_the_contract_in_their_order():
    whole = recorded(with_floor(lifted(), 95e3))
    assert list(whole) == TOP
    assert list(whole["site"]) == ["atmosphere_Pa", "elevation_m"]
    assert list(whole["fluid"]) == [
        "name", "temperature_K", "density_kg_m3", "viscosity_m2_s", "vapor_pressure_Pa",
    ]  # fmt: skip
    assert list(whole["pumps"]["pump"]) == PUMP
    assert all(list(entry) == ENTRY for entry in whole["pumps"]["pump"]["entries"])
    assert list(whole["findings"][0]) == [
        "finding", "severity", "part", "value", "limit", "text", "advice", "cases",
    ]  # fmt: skip


def test_the_values_are_the_ledger_s():
    pump_ledger = solve(lifted()).pumps["pump"]
    given = recorded(lifted())["pumps"]["pump"]
    assert given["margin_Pa"] == pump_ledger.margin
    assert given["vacuum_Pa"] == pump_ledger.vacuum
    assert [e["loss_Pa"] for e in given["entries"]] == [e.loss for e in pump_ledger.entries]


def test_a_line_that_is_not_as_warm_has_a_fluid_of_its_own():
    layout = read(WITHIN).base
    assert "line_fluid" not in recorded(layout)
    cold = replace(layout.fluid, line_temperature=quantity("5 degC", Kind.TEMPERATURE))
    whole = recorded(replace(layout, fluid=cold))
    assert whole["fluid"] == recorded(layout)["fluid"]
    assert whole["line_fluid"].keys() == whole["fluid"].keys()
    assert whole["line_fluid"]["temperature_K"] == 278.15
    assert whole["cases"]["as drawn"]["line_fluid"] == whole["line_fluid"]


def test_what_has_no_value_is_null_and_never_a_nan():
    whole = recorded(with_floor(lifted(), 120e3))
    json.dumps(whole, allow_nan=False)
    entries = whole["pumps"]["pump"]["entries"]
    assert all(entry["share"] is None for entry in entries)
    assert entries[0]["friction_factor"] is None
    assert all(math.isfinite(entry["pressure_Pa"]) for entry in entries)


def test_every_case_is_recorded_and_the_worst_is_named():
    start = Quantity("5 degC", 278.15)
    then = solve(with_fluid(lifted(), temperature=start)).pumps["pump"]
    whole = recorded(with_fluid(lifted(), coldest_start=start))
    assert whole["worst"] == {"pump": "pump", "case": "coldest start"}
    assert list(whole["cases"]) == ["as drawn", "coldest start"]
    cold = whole["cases"]["coldest start"]
    assert list(cold) == CASE
    assert (cold["judged"], cold["why"]) == (True, None)
    assert cold["fluid"]["temperature_K"] == 278.15
    assert cold["pumps"]["pump"]["margin_Pa"] == then.margin
    assert whole["pumps"]["pump"]["margin_Pa"] != then.margin
    shown = recorded(with_fluid(lifted(), coldest_start=start), case="coldest start")
    assert shown["pumps"]["pump"]["margin_Pa"] == then.margin


def test_a_case_that_was_not_judged_says_why_and_has_no_pump():
    whole = recorded(with_fluid(lifted(), coldest_start=Quantity("-90 degC", 183.15)))
    cold = whole["cases"]["coldest start"]
    assert (cold["judged"], cold["pumps"], cold["fluid"]) == (False, {}, None)
    assert "-90" in cold["why"] or "−90" in cold["why"]
    assert 'not judged: "coldest start"' in whole["headline"]


def test_the_outlook_is_recorded():
    assert recorded(with_floor(lifted(), 99e3))["pumps"]["pump"]["outlook"]["severity"] == "stop"
    assert recorded(lifted())["pumps"]["pump"]["outlook"]["headline"].startswith("Within: ")


def test_answers_come_only_where_they_were_asked():
    assert "answers" not in recorded(lifted())["pumps"]["pump"]
    asked = recorded(lifted(), answers={"pump": ask_all(lifted(), "pump")})
    first = asked["pumps"]["pump"]["answers"][0]
    assert (first["question"], first["status"]) == ("highest port", "found")
    json.dumps(asked, allow_nan=False)


def test_the_table_reads_back_to_the_ledger():
    solution = solve(lifted())
    rows = list(csv.DictReader(io.StringIO(table(judge(lifted()), 'a "drawing", odd.toml')), CSV_COLUMNS))
    entries = solution.pumps["pump"].entries
    assert len(rows) == len(entries)
    for row, entry in zip(rows, entries, strict=True):
        assert row["file"] == 'a "drawing", odd.toml'
        assert (row["pump"], row["level"], row["alternative"]) == ("pump", "minimum", "")
        assert float(row["loss_Pa"]) == pytest.approx(entry.loss, rel=1e-12)
        assert (row["part"], row["element"]) == (entry.part, entry.element)


def test_every_line_of_the_table_has_the_budget_the_floor_the_margin_and_the_verdict():
    layout = with_floor(lifted(), 95e3)
    ledger = solve(layout).pumps["pump"]
    rows = list(csv.DictReader(io.StringIO(table(judge(layout), "f")), CSV_COLUMNS))
    for row in rows:
        for name in ("budget", "floor", "margin"):
            assert float(row[f"{name}_Pa"]) == pytest.approx(getattr(ledger, name), rel=1e-12)
    assert {row["verdict"] for row in rows} == {verdict(ledger, System.SI)}


def test_a_case_that_was_not_judged_has_a_line_that_says_why():
    raw = to_raw(read(WITHIN).base)
    raw["cases"] = {"all at rest": {"pumps": {"baler": {"at_rest": True}}}}
    judgement = judge(from_raw(raw))
    rows = list(csv.DictReader(io.StringIO(table(judgement, "f", cases={"all at rest"})), CSV_COLUMNS))
    assert [(row["case"], row["verdict"], row["margin_Pa"]) for row in rows] == [
        ("all at rest", "not judged: no pump runs in it", ""),
    ]


def test_the_answers_are_a_table_of_their_own():
    answers = ask_all(lifted(), "pump")
    rows = list(csv.DictReader(io.StringIO(reach_table({"pump": answers}, "f")), REACH_COLUMNS))
    assert [row["question"] for row in rows] == [answer.question for answer in answers]
    assert float(rows[0]["value"]) == answers[0].value
    assert {row["pump"] for row in rows} == {"pump"}


def test_the_record_names_the_program_and_every_alternative():
    layout = with_floor(lifted(), 95e3)
    record = recorded(lifted(), alternatives={"higher floor": judge(layout), "none": "pump: is not in it"})
    assert record["program"] == {"name": "Liftledger", "version": version("liftledger")}
    other, refused = record["alternatives"]["higher floor"], record["alternatives"]["none"]
    assert other["pumps"]["pump"]["margin_Pa"] == solve(layout).pumps["pump"].margin
    assert other["worst"] == {"pump": "pump", "case": "as drawn"}
    assert (refused["judged"], refused["why"], refused["pumps"]) == (False, "pump: is not in it", {})
