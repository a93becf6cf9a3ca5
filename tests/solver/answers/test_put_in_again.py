"""Answers of random lines put in again: within at the figure shown and on the way to it, over past it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

import pytest

from solver.answers import ask
from solver.answers.answer import Answer, Status, shown_as
from solver.answers.reasons import Reason
from solver.answers.temperatures import OF_TEMPERATURE, at_one_temperature, from_the_extreme
from solver.answers.variations import Variation
from solver.answers.varied_drawing import PresentDrawing, VariedDrawing
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.network.row_cache import RowCache
from solver.quantities.units import Kind, System
from tests.solver.ledger.drawn_by_chance import Line
from tests.solver.ledger.test_second_calculation import drawn

SAMPLES = 8


def lines(seeds: range) -> Iterator[Line]:
    """Lines that can be drawn; three of four of them are within."""
    for line in filter(None, map(drawn, seeds)):
        if line.margin > 0 or line.seed % 20 == 0:
            yield line


def varied(present: PresentDrawing, question: str) -> tuple[Variation, VariedDrawing]:
    """What a question varies, and the drawing with it."""
    one = at_one_temperature(present, question)
    variation = ask._variation(question, one)
    assert not isinstance(variation, str)
    if question in OF_TEMPERATURE:
        variation = from_the_extreme(variation, question, present.present)
    return variation, one.varied(variation)


def check(layout: Layout, seed: int) -> int:
    """How many answers were put in again."""
    present = PresentDrawing(layout, "pump", Level.MINIMUM, RowCache())
    answers = [each for each in ask.ask_all(layout, "pump") if each.value is not None]
    for answer in answers:
        variation, again = varied(present, answer.question)
        assert answer.figure is not None
        assert again.least(answer.figure) >= 0, (seed, layout.units, answer.text)
        if answer.status == Status.FOUND:
            found(answer, variation, again, layout.units)
    return len(answers)


def found(answer: Answer, variation: Variation, again: VariedDrawing, system: System) -> None:
    assert answer.figure is not None
    assert answer.value is not None
    if answer.reason != Reason.VORTEX:
        assert shown_as(answer.kind)(answer.figure, system) in answer.text
    way = answer.value - variation.now
    for share in range(1, SAMPLES):
        try:
            assert again.least(variation.now + way * share / SAMPLES) > -variation.enough, answer.text
        except NetworkError:  # a height at which the bends of the line find no room
            assert variation.kind is Kind.LENGTH
    if answer.reason == Reason.FLOOR:
        beyond = answer.value + 0.01 * way + (2e-4 if way > 0 else -2e-4) * (variation.kind is Kind.LENGTH)
        with suppress(ValueError):  # past the end of what can be drawn, or of the fluid's figures
            assert again.least(beyond) < variation.enough, answer.text


def check_lines(seeds: range) -> None:
    count = 0
    for line in lines(seeds):
        layout = file.parse(line.text, f"line {line.seed}").base
        for system in System:
            try:
                count += check(replace(layout, units=system), line.seed)
            except NetworkError as error:
                assert "bend" in str(error)  # noqa: PT017
    assert count > len(seeds)


def test_answers_of_a_line_put_in_again_are_within() -> None:
    """A highest port was over by 0.3 Pa: lengths are drawn to 0.1 mm, and the search ended past the step."""
    check_lines(range(290, 291))


@pytest.mark.random
@pytest.mark.parametrize("first", range(0, 900, 100))
def test_answers_of_hundreds_of_lines_put_in_again_are_within(first: int) -> None:
    check_lines(range(first, first + 100))
