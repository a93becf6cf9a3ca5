"""Reach, reach map, curves and draws on a line of twenty elements, against the plain loop over its rows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import process_time

import numpy as np
import pytest

from solver.answers import ask
from solver.answers.curves import curves, subjects
from solver.answers.reach_map import reach_map
from solver.answers.uncertainty import DRAWS, uncertainty
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.parts import Case, Layout, Level
from solver.ledger.solve import solve
from solver.network import build
from solver.properties import fluid
from solver.quantities.units import Kind, quantity
from tests import drawings
from tests.bench.clock import medians, tell
from tests.bench.test_solve import plain_loop

pytestmark = pytest.mark.bench

LOOPS = 200
"""Turns of the plain loop that are timed together."""


def three_cases() -> Layout:
    """Twenty elements, as drawn, colder and higher up."""
    base = drawings.steps(20)
    cold, high = quantity("15 degC", Kind.TEMPERATURE), quantity("400 m", Kind.ELEVATION)
    cases = {
        "cold": Case({"fluid": {"temperature": cold.text}}, {("fluid", "temperature"): cold}),
        "high": Case({"site": {"elevation": high.text}}, {("site", "elevation"): high}),
    }
    return replace(base, cases=cases)


def a_plain_loop(layout: Layout, repeats: int = 15) -> float:
    (spent,) = medians(plain_loops(layout), repeats=repeats)
    return spent / LOOPS


def plain_loops(layout: Layout) -> Callable[[], None]:
    built, state = build.build(layout), fluid.state(layout.fluid)

    def plain() -> None:
        for _ in range(LOOPS):
            plain_loop(built, state, 1e-3)

    return plain


def test_all_of_reach_in_three_cases() -> None:
    """Sums of one case while a place is looked for; an answer is then solved whole, with its findings."""
    layout = three_cases()
    candidates = plain_loops(layout), lambda: ask.ask_all(layout, "pump")
    loops, spent = medians(*candidates, repeats=15, clock=process_time)
    each = spent / len(ask.QUESTIONS) / (loops / LOOPS)
    print()
    tell("an answer in three cases, in plain loops", each, "loops", 150)
    assert each < 150


def test_the_reach_map_of_sixty_by_forty_places() -> None:
    layout = three_cases()
    x, y = (each.si for each in layout.pumps["pump"].at)
    xs, ys = np.linspace(x - 1.0, x + 1.0, 60), np.linspace(y - 1.0, y + 1.0, 40)
    drawn = {
        name: (layout_in_case(layout, name, case), Level.MINIMUM) for name, case in cases_of(layout).items()
    }
    loop = a_plain_loop(layout)
    (spent,) = medians(lambda: reach_map(drawn, "pump", xs, ys), repeats=5)
    print()
    tell("60 by 40 places in three cases", spent * 1e3, "ms")
    tell("a place in a case, in plain loops (at most 1)", spent / (2400 * 3) / loop, "loops", 1)
    assert spent < 2400 * 3 * loop


def test_a_curve_in_three_cases() -> None:
    layout = three_cases()
    ledger = solve(layout).pumps["pump"]
    subject = next(each for each in subjects(layout, ledger, Level.MINIMUM) if each.name == "temperature")
    loop = a_plain_loop(layout)
    (spent,) = medians(lambda: curves(layout, "pump", subject), repeats=9)
    print()
    tell("121 temperatures in three cases", spent * 1e3, "ms")
    tell("a value in a case, in plain loops (at most 10)", spent / (121 * 3) / loop, "loops", 10)
    assert spent < 10 * 121 * 3 * loop


def test_ten_thousand_draws() -> None:
    base = drawings.steps(20)
    loop = a_plain_loop(base)
    (spent,) = medians(lambda: uncertainty(base, "pump"), repeats=5)
    print()
    tell("ten thousand draws", spent * 1e3, "ms")
    tell("a draw, in plain loops (at most 1)", spent / DRAWS / loop, "loops", 1)
    assert spent < DRAWS * loop
