"""Variants in rows: what each says, and that nothing unknown looks well."""

import csv
import io
import json
from dataclasses import replace

import numpy as np

from solver.answers.axes import Piece, pieces, read_axis
from solver.quantities.units import System
from solver.report import variants
from tests.solver.checking import lifted, with_floor

AXES = [read_axis("elevation=0 m..2000 m/2")]


def solved(layout):
    (piece,) = pieces(layout, AXES)
    return list(variants.rows(piece))


def test_a_row_says_what_the_case_that_decides_leaves():
    low, high = solved(lifted())
    assert low.case == "as drawn"
    assert low.figure("margin") > high.figure("margin")
    assert (low.over, high.over) == (False, True)
    text = variants.text_line(low, AXES, System.SI)
    assert text.split() == ["0", "m", "pump", *text.split()[3:]]
    assert text.rstrip().endswith("as drawn")


def test_over_is_said():
    (_, high) = solved(with_floor(lifted(), 90e3))
    assert high.over
    assert "(over" in variants.text_line(high, AXES, System.SI)


def unjudged():
    (piece,) = pieces(lifted(), AXES)
    return list(variants.rows(Piece(piece.figures, piece.cases, {"summer": "no such figure"})))


def test_a_case_that_was_not_judged_leaves_no_figure():
    row, _ = unjudged()
    assert not row.judged
    assert row.figure("margin") is None
    assert variants.text_line(row, AXES, System.SI).rstrip().endswith("not judged")
    (cells,) = csv.reader(io.StringIO(variants.csv_line(row, "a.toml", None)))
    assert "not judged" in cells
    assert json.loads(variants.json_row(row, AXES, "a.toml", None))["margin_Pa"] is None


def test_a_column_that_breaks_in_any_case_is_not_sound():
    (piece,) = pieces(lifted(), AXES)
    kept = piece.cases["as drawn"]
    (kept_values,) = kept.values()
    boiling = {"pump": replace(kept_values, vapor_pressure=np.full(2, 1e6), margin=kept_values.margin + 1.0)}
    (row, _) = variants.rows(Piece(piece.figures, {"as drawn": kept, "hot": boiling}, {}))
    assert (row.case, row.broken, row.over) == ("as drawn", "hot", True)


def test_csv_has_a_cell_for_every_heading():
    row, _ = solved(lifted())
    heading = variants.csv_heading(AXES)
    assert heading.startswith("file,alternative,elevation_m,pump,case,margin_Pa,")
    assert heading.count(",") == variants.csv_line(row, "a.toml", None).count(",")
    assert tuple(json.loads(variants.json_row(row, AXES, "a.toml", None))) == tuple(
        heading.strip().split(",")
    )


def test_no_gauge_figure_stands_where_the_column_breaks_before_the_port():
    row = solved(lifted(flow=0.03))[0]
    assert row.figure("inlet") < 0
    assert variants.text_line(row, AXES, System.US).split()[5] == "breaks"
    assert json.loads(variants.json_row(row, AXES, "a.toml", None))["vacuum_Pa"] == row.figure("vacuum")
