"""What answers a finding that has a figure of its own: a velocity, a viscosity at the start, a depth."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.answers.roots import crossing
from solver.findings import part as of_part
from solver.findings.checks import Finding
from solver.findings.kinds import FindingId
from solver.fixes import conditions, figures, pipes, places, relaid, screens, tanks
from solver.fixes.candidate import Candidate, FixKind, but_then, drawbacks
from solver.fixes.figures import Figure, Look, figure_of
from solver.fixes.judging import Judged
from solver.fixes.search import FLAT, NOTHING, STEPS, Line, Offer, heads, rounded, worsened
from solver.layout.parts import Layout
from solver.quantities.adding import PLACES, gained
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised

LESS = 0.98
"""Share of what is too much that a change may leave at most, to be named where none is enough."""


A_LITTLE = 1e-3
"""By which a straight is made longer than it has to be, for places are written to the millimetre [m]."""


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
    margin: float  # what it then is [Pa]
    heads: tuple[float, float] | None  # gain and margin of NPSH [m], of a pump that is judged by it
    worsens: tuple[str, ...]
    kinds: tuple[FixKind, ...]
    only: str  # of a last resort: what it asks for first; "" of any other
    enough: str  # a smaller size that would do but for the margin; "" where there is none
    as_drawn: bool  # whether it puts back what has suffered as it is drawn
    layout: Layout  # the drawing with the change made

    def sentence(self, system: System) -> str:
        """The change with the figure that it leads to, and what it does to the margin."""
        then = (
            f"then {self.figure.in_words(system)}" if self.figure is not None else "then the finding is gone"
        )
        gain, left, kind, of = self.gain, self.margin, Kind.VACUUM, ""
        if self.heads is not None:
            (gain, left), kind, of = self.heads, Kind.HEAD, " of NPSH"
        margin = f"{typeset(abs(gained(left - gain, left, kind, system)), kind, system, PLACES)}{of}"
        verb = "buys" if self.gain > 0 else "takes"
        moved = f"; {verb} {margin}" if abs(self.gain) >= NOTHING else ""
        moved += f"; {self.enough} would be enough, but not for the margin" if self.enough else ""
        return f"{capitalised(self.text)}: {then}{moved}{drawbacks((), self.only)}.{but_then(self.worsens)}"


# What is tried


Tried = Callable[[Line, Judged, Finding], Iterable[Candidate]]
"""Changes that may answer a finding; the line as it is in the case in which the finding is worst."""


def _wider_or_slower(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from _wider(line, now, finding)
    yield from conditions.slower(line.start, now)


def _wider(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    known = line.wider(now)
    if finding.part in line.start.runs and not any(each.part == finding.part for each in known):
        yield from pipes.run_wider(line.start, finding.part)
    yield from known


def _thinner_or_warmer(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from conditions.temperatures(line.start, now)
    yield from line.thinner()


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
    yield from _wider(line, now, finding)
    yield from line.thinner()


def _lower(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return places.intake_lower(line.start, finding.part)


def _off_the_floor(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return places.intake_higher(line.start, finding.part)


def _wider_bends(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    radii = of_part.hose_radii(line.start, finding.part)
    return pipes.bends_to(line.start, finding.part, radii[1]) if radii is not None else ()


def _eccentric(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return pipes.eccentric(finding.part)


def _under_the_level(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from places.intake_lower(line.start, finding.part)
    yield from places.higher_level(line.start, line.start.intakes[finding.part].reservoir)


def _past_the_baffle(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    yield from tanks.baffle_lower(line.start, finding.part)
    yield from tanks.baffle_gap(line.start, finding.part)


def _return_apart(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return tanks.return_apart(line.start, finding.part)


def _return_lower(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return tanks.return_lower(line.start, finding.part)


def _as_it_stands(line: Line, now: Judged, finding: Finding) -> Iterable[Candidate]:
    return tanks.shut(finding.part) if finding.part in line.start.fittings else ()


def _out_of_the_tank(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    if finding.part == now.pump:
        yield from tanks.on_the_lid(line.start, now.pump)
        yield from relaid.through_wall(line.start, now.ledger)


def _out_of_the_wall(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    if finding.part in line.start.runs:
        yield from tanks.nozzle_in_wall(line.start, finding.part)
        yield from relaid.through_wall(line.start, now.ledger)


def _held_full(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    for name in sorted(now.parts & set(line.start.intakes)):
        yield from pipes.foot_valve(name)
    yield from places.port_lower(line.start, line.start.pumps[now.pump])
    yield from relaid.through_wall(line.start, now.ledger)


def _straight_on(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    figure = figure_of(now, figures.straight, finding.part)
    if figure is not None and figure.excess > 0:
        yield from places.port_away(line.start, line.start.pumps[now.pump], figure.excess + A_LITTLE)


def _without_a_high_point(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    if finding.part in line.start.runs:
        yield from places.corners_out(line.start, line.start.runs[finding.part])
    yield from relaid.through_wall(line.start, now.ledger)


def _less_through_the_screen(line: Line, now: Judged, finding: Finding) -> Iterator[Candidate]:
    every = screens.candidates(line.start, now.ledger, now.case)
    yield from (each for each in every if each.part == finding.part)
    yield from line.thinner()
    yield from conditions.temperatures(line.start, now)
    yield from conditions.slower(line.start, now)


AIMS: Mapping[FindingId, tuple[Look, Tried]] = {
    FindingId.START_VISCOSITY: (figures.start_viscosity, _thinner_or_warmer),
    FindingId.RUNNING_VISCOSITY: (figures.running_viscosity, _thicker_or_cooler),
    FindingId.SUCTION_VELOCITY: (figures.velocity, _wider_or_slower),
    FindingId.SUBMERGENCE: (figures.submergence, _deeper),
    FindingId.FLOOR_CLEARANCE: (figures.clearance, _off_the_floor),
    FindingId.BORE_UNDER_PORT: (figures.narrowest_bore, _wider),
    FindingId.ACCELERATION_HEAD: (figures.acceleration_share, _less_to_speed_up),
    FindingId.HOSE_BENT_TIGHTLY: (figures.bend_radius, _wider_bends),
    FindingId.REDUCER_HOLDS_AIR: (figures.no_figure, _eccentric),
    FindingId.TRANSITIONAL_FLOW: (figures.transitional, _out_of_the_transition),
    FindingId.INTAKE_DRAWN_DRY: (figures.drawn_dry, _lower),
    FindingId.STRAINER_DROP: (figures.strainer_share, _less_through_the_screen),
    FindingId.STRAINER_WITHOUT_BYPASS: (figures.screen_without_bypass, _less_through_the_screen),
    FindingId.BYPASS_OPEN: (figures.screen_with_bypass, _less_through_the_screen),
    FindingId.NO_FOOT_VALVE: (figures.dry_lift, _held_full),
    FindingId.STRAIGHT_BEFORE_PORT: (figures.straight, _straight_on),
    FindingId.TRAPPED_HIGH_POINT: (figures.fall, _without_a_high_point),
    FindingId.INTAKE_UNCOVERED: (figures.uncovered, _under_the_level),
    FindingId.BAFFLE_SHUTS: (figures.baffle, _past_the_baffle),
    FindingId.RETURN_BESIDE_INTAKE: (figures.no_figure, _return_apart),
    FindingId.RETURN_ABOVE_FLUID: (figures.return_end, _return_lower),
    FindingId.AGAINST_A_CHECK: (figures.no_figure, _as_it_stands),
    FindingId.PORT_INSIDE: (figures.no_figure, _out_of_the_tank),
    FindingId.LINE_THROUGH_WALL: (figures.no_figure, _out_of_the_wall),
}
"""By finding: its figure, and what is tried to change it."""

NO_FIGURE = frozenset(finding for finding, (look, _) in AIMS.items() if look is figures.no_figure)
"""Findings that are there or are not."""

BY_THE_MARGIN: Mapping[FindingId, Look] = {FindingId.FREE_AIR: figures.free_air_share}
"""By finding that whatever gains margin may answer: its figure."""

AIMED = frozenset((*AIMS, *BY_THE_MARGIN))


def findings_with_figures(now: Judged) -> Iterator[Finding]:
    """The findings about this pump's line that have a figure, one of each kind and part."""
    by_place = {(f.finding, f.part): f for f in reversed(now.findings) if f.part in now.parts}
    yield from (each for each in by_place.values() if each.finding in AIMED)


