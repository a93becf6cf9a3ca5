from dataclasses import replace

import pytest

from sketch.model.document import Document
from sketch.plots.profile import profile, span
from solver.answers.uncertainty import PressureBands
from solver.quantities import units
from solver.quantities.units import Kind, System
from tests import drawings
from tests.sketch import by_hand


def test_the_profile_runs_unbroken_from_the_surface_to_the_port() -> None:
    shown = profile(by_hand.solution(), "press", System.SI)
    assert (shown.stretches[0].x0, shown.stretches[0].y0) == pytest.approx((0.0, 101.325))
    for one, other in zip(shown.stretches, shown.stretches[1:], strict=False):
        assert (one.x1, one.y1) == (other.x0, other.y0)
    assert (shown.stretches[-1].x1, shown.stretches[-1].y1) == pytest.approx((2.0, 89.325))


def test_floor_atmosphere_and_vapour_pressure_are_named_with_their_figures() -> None:
    shown = profile(by_hand.solution(vapor_pressure=2_340.0), "press", System.SI)
    texts = {level.role: level.text for level in shown.levels}
    assert texts["floor"] == "Floor 81.33 kPa abs"
    assert texts["atmosphere"] == "Site atmosphere 101.33 kPa abs"
    assert texts["vapour"] == "Vapour pressure 2.34 kPa abs"
    us = profile(by_hand.solution(), "press", System.US)
    assert "24.02 inHg abs" in next(level.text for level in us.levels if level.role == "floor")


def test_a_vapour_pressure_that_nobody_has_typed_has_no_figure() -> None:
    solution = by_hand.solution()
    fluid = replace(solution.fluid, unknown=("vapor_pressure",))
    shown = profile(replace(solution, fluid=fluid), "press", System.SI)
    assert next(each.text for each in shown.levels if each.role == "vapour") == "Vapour pressure not typed"


def test_a_vapour_pressure_far_below_does_not_flatten_the_rest() -> None:
    low, high = span(profile(by_hand.solution(), "press", System.SI))
    assert 75.0 < low < 81.0
    assert 101.3 < high < 105.0
    near, _ = span(profile(by_hand.solution(vapor_pressure=75_000.0), "press", System.SI))
    assert near < 75.0


def test_the_margin_is_named_within_or_over() -> None:
    assert profile(by_hand.solution(), "press", System.SI).margin == "Margin 8.00 kPa"
    over = profile(by_hand.solution(extra=9_000.0), "press", System.SI)
    assert over.margin == "Over by 1.00 kPa"
    hair = profile(by_hand.solution(extra=8_001.0), "press", System.SI)
    assert hair.margin == "Over by less than 0.01 kPa"
    past = [each.past for each in over.stretches]
    assert past[:3] == [1.0, 1.0, 1.0]
    assert 0.0 < past[3] < 1.0
    assert past[4] == 0.0


def test_the_other_cases_stand_behind_where_asked(qapp: object) -> None:
    document = Document(keeps=False)
    document.open(next(path for path in drawings.SHIPPED if path.stem == "winter-press"))
    document.set_case("strainer due")
    assert document.ledgers_of_other_cases == ()
    document.set_other_cases(True)
    judged = [name for name, case in document.outcome.judgement.cases.items() if case.judged]
    shown = profile(document.solution, document.pump, document.system, document.ledgers_of_other_cases)
    assert [other.case for other in shown.others] == [name for name in judged if name != "strainer due"]
    for other, (_, ledger) in zip(shown.others, document.ledgers_of_other_cases, strict=True):
        _, pressure = other.points[-1]
        assert pressure == pytest.approx(units.to_display(ledger.inlet, Kind.ABSOLUTE, document.system))
        assert other.sound is ledger.sound
    low, high = span(shown)
    assert all(low <= y <= high for other in shown.others for _, y in other.points)


def test_the_band_of_the_draws_runs_along_the_line_from_the_surface_to_the_port() -> None:
    solution = by_hand.solution()
    ledger = solution.pumps["press"]
    after = {entry.key: (entry.pressure - 2000.0, entry.pressure + 1000.0) for entry in ledger.entries}
    bands = PressureBands((ledger.surface - 2000.0, ledger.surface + 1000.0), after)
    plain = profile(solution, "press", System.SI)
    shown = profile(solution, "press", System.SI, pressures=bands)
    assert plain.along == ()
    line = [(0.0, shown.stretches[0].y0), *((each.x1, each.y1) for each in shown.stretches)]
    for (at, low, high), (x, y) in zip(shown.along, line, strict=True):
        assert (at, low, high) == pytest.approx((x, y - 2.0, y + 1.0))
    assert span(shown)[0] < span(plain)[0]
    unknown = profile(solution, "press", System.SI, unknown="no trial could be solved")
    assert unknown.band_text == "Uncertainty: no trial could be solved"
