"""A reading speaks for what brings the drawing nearer to it, against what takes it away, else is silent."""

from __future__ import annotations

import pytest

from solver.field.causes import CauseKind
from solver.field.evidence import evidence
from solver.field.expected import Expected
from solver.field.explain import Explained, Explanation
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.states import Reading
from solver.layout.parts import Level
from solver.quantities.units import System
from tests import drawings

READ = 14e3
DRAWN = Expected(8e3, 4e3, None)


def side(kind: CauseKind, vacuum: float, read: float = READ, *surprises: int) -> str:
    """Where a reading stands with a cause that brings such a vacuum [Pa] at the port."""
    reading = Reading(drawings.stand(), Level.MINIMUM, Place("press"), Band(read, read), Gauge())
    cause = Explanation(kind, "strainer", predicted=(vacuum,), surprises=surprises)
    given = evidence(cause, Explained((DRAWN,), (cause,), ()), [reading], System.SI)
    named = {
        "for": given.speaks_for,
        "against": given.speaks_against,
        "says nothing": given.neutral,
    }
    (where,) = (name for name, lines in named.items() if lines)
    return where


@pytest.mark.parametrize(
    ("vacuum", "where"),
    [
        (13.5e3, "for"),
        (15e3, "for"),
        (8.0e3, "says nothing"),  # it does not move the figure
        (8.6e3, "says nothing"),  # hardly nearer
        (7.6e3, "against"),  # farther away, though within what is no surprise
        (21e3, "against"),  # past it, and farther off than the drawing
    ],
)
def test_a_cause_is_judged_by_which_way_it_moves_the_figure(vacuum: float, where: str) -> None:
    assert side(CauseKind.SCREEN, vacuum) == where


def test_a_surprise_speaks_against_whatever_it_moves() -> None:
    assert side(CauseKind.SCREEN, 8e3, READ, 0) == "against"


def test_nothing_wrong_is_spoken_for_near_the_drawing_alone() -> None:
    by_reading = [side(CauseKind.NOTHING, DRAWN.vacuum, read) for read in (8e3, 11e3, READ, 16e3)]
    assert by_reading == ["for", "for", "says nothing", "against"]


@pytest.mark.parametrize(("size", "told"), [(2.0, False), (6.0, True)])
def test_a_fluid_thicker_than_any_grade_and_cold_would_make_it_says_so(size: float, told: bool) -> None:
    reading = Reading(drawings.stand(), Level.MINIMUM, Place("press"), Band(READ, READ), Gauge())
    cause = Explanation(CauseKind.FLUID, "", size=size, predicted=(READ,))
    given = evidence(cause, Explained((DRAWN,), (cause,), ()), [reading], System.SI)
    assert any("times as thick is seldom met" in line for line in given.speaks_against) is told
