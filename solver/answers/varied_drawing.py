"""A drawing with one figure varied, solved in a pump's cases: by balances while a place is looked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any

from solver.answers.objections import findings_above_note
from solver.answers.reasons import Solutions, balance_to_spare, decisive, to_spare
from solver.answers.variations import Variation
from solver.findings.criteria import Finding
from solver.geometry.reservoirs import reservoir_problems
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.parts import SHORT_CASE, Case, Intake, Layout, Level, Pump
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.solve import PumpLedger, balances, solve_network
from solver.network import build
from solver.network.build import Network, NetworkError
from solver.network.row_cache import RowCache

PumpFigures = dict[tuple[str, ...], Any]

OF_A_START = ("limit", "speed", "flow")
"""Figures of a pump that say how it is started, or run, at a temperature: they go where that goes."""


class VariedDrawing:
    """What a pump has left at any value of the thing that is varied, and the drawing solved whole there.

    Every method raises ValueError where the drawing with that value cannot be solved in every case.
    """

    def __init__(
        self,
        drawn: Network,
        change: Callable[[float], Layout],
        pump: str,
        level: Level,
        cases: Iterable[str],
        cache: RowCache,
    ) -> None:
        """drawn: without the change; change: the drawing with a value."""
        self._change, self.pump, self._level = change, pump, level
        self._cases, self._cache = tuple(cases), cache
        self._built = drawn
        self._networks: dict[float, Network] = {}
        self._solved: dict[float, Solutions] = {}
        self._least: dict[float, float] = {}
        self._decides: dict[float, str] = {}

    def keep(self, value: float, solutions: Solutions) -> None:
        """What is known to come out at a value."""
        self._solved[value] = solutions
        self._decides[value] = decisive(solutions, self.pump)
        self._least[value] = to_spare(solutions[self._decides[value]], self.pump)

    def solutions(self, value: float) -> Solutions:
        """The ledgers of every case at a value."""
        if value not in self._solved:
            network = self._network_at(value)
            solved = {case: solve_network(self._in_case(network, case), self._level) for case in self._cases}
            self.keep(value, solved)
        return self._solved[value]

    def deciding(self, value: float) -> PumpLedger:
        """The ledger of the case that leaves least."""
        return self.solutions(value)[self._decides[value]].pumps[self.pump]

    def least(self, value: float) -> float:
        """The least that is left in any case [Pa]."""
        self.solutions(value)  # nearly as cheap as sums alone, and an answer asks for them
        return self._least[value]

    def of_deciding(self, value: float) -> Callable[[float], float]:
        """What is left, at any value, in the case that leaves least at this one [Pa]."""
        self.least(value)
        case = self._decides[value]
        return lambda other: self._left(self._network_at(other), case)

    def least_of(self, layout: Layout) -> float:
        """The least that a drawing leaves in any case [Pa]."""
        network = self._network(layout)
        return min(self._left(network, case) for case in self._cases)

    def _left(self, network: Network, case: str) -> float:
        solved = balances(self._in_case(network, case), self._level, self.pump)
        return balance_to_spare(solved[self.pump])

    def _in_case(self, network: Network, case: str) -> Network:
        layout = network.layout
        return build.rebuilt(network, layout_in_case(layout, case, cases_of(layout)[case]), self._cache)

    def _network_at(self, value: float) -> Network:
        if value not in self._networks:
            self._networks[value] = self._network(self._change(value))
        return self._networks[value]

    def _network(self, layout: Layout) -> Network:
        """The network of a drawing; made again only where its line is another."""
        drawn = self._built.layout
        if not _same_line(drawn, layout):
            return build.build(layout, self._cache)
        if layout.reservoirs is not drawn.reservoirs and (problems := reservoir_problems(layout)):
            raise NetworkError(tuple(problems))
        return build.rebuilt(self._built, layout, self._cache)


def _same_line(one: Layout, two: Layout) -> bool:
    """Whether nothing but figures of single parts differs between two drawings."""
    if one.runs is not two.runs or one.tees is not two.tees:
        return False
    if one.fittings is not two.fittings and one.fittings.keys() != two.fittings.keys():
        return False
    joints: list[tuple[Intake | Pump, Intake | Pump]] = [
        *((each, two.pumps[name]) for name, each in one.pumps.items()),
        *((each, two.intakes[name]) for name, each in one.intakes.items()),
    ]
    return all(a is b or (a.at, a.bore, a.size) == (b.at, b.bore, b.size) for a, b in joints)


class PresentDrawing:
    """A drawing as it stands and one pump of it, solved once for all questions."""

    def __init__(
        self, layout: Layout, pump: str, level: Level, rows: RowCache, known: Solutions | None = None
    ) -> None:
        """Raises KeyError for a pump that is not drawn, NetworkError where it is judged in no case."""
        self.layout, self.pump, self.level, self.rows = layout, pump, level, rows
        self.missing: tuple[str, ...] = ()  # cases that cannot be judged
        if known:
            self.present = known
            return
        if pump not in layout.pumps:
            raise KeyError(pump)
        cases = solve_cases(layout, level, rows)
        self.present = _running(cases, pump)
        self.missing = tuple(name for name, case in cases.items() if case.error is not None)

    @cached_property
    def as_at_the_coldest(self) -> PresentDrawing:
        """With its own temperature in every case, and its pumps as in the coldest; without cases that then
        differ in nothing."""
        return self._of_one_temperature(self.coldest)

    @cached_property
    def as_at_the_hottest(self) -> PresentDrawing:
        """With its own temperature in every case, and its pumps as in the hottest."""
        return self._of_one_temperature(self.hottest)

    @cached_property
    def coldest(self) -> tuple[str, ...]:
        """The cases with the coldest fluid of all."""
        return _with_extreme_fluid(self.present, min)

    @cached_property
    def hottest(self) -> tuple[str, ...]:
        """The cases with the hottest fluid of all."""
        return _with_extreme_fluid(self.present, max)

    def pump_figures(self, cases: Iterable[str]) -> PumpFigures:
        """What some cases have of how pumps run and what they are allowed, alike in all of them."""
        every = [cases_of(self.layout)[name].figures.items() for name in cases]
        return {
            path: value
            for path, value in every[0]
            if path[0] == "pumps" and path[2] in OF_A_START and all((path, value) in each for each in every)
        }

    def _of_one_temperature(self, extreme: tuple[str, ...]) -> PresentDrawing:
        layout = _of_one_temperature(self.layout, self.pump_figures(extreme))
        return PresentDrawing(layout, self.pump, self.level, self.rows)

    @cached_property
    def network(self) -> Network:
        """The network of the drawing as it stands."""
        return build.build(self.layout, self.rows)

    @cached_property
    def findings_above_note(self) -> tuple[Finding, ...]:
        """What is found of the drawing as it stands, but notes."""
        return tuple(findings_above_note(self.present, self.pump))

    def varied(self, variation: Variation) -> VariedDrawing:
        """The drawing at other values of one thing, in the cases that are judged now."""
        pump, level, cases = self.pump, self.level, tuple(self.present)
        varied = VariedDrawing(self.network, variation.change, pump, level, cases, self.rows)
        if not variation.alters:
            varied.keep(variation.now, self.present)
        return varied


def _running(cases: Mapping[str, CaseSolution], pump: str) -> Solutions:
    """The cases of a drawing in which a pump runs.

    Raises NetworkError where it runs in none.
    """
    solutions = {
        name: case.solution
        for name, case in cases.items()
        if case.solution is not None and pump in case.solution.pumps
    }
    if not solutions:
        raise NetworkError(((pump, "it is judged in no case"),))
    return solutions


def _with_extreme_fluid(solutions: Solutions, extreme: Callable[[Iterable[float]], float]) -> tuple[str, ...]:
    temperatures = {name: solution.fluid.temperature for name, solution in solutions.items()}
    most = extreme(temperatures.values())
    return tuple(name for name, temperature in temperatures.items() if temperature == most)


def _of_one_temperature(layout: Layout, pump_figures: PumpFigures) -> Layout:
    """The drawing with its own temperature in every case, and figures of its pumps."""

    def differs(path: tuple[str, ...], value: Any) -> bool:
        return path != ("fluid", "temperature") and (path, value) not in pump_figures.items()

    own = {
        name: replace(case, figures={path: v for path, v in case.figures.items() if differs(path, v)})
        for name, case in layout.cases.items()
    }
    cases = {name: case for name, case in own.items() if case.figures or case.problems}
    laid = layout_in_case(layout, SHORT_CASE, Case(figures=pump_figures))
    return replace(laid, fluid=replace(layout.fluid, coldest_start=None), cases=cases)
