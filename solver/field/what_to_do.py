"""What to do at which reading of a gauge, for the rows of a card: common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum

from solver.field.card import EACH_TIME_OFF, CardRow
from solver.field.causes import is_hose
from solver.layout.parts import Layout


class FigureSign(StrEnum):
    """What the figures of a card are: towards the limit a vacuum rises, and a pressure falls."""

    VACUUM = "vacuum"
    PRESSURE = "pressure above the atmosphere"
    BOTH = "some of each"


PAST_EXPECTED = {
    FigureSign.VACUUM: "More vacuum than expected",
    FigureSign.PRESSURE: "Less pressure than expected, or a vacuum",
    FigureSign.BOTH: "More vacuum than expected, or less pressure (+)",
}
SHORT_OF_EXPECTED = {
    FigureSign.VACUUM: "Clearly less vacuum than expected",
    FigureSign.PRESSURE: "Clearly more pressure than expected",
    FigureSign.BOTH: "Clearly less vacuum than expected, or more pressure (+)",
}
AT_STOP = {
    FigureSign.VACUUM: '"Stop at" reached, or more vacuum',
    FigureSign.PRESSURE: '"Stop at" reached, or less pressure, or a vacuum',
    FigureSign.BOTH: '"Stop at" reached; or more vacuum than it (no plus), or less pressure than it (plus)',
}
AT_REST = "At rest, off by more than the gauge's error"
UP_TO_CLEAN = 'Between expected and "clean at"'
TO_CLEAN = '"Clean at" reached or passed, "stop at" not reached'
WHEN_OFF = f'"{EACH_TIME_OFF.capitalize()}" under "clean at"'
AT_ANY, ON_LOW_DAY = "Stop at any reading", 'Stop "by the day"'
DO_NOT_RUN = (
    "do not run the pump in that state, at whatever reading: stop it now, and have the line mended first"
)
NOT_ON_THAT_DAY = (
    "do not run the pump in that state on a low-pressure day, at whatever reading; on any other day "
    "stop as its row says, and have the line mended before such a day comes"
)
WORK = {
    AT_REST: "vent the gauge and look at its zero and what is in its tube; look at the fluid level",
    AT_ANY: DO_NOT_RUN,
    WHEN_OFF: "no reading stands between cleaning and stop there: once it shows more than expected, clean "
    "the strainer whenever the pump stands, before it runs in that state again",
}


def parts_to_look_at(layout: Layout) -> tuple[str, ...]:
    """What a line has that may block, shut or give way: its strainers, valves and hoses."""
    screened = [name for name, each in layout.intakes.items() if each.screen]
    screened += [name for name, each in layout.fittings.items() if each.screen]
    valves = [name for name, each in layout.fittings.items() if "valve" in each.kind or "check" in each.kind]
    hoses = [name for name in (*layout.runs, *layout.fittings) if is_hose(layout, name)]
    named = (("strainer", screened), ("valves", valves), ("hoses", hoses))
    return tuple(name for name, parts in named if parts) or ("the line",)


def what_to_do(shown: Iterable[CardRow], look_at: Sequence[str]) -> dict[str, str]:
    """What to do at which reading; nothing of running on where every state with the pump running is over.

    look_at: what the line has that may block, shut or give way.
    """
    running = [row for row in shown if row.running and (row.stop is not None or row.note)]
    sign, stops = sign_of(running), [row.stop for row in running if row.stop is not None]
    stop = _sign(stops) if stops else sign
    never = {AT_ANY: DO_NOT_RUN} if any(row.over for row in running) else {}
    not_that_day = {ON_LOW_DAY: NOT_ON_THAT_DAY} if any(row.over_on_low_day for row in running) else {}
    past = {**never, **not_that_day}
    if not past or not all(row.over or row.over_on_low_day for row in running):
        each_stop = {WHEN_OFF: WORK[WHEN_OFF]} if any(row.instead == EACH_TIME_OFF for row in running) else {}
        return {**_of_machine_that_runs(sign, stop, look_at, cleaning=cleaned(running)), **each_stop, **past}
    return {**past, AT_REST: WORK[AT_REST], **_less_flow(sign)}


def _of_machine_that_runs(
    sign: FigureSign, stop: FigureSign, look_at: Sequence[str], *, cleaning: bool
) -> dict[str, str]:
    *others, last = look_at
    parts = f"{', '.join(others)} and {last}" if others else last
    past = f'{PAST_EXPECTED[sign]}, "stop at" not reached'
    to_clean = {
        UP_TO_CLEAN: "the line takes more than it did: write it down, and read again soon",
        TO_CLEAN: "clean the strainer at the next stop, then read again",
    }
    return {
        AT_REST: WORK[AT_REST],
        "As expected, within the gauge's error": "nothing; write the reading down with temperature and speed",
        **(to_clean if cleaning else {}),
        past + (', no "clean at"' if cleaning else ""): (
            f"look at {parts} at the next stop, then read again"
        ),
        AT_STOP[stop]: (
            f"stop the pump now; do not run it to look further: {', '.join(look_at)}, fluid too cold or too "
            "thick"
        ),
        "Swings, with a noise that comes and goes": (
            "air is drawn in: fluid level and return, joints below the atmosphere, shaft seal"
        ),
        **_less_flow(sign),
    }


def _less_flow(sign: FigureSign) -> dict[str, str]:
    return {SHORT_OF_EXPECTED[sign]: "less flow than drawn, thinner fluid, or a gauge that is off"}


def cleaned(shown: Iterable[CardRow]) -> bool:
    """Whether any state has a reading at which to clean a strainer, or what to do in its place."""
    return any(row.service is not None or row.instead for row in shown)


def sign_of(shown: Iterable[CardRow]) -> FigureSign:
    """Whether the figures that a gauge is read against are vacuums, pressures or some of each."""
    return _sign(
        figure
        for row in shown
        for figure in (*(row.clean or ()), row.limit, row.low_day, row.stop, row.service)
        if figure is not None
    )


def _sign(vacuums: Iterable[float]) -> FigureSign:
    over = {vacuum < 0.0 for vacuum in vacuums}
    if len(over) == 2:
        return FigureSign.BOTH
    return FigureSign.PRESSURE if True in over else FigureSign.VACUUM
