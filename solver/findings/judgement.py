"""What the cases of a drawing come to, pump by pump: how each stands, and which of them is the worst."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from operator import attrgetter

from solver.findings.advice import worded
from solver.findings.checks import check
from solver.findings.criteria import Criteria, Finding, SharedFindings, case_in_words, criteria_of
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity
from solver.findings.site import MORE_THAN_IS_LEFT, is_allowed_for
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import SHORT_CASE, Layout, Level
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.solve import PumpLedger, Solution
from solver.network.row_cache import RowCache
from solver.quantities.units import System

OF_CASES = ("in every case but ", "case ", "cases ")
"""How the text of a finding begins that says itself which cases it holds in."""

THINNEST_OIL = 2e-6
"""Kinematic viscosity above which a fluid runs noticeably thicker in the cold [m²/s]; that of water at its
freezing point is less. Common practice, no source."""


SAME_TEMPERATURE = 0.05
"""Between two temperatures that are typed alike in different units [K]; ours."""

START_NOT_COUNTED = "start not counted"
"""Of a case with a start of which nobody knew how quickly the flow rises."""


class PumpState(StrEnum):
    """How a pump stands in a case; from worst to best."""

    BREAKS = "column breaks"
    OVER = "over"
    UNFIT = "within, but not fit to run"
    THIN = "thin"
    WITHIN = "within"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return _RANKS[self]


_RANKS = {pump_state: rank for rank, pump_state in enumerate(PumpState)}


@dataclass(frozen=True, slots=True)
class PumpInCase:
    """One pump in one case."""

    pump: str
    case: str
    pump_state: PumpState
    ledger: PumpLedger

    @property
    def order(self) -> tuple[int, float]:
        """Sorts the worst first: of those that stand alike, the one with the smaller margin."""
        return self.pump_state.rank, self.ledger.margin


@dataclass(frozen=True)
class Judgement:
    """A drawing judged in every case that it has to live through."""

    layout: Layout
    cases: Mapping[str, CaseSolution]
    findings_by_case: Mapping[str, tuple[Finding, ...]]  # none for a case without ledgers
    criteria: Criteria

    @cached_property
    def pumps_in_cases(self) -> tuple[PumpInCase, ...]:
        """Every pump that runs in every case that was judged, the worst first."""
        places = (
            PumpInCase(pump, name, pump_state(ledger, by_part.of(ledger), self.criteria), ledger)
            for name, case in self.cases.items()
            if case.solution is not None
            for by_part in (_ByPart(self.findings_by_case[name]),)
            for pump, ledger in case.solution.pumps.items()
        )
        return tuple(sorted(places, key=lambda place: place.order))

    def worst(self, pump: str | None = None, cases: Iterable[str] | None = None) -> PumpInCase | None:
        """The worst place, of one pump or of all, in some cases or in all; None where none was judged."""
        chosen = None if cases is None else set(cases)
        places = self.pumps_in_cases if pump is None else self._places_of.get(pump, ())
        return next((place for place in places if chosen is None or place.case in chosen), None)

    @cached_property
    def _places_of(self) -> Mapping[str, tuple[PumpInCase, ...]]:
        """Every pump's places, the worst first."""
        places: dict[str, list[PumpInCase]] = {}
        for place in self.pumps_in_cases:
            places.setdefault(place.pump, []).append(place)
        return {pump: tuple(each) for pump, each in places.items()}

    @property
    def not_judged(self) -> tuple[CaseSolution, ...]:
        """The cases that could not be judged."""
        return tuple(case for case in self.cases.values() if not case.judged)

    @property
    def lacks_coldest_start(self) -> bool:
        """Whether a fluid that thickens was judged at a single temperature, and no coldest start."""
        fluids = [case.solution.fluid for case in self.cases.values() if case.solution is not None]
        if SHORT_CASE in self.cases or len({fluid.temperature for fluid in fluids}) > 1:
            return False
        return any(fluid.viscosity > THINNEST_OIL for fluid in fluids)

    @property
    def colder_than_start(self) -> str | None:
        """The coldest case in which a fluid that thickens is colder than at what is called the coldest start.

        AS_DRAWN is one of them. None where there is none.
        """
        solved = {name: case.solution.fluid for name, case in self.cases.items() if case.solution is not None}
        if SHORT_CASE not in solved or not any(each.viscosity > THINNEST_OIL for each in solved.values()):
            return None
        coldest = min(solved, key=lambda name: solved[name].temperature)
        colder = solved[SHORT_CASE].temperature - solved[coldest].temperature > SAME_TEMPERATURE
        return coldest if colder else None

    @property
    def starts_not_counted(self) -> tuple[str, ...]:
        """The cases marked as lacking a start, in which a pump that runs still has none.

        Before a case had a mark for it, its name ended so.
        """
        return tuple(
            name
            for name, case in self.cases.items()
            if (self._is_marked(name) or name.endswith(f", {START_NOT_COUNTED}"))
            and case.solution is not None
            and any(case.solution.layout.pumps[pump].flow_rise is None for pump in case.solution.pumps)
        )

    def _is_marked(self, case: str) -> bool:
        held = self.layout.cases.get(case)
        return held is not None and held.lacks_start

    @property
    def sound(self) -> bool:
        """Whether no pump is over, and no column breaks, in any case that was judged."""
        return all(place.ledger.sound for place in self.pumps_in_cases)

    @cached_property
    def by_case_and_kind(self) -> Mapping[tuple[str, FindingId], tuple[Finding, ...]]:
        """What is found in each case, kind by kind: of thousands of pumps each asks for a few of them."""
        kept: dict[tuple[str, FindingId], list[Finding]] = {}
        for case, findings in self.findings_by_case.items():
            for finding in findings:
                kept.setdefault((case, finding.finding), []).append(finding)
        return {place: tuple(findings) for place, findings in kept.items()}

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is found in any case, each thing once with the cases that it holds in; the worst first.

        The figures of a finding are those of the case in which its pump stands worst.
        """
        return tuple(finding for finding, _ in self._findings)

    @cached_property
    def severities(self) -> tuple[Severity, ...]:
        """How grave each of these is, without their words, which take longest."""
        return tuple(sorted((finding.severity for finding, _, _ in self._merged), key=attrgetter("rank")))

    def parts_with(self, finding: FindingId) -> tuple[str, ...]:
        """The parts of which something is found, each once."""
        return tuple(dict.fromkeys([each.part for each, _, _ in self._merged if each.finding is finding]))

    def texts_of(self, severity: Severity, passed_over: Container[FindingId] = ()) -> tuple[str, ...]:
        """What `findings` say that are so grave, in their order; `passed_over`, findings left out."""
        return tuple(
            [
                self._text(finding, tuple(held), case)
                for finding, case, held in self._merged
                if finding.severity is severity and finding.finding not in passed_over
            ]
        )

    @cached_property
    def _findings(self) -> tuple[tuple[Finding, str], ...]:
        """Each finding with the case that its figures are those of."""
        every = ((self._in_cases(finding, held, case), case) for finding, case, held in self._merged)
        return tuple(sorted(every, key=lambda each: each[0].severity.rank))

    @cached_property
    def _merged(self) -> tuple[tuple[Finding, str, Mapping[str, Severity]], ...]:
        """Each thing that is found once, with the case of its figures, and how grave it is in every case."""
        order = dict.fromkeys([*(place.case for place in self.pumps_in_cases), *self.findings_by_case])
        kept: dict[tuple[FindingId, str, str], tuple[Finding, str]] = {}
        held: dict[tuple[FindingId, str, str], dict[str, Severity]] = {}
        for name in order:
            for finding in self.findings_by_case.get(name, ()):
                key = (finding.finding, finding.part, finding.key)
                held.setdefault(key, {})[name] = finding.severity
                if key not in kept or finding.severity.rank < kept[key][0].severity.rank:
                    kept[key] = finding, name
        names = list(self.cases)
        return tuple(
            [
                (finding, case, {name: held[key][name] for name in names if name in held[key]})
                for key, (finding, case) in kept.items()
            ]
        )

    def _in_cases(self, finding: Finding, severities: Mapping[str, Severity], case: str) -> Finding:
        """A finding with the cases that it holds in, by how grave it is there, and that of its figures."""
        held = tuple(severities)
        milder = tuple((each, name) for name, each in severities.items() if each != finding.severity)
        text = self._text(finding, held, case)
        return replace(finding, text=text, cases=held, figures_of=case, milder=milder)

    def _text(self, finding: Finding, held: tuple[str, ...], case: str) -> str:
        """What a finding says that holds in these cases, with its figures from one.

        A weather allowance that only some cases have is not lacking in the drawing: those without it begin
        the sentence.
        """
        text = finding.text
        if finding.finding is FindingId.NO_WEATHER_ALLOWANCE and (named := self._without_allowance(held)):
            where = (
                f" in the case {case_in_words(case)}"
                if text.endswith(MORE_THAN_IS_LEFT) and len(held) > 1
                else ""
            )
            return f"{named}: {text}{where}"
        return text

    def _without_allowance(self, held: tuple[str, ...]) -> str:
        """The cases without a weather allowance, of a drawing with one in some other; else ""."""
        others = [name for name in self.cases if name not in held]
        solved = ((name, self.cases[name].solution) for name in others)
        allowing = [name for name, each in solved if each is not None and is_allowed_for(each.layout.site)]
        if not allowing:
            return ""
        if allowing == others and len(others) < len(held):
            return f"{OF_CASES[0]}{', '.join(map(case_in_words, others))}"
        return f"{'cases' if len(held) > 1 else 'case'} {', '.join(map(case_in_words, held))}"

    @cached_property
    def elsewhere(self) -> list[tuple[Layout, Judgement | None]]:
        """The line under other conditions, with its judgement there, as far as that was asked for.

        None where it cannot be judged.
        """
        return []

    @cached_property
    def worded(self) -> Judgement:
        """The judgement, its findings with what to try as far as the figures of each ledger say it."""
        by_case = {name: self._worded(name, findings) for name, findings in self.findings_by_case.items()}
        return replace(self, findings_by_case=by_case)

    @cached_property
    def worded_findings(self) -> tuple[Finding, ...]:
        """`findings` with what to try, without a look at the cases that their figures are not of."""
        by_case = {
            case: iter(self._worded(case, [each for each, name in self._findings if name == case]))
            for case in {case for _, case in self._findings}
        }
        return tuple(next(by_case[case]) for _, case in self._findings)

    def _worded(self, case: str, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        solution = self.cases[case].solution
        if solution is None:
            return tuple(findings)
        when = f"in the case {case_in_words(case)}" if len(self.cases) > 1 else "here"
        return worded(solution, findings, self.criteria, self.layout.units, when)


def is_thin(ledger: PumpLedger, criteria: Criteria) -> bool:
    """Whether a pump that is within has little left: too small a share of its budget, or too few pascals."""
    share = ledger.budget > 0 and ledger.margin < criteria.thin_margin * ledger.budget
    return ledger.within and (share or ledger.margin < criteria.thin_pressure)


def pump_state(ledger: PumpLedger, findings: Iterable[Finding], criteria: Criteria) -> PumpState:
    """How a pump stands. `findings` are those of its case."""
    if ledger.breaks:
        return PumpState.BREAKS
    if not ledger.within:
        return PumpState.OVER
    if any(stops(ledger, finding) for finding in findings):
        return PumpState.UNFIT
    return PumpState.THIN if is_thin(ledger, criteria) else PumpState.WITHIN


def stops(ledger: PumpLedger, finding: Finding) -> bool:
    """Whether a finding keeps a pump from running that is within its budget."""
    return _may_stop(finding) and finding.part in _parts_of(ledger)


def _may_stop(finding: Finding) -> bool:
    return finding.severity == Severity.STOP and finding.finding not in OVER_BUDGET


def _parts_of(ledger: PumpLedger) -> set[str]:
    """The parts that a pump's inlet hangs on, and "" for the drawing."""
    entries = (*ledger.entries, *ledger.parallel_entries)
    return {"", ledger.pump, ledger.reservoir, *(entry.part for entry in entries)}


