"""What the curves show, in figures: lines, crossings, readings, CSV."""

import csv
import io
from pathlib import Path

import numpy as np
import pytest

from sketch.plots.curves import (
    CurveQuantity,
    Unjudged,
    as_csv,
    kept_text,
    picture,
    unjudged_text,
    whole_stretches,
)
from solver.answers.curves import UncertainMargin, curves, subjects
from solver.layout.file import read
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities import units
from solver.quantities.units import Kind, System
from tests.solver.checking import lifted, with_fluid
from tests.solver.findings.test_missing import OWN

LAYOUTS = Path(__file__).parents[3] / "layouts"


def drawn(name="carriage-at-altitude.toml", pump="carriage", what="port height"):
    layout = read(LAYOUTS / name).base
    ledger = solve(layout).pumps[pump]
    subject = next(each for each in subjects(layout, ledger, Level.MINIMUM) if each.name == what)
    return curves(layout, pump, subject, points=41)


@pytest.mark.parametrize("system", list(System))
def test_figures_are_in_the_unit_shown(system):
    curves = drawn()
    shown = picture(curves, CurveQuantity.MARGIN, system, {})
    worst = shown.lines[0]
    assert worst.ys[3] == pytest.approx(units.to_display(curves.margin[3], Kind.VACUUM, system))
    assert shown.today.x == pytest.approx(units.to_display(curves.subject.now, Kind.LENGTH, system))
    assert [mark.text for mark in shown.crossings] == [
        units.typeset(at, Kind.LENGTH, system) for at in curves.crossings
    ]


def test_every_case_has_its_line_and_the_worst_follows_the_lowest():
    shown = picture(drawn(), CurveQuantity.MARGIN, System.SI, {})
    by_name = {line.name: line.ys for line in shown.lines}
    assert set(by_name) == {"worst case", "as drawn", "coldest start"}
    assert by_name["worst case"] == pytest.approx(np.fmin(by_name["as drawn"], by_name["coldest start"]))
    assert [
        line.name for line in picture(drawn(), CurveQuantity.MARGIN, System.SI, {}, every_case=False).lines
    ] == ["worst case"]


@pytest.mark.parametrize(
    ("quantity", "limit"), [(CurveQuantity.VACUUM, "allowed vacuum"), (CurveQuantity.PRESSURE, "floor")]
)
def test_limits_are_drawn_and_entered_where_the_margin_is_spent(quantity, limit):
    curves = drawn()
    shown = picture(curves, quantity, System.SI, {})
    worst, wall = (next(line for line in shown.lines if line.name == name) for name in ("worst case", limit))
    sign = 1 if quantity is CurveQuantity.VACUUM else -1
    assert ((worst.ys - wall.ys) * sign > 0).tolist() == (curves.margin < 0).tolist()


def test_npsh_has_what_is_required():
    shown = picture(drawn("wash-water-npsh.toml", "wash", "temperature"), CurveQuantity.NPSH, System.SI, {})
    assert [line.name for line in shown.lines] == ["NPSH available", "NPSH required"]


def test_without_a_vapour_pressure_no_npsh_and_no_boiling_is_drawn_and_it_is_said():
    layout = with_fluid(lifted(), **OWN)
    subject = next(each for each in subjects(layout, solve(layout).pumps["pump"], Level.MINIMUM))
    unknown = curves(layout, "pump", subject, points=5)
    shown = picture(unknown, CurveQuantity.NPSH, System.SI, {})
    assert np.isnan(shown.lines[0].ys).all()
    assert "no vapour pressure is typed" in shown.remarks[0]
    boils = next(each for each in picture(unknown, CurveQuantity.PRESSURE, System.SI, {}).bands
                 if each.role == "vapour")  # fmt: skip
    assert np.isnan(boils.high).all()
    row = next(csv.DictReader(io.StringIO(as_csv(unknown, {}))))
    assert (row["npsh_available [m]"], row["vapor_pressure [Pa]"]) == ("", "")
    assert float(row["margin [Pa]"]) > 0


def test_a_reading_names_the_case_and_says_what_is_not_judged():
    curves = drawn()
    shown = picture(curves, CurveQuantity.MARGIN, System.SI, {})
    text = shown.reading(float(shown.lines[0].xs[5]))
    assert f'worst case ("{curves.case[5]}"): ' in text
    assert shown.figure(float("nan")) == "not judged"


def test_csv_has_every_case_and_value_in_si():
    curves = drawn()
    band = UncertainMargin(curves.values[:2], np.array([-500.0, np.nan]), np.array([500.0, np.nan]))
    table = list(csv.DictReader(io.StringIO(as_csv(curves, {"other": curves}, band))))
    *rows, low, _, high, unknown = table
    assert len(rows) == 2 * 2 * curves.values.size
    assert float(rows[0]["port height of carriage [m]"]) == pytest.approx(curves.values[0])
    assert float(rows[0]["margin [Pa]"]) == pytest.approx(curves.cases[rows[0]["case"]].margin[0], rel=1e-6)
    assert all(name.endswith("]") for name in list(rows[0])[2:])
    assert (low["margin [Pa]"], high["margin [Pa]"], unknown["margin [Pa]"]) == ("-500", "500", "")


def test_reasons_that_differ_by_their_figures_alone_are_given_once() -> None:
    gaps = (
        Unjudged(0.0, 1.0, "from 0.1 m to 1.0 m", "", "lead: bend 1 needs 0.15 m, which is 0.02 m long"),
        Unjudged(2.0, 3.0, "from 2.0 m to 3.0 m", "", "lead: bend 1 needs 0.15 m, which is 0.11 m long"),
        Unjudged(4.0, 4.0, "at 4.0 m", ' in "cold"', "the flow does not settle"),
    )
    assert unjudged_text(gaps) == (
        "Not judged from 0.1 m to 1.0 m and from 2.0 m to 3.0 m: lead: bend 1 needs 0.15 m, which is 0.02 m "
        'long. Not judged at 4.0 m in "cold": the flow does not settle.'
    )
    assert unjudged_text(()) == ""


def test_a_gap_parts_a_line() -> None:
    known = np.array([True, True, False, False, True, False])
    assert whole_stretches(known) == [slice(0, 2), slice(4, 5)]
    assert whole_stretches(np.zeros(3, dtype=bool)) == []
    assert whole_stretches(np.ones(3, dtype=bool)) == [slice(0, 3)]


def test_cases_that_keep_a_figure_of_their_own_are_named() -> None:
    """The coldest start has its temperature typed; the port is one for all cases."""
    assert list(kept_text(drawn(what="temperature"))) == ['Over temperature, "coldest start" keeps its own']
    assert list(kept_text(drawn())) == []
    shown = picture(drawn(what="temperature"), CurveQuantity.MARGIN, System.SI, {})
    assert 'Over temperature, "coldest start" keeps its own' in shown.remarks
