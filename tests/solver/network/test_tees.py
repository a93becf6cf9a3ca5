"""Tees at the split they really have."""

import math
from dataclasses import replace

import numpy as np
import pytest
from fluids import fittings as library
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas.flow import GRAVITY
from solver.ledger.solve import Solution, solve
from solver.network.build import build
from solver.network.flows import settle
from solver.network.tee_curves import TeeWay, tee_formula, tee_k_re
from solver.network.tees import TEE, TeeTable, coefficients, losses, slopes, with_split
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, pump, run, tee
from tests.solver.network.test_flows import OIL, header
from tests.solver.network.valves import crane_friction

THIN = 1e-6
"""Kinematic viscosity with which the flows of these tests are turbulent [m²/s]."""

RUN_RUN_BRANCH = TeeTable(
    np.array([[0, 1, 2]]),
    np.array([[1.0, -1.0, -1.0]]),
    np.array([[False, False, True]]),
    np.full((1, 3), 0.05),
)


IN_TABLE = {"run": 20.0, "branch": 60.0}
"""Of Crane's table of fittings (TP-410, 1976), times his friction factor; read in Ludwig, Applied Process
Design for Chemical and Petrochemical Plants, volume 1, 3rd edition, page 76."""


def crane(leg: str, *, diverging: bool, branch_share: float) -> float:
    """k_inf of a leg by the library's Crane TP-410 (2009), referred to the leg's own velocity; not below that
    of Crane's table, but where a branch is dragged along."""
    of_whole = getattr(library, f"K_{leg}_{'diverging' if diverging else 'converging'}_Crane")
    own = branch_share if leg == "branch" else 1.0 - branch_share
    k = float(of_whole(0.05, 0.05, 1.0 - branch_share, branch_share, angle=90)) / own**2
    if leg == "branch" and not diverging and branch_share <= 0.4:
        return k
    return max(k, IN_TABLE[leg] * crane_friction(0.05))


def at(*flows):
    k_inf, k_re = coefficients(RUN_RUN_BRANCH, np.array(flows), THIN)
    return k_inf[0], k_re[0]


@pytest.mark.parametrize("share", [0.05, 0.25, 0.5, 0.9])
def test_a_split_takes_the_published_figures(share):
    k_inf, k_re = at(1.0, 1.0 - share, share)
    for leg, name in ((1, "run"), (2, "branch")):
        expected = crane(name, diverging=True, branch_share=share)
        assert (k_inf[leg], k_re[leg]) == pytest.approx((expected, tee_k_re(name)), rel=1e-5)
    assert (k_inf[0], k_re[0]) == (0.0, 0.0)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_a_join_takes_the_published_figures(share):
    k_inf, _ = at(1.0 - share, 1.0, -share)
    for leg, name in ((0, "run"), (2, "branch")):
        expected = crane(name, diverging=False, branch_share=share)
        assert k_inf[leg] == pytest.approx(expected, abs=1e-5)
    assert k_inf[1] == 0.0


@pytest.mark.parametrize("whole", [20.0, 600.0, 1999.0])
@pytest.mark.parametrize("share", [0.04, 0.1, 0.5, 0.9])
def test_laminar_flow_that_turns_into_a_branch_gets_no_static_pressure_back(share, whole):
    """The fall of static pressure, in velocity pressures of the header: loss less velocity heads. The run
    keeps the published figure: Idelchik's laminar run (diagram 7-20, from memory) gets as much back."""
    viscosity = 4 / (math.pi * 0.05 * whole)
    flows = np.array([1.0, 1.0 - share, share])
    k_inf, k_re = coefficients(RUN_RUN_BRANCH, flows, viscosity)
    lost = (k_inf[0, 2] + k_re[0, 2] / (share * whole)) * share**2
    fall = lost - 2.0 * (1.0 - share**2)
    assert fall >= k_re[0, 2] * share / whole - 1e-9, "what Darby's laminar term takes, at least"
    of_run = crane("run", diverging=True, branch_share=share)
    assert k_inf[0, 1] == pytest.approx(of_run, abs=1e-5)


def test_as_the_flow_that_splits_gets_turbulent_the_published_figures_take_over():
    def of_branch(reynolds):
        viscosity = 4 / (math.pi * 0.05 * reynolds)
        return coefficients(RUN_RUN_BRANCH, np.array([1.0, 0.7, 0.3]), viscosity)[0][0, 2]

    assert of_branch(1.0) == pytest.approx(2 * (1 - 0.3**2) / 0.3**2), "Darby's term is the most of it"
    assert of_branch(1.0) < of_branch(1000.0) < of_branch(2000.0)
    assert of_branch(2000.0) > of_branch(3000.0) > of_branch(4000.0)
    assert of_branch(4000.0) == of_branch(1e6)


