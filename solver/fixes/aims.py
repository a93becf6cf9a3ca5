"""What answers a finding that has a figure of its own: a velocity, a viscosity at the start, a depth."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.answers.roots import crossing
from solver.findings import line as of_line
from solver.findings import part as of_part
from solver.findings import pump as of_pump
from solver.findings.checks import Finding, subjects
from solver.findings.criteria import Subject
from solver.findings.kinds import FindingId
from solver.fixes import conditions, pipes, places
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged
from solver.fixes.search import NOTHING, Line, Offer, harms_another, heads, rounded, worsened
from solver.formulas import flow
from solver.geometry import reservoirs
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.path import HeadKind
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised

LESS = 0.98
"""Share of what is too much that a change may leave at most, to be named where none is enough."""

NEAR = 1e-3
"""Under a level, from where on an intake counts as covered [m]."""

JUST = 1e-9
"""Share by which a figure that stands on its threshold may pass it: what a root leaves."""


@dataclass(frozen=True, slots=True)
class Figure:
    """The figure of a finding against its threshold, in the case where it is worst."""

    value: float  # [SI unit of `kind`]
    threshold: float
    kind: Kind
    least: bool = False  # the value has to be over the threshold, not under it
    case: str = ""

    @property
    def excess(self) -> float:
        """By how much it misses the threshold; not above zero where it does not."""
        missed = self.threshold - self.value if self.least else self.value - self.threshold
        return missed - JUST * abs(self.threshold)

    def in_words(self, system: System) -> str:
        """How the figure stands: "3.0 ft/s, under 3.9 ft/s"."""
        value, threshold = (typeset(each, self.kind, system) for each in (self.value, self.threshold))
        side = "over" if self.value > self.threshold else "under"
        if value == threshold:
            enough = "just enough" if self.least else "no more than allowed"
            return f"{value}, {enough}" if self.excess <= 0 else f"a little {side} {threshold}"
        return f"{value}, {'' if self.excess <= 0 else 'still '}{side} {threshold}"


Look = Callable[[Subject, str], Figure | None]
"""The figure of a part; None where there is none."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that answers one finding, solved."""

    finding: FindingId
    part: str
    pump: str
    text: str  # the change as an order
    figure: Figure | None  # of the finding afterwards; None where there is none left
    ends: bool  # whether the finding is in no case any more
    gain: float  # by which the least margin of all cases grows [Pa]
    head_gain: float | None  # likewise of NPSH [m], of a pump that is judged by it
    worsens: tuple[str, ...]
    kinds: tuple[FixKind, ...]
    only: str  # of a last resort: what it asks for first; "" of any other
    layout: Layout  # the drawing with the change made

    def sentence(self, system: System) -> str:
        """The change with the figure that it leads to, and what it does to the margin."""
        then = f"then {self.figure.in_words(system)}" if self.figure is not None else "then it is gone"
        margin = typeset(abs(self.gain), Kind.VACUUM, system)
        if self.head_gain is not None:
            margin = f"{typeset(abs(self.head_gain), Kind.HEAD, system)} of NPSH"
        verb = "buys" if self.gain > 0 else "takes"
        moved = f"; {verb} {margin}" if abs(self.gain) >= NOTHING else ""
        worse = f"; but then: {self.worsens[0]}" if self.worsens else ""
        asked = f" ({self.only[:1].lower()}{self.only[1:]})" if self.only else ""
        return f"{capitalised(self.text)}: {then}{moved}{worse}{asked}."


# What is looked at


def _velocity(subject: Subject, part: str) -> Figure | None:
    fastest = of_line.fastest_pipe(subject)
    _, threshold = of_line.velocity_criteria(subject)[-1]
    return None if fastest is None else Figure(fastest.velocity, threshold, Kind.VELOCITY)


def _start_viscosity(subject: Subject, part: str) -> Figure:
    return Figure(of_pump.thickest(subject.solution).viscosity, of_pump.start_limit(subject), Kind.VISCOSITY)


def _running_viscosity(subject: Subject, part: str) -> Figure:
    least = subject.criteria.running_viscosity
    return Figure(of_pump.thinnest_viscosity(subject.solution), least, Kind.VISCOSITY, least=True)


def _free_air(subject: Subject, part: str) -> Figure | None:
    share = of_pump.free_air_share(subject)
    return None if share is None else Figure(share, subject.criteria.free_air, Kind.SHARE)


def _acceleration(subject: Subject, part: str) -> Figure | None:
    taken = [entry.loss for entry in subject.ledger.entries if entry.kind == HeadKind.ACCELERATION]
    share = subject.share(sum(taken))
    if not taken or share is None:
        return None
    return Figure(share, subject.criteria.acceleration_share, Kind.SHARE)


def _submergence(subject: Subject, part: str) -> Figure | None:
    for entry, _, intake in subject.intakes:
        if intake.name == part:
            depth, needed = of_line.depths(subject, entry, intake)
            return Figure(depth, needed, Kind.LENGTH, least=True)
    return None


