"""How a drawing stands with its screens as blocked as the newest readings of them say."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from solver.answers import inputs
from solver.field import trend, visits
from solver.field.causes import CauseKind
from solver.field.diagnosis import NothingToExplainError, diagnose
from solver.field.explain import Explained
from solver.field.trend import Trend
from solver.findings.judgement import PumpInCase, judge
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook, headline_as_drawn
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Case, Layout, Level
from solver.ledger.sentences import sentence_of_pump
from solver.ledger.solve import Solution
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import capitalised

OVER, MAY_BE_OVER, DUE = "Over as read", "May be over as read", "Within, cleaning is due"
"""What a drawing comes to that is within its limits as drawn, in a word or three."""


@dataclass(frozen=True, slots=True)
class ReadScreen:
    """What the newest reading of a screen says of it, nine times in ten."""

    name: str
    day: str
    low: float  # blocked shares
    high: float
    bound_only: bool  # its bypass is open: it is blocked by `low` at least
    due: str = ""  # "is due", "may be due already", or "" where it is not
    drawn: str = ""  # how much of it is blocked as drawn, in words
    pump: str = ""  # whose reading it is
    number: int = -1  # of that reading in the file
    rival: str = ""  # what explains it as well or better, in words; "" where nothing does

    @property
    def share(self) -> str:
        """The band in words."""
        return trend.share_words(self.low, self.high, self.bound_only)

    @property
    def words(self) -> str:
        """How much of it is blocked, and when that was read."""
        return f"{self.share} of {self.name} is blocked, as read on {self.day}"


@dataclass(frozen=True, slots=True)
class AsRead:
    """Screens that are past what some case allows, or due for cleaning, and how the drawing stands so."""

    screens: tuple[ReadScreen, ...]
    far: PumpInCase | None  # where it stands worst with as much blocked as may be; None where not solved
    near: PumpInCase | None  # with as little blocked as may be
    solution: Solution | None = field(default=None, compare=False, repr=False)  # of the case of `far`

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its screens."""
        return tuple(each.name for each in self.screens)

    @property
    def drawn(self) -> str:
        """How blocked its screens are as drawn, and how much was read, behind "with"."""
        shares = (f"as drawn ({each.drawn}), not as read ({each.share} blocked)" for each in self.screens)
        return " and ".join(f"{name} {share}" for name, share in zip(self.names, shares, strict=True))

    @property
    def verdict(self) -> str:
        """How the drawing stands as read, the beginning of a sentence."""
        if self.far is None:
            return "As read it could not be calculated"
        if not self.is_over:
            return "It is within as read too"
        return f"As read {self.far.pump} {'is' if self.is_surely_over else 'may be'} over"

    @property
    def is_over(self) -> bool:
        """Whether it is over with as much blocked as may be, or is not known to be within."""
        return self.far is None or not self.far.ledger.sound

    @property
    def is_surely_over(self) -> bool:
        """Whether it is over with as little blocked as may be."""
        return self.near is not None and not self.near.ledger.sound

    def headline(self, system: System) -> str:
        """How it stands with as much blocked as may be."""
        if self.far is None:
            return f"As read{self._rivals}, {self._shares}, it could not be calculated"
        where = "" if self.far.case == AS_DRAWN else f' in "{self.far.case}"'
        stands = f"{sentence_of_pump(self.far.ledger, system)}{where}"
        days = " and ".join(dict.fromkeys(each.day for each in self.screens))
        return f"As read on {days}{self._rivals}: {stands}, with {self._shares}"

    @property
    def _rivals(self) -> str:
        """What may explain the readings in the place of a blocked screen, in brackets; "" for nothing."""
        rivals = dict.fromkeys(each.rival for each in self.screens if each.rival)
        return f" ({'; '.join(rivals)})" if rivals else ""

    @property
    def due(self) -> str:
        """Which screens are to be cleaned now; "" where none is for certain, or may be."""
        return "; ".join(f"{each.name} {each.due} for cleaning" for each in self.screens if each.due)

    def text(self, system: System) -> str:
        """Headline and what is due, without a full stop."""
        return "; ".join(filter(None, (self.headline(system), self.due)))

    @property
    def most(self) -> str:
        """The largest shares that may be blocked, of which the figures as read are."""
        return " and ".join(f"{each.high * 100:.0f} % of {each.name} blocked" for each in self.screens)

    @property
    def _shares(self) -> str:
        return " and ".join(
            f"{each.high * 100:.0f} % of {each.name} blocked ({each.share} by its newest reading)"
            for each in self.screens
        )

    def order(self, removed: Collection[str] = ()) -> str:
        """What to do about it before all other work; what that takes out is not cleaned first."""
        kept = [each for each in self.screens if each.name not in removed]
        gone = [each for each in self.screens if each.name in removed]
        opened = "Lock out the drive, let the pressure off and drain the line as far as it must be opened"
        if kept:
            opened += f"; then pull and clean {_named(kept)} ({_in_words(kept)}), and read again"
        left = f" What is built next takes out {_named(gone)} ({_in_words(gone)}): " if gone else ""
        return f"{opened}.{left}{TAKEN_OUT if gone else ''}"


