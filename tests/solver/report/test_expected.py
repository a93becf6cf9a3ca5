"""What a gauge should show is said of every state that it is read in, with a gauge that shows it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.judgement import judge
from solver.layout import file
from solver.ledger.sentences import at_port
from solver.quantities.units import System
from solver.report.expected import expected_readings, gauge_for, states
from tests.drawings import SHIPPED

SI, US = System.SI, System.US


def judged(name: str, alternative: str = "", units: System = SI):
    drawing = file.read(next(each for each in SHIPPED if each.stem == name))
    layout = drawing.alternatives[alternative].layout if alternative else drawing.base
    return judge(replace(layout, units=units))


@pytest.mark.parametrize("units", [SI, US])
def test_the_state_that_is_met_first_is_said_before_the_worst(units) -> None:
    """A reading of the coldest start alone was expected, which shows as nothing."""
    now, then = (
        judged("over-the-bund-wall", "", units),
        judged("over-the-bund-wall", "Sleeve through the wall", units),
    )
    warm, cold = states(then, "transfer")
    assert [each.case for each in (warm, cold)] == ["as drawn", "coldest start"]
    (text,) = expected_readings(then, now, units)
    first, second = (at_port(each.ledger, units)[0] for each in (warm, cold))
    assert "above the atmosphere" in first
    assert text.startswith(f"transfer {first} at ")
    assert f'{second} in "coldest start" (now ' in text
    assert text.index(first) < text.index(second)
    gauge, besides = gauge_for(then, units)
    assert gauge.startswith("a compound gauge (")
    assert "as about nothing" in besides


def test_a_vacuum_that_a_plain_gauge_shows_is_read_with_one() -> None:
    header = judged("header-two-pumps", "", US)
    assert gauge_for(header, US) == ("a vacuum gauge", "")
    (text, *_) = expected_readings(header, None, US)
    reading, allowed = at_port(header.worst().ledger, US)
    assert text == f"main {reading} (allowed {allowed.partition(' ')[0]})", "the same in both, said once"


def test_where_little_is_allowed_the_gauge_is_of_a_finer_class() -> None:
    beside = judged("carriage-at-altitude", "Pump beside the tank", US)
    gauge, _ = gauge_for(beside, US)
    assert ", class " in gauge
    assert ", class " not in gauge_for(judged("over-the-bund-wall", "Sleeve through the wall"), SI)[0]
