"""What a tee takes, which hangs on how the flow splits there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from solver.formulas import fittings as formulas
from solver.formulas import tees as slow_flow
from solver.formulas.record import Calculator, Recorder
from solver.network.build import Floats, Network
from solver.network.build import columns as columns_of
from solver.network.losses import LEAST_FLOW, turbulence
from solver.network.rows import Leg
from solver.network.tee_curves import (
    DRAGGED,
    STEPS,
    TeeWay,
    curves,
    friction_in_fittings,
    tee_k_re,
)
from solver.network.tee_steps import AtLeg, LegSteps, record_curve, record_turning
from solver.network.ways import Rows
from solver.properties.fluid import FluidState
from solver.quantities import columns as figures

Ints = NDArray[np.intp]

TURNING = 0.03
"""Share of a tee's flow below which a leg that joins counts as about to turn: its figures go over into those
of flow that splits, which take more of every leg."""

END = tuple(TeeWay).index(TeeWay.END)
"""The place of that way in the curves."""

NONE = 1e-7
"""Taken for the share of a leg that rests, so that its coefficient is finite."""

LEAST_SHARE = 1e-150
"""Of any leg that flows, so that a coefficient is finite."""

FLOW_STEP = 1e-6
"""For slopes, as a share of a tee's flow."""


TEE = (
    "Crane TP-410 (2009), Idelchik where the ends of the run meet, by flow split, and never less than by "
    "Crane's table; in laminar flow the larger of Darby's and Idelchik's"
)


@dataclass(frozen=True, slots=True)
class TeeTable:
    """All tees of a network, one line each, three legs across."""

    rows: Ints  # -1 where a leg has no row
    inward: Floats  # +1 where the row points into the tee, -1 where out of it
    branch: NDArray[np.bool_]
    bore: Floats  # [m]
    friction: Floats = field(init=False)  # Crane's friction factor of a fitting

    def __post_init__(self) -> None:
        object.__setattr__(self, "friction", friction_in_fittings(self.bore))

    @property
    def present(self) -> NDArray[np.bool_]:
        """Which legs have a row."""
        return self.rows >= 0


def table(network: Network) -> TeeTable:
    """The tees of a network."""
    legs = [leg for tee in network.tees.values() for leg in tee]
    rows = np.array([-1 if leg.row is None else leg.row for leg in legs], dtype=np.intp)
    inward = np.array([1.0 if leg.inward else -1.0 for leg in legs], dtype=np.float64)
    branch = np.array([leg.element == Leg.BRANCH for leg in legs], dtype=np.bool_)
    # Bores count where lines run in parallel, and those are calculated one variant at a time.
    bore = np.array([figures.first(leg.bore) for leg in legs], dtype=np.float64)
    return TeeTable(rows.reshape(-1, 3), inward.reshape(-1, 3), branch.reshape(-1, 3), bore.reshape(-1, 3))


def coefficients(
    tees: TeeTable, flows: Floats, viscosity: float | Floats, steps: LegSteps | None = None
) -> tuple[Floats, Floats]:
    """k_inf and k_re of every leg at a split, each (tees, 3), referred to the leg's own flow.

    flows: of each row of the network [m³/s]; viscosity: kinematic, (tees,) where they differ [m²/s]. The leg
    that carries the whole flow has none. k_inf may be negative: a fast stream drags a slow one along.
    Where laminar flow splits, no static pressure comes back in a leg into which it turns.
    """
    into = np.where(tees.present, flows[tees.rows], 0.0) * tees.inward
    into = np.where(tees.present, into, -into.sum(axis=1, keepdims=True))
    k, k_re = _of_whole(tees, into, viscosity, steps)
    size = np.abs(into)
    share = _own_share(size)
    k = k * np.sign(into)
    if steps is not None and k[0, steps.leg]:
        recorder, leg = steps.recorder, steps.leg
        recorder.work(formulas.leg_share, float(size[0, leg]), float(size[0].max()))
        recorder.work(formulas.tee_own, float(k[0, leg]), float(share[0, leg]))
    return k / share**2, k_re


