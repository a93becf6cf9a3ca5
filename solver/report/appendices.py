"""What comes after the ledger where it is asked for: parts, priming, readings, and how sure a margin is."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from solver.findings.judgement import Judgement
from solver.layout.parts import Level
from solver.ledger.solve import Solution

if TYPE_CHECKING:
    from solver.field.as_read import AsRead
    from solver.report.parts_list import Item

NAMES = ("parts", "priming", "readings", "uncertainty")
"""Those that there are, in the order in which they are printed; each is an option of the command line."""


@dataclass(frozen=True, slots=True)
class AppendixInput:
    """What was judged, and what is wanted of it."""

    judgement: Judgement
    solution: Solution | None  # of the case that is shown; None where it was not judged
    line: str  # the alternative that was judged; "" for the drawing itself
    pump: str | None  # the only one that was asked for
    level: Level
    as_read: AsRead | None = None  # with its screens as read, where one is past what is allowed or due


def texts(asked: AppendixInput, wanted: Collection[str]) -> str:
    """Every appendix that is wanted, each after an empty line."""
    return "".join(f"\n{_text(asked, name)}" for name in NAMES if name in wanted)


def _text(asked: AppendixInput, name: str) -> str:
    from solver.report import parts_list, priming, readings, uncertainty

    if name == "parts":
        return parts_list.text(items_of(asked.judgement), asked.judgement.layout.units)
    if name == "priming" and asked.solution is None:
        return f"{priming.NOT_JUDGED}\n"
    if name == "priming" and asked.solution is not None:
        return priming.text(asked.judgement, asked.solution, asked.pump, asked.line)
    if name == "readings":
        return readings.text(asked.judgement, asked.line, asked.pump)
    return uncertainty.text(asked.judgement.layout, asked.pump, asked.level, asked.as_read)


def items_of(judgement: Judgement) -> tuple[Item, ...]:
    """The parts list of a drawing that was judged."""
    from solver.report import parts_list

    solution = next(case.solution for case in judgement.cases.values() if case.solution is not None)
    return parts_list.parts_list(judgement.layout, solution.network.rows)


def parts_table(drawings: Iterable[tuple[str, str, Judgement]]) -> str:
    """The parts lists of drawings as one CSV table in SI.

    drawings: file, alternative ("" for the drawing itself) and what was judged.
    """
    from solver.report import parts_list

    tables = (
        parts_list.table(items_of(judgement), file, alternative) for file, alternative, judgement in drawings
    )
    return "".join([parts_list.heading(), *tables])


def add_records(one: dict[str, Any], asked: AppendixInput, wanted: Collection[str]) -> None:
    """Put every appendix that is wanted into the JSON object of a drawing, SI."""
    from solver.report import parts_list, priming, readings, uncertainty

    if "parts" in wanted:
        one["parts_list"] = parts_list.records(items_of(asked.judgement))
    if "uncertainty" in wanted:
        one["uncertainty"] = uncertainty.record(asked.judgement.layout, asked.pump, asked.level)
    if "readings" in wanted:
        one["readings"] = readings.record(asked.judgement, asked.line, asked.pump)
    if "priming" in wanted and asked.solution is not None:
        for name, pump in one["pumps"].items():
            if name in asked.solution.pumps:
                pump["priming"] = priming.record(asked.judgement, asked.solution, name)
