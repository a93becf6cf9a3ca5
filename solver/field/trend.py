"""How a strainer blocks over the months, from readings of one gauge at one place, and when it will be due.

Each reading is explained by the screen alone, in its own state, so that cold and warm days stand in one line.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np

from solver.answers.variations import first_screen
from solver.field import states, weighing
from solver.field.causes import Cause, CauseKind, causes, unseen
from solver.field.cleaning import FARTHEST, CleaningDue, cleaning_due
from solver.field.prediction import Floats, ReadingNetworks
from solver.field.states import Prepared, Reading
from solver.field.visits import visits
from solver.field.weighing import Weighed
from solver.layout.logged import WORK
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, typeset

FEWEST = 4
"""Readings from which a trend is drawn; common practice, no source."""

NINE_IN_TEN = 1.645
"""Standard deviations on either side that hold nine in ten."""

LATEST_YEARS = 20
RESTARTS = tuple(work for work in WORK if work != "fluid topped up")
"""Work across which no trend is drawn."""


@dataclass(frozen=True)
class TrendPoint:
    """The open share of a screen at one reading, with nine in ten of its likelihood."""

    number: int  # of the reading in the file, from 0
    when: datetime
    open_share: float
    low: float
    high: float
    bound_only: bool  # its bypass is open: not more than `high` is known


@dataclass(frozen=True)
class LinePoint:
    """The open share by the line through the readings at a moment, and its edges nine times in ten."""

    when: datetime
    low: float
    share: float
    high: float


@dataclass(frozen=True)
class Trend:
    """Readings of one gauge since the strainer was last cleaned, and where they lead."""

    pump: str
    screen: str
    gauge: str
    place: str
    points: tuple[TrendPoint, ...]
    due_share: float | None  # open share at which some case is over; None where there is none such
    earliest: datetime | None  # of the band of the trend
    latest: datetime | None  # None where the band has no end within years
    why_none: str  # why there is no date; "" where there is one
    before: tuple[datetime | None, datetime | None] = (None, None)  # both dates without the latest visit
    fallen: str = ""  # by how much more the pressure fell at the gauge than states explain; "" where not
    over_first: str = ""  # the pump that is over first at `due_share`, and in which case; "" where none is

    @property
    def grown(self) -> str:
        """That its open share grew by itself, out of the band of the reading before; "" where it did not."""
        for before, after in pairwise(self.points):
            if after.open_share > before.high and not (before.bound_only or after.bound_only):
                one, other = (
                    f"{each.open_share * 100:.0f} % on {each.when.date().isoformat()}"
                    for each in (before, after)
                )
                return (
                    f"its open share would have grown by itself from {one} to {other}, no work noted between"
                )
        return ""

    def due_words(self, when: datetime) -> str:
        """Whether it is due at a date, by its readings with or without those of the latest visit: "is due",
        "may be due already", or "" where it is not."""
        pairs = ((self.earliest, self.latest), self.before)
        if any(latest is not None and latest <= when for _, latest in pairs):
            return "is due"
        return "may be due already" if any(each is not None and each <= when for each, _ in pairs) else ""


def trends(layout: Layout, pump: str, line: str = "") -> tuple[Trend, ...]:
    """The trend of every gauge that was read more than once on a pump's line behind its first screen.

    line: the alternative that `layout` is, "" for the drawing itself. Raises KeyError for an unknown pump.
    """
    layout.pumps[pump]
    prepared = [each for each in states.prepare(layout, line) if each.logged.pump == pump]
    groups: dict[tuple[str, str], list[Prepared]] = {}
    for each in sorted(prepared, key=_order):
        if each.readings and not each.readings[0].resting:
            groups.setdefault((each.logged.gauge.name, each.logged.place), []).append(each)
    several = {key: group for key, group in groups.items() if len(group) > 1}
    latest = frozenset(visits(layout, pump, line)[-1]) if several else frozenset()
    fitted = (_trend(layout, pump, *key, group, prepared, latest) for key, group in several.items())
    return tuple(each for each in fitted if each is not None)


def long_trends(layout: Layout, pump: str, line: str = "") -> tuple[Trend, ...]:
    """The trends of a pump where some gauge was read often enough at one place. Parameters as `trends`."""
    counts = Counter((each.gauge.name, each.place) for each in layout.readings if each.pump == pump)
    return trends(layout, pump, line) if max(counts.values(), default=0) >= FEWEST else ()


def due_screens(layout: Layout, long: Sequence[Trend]) -> dict[str, str]:
    """The screens that by a trend are due for cleaning at the latest reading of a pump, no work noted since,
    each with "is due" or "may be due already". long: of `long_trends`."""
    words = {
        each.screen: each.due_words(
            max(reading.moment for reading in layout.readings if reading.pump == each.pump)
        )
        for each in long
    }
    return {screen: word for screen, word in words.items() if word}


def grown_screens(long: Sequence[Trend]) -> dict[str, str]:
    """The screens whose open share grew by itself, each with how. long: of `long_trends`."""
    return {each.screen: each.grown for each in long if each.grown}


def _trend(
    layout: Layout,
    pump: str,
    gauge: str,
    place: str,
    group: list[Prepared],
    every: Sequence[Prepared],
    latest_visit: Collection[int],
) -> Trend | None:
    try:
        screen = _screen(group[0].readings[0])
        if screen is None:
            return None
        since = _since_work(group, every)
        points = [_point(each, screen) for each in since]
        due = cleaning_due(layout, pump)
    except (NetworkError, FluidError) as error:
        return Trend(pump, "", gauge, place, (), None, None, None, str(error))
    earliest, latest, why = _dates(points, due, len(since) < len(group))
    earlier = [each for each in points if each.number not in latest_visit]
    before = _dates(earlier, due, after_work=False)[:2]
    due_share = None if due.blocked is None else 1.0 - due.blocked
    fallen = _fallen(since, System(layout.units)) if len(since) > 1 else ""
    return Trend(
        pump, screen.part, gauge, place, tuple(points), due_share, earliest, latest, why, before, fallen,
        due.over_first,
    )  # fmt: skip


def _fallen(since: Sequence[Prepared], system: System) -> str:
    """By how much more the pressure fell from the first reading to the last than their states explain; ""
    where it did not. One gauge at one place has the same height, tube and error in both."""
    one, other = since[0].readings[0], since[-1].readings[0]
    nothing = weighing.weigh(unseen(CauseKind.NOTHING, "", ""), ReadingNetworks((one, other)))
    explained = float(nothing.vacuum[0, 1] - nothing.vacuum[0, 0])
    more = other.half_full.low - one.half_full.high - explained
    if more <= weighing.NO_SURPRISE * weighing.difference_deviation(nothing.covariances[0], 0, 1):
        return ""
    same = "" if one.gauge.name else "taken as one gauge, though it has no name, "
    first, last = (each.logged.day for each in (since[0], since[-1]))
    return (
        f"From {first} to {last} the pressure at the gauge fell by {typeset(more, Kind.VACUUM, system)} more "
        f"than the state of the machine explains: {same}its height, tube and error have no part in that"
    )


def _since_work(group: Sequence[Prepared], every: Sequence[Prepared]) -> list[Prepared]:
    """The readings since something was last done on the line that begins a trend again."""
    work = [_order(each) for each in every if set(each.logged.work) & set(RESTARTS)]
    last = max(work, default=(datetime.min, 0))
    return [each for each in group if _order(each) >= last]


def _order(prepared: Prepared) -> tuple[datetime, int]:
    """When it was read; of one moment in the order of the file."""
    return prepared.logged.moment, prepared.number


def _screen(reading: Reading) -> Cause | None:
    """The first screen on the way to the pump as a cause, from as drawn on."""
    ledger = solve(reading.layout, reading.level).pumps[reading.place.pump]
    layout = reading.layout
    name = first_screen(layout, ledger)
    if not name:
        return None
    listed = causes(layout, ledger, (reading,))
    cause = next(each for each in listed if (each.kind, each.part) == (CauseKind.SCREEN, name))
    return replace(cause, sizes=(0.0, *(size for size in cause.sizes if size > 0.0)))


def _point(prepared: Prepared, screen: Cause) -> TrendPoint:
    weighed: Weighed = weighing.weigh(screen, ReadingNetworks(prepared.readings))
    low, high = weighed.band
    share = 1.0 - float(weighed.sizes[weighed.best])
    return TrendPoint(
        prepared.number,
        prepared.logged.moment,
        share,
        min(1.0 - high, share),
        max(1.0 - low, share),
        weighed.bound_only or _is_past_all(weighed, prepared.readings),
    )


def _is_past_all(weighed: Weighed, readings: Sequence[Reading]) -> bool:
    """Whether more was read than a screen whose bypass opens as drawn gives, blocked by any share."""
    layout, name = readings[0].layout, weighed.cause.part
    screen = layout.screen(name)
    if screen is None or screen.bypass is None:
        return False
    shown = weighed.vacuum[weighed.best]
    within = weighing.inside(readings, shown, weighed.covariances[weighed.best])
    return any(
        not (inside or reading.resting) and reading.half_full.low > vacuum
        for inside, reading, vacuum in zip(within, readings, shown, strict=True)
    )


Dates = tuple[datetime | None, datetime | None, str]


def _dates(points: Sequence[TrendPoint], due: CleaningDue, after_work: bool) -> Dates:
    """The earliest and the latest date at which the band of the trend meets the share that is due."""
    if len(points) < FEWEST:
        since = " since the last work on the line" if after_work else ""
        count = f"{len(points)} reading{'s' * (len(points) != 1)}"
        needed = f"{count}{since}: a trend needs {FEWEST}, on different days"
        return None, None, f"{needed}{_by_few(points, due)}"
    if any(each.bound_only for each in points):
        return None, None, "a bypass is open in one of them: how much is blocked is not known"
    if due.blocked is None:
        return None, None, due.why_none
    band = _band(points, 1.0 - due.blocked)
    if band is None:
        return None, None, f"the open share does not fall{_by_newest(points, 1.0 - due.blocked)}"
    if band[0] is None:
        return None, None, f"not within {LATEST_YEARS} years"
    return *band, ""


def _by_few(points: Sequence[TrendPoint], due: CleaningDue) -> str:
    """What fewer readings than a trend needs come to by themselves; "" where that is nothing."""
    if due.blocked is None or not points or any(each.bound_only for each in points):
        return ""
    share = 1.0 - due.blocked
    newest = _by_newest(points, share)
    band = _band(points, share) if len(points) > FEWEST - 2 and not newest else None
    if band is None or band[0] is None:
        return newest
    first = band[0].date().isoformat()
    when = f"on {first} at the earliest" if band[1] is None else f"between {first} and {band[1].date()}"
    few = f"By these {len(points)} alone {share * 100:.0f} % open is reached {when}"
    return f". {few}, nine times in ten, if it goes on so"


def _by_newest(points: Sequence[TrendPoint], share: float) -> str:
    """That a screen is due by its newest reading alone; "" where that is not certain. share: that is due."""
    newest = points[-1]
    if newest.high > share:
        return ""
    return (
        f". By the newest alone it is due: {newest.high * 100:.0f} % open at most, and "
        f"{share * 100:.0f} % are needed"
    )


def _band(points: Sequence[TrendPoint], share: float) -> tuple[datetime | None, datetime | None] | None:
    """Between which dates a straight line through points meets a share, nine times in ten: each None where
    that is not within years. None where the line does not fall."""
    ahead = np.arange(0.0, LATEST_YEARS * 365.0)
    low, line, high = _straight(points, ahead)
    if line[1] >= line[0]:
        return None
    earliest, latest = (_first(edge <= share) for edge in (low, high))
    return _day(points, ahead, earliest), _day(points, ahead, latest)


def _straight(points: Sequence[TrendPoint], ahead: Floats) -> tuple[Floats, Floats, Floats]:
    """The straight line through points so many days after the first, between its edges nine times in ten."""
    slope, level, covariance = _line(*_columns(points))
    deviation = np.sqrt(covariance[0, 0] + 2 * ahead * covariance[0, 1] + ahead**2 * covariance[1, 1])
    line = level + slope * ahead
    return line - NINE_IN_TEN * deviation, line, line + NINE_IN_TEN * deviation


def line_to(trend: Trend, until: datetime, count: int) -> tuple[LinePoint, ...]:
    """So many points of the straight line whose edges give a trend its dates, from its first reading to a
    moment; none where it has no date."""
    if trend.earliest is None:
        return ()
    first = trend.points[0].when
    ahead = np.linspace(0.0, (until - first).total_seconds() / 86400.0, count)
    return tuple(
        LinePoint(first + timedelta(days=float(day)), float(low), float(share), float(high))
        for day, low, share, high in zip(ahead, *_straight(trend.points, ahead), strict=True)
    )


def _day(points: Sequence[TrendPoint], ahead: Floats, end: int | None) -> datetime | None:
    return None if end is None else points[0].when + timedelta(days=float(ahead[end]))


def _first(condition: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> int | None:
    return int(np.argmax(condition)) if condition.any() else None


def _columns(points: Sequence[TrendPoint]) -> tuple[Floats, Floats, Floats]:
    """Days since the first, open shares, and their standard deviations."""
    days = np.array([(each.when - points[0].when).total_seconds() / 86400.0 for each in points])
    shares = np.array([each.open_share for each in points])
    sigma = np.array([max(each.high - each.low, 1e-3) / (2.0 * NINE_IN_TEN) for each in points])
    return days, shares, sigma


def _line(days: Floats, shares: Floats, sigma: Floats) -> tuple[float, float, Floats]:
    """A straight line through shares: slope, level on the first day, and the covariance of level and slope.

    The band of each reading is taken as its own, and widened where they scatter by more.
    """
    design = np.stack([np.ones_like(days), days], axis=1) / sigma[:, None]
    covariance = np.linalg.pinv(design.T @ design)
    level, slope = covariance @ design.T @ (shares / sigma)
    off = (shares - level - slope * days) / sigma
    scatter = float(off @ off) / max(len(days) - 2, 1)
    return float(slope), float(level), np.asarray(covariance * max(scatter, 1.0))


def newest_blocked(each: Trend) -> tuple[float, float]:
    """The least and the most that is blocked by the newest reading."""
    newest = each.points[-1]
    low = 1.0 - newest.high
    return min(low, FARTHEST), min(low if newest.bound_only else 1.0 - newest.low, FARTHEST)


def share_words(low: float, high: float, bound_only: bool) -> str:
    """A blocked share in words; `bound_only`: the bypass is open, and it is `low` at least."""
    return f"{low * 100:.0f} % at least" if bound_only else f"{low * 100:.0f} to {high * 100:.0f} %"
