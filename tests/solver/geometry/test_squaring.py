"""The points of a line follow one that is moved, and its stretches stay square."""

from __future__ import annotations

from solver.geometry import squaring

BENT = [(0.0, 0.0), (0.0, 2.0), (3.0, 2.0)]
"""Up, then across."""


def test_a_move_across_a_stretch_takes_its_corner_along() -> None:
    moved, left = squaring.follow(BENT, (0.5, None))
    assert moved == [(0.5, 0.0), (0.5, 2.0), (3.0, 2.0)]
    assert left == squaring.STAYS


def test_a_move_along_a_stretch_moves_nothing_else() -> None:
    moved, left = squaring.follow(BENT, (None, 0.5))
    assert moved == [(0.0, 0.5), *BENT[1:]]
    assert left == squaring.STAYS


def test_what_the_end_would_have_to_take_is_returned() -> None:
    _, left = squaring.follow([(0.0, 0.0), (0.0, 2.0)], (0.5, None))
    assert left == (0.5, None)


def test_a_straight_line_whose_end_stays_gets_two_corners_in_its_middle() -> None:
    line = squaring.jog([(0.0, 0.0), (0.0, 2.0)], (0.5, None))
    assert line == [(0.5, 0.0), (0.5, 1.0), (0.0, 1.0), (0.0, 2.0)]
    assert squaring.longest(line) == 1.0


def test_corners_laid_on_one_another_go() -> None:
    folded = [(0.0, 0.0), (0.0, 1.0), (0.0, 1.0), (0.0, 2.0)]
    assert squaring.without_folded(folded) == [(0.0, 0.0), (0.0, 2.0)]
    assert squaring.without_folded(BENT) == BENT


def test_a_corner_that_lies_on_an_end_bends_nothing_and_goes() -> None:
    assert squaring.without_folded([(0, 0), (0, 1), (2, 1), (2, 1)]) == [(0, 0), (0, 1), (2, 1)]
    assert squaring.without_folded([(0, 0), (0, 0), (2, 0), (2, 1)]) == [(0, 0), (2, 0), (2, 1)]
    assert squaring.without_folded([(0, 0), (0, 0), (0, 0)]) == [(0, 0), (0, 0)]
