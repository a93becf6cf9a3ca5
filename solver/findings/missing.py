"""Checks for figures that are missing, where the answer would be worse with them: one small function each."""

from __future__ import annotations

from collections.abc import Iterator

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.ledger.path import Entry
from solver.ledger.solve import Solution
from solver.quantities.units import Kind


def loss_at_least(subject: Subject) -> Iterator[Hit]:
    """An element that takes at least what is charged, as a figure of it is missing."""
    for entry in lacking(subject.solution, subject.pump.name):
        text = f"{entry.part}: {entry.at_least}, so that it takes at least what is charged"
        yield Hit(Severity.CAUTION, entry.part, entry.key, entry.loss, None, Kind.VACUUM, text)


def lacking(solution: Solution, pump: str) -> tuple[Entry, ...]:
    """The entries of a pump that take at least what is charged."""
    ledger = solution.pumps[pump]
    return tuple(entry for entry in (*ledger.entries, *ledger.parallel_entries) if entry.at_least)


def not_judged_for_boiling(subject: Subject) -> Iterator[Hit]:
    """A fluid whose vapour pressure nobody has typed: it boils nowhere in this calculation."""
    if "vapor_pressure" in subject.solution.fluid.unknown:
        text = f"{subject.layout.fluid.name}: its vapour pressure is not typed: not judged for boiling"
        yield Hit(Severity.CAUTION, "", "", None, None, Kind.PRESSURE, text)


def not_judged_for_air(subject: Subject) -> Iterator[Hit]:
    """A fluid of which nobody has typed how much air it dissolves."""
    if "dissolved_air" in subject.solution.fluid.unknown:
        text = f"{subject.layout.fluid.name}: its dissolved air is not typed: not judged for free air"
        yield Hit(Severity.NOTE, "", "", None, None, Kind.SHARE, text)
