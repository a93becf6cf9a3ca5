"""Draws against closed forms, against plain draws, and against single solutions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.answers import uncertainty as unsure
from solver.answers.uncertainty import (
    FROM_START_TO_START,
    UncertainRange,
    Unsure,
    _latin_hypercube,
    default_ranges,
    pressure_bands,
    uncertainty,
)
from solver.layout import file
from solver.layout.parts import Layout, Level, Limit
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED, narrowed, twins_text
from tests.solver.checking import laminar_resistance, lifted
from tests.thorough import first

LAYOUTS: dict[str, Layout] = {path.stem: file.read(path).base for path in SHIPPED}
CARRIAGE = LAYOUTS["carriage-at-altitude"]


def barometer(half: float) -> UncertainRange:
    return UncertainRange(Unsure.BAROMETER, -half, half, False, Kind.VACUUM, "a test")


def test_a_barometer_alone_moves_the_margin_by_as_much() -> None:
    """A closed form: the margin is the barometer less what is fixed, so it is spread as evenly."""
    open_air = replace(CARRIAGE, site=replace(CARRIAGE.site, weather_allowance=None))
    drawn = solve(open_air).pumps["carriage"].margin
    draws = uncertainty(open_air, "carriage", ranges=(barometer(4000.0),))
    low, middle, high = draws.quantiles(0.05, 0.5, 0.95)
    assert middle == pytest.approx(drawn, abs=2.0)
    assert (low, high) == pytest.approx((drawn - 3600.0, drawn + 3600.0), abs=4.0)
    assert draws.over == pytest.approx(min(max(0.5 - drawn / 8000.0, 0.0), 1.0), abs=1e-3)
    assert draws.importance[Unsure.BAROMETER] == pytest.approx(1.0)


def test_the_same_seed_draws_the_same_and_another_does_not() -> None:
    first, again, other = (uncertainty(CARRIAGE, "carriage", draws=500, seed=seed) for seed in (7, 7, 8))
    assert np.array_equal(first.margin, again.margin)
    assert not np.array_equal(first.margin, other.margin)


def test_lines_in_parallel_have_fewer_draws_as_each_is_balanced_by_itself() -> None:
    twins = file.parse(twins_text(), "drawing").base
    pump = next(iter(twins.pumps))
    few = uncertainty(twins, pump)
    assert few.margin.size == unsure.BALANCED_DRAWS
    assert not few.not_judged
    fewer = uncertainty(twins, pump, draws=200, seed=2)
    spread = np.ptp(few.margin)
    assert few.quantiles(0.5)[0] == pytest.approx(fewer.quantiles(0.5)[0], abs=0.05 * spread)
    assert uncertainty(CARRIAGE, "carriage").margin.size == unsure.DRAWS


@pytest.mark.thorough
@pytest.mark.parametrize("name", first(["carriage-at-altitude", "header-two-pumps", "wash-water-npsh"]))
def test_ten_thousand_even_draws_agree_with_many_plain_ones(name: str) -> None:
    layout = LAYOUTS[name]
    pump = next(iter(layout.pumps))
    draws = uncertainty(layout, pump)
    random = np.random.default_rng(3)
    plain = {each.what: random.uniform(each.low, each.high, 100_000) for each in draws.ranges}
    margin = unsure._margins(layout, pump, Level.MINIMUM, plain)  # the draws are the test's own
    for level in (0.05, 0.5, 0.95):
        spread = float(np.std(margin))
        assert draws.quantiles(level)[0] == pytest.approx(np.quantile(margin, level), abs=0.05 * spread)
    assert draws.over == pytest.approx(float(np.mean(margin < 0)), abs=0.02)


def test_a_draw_is_a_drawing_solved() -> None:
    """Each range at one point alone: the margin is that of the drawing with the figure typed in."""
    warmer = UncertainRange(Unsure.TEMPERATURE, 5.0, 5.0, False, Kind.TEMPERATURE, "a test")
    draws = uncertainty(CARRIAGE, "carriage", ranges=(warmer,), draws=3)
    typed = replace(CARRIAGE.fluid, temperature=quantity("50 degC", Kind.TEMPERATURE))
    assert draws.margin == pytest.approx([solve(replace(CARRIAGE, fluid=typed)).pumps["carriage"].margin] * 3)


@pytest.mark.parametrize("what", Unsure)
def test_every_thing_that_is_not_known_moves_the_margin(what: Unsure) -> None:
    layout = LAYOUTS["winter-press"]
    ranges = [each for each in default_ranges(layout) if each.what is what]
    assert np.ptp(uncertainty(layout, "press", ranges=ranges, draws=50).margin) > 0.1


def test_fittings_that_take_more_take_more_in_laminar_flow_too() -> None:
    """There a narrowing has a coefficient of its own, in the place of the turbulent one."""
    drawn = narrowed()
    half_more = UncertainRange(Unsure.FITTINGS, 1.5, 1.5, True, Kind.NUMBER, "a test")
    margins = uncertainty(drawn, "press", ranges=(half_more,), draws=3).margin
    left = solve(drawn).pumps["press"].margin - 0.5 * laminar_resistance(drawn, "press")
    assert margins == pytest.approx([left] * 3, rel=1e-6)


def test_a_draw_that_cannot_be_solved_counts_as_over() -> None:
    far = UncertainRange(Unsure.TEMPERATURE, 0.0, 300.0, False, Kind.TEMPERATURE, "past the fluid's figures")
    draws = uncertainty(LAYOUTS["baler-flooded"], "baler", ranges=(far,), draws=120)
    assert 0.5 < draws.not_judged < 1.0
    assert draws.over >= draws.not_judged


def test_draws_that_end_one_way_are_not_looked_for_one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """An intake at the minimum level: every draw of a lower level leaves it dry, half of them all."""
    solved = []
    network = unsure._network
    monkeypatch.setattr(unsure, "_network", lambda *given: solved.append(given) or network(*given))
    layout = lifted(at=(0.9, 0.4))
    drawn = uncertainty(layout, "pump", draws=400)
    assert 0.3 < drawn.not_judged < 0.7
    assert len(solved) < 60
    assert drawn.over >= drawn.not_judged


def test_what_differs_between_starts_is_named_apart_and_every_range_has_its_reason() -> None:
    assert set(Unsure) > FROM_START_TO_START
    assert all(each.reason for each in default_ranges(CARRIAGE))
    assert Unsure.BLOCKED not in {each.what for each in default_ranges(LAYOUTS["baler-flooded"])}


def test_the_sentence_never_rounds_a_chance_to_none() -> None:
    header = LAYOUTS["header-two-pumps"]
    least = Limit("vacuum", ((None, quantity("8.2 inHg", Kind.VACUUM)),))
    pumps = {**header.pumps, "pilot": replace(header.pumps["pilot"], limit=least)}
    draws = uncertainty(replace(header, pumps=pumps), "pilot")
    assert 0 < draws.over < 0.005
    assert "fewer than 1 of 100" in draws.sentence


def test_bad_questions_are_refused() -> None:
    with pytest.raises(KeyError):
        uncertainty(CARRIAGE, "none")
    with pytest.raises(ValueError, match="no range"):
        uncertainty(CARRIAGE, "carriage", ranges=(barometer(-1.0),))


def test_a_barometer_alone_moves_every_pressure_along_the_line_by_as_much() -> None:
    """A closed form: all of the line goes up and down with the air."""
    open_air = replace(CARRIAGE, site=replace(CARRIAGE.site, weather_allowance=None))
    ledger = solve(open_air).pumps["carriage"]
    bands = pressure_bands(open_air, "carriage", ranges=(barometer(4000.0),))
    assert bands is not None
    assert bands.surface == pytest.approx((ledger.surface - 3600.0, ledger.surface + 3600.0), abs=10.0)
    assert list(bands.after) == [entry.key for entry in ledger.entries]
    for entry in ledger.entries:
        expected = entry.pressure - 3600.0, entry.pressure + 3600.0
        assert bands.after[entry.key] == pytest.approx(expected, abs=10.0)


def test_pressures_that_no_draw_has_are_none() -> None:
    frozen = UncertainRange(Unsure.TEMPERATURE, -200.0, -190.0, False, Kind.TEMPERATURE, "a test")
    assert pressure_bands(CARRIAGE, "carriage", ranges=(frozen,), draws=4) is None


def test_every_slice_of_every_range_has_one_draw() -> None:
    shares = _latin_hypercube(3, 200, 5)
    assert (np.sort((shares * 200).astype(int), axis=0) == np.arange(200)[:, None]).all()
    assert not (shares[:, 0] == shares[:, 1]).any()


@pytest.mark.thorough
def test_draws_are_those_of_an_independent_library() -> None:
    from scipy.stats.qmc import LatinHypercube

    drawn = LatinHypercube(8, rng=np.random.default_rng(1)).random(1000)
    assert (drawn == _latin_hypercube(8, 1000, 1)).all()
