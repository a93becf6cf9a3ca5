"""What is to be known of readings besides their causes: what a gauge cannot show, and what is not to be read
into it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from solver.answers.variations import line_parts
from solver.field import explain
from solver.field.air import Air
from solver.field.causes import CauseKind
from solver.field.explain import Explained, Explanation
from solver.field.gauges import too_coarse
from solver.field.headline import is_starved
from solver.field.states import Reading
from solver.field.trials import WETTING, NextStep, Trial
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.quantities.wording import capitalised

HARDLY_SHOWS_AIR = (
    "A gauge hardly shows air that is drawn in at a joint, at the shaft seal, by a vortex or with the "
    "return: look for foam, and listen."
)

BREATHER_AT_REST = (
    "A reading at rest does not rule out a plugged breather, nor prove one: nothing flows then, and nobody "
    "knows how much air its tank has drawn in since the stop. The filler cap tells, or a vacuum watched from "
    "the moment the pump stops, with what it fell to noted."
)

BYPASS_HIDES = (
    "A bypass that sticks open, or is set too low, lets fluid past {} unstrained, and hides from every gauge "
    "how blocked it is: look at both whenever it is out."
)

UNTIMED = (
    "The readings of {} may belong to these: with the time of day noted of both, those at most 24 hours "
    "apart are explained together."
)

NOTHING_SPLITS = (
    "Nothing that can be read within what is allowed would separate this from {}: the difference is too "
    "small for this gauge."
)

BREATHER_AS_LEVEL = (
    "A plugged breather whose tank still holds its vacuum at rest reads as a lower level does: look at the "
    "level first."
)


def caveats(
    explained: Explained,
    air: Air | None,
    steps: Sequence[NextStep],
    split: tuple[Explanation | None, Explanation | None],
    readings: Sequence[Reading],
    done: Collection[Trial],
    stop: bool,
    untimed: str = "",
) -> tuple[str, ...]:
    """What is to be known besides, a sentence or two each.

    air: where it can come in; None where nothing points to it. steps: what is looked at next. split: the
    second cause, and the one that the first of them splits off. done: what was tried. stop: a reading is
    past what is allowed. untimed: the visit of the day before that may belong to this one, were the time of
    day noted.
    """
    second, other = split
    lines = list(_of_air(air, stop, steps)) if air is not None else [HARDLY_SHOWS_AIR]
    if is_starved(readings):
        lines.append("A pump that does not fill is loud, and the reading no longer rises with its speed.")
    fault = explained.explanations[0].cause is not CauseKind.NOTHING
    if not steps and second is not None and fault and explained.word != "far likelier":
        lines.append(
            "No further reading within what is allowed, and no look at a part, would separate the first two "
            "causes."
        )
    if not steps and second is not None and not fault and explained.word == "cannot be distinguished":
        lines.append(NOTHING_SPLITS.format(second.name))
    if steps and other is not None and other is not second:
        lines.append(f"No check at hand separates the first two causes: the next one is for {other.name}.")
    if untimed:
        lines.append(UNTIMED.format(untimed))
    return (
        *lines,
        *_of_bypasses(readings),
        *_of_breather(explained, readings, done),
        *_of_gauges(explained, readings),
    )


def _of_bypasses(readings: Sequence[Reading]) -> Iterator[str]:
    """What no reading shows of a screen that has a bypass."""
    layout = readings[0].layout
    on_way = line_parts(solve(layout, readings[0].level).pumps[readings[0].place.pump])
    for name in on_way:
        if (screen := layout.screen(name)) is not None and screen.bypass is not None:
            yield BYPASS_HIDES.format(name)


def _of_gauges(explained: Explained, readings: Sequence[Reading]) -> tuple[str, ...]:
    """Which gauges are too coarse for what is allowed where they were read, each once."""
    words = (
        too_coarse(reading.gauge, expected.allowed, System(reading.layout.units))
        for reading, expected in zip(readings, explained.expected, strict=False)
        if expected.allowed is not None
    )
    return tuple(dict.fromkeys(each for each in words if each))


def _of_air(air: Air, stop: bool, steps: Sequence[NextStep]) -> Iterator[str]:
    """What can be said of air by a gauge, and how a joint is tried with the pump running."""
    yield "A gauge cannot show the size of an air leak."
    if air.joints and not any(WETTING in step.what for step in steps):
        wet = f"Once the pump may run again, {WETTING}" if stop else capitalised(WETTING)
        yield f"{wet}, the lowest pressure first, and listen for a change, guards on, hands clear."


def _of_breather(explained: Explained, readings: Sequence[Reading], done: Collection[Trial]) -> Iterator[str]:
    """What a reading at rest does not say of a breather, unless the cap was opened or the vacuum held."""
    if Trial.CAP in done or not any(reading.resting and not reading.held for reading in readings):
        return
    possible = [each for each in explained.explanations if each.fits and each.weight >= explain.POSSIBLE]
    likely = {half.cause for each in possible for half in (each, each.second) if half is not None}
    if CauseKind.SURFACE in likely:
        yield BREATHER_AT_REST
    elif CauseKind.LEVEL in likely or explained.word == "none of these":
        yield BREATHER_AS_LEVEL
