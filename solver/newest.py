"""What the newest readings of a drawing come to, which a terminal says before all else.

Most drawings have no readings: what compares them is imported where there are some.
"""

from __future__ import annotations

from typing import NamedTuple

from solver.layout.parts import Layout


class NewestInWords(NamedTuple):
    """The readings of the latest visit to each pump, and of earlier ones what still counts."""

    stop: str = ""  # what was read against what is allowed there; "" where nothing says stop
    not_compared: bool = False  # some reading of a latest visit could not be compared


def newest_readings(layout: Layout, pump: str | None, line: str = "") -> NewestInWords:
    """What they come to, of every pump or of one.

    line: the alternative that `layout` is, "" for the drawing itself.
    """
    if not layout.readings:
        return NewestInWords()
    from solver.field import stopping

    pumps = [name for name in layout.pumps if pump in (None, name)]
    compared = stopping.newest(layout, pumps, line)
    return NewestInWords(
        stopping.stop_text(compared, layout.units), any(each.why_not for each in compared.latest)
    )


def stop_first(newest: NewestInWords, headline: str) -> str:
    """A headline, and before it that a newest reading says stop."""
    if not newest.stop:
        return headline
    from solver.field.stopping import stop_first

    return stop_first(newest.stop, headline)


def stop_line(newest: NewestInWords) -> str:
    """That the pump must stop, as a line by itself; "" where nothing says so."""
    if not newest.stop:
        return ""
    from solver.field.compared import STOP

    return f"{STOP}: {newest.stop}.\n\n"
