"""What published values come to here: asserted one by one, kept, and shown as a table when the run ends."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple, Protocol

LIBRARIES = ("fluids, ", "by CoolProp", "by chemicals")
"""In the source of a value that was worked out by a library."""


class Row(NamedTuple):
    """One published value beside ours."""

    source: str
    case: str
    theirs: float
    ours: float
    unit: str
    tolerance: float  # largest difference allowed, in the same unit
    drawn: bool  # through a layout file, the network and the ledger, not a formula alone

    @property
    def by_library(self) -> bool:
        """Whether a library worked it out: a second computation, not a printed value."""
        return any(name in self.source for name in LIBRARIES)

    @property
    def difference(self) -> float:
        return self.ours - self.theirs

    @property
    def agrees(self) -> bool:
        return abs(self.difference) <= self.tolerance


class Published(Protocol):
    """Keeps a row, then asserts it. One of `rel` and `abs` says how far the two may differ."""

    def __call__(
        self,
        source: str,
        case: str,
        theirs: float,
        ours: float,
        unit: str = "",
        *,
        rel: float | None = None,
        abs: float | None = None,
    ) -> None: ...


def row(
    source: str,
    case: str,
    theirs: float,
    ours: float,
    unit: str,
    rel: float | None,
    absolute: float | None,
    drawn: bool,
) -> Row:
    """A row, with its tolerance in the unit of its values."""
    if rel is not None:
        tolerance = rel * abs(theirs)
    elif absolute is not None:
        tolerance = absolute
    else:
        raise ValueError("say how far the two may differ")
    return Row(source, case, float(theirs), float(ours), unit, tolerance, drawn)


HEADINGS = ("source", "case", "theirs", "ours", "unit", "difference", "allowed")
WIDTHS = (34, 42, 9, 9, 6, 11, 10)
RIGHT = (2, 3, 5, 6)
"""Columns set flush right."""


def table(rows: Iterable[Row]) -> list[str]:
    """One line a row, sources together, under a heading."""
    lines = [_line(HEADINGS), "-" * (sum(WIDTHS) + len(WIDTHS) - 1)]
    for item in sorted(rows, key=lambda r: r.source):
        figures = (_figure(item.theirs), _figure(item.ours), item.unit)
        mark = "" if item.agrees else " !"
        lines.append(_line((item.source, item.case, *figures, _difference(item), _allowed(item) + mark)))
    return lines


def gaps(entries: Iterable[tuple[str, str, str]]) -> list[str]:
    """One line for each value that is not computed: source, value, why not."""
    return [f"{source:<34} {value:<42} {why}" for source, value, why in entries]


def summary(rows: list[Row]) -> str:
    """One sentence for all rows."""
    printed = [item for item in rows if not item.by_library]
    sources = len({item.source for item in printed})
    drawn = sum(item.drawn for item in printed)
    worked_out = len(rows) - len(printed)
    libraries = f", and {worked_out} that libraries have worked out" if worked_out else ""
    wrong = sum(not item.agrees for item in rows)
    verdict = "all within their tolerances" if not wrong else f"{wrong} outside their tolerances"
    return (
        f"{len(printed)} published values of {sources} sources, {drawn} of them through a layout file, "
        f"the network and the ledger{libraries}: {verdict}"
    )


def _line(cells: Iterable[str]) -> str:
    fitted = []
    for i, (cell, width) in enumerate(zip(cells, WIDTHS, strict=True)):
        short = cell if len(cell) <= width else cell[: width - 1] + "…"
        fitted.append(short.rjust(width) if i in RIGHT else short.ljust(width))
    return " ".join(fitted).rstrip()


def _figure(value: float) -> str:
    return f"{value:.6g}"


def _difference(item: Row) -> str:
    if item.theirs == 0 or math.isnan(item.difference):
        return f"{item.difference:+.2g}"
    share = round(100 * item.difference / abs(item.theirs), 3)
    return f"{share + 0.0:+.3f} %"


def _allowed(item: Row) -> str:
    if item.theirs == 0:
        return f"{item.tolerance:.2g}"
    return f"{100 * item.tolerance / abs(item.theirs):.2g} %"
