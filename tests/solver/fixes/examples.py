"""Example drawings with one pump, and how their pumps stand."""

from __future__ import annotations

from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged, judge
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, solve
from tests.drawings import RISER


def riser(text: str = RISER) -> Layout:
    """The straight riser: its pump 0.30 m over the lid of its tank."""
    return file.parse(text).base


def line(layout: Layout) -> PumpLedger:
    (ledger,) = solve(layout).pumps.values()
    return ledger


def judged(layout: Layout) -> Judged:
    (name,) = layout.pumps
    return judge(layout, name, Level.MINIMUM)


def of_kind(candidates: list[Candidate], kind: FixKind) -> list[Candidate]:
    return [each for each in candidates if each.kind == kind]
