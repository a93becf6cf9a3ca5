"""Columns of figures: what a calculation written for one figure makes of many."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer, column


def by_groups(values, calculation):
    """A calculation on a column, in groups where its variants part, as whoever starts one does it."""
    results = np.full(len(values), math.nan)
    waiting = [np.arange(len(values))]
    while waiting:
        members = waiting.pop()
        try:
            results[members] = calculation(column(values[members]))
        except VariantsDiffer as differing:
            waiting += [members[differing.groups == group] for group in np.unique(differing.groups)]
    return results


def stepped(x):
    """A calculation as one is written for single figures."""
    if x < 0:
        return -x
    if 1 < x <= 2:
        return math.sqrt(x)  # takes no column
    return max(x, 0.5) if x < 3 else columns.exp(-x)


@given(st.lists(st.floats(-5.0, 5.0), min_size=1, max_size=40))
def test_a_column_gives_what_its_figures_give_one_by_one(values):
    values = np.array(values)
    assert by_groups(values, stepped) == pytest.approx([stepped(x) for x in values.tolist()], rel=1e-15)


def test_arithmetic_runs_over_all_variants_at_once():
    x = column(np.array([1.0, 2.0]))
    assert (2 * x**2 - 1).tolist() == [1.0, 7.0]


def test_variants_part_where_they_would_go_different_ways():
    with pytest.raises(VariantsDiffer) as caught:
        bool(column(np.array([1.0, 3.0, 1.0])) > 2)
    assert caught.value.groups.tolist() == [1, 0, 1]


def test_variants_that_agree_do_not_part():
    x = column(np.array([1.0, 3.0]))
    assert x > 0
    assert not x > 4
    assert 0 < x < 4


def test_variants_part_by_value_where_one_number_is_needed():
    with pytest.raises(VariantsDiffer) as caught:
        math.sqrt(column(np.array([4.0, 1.0, 4.0])))
    assert caught.value.groups.tolist() == [1, 0, 1]
    assert math.sqrt(column(np.array([4.0, 4.0]))) == 2.0


def test_a_column_prints_its_first_figure():
    assert f"{column(np.array([1.25, 2.0])):.1f} m" == "1.2 m"


def test_a_column_is_no_key():
    with pytest.raises(TypeError):
        hash(column(np.array([1.0])))


def test_calls_with_a_column_are_remembered_for_that_very_column():
    calls = []

    @columns.remembered(8)
    def double(x):
        calls.append(x)
        return 2 * x

    assert (double(3.0), double(3.0)) == (6.0, 6.0)
    assert len(calls) == 1
    x = column(np.array([1.0, 2.0]))
    assert double(x) is double(x)
    assert double(x).tolist() == double(column(np.array([1.0, 2.0]))).tolist() == [2.0, 4.0]
    assert len(calls) == 3


def test_one_of_two_figures_is_chosen_for_each_variant():
    x = column(np.array([1.0, 3.0]))
    assert columns.choose(x > 2, x, 0.0).tolist() == [0.0, 3.0]
    assert (columns.choose(True, 1.0, 2.0), columns.choose(False, 1.0, 2.0)) == (1.0, 2.0)


FUNCTIONS = [
    (columns.exp, math.exp),
    (columns.log, math.log),
    (columns.log10, math.log10),
    (columns.sqrt, math.sqrt),
    (columns.sin, math.sin),
    (columns.cos, math.cos),
    (columns.tan, math.tan),
]


@pytest.mark.parametrize(("ours", "plain"), FUNCTIONS, ids=lambda f: f.__name__)
@given(x=st.floats(0.01, 20.0))
def test_functions_of_one_figure_and_of_a_column_agree(ours, plain, x):
    assert ours(x) == plain(x)
    assert float(ours(column(np.array([x])))) == pytest.approx(plain(x), rel=1e-13)


@pytest.mark.parametrize(
    ("ours", "plain"),
    [(columns.hypot, math.hypot), (columns.atan2, math.atan2), (columns.largest, max), (columns.least, min)],
    ids=lambda f: f.__name__,
)
@given(x=st.floats(-9.0, 9.0), y=st.floats(-9.0, 9.0))
def test_functions_of_two_figures_and_of_columns_agree(ours, plain, x, y):
    assert ours(x, y) == plain(x, y)
    for pair in ((column(np.array([x])), y), (x, column(np.array([y])))):
        assert float(ours(*pair)) == pytest.approx(plain(x, y), rel=1e-13)


@given(st.floats(-1.0, 6.0))
def test_reached_counts_the_nodes_at_or_below(x):
    nodes = [0.0, 1.0, 3.0]
    at = sum(node <= x for node in nodes)
    assert columns.bisect(nodes, x) == at
    assert columns.pick([9.0, 8.0, 7.0, 6.0], columns.bisect(nodes, column(np.array([x])))).tolist() == [
        9.0 - at
    ]


def test_every_and_some():
    mixed = column(np.array([1.0, 3.0])) > 2
    assert not columns.every(mixed)
    assert columns.some(mixed)
    assert columns.every(True)
    assert not columns.some(False)


def test_a_function_of_plain_numbers_is_called_for_each_variant():
    x, y = column(np.array([3.0, 5.0])), column(np.array([4.0, 12.0]))
    assert columns.each(math.hypot, x, y).tolist() == [5.0, 13.0]
    assert columns.each(math.hypot, x, 4.0).tolist() == [5.0, math.hypot(5.0, 4.0)]
    assert columns.each(math.hypot, 3.0, 4.0) == 5.0


def test_figures_and_columns_make_a_table_and_come_back_by_row():
    assert columns.table([1.0, None]).shape == (2,)
    table = columns.table([1.0, column(np.array([2.0, 3.0])), None])
    assert table.shape == (3, 2)
    assert type(table) is np.ndarray
    rows = columns.by_row(table)
    assert rows[1].tolist() == [2.0, 3.0]
    assert columns.by_row(np.array([[1.0], [2.0]])) == [1.0, 2.0]
    assert (columns.total(table[:2]).tolist(), columns.lowest(table[:2]).tolist()) == ([3.0, 4.0], [1.0, 1.0])
    assert columns.running_total(table[:2]).tolist() == [[1.0, 1.0], [3.0, 4.0]]
    assert columns.running_total(np.array([1.0, 2.0])).tolist() == [1.0, 3.0]
    assert (columns.total(np.array([1.0, 2.0])), columns.lowest(np.array([1.0, 2.0]))) == (3.0, 1.0)


def test_tables_are_spread_once_anything_has_variants():
    one, two = np.zeros(3), np.zeros((3, 2))
    assert [t.shape for t in columns.aligned((one, two), ())] == [(3, 1), (3, 2)]
    assert [t.shape for t in columns.aligned((one,), (column(np.zeros(2)),))] == [(3, 1)]
    assert [t.shape for t in columns.aligned((one,), (1.0,))] == [(3,)]


def test_variants_that_disagree_on_a_row_part():
    assert columns.agreed(np.array([[True, True], [False, False]])) == [True, False]
    with pytest.raises(VariantsDiffer) as caught:
        columns.agreed(np.array([[True, True], [False, True]]))
    assert caught.value.groups.tolist() == [1, 0]


def test_a_column_of_one_figure_only_is_that_figure():
    assert columns.collapsed(column(np.array([2.0, 2.0]))) == 2.0
    x = column(np.array([2.0, 3.0]))
    assert columns.collapsed(x) is x
    assert (columns.first(x), columns.first(4.0)) == (2.0, 4.0)
    assert columns.isnan(math.nan)
    assert not columns.isnan(x)
    assert columns.is_column(x)
    assert not columns.is_column(2.0)
