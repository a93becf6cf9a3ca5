"""What comes after the ledger where it is asked for: priming, readings, and how sure a margin is."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from solver.findings.judgement import Judgement
from solver.layout.parts import Level
from solver.ledger.solve import Solution

NAMES = ("priming", "readings", "uncertainty")
"""Those that there are, in the order in which they are printed; each is an option of the command line."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What was judged, and what is wanted of it."""

    judgement: Judgement
    solution: Solution | None  # of the case that is shown; None where it was not judged
    line: str  # the alternative that was judged; "" for the drawing itself
    pump: str | None  # the only one that was asked for
    level: Level


def texts(asked: Asked, wanted: Collection[str]) -> str:
    """Every appendix that is wanted, each after an empty line."""
    return "".join(f"\n{_text(asked, name)}" for name in NAMES if name in wanted)


def _text(asked: Asked, name: str) -> str:
    from solver.report import priming, readings, uncertainty

    if name == "priming" and asked.solution is None:
        return f"{priming.NOT_JUDGED}\n"
    if name == "priming" and asked.solution is not None:
        return priming.text(asked.judgement, asked.solution, asked.pump)
    if name == "readings":
        return readings.text(asked.judgement, asked.line, asked.pump)
    return uncertainty.text(asked.judgement.layout, asked.pump, asked.level)


def add_records(one: dict[str, Any], asked: Asked, wanted: Collection[str]) -> None:
    """Put every appendix that is wanted into the JSON object of a drawing, SI."""
    from solver.report import priming, readings, uncertainty

    if "uncertainty" in wanted:
        one["uncertainty"] = uncertainty.record(asked.judgement.layout, asked.pump, asked.level)
    if "readings" in wanted:
        one["readings"] = readings.record(asked.judgement, asked.line, asked.pump)
    if "priming" in wanted and asked.solution is not None:
        for name, pump in one["pumps"].items():
            if name in asked.solution.pumps:
                pump["priming"] = priming.record(asked.solution, name)
