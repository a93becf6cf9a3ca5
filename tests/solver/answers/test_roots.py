"""The bracketed root, and the ways in which there is none."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from solver.answers.roots import Crossing, crossing, with_some_left


def counted(function):
    calls = []

    def called(x):
        calls.append(x)
        return function(x)

    return called, calls


@given(root=st.floats(-50, 50), start=st.floats(-100, 100), first=st.floats(1e-3, 30))
@example(root=1.0, start=0.0, first=1.0)  # a step that ends on the root itself
def test_a_cubic_s_root_is_found_from_either_side(root, start, first):
    end = 101.0 if start < root else -101.0
    zero = crossing(lambda x: (x - root) ** 3 + (x - root), start, end, first, 1e-9, 1e-12)
    assert zero.found
    assert zero.at == pytest.approx(root, abs=1e-8)


def test_the_first_crossing_counts():
    zero = crossing(math.cos, 0.0, 20.0, 0.5, 1e-9, 1e-12)
    assert zero.at == pytest.approx(math.pi / 2)


def test_a_straight_line_takes_few_looks():
    function, calls = counted(lambda x: 3.0 - x)
    assert crossing(function, 0.0, 100.0, 3.5, 1e-9, 1e-9).at == pytest.approx(3.0)
    assert len(calls) <= 4


def test_the_end_is_the_answer_where_nothing_crosses():
    zero = crossing(lambda x: 1.0 + x, 0.0, 10.0, 1.0, 1e-9, 1e-12)
    assert (zero.found, zero.at, zero.refused) == (False, 10.0, None)


def test_where_the_start_is_the_end_there_is_nothing_to_look_for():
    assert not crossing(lambda x: 1.0, 4.0, 4.0, 1.0, 1e-9, 1e-12).found


def up_to(edge, function):
    def refusing(x):
        if x > edge:
            raise ValueError("no room")
        return function(x)

    return refusing


def test_a_refusal_ends_the_way_at_the_last_place_that_works():
    zero = crossing(up_to(7.3, lambda x: 1.0), 0.0, 100.0, 1.0, 1e-6, 1e-12)
    assert not zero.found
    assert zero.at == pytest.approx(7.3, abs=1e-6)
    assert str(zero.refused) == "no room"
    assert zero.refused.__traceback__ is None, "it would hold all that was solved on the way"


def test_the_reason_is_that_of_the_nearest_refusal():
    """A long first step may end in a refusal of another kind, far beyond the one that ends the way."""

    def refusing(x):
        if x > 50.0:
            raise ValueError("too thin")
        return up_to(7.3, lambda x: 1.0)(x)

    assert str(crossing(refusing, 0.0, 100.0, 60.0, 1e-6, 1e-12).refused) == "no room"


def test_a_crossing_before_the_refusal_is_still_found():
    zero = crossing(up_to(7.3, lambda x: 7.0 - x), 0.0, 100.0, 6.0, 1e-9, 1e-12)
    assert zero.found
    assert zero.at == pytest.approx(7.0)


def test_a_step_without_a_root_is_closed_in_on():
    zero = crossing(lambda x: 1.0 if x < math.e else -1.0, 0.0, 10.0, 1.0, 1e-9, 1e-12)
    assert zero.at == pytest.approx(math.e, abs=1e-8)


def test_a_hopeless_search_raises_rather_than_giving_its_last_guess():
    values = iter([1.0, -1.0, *[math.nan] * 100])
    with pytest.raises(ArithmeticError):
        crossing(lambda x: next(values), 0.0, 1.0, 1.0, 1e-9, 1e-12)


def test_a_hole_within_the_bracket_ends_the_way_before_it():
    def torn(x):
        if 4.0 < x < 6.0:
            raise ValueError("no pipe is that short")
        return x - 10.0 if x < 5.0 else 10.0

    zero = crossing(torn, 0.0, 20.0, 11.0, 1e-6, 1e-9)
    assert not zero.found
    assert zero.at == pytest.approx(4.0, abs=1e-5)
    assert "no pipe" in str(zero.refused)
    assert zero.refused.__traceback__ is None


def test_a_root_before_a_hole_is_found():
    def torn(x):
        if 4.0 < x < 6.0:
            raise ValueError("no pipe is that short")
        return -3.0 + x**0.5 * 2.0 if x < 5 else 50.0

    zero = crossing(torn, 0.0, 20.0, 11.0, 1e-9, 1e-9)
    assert zero.found
    assert zero.at == pytest.approx(2.25, abs=1e-6)


def test_a_root_between_ends_too_unlike_for_a_secant():
    """A margin of 1e5 on one side and of −1e17 on the other: false position creeps, halving does not."""

    def margin(x):
        return 1e5 - 1e-13 / (1.0 - x) ** 3 if x < 1.0 else -1e40

    zero = crossing(margin, 0.0, 1.0, 0.3, 1e-6, 0.01)
    assert zero.found
    assert zero.at == pytest.approx(1.0 - 1e-6, abs=2e-6)


def test_a_place_known_to_be_the_last_is_looked_at_before_any_is_halved():
    function, calls = counted(up_to(7.3, lambda x: 1.0))
    zero = crossing(function, 0.0, 100.0, 8.0, 1e-9, 1e-12, edges=(7.3, 200.0))
    assert (zero.found, zero.at) == (False, 7.3)
    assert len(calls) == 4  # at the start, in vain, at the edge and just beyond it


def least_of(*cases):
    """The least of some functions, and that of the deciding one at a place in its stead."""

    def function(x):
        return min(case(x) for case in cases)

    def simpler(place):
        return min(cases, key=lambda case: case(place))

    return function, simpler


def test_where_one_case_decides_all_the_way_the_others_are_looked_at_once():
    function, simpler = least_of(lambda x: 3.0 - x, lambda x: 100.0 - x)
    whole, calls = counted(function)
    zero = crossing(whole, 0.0, 50.0, 1.0, 1e-9, 1e-9, simpler)
    assert zero.at == pytest.approx(3.0)
    assert len(calls) == 2  # at the start and at the root


def test_a_case_that_comes_to_decide_on_the_way_has_its_own_root():
    steep = least_of(lambda x: 3.0 - x, lambda x: 20.0 - 10.0 * x)
    assert crossing(steep[0], 0.0, 50.0, 1.0, 1e-9, 1e-9, steep[1]).at == pytest.approx(2.0)
    rising = least_of(lambda x: x - 3.0, lambda x: 0.1 * x - 1.0)
    assert crossing(rising[0], 0.0, 50.0, 1.0, 1e-9, 1e-9, rising[1]).at == pytest.approx(10.0)


def test_the_next_step_goes_just_beyond_where_a_straight_line_would_cross():
    function, calls = counted(lambda x: 10.0 - x)
    crossing(function, 0.0, 1000.0, 6.0, 1e-9, 1e-9)
    assert calls[:3] == pytest.approx([0.0, 6.0, 6.0 + 1.2 * 4.0])


@pytest.mark.parametrize("at", [0.30005, 0.3002, 0.3011])
@pytest.mark.parametrize("start", [0.0, 1.0])
def test_a_root_lies_where_some_is_left(at, start):
    """A search may end on either side of a step; what is said to be within must be so."""

    def left(x):
        return 0.3 - math.floor(x * 1e4) / 1e4

    reached = with_some_left(left, Crossing(at, found=True), start, 1e-4)
    assert left(reached.at) >= 0
    assert reached.at == pytest.approx(at, abs=3 * abs(at - 0.3) + 1e-4)


def test_a_root_with_some_left_stays():
    reached = Crossing(0.2, found=True)
    assert with_some_left(lambda x: 0.3 - x, reached, 0.0, 1e-4) is reached
