"""How a change is sized: solved in one size after another, until the margin is no longer thin."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from solver.answers.roots import crossing
from solver.findings.criteria import Finding
from solver.findings.kinds import FindingId, Severity
from solver.fixes import conditions, pipes, restored
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged, judge
from solver.formulas import flow
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.network.row_cache import RowCache
from solver.quantities.adding import gained
from solver.quantities.units import Kind, System, shown_beside, typeset
from solver.quantities.wording import ledger_pressure

NOTHING = 170.0
"""Margin that is shown as nothing, 0.05 inHg [Pa]: a change that buys less is not offered."""

FLAT = 20.0
"""What a margin may still grow where it is taken to grow no more [Pa]."""

NEARLY = 0.9
"""Share of the largest gain that a size must have to be offered as the fluid is slow enough in it; ours."""

GRAVER = 1.01
"""Times as far past its threshold, from where on a finding is graver than it was; ours."""

OF_THE_WORST = frozenset(
    {FindingId.SUCTION_VELOCITY, FindingId.BORE_UNDER_PORT, FindingId.NEAR_VAPOR_PRESSURE}
)
"""Findings that are about the worst place of a line, wherever that comes to lie."""

OF_THE_LIMIT = frozenset({FindingId.OVER_THE_LIMIT, FindingId.THIN_MARGIN, FindingId.LIMIT_ESTIMATED})
"""Findings whose figures are those of the margin, or of the floor that it is counted from."""

OF_THE_VELOCITY = frozenset({FixKind.SIZE, FixKind.SPEED})
"""Kinds of change that make the fluid slower."""

STEPS = 3
"""Sizes of pipe of which the best is offered where none is enough."""

SLOWER = 1e-3
"""What a size must take off the largest velocity for the next one to be tried on its account [m/s]."""


Size = tuple[FixKind, str, float]
"""A kind of change, what it changes, and how far."""


@dataclass(frozen=True)
class Line:
    """One pump's line as it is before any change."""

    start: Layout
    now: Judged
    level: Level
    drawn: Layout | None = None  # the drawing itself, where this is an alternative to it
    rows: RowCache = field(default_factory=RowCache)  # shared by the solves of all changes
    zeros: dict[tuple[Candidate, str], float | None] = field(default_factory=dict)  # sizes looked for
    solved: dict[tuple[Candidate, float], Judged | None] = field(default_factory=dict)  # of those in sizes
    judged: dict[Size, list[tuple[Layout, Judged]]] = field(default_factory=dict)  # every drawing once
    candidates: dict[tuple[str, str], tuple[Candidate, ...]] = field(default_factory=dict)  # of each kind

    @property
    def system(self) -> System:
        """The units that the drawing is shown in."""
        return self.start.units

    def after(self, layout: Layout) -> Judged:
        """What the line comes to after a change. Raises ValueError where it cannot be calculated."""
        return judge(layout, self.now.ledger.pump, self.level, self.now.cases, self.rows)

    def after_size(self, candidate: Candidate, size: float) -> Judged:
        """What the line comes to with a change in a size, whether that harms anything or not.

        What several findings ask of one figure leads to the same drawings. Raises ValueError as `after`.
        """
        changed = candidate.edit(self.start, size)
        if changed == self.start:
            return self.now
        known = self.judged.setdefault((candidate.kind, candidate.part, size), [])
        for layout, judged in known:
            if layout == changed:
                return judged
        known.append((changed, self.after(changed)))
        return known[-1][1]

    def wider(self, now: Judged) -> tuple[Candidate, ...]:
        """The line in wider pipe, as in the case that `now` decides; one list of them for every question."""
        return self._once("wider", now.case, lambda: pipes.wider(self.start, now.ledger))

    def thinner(self) -> tuple[Candidate, ...]:
        """Thinner fluids; one list of them for every question."""
        return self._once("thinner", "", lambda: conditions.thinner(self.start))

    @property
    def restoring(self) -> tuple[Candidate, ...]:
        """What has suffered put back as the drawing itself has it, or as it is but for a fault of a case."""
        return self._once("restoring", "", lambda: restored.candidates(self.start, self.drawn))

    def _once(self, name: str, case: str, make: Callable[[], Iterable[Candidate]]) -> tuple[Candidate, ...]:
        key = name, case
        if key not in self.candidates:
            self.candidates[key] = tuple(make())
        return self.candidates[key]

    def in_size(self, candidate: Candidate, size: float) -> Judged | None:
        """What the line comes to with a change in one of the sizes that it comes in.

        None where that makes no drawing, or puts another pump over that was within.
        """
        key = candidate, size
        if key not in self.solved:
            self.solved[key] = self._in_size(candidate, size)
        return self.solved[key]

    def _in_size(self, candidate: Candidate, size: float) -> Judged | None:
        try:
            after = self.after_size(candidate, size)
        except ValueError:
            return None
        return None if harms_another(self, after) or file.check(after.layout) else after