@pytest.mark.parametrize("viscosity", [THIN, 8e-3, 1.0])
@pytest.mark.parametrize("small", [0.0, 1e-9, 1e-4, 0.01, 0.029, 0.031, 0.2])
@pytest.mark.parametrize("into", [0, 1, 2])
def test_no_leg_that_fluid_leaves_by_gets_pressure_back(into: int, small: float, viscosity: float) -> None:
    """In the leg with less than 3 % of the flow half a velocity pressure came back, as what is published for
    either way along it was blended there."""
    outward = [leg for leg in range(3) if leg != into]
    for little, much in (outward, outward[::-1]):
        inflow = np.zeros(3)
        inflow[into], inflow[little], inflow[much] = 1.0, -small, small - 1.0
        ways = RUN_RUN_BRANCH.inward[0]
        lost = losses(RUN_RUN_BRANCH, inflow * ways, replace(OIL, viscosity=viscosity))[0] * ways
        assert lost[into] >= lost[outward].max()


def test_a_split_of_every_variant_is_that_of_the_variant_alone():
    network = header(0.002, 0.001)
    flows = settle(network, OIL).flows
    thick = np.array([1e-6, 3e-5, 5e-4])
    every = with_split(network, flows, thick).columns["k_inf"]
    for variant, viscosity in enumerate(thick):
        alone = with_split(network, flows, float(viscosity)).columns["k_inf"]
        np.testing.assert_allclose(every[:, min(variant, every.shape[1] - 1)], alone, rtol=1e-12)


@pytest.mark.parametrize("share", [0.05, 0.25, 0.5])
def test_ends_of_the_run_that_meet_lose_more_than_a_branch_that_joins_a_run(share):
    """Neither stream drags the other along: what each end loses is above nothing."""
    k_inf, k_re = at(share, share - 1.0, 1.0)
    for leg, own in ((0, share), (1, 1.0 - share)):
        of_whole = k_inf[leg] * own**2
        published = tee_formula(TeeWay.END, diverging=False, branch_share=own)(own)
        by_table = IN_TABLE["branch"] * crane_friction(0.05) * own**2 if own > 0.4 else 0.0
        assert of_whole == pytest.approx(max(published, by_table), rel=1e-5)
        assert of_whole >= crane("branch", diverging=False, branch_share=own) * own**2 - 0.03
        assert of_whole > 0.6
        assert k_re[leg] == tee_k_re(TeeWay.BRANCH)
    assert k_inf[2] == 0.0


def test_flow_in_by_the_branch_turns_into_both_ends_of_the_run():
    k_inf, k_re = at(-0.3, 0.7, -1.0)
    for leg, share in ((0, 0.3), (1, 0.7)):
        expected = crane("branch", diverging=True, branch_share=share)
        assert (k_inf[leg], k_re[leg]) == pytest.approx((expected, tee_k_re("branch")), rel=1e-5)
    assert (k_inf[2], k_re[2]) == (0.0, 0.0)


@given(st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3))
def test_nothing_jumps_with_the_split(one, two):
    def head(a, b):
        """Rise from each leg to the second, whichever of them carries the whole flow."""
        lost = losses(RUN_RUN_BRANCH, np.array([a + b, a, b]), OIL)
        return np.array([lost[0, 0] + lost[0, 1], lost[0, 1] - lost[0, 2]])

    near = 1e-9
    for da, db in ((near, 0.0), (0.0, near), (near, -near)):
        np.testing.assert_allclose(head(one + da, two + db), head(one, two), atol=0.05)


@given(st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3))
def test_losses_are_those_of_the_coefficients(one, two):
    flows = np.array([one + two, one, two])
    lost = losses(RUN_RUN_BRANCH, flows, OIL)
    k_inf, k_re = coefficients(RUN_RUN_BRANCH, flows, OIL.viscosity)
    area = np.pi / 4 * 0.05**2
    own = 0.5 * OIL.density * k_inf[0] * flows * np.abs(flows) / area**2
    own += OIL.density * OIL.viscosity * k_re[0] * flows / (2 * 0.05 * area)
    share = np.abs(flows) / max(np.abs(flows).max(), 1e-300)
    np.testing.assert_allclose(lost[0][share > 1e-6], own[share > 1e-6], rtol=1e-9, atol=1e-12)


def test_still_fluid_has_finite_figures():
    k_inf, k_re = at(0.0, 0.0, 0.0)
    assert np.isfinite(k_inf).all()
    assert np.isfinite(k_re).all()


def test_a_settled_tree_has_its_tees_filled_in():
    settled = settle(header(0.002, 0.001), OIL)
    rows = {row.key: row for row in settled.network.rows}
    branch, straight = rows["header/branch"], rows["header/run 2"]
    reynolds = 4 * 0.003 / (math.pi * 0.06 * OIL.viscosity)
    idelchik = (1 + 0.9 + 1 / 3) * (1 + 1 / 9) + 150 / max(reynolds, 1000)
    exact = 9 * max(2 * (1 - 1 / 9), idelchik - 800 / 3 / reynolds)  # in laminar flow, of the leg's velocity
    assert exact > crane("branch", diverging=True, branch_share=1 / 3)
    assert branch.k_inf == pytest.approx(exact, rel=1e-9)
    assert branch.k_re == tee_k_re("branch")
    assert branch.source == TEE
    held = settled.network.columns["k_inf"]
    assert held[settled.network.index["header/branch"]] == branch.k_inf
    assert held[settled.network.index["header/run 2"]] == straight.k_inf


