"""The steps by which the coefficients of one leg of a tee are worked out."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.formulas import fittings as formulas
from solver.formulas import symbols
from solver.formulas import tees as slow_flow
from solver.formulas.formula import Symbol
from solver.formulas.record import UNRECORDED, Calculator, Recorder
from solver.network.coefficients import DARBY, crane_friction
from solver.network.losses import turbulence
from solver.network.tee_curves import STEPS, TeeWay, counts, table_row, tee_formula, tee_k_re

Floats = NDArray[np.float64]


class LegSteps(NamedTuple):
    """Where the steps of one leg of a table of a single tee are recorded, and by which symbols."""

    recorder: Recorder
    leg: int
    k: Symbol = symbols.K_c
    k_re: Symbol = symbols.k_re


WHOLE = "it carries the whole flow so, and the others have the loss"


class AtLeg(NamedTuple):
    """Where on which published curve a leg lies."""

    way: TeeWay
    splits: bool
    share: float  # of the leg's flow in that of the leg that counts as the whole
    low: int  # the hundredth below the branch's
    of_whole: tuple[float, float, float]  # the whole flow [m³/s], its bore [m] and viscosity [m²/s]


_OWN_SHARE = {
    TeeWay.RUN: formulas.rest_share,
    TeeWay.BRANCH: formulas.branch_share,
    TeeWay.END: formulas.end_share,
}


def record_curve(steps: LegSteps, at: AtLeg, into: float, is_whole: bool) -> None:
    """The published curve at the hundredths beside the share of the branch, and between them."""
    recorder = steps.recorder
    if is_whole:
        if steps.k is not symbols.K_c:
            recorder.given(steps.k, 0.0, WHOLE)
            recorder.given(steps.k_re, 0.0, WHOLE)
        return
    recorder.given(steps.k_re, tee_k_re(at.way), f"{DARBY}, the larger of his tees")
    if not into:
        recorder.given(steps.k, 0.0, "it rests")
        return
    own_share = _OWN_SHARE[at.way]
    share, ends = recorder.work(own_share, at.share), (at.low / STEPS, (at.low + 1) / STEPS)
    below, above = (
        recorder.work(tee_formula(at.way, diverging=at.splits, branch_share=end), end, symbol=symbol)
        for end, symbol in zip(ends, (formulas.K_1, formulas.K_2), strict=True)
    )
    along = (into < 0) == at.splits
    w = float(turbulence(slow_flow.whole_reynolds.scalar(*at.of_whole)))
    slow = w < 1.0 and (at.way == TeeWay.BRANCH or (at.splits and at.way == TeeWay.END))
    between = (below, above, *ends, share)
    curve = formulas.tee_between.scalar(*between)
    least = _by_table(at, UNRECORDED)
    if not slow and curve >= least:
        recorder.work(formulas.tee_between if along else formulas.tee_against, *between, symbol=steps.k)
        return
    if curve < least:
        curve = recorder.work(formulas.tee_between, *between, symbol=slow_flow.K_curve)
        law = slow_flow.tee_at_least if along or slow else slow_flow.tee_at_least_against
        least = _by_table(at, recorder)
        k = recorder.work(law, curve, least, symbol=slow_flow.K_published if slow else steps.k)
    else:
        k = recorder.work(formulas.tee_between, *between, symbol=slow_flow.K_published)
    if slow:
        _record_slow(steps, at, k, along)


def _by_table(at: AtLeg, calc: Calculator) -> float:
    """The coefficient of Crane's table; below any other where the leg may take less."""
    if not counts(at.way, splits=at.splits, share=at.share):
        return -math.inf
    return calc.work(table_row(at.way), crane_friction(at.of_whole[1], calc), at.share)


def _record_slow(steps: LegSteps, at: AtLeg, published: float, along: bool) -> None:
    """What becomes of the published coefficient where the whole flow is laminar, or nearly so."""
    recorder = steps.recorder
    reynolds = recorder.work(slow_flow.whole_reynolds, *at.of_whole)
    w = recorder.work(slow_flow.whole_turbulence, recorder.work(slow_flow.whole_transition, reynolds))
    if at.splits:
        factor = recorder.work(slow_flow.laminar_factor, at.share)
        laminar = recorder.work(slow_flow.laminar_splits, factor, reynolds, at.share)
        back = recorder.work(slow_flow.tee_nothing_back, at.share)
        least = recorder.work(slow_flow.laminar_at_least, back, laminar)
    else:
        laminar = recorder.work(slow_flow.laminar_joins, published, reynolds, at.share)
        least = recorder.work(slow_flow.laminar_alone, laminar)
    law = slow_flow.tee_slow if along else slow_flow.tee_slow_against
    recorder.work(law, w, published, least, symbol=steps.k)


def record_turning(
    steps: LegSteps, flows: tuple[float, float], k: tuple[Floats, Floats], k_re: tuple[Floats, Floats]
) -> None:
    """The blend of the figures for either way along the least leg, of its flow and the whole [m³/s]."""
    recorder, at = steps.recorder, (0, steps.leg)
    share = recorder.work(formulas.least_leg, *flows)
    weight = recorder.work(formulas.turning_weight, recorder.work(formulas.turned_share, share))
    recorder.work(formulas.turning_k, weight, *(float(x[at]) for x in k))
    recorder.work(formulas.turning_slow, weight, *(float(x[at]) for x in k_re))
