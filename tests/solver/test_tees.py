"""Tees at the split they really have."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.fittings import LEAST_SHARE, tee_k
from solver.flows import settle
from solver.network import build
from solver.tees import TeeTable, coefficients, with_split
from tests.solver.drawing import drawing, pump, run
from tests.solver.test_flows import OIL, header

RUN_RUN_BRANCH = TeeTable(
    np.array([[0, 1, 2]]), np.array([[1.0, -1.0, -1.0]]), np.array([[False, False, True]])
)


def at(*flows):
    k_inf, k_re = coefficients(RUN_RUN_BRANCH, np.array(flows))
    return k_inf[0], k_re[0]


@pytest.mark.parametrize("share", [0.02, 0.25, 0.5, 0.9])
def test_a_split_takes_the_published_figures(share):
    k_inf, k_re = at(1.0, 1.0 - share, share)
    for leg, name in ((1, "run"), (2, "branch")):
        expected = tee_k(name, diverging=True, branch_share=share, d_run=0.05, d_branch=0.05)
        assert (k_inf[leg], k_re[leg]) == pytest.approx((expected.k_inf, expected.k_re))
    assert (k_inf[0], k_re[0]) == (0.0, 0.0)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_a_join_takes_the_published_figures(share):
    k_inf, _ = at(1.0 - share, 1.0, -share)
    for leg, name in ((0, "run"), (2, "branch")):
        expected = tee_k(name, diverging=False, branch_share=share, d_run=0.05, d_branch=0.05)
        assert k_inf[leg] == pytest.approx(expected.k_inf, abs=1e-9)
    assert k_inf[1] == 0.0


def test_flow_in_by_the_branch_turns_into_both_ends_of_the_run():
    k_inf, k_re = at(-0.3, 0.7, -1.0)
    for leg, share in ((0, 0.3), (1, 0.7)):
        expected = tee_k("branch", diverging=True, branch_share=share, d_run=0.05, d_branch=0.05)
        assert (k_inf[leg], k_re[leg]) == pytest.approx((expected.k_inf, expected.k_re), rel=1e-9)
    assert (k_inf[2], k_re[2]) == (0.0, 0.0)


@given(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
def test_nothing_jumps_with_the_split(one, two):
    def losses(a, b):
        flows = np.array([a + b, a, b])
        k_inf, k_re = coefficients(RUN_RUN_BRANCH, flows)
        return k_inf[0] * flows * abs(flows) + k_re[0] * flows * 1e-3

    near = 1e-7
    for da, db in ((near, 0.0), (0.0, near), (near, -near)):
        np.testing.assert_allclose(losses(one + da, two + db), losses(one, two), atol=1e-3)


def test_still_fluid_has_finite_figures():
    k_inf, k_re = at(0.0, 0.0, 0.0)
    assert np.isfinite(k_inf).all()
    assert np.isfinite(k_re).all()


def test_a_settled_tree_has_its_tees_filled_in():
    settled = settle(header(0.002, 0.001), OIL)
    rows = {row.key: row for row in settled.network.rows}
    branch, straight = rows["header/branch"], rows["header/run 2"]
    exact = tee_k("branch", diverging=True, branch_share=1 / 3, d_run=0.06, d_branch=0.06)
    assert branch.k_inf == pytest.approx(exact.k_inf, rel=1e-4)
    assert branch.k_re == exact.k_re
    assert branch.source == exact.source
    held = settled.network.columns["k_inf"]
    assert held[settled.network.index["header/branch"]] == branch.k_inf
    assert held[settled.network.index["header/run 2"]] == straight.k_inf


def test_the_network_that_was_built_is_left_alone():
    network = header(0.002, 0.001)
    before = {name: column.copy() for name, column in network.columns.items()}
    settle(network, OIL)
    for name, column in network.columns.items():
        np.testing.assert_array_equal(column, before[name])


def test_a_network_without_tees_comes_back_as_it_is():
    network = build(drawing(run("riser", "strainer", "pump"), pump()))
    assert with_split(network, np.ones(len(network.rows))) is network


def test_the_least_share_is_held():
    small, _ = at(1.0, 1.0 - LEAST_SHARE / 1e6, LEAST_SHARE / 1e6)
    assert abs(small[2]) <= 1.0 / LEAST_SHARE**2
