"""What the newest readings of a drawing come to, which a terminal says before all else.

Most drawings have no readings: what compares them is imported where there are some.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from solver.findings.outlook import headline_as_drawn
from solver.layout.parts import Layout, Level

if TYPE_CHECKING:
    from solver.field.as_read import AsRead


class NewestInWords(NamedTuple):
    """The readings of the latest visit to each pump, and of earlier ones what still counts."""

    stop: str = ""  # what was read against what is allowed there; "" where nothing says stop
    not_compared: bool = False  # some reading of a latest visit could not be compared
    as_read_text: str = (
        ""  # how the drawing stands with its screens as read; "" where none is past what is allowed
    )
    as_read: AsRead | None = None  # with its screens so

    @property
    def over_as_read(self) -> bool:
        """Whether some pump is over so, with as little blocked as may be."""
        return self.as_read is not None and self.as_read.is_surely_over

    @property
    def first(self) -> str:
        """What stands before all else, sentences without the last full stop."""
        return ". ".join(filter(None, (self.stop, self.as_read_text)))


def newest_readings(
    layout: Layout,
    pump: str | None,
    line: str = "",
    level: Level = Level.MINIMUM,
    base: Layout | None = None,
) -> NewestInWords:
    """What they come to, of every pump or of one.

    line: the alternative that `layout` is, "" for the drawing itself; base: that it is laid over; level: of
    its reservoirs, where a case names none.
    """
    if not layout.readings:
        return NewestInWords()
    from solver.field import stopping
    from solver.field.as_read import as_read

    pumps = [name for name in layout.pumps if pump in (None, name)]
    compared = stopping.newest(layout, pumps, line)
    read = as_read(layout, line, level, base)
    return NewestInWords(
        stopping.stop_text(compared, layout.units),
        any(each.why_not for each in compared.latest),
        read.text(layout.units) if read is not None else "",
        read,
    )


def read_first(newest: NewestInWords, headline: str) -> str:
    """A headline, and before it that a newest reading says stop, and how the drawing stands as read."""
    if not newest.first:
        return headline
    from solver.field.stopping import stop_first

    drawn = headline_as_drawn(headline)
    return stop_first(newest.first, headline) if newest.stop else f"{newest.as_read_text}. {drawn}"


def first_line(newest: NewestInWords) -> str:
    """That the pump must stop, and how the drawing stands as read, as a paragraph; "" for neither."""
    if not newest.stop:
        return f"{newest.as_read_text}.\n\n" if newest.as_read_text else ""
    from solver.field.compared import STOP

    return f"{STOP}: {newest.first}.\n\n"
