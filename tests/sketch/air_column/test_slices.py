"""The air column as data: pressures to heights, and the slices the line takes out of it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.air_column import slices
from solver.layout.file import read
from solver.ledger.solve import PumpLedger, solve
from solver.properties.atmosphere import SEA_LEVEL
from tests.drawings import SHIPPED
from tests.sketch import samples
from tests.sketch.air_column.test_notes import texts_of

TOP, BOTTOM = 100.0, 600.0

ledgers = st.builds(
    lambda atmosphere, gauge, budget, factor, credit: samples.ledger(
        {"tank/flooded head": -credit, **{key: share * factor for key, share in samples.SHARES.items()}},
        budget=budget,
        atmosphere=atmosphere,
        surface=atmosphere + gauge,
    ),
    st.floats(55_000, 103_000),
    st.floats(-5_000, 50_000),
    st.one_of(st.floats(500, 40_000), st.floats(-20_000, -500)),
    st.floats(0.05, 2.0),
    st.floats(0.0, 1.5),
)


@given(ledgers)
def test_the_scale_falls_with_pressure_and_holds_all_that_matters(ledger: PumpLedger) -> None:
    scale = slices.scale(ledger, TOP, BOTTOM)
    pressures = [k * scale.most / 200 for k in range(201)]
    heights = [scale.y(pressure) for pressure in pressures]
    assert heights == sorted(heights, reverse=True)
    assert scale.y(0.0) == pytest.approx(BOTTOM)
    for pressure in (SEA_LEVEL, ledger.atmosphere, ledger.surface, ledger.floor):
        assert TOP - 1e-6 <= scale.y(pressure) <= BOTTOM


@given(ledgers)
def test_no_cut_hides_a_slice_nor_the_floor(ledger: PumpLedger) -> None:
    scale = slices.scale(ledger, TOP, BOTTOM)
    for piece in slices.slices(ledger):
        for pressure in (piece.high, piece.low):
            assert pressure < 0 or scale.shows(pressure)
    assert scale.shows(ledger.floor)
    assert scale.shows(ledger.atmosphere)


@given(ledgers)
def test_between_the_cuts_equal_pressures_have_equal_heights(ledger: PumpLedger) -> None:
    scale = slices.scale(ledger, TOP, BOTTOM)
    for piece in slices.slices(ledger):
        if piece.low >= 0 and not any(low < piece.high and piece.low < high for high, low in scale.cuts):
            height = scale.y(piece.low) - scale.y(piece.high)
            assert height == pytest.approx((piece.high - piece.low) * scale.per_pascal, rel=1e-6, abs=1e-6)


@given(ledgers)
def test_slices_lie_end_to_end_from_the_surface_to_the_port(ledger: PumpLedger) -> None:
    pieces = slices.slices(ledger)
    paid = [piece for piece in pieces if piece.credit and piece.high > piece.low]
    spends = [piece for piece in pieces if not piece.credit]
    level = ledger.surface
    for piece in paid:
        assert piece.low == pytest.approx(level)
        level = piece.high
    for piece in spends:
        assert piece.high == pytest.approx(level)
        level = piece.low
    assert level == pytest.approx(ledger.inlet)


def test_slices_keep_the_walking_order() -> None:
    pieces = slices.slices(samples.ledger(samples.SHARES))
    assert [piece.key for piece in pieces] == list(samples.SHARES)
    assert all(one.low == other.high for one, other in pairwise(pieces))


def test_a_slice_is_parted_where_the_floor_runs_through_it() -> None:
    (piece,) = slices.slices(samples.ledger({"a/1": 1.5}))
    floor = piece.high - samples.BUDGET
    assert slices.parts(piece, floor) == ((piece.high, floor, False), (floor, piece.low, True))
    assert slices.parts(piece, piece.low - 1.0) == ((piece.high, piece.low, False),)
    assert slices.parts(piece, piece.high + 1.0) == ((piece.high, piece.low, True),)


def test_the_air_that_is_not_here_is_cut_short_before_the_budget_is_crowded() -> None:
    high_up = samples.ledger(samples.SHARES, budget=4_000.0, atmosphere=72_000.0)
    scale = slices.scale(high_up, TOP, BOTTOM)
    assert len(scale.cuts) == 2
    assert (scale.y(high_up.floor) - scale.y(high_up.surface)) > 0.4 * (BOTTOM - TOP)


@pytest.mark.parametrize("height", [280.0, 350.0, 640.0, 1200.0])
@pytest.mark.parametrize("atmosphere", [55_000.0, 72_000.0, 85_000.0, 95_000.0, 101_325.0])
def test_however_much_air_is_missing_most_of_the_height_is_budget(height: float, atmosphere: float) -> None:
    ledger = samples.ledger(samples.SHARES, budget=9_000.0, atmosphere=atmosphere)
    for dot in (1.0, 2.0):
        scale = slices.scale(ledger, 0.0, height * dot, dot)
        share = (scale.y(ledger.floor) - scale.y(ledger.surface)) / (height * dot)
        assert share > 0.5, dot
        hollow = scale.y(ledger.atmosphere) - scale.y(SEA_LEVEL)
        assert hollow <= 0.2 * height * dot
        assert hollow > 0.06 * height * dot or atmosphere > 94_000.0


def test_a_little_missing_air_is_drawn_to_scale() -> None:
    ledger = samples.ledger(samples.SHARES, atmosphere=99_000.0)
    scale = slices.scale(ledger, TOP, BOTTOM)
    hollow = scale.y(ledger.atmosphere) - scale.y(SEA_LEVEL)
    assert hollow == pytest.approx((SEA_LEVEL - ledger.atmosphere) * scale.per_pascal)


def test_where_a_credit_fills_the_room_of_the_missing_air_it_is_not_pointed_at() -> None:
    flooded = samples.ledger({"tank/flooded head": -0.5, **samples.SHARES}, atmosphere=99_000.0)
    assert not any(text.startswith(("sea level", "not here")) for text in texts_of(flooded))


def test_a_change_of_bore_belongs_to_the_line_that_ends_there() -> None:
    layout = read(next(path for path in SHIPPED if path.stem == "wash-water-npsh")).base
    ledger = solve(layout).pumps["wash"]
    change = next(entry for entry in ledger.entries if entry.kind == "bore change")
    assert slices.part_of(ledger, change.key) == "riser" != change.key.partition("/")[0]
    assert slices.part_of(ledger, "margin") == slices.part_of(None, change.key) == ""
