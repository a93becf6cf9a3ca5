"""The figures of findings: in the case in which each is worst, and how it stands against its threshold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from solver.fixes import figures
from solver.fixes.figures import Figure, figure_of
from solver.layout import file
from solver.quantities.units import Kind, System
from tests.drawings import RISER
from tests.solver.fixes.examples import judged

FASTER = '\n[cases.faster]\npumps.carriage.speed = "1800 rpm"\n'


def test_a_figure_says_how_it_stands_against_its_threshold() -> None:
    fast = Figure(1.3, 1.2, Kind.VELOCITY)
    assert fast.in_words(System.SI) == "1.30 m/s, still over 1.20 m/s"
    assert replace(fast, value=1.1).in_words(System.SI) == "1.10 m/s, under 1.20 m/s"
    elsewhere = replace(fast, of="header", called="the usual")
    assert elsewhere.in_words(System.SI) == "1.30 m/s in header, still over the usual 1.20 m/s"
    deep = Figure(0.30, 0.25, Kind.LENGTH, least=True)
    assert deep.excess < 0
    assert deep.in_words(System.SI).startswith("0.30")
    assert replace(deep, value=0.25).in_words(System.SI).endswith("just enough")
    assert replace(deep, value=0.2).in_words(System.SI).partition(", ")[2].startswith("still under")


def test_the_case_in_which_a_figure_is_worst_is_the_one_that_counts() -> None:
    layout = file.parse(RISER.replace("format = 1", "format = 2") + FASTER).base
    now = judged(layout)
    velocity = figure_of(now, figures.velocity, "riser")
    assert velocity is not None
    assert velocity.case == "faster"
    bore = 0.0525  # ASME B36.10, NPS 2 schedule 40: 2.067 in
    assert velocity.value == pytest.approx(82e-6 * 30 / (math.pi / 4 * bore**2), rel=1e-3)
    assert now.too_fast == pytest.approx(velocity.value - velocity.threshold)
    assert figure_of(now, figures.no_figure, "riser") is None