TAKEN_OUT = "clean that only where the pump must run before."
"""What holds of a blocked screen that the next work takes out."""


def _named(screens: Iterable[ReadScreen]) -> str:
    return " and ".join(each.name for each in screens)


def _in_words(screens: Iterable[ReadScreen]) -> str:
    return "; ".join(each.words for each in screens)


def as_read(
    layout: Layout, line: str = "", level: Level = Level.MINIMUM, base: Layout | None = None
) -> AsRead | None:
    """A drawing with its screens as read; None where by no reading one is past what its cases allow or due.

    line: the alternative that `layout` is, "" for the drawing itself. level: where a case names none.
    base: the drawing that an alternative is laid over; what was read of a screen that it keeps holds of it
    too, unless it was read on its own line since.
    """
    screens = screens_as_read(layout, line)
    if base is not None and line:
        known = {each.name for each in screens}
        kept = (each for each in screens_as_read(base) if each.name not in known)
        screens += tuple(each for each in kept if layout.screen(each.name) == base.screen(each.name))
    read = with_screens(layout, screens, level) if screens else None
    if read is None:
        return None
    return replace(read, screens=tuple(_with_rival(layout, line, base, each) for each in read.screens))


def _with_rival(layout: Layout, line: str, base: Layout | None, screen: ReadScreen) -> ReadScreen:
    """A screen with what explains its reading as well, on the line on which that was read."""
    mine = [(layout, line), *([(base, "")] if base is not None else [])]
    for drawn, name in mine:
        visit = visits.visit_of(drawn, screen.number) if screen.pump in drawn.pumps else ()
        try:
            diagnosis = diagnose(drawn, screen.pump, name, visit)
        except (NothingToExplainError, NetworkError, FluidError):
            continue
        return replace(screen, rival=_rival(diagnosis.explained, screen.name))
    return screen


def _rival(explained: Explained, screen: str) -> str:
    """What explains readings better than that a screen is blocked, in words; "" where nothing does."""
    first = explained.explanations[0]
    halves = [half for half in (first, first.second) if half is not None]
    if any(half.part == screen and half.cause in (CauseKind.SCREEN, CauseKind.STUCK) for half in halves):
        return ""
    if explained.word == "none of these":
        return f"that {screen} is blocked does not explain it"
    how = "as likely as" if explained.word == "cannot be distinguished" else "likelier than"
    return f"{how} a blocked {screen}: {first.name}"


def screens_as_read(layout: Layout, line: str = "") -> tuple[ReadScreen, ...]:
    """Every screen of a drawing that has a trend, the most that any gauge says of it. Parameters as
    `as_read`."""
    most: dict[str, ReadScreen] = {}
    read = {each.pump for each in layout.readings}
    for pump in (name for name in layout.pumps if name in read):
        for each in trend.trends(layout, pump, line):
            if each.points and (
                each.screen not in most or most[each.screen].high < trend.newest_blocked(each)[1]
            ):
                most[each.screen] = _screen(layout, each)
    return tuple(most.values())


def with_screens(
    layout: Layout, screens: Sequence[ReadScreen], level: Level = Level.MINIMUM
) -> AsRead | None:
    """A drawing with these screens as read; None where it is within so and none of them is due."""
    far, solution = _worst(layout, {each.name: each.high for each in screens}, level)
    near, _ = _worst(layout, {each.name: each.low for each in screens}, level)
    drawn = tuple(replace(each, drawn=drawn_share(layout, each.name)) for each in screens)
    read = AsRead(drawn, far, near, solution)
    return read if read.is_over or any(each.due for each in screens) else None


