"""The drop expression: limits, continuity, signs, shapes and slopes. Published values: tests/published/."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.network import coefficients, losses
from solver.network.losses import Floats
from solver.network.ways import Joins

NAMES = (
    "bore",
    "length",
    "roughness",
    "k_inf",
    "k_re",
    "viscous",
    "inertial",
    "read_drop",
    "read_flow",
    "read_mu",
    "read_density",
    "cap",
    "bypass_viscous",
    "k_slow",
    "slow_end",
    "k_inf_back",
)
NONE = {
    "bore": 0.05,
    "cap": np.inf,
    "read_flow": np.nan,
    "read_mu": np.inf,
    "read_density": np.inf,
    "bypass_viscous": np.nan,
    "k_slow": np.nan,
    "k_inf_back": np.nan,
}
"""What a row holds that has nothing of the kind."""


def _columns(rows: int = 1, **given: Any) -> dict[str, Floats]:
    """A table of equal rows, each a 50 mm bore with nothing in it but what is given."""
    plain = dict.fromkeys(NAMES, 0.0) | NONE | given
    return {
        name: np.full(rows, value) if np.isscalar(value) else np.array(value) for name, value in plain.items()
    }


def _loss(flow: float, density: float = 870.0, viscosity: float = 46e-6, **given: Any) -> float:
    return float(losses.drop(_columns(**given), np.array([flow]), density, viscosity).loss[0])


def _flow(reynolds: float, bore: float = 0.05, viscosity: float = 46e-6) -> float:
    return reynolds * viscosity * np.pi * bore / 4


PARTS = [
    {"length": 2.0},
    {"length": 2.0, "roughness": 0.0025},
    {"k_inf": 0.5},
    {"k_re": 800.0},
    {"k_inf": 0.6, "k_re": 800.0, "length": 1.0},
    {"viscous": 1e9},
    {"inertial": 1e7},
    {"read_drop": 5000.0},
    {"read_drop": 5000.0, "read_flow": 1e-3, "read_mu": 0.02, "read_density": 870.0},
    {"k_slow": 1.73, "k_inf": 0.4},
    {"k_slow": 1.2, "k_inf": 0.09, "k_re": 60.0, "slow_end": 2600.0},
]


def test_laminar_pipe_is_hagen_poiseuille() -> None:
    flow = _flow(800)
    exact = 128 * 46e-6 * 870 * 2.0 * flow / (np.pi * 0.05**4)
    assert _loss(flow, length=2.0) == pytest.approx(exact, rel=1e-12)


def test_each_term_as_written() -> None:
    flow = _flow(1000)
    velocity_pressure = 870 / 2 * (4 * flow / (np.pi * 0.05**2)) ** 2
    assert _loss(flow, k_inf=0.5) == pytest.approx(0.5 * velocity_pressure)
    assert _loss(flow, k_re=800.0) == pytest.approx(0.8 * velocity_pressure)
    assert _loss(flow, viscous=1e9) == pytest.approx(1e9 * 46e-6 * 870 * flow)
    assert _loss(flow, inertial=1e7) == pytest.approx(1e7 * 870 * flow**2)
    assert _loss(flow, read_drop=5000.0) == 5000.0


@pytest.mark.parametrize("part", PARTS)
def test_no_flow_no_loss(part: dict[str, float]) -> None:
    at_rest = losses.drop(_columns(**part), np.zeros(1), 870.0, 46e-6)
    assert at_rest.loss[0] == 0.0
    assert at_rest.velocity[0] == 0.0
    for value in (at_rest.reynolds, at_rest.k, at_rest.slope):
        assert np.isfinite(value).all()


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("flow", [1e-18, 1e-12, 1e-7])
def test_loss_goes_to_nothing_with_the_flow(part: dict[str, float], flow: float) -> None:
    steepest = losses.drop(_columns(**part), np.zeros(1), 870.0, 46e-6).slope[0]
    assert 0 <= _loss(flow, **part) <= 1.001 * max(steepest * flow, _loss(1e-4, **part) * flow / 1e-4)


def test_no_length_no_friction() -> None:
    drops = losses.drop(_columns(length=0.0), np.array([1e-3]), 870.0, 46e-6)
    assert drops.loss[0] == 0.0
    assert np.isnan(drops.friction_factor[0])


def test_friction_grows_from_no_length_without_a_step() -> None:
    assert _loss(1e-3, length=1e-9) == pytest.approx(1e-9 * _loss(1e-3, length=1.0), rel=1e-9)


@pytest.mark.parametrize("reynolds", [2000.0, 3000.0, 4000.0])
@pytest.mark.parametrize("roughness", [0.0, 4.57e-5, 2.5e-3])
def test_continuous_in_value_and_slope_at_the_ends_of_the_transition(
    reynolds: float, roughness: float
) -> None:
    below, above = (
        losses.drop(_columns(length=1.0, roughness=roughness), np.array([_flow(r)]), 870.0, 46e-6)
        for r in (reynolds * (1 - 1e-9), reynolds * (1 + 1e-9))
    )
    assert above.loss[0] == pytest.approx(below.loss[0], rel=1e-8)
    assert above.slope[0] == pytest.approx(below.slope[0], rel=1e-5)


@given(st.floats(-6, -1.5), st.floats(1.0001, 1.1))
def test_loss_never_falls_as_flow_rises(exponent: float, factor: float) -> None:
    """But of a widening alone: in laminar flow no pressure comes back, in turbulent flow some does."""
    flow = 10.0**exponent
    for part in PARTS:
        if "k_slow" not in part or "slow_end" in part:
            assert _loss(flow * factor, **part) >= _loss(flow, **part) > 0


@given(st.floats(1e-6, 3e-2), st.floats(1e-7, 2e-3))
def test_the_slope_is_the_derivative(flow: float, viscosity: float) -> None:
    columns = _columns(
        length=1.5, roughness=4.57e-5, k_inf=0.6, k_re=800.0, k_slow=1.9, viscous=1e8, inertial=1e6
    )
    reynolds = 4 * flow / (np.pi * 0.05 * viscosity)
    if min(abs(reynolds / end - 1) for end in (2000, 3000, 4000)) < 1e-4:
        return  # the second derivative jumps here, and a difference across it is no derivative
    step = flow * 1e-5
    three = np.array([[flow - step, flow, flow + step]])
    drops = losses.drop(columns, three, 870.0, viscosity)
    difference = (drops.loss[0, 2] - drops.loss[0, 0]) / (2 * step)
    assert drops.slope[0, 1] == pytest.approx(difference, rel=1e-6)


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("flow", [1e-6, 1e-3, 2e-2])
def test_reverse_flow_is_the_mirror(part: dict[str, float], flow: float) -> None:
    forth, back = (losses.drop(_columns(**part), np.array([q]), 870.0, 46e-6) for q in (flow, -flow))
    assert back.loss[0] == -forth.loss[0]
    assert back.velocity[0] == -forth.velocity[0]
    assert back.reynolds[0] == forth.reynolds[0] > 0
    assert back.slope[0] == forth.slope[0]


def test_reverse_flow_takes_its_own_coefficient() -> None:
    columns = _columns(2, k_inf=0.5, k_inf_back=[0.9, np.nan])
    back = losses.drop(columns, np.array([-1e-3, -1e-3]), 870.0, 46e-6)
    assert back.loss[0] / back.loss[1] == pytest.approx(0.9 / 0.5)
    assert losses.drop(columns, np.array([1e-3, 1e-3]), 870.0, 46e-6).loss[0] == -back.loss[1]


def test_a_table_without_the_reverse_column() -> None:
    columns = _columns(k_inf=0.5)
    del columns["k_inf_back"]
    assert losses.drop(columns, np.array([-1e-3]), 870.0, 46e-6).loss[0] < 0


OPENS = 3000.0 / (1e9 * 46e-6 * 870)
"""Flow at which a bypass of 3 kPa opens beside an element of 1e9/m³ [m³/s]."""


@pytest.mark.parametrize("point", [np.nan, 1e8])
def test_a_bypass_opens_without_a_step_and_relieves_ever_more(point: float) -> None:
    columns = _columns(viscous=1e9, cap=3000.0, bypass_viscous=point)
    drops = [
        losses.drop(columns, np.array([OPENS * s]), 870.0, 46e-6)
        for s in (1 - 1e-9, 1 + 1e-9, 1.5, 3.0, 30.0)
    ]
    assert drops[0].loss[0] == pytest.approx(3000.0, rel=1e-8)
    assert [bool(d.bypassed[0]) for d in drops] == [False, True, True, True, True]
    assert drops[1].loss[0] == pytest.approx(3000.0, rel=1e-8)
    relieved = [d.loss[0] / (3000.0 * s) for d, s in zip(drops[1:], (1, 1.5, 3.0, 30.0), strict=True)]
    assert relieved == sorted(relieved, reverse=True)
    assert 3000.0 <= drops[2].loss[0] <= drops[3].loss[0] <= drops[4].loss[0]
    assert losses.drop(columns, np.array([-OPENS]), 870.0, 46e-6).loss[0] == pytest.approx(-3000.0)


def test_element_and_open_bypass_are_parallel_resistances() -> None:
    """The split solved for itself: the same drop over both, p0 more for the spring of the bypass."""
    mu, flow = 46e-6 * 870.0, 2 * OPENS
    element, over = 1e9 * mu, 2.5e8 * mu
    through = (3000.0 + over * flow) / (element + over)  # element · Qe = p0 + over · (Q − Qe)
    assert _loss(flow, viscous=1e9, cap=3000.0, bypass_viscous=2.5e8) == pytest.approx(element * through)


@pytest.mark.parametrize(("viscosity", "most"), [(30e-6, 4500.0), (90e-6, 7500.0)])
def test_without_a_point_the_whole_flow_over_the_bypass_takes_half_as_much_again(
    viscosity: float, most: float
) -> None:
    """At 30 mm²/s and 870 kg/m³, and in proportion to viscosity: common practice, no source."""
    assert _loss(1.0, viscous=1e12, cap=3000.0, viscosity=viscosity) == pytest.approx(most, rel=1e-4)


@given(st.floats(1e-5, 1e-2), st.floats(1e-6, 1e-3), st.sampled_from([np.nan, 1e7, 1e9]))
def test_an_open_bypass_never_takes_more_than_the_element(
    flow: float, viscosity: float, point: float
) -> None:
    given = {"viscous": 1e9, "inertial": 1e6, "viscosity": viscosity}
    alone = _loss(flow, **given)
    eased = _loss(flow, **given, cap=3000.0, bypass_viscous=point)
    assert min(alone, 3000.0) * (1 - 1e-12) <= eased <= alone * (1 + 1e-12)


@given(st.floats(1.01, 100), st.floats(1e-6, 1e-3), st.sampled_from([np.nan, 1e7, 1e9]))
def test_the_slope_past_an_open_bypass_is_the_derivative(
    share: float, viscosity: float, point: float
) -> None:
    columns = _columns(viscous=1e9, inertial=1e6, cap=3000.0, bypass_viscous=point)
    flow = share * 3000.0 / (1e9 * viscosity * 870)
    step = flow * 1e-6
    three = losses.drop(columns, np.array([[flow - step, flow, flow + step]]), 870.0, viscosity)
    by_hand = (three.loss[0, 2] - three.loss[0, 0]) / (2 * step)
    assert three.slope[0, 1] == pytest.approx(by_hand, rel=1e-4)


def test_a_known_drop_is_charged_in_full_at_any_flow_but_none() -> None:
    assert _loss(1e-8, read_drop=5000.0) == 5000.0
    assert _loss(1e-10, read_drop=5000.0) < 5000.0
    assert losses.drop(_columns(read_drop=5000.0), np.zeros(1), 870.0, 46e-6).loss[0] == 0.0


READ = {"read_drop": 5000.0, "read_flow": 1e-3, "read_mu": 30e-6 * 870, "read_density": 870.0}


@pytest.mark.parametrize(
    ("viscosity", "density", "grown"),
    [
        (30e-6, 870.0, 1.0),
        (10e-6, 870.0, 1.0),
        (300e-6, 870.0, 10.0),
        (30e-6, 1740.0, 2.0),
        (1e-6, 998.0, 1.1471),
    ],
)
def test_a_known_drop_grows_with_a_thicker_or_heavier_fluid_and_never_shrinks(
    viscosity: float, density: float, grown: float
) -> None:
    for reading in (READ, READ | {"read_flow": np.nan}):
        loss = _loss(1e-3, density=density, viscosity=viscosity, **reading)
        assert loss == pytest.approx(5000.0 * grown, rel=1e-4)


@pytest.mark.parametrize(("share", "taken"), [(0.1, 0.1), (0.5, 0.5), (1.0, 1.0), (2.0, 4.0), (3.0, 9.0)])
def test_a_known_drop_follows_the_unfavourable_law_of_flow(share: float, taken: float) -> None:
    """Below the flow it was read at as if viscous, above it as if inertial: one drop does not tell which."""
    assert _loss(share * 1e-3, viscosity=30e-6, **READ) == pytest.approx(5000.0 * taken)


def test_variants_are_the_single_solves() -> None:
    rows, variants = 6, 40
    rng = np.random.default_rng(7)
    columns = _columns(
        rows,
        bore=rng.uniform(0.02, 0.1, rows),
        length=rng.uniform(0, 3, rows),
        roughness=np.full(rows, 4.57e-5),
        k_inf=rng.uniform(0, 2, rows),
        k_re=rng.uniform(0, 1000, rows),
        viscous=rng.uniform(0, 1e8, rows),
        fixed=rng.uniform(0, 100, rows),
    )
    flow = rng.uniform(-5e-3, 5e-3, (rows, variants))
    density, viscosity = rng.uniform(800, 1100, variants), 10 ** rng.uniform(-6, -3, variants)
    together = losses.drop(columns, flow, density, viscosity)
    for j in range(variants):
        alone = losses.drop(columns, flow[:, j], density[j], viscosity[j])
        for name in ("velocity", "reynolds", "friction_factor", "k", "loss", "slope"):
            np.testing.assert_allclose(getattr(together, name)[:, j], getattr(alone, name), rtol=1e-12)


def test_columns_may_differ_between_variants() -> None:
    columns = _columns(2, length=1.0)
    columns["roughness"] = np.array([[0.0, 1e-4, 2e-3]] * 2)
    rough = losses.drop(columns, np.full((2, 3), 2e-2), 998.0, 1e-6).loss
    assert (np.diff(rough, axis=1) > 0).all()


@given(st.floats(1, 1e8))
def test_turbulence_and_kinetic_factor_lie_between_their_ends(reynolds: float) -> None:
    assert 0 <= losses.turbulence(reynolds) <= 1
    assert 1.05 <= losses.kinetic_factor(reynolds) <= 2


def test_kinetic_factor_is_blended_as_the_friction_is() -> None:
    assert losses.kinetic_factor(2000.0) == 2.0
    assert losses.kinetic_factor(3000.0) == pytest.approx(1.525)
    assert losses.kinetic_factor(4000.0) == pytest.approx(1.05)
    np.testing.assert_allclose(losses.kinetic_factor(np.array([100.0, 1e6])), [2.0, 1.05])


@given(st.floats(0.1, 0.99), st.floats(10, 2000))
def test_no_widening_raises_the_static_pressure_in_laminar_flow(beta: float, reynolds: float) -> None:
    """What the slower fluid gives back of its velocity head is lost in the eddies."""
    k = coefficients.bore_change_k(0.05 * beta, 0.05)
    row = {"bore": 0.05 * beta, "k_inf": k.k_inf, "k_re": k.k_re, "k_slow": k.k_slow}
    flow = np.array([_flow(reynolds, 0.05 * beta)])
    narrow = losses.drop(_columns(**row), flow, 870.0, 46e-6, heads=True)
    wide = losses.drop(_columns(), flow, 870.0, 46e-6, heads=True)
    assert narrow.velocity_head[0] - wide.velocity_head[0] <= narrow.loss[0] * (1 + 1e-12)


@pytest.mark.parametrize("reynolds", [2000.0, 4000.0])
def test_a_widening_has_no_step_between_laminar_and_turbulent_flow(reynolds: float) -> None:
    k = coefficients.bore_change_k(0.03, 0.05)
    given = {"bore": 0.03, "k_inf": k.k_inf, "k_slow": k.k_slow}
    before, after = (_loss(_flow(reynolds * share, 0.03), **given) for share in (1 - 1e-9, 1 + 1e-9))
    assert after == pytest.approx(before, rel=1e-8)


def test_a_gradual_widening_goes_from_its_cone_to_a_step() -> None:
    """Hooper (1988): 2.6 sin(θ/2) of a sudden one up to 45°."""
    step = coefficients.bore_change_k(0.03, 0.05).k_slow
    assert step is not None
    for degrees, share in ((10.0, 0.2266), (20.0, 0.4515), (45.0, 0.99498), (46.0, 1.0), (120.0, 1.0)):
        k_slow = coefficients.bore_change_k(0.03, 0.05, np.radians(degrees)).k_slow
        assert k_slow == pytest.approx(step * share, rel=2e-4)


def test_motion_that_is_known_is_worked_out_once_and_gives_the_very_same_drops(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    worked_out: list[float] = []
    motion = losses._motion

    def counted(*given: Any) -> Any:
        worked_out.append(given[4])
        return motion(*given)

    monkeypatch.setattr(losses, "_motion", counted)
    once, flow = Joins([]).once, np.array([_flow(2500.0), _flow(9000.0)])
    for viscosity in (46e-6, 30e-6):
        for length in (1.0, 2.0, 3.0):  # as in a drag, which alters no bore
            columns = _columns(rows=2, length=length, k_inf=0.6, k_re=800.0)
            known = losses.drop(columns, flow, 870.0, viscosity, slopes=False, heads=True, once=once)
            assert worked_out == [46e-6, 30e-6][: len(worked_out)]
            fresh = losses._drop(columns, flow, 870.0, viscosity, None, False, True)
            worked_out.pop()
            for name in ("velocity", "reynolds", "wall_friction", "k", "loss", "velocity_head"):
                assert getattr(known, name).tolist() == getattr(fresh, name).tolist()
    wider = losses.drop(_columns(rows=2, bore=0.06), flow, 870.0, 46e-6, slopes=False, heads=True, once=once)
    assert wider.velocity[0] < known.velocity[0]