def _clearance(subject: Subject, part: str) -> Figure | None:
    for entry, _, intake in subject.intakes:
        if intake.name == part:
            clear, bores = of_line.clearance(subject, intake)
            return Figure(clear, bores * entry.bore, Kind.LENGTH, least=True)
    return None


def _narrowest(subject: Subject, part: str) -> Figure | None:
    bores = [row.bore for _, row in subject.line if row.kind == "straight"]
    needed = subject.port.bore * (1 - subject.criteria.bore_tolerance)
    return Figure(min(bores), needed, Kind.BORE, least=True) if bores else None


def _bend(subject: Subject, part: str) -> Figure | None:
    radii = of_part.hose_radii(subject.layout, part)
    return None if radii is None else Figure(*radii, Kind.LENGTH, least=True)


def _transitional(subject: Subject, part: str) -> Figure | None:
    """The largest share that an element of the part takes where flow is neither laminar nor turbulent."""
    shares = [
        subject.share(entry.loss) or 0.0
        for entry, _ in subject.everywhere
        if entry.part == part and flow.LAMINAR_END < (entry.reynolds or 0.0) < flow.TURBULENT_START
    ]
    return Figure(max(shares), subject.criteria.transitional_share, Kind.SHARE) if shares else None


def _drawn_dry(subject: Subject, part: str) -> Figure | None:
    """The height of an intake against what the cylinders leave of the level."""
    intake = subject.layout.intakes.get(part)
    if intake is None:
        return None
    left = reservoirs.drawn_down(subject.layout.reservoirs[intake.reservoir])
    return None if left is None else Figure(intake.at[1].si, left - NEAR, Kind.LENGTH)


def _nothing(subject: Subject, part: str) -> None:
    return None


# What is tried


Tried = Callable[[Line, Judged, Finding], Iterable[Candidate]]
"""Changes that may answer a finding; the line as it is in the case in which the finding is worst."""