def remedies(line: Line, finding: Finding, offered: Callable[[], Sequence[Offer]]) -> Iterator[Remedy]:
    """What answers a finding about one pump's line by its own figure.

    offered: the changes that gain margin, in the size that is offered; called where they are needed.
    """
    if finding.finding in AIMS:
        yield from _sized(line, finding, *AIMS[finding.finding])
    elif finding.finding in BY_THE_MARGIN:
        yield from _of_offered(line, finding, BY_THE_MARGIN[finding.finding], offered())


def _sized(line: Line, finding: Finding, look: Look, tried: Tried) -> Iterator[Remedy]:
    before = figure_of(line.now, look, finding.part)
    if before is not None and before.excess <= 0:
        return  # it is about another pump's line
    case = before.case if before is not None else line.now.case
    for candidate in (*line.restoring, *tried(line, replace(line.now, case=case), finding)):
        best: tuple[float, Judged] | None = None
        least = before.excess * LESS if before is not None else 0.0
        past = before.excess if before is not None else 0.0
        for number, size in enumerate(candidate.sizes or _sizes(candidate, line, look, finding.part)):
            after = _solved(candidate, size, line, finding)
            figure = figure_of(after, look, finding.part) if after is not None else None
            excess = figure.excess if figure is not None else 0.0
            if after is not None and (figure is None or excess <= max(least, 0.0)):
                best, least = (size, after), excess
            if least <= 0 or (number >= STEPS - 1 and after is not None and excess >= past):
                break
            past = excess if after is not None else past
        if best is not None:
            larger = _ample_too(candidate, best, line, look, finding) if least <= 0 else best
            enough = _name(candidate, best[0]) if larger[0] != best[0] else ""
            yield _remedy(line, finding, look, Offer(candidate, *larger), enough)


