"""What earlier visits say of a cause: one that does not come by itself would have shown before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from solver.field import prediction
from solver.field.causes import Cause, CauseKind, causes, changed, is_hose
from solver.field.compared import ComparedReading, Comparison
from solver.field.explain import Explained, Explanation
from solver.field.signs import TRIED
from solver.field.weighing import NO_SURPRISE
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network.build import build

BROUGHT_BY: Mapping[CauseKind, tuple[str, tuple[str, ...]]] = {
    CauseKind.FLUID: ("change of fluid", ("fluid changed", "fluid topped up")),
    CauseKind.AS_BUILT: ("change of the line", ("line changed", "pump changed")),
    CauseKind.BORE: ("change of the line", ("line changed",)),
    CauseKind.MORE_FLOW: ("change of the pump", ("pump changed",)),
}
"""Causes that do not come by themselves, with what brings them, in words and as it is noted."""

GROWING = (CauseKind.SCREEN, CauseKind.STUCK, CauseKind.HOSE, CauseKind.SURFACE)
"""Causes that grow from visit to visit by themselves."""

LEAST = 0.002
"""Share of all that explains the readings, below which a cause is not held against earlier readings."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """A reading of an earlier visit that fitted the drawing, and the work on the machine since."""

    compared: ComparedReading
    day: str
    work: frozenset[str]


def fitted(layout: Layout, earlier: Iterable[Comparison], visit: Sequence[Comparison]) -> tuple[Fitted, ...]:
    """Readings with the pump running that fitted the drawing before a visit, the latest first.

    earlier: readings of the same pump on the same line, among which those of the visit may be.
    """
    moments = [each.logged.moment for each in visit]
    before = [each for each in earlier if each.logged.moment < min(moments) and each not in visit]
    return tuple(
        Fitted(one, each.logged.day, _work(layout, each, max(moments)))
        for each in sorted(before, key=lambda each: each.logged.moment, reverse=True)
        if all(one.inside for one in each.compared)
        for one in each.compared
        if not one.reading.resting
    )


def _work(layout: Layout, since: Comparison, until: datetime) -> frozenset[str]:
    """What was done after a reading, by whichever pump's reading notes it."""
    return frozenset(
        work for each in layout.readings if since.logged.moment < each.moment <= until for work in each.work
    )


@dataclass(frozen=True, slots=True)
class Before:
    """What earlier readings say of causes, each by its name."""

    speaks_for: Mapping[str, str]
    speaks_against: Mapping[str, str]


def reweighed(explained: Explained, earlier: Sequence[Fitted]) -> tuple[Explained, Before]:
    """Explanations with those less likely that would have shown in an earlier reading, and why.

    A cause that does not come by itself is held, in the least size that explains the readings, against each
    earlier reading that fitted the drawing, unless work that would bring it is noted since.
    """
    speaks_for, against = dict[str, str](), dict[str, str]()
    weighed = []
    for each in explained.explanations:
        words = list(_against(each, earlier)) if each.weight >= LEAST else []
        if words:
            against[each.name] = words[0]
            each = replace(each, weight=each.weight / TRIED)
        elif each.cause in GROWING and each.second is None and each.weight >= LEAST and each.fits:
            speaks_for.update((each.name, words) for words in _for(each, earlier))
        weighed.append(each)
    total = sum(each.weight for each in weighed)
    if not against or not total:
        return explained, Before(speaks_for, {})
    weighed = [replace(each, weight=each.weight / total) for each in weighed]
    weighed.sort(key=lambda each: -each.weight)
    return replace(explained, explanations=tuple(weighed)), Before(speaks_for, against)


def _against(explanation: Explanation, earlier: Sequence[Fitted]) -> Iterator[str]:
    """Why a cause, or one of a pair, would have shown before."""
    for half in (explanation, explanation.second):
        if half is None or half.cause not in BROUGHT_BY or not half.predicted:
            continue
        name, brought_by = BROUGHT_BY[half.cause]
        for each in earlier:
            rigid = half.cause is not CauseKind.BORE or not is_hose(each.compared.reading.layout, half.part)
            if rigid and not each.work.intersection(brought_by) and _would_have_shown(half, each.compared):
                yield f"the reading of {each.day} fitted the drawing, and no {name} is noted since"


def _for(explanation: Explanation, earlier: Sequence[Fitted]) -> Iterator[str]:
    """What speaks for a cause that has grown since."""
    for each in earlier:
        if _would_have_shown(explanation, each.compared):
            yield f"the reading of {each.day} fitted the drawing, and this grows by itself"
            return


def _would_have_shown(explanation: Explanation, compared: ComparedReading) -> bool:
    """Whether a reading would have been above what was read, with a cause in its least size."""
    cause = _cause(explanation, compared)
    if cause is None:
        return False
    reading, size = compared.reading, explanation.low
    try:
        shown = prediction.at(changed(build(reading.layout), [(cause, size)]), reading)
    except ValueError:
        return True  # the machine would not have run so
    shown += cause.offset(size, reading)
    apart = compared.over_rest
    if apart is None:
        return shown - compared.read.high > NO_SURPRISE * compared.expected.deviation
    more = shown - compared.expected.vacuum + apart.drawn - apart.read.high
    return more > NO_SURPRISE * apart.deviation


def _cause(explanation: Explanation, compared: ComparedReading) -> Cause | None:
    reading = compared.reading
    ledger = solve(reading.layout, reading.level).pumps[reading.place.pump]
    named = (explanation.cause, explanation.part)
    listed = causes(reading.layout, ledger, (reading,))
    return next((each for each in listed if (each.kind, each.part) == named), None)
