"""How the coefficients of a tee's leg come about from the split of the flow there."""

from __future__ import annotations

from collections.abc import Iterator

from solver.formulas import fittings as formulas
from solver.formulas import symbols
from solver.formulas.formula import Formula
from solver.formulas.steps import Maker, Step
from solver.ledger.solve import Solution
from solver.network import coefficients
from solver.network.build import Row
from solver.network.tees import STEPS


def tee_steps(solution: Solution, row: Row, make: Maker) -> Iterator[Step]:
    """Shares of the flow, the published curve at the hundredths beside, and the leg's own coefficient."""
    legs = solution.network.tees.get(row.part, ())
    into: list[float | None] = [
        None if leg.row is None else float(solution.flows[leg.row]) * (1.0 if leg.inward else -1.0)
        for leg in legs
    ]
    known = sum(flow for flow in into if flow is not None)
    flows = [-known if flow is None else flow for flow in into]
    own = next((i for i, leg in enumerate(legs) if leg.element == row.element), None)
    if own is None:
        return
    whole = max(range(len(flows)), key=lambda i: abs(flows[i]))
    if own == whole or not flows[whole]:
        return
    branch = "branch" in (legs[own].element, legs[whole].element)
    share = make.work(formulas.leg_share, abs(flows[own]), abs(flows[whole]))
    of_branch = make.work(formulas.branch_share if branch else formulas.rest_share, share.value)
    yield from (share, of_branch)
    curve = _curve(of_branch.value, branch, flows[whole] > 0, make)
    yield from curve
    yield make.work(formulas.tee_own, curve[-1].value, share.value)
    k_re = coefficients.DARBY_ROWS["tee branch" if branch else "tee run"][0]
    yield make.given(symbols.k_re, k_re, f"{coefficients.DARBY}, flanged tee")


def _curve(y: float, branch: bool, splits: bool, make: Maker) -> list[Step]:
    low = min(int(y * STEPS), STEPS - 1)
    ends = low / STEPS, (low + 1) / STEPS
    below, above = (
        make.work(_formula(branch, splits, end), end, symbol=symbol)
        for end, symbol in zip(ends, (formulas.K_1, formulas.K_2), strict=True)
    )
    return [below, above, make.work(formulas.tee_between, below.value, above.value, *ends, y)]


def _formula(branch: bool, splits: bool, y: float) -> Formula:
    if branch:
        return formulas.tee_branch_leaves if splits else formulas.tee_branch_joins[y > 0.4]
    return formulas.tee_run_leaves[y > 0.5] if splits else formulas.tee_run_joins
