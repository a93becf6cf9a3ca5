"""A look with the drive locked out splits any two causes: there is never nothing to do next."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from solver.field.causes import CauseKind
from solver.field.explain import Explanation
from solver.field.lodged import CHECK, CONNECTOR, FILTER, RAG
from solver.field.looks import LOCKED_OUT, looks
from solver.quantities.units import System

SCREEN = Explanation(CauseKind.SCREEN, "strainer", 0.4, 0.87, 0.8, 0.9, False, False, (12e3,), ())
THICK = replace(SCREEN, cause=CauseKind.FLUID, part="", size=3.9)
RISER = replace(SCREEN, cause=CauseKind.BORE, part="riser", size=0.6)
SEEN = [kind for kind in CauseKind if kind not in (CauseKind.NOTHING, CauseKind.OFFSET, CauseKind.UNLISTED)]


def test_the_cheaper_look_is_taken_and_says_what_it_shows_under_each() -> None:
    step = next(looks(SCREEN, THICK, System.SI, False), None)
    assert step is not None
    assert step.stopped
    assert step.what.startswith(f"{LOCKED_OUT}read the label of the drum")
    assert step.shows == (
        "with screen blocked: strainer: the grade and the viscosity as drawn",
        "with fluid thicker than drawn, or colder: another grade, or a sample about 3.9 times as thick as "
        "the drawing's fluid",
    )
    pulled = next(looks(SCREEN, RISER, System.SI, False), None)
    assert pulled is not None
    assert "pull strainer" in pulled.what
    assert pulled.shows[0].endswith("about 87 % of its mesh covered")


def test_of_a_cause_far_likelier_its_own_part_is_looked_at_before_that_of_another() -> None:
    level = replace(SCREEN, cause=CauseKind.LEVEL, part="tank", size=0.1)
    own, *_, other = looks(SCREEN, THICK, System.SI, False, sure=True)
    assert "pull strainer" in own.what
    assert "drum" in other.what
    glance, opened = looks(SCREEN, level, System.SI, False, sure=True)  # before a line is opened
    assert "dipstick" in glance.what
    assert "pull strainer" in opened.what


def test_any_two_causes_have_a_look_that_shows_something_else_under_each() -> None:
    for one, other in combinations(SEEN, 2):
        step = next(looks(replace(SCREEN, cause=one), replace(SCREEN, cause=other), System.SI, False), None)
        assert step is not None, f"{one}, {other}"
        assert step.shows[0].rpartition(": ")[2] != step.shows[1].rpartition(": ")[2], f"{one}, {other}"


def test_a_pair_is_split_by_the_cause_that_the_other_has_not() -> None:
    both = replace(SCREEN, second=THICK)
    step = next(looks(both, SCREEN, System.SI, False), None)
    assert step is not None
    assert "drum" in step.what
    assert next(looks(SCREEN, SCREEN, System.SI, False), None) is None


def test_of_one_kind_in_two_parts_the_likelier_is_looked_at() -> None:
    step = next(looks(RISER, replace(RISER, part="lead"), System.SI, False), None)
    assert step is not None
    assert "take riser off" in step.what


def test_nothing_of_a_pressurised_tank_is_opened() -> None:
    breather = replace(SCREEN, cause=CauseKind.SURFACE, part="tank")
    opened, closed = (next(looks(breather, SCREEN, System.SI, pressed), None) for pressed in (False, True))
    assert opened is not None
    assert closed is not None
    assert "breather" in opened.what
    assert "breather" not in closed.what.partition("never")[0]


def test_a_stuck_bypass_is_told_from_a_blocked_screen_by_the_bypass_and_not_by_the_mesh() -> None:
    (step,) = looks(SCREEN, replace(SCREEN, cause=CauseKind.STUCK), System.SI, False)
    assert "open its bypass by hand" in step.what
    assert step.shows[0].endswith("its bypass opens freely, at the pressure that is drawn")
    assert "about 87 % of its mesh covered, and its bypass stuck" in step.shows[1]


def test_a_part_that_is_no_valve_is_not_looked_at_for_how_far_it_is_open() -> None:
    valve = replace(SCREEN, cause=CauseKind.RESISTANCE, part="isolator")
    hose = replace(valve, part="connector", words=CONNECTOR)
    shut = next(looks(valve, THICK, System.SI, False, sure=True))
    assert "how far it is open" in shut.what
    for words in (CHECK, CONNECTOR, FILTER, RAG):
        steps = list(looks(replace(hose, words=words), THICK, System.SI, False, sure=True))
        assert all("open," not in step.what and "half shut" not in step.shows[0] for step in steps)
        assert "connector" in steps[0].what
    (same,) = looks(hose, valve, System.SI, False)
    assert "how far it is open" not in same.what
