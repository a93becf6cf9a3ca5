"""An example drawing with cases typed under it, solved in each."""

from __future__ import annotations

from solver.layout.file import parse
from solver.layout.parts import Layout
from solver.ledger.cases import CaseSolution, solve_cases
from tests.drawings import SHIPPED

HEADER = next(path for path in SHIPPED if path.name == "header-two-pumps.toml").read_text("utf-8")


def layout_with(cases: str, text: str = HEADER) -> Layout:
    return parse(text + "\n" + cases).base


def solved(cases: str, text: str = HEADER) -> dict[str, CaseSolution]:
    return dict(solve_cases(layout_with(cases, text)))