@pytest.mark.parametrize("legs", [(-1, 0, 1), (0, -1, 1), (0, 1, -1)])
def test_a_leg_that_rests_leaves_the_other_its_loss(legs: tuple[int, int, int]) -> None:
    """The line that brings the flow has no row: the loss may not go to it when one of the others rests."""
    branch = np.array([[False, False, True]])
    inward = np.where(np.array([legs]) < 0, 1.0, -1.0)
    tees = TeeTable(np.array([legs]), inward, branch, np.full((1, 3), 0.05))
    for flowing in (0, 1):
        flows = np.zeros(2)
        flows[flowing] = 1.0
        leg = legs.index(flowing)
        way = TeeWay.BRANCH if branch[0, leg] or legs[2] < 0 else TeeWay.RUN
        share = float(way == TeeWay.BRANCH)
        k_inf, k_re = coefficients(tees, flows, THIN)
        expected = crane(way, diverging=True, branch_share=share)
        assert (k_inf[0, leg], k_re[0, leg]) == pytest.approx((expected, tee_k_re(way)), rel=1e-5)
        nearly, _ = coefficients(tees, np.where(flows > 0, flows, 1e-9), THIN)
        assert k_inf[0, leg] == pytest.approx(nearly[0, leg], abs=1e-6), "and nothing jumps"


def test_the_network_that_was_built_is_left_alone():
    network = header(0.002, 0.001)
    before = {name: column.copy() for name, column in network.columns.items()}
    settle(network, OIL)
    for name, column in network.columns.items():
        np.testing.assert_array_equal(column, before[name])


def test_a_network_without_tees_comes_back_as_it_is():
    network = build(drawing(run("riser", "strainer", "pump"), pump()))
    assert with_split(network, np.ones(len(network.rows)), THIN) is network


@pytest.mark.parametrize("little", [0.0, 1e-300, 1e-9])
def test_a_leg_that_rests_keeps_a_finite_figure(little):
    small, _ = at(1.0, 1.0 - little, little)
    assert np.isfinite(small).all()


def with_pilot(flow: float, viscosity: str) -> Solution:
    """A pump that takes 180 L/min through the run of a tee, and one that takes a flow by its branch."""
    layout = drawing(
        tee("header", (1.5, 1.0)),
        pump("big", (2.5, 1.0), flow=0.003),
        pump("pilot", (1.5, 1.6), flow=flow),
        run("riser", "strainer", "header", via=[(0.9, 1.0)]),
        run("on", "header", "big"),
        run("leg", "header", "pilot"),
    )
    fluid = replace(layout.fluid, viscosity=quantity(viscosity, Kind.VISCOSITY))
    return solve(replace(layout, fluid=fluid))


@pytest.mark.parametrize("viscosity", ["1 cSt", "300 cSt"])
def test_a_leg_towards_rest_has_the_static_pressure_of_its_tee(viscosity: str) -> None:
    """By limits: what comes to rest has what stands at the tee, the velocity head of the whole flow off, and
    no step on the way there. A pump under a ten-millionth of the flow was given that head back."""
    flows = [10.0**-power for power in range(8, 60, 3)]
    solved = [with_pilot(flow, viscosity) for flow in flows]
    inlets = [each.pumps["pilot"].inlet for each in solved]
    assert max(inlets) - min(inlets) < 0.5
    ledger = solved[-1].pumps["pilot"]
    (before,) = (entry for entry in ledger.entries if entry.key == "riser/straight 2")
    weight = ledger.density * GRAVITY * 0.6
    assert before.pressure - weight == pytest.approx(inlets[-1], abs=60.0)
    lost = sum(entry.loss for entry in ledger.entries if entry.part == "header")
    assert lost > 900.0


@pytest.mark.parametrize(("one", "two"), [(5e-4, 2.31e-4), (5e-4, -2.31e-4), (3.3e-4, 8.17e-4), (6e-4, 7e-6)])
def test_slopes_follow_the_losses(one, two):
    flows = np.array([one + two, one, two])
    step = 1e-9 * np.array([3.0, 1.0, 2.0])
    lost = losses(RUN_RUN_BRANCH, flows, OIL)[0]
    grown = losses(RUN_RUN_BRANCH, flows + step, OIL)[0] - lost
    expected = slopes(RUN_RUN_BRANCH, flows, OIL)[0] @ step
    np.testing.assert_allclose(grown, expected, atol=1e-3 * np.abs(grown).max())
