"""The published curves of a tee over the split of its flow, and what a tee takes at least."""

from __future__ import annotations

from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import NDArray

from solver.formulas import fittings as formulas
from solver.formulas import tees as limits
from solver.formulas.formula import Formula
from solver.network.coefficients import DARBY_ROWS, crane_friction
from solver.quantities import columns

Floats = NDArray[np.float64]

STEPS = 100
"""The share of the branch is taken in steps of 1/100 and interpolated between: the published curves have
a step, and a split that lies on it would never come to rest."""


class TeeWay(StrEnum):
    """Where the fluid of one leg of a tee goes: on, round the corner, or from an end of the run to the branch
    or back."""

    RUN = "run"
    BRANCH = "branch"
    END = "end"


def tee_formula(leg: TeeWay, *, diverging: bool, branch_share: float) -> Formula:
    """The coefficient of one leg of a tee of one bore at right angles, referred to the whole flow.

    diverging: the flow splits; otherwise it joins.
    branch_share: the branch's flow over the whole flow, that of this end where the ends of the run meet; 0
    to 1.
    Sources: Crane TP-410; of ends that meet Idelchik.
    """
    if leg == TeeWay.END:
        return formulas.tee_branch_leaves if diverging else formulas.tee_ends_meet[branch_share > 0.4]
    if leg == TeeWay.BRANCH:
        return formulas.tee_branch_leaves if diverging else formulas.tee_branch_joins[branch_share > 0.4]
    return formulas.tee_run_leaves[branch_share > 0.5] if diverging else formulas.tee_run_joins


def tee_k_re(leg: TeeWay) -> float:
    """What the legs take in slow flow by that of Darby's tees, threaded or flanged, which takes more."""
    return DARBY_ROWS["tee run" if leg == TeeWay.RUN else "tee branch"][0]


def table_row(leg: TeeWay) -> Formula:
    """The coefficient of Crane's table, which knows no split, referred to the whole flow."""
    return limits.run_at_least if leg == TeeWay.RUN else limits.turn_at_least


def counts(leg: TeeWay, *, splits: bool, share: float) -> bool:
    """Whether a leg takes that at least: not where a fast stream drags a slow one along."""
    return leg == TeeWay.RUN or splits or share > DRAGGED


DRAGGED = 0.4
"""Share of the flow up to which the published curves of a leg that joins have it dragged along."""

FEW = 60
"""Bores up to which what is known of each is looked up."""

_friction = columns.remembered(1024)(crane_friction)


def friction_in_fittings(bores: Floats) -> Floats:
    """Crane's friction factor of a fitting of each bore [m], in the shape of the bores."""
    if bores.size <= FEW:
        return np.array([_friction(bore) for bore in bores.ravel().tolist()]).reshape(bores.shape)
    factors: Floats = formulas.crane_friction.array(bores)
    return factors


@cache
def curves() -> Floats:
    """Referred to the whole flow, over the share of the branch: [run, branch, end][joins, splits][share]."""
    every = np.empty((len(TeeWay), 2, STEPS + 1))
    for i, leg in enumerate(TeeWay):
        for splits in (False, True):
            for step in range(STEPS + 1):
                share = step / STEPS
                law = tee_formula(leg, diverging=splits, branch_share=share)
                every[i, int(splits), step] = law.scalar(share)
    return every