@dataclass(frozen=True)
class Offer:
    """A change in the size that is offered, and what the line then comes to."""

    candidate: Candidate
    size: float
    after: Judged

    def cost(self, system: System) -> str:
        """In kind: what has to be bought, done or accepted for it."""
        adds = self.candidate.adds
        return self.candidate.cost + (f": {adds(self.size, system)}" if adds is not None else "")

    @property
    def only(self) -> str:
        """What a last resort asks for first, in this size; "" of any other change."""
        return self.candidate.only(self.size)


def best_size(candidate: Candidate, line: Line) -> tuple[float, Judged] | None:
    """The size that is offered, with what it comes to; None where the change gains nothing or costs another.

    A continuous change is offered where the margin stops being thin, or as far as it goes; where nothing is
    lacking, by its usual size. Of sizes, the first that is ample and no longer too fast; where none is, the
    first that is ample, or the best of the next few that can be built.
    """
    solved = _continuous(candidate, line) if candidate.continuous else _in_sizes(candidate, line)
    gaining = [(size, after) for size, after in solved if after.margin - line.now.margin >= NOTHING]
    if not gaining:
        return None
    ample = [each for each in gaining if each[1].spare >= 0]
    if ample:
        return next((each for each in ample if each[1].too_fast <= 0), ample[-1])
    best = max(gaining, key=lambda each: each[1].margin)
    nearly = line.now.margin + NEARLY * (best[1].margin - line.now.margin)
    slow = (each for each in gaining if each[1].too_fast <= 0 and each[1].margin >= nearly)
    return next(slow, best) if line.now.too_fast > 0 else best


def _continuous(candidate: Candidate, line: Line) -> Iterator[tuple[float, Judged]]:
    for size in _continuous_sizes(candidate, line):
        if (after := line.in_size(candidate, size)) is not None:
            yield size, after
            if after.spare >= 0:
                return


def _in_sizes(candidate: Candidate, line: Line) -> Iterator[tuple[float, Judged]]:
    """One size after another, to that which is enough; of pipe the first few alone where none is."""
    kept: list[tuple[float, Judged]] = []
    before, pipe = line.now, candidate.kind is FixKind.SIZE
    for number, size in enumerate(candidate.sizes, 1):
        if (after := line.in_size(candidate, size)) is None:
            continue
        if after.spare >= 0:
            kept.append((size, after))
            if after.too_fast <= 0 or before.too_fast - after.too_fast < SLOWER:
                break
        elif number <= STEPS or not pipe or before.too_fast > max(after.too_fast, 0.0):
            kept.append((size, after))
        elif after.margin - before.margin < FLAT or after.spare + _lost(after) < 0:
            break
        before = after
    yield from kept


def _lost(after: Judged) -> float:
    """What a line loses on its way [Pa], the most that pipe still wider can buy."""
    return sum(entry.loss for entry in after.ledger.entries)


def harms_another(line: Line, after: Judged) -> bool:
    """Whether another pump that was within its budget is so no longer."""
    others = line.now.others.items()
    return any(
        other.within and name in after.others and not after.others[name].within for name, other in others
    )


def worsened(line: Line, after: Judged) -> Iterator[str]:
    """Findings that are new or graver than before, and other pumps on whose margin a change draws."""
    yield from (finding.text for finding in graver(line, after))
    for name, other in line.now.others.items():
        if name in after.others and other.margin - after.others[name].margin >= NOTHING:
            lost = gained(after.others[name].margin, other.margin, Kind.VACUUM, line.system)
            yield f"{name} loses {ledger_pressure(lost, line.system)}"


def graver(line: Line, after: Judged) -> Iterator[Finding]:
    """Findings that are new or graver than before.

    What is found of a part that a change puts in is held against what was found of the line before.
    """
    before: dict[tuple[str, str], list[Finding]] = {}
    for finding in line.now.findings:
        before.setdefault(_subject(finding), []).append(finding)
    drawn = frozenset[str]().union(*line.now.parts_of.values())
    for finding in filter(is_above_note, after.findings):
        old = list(before.get(_subject(finding), ()))
        if finding.finding in OF_THE_WORST or finding.part not in drawn:
            old += _of_the_line(finding, line.now, after)
        if not any(_as_grave(each, finding) for each in old):
            yield finding


def _of_the_line(finding: Finding, now: Judged, after: Judged) -> Iterator[Finding]:
    """What was found of its kind, before, on the lines of the pumps that draw through its part afterwards."""
    pumps = [name for name, parts in after.parts_of.items() if finding.part in parts]
    parts = frozenset[str]().union(*(now.parts_of.get(name, frozenset()) for name in pumps))
    return (each for each in now.findings if each.finding is finding.finding and each.part in parts)


def _as_grave(old: Finding, new: Finding) -> bool:
    """Whether a finding was as grave before: as severe, and as far past its threshold."""
    if old.severity != new.severity or old.finding is not new.finding:
        return old.severity.rank <= new.severity.rank
    past_old, past_new = _past(old), _past(new)
    return past_old is None or past_new is None or past_new <= past_old * GRAVER


def _past(finding: Finding) -> float | None:
    """By how much a figure misses its threshold; None where nothing is missed by a figure."""
    if finding.value is None or finding.threshold is None or finding.finding in OF_THE_LIMIT:
        return None
    return abs(finding.value - finding.threshold)