def _own_share(size: Floats) -> Floats:
    """Share in the whole flow by which the loss of a leg is referred to its own velocity.

    size: flow of each leg [m³/s]. However little flows, the leg has the loss that the whole flow gives it, so
    that towards rest the static pressure in it comes to that of the tee.
    """
    whole = np.maximum(size.max(axis=1, keepdims=True), 1e-300)
    # Under the least flow a loss is proportional to the flow, and no longer to its square.
    charged = np.where(size < LEAST_FLOW, np.sqrt(size * LEAST_FLOW), size)
    share: Floats = np.where(size > 0, np.maximum(charged / whole, LEAST_SHARE), NONE)
    return share


def losses(tees: TeeTable, flows: Floats, fluid: FluidState) -> Floats:
    """Loss of every leg [Pa], (tees, 3), signed as its row.

    flows: of each row of the network [m³/s]; every leg has a row.
    """
    return _losses(tees, flows[tees.rows] * tees.inward, fluid) * tees.inward


def slopes(tees: TeeTable, flows: Floats, fluid: FluidState) -> Floats:
    """How the loss of every leg grows with the flow of each leg of its tee [Pa·s/m³], (tees, 3, 3).

    Parameters and signs as `losses`.
    """
    into = flows[tees.rows] * tees.inward
    step = FLOW_STEP * np.maximum(np.abs(into).max(axis=1), 1e-9)
    moved = into + np.concatenate([np.zeros((1, 3)), np.eye(3)])[:, None, :] * step[:, None]
    # The tees as they are, and with each leg's flow moved, as so many tees: one pass takes a quarter of four.
    lost = _losses(_repeated(tees, 4), moved.reshape(-1, 3), fluid).reshape(4, -1, 3)
    grown = ((lost[1:] - lost[0]) / step[:, None]).transpose(1, 2, 0)
    signed: Floats = grown * tees.inward[:, :, None] * tees.inward[:, None, :]
    return signed


def _repeated(tees: TeeTable, times: int) -> TeeTable:
    """The tees so many times one after the other."""
    each = (tees.rows, tees.inward, tees.branch, tees.bore)
    return TeeTable(*(np.concatenate([x] * times) for x in each))


def _losses(tees: TeeTable, into: Floats, fluid: FluidState) -> Floats:
    """Loss on the way into the tee along each leg [Pa], for the flow into it along each [m³/s]."""
    area = np.pi / 4 * tees.bore**2
    k, k_re = _of_whole(tees, into, fluid.viscosity)
    speed = np.abs(into).max(axis=1, keepdims=True) / area
    lost: Floats = fluid.density * (
        0.5 * k * speed**2 + k_re * fluid.viscosity * into / (2 * tees.bore * area)
    )
    return lost


def _of_whole(
    tees: TeeTable, into: Floats, viscosity: float | Floats, steps: LegSteps | None = None
) -> tuple[Floats, Floats]:
    """Coefficients, k_inf referred to the whole flow and positive for a loss on the way into the tee.

    into: flow into each tee along its legs [m³/s]; viscosity: as in `coefficients`. Where the least of three
    legs joins and nearly rests, the figures go over into those of the flow that splits once it has turned, so
    that nothing jumps there, and a leg through which little leaves gets no pressure of the others' back.
    """
    size = np.abs(into)
    # A leg without a row brings all of the flow, also where one of the others rests.
    least, other, whole = np.argsort(np.where(tees.present, size, np.inf), axis=1).T
    lines = np.arange(len(whole))
    share = size[lines, least] / np.maximum(size[lines, whole], 1e-300)
    joins = into[lines, whole] < 0
    turning = (share < TURNING) & joins & tees.present.all(axis=1)
    if not turning.any():
        return _with_whole(tees, into, whole, viscosity, steps)
    one_way = the_other = steps
    if steps is not None:
        one_way = steps._replace(k=formulas.K_a, k_re=formulas.slow_a)
        the_other = steps._replace(k=formulas.K_b, k_re=formulas.slow_b)
    k, k_re = _with_whole(tees, into, whole, viscosity, one_way)
    turned = np.where(turning, other, whole)
    k_other, k_re_other = _with_whole(tees, into, turned, viscosity, the_other)
    part = np.where(turning, share / TURNING, 1.0)
    weight = (part**2 * (3.0 - 2.0 * part))[:, None]
    if steps is not None:
        flows = float(size[0, least[0]]), float(size[0, whole[0]])
        record_turning(steps, flows, (k * np.sign(into), k_other * np.sign(into)), (k_re, k_re_other))
    return weight * k + (1 - weight) * k_other, weight * k_re + (1 - weight) * k_re_other


