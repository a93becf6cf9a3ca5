"""Curves: every value the drawing solved by itself, in every case; crossings at zero margin."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from solver.answers.ask import ask
from solver.answers.curves import CurveSubject, curves, subjects, transitional, uncertain_margin
from solver.answers.inputs import INPUTS
from solver.answers.reasons import Reason
from solver.answers.uncertainty import uncertainty
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.file import read
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.quantities.units import Kind, System, quantity
from tests.solver.checking import lifted
from tests.thorough import one_in

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def offered(layout, pump):
    return {each.name: each for each in subjects(layout, solve(layout).pumps[pump], Level.MINIMUM)}


def put(layout, subject, value):
    return INPUTS[subject.name].put(layout, (subject.part,), value, Level.MINIMUM)


def by_case(layout, pump):
    return {
        name: solve(layout_in_case(layout, name, case)).pumps[pump].margin
        for name, case in cases_of(layout).items()
    }


@pytest.mark.parametrize(
    "name", one_in(3, ["port height", "temperature", "blocked", "elevation", "speed", "density"])
)
def test_every_value_is_the_drawing_with_it_in_every_case(name):
    layout = read(LAYOUTS / "winter-press.toml").base
    subject = offered(layout, "press")[name]
    drawn = curves(layout, "press", subject, points=9)
    judged = np.flatnonzero(~np.isnan(drawn.margin))
    assert judged.size >= 5
    for at in judged:
        alone = by_case(put(layout, subject, float(drawn.values[at])), "press")
        for case, margin in alone.items():
            assert drawn.cases[case].margin[at] == pytest.approx(margin, abs=0.01)
        assert drawn.margin[at] == pytest.approx(min(alone.values()), abs=0.01)
        assert alone[drawn.case[at]] == pytest.approx(min(alone.values()), abs=0.01)


def test_today_is_among_the_values():
    subject = offered(lifted(), "pump")["temperature"]
    drawn = curves(lifted(), "pump", subject)
    at = drawn.nearest(subject.now)
    assert drawn.values[at] == subject.now
    assert drawn.margin[at] == pytest.approx(solve(lifted()).pumps["pump"].margin)


def test_a_case_with_a_figure_of_its_own_does_not_follow_the_drawing_s():
    layout = read(LAYOUTS / "winter-press.toml").base
    drawn = curves(layout, "press", offered(layout, "press")["temperature"], points=9)
    assert np.ptp(drawn.cases["coldest start"].margin) == pytest.approx(0.0, abs=1e-6)
    assert np.ptp(drawn.cases["as drawn"].margin) > 1000.0


@pytest.mark.parametrize(
    ("drawing", "alternative", "name", "question"),
    [
        ("wash-water-npsh", "", "port height", "highest port"),
        ("wash-water-npsh", "", "flow", "largest flow"),
        ("wash-water-npsh", "Water at 80 °C", "density", "heaviest fluid"),
        ("shear-started-dry", "Pump beside the tank", "port height", "highest port"),
        ("shear-started-dry", "Pump beside the tank", "flow", "largest flow"),  # by the velocity
        ("header-two-pumps", "", "elevation", "highest site"),  # over already
    ],
)
def test_curves_go_as_far_as_the_answer(drawing, alternative, name, question):
    opened = read(LAYOUTS / f"{drawing}.toml")
    layout = opened.alternatives[alternative].layout if alternative else opened.base
    pump = next(iter(layout.pumps))
    answer = ask(question, layout, pump)
    drawn = curves(layout, pump, offered(layout, pump)[name])
    assert drawn.values[0] < answer.value < drawn.values[-1]
    if answer.reason == Reason.FLOOR:
        assert drawn.crossings == pytest.approx([answer.value], rel=1e-3)


def test_curves_that_hold_the_answer_go_no_farther():
    layout = read(LAYOUTS / "baler-flooded.toml").base
    subject = offered(layout, "baler")["port height"]
    drawn = curves(layout, "baler", subject)
    assert (drawn.values[0], drawn.values[-1]) == pytest.approx(subject.ends)


@pytest.mark.parametrize("name", ["port height", "elevation", "flow"])
def test_where_it_crosses_the_margin_is_zero(name):
    """To a thousandth of the way between two values that lie next to each other."""
    layout = read(LAYOUTS / "baler-flooded.toml").base
    subject = offered(layout, "baler")[name]
    crossings = curves(layout, "baler", subject).crossings
    assert len(crossings) == 1
    assert min(by_case(put(layout, subject, crossings[0]), "baler").values()) == pytest.approx(0.0, abs=2.0)


def test_a_case_that_cannot_be_solved_leaves_the_worst_unknown():
    frozen = replace(lifted().fluid, coldest_start=quantity("-90 degC", Kind.TEMPERATURE))
    layout = replace(lifted(), fluid=frozen)
    drawn = curves(layout, "pump", CurveSubject("elevation", "", 0.0, (0.0, 1000.0)), points=5)
    assert np.isnan(drawn.margin).all()
    assert set(drawn.case) == {""}
    assert drawn.crossings == ()


def test_values_that_cannot_be_drawn_are_left_out_and_no_others():
    """Below the intake there is no level."""
    subject = CurveSubject("level", "tank", 0.4, (0.01, 0.5))
    drawn = curves(lifted(), "pump", subject, points=50)
    lost = drawn.values[np.isnan(drawn.margin)]
    assert lost.size > 5
    assert lost.max() <= 0.13
    assert drawn.values[~np.isnan(drawn.margin)].min() <= 0.14


def test_transitional_flow_is_where_reynolds_is_between():
    subject = CurveSubject("flow", "pump", 0.002, (0.0005, 0.02))
    stretches = transitional(lifted(), "pump", subject, Level.MINIMUM)
    assert len(stretches) == 1
    low, high = stretches[0]
    inside = solve(lifted(flow=(low + high) / 2)).pumps["pump"].entries
    assert any(2000 < entry.reynolds < 4000 for entry in inside)
    outside = solve(lifted(flow=low / 2)).pumps["pump"].entries
    assert all(entry.reynolds <= 2000 for entry in outside)


def test_the_spread_is_that_of_draws_at_the_value_in_the_case_that_decides():
    layout = read(LAYOUTS / "baler-flooded.toml").base
    drawn = curves(layout, "baler", offered(layout, "baler")["elevation"], points=15)
    ranged = uncertain_margin(layout, drawn, Level.MINIMUM, draws=200)
    for at in (0, 7):
        index = drawn.nearest(ranged.values[at])
        name = drawn.case[index]
        moved = put(layout, drawn.subject, float(drawn.values[index]))
        drawing = layout_in_case(moved, name, cases_of(layout)[name])
        alone = uncertainty(drawing, "baler", draws=200)
        assert (ranged.low[at], ranged.high[at]) == pytest.approx(alone.quantiles(0.05, 0.95))
        assert ranged.low[at] < drawn.margin[index] < ranged.high[at]


def test_values_that_cannot_be_solved_are_named_with_what_keeps_them_from_it():
    """Heights at which the last bend of the line finds no room, just over and under a level line."""
    layout = read(LAYOUTS / "baler-flooded.toml").base
    subject = offered(layout, "baler")["port height"]
    drawn = curves(layout, "baler", subject, points=41)
    missing = np.isnan(drawn.margin)
    within = np.zeros_like(missing)
    for gap in drawn.gaps:
        within |= (gap.low <= drawn.values) & (drawn.values <= gap.high)
        nearest = min(gap.low, gap.high, key=lambda end: abs(end - subject.now))
        with pytest.raises(NetworkError) as refused:
            solve(put(layout, subject, nearest))
        assert gap.why(System.SI) == str(refused.value)
        assert set(gap.cases) == set(drawn.cases)
    assert len(drawn.gaps) == 2
    assert (within == missing).all()


def test_a_gap_reaches_from_where_a_fluid_s_figures_end():
    layout = read(LAYOUTS / "glycol-on-the-oil-line.toml").alternatives["Water-glycol, same line"].layout
    drawn = curves(layout, "caster", offered(layout, "caster")["temperature"], points=41)
    (gap,) = drawn.gaps
    assert gap.high == drawn.values[-1]
    assert "hold from" in gap.why(System.SI)


def test_the_band_of_the_draws_reaches_as_far_as_the_margin_is_judged():
    layout = read(LAYOUTS / "baler-flooded.toml").base
    subject = offered(layout, "baler")["port height"]
    drawn = curves(layout, "baler", subject, points=41)
    band = uncertain_margin(layout, drawn, Level.MINIMUM, draws=20)
    for gap in drawn.gaps:
        before = drawn.values[drawn.values < gap.low][-1]
        beyond = drawn.values[drawn.values > gap.high][0]
        for end in (before, beyond):
            (at,) = np.flatnonzero(band.values == end)
            assert np.isfinite(band.low[at])


def test_a_blocked_strainer_is_called_that():
    assert CurveSubject("blocked", "strainer", 0.0, (0.0, 0.9)).label == "strainer blocked"
    assert CurveSubject("port height", "press", 1.0, (0.0, 2.0)).label == "port height of press"