def _wider_or_slower(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from pipes.wider(line.start, now.ledger)
    yield from conditions.slower(line.start, now)


def _wider(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    if finding.part in line.start.runs:
        yield from pipes.run_wider(line.start, finding.part)
    yield from pipes.wider(line.start, now.ledger)


def _thinner_or_warmer(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from conditions.temperatures(line.start, now)
    yield from conditions.thinner(line.start)


def _thicker_or_cooler(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from conditions.cooler(line.start, now)
    yield from conditions.thicker(line.start)


def _less_to_speed_up(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from _wider_or_slower(line, now, finding)
    yield from conditions.more_cylinders(line.start, now.pump)


def _deeper(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from places.intake_lower(line.start, finding.part)
    yield from places.higher_level(line.start, line.start.intakes[finding.part].reservoir)
    yield from conditions.slower(line.start, now)


def _out_of_the_transition(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    if finding.part in line.start.runs:
        yield from pipes.run_wider(line.start, finding.part)
    yield from pipes.wider(line.start, now.ledger)
    yield from conditions.thinner(line.start)


def _lower(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return places.intake_lower(line.start, finding.part)


def _off_the_floor(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return places.intake_higher(line.start, finding.part)


def _wider_bends(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    radii = of_part.hose_radii(line.start, finding.part)
    return pipes.bends_to(line.start, finding.part, radii[1]) if radii is not None else ()


def _eccentric(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return pipes.eccentric(finding.part)


AIMS: Mapping[FindingId, tuple[Look, Tried]] = {
    FindingId.START_VISCOSITY: (_start_viscosity, _thinner_or_warmer),
    FindingId.RUNNING_VISCOSITY: (_running_viscosity, _thicker_or_cooler),
    FindingId.SUCTION_VELOCITY: (_velocity, _wider_or_slower),
    FindingId.SUBMERGENCE: (_submergence, _deeper),
    FindingId.FLOOR_CLEARANCE: (_clearance, _off_the_floor),
    FindingId.BORE_UNDER_PORT: (_narrowest, _wider),
    FindingId.ACCELERATION_HEAD: (_acceleration, _less_to_speed_up),
    FindingId.HOSE_BENT_TIGHTLY: (_bend, _wider_bends),
    FindingId.REDUCER_HOLDS_AIR: (_nothing, _eccentric),
    FindingId.TRANSITIONAL_FLOW: (_transitional, _out_of_the_transition),
    FindingId.INTAKE_DRAWN_DRY: (_drawn_dry, _lower),
}
"""By finding: its figure, and what is tried to change it."""

BY_THE_MARGIN: Mapping[FindingId, Look] = {FindingId.FREE_AIR: _free_air}
"""By finding that whatever gains margin may answer: its figure."""

AIMED = frozenset((*AIMS, *BY_THE_MARGIN))


def remedies(line: Line, offered: Sequence[Offer]) -> Iterator[Remedy]:
    """What answers the findings of one pump's line by a figure of their own.

    offered: the changes that gain margin, in the size that is offered.
    """
    for finding in _own(line.now):
        if finding.finding in AIMS:
            yield from _sized(line, finding, *AIMS[finding.finding])
        elif finding.finding in BY_THE_MARGIN:
            yield from _of_offered(line, finding, BY_THE_MARGIN[finding.finding], offered)


def _own(now: Judged) -> Iterator[Finding]:
    """The findings about this pump's line, one of each kind and part."""
    ledger = now.ledger
    parts = {entry.part for entry in (*ledger.entries, *ledger.parallel_entries)}
    by_place = {(f.finding, f.part): f for f in reversed(now.findings) if f.part in parts}
    yield from (each for each in by_place.values() if each.finding in AIMED)


def figure_of(judged: Judged, look: Look, part: str) -> Figure | None:
    """The figure of a part in the case where it is worst; None where no case has one."""
    figures = [
        replace(figure, case=case)
        for case, solution in judged.solutions.items()
        for subject in subjects(solution)
        if subject.ledger.pump == judged.pump and (figure := look(subject, part)) is not None
    ]
    return max(figures, key=lambda figure: figure.excess, default=None)


def _sized(line: Line, finding: Finding, look: Look, tried: Tried) -> Iterator[Remedy]:
    before = figure_of(line.now, look, finding.part)
    if before is not None and before.excess <= 0:
        return  # it is about another pump's line
    case = before.case if before is not None else line.now.case
    for candidate in tried(line, replace(line.now, case=case), finding):
        best: tuple[float, Judged] | None = None
        least = before.excess * LESS if before is not None else 0.0
        for size in candidate.sizes or _sizes(candidate, line, look, finding.part):
            after = _solved(candidate, size, line)
            then = figure_of(after, look, finding.part) if after is not None else None
            if after is None or (then is not None and then.excess > max(least, 0.0)):
                continue
            best, least = (size, after), then.excess if then is not None else 0.0
            if least <= 0:
                break
        if best is not None:
            yield _remedy(line, finding, look, Offer(candidate, *best))


def _solved(candidate: Candidate, size: float, line: Line) -> Judged | None:
    """What a change comes to; None where it makes no drawing, or puts a pump over that was within."""
    try:
        changed = candidate.edit(line.start, size)
        after = line.after(changed)
    except ValueError:
        return None
    harm = harms_another(line, after) or (line.now.sound and not after.sound)
    return None if harm or file.check(changed) else after


def _sizes(candidate: Candidate, line: Line, look: Look, part: str) -> Iterator[float]:
    """The size that is just enough, rounded to the step of the change; or as far as it goes."""

    def excess(size: float) -> float:
        figure = figure_of(line.after(candidate.edit(line.start, size)), look, part)
        return figure.excess if figure is not None else 0.0

    span = abs(candidate.most - candidate.now)
    try:
        reached = crossing(excess, candidate.now, candidate.most, span / 4, span * 1e-3, 1e-12)
    except (ValueError, ArithmeticError):
        return
    if reached.found:
        yield rounded(candidate, reached.at)
    yield candidate.most


def _of_offered(line: Line, finding: Finding, look: Look, offered: Sequence[Offer]) -> Iterator[Remedy]:
    before = figure_of(line.now, look, finding.part)
    if before is None or before.excess <= 0:
        return
    for offer in offered:
        then = figure_of(offer.after, look, finding.part)
        if then is not None and then.excess <= max(before.excess * LESS, 0.0):
            yield _remedy(line, finding, look, offer)


def _remedy(line: Line, finding: Finding, look: Look, offer: Offer) -> Remedy:
    figure, after = figure_of(offer.after, look, finding.part), offer.after
    left = {(each.finding, each.part) for each in after.findings}
    head = heads(line.now, after)
    return Remedy(
        finding=finding.finding,
        part=finding.part,
        pump=line.now.pump,
        text=offer.candidate.describe(offer.size, line.system),
        figure=figure,
        ends=(finding.finding, finding.part) not in left and (figure is None or figure.excess <= 0),
        gain=after.margin - line.now.margin,
        head_gain=head[0] if head is not None else None,
        worsens=tuple(worsened(line, after)),
        kinds=(offer.candidate.kind,),
        only=offer.only,
        layout=offer.candidate.edit(line.start, offer.size),
    )


def best(of: Iterable[Remedy], most: int) -> list[Remedy]:
    """So many of them: those that end the finding, or else those that leave least of it."""
    every = list(of)
    ending = [each for each in every if each.ends]
    if ending:
        return sorted(ending, key=lambda each: (bool(each.only), bool(each.worsens), -each.gain))[:most]
    return sorted(every, key=lambda each: (bool(each.only), _excess(each)))[:most]


def _excess(remedy: Remedy) -> float:
    return remedy.figure.excess if remedy.figure is not None else 0.0
