"""What the drawing says of each way of drawing air: by pressure, by cover over the intake, by the return."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.aeration import NO_JOINT, NO_SEAL, air_causes, drawn_signs
from solver.field.air import Air, Cover, Return, air
from solver.field.causes import AIR, CauseKind
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWING = file.read(PATH)
LIFTED = air(solve(DRAWING.base), "carriage")
FLOODED = air(solve(DRAWING.alternatives["Pump beside the tank"].layout), "carriage")
COVERED = Cover("strainer", 0.5, 0.4, 0.1, False)
UNDER = Return("tank", 0.2, 0.1)


def shift(state: Air, kind: CauseKind) -> float:
    """By how much the drawing shifts a cause."""
    shifts = [odds for sign in drawn_signs(state, System.SI) for each, odds in sign.odds if each is kind]
    (one,) = shifts or [1.0]
    return one


def test_a_line_above_its_tank_may_draw_air_in_four_ways() -> None:
    causes = air_causes(LIFTED)
    assert tuple(each.kind for each in causes) == AIR
    assert not any(each.why_not for each in causes)
    assert [each.part for each in causes] == ["", "carriage", "strainer", "tank"]


def test_where_nothing_is_below_the_atmosphere_neither_joint_nor_seal_is_a_suspect() -> None:
    reasons = {each.kind: each.why_not for each in air_causes(FLOODED)}
    assert (reasons[CauseKind.JOINT], reasons[CauseKind.SEAL]) == (NO_JOINT, NO_SEAL)
    assert (reasons[CauseKind.VORTEX], reasons[CauseKind.RETURN]) == ("", "")


def test_suspects_stand_by_their_pressure_and_shift_nothing() -> None:
    (words,) = (s.words for s in drawn_signs(LIFTED, System.US) if s.odds == ((CauseKind.JOINT, 1.0),))
    assert words.index("lead to carriage") < words.index("riser to connector")
    assert shift(LIFTED, CauseKind.SEAL) == 1.0


@pytest.mark.parametrize(
    ("cover", "words", "likelier"),
    [
        (replace(COVERED, depth=-0.1), "strainer is bare in that state", True),
        (replace(COVERED, drawn_depth=-0.1), "strainer is bare with the cylinders out", True),
        (replace(COVERED, drawn_depth=0.05), "0.050 m of fluid over strainer at the least", True),
        (COVERED, "0.400 m of fluid over strainer at the least", False),
        (replace(COVERED, drawn_depth=None), "what the cylinders take out is not in the drawing", False),
    ],
)
def test_what_stands_over_the_intake_speaks_for_or_against_a_vortex(
    cover: Cover, words: str, likelier: bool
) -> None:
    state = replace(LIFTED, covers=(cover,))
    assert any(words in sign.words for sign in drawn_signs(state, System.SI))
    assert (shift(state, CauseKind.VORTEX) > 1.0) is likelier


def test_a_cover_that_is_not_known_in_full_speaks_less_against_a_vortex() -> None:
    known, half = (replace(LIFTED, covers=(each,)) for each in (COVERED, replace(COVERED, drawn_depth=None)))
    assert shift(known, CauseKind.VORTEX) < shift(half, CauseKind.VORTEX) < 1.0


@pytest.mark.parametrize(
    ("tank", "words", "likelier"),
    [
        (replace(UNDER, depth=-0.1), "the return ends in the air in that state", True),
        (replace(UNDER, drawn_depth=-0.1), "the return ends in the air with the cylinders out", True),
        (UNDER, "the return ends 0.100 m under the fluid at the least", False),
    ],
)
def test_where_the_return_ends_speaks_for_or_against_it(tank: Return, words: str, likelier: bool) -> None:
    state = replace(LIFTED, returns=(tank,))
    assert any(words in sign.words for sign in drawn_signs(state, System.SI))
    assert (shift(state, CauseKind.RETURN) > 1.0) is likelier


def test_a_return_that_is_not_drawn_shifts_nothing() -> None:
    assert shift(replace(LIFTED, returns=(Return("tank", None, None),)), CauseKind.RETURN) == 1.0