class _ByPart:
    """What may keep pumps of a case from running, by part: among thousands of pumps each looks at what is of
    its own line alone."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self._findings: dict[str, list[Finding]] = {}
        for finding in findings:
            if _may_stop(finding):
                self._findings.setdefault(finding.part, []).append(finding)

    def of(self, ledger: PumpLedger) -> Iterator[Finding]:
        """Those on which a pump's inlet hangs."""
        if not self._findings:
            return iter(())
        return (each for part in _parts_of(ledger) for each in self._findings.get(part, ()))


def judge(
    layout: Layout,
    level: Level = Level.MINIMUM,
    cache: RowCache | None = None,
    criteria: Criteria | None = None,
    system: System | None = None,
) -> Judgement:
    """Solve a drawing in every case, and look at every pump in each.

    Parameters as `ledger.cases.solve_cases` and `checks.check`. Errors as `solve_cases`.
    """
    return judged(layout, solve_cases(layout, level, cache), criteria, system)


def judged(
    layout: Layout,
    cases: Mapping[str, CaseSolution],
    criteria: Criteria | None = None,
    system: System | None = None,
) -> Judgement:
    """Look at every pump in the solved cases of a drawing. Parameters as `judge`."""
    held = criteria if criteria is not None else criteria_of(layout)
    seen = SharedFindings()
    findings = {
        name: check(case.solution, held, system, seen=seen)
        for name, case in cases.items()
        if case.solution is not None
    }
    return Judgement(layout, cases, findings, held)


def alone(solution: Solution, findings: Iterable[Finding], case: str = AS_DRAWN) -> Judgement:
    """The judgement by one case alone. `findings` are those of its solution."""
    layout, cases = solution.layout, {case: CaseSolution(case, solution=solution)}
    return Judgement(layout, cases, {case: tuple(findings)}, criteria_of(layout))