def _with_whole(
    tees: TeeTable, into: Floats, whole: Ints, viscosity: float | Floats, steps: LegSteps | None = None
) -> tuple[Floats, Floats]:
    """Coefficients where the leg `whole` of each tee carries all of its flow."""
    lines, size = np.arange(len(whole)), np.abs(into)
    flow = size[lines, whole]
    splits = (into[lines, whole] > 0)[:, None]
    share = np.minimum(size / np.maximum(flow, 1e-300)[:, None], 1.0)
    turns = tees.branch | tees.branch[lines, whole][:, None]
    at = np.where(turns, share, 1.0 - share) * STEPS
    low = np.minimum(at.astype(np.intp), STEPS - 1)
    kind, way = np.where(tees.branch[lines, whole][:, None], END, turns), splits.astype(np.intp)
    below, above = curves()[kind, way, low], curves()[kind, way, low + 1]
    published = below + (at - low) * (above - below)
    bore = tees.bore[lines, whole]
    by_table = np.where(turns, slow_flow.TURN, slow_flow.RUN) * tees.friction[lines, whole][:, None]
    kept_up = ~turns | splits | (share > DRAGGED)
    published = np.where(kept_up, np.maximum(published, by_table * share**2), published)
    reynolds = slow_flow.whole_reynolds.array(np.maximum(flow, LEAST_FLOW), bore, viscosity)[:, None]
    slow = turns & (splits | (kind != END))
    k = np.where(slow, _in_slow_flow(published, reynolds, share, splits), published)
    k = np.where(splits, -k, k)
    k_re = np.where(turns, tee_k_re(TeeWay.BRANCH), tee_k_re(TeeWay.RUN))
    k[lines, whole] = 0.0
    k_re[lines, whole] = 0.0
    if steps is not None:
        leg, nu = steps.leg, float(np.broadcast_to(viscosity, flow.shape)[0])
        leg_way = tuple(TeeWay)[int(kind[0, leg])]
        of_whole = float(flow[0]), float(bore[0]), nu
        at_leg = AtLeg(leg_way, bool(splits[0, 0]), float(share[0, leg]), int(low[0, leg]), of_whole)
        record_curve(steps, at_leg, float(into[0, leg]), leg == whole[0])
    return k, k_re


def _in_slow_flow(published: Floats, reynolds: Floats, share: Floats, splits: NDArray[np.bool_]) -> Floats:
    """Coefficients of legs in which flow turns, at a Reynolds number of the whole flow, (tees, 1)."""
    w = turbulence(reynolds)
    if w.min(initial=1.0) >= 1.0:
        return published
    least = published
    if not splits.all():
        least = slow_flow.laminar_joins.array(published, reynolds, share)
    if splits.any():
        laminar = slow_flow.laminar_splits.array(slow_flow.laminar_factor.array(share), reynolds, share)
        least = np.where(splits, np.maximum(laminar, slow_flow.tee_nothing_back.array(share)), least)
    return slow_flow.tee_slow.array(w, published, least)


