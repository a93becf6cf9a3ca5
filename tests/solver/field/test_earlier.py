"""What earlier visits say: a fluid that was thin in spring is not thick in autumn without work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.causes import CauseKind
from solver.field.diagnosis import CauseWords, Diagnosis, diagnose
from solver.field.places import Place
from solver.layout import file
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
GAUGE = LoggedGauge("A", quantity("0 m", Kind.LENGTH), "empty", 1.6, quantity("30 inHg", Kind.VACUUM))


def read(when: str, celsius: float, blocked: float = 0.0, machine: Layout = DRAWN) -> LoggedReading:
    """A reading off the machine with so much of its strainer blocked."""
    warm = inputs.temperature(machine, ("",), celsius + 273.15, Level.MINIMUM)
    solution = solve(inputs.blocked(warm, ("strainer",), blocked, Level.MINIMUM))
    vacuum = places.vacuum(solution, Place("carriage"))
    state = {
        "level": "minimum",
        "fluid": {"temperature": f"{celsius} degC"},
        "pumps": {"carriage": {"speed": "1450 rpm"}},
    }
    shown = (Quantity(f"{vacuum!r} Pa", vacuum),)
    return LoggedReading(when, "carriage", gauge=GAUGE, state=state, vacuum=shown, measured_at="tank")


SPRING = read("2026-04-14 10:30", 44.0)
AUTUMN = (read("2026-11-25 18:30", 50.0, 0.85), read("2026-11-26 07:10", 25.0, 0.85))


def of(*readings: LoggedReading) -> Diagnosis:
    return diagnose(replace(DRAWN, readings=readings), "carriage")


def cause(diagnosis: Diagnosis, name: str) -> CauseWords:
    return next(each for each in diagnosis.causes if each.name == name)


THICK, SCREEN = "fluid thicker than drawn, or colder", "screen blocked: strainer"
NO_CHANGE = "the reading of 2026-04-14 fitted the drawing, and no change of fluid is noted since"


@pytest.fixture(scope="module")
def since_spring() -> Diagnosis:
    return of(SPRING, *AUTUMN)


def test_what_would_have_shown_before_weighs_less_and_says_why(since_spring: Diagnosis) -> None:
    alone, both = cause(of(*AUTUMN), THICK), cause(since_spring, THICK)
    assert both.explanation.weight < 0.5 * alone.explanation.weight
    assert NO_CHANGE in both.evidence_against
    assert NO_CHANGE not in alone.evidence_against
    first = since_spring.causes[0]
    assert first.name == SCREEN
    assert "the reading of 2026-04-14 fitted the drawing, and this grows by itself" in first.evidence_for
    assert sum(each.weight for each in since_spring.explained.explanations) == pytest.approx(1.0)


@pytest.mark.parametrize(
    "spring",
    [read("2026-04-14 10:30", 44.0, 0.85), replace(SPRING, line="another line")],
    ids=["it did not fit", "of another line"],
)
def test_an_earlier_reading_that_says_nothing_of_it_changes_nothing(spring: LoggedReading) -> None:
    assert NO_CHANGE not in cause(of(spring, *AUTUMN), THICK).evidence_against


def test_work_that_would_bring_a_cause_leaves_it_as_likely() -> None:
    changed = replace(AUTUMN[0], work=("fluid changed",))
    diagnosis = of(SPRING, changed, AUTUMN[1])
    assert NO_CHANGE not in cause(diagnosis, THICK).evidence_against
    riser = replace(DRAWN.runs["riser"], size=None, bore=quantity("34 mm", Kind.LENGTH))
    narrow = replace(DRAWN, runs={**DRAWN.runs, "riser": riser})
    warm, cold = read("2026-11-25 18:30", 50.0, 0.0, narrow), read("2026-11-26 07:10", 25.0, 0.0, narrow)
    narrowed = cause(of(SPRING, replace(warm, work=("fluid changed",)), cold), "bore narrowed: riser")
    assert any("no change of the line is noted since" in words for words in narrowed.evidence_against)


def test_every_reading_of_the_visit_stands_with_its_figure(since_spring: Diagnosis) -> None:
    for each in since_spring.causes:
        if each.explanation.predicted and each.explanation.cause is not CauseKind.UNLISTED:
            speaks = [words for words in (*each.evidence_for, *each.evidence_against) if ": read " in words]
            assert len(speaks) == 2
    (unlisted,) = (each for each in since_spring.causes if each.name == "none of these")
    assert unlisted.evidence_for == unlisted.evidence_against == ()


def test_a_drawing_with_a_hose_is_not_called_rigid() -> None:
    soft = {**DRAWN.runs, "riser": replace(DRAWN.runs["riser"], material="rubber hose")}
    layout: Layout = replace(DRAWN, runs=soft, readings=(SPRING, *AUTUMN))
    narrow = cause(diagnose(layout, "carriage"), "bore narrowed: riser")
    assert not any("no change of the line" in words for words in narrow.evidence_against)
