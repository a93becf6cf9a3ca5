"""What readings come to in one line: stop first, short, and what it leaves out right under it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest

from solver.field.causes import CauseKind
from solver.field.expected import Expected
from solver.field.explain import Explained, Explanation
from solver.field.gauges import Band, Gauge
from solver.field.headline import NO_SIZE, headline, is_starved, stop_words
from solver.field.places import Place
from solver.field.states import TEMPERATURE_NOT_NOTED, Doubt, Reading
from solver.layout import file
from solver.layout.parts import Level
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
LONGEST = 200
"""Two lines of a terminal."""


def reading(vacuum: float) -> Reading:
    return Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(vacuum, vacuum), Gauge())


def explained(*weights: tuple[CauseKind, str, float], allowed: float = 9e3) -> Explained:
    found = (
        Explanation(kind, part, weight, 0.8, 0.7, 0.9, False, False, (5e3,), (), best=math.log(weight))
        for kind, part, weight in weights
    )
    return Explained((Expected(5e3, 100.0, allowed),), tuple(found), ())


SCREEN, VALVE = (CauseKind.SCREEN, "strainer", 0.5), (CauseKind.RESISTANCE, "isolator", 0.4)
AIR = tuple((kind, "", 0.3) for kind in (CauseKind.JOINT, CauseKind.SEAL, CauseKind.RETURN))


def said(
    told: Explained, stop: str = "", due: Mapping[str, str] | None = None, vacuum: float = 5e3
) -> tuple[str, tuple[str, ...]]:
    second = told.explanations[1] if len(told.explanations) > 1 else None
    return headline(told, "80 % blocked", [reading(vacuum)], second, stop, due or {})


@pytest.mark.parametrize("told", [explained(SCREEN, VALVE), explained(*AIR), explained((*VALVE[:2], 0.9))])
def test_stop_is_first_and_all_of_it_two_lines_at_most(told: Explained) -> None:
    assert stop_words(past=False, held=False) == ""
    earlier, _ = said(told, stop=stop_words(past=False, held=True))
    assert earlier.startswith("Stop the pump: an earlier visit's reading still counts. ")
    line, beneath = said(told, stop=stop_words(past=True, held=True), due={"strainer": "is due"})
    assert line.startswith("Stop the pump: a reading is past what is allowed here. ")
    assert max(len(line), len(earlier)) <= LONGEST
    trend = "By the trend of its readings strainer is due for cleaning"
    assert any(each.startswith(trend) for each in beneath)


def test_what_is_due_is_said_where_nothing_says_stop_and_the_answer_does_not_name_it() -> None:
    nothing = explained((CauseKind.NOTHING, "", 0.9))
    line, beneath = said(nothing, due={"strainer": "may be due already"})
    assert line.startswith("strainer may be due already for cleaning by its trend. By the latest visit alone")
    assert len(beneath) == 1
    line, beneath = said(explained((*SCREEN[:2], 0.9)), due={"strainer": "is due"})
    assert line == "Far likelier than any other: screen blocked: strainer, 80 % blocked."
    assert len(beneath) == 1


def test_the_ways_that_air_may_take_stand_under_it() -> None:
    line, (ways,) = said(explained(*AIR))
    assert line == "Likelier than any other: air is drawn in."
    assert ways.endswith("is not clear: air at a joint, air at the shaft seal or air from the return.")
    line, (ways,) = said(explained((CauseKind.NOTHING, "", 0.5), (CauseKind.SEAL, "pump", 0.4)))
    assert line == "What was seen or heard points to air, which a gauge hardly shows; it shows no fault."
    assert ways == "Of the ways for air, likelier than the others: air at the shaft seal."


def test_causes_that_cannot_be_told_apart_are_named_both() -> None:
    alike = explained((*SCREEN[:2], 0.4), VALVE)
    assert said(alike)[0] == (
        "Cannot be distinguished: (1) screen blocked: strainer; (2) valve half shut, or a rag: isolator."
    )


def test_a_drawing_that_is_over_itself_is_over_by_design() -> None:
    nothing = explained((CauseKind.NOTHING, "", 0.9), allowed=4e3)
    assert said(nothing)[0].startswith("Over by design, and not from a fault")


def test_without_a_temperature_the_headline_asks_for_it_and_excludes_no_fault() -> None:
    unsure = replace(reading(5e3), doubts=(Doubt(TEMPERATURE_NOT_NOTED),))
    nothing = explained((CauseKind.NOTHING, "", 0.17), allowed=4e3)
    line, _ = headline(nothing, "", [unsure], None, "", {})
    assert line.startswith("Note the fluid's temperature first")
    assert "a fault is not excluded" in line


def test_a_vacuum_under_which_a_pump_does_not_fill_has_no_size() -> None:
    assert is_starved([reading(75e3)])
    assert not is_starved([reading(20e3)])
    assert said(explained(SCREEN), vacuum=75e3)[0] == NO_SIZE