def takes_out(layout: Layout, base: Layout, name: str) -> bool:
    """Whether a changed drawing has another screen in the place of one, or none; not one merely cleaner."""
    old, new = base.screen(name), layout.screen(name)
    return new is None or (old is not None and replace(new, blocked=old.blocked) != old)


def drawn_share(layout: Layout, name: str) -> str:
    """How much of a screen is blocked as drawn, in words, and in the cases that have it otherwise."""
    screen = layout.screen(name)
    drawn = 0.0 if screen is None else screen.blocked
    others = (
        (case, value)
        for case, each in layout.cases.items()
        for path, value in each.figures.items()
        if path[1:] == (name, "screen", "blocked") and value != drawn
    )
    words = (f'{_share_words(value)} in "{case}"' for case, value in others)
    return ", ".join((_share_words(drawn), *words))


def _share_words(share: object) -> str:
    return f"{share * 100:.0f} % blocked" if isinstance(share, float) and share > 0.0 else "clean"


def _screen(layout: Layout, each: Trend) -> ReadScreen:
    newest, (low, high) = each.points[-1], trend.newest_blocked(each)
    due = trend.due_screens(layout, (each,)).get(each.screen, "")
    if not due and each.due_share is not None and newest.low <= each.due_share:
        due = "is due" if newest.high <= each.due_share else "may be due already"
    day = newest.when.date().isoformat()
    read = ReadScreen(each.screen, day, low, high, newest.bound_only, due)
    return replace(read, pump=each.pump, number=newest.number)


def _worst(
    layout: Layout, shares: Mapping[str, float], level: Level
) -> tuple[PumpInCase | None, Solution | None]:
    """Where a drawing stands worst with these shares of its screens blocked in every case, or more where that
    is drawn, and that case solved."""
    for name, share in shares.items():
        if (screen := layout.screen(name)) is not None:
            layout = inputs.blocked(layout, (name,), max(screen.blocked, share), level)
    cases = {name: _as_blocked(case, shares) for name, case in layout.cases.items()}
    try:
        judgement = judge(replace(layout, cases=cases), level)
    except (NetworkError, FluidError):
        return None, None
    place = judgement.worst()
    return place, None if place is None else judgement.cases[place.case].solution


def _as_blocked(case: Case, shares: Mapping[str, float]) -> Case:
    """A case in which nothing is less blocked than it was read."""
    return replace(case, figures=dict(_figures(case, shares)))


def _figures(case: Case, shares: Mapping[str, float]) -> Iterator[tuple[tuple[str, ...], object]]:
    for path, value in case.figures.items():
        match path:
            case (_, name, "screen", "blocked") if name in shares and value < shares[name]:
                continue
        yield path, value


def as_read_first(outlook: Outlook, read: AsRead | None, system: System, besides: str = "") -> Outlook:
    """What a drawing comes to, with how it stands as read: first where it is within as drawn, or beneath.

    besides: as in `headline_as_drawn`.
    """
    if read is None:
        return outlook
    beneath = ". ".join(filter(None, (outlook.beneath, read.text(system))))
    if outlook.severity is Grade.STOP:
        return replace(outlook, beneath=beneath)
    if not read.is_over:
        word = DUE if outlook.severity is Grade.GOOD else outlook.word
        return replace(outlook, severity=Grade.CAUTION, word=word, beneath=beneath)
    drawn = headline_as_drawn(outlook.headline, besides)
    return replace(
        outlook,
        severity=Grade.STOP if read.is_surely_over else Grade.CAUTION,
        word=OVER if read.is_surely_over else MAY_BE_OVER,
        headline=read.headline(system),
        beneath=". ".join(filter(None, (capitalised(read.due), drawn, outlook.beneath))),
    )


AGAIN = "How it stands as read is worked out again now"


def read_again(outlook: Outlook, last: AsRead | None, system: System) -> Outlook:
    """What a drawing comes to while how it stands as read is worked out again: graded by how it last did."""
    if last is None:
        return outlook
    first = as_read_first(outlook, last, system)
    drawn = first.headline == outlook.headline
    headline = outlook.headline if drawn else headline_as_drawn(outlook.headline)
    return replace(first, headline=headline, beneath=". ".join(filter(None, (outlook.beneath, AGAIN))))