def with_split(network: Network, flows: Floats, viscosity: float | Floats) -> Network:
    """The network with the coefficients its tees have at these flows [m³/s] of a fluid [m²/s]."""
    if not network.tees:
        return network
    tees = table(network)
    bores = figures.table([leg.bore for legs in network.tees.values() for leg in legs])
    tables = [each.shape[-1] for each in (flows, bores) if each.ndim == 2]
    variants = max([*tables, *([len(viscosity)] if isinstance(viscosity, np.ndarray) else [])], default=0)
    if variants:
        bores = bores if bores.ndim == 2 else bores[:, None]
        flows = flows if flows.ndim == 2 else flows[:, None]
        return _with_splits(network, tees, np.broadcast_to(flows, (len(flows), variants)), bores, viscosity)
    k_inf, k_re = coefficients(tees, flows, viscosity)
    rows = list(network.rows)
    present = tees.present
    for tee, leg in zip(*np.nonzero(present), strict=True):
        number = tees.rows[tee, leg]
        figures_of_leg = {"k_inf": float(k_inf[tee, leg]), "k_re": float(k_re[tee, leg])}
        recipe = partial(_explain, tees, int(tee), int(leg), flows, viscosity)
        rows[number] = replace(rows[number], **figures_of_leg, source=TEE, recipe=recipe)
    return replace(network, rows=Rows(rows), columns=_put(network.columns, tees, k_inf, k_re))


def _explain(
    tees: TeeTable, tee: int, leg: int, flows: Floats, viscosity: float | Floats, calc: Calculator
) -> None:
    """Compute one leg once more and record its steps."""
    if isinstance(calc, Recorder):
        one = slice(tee, tee + 1)
        alone = TeeTable(tees.rows[one], tees.inward[one], tees.branch[one], tees.bore[one])
        coefficients(alone, flows, viscosity, LegSteps(calc, leg))


def _with_splits(
    network: Network, tees: TeeTable, flows: Floats, bores: Floats, viscosity: float | Floats
) -> Network:
    """`with_split` for flows (rows, variants): every tee of every variant is a tee of its own.

    bores: of each leg, (legs, 1) or (legs, variants) [m]; viscosity: one, or (variants,) [m²/s].
    """
    count, variants = tees.rows.shape[0], flows.shape[1]
    at = tees.rows[:, None, :] * variants + np.arange(variants)[None, :, None]
    at = np.where(tees.present[:, None, :], at, -1).reshape(-1, 3)
    inward = np.repeat(tees.inward, variants, axis=0)
    of_legs = np.broadcast_to(bores, (len(bores), variants)).reshape(count, 3, variants)
    every = TeeTable(
        at, inward, np.repeat(tees.branch, variants, axis=0), of_legs.transpose(0, 2, 1).reshape(-1, 3)
    )
    held = np.tile(np.broadcast_to(viscosity, variants), count)
    split = [k.reshape(count, variants, 3) for k in coefficients(every, flows.ravel(), held)]
    rows = list(network.rows)
    for tee, leg in zip(*np.nonzero(tees.present), strict=True):
        k_inf, k_re = (figures.column(np.ascontiguousarray(k[tee, :, leg])) for k in split)
        number = tees.rows[tee, leg]
        rows[number] = replace(rows[number], k_inf=k_inf, k_re=k_re, source=TEE)
    return replace(
        network,
        rows=Rows(rows),
        columns={**network.columns, **columns_of(rows, both_ways=bool(network.closures))},
    )


def without(columns: Mapping[str, Floats], tees: TeeTable) -> dict[str, Floats]:
    """A network's columns with no loss in its tees."""
    nothing = np.zeros(tees.rows.shape)
    return _put(columns, tees, nothing, nothing)


def _put(columns: Mapping[str, Floats], tees: TeeTable, k_inf: Floats, k_re: Floats) -> dict[str, Floats]:
    """Columns with the coefficients of tees put in; the ones given stay as they are."""
    present = tees.present
    at = tees.rows[present]
    held = dict(columns)
    for name, values in (("k_inf", k_inf), ("k_re", k_re), ("k_inf_back", k_inf), ("k_re_back", k_re)):
        if name not in held:
            continue
        held[name] = held[name].copy()
        held[name][at] = values[present] if held[name].ndim == 1 else values[present][:, None]
    return held
