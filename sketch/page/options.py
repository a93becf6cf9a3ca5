"""The drawing and its alternatives as a sheet takes them: each judged by all cases, and which stands best."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from solver.field.as_read import AsRead, as_read
from solver.findings.judgement import Judgement, PumpInCase, judge, judged
from solver.fixes.fixes import Advice, advise_all
from solver.fixes.remedies import with_remedies
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, Solution
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text, uncapitalised
from solver.report.choices import Choice, choices_of
from solver.report.choosing import better, under_conditions_of
from solver.report.doubts import Rank, rank

DRAWING_ITSELF = "The drawing itself"
ALTERNATIVES, DRAWINGS = "Alternatives side by side", "Drawings side by side"


@dataclass(frozen=True, slots=True)
class Option:
    """The drawing itself, its name "", or an alternative: judged, or with why it is not."""

    name: str
    note: str
    judgement: Judgement | None  # by all its cases; None where it is not calculated
    why: str = ""  # it is not calculated
    file: str = ""  # of its own, where it is another drawing
    file_alternatives: tuple[str, ...] = ()  # the names of those in that file, which are not judged
    advice: Mapping[str, Advice] = field(default_factory=dict)  # by pump, where it was worked out
    choices: Mapping[str, Choice] | None = None  # by pump, which of that to recommend, where it was made
    unchanged: Judgement | None = None  # the drawing itself, under the conditions of the alternative
    shared_readings: int = 0  # readings of its file that are the drawing's own, which say nothing of it
    aside: bool = False  # not asked for: the first page says how it stands, and no page more
    revision: str = ""  # of the drawing itself, where another revision is set beside it
    own_name: str = ""  # of the drawing itself, where another file is set beside it
    as_read: AsRead | None = None  # with its screens as read, where one is past what is allowed or due

    @property
    def title(self) -> str:
        """The name it is shown under."""
        own = self.own_name or DRAWING_ITSELF
        return self.name or ", revision ".join(filter(None, (own, self.revision)))

    @property
    def inside(self) -> str:
        """That name inside a sentence; one of its own as it is spelt."""
        return self.title if self.name or self.own_name else uncapitalised(self.title)

    def worst(self, pump: str = "", cases: Iterable[str] | None = None) -> PumpInCase | None:
        """Where it stands worst: of one pump or of all, in some cases or in all; None where nowhere."""
        return None if self.judgement is None else self.judgement.worst(pump or None, cases)

    def ledger(self, pump: str, case: str) -> PumpLedger | None:
        """A pump's ledger in a case; None where there is none."""
        solution = self.solution(case)
        return None if solution is None else solution.pumps.get(pump)

    def solution(self, case: str) -> Solution | None:
        """The drawing solved in a case; None where it was not."""
        if self.judgement is None or case not in self.judgement.cases:
            return None
        return self.judgement.cases[case].solution

    @property
    def order(self) -> Rank:
        """Sorts the worst first: a case that was not judged makes no drawing look better."""
        if self.judgement is None or self.worst() is None:
            return (-1_000, 0, 0.0, 0), 0, 0.0
        return rank(self.judgement, self.as_read)


def side_by_side(options: Iterable[Option]) -> str:
    """What the table is called that counts the findings of all: of a file beside a file no alternative."""
    return DRAWINGS if any(each.file for each in options) else ALTERNATIVES


def option_of(name: str, note: str, layout: Layout, level: Level, system: System) -> Option:
    """A layout judged in every case, at a level; refused with its reason where it cannot be calculated."""
    try:
        return Option(name, note, judge(replace(layout, units=system), level))
    except (NetworkError, FluidError) as error:
        return Option(name, note, None, error_text(error, system))


def advised(option: Option, level: Level, drawn: Layout | None = None) -> Option:
    """The option with the changes that gain something for each of its pumps, which of them to recommend, and
    findings that name them.

    drawn: the drawing itself, where the option is an alternative to it.
    """
    if option.judgement is None:
        return option
    try:
        advice = advise_all(option.judgement.layout, level, drawn)
    except (NetworkError, FluidError):
        return with_findings(option, level, drawn)
    judgement = with_remedies(option.judgement, level, advice)
    choices = choices_of(judgement, advice, drawn, level)
    return replace(option, judgement=judgement, advice=advice, choices=choices)


def with_recommended(option: Option, plain: Option, level: Level) -> Option:
    """The option, its findings with the changes that are recommended for its pumps named first, as such.

    plain: the option as it was before it had what to try.
    """
    if plain.judgement is None or option.choices is None:
        return option
    fixes = {
        pump: each.fix
        for pump, each in option.choices.items()
        if each.fix is not None and (each.fix.cures or each.overhead is None)
    }
    judgement = with_remedies(plain.judgement, level, option.advice, recommended=fixes)
    return replace(option, judgement=judgement)


def with_findings(option: Option, level: Level, drawn: Layout | None = None) -> Option:
    """The option with what to try against its findings. Parameters as `advised`."""
    if option.judgement is None:
        return option
    return replace(option, judgement=with_remedies(option.judgement, level, drawn=drawn))


def without_readings_of(option: Option, drawn: Option) -> Option:
    """Another file without the readings that the drawing has too: those were taken on the line before."""
    if not option.file or option.judgement is None or drawn.judgement is None:
        return option
    layout, known = option.judgement.layout, drawn.judgement.layout.readings
    own = tuple(each for each in layout.readings if each not in known)
    judgement = replace(option.judgement, layout=replace(layout, readings=own))
    return replace(option, judgement=judgement, shared_readings=len(layout.readings) - len(own))


def as_it_was_read(option: Option, drawn: Option, level: Level) -> Option:
    """A line with its screens as blocked as they were read: of an alternative those that it keeps."""
    if option.judgement is None or drawn.judgement is None:
        return option
    layout, base = option.judgement.layout, drawn.judgement.layout
    return replace(option, as_read=as_read(layout, "" if option.file else option.name, level, base))


def in_units(judgement: Judgement, system: System) -> Judgement:
    """The judgement with every sentence in the units of a system."""
    if judgement.layout.units == system:
        return judgement
    return judged(replace(judgement.layout, units=system), judgement.cases, system=system)


def under_its_conditions(option: Option, drawn: Option, level: Level) -> Option:
    """An alternative with how the drawing itself stands with its fluid and on its site, if these differ."""
    if option.judgement is None or drawn.judgement is None:
        return option
    layout = under_conditions_of(drawn.judgement, option.judgement)
    try:
        return option if layout is None else replace(option, unchanged=judge(layout, level))
    except (NetworkError, FluidError):
        return option


def best_of(options: Sequence[Option], drawn: Option | None = None) -> Option | None:
    """The alternative whose worst case is the least bad; None without any that was calculated.

    drawn: the drawing itself; what is built and better than that goes before a mere change of conditions.
    """
    calculated = [option for option in options if option.worst() is not None]
    before = None if drawn is None else drawn.judgement
    works = [] if before is None else [
        each for each in calculated if each.judgement is not None and better(before, each.judgement)
    ]  # fmt: skip
    return max(works or calculated, key=lambda option: option.order, default=None)