def _ample_too(
    candidate: Candidate, best: tuple[float, Judged], line: Line, look: Look, finding: Finding
) -> tuple[float, Judged]:
    """The first size of pipe, from that which ends a finding on, that also leaves an ample margin.

    The same size where none does, or where something else must give the margin.
    """
    if candidate.kind is not FixKind.SIZE or line.now.spare >= 0:
        return best
    before: Judged | None = None
    for size in candidate.sizes[candidate.sizes.index(best[0]) :]:
        after = _solved(candidate, size, line, finding)
        if after is None or (before is not None and after.margin - before.margin < FLAT):
            break
        figure = figure_of(after, look, finding.part)
        if after.spare >= 0 and (figure is None or figure.excess <= 0):
            return size, after
        before = after
    return best


def _name(candidate: Candidate, size: float) -> str:
    return candidate.names[candidate.sizes.index(size)] if candidate.names else ""


def _solved(candidate: Candidate, size: float, line: Line, finding: Finding) -> Judged | None:
    """What a change comes to; None where it makes no drawing, or puts a pump over that was within.

    None too where a finding without a figure is still there. A check valve shuts whether that harms or not.
    """
    after = line.in_size(candidate, size)
    if after is None:
        return None
    if finding.finding in NO_FIGURE and _place(finding) in map(_place, after.findings):
        return None
    harm = line.now.sound and not after.sound and finding.finding is not FindingId.AGAINST_A_CHECK
    return None if harm else after


def _place(finding: Finding) -> tuple[FindingId, str]:
    return finding.finding, finding.part


def _sizes(candidate: Candidate, line: Line, look: Look, part: str) -> Iterator[float]:
    """The size that is just enough, rounded to the step of the change; or as far as it goes."""

    def excess(size: float) -> float:
        figure = figure_of(line.after_size(candidate, size), look, part)
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
        figure = figure_of(offer.after, look, finding.part)
        if figure is not None and figure.excess <= max(before.excess * LESS, 0.0):
            yield _remedy(line, finding, look, offer)


def _remedy(line: Line, finding: Finding, look: Look, offer: Offer, enough: str = "") -> Remedy:
    figure, after = figure_of(offer.after, look, finding.part), offer.after
    left = {(each.finding, each.part) for each in after.findings}
    return Remedy(
        finding=finding.finding,
        part=finding.part,
        pump=line.now.pump,
        text=offer.candidate.describe(offer.size, line.system),
        figure=figure,
        ends=(finding.finding, finding.part) not in left and (figure is None or figure.excess <= 0),
        gain=after.margin - line.now.margin,
        margin=after.margin,
        heads=heads(line.now, after),
        worsens=tuple(worsened(line, after)),
        kinds=(offer.candidate.kind,),
        only=offer.only,
        enough=enough,
        as_drawn=offer.candidate in line.restoring,
        layout=offer.candidate.edit(line.start, offer.size),
    )


def best(of: Iterable[Remedy], most: int) -> list[Remedy]:
    """So many of them: what is put back as drawn, then those that end the finding, or leave least of it."""
    every = list(of)
    back = [each for each in every if each.as_drawn]
    ending = [each for each in every if each.ends and not each.as_drawn]
    if ending or any(each.ends for each in back):
        ranked = sorted(ending, key=lambda each: (bool(each.only), bool(each.worsens), -each.gain))
    else:
        others = (each for each in every if not each.as_drawn)
        ranked = sorted(others, key=lambda each: (bool(each.only), _excess(each)))
    return [*back, *ranked][:most]


def _excess(remedy: Remedy) -> float:
    return remedy.figure.excess if remedy.figure is not None else 0.0
