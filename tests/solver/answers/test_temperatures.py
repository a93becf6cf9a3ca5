"""How cold a start and how hot a fluid may be, where a case has figures of the pump for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers.answer import Status
from solver.answers.ask import ask
from solver.answers.temperatures import COLDEST_START, HOTTEST
from solver.layout.file import parse
from solver.ledger.cases import solve_cases
from solver.quantities.units import Quantity
from solver.quantities.wording import degrees
from tests.drawings import SHIPPED

TEXTS = {
    path.stem: path.read_text().partition("\n[alternatives")[0].replace("format = 1", "format = 2")
    for path in SHIPPED
}

COLD, WARM = 'coldest_start = "25 degC"', 'temperature = "45 degC"'


def carriage(cases: str, start: str = "5 degC", temperature: str = "45 degC"):
    """The carriage pump at another start, with cases as typed."""
    text = TEXTS["carriage-at-altitude"]
    text = text.replace(COLD, f'coldest_start = "{start}"').replace(WARM, f'temperature = "{temperature}"')
    return parse(f"{text}\n{cases}").base


def left(layout, case: str) -> float:
    """The margin of the pump in one case [Pa]."""
    return solve_cases(layout)[case].solution.pumps["carriage"].margin


def starting(layout, kelvin: float):
    return replace(layout, fluid=replace(layout.fluid, coldest_start=Quantity("typed", kelvin)))


OWN_LIMIT = '[cases."coldest start"]\npumps.carriage.limit.pressure = "0.6 bar"\n'


def test_a_start_is_held_to_the_limit_that_its_case_has():
    layout = carriage(OWN_LIMIT)
    assert solve_cases(layout)["as drawn"].solution.pumps["carriage"].margin < 0
    answer = ask(COLDEST_START, layout, "carriage")
    assert left(starting(layout, answer.value), "coldest start") == pytest.approx(0.0, abs=1.0)
    assert left(starting(layout, answer.value - 0.5), "coldest start") < 0
    assert '; with the limit of carriage in every case as in "coldest start"' in answer.text
    assert "as in" not in ask(COLDEST_START, carriage(""), "carriage").text


def test_a_dirty_strainer_counts_at_the_start_too():
    """The start's limit goes with the temperature into every other case."""
    due = '[cases."strainer due"]\nintakes.strainer.screen.blocked = "60 %"\n'
    alone, both = (ask(COLDEST_START, carriage(OWN_LIMIT + more), "carriage") for more in ("", due))
    assert both.value > alone.value
    assert 'already over in "strainer due" at the 41 °F given' in both.text


def test_a_slower_start_may_be_colder():
    layout = carriage(f'{OWN_LIMIT}pumps.carriage.speed = "700 rpm"\n')
    answer = ask(COLDEST_START, layout, "carriage")
    assert left(starting(layout, answer.value), "coldest start") == pytest.approx(0.0, abs=1.0)
    assert answer.value < ask(COLDEST_START, carriage(OWN_LIMIT), "carriage").value
    assert "with the limit and the speed of carriage in every" in answer.text


def test_of_two_starts_as_cold_as_each_other_only_what_both_have_counts():
    other = '[cases."second start"]\nfluid.temperature = "5 degC"\n'
    layout = carriage(OWN_LIMIT + other)
    answer = ask(COLDEST_START, layout, "carriage")
    plain = ask(COLDEST_START, carriage(""), "carriage")
    assert (answer.value, answer.status) == (plain.value, plain.status)
    assert "as in" not in answer.text


def test_the_hottest_fluid_is_held_to_the_limit_of_the_hottest_case():
    text = TEXTS["wash-water-npsh"]
    layout = parse(text).base
    (pump,) = layout.pumps
    case = f'[cases."hot"]\nfluid.temperature = "{layout.fluid.temperature.si + 1.0} K"\n'
    laid = parse(f'{text}\n{case}pumps.{pump}.limit.npsh = "1 m"\n').base
    plain, eased = (ask(HOTTEST, each, pump) for each in (layout, laid))
    assert eased.status == Status.FOUND
    assert eased.value > plain.value
    assert f'with the limit of {pump} in every case as in "hot"' in eased.text


def test_a_case_that_is_over_at_the_start_of_another_is_said_to_be_within_at_its_own():
    press = parse(TEXTS["winter-press"]).base
    said = ask(COLDEST_START, press, "press").text
    assert 'already over in "strainer due" at 14 °F' in said
    own = solve_cases(press)["strainer due"].solution
    assert own.pumps["press"].margin > 0
    assert (
        f'; at the {degrees(own.fluid.temperature, press.units)} of "strainer due" itself it is within'
        in said
    )
    oily = parse(TEXTS["header-two-pumps"]).base
    assert "it is within" not in ask(COLDEST_START, oily, "main").text, "over as drawn, at its own"
