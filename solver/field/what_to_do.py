"""What to do at which reading of a gauge, for the rows of a card: common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from solver.field.card import CardRow


class Sign(StrEnum):
    """What the figures of a card are: towards the limit a vacuum rises, and a pressure falls."""

    VACUUM = "vacuum"
    PRESSURE = "pressure above the atmosphere"
    BOTH = "some of each"


PAST_EXPECTED = {
    Sign.VACUUM: "More vacuum than expected",
    Sign.PRESSURE: "Less pressure than expected, or a vacuum",
    Sign.BOTH: "More vacuum than expected, or less pressure (+)",
}
SHORT_OF_EXPECTED = {
    Sign.VACUUM: "Clearly less vacuum than expected",
    Sign.PRESSURE: "Clearly more pressure than expected",
    Sign.BOTH: "Clearly less vacuum than expected, or more pressure (+)",
}
AT_STOP = {
    Sign.VACUUM: '"Stop at" reached, or more vacuum',
    Sign.PRESSURE: '"Stop at" reached, or less pressure, or a vacuum',
    Sign.BOTH: '"Stop at" reached; or more vacuum than it (no plus), or less pressure than it (plus)',
}
AT_REST = "At rest, off by more than the gauge's error"
UP_TO_CLEAN = 'Between expected and "clean at"'
TO_CLEAN = '"Clean at" reached or passed, "stop at" not reached'
AT_ANY = "Stop at any reading"
DO_NOT_RUN = (
    "do not run the pump in that state, at whatever reading: stop it now, and have the line mended first"
)
WORK = {
    AT_REST: "vent the gauge and look at its zero and what is in its tube; look at the fluid level",
    AT_ANY: DO_NOT_RUN,
}


def what_to_do(shown: Iterable[CardRow]) -> dict[str, str]:
    """What to do at which reading; nothing of running on where every state with the pump running is over."""
    running = [row for row in shown if row.running and (row.stop is not None or row.note)]
    sign, stops = sign_of(running), [row.stop for row in running if row.stop is not None]
    stop = _sign(stops) if stops else sign
    if not any(row.over for row in running):
        return _of_machine_that_runs(sign, stop, cleaning=cleaned(running))
    if not all(row.over for row in running):
        return {**_of_machine_that_runs(sign, stop, cleaning=cleaned(running)), AT_ANY: DO_NOT_RUN}
    return {AT_ANY: DO_NOT_RUN, AT_REST: WORK[AT_REST], **_less_flow(sign)}


def _of_machine_that_runs(sign: Sign, stop: Sign, *, cleaning: bool) -> dict[str, str]:
    past = f'{PAST_EXPECTED[sign]}, "stop at" not reached'
    to_clean = {
        UP_TO_CLEAN: "the line costs more than it did: write it down, and read again soon",
        TO_CLEAN: "clean the strainer at the next stop, then read again",
    }
    return {
        AT_REST: WORK[AT_REST],
        "As expected, within the gauge's error": "nothing; write the reading down with temperature and speed",
        **(to_clean if cleaning else {}),
        past + (', no "clean at"' if cleaning else ""): (
            "look at strainer, valves and hoses at the next stop, then read again"
        ),
        AT_STOP[stop]: (
            "stop the pump now; do not run it to look further: strainer, valve, hose, fluid too cold or too "
            "thick"
        ),
        "Swings, with a noise that comes and goes": (
            "air is drawn in: fluid level and return, joints below the atmosphere, shaft seal"
        ),
        **_less_flow(sign),
    }


def _less_flow(sign: Sign) -> dict[str, str]:
    return {SHORT_OF_EXPECTED[sign]: "less flow than drawn, thinner fluid, or a gauge that is off"}


def cleaned(shown: Iterable[CardRow]) -> bool:
    """Whether any state has a reading at which to clean a strainer."""
    return any(row.service is not None for row in shown)


def sign_of(shown: Iterable[CardRow]) -> Sign:
    """Whether the figures that a gauge is read against are vacuums, pressures or some of each."""
    return _sign(
        figure
        for row in shown
        for figure in (*(row.clean or ()), row.limit, row.low_day, row.stop, row.service)
        if figure is not None
    )


def _sign(vacuums: Iterable[float]) -> Sign:
    over = {vacuum < 0.0 for vacuum in vacuums}
    if len(over) == 2:
        return Sign.BOTH
    return Sign.PRESSURE if True in over else Sign.VACUUM
