"""What is to be known besides the causes: of air, of what was looked for in vain, of a breather at rest."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.air import air
from solver.field.causes import CauseKind, without_bypass
from solver.field.caveats import (
    BREATHER_AS_LEVEL,
    BREATHER_AT_REST,
    BYPASS_HIDES,
    HARDLY_SHOWS_AIR,
    caveats,
)
from solver.field.expected import Expected
from solver.field.explain import Explained, Explanation
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.states import Reading
from solver.field.trials import WETTING, NextStep, Trial
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
RUNNING = Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(5e3, 5e3), Gauge())
REST = replace(RUNNING, resting=True)


def cause(kind: CauseKind, weight: float = 0.5) -> Explanation:
    return Explanation(kind, "", weight, 0.5, 0.4, 0.6, False, False, (5e3,), ())


def explained(*kinds: CauseKind) -> Explained:
    return Explained((Expected(5e3, 100.0, None),), tuple(map(cause, kinds)), ())


LEVEL, BREATHER = explained(CauseKind.LEVEL), explained(CauseKind.LEVEL, CauseKind.SURFACE)


@pytest.mark.parametrize(
    ("told", "readings", "done", "words"),
    [
        (BREATHER, (RUNNING, REST), (), BREATHER_AT_REST),
        (LEVEL, (RUNNING, REST), (), BREATHER_AS_LEVEL),
        (BREATHER, (RUNNING, replace(REST, held=True)), (), ""),
        (BREATHER, (RUNNING, REST), (Trial.CAP,), ""),
        (BREATHER, (RUNNING,), (), ""),
        (explained(CauseKind.SCREEN), (RUNNING, REST), (), ""),
    ],
)
def test_what_a_reading_at_rest_does_not_say_of_a_breather(
    told: Explained, readings: tuple[Reading, ...], done: tuple[Trial, ...], words: str
) -> None:
    lines = caveats(told, None, (), (None, None), readings, done, False)
    assert lines == (HARDLY_SHOWS_AIR, BYPASS_HIDES.format("strainer"), *filter(None, (words,)))


def test_no_joint_is_wetted_while_the_pump_must_stop() -> None:
    state = air(solve(DRAWN), "carriage")
    for stop, begin in ((True, "Once the pump may run again, wet one joint"), (False, "Wet one joint")):
        lines = caveats(LEVEL, state, (), (None, None), (RUNNING,), (), stop)
        assert lines[1].startswith(begin)
    wet = NextStep(f"With the pump running, {WETTING}", ("it changes", "it does not"), False)
    lines = caveats(LEVEL, state, (wet,), (None, None), (RUNNING,), (), False)
    assert not any("et one joint" in each for each in lines), "it is said once"


def test_what_splits_only_a_third_cause_says_so_and_what_splits_none_too() -> None:
    first, second, third = map(cause, (CauseKind.LEVEL, CauseKind.BORE, CauseKind.SURFACE))
    alike = Explained((), (first, second, third), ())
    step = NextStep("look", ("one", "other"), True)

    def lines(steps: tuple[NextStep, ...], split: Explanation) -> str:
        return " ".join(caveats(alike, None, steps, (second, split), (RUNNING,), (), False))

    assert "the next one is for breather plugged." in lines((step,), third)
    assert "the first two" not in lines((step,), second)
    assert "No further reading within what is allowed" in lines((), third)


def test_where_no_reading_splits_a_small_fault_from_none_that_is_said() -> None:
    unsure = explained(CauseKind.NOTHING, CauseKind.SURFACE)
    unsure = replace(unsure, explanations=tuple(replace(each, weight=0.16) for each in unsure.explanations))
    lines = caveats(unsure, None, (), (unsure.explanations[1], None), (RUNNING,), (), False)
    assert "from breather plugged: the difference is too small for this gauge" in " ".join(lines)


def test_a_screen_without_a_bypass_hides_nothing() -> None:
    bare = without_bypass(RUNNING.layout, "strainer")
    lines = caveats(LEVEL, None, (), (None, None), (replace(RUNNING, layout=bare),), (), False)
    assert lines == (HARDLY_SHOWS_AIR,)