def _subject(finding: Finding) -> tuple[str, str]:
    """What a finding is about: a margin that was missing and is thin has become better, not worse."""
    of_the_margin = finding.finding in OF_THE_LIMIT - {FindingId.LIMIT_ESTIMATED}
    return "margin" if of_the_margin else str(finding.finding), finding.part


def is_above_note(finding: Finding) -> bool:
    """Whether a finding is more than a note."""
    return finding.severity != Severity.NOTE


def heads(now: Judged, after: Judged) -> tuple[float, float] | None:
    """Gain and margin as head of the fluid in the cases that decide [m]; None without an NPSH required."""
    if now.ledger.npsh_required is None or after.ledger.npsh_required is None:
        return None
    before, then = (each.margin / flow.static_lift.scalar(each.ledger.density, 1.0) for each in (now, after))
    return then - before, then


def _continuous_sizes(candidate: Candidate, line: Line) -> Iterator[float]:
    """Sizes to try in turn: the one that is ample, rounded to the change's step, or the farthest there is."""
    sizes = _sizes_to_try(candidate, line)
    yield from dict.fromkeys(_in_shown_digits(candidate, size, line.system) for size in sizes)


def _sizes_to_try(candidate: Candidate, line: Line) -> Iterator[float]:
    if line.now.spare >= 0:
        yield candidate.usual
        return
    ample = size_where(candidate, line, spare)
    if ample is None:
        if (most_gained := size_of_all_gain(candidate, line)) is not None:
            yield rounded(candidate, most_gained)
            return
        yield candidate.most
        yield (candidate.now + candidate.most) / 2
        return
    yield rounded(candidate, ample)
    yield ample


def _in_shown_digits(candidate: Candidate, size: float, system: System) -> float:
    """A size to the digits in which it is said, so that its gain is that of the figure that is read: the next
    one farther on, or before the farthest there is."""
    kind = candidate.enough_unit
    if kind in (None, Kind.NUMBER):
        return size
    upwards = candidate.most > candidate.now
    farther, nearer = (shown_beside(size, kind, system, above=each) for each in (upwards, not upwards))
    within = farther <= candidate.most if upwards else farther >= candidate.most
    return farther if within else nearer


def rounded(candidate: Candidate, size: float) -> float:
    """The next multiple of the step beyond a size, no farther than the change goes."""
    direction = 1.0 if candidate.most > candidate.now else -1.0
    steps = size / candidate.step * direction
    beyond = math.ceil(steps) * candidate.step * direction
    return min(beyond, candidate.most) if direction > 0 else max(beyond, candidate.most)


def size_where(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> float | None:
    """The size of a continuous change at which a measure reaches zero; None where it never does."""
    key = candidate, measure.__name__
    if key not in line.zeros:
        line.zeros[key] = _searched(candidate, line, measure)
    return line.zeros[key]


def size_text(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> str:
    """The size of a change from which on a measure that is below zero now is none, in writing."""
    if measure(line.now) >= 0 or (measure is slowness and candidate.kind not in OF_THE_VELOCITY):
        return ""
    if candidate.names:
        return _name_where(candidate, line, measure)
    if candidate.enough_unit is None or (size := size_where(candidate, line, measure)) is None:
        return ""
    if candidate.enough_unit is Kind.NUMBER:
        return f"{size:.1f} times"
    return typeset(_in_shown_digits(candidate, size, line.system), candidate.enough_unit, line.system)


def _name_where(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> str:
    """The first size at which a measure is not below zero; "" where none is, or where there is but one."""
    if len(candidate.sizes) < 2:
        return ""
    enough = (size for size, after in _in_sizes(candidate, line) if measure(after) >= 0)
    size = next(enough, None)
    return "" if size is None else candidate.names[candidate.sizes.index(size)]


def size_of_all_gain(candidate: Candidate, line: Line) -> float | None:
    """The size of a continuous change beyond which another case decides that it does not help.

    None where it gains as far as it goes, or cannot go that far.
    """
    try:
        farthest = line.after_size(candidate, candidate.most)
    except ValueError:
        return None
    if farthest.case == line.now.case:
        return None
    return _searched(candidate, line, lambda judged: judged.margin - farthest.margin + FLAT)


def _searched(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> float | None:
    def value(size: float) -> float:
        return measure(line.now if size == candidate.now else line.after_size(candidate, size))

    span = candidate.most - candidate.now
    try:
        reached = crossing(value, candidate.now, candidate.most, abs(span) / 4, abs(span) * 1e-4, 1.0)
    except (ValueError, ArithmeticError):
        return None
    return reached.at if reached.found else None


def margin(judged: Judged) -> float:
    """The least margin of all cases [Pa]."""
    return judged.margin


def spare(judged: Judged) -> float:
    """What it is over the criterion for a thin one [Pa]."""
    return judged.spare


def slowness(judged: Judged) -> float:
    """By how much the fluid is slower than is allowed, where it is fastest [m/s]."""
    return -judged.too_fast
