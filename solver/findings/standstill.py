"""Checks of pumps that start, and of pumps that stand still, one small function each."""

from __future__ import annotations

from collections.abc import Iterator

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.formulas import starting
from solver.ledger.path import HeadEntryKind
from solver.quantities.units import Kind

WAVES = starting.shortest.source

WHY_QUICK = "So quick a rise sends pressure waves through the line, and it no longer moves as a rigid column."
"""Why it matters, of a flow that rises too quickly."""

WHY_AT_REST = (
    "Below the atmosphere a shaft seal at rest lets air through: it gets into the line of the pumps that "
    "run, and the line drains back once all stop."
)
"""Why it matters, of a pump at rest."""


def too_quick(subject: Subject) -> Iterator[Hit]:
    """A rise of the flow that is over before a pressure wave has run through the line a few times."""
    rise = subject.pump.flow_rise
    for entry in subject.ledger.entries:
        if rise is None or entry.kind != HeadEntryKind.FLOW_RISE:
            continue
        shortest = starting.shortest.scalar(entry.length)
        if rise.si < shortest:
            line, least = subject.show(entry.length, Kind.LENGTH), subject.show(shortest, Kind.TIME)
            text = (
                f"{subject.pump.name}: its flow rises in {rise.text}, under {least} for {line} of line: "
                "too quick for a rigid column"
            )
            yield Hit(Severity.CAUTION, entry.part, entry.key, rise.si, shortest, Kind.TIME, text)


def pump_at_rest(subject: Subject) -> Iterator[Hit]:
    """A pump at rest beside those that run: what stands at its port, and what is assumed of it."""
    assumed = "a check valve in its outlet is assumed"
    for port in subject.solution.resting.values():
        if port.draws_air:
            text = (
                f"{port.pump}: at rest, {subject.show(port.vacuum, Kind.VACUUM)} below the atmosphere, "
                f"with no check or foot valve in its leg: air can come in at its shaft seal; {assumed}"
            )
            yield Hit(Severity.CAUTION, port.pump, "", port.vacuum, 0.0, Kind.VACUUM, text)
        else:
            text = f"{port.pump}: at rest, {subject.show(port.inlet, Kind.ABSOLUTE)} at its port; {assumed}"
            yield Hit(Severity.NOTE, port.pump, "", port.inlet, port.atmosphere, Kind.ABSOLUTE, text)
