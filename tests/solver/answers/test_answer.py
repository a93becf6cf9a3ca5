"""Answers for a reader."""

from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers.answer import HIGHEST_PORT, Status, in_brief, shown_as
from solver.answers.ask import QUESTIONS, ask, ask_all
from solver.answers.reasons import Reason
from solver.answers.temperatures import at_one_temperature
from solver.answers.varied_drawing import PresentDrawing
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.network.row_cache import RowCache
from solver.properties.atmosphere import station_pressure
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, typeset
from tests.drawings import RISER, SHIPPED
from tests.solver.checking import lifted, mesh, with_floor, with_screen


def test_what_is_not_enough_alone_is_named_in_one_line():
    answers = ask_all(with_floor(lifted(), 99e3), "pump")
    brief = in_brief(answers)
    hopeless = [a for a in answers if a.status == Status.ALREADY_OVER and a.value is None]
    assert len(hopeless) > 3
    others = [each for each in hopeless if each.question != HIGHEST_PORT]
    assert brief[-1].text == (
        f"Not enough alone: {', '.join(a.question for a in others)}; still over however far each goes"
    )
    assert len(brief) == len(answers) - len(others) + 1
    within = ask_all(lifted(), "pump")
    assert in_brief(within) == within


def test_what_two_answers_say_alike_is_said_once():
    """A hose is the longest run of its line too; what a case takes off the barometer is named."""
    low = '\n[cases.low]\nsite.weather_allowance = "2 kPa"\n'
    base = file.parse(RISER + low).base
    hose = replace(base, runs={k: replace(run, material="rubber hose") for k, run in base.runs.items()})
    texts = {each.question: each.text for each in in_brief(ask_all(hose, next(iter(hose.pumps))))}
    assert "straight hose in " in texts["longest run"]
    assert "longest hose" not in texts
    assert texts["lowest barometer"].endswith("the allowance for a low-pressure day comes off it")


@pytest.mark.parametrize("system", list(System))
def test_a_figure_as_it_is_said_is_within(system: System) -> None:
    """Rounded to the nearest digit half of them were over by a little: up to 30 Pa of a height."""
    layout = replace(with_screen(lifted(), **mesh()), units=system)
    present = PresentDrawing(layout, "pump", Level.MINIMUM, RowCache())
    answers = [each for each in ask_all(layout, "pump") if each.status == Status.FOUND]
    assert len(answers) > 5
    for answer in answers:
        assert answer.value is not None
        assert answer.figure is not None
        assert shown_as(answer.kind)(answer.figure, system) in answer.text
        assert answer.figure == pytest.approx(answer.value, rel=0.012, abs=0.01)
        if answer.reason == Reason.FLOOR:
            of_one = at_one_temperature(present, answer.question)
            pump_ledger = solve(layout).pumps["pump"]
            variation = QUESTIONS[answer.question](solve(layout), pump_ledger)
            assert not isinstance(variation, str)
            assert of_one.varied(variation).least(answer.figure) >= -1e-3, answer.text


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_barometer_now_is_the_air_that_a_ledger_begins_with(path: Path, units: System) -> None:
    """It was said to stand at 29.0 inHg where every ledger had 29.05."""
    layout = replace(file.read(path).base, units=units)
    pump = next(iter(layout.pumps))
    air = typeset(station_pressure(layout.site), Kind.VACUUM, units, PLACES)
    assert air in ask("lowest barometer", layout, pump).text
