"""What the card's pictures show, as data."""

from __future__ import annotations

import pytest

from sketch.card.card_picture import decades, limit_picture, viscosity_picture
from sketch.model.document import Document
from solver.properties import fluid
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS


def test_viscosity_with_the_cases_of_today_and_the_limits_of_the_pump() -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    picture = viscosity_picture(document.layout, document.outcome, "carriage", System.SI)
    assert [mark.text.partition(":")[0] for mark in picture.marks] == ["as drawn", "coldest start"]
    assert [mark.now for mark in picture.marks] == [True, False]
    warm, cold = picture.marks
    assert (warm.temperature, cold.temperature) == pytest.approx((318.15, 298.15))
    for temperature, viscosity in picture.curve:
        assert viscosity == fluid.state(document.layout.fluid, temperature).viscosity
    assert picture.curve[0][0] < cold.temperature
    assert picture.curve[-1][0] > warm.temperature
    start, running = picture.bounds
    assert (start.viscosity, start.stated) == (pytest.approx(860e-6), True)
    assert not running.stated
    assert "usual running limit" in running.text
    assert viscosity_picture(document.layout, document.outcome, "", System.SI).bounds == ()


def test_the_limit_is_taken_step_by_step_to_the_floor() -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    picture = limit_picture(document.ledger, System.US)
    surface, *steps, budget = picture.steps
    assert (surface.after, steps[0].before) == (document.ledger.surface, None)
    assert steps[-1].after == document.ledger.floor
    assert [step.before for step in steps[1:]] == [step.after for step in steps[:-1]]
    assert all("inHg abs" in step.text for step in steps)
    assert (budget.before, budget.after) == (document.ledger.floor, document.ledger.surface)
    assert limit_picture(None, System.US) is None


def test_decades() -> None:
    assert decades((3e-6, 4e-4)) == pytest.approx((1e-6, 1e-3))
    assert decades((1e-5,)) == pytest.approx((1e-5, 1e-4))


@pytest.mark.parametrize("system", list(System))
def test_the_bars_of_a_limit_are_as_long_as_their_figures(system: System) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    ledger = document.ledger
    picture = limit_picture(ledger, system)
    assert ledger is not None
    assert picture is not None
    lengths = {
        step.role: end - begin for step, (begin, end) in zip(picture.steps, picture.spans(), strict=True)
    }
    assert lengths["budget"] / lengths["surface"] == pytest.approx(ledger.budget / ledger.surface)
    assert picture.ends[0] == 0
    assert picture.ticks[0] == (0.0, "0")
    assert 3 <= len(picture.ticks) <= 5
    assert picture.ticks[-1][0] <= ledger.surface
