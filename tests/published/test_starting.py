"""What it takes to set a line in motion, against figures worked out elsewhere."""

from __future__ import annotations

import math

import pytest

from solver.formulas import starting
from solver.layout.file import parse
from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import solve

INHG = 3386.389


@pytest.mark.parametrize(("seconds", "inhg"), [(0.5, 0.85), (0.1, 4.2)])
def test_a_short_line_of_a_press(seconds: float, inhg: float) -> None:
    """1.8 m of NPS 2 schedule 40 (52.5 mm bore) with oil of 877 kg/m³ at 118 L/min: 0.85 inHg where the flow
    rises in 0.5 s, 4.2 inHg in 0.1 s. Worked out by hand with Newton's second law."""
    rise = starting.steepest_rise.scalar(118e-3 / 60, seconds)
    row = starting.row_rise.scalar(1.8, 0.0525, rise)
    assert starting.loss.scalar(877.0, row) / INHG == pytest.approx(inhg, rel=0.012)


def test_newtons_second_law_of_a_slug() -> None:
    """Head L/g dv/dt, as in I. Bittle, Fluids, chapter 17, slow changes in flow: force over area of the mass.

    A slug of 2 m in a bore of 40 mm, 860 kg/m³, from rest to 1.2 m/s in 0.4 s."""
    area = math.pi / 4 * 0.04**2
    mass, acceleration = 860.0 * 2.0 * area, 1.2 / 0.4
    rise = starting.steepest_rise.scalar(1.2 * area, 0.4)
    taken = starting.loss.scalar(860.0, starting.row_rise.scalar(2.0, 0.04, rise))
    assert taken == pytest.approx(mass * acceleration / area, rel=1e-12)


LINE = """format = 1
title = "A straight riser"
units = "SI"

[site]
elevation = "0 m"

[fluid]
name = "Plain oil"
temperature = "40 degC"
density = [["15 degC", "877 kg/m^3"]]
viscosity = "46 cSt"

[reservoirs.tank]
outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "1 m"], ["0 m", "1 m"]]
depth = "1 m"
normal_level = "0.9 m"
minimum_level = "0.8 m"

[intakes.mouth]
reservoir = "tank"
at = ["0.5 m", "0.2 m"]
kind = "plain end"
size = "NPS 2 schedule 40"

[pumps.press]
at = ["0.5 m", "1.5 m"]
size = "NPS 2 schedule 40"
type = "gear"
flow = "118 L/min"
limit = { vacuum = "7 inHg" }
flow_rise = "RISE"

[runs.riser]
from = "mouth"
to = "press"
size = "NPS 2 schedule 40"
out_of_plane = "0.5 m"
"""


@pytest.mark.parametrize(("seconds", "inhg"), [(0.5, 0.85), (0.1, 4.2)])
def test_the_ledger_of_such_a_line_has_the_figure_as_an_entry(seconds: float, inhg: float) -> None:
    """That line as a drawing: 1.3 m of it drawn, 0.5 m out of the plane."""
    ledger = solve(parse(LINE.replace("RISE", f"{seconds} s")).base).pumps["press"]
    entry = next(entry for entry in ledger.entries if entry.kind == HeadEntryKind.FLOW_RISE)
    assert entry.length == pytest.approx(1.8)
    assert entry.loss / INHG == pytest.approx(inhg, rel=0.012)


def test_ten_lengths_at_the_speed_of_a_pressure_wave() -> None:
    """At a = 1000 m/s, as stated with the rule."""
    assert starting.shortest.scalar(1.8) == pytest.approx(0.018)
