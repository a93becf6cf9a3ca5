"""The public face: a drawing goes in; ledgers, findings, answers and sweeps come out as figures with units.

Figures are floats in SI that also know their unit: `ledger.margin` is in pascal, `ledger.margin.to("inHg")` a
quantity of the units library.
"""

from __future__ import annotations

import html
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from solver.answers.inputs import INPUTS
from solver.findings.checks import Finding
from solver.layout.cases import AS_DRAWN
from solver.layout.file import Drawing
from solver.layout.parts import Layout, Level
from solver.ledger import path, sentences
from solver.ledger import solve as solving
from solver.quantities import units
from solver.quantities.units import System

if TYPE_CHECKING:
    from solver.answers.answer import Answer

__all__ = ["Entry", "Figure", "Ledger", "Solution", "ask", "check", "solve", "sweep"]

SWEPT = {
    "inlet": "Pa",
    "margin": "Pa",
    "spent": "Pa",
    "budget": "Pa",
    "floor": "Pa",
    "surface": "Pa",
    "vacuum": "Pa",
    "allowed_vacuum": "Pa",
    "lowest": "Pa",
    "npsh_available": "m",
    "npsh_required": "m",
    "flow": "m^3/s",
}
"""What a sweep says of every pump, with its unit."""


class Figure(float):
    """A float in SI with its unit.

    >>> Figure(3386.389, "Pa").to("inHg").magnitude.__round__(3)
    1.0
    """

    unit: str
    __slots__ = ("unit",)

    def __new__(cls, value: float, unit: str = "") -> Figure:
        figure = super().__new__(cls, value)
        figure.unit = unit
        return figure

    @property
    def quantity(self) -> Any:
        """The figure as a pint quantity in its SI unit."""
        return units.pint_quantity(float(self), self.unit)

    def to(self, unit: str) -> Any:
        """The figure as a pint quantity in a unit. Raises pint's DimensionalityError for another kind."""
        return self.quantity.to(unit)


def _figure(value: float | None, unit: str) -> Figure | None:
    return None if value is None or math.isnan(value) else Figure(value, unit)


class Entry:
    """What one element takes out of the budget. Pressures in Pa, absolute unless named otherwise."""

    def __init__(self, entry: path.Entry) -> None:
        self.part: str = entry.part
        self.element: str = entry.element
        self.kind: str = str(entry.kind)
        self.flow = Figure(entry.flow, "m^3/s")
        self.bore = _figure(entry.bore or None, "m")
        self.length = Figure(entry.length, "m")
        self.velocity = Figure(entry.velocity, "m/s")
        self.reynolds = _figure(entry.reynolds, "")
        self.lift = Figure(entry.lift, "Pa")
        self.loss = Figure(entry.loss, "Pa")
        self.share = _figure(entry.share, "")
        self.pressure = None if entry.kind == path.HeadEntryKind.FLOODED else Figure(entry.pressure, "Pa")

    def __repr__(self) -> str:
        return f"Entry({self.part}/{self.element}: lift {self.lift:.0f} Pa, loss {self.loss:.0f} Pa)"


class Ledger:
    """One pump's inlet budget and what spends it. Pressures in Pa, absolute unless named otherwise.

    >>> ledger = solve("layouts/carriage-at-altitude.toml").pumps["carriage"]
    >>> ledger.within
    False
    >>> f"{ledger.margin.to('inHg').magnitude:.1f}"
    '-0.9'
    """

    def __init__(self, ledger: solving.PumpLedger, system: System) -> None:
        self.pump: str = ledger.pump
        self.flow = Figure(ledger.flow, "m^3/s")
        self.atmosphere = Figure(ledger.atmosphere, "Pa")
        self.surface = Figure(ledger.surface, "Pa")
        self.floor = Figure(ledger.floor, "Pa")
        self.budget = Figure(ledger.budget, "Pa")
        self.spent = Figure(ledger.spent, "Pa")
        self.margin = Figure(ledger.margin, "Pa")
        self.inlet = Figure(ledger.inlet, "Pa")
        self.vacuum = Figure(ledger.vacuum, "Pa")
        self.allowed_vacuum = Figure(ledger.allowed_vacuum, "Pa")
        self.npsh_available = _figure(ledger.npsh_available, "m")
        self.npsh_required = _figure(ledger.npsh_required, "m")
        self.lowest = Figure(ledger.lowest, "Pa")
        self.lowest_at: str = ledger.lowest_at
        self.within: bool = ledger.within
        self.limit_estimated: bool = ledger.limit_estimated
        self.verdict: str = sentences.verdict(ledger, system)
        self.entries: tuple[Entry, ...] = tuple(map(Entry, ledger.entries))

    def __repr__(self) -> str:
        return f"Ledger({self.pump}: {self.verdict})"


@dataclass(frozen=True)
class Solution:
    """A drawing solved at one fluid level; a notebook shows its ledgers as tables."""

    solved: solving.Solution

    @property
    def layout(self) -> Layout:
        """The drawing that was solved."""
        return self.solved.layout

    @property
    def level(self) -> str:
        """The fluid level it was solved at."""
        return str(self.solved.level)

    @cached_property
    def pumps(self) -> Mapping[str, Ledger]:
        """The ledger of every pump, by name."""
        system = self.layout.units
        return {name: Ledger(ledger, system) for name, ledger in self.solved.pumps.items()}

    def __repr__(self) -> str:
        ledgers = ", ".join(map(repr, self.pumps.values()))
        return f"Solution({self.layout.title!r}, {self.level} level, {ledgers})"

    def _repr_html_(self) -> str:
        return "".join(_ledger_page(ledger, self.layout.units) for ledger in self.pumps.values())


def _ledger_page(ledger: Ledger, system: System) -> str:
    kind = units.Kind.VACUUM
    heads = ("part", "element", "lift", "loss", "share")
    rows = "".join(f"<tr>{''.join(_cells(entry, system))}</tr>" for entry in ledger.entries)
    margin = html.escape(units.typeset(ledger.margin, kind, system))
    return (
        f"<p><b>{html.escape(ledger.pump)}</b>: {html.escape(ledger.verdict)}</p><table><tr>"
        f"{''.join(f'<th>{head}</th>' for head in heads)}</tr>{rows}</table><p>margin: {margin}</p>"
    )


def _cells(entry: Entry, system: System) -> Iterator[str]:
    kind = units.Kind.VACUUM
    share = "" if entry.share is None else f"{entry.share:.0%}"
    pressures = (units.typeset(pressure, kind, system) for pressure in (entry.lift, entry.loss))
    for text in (entry.part, entry.element, *pressures, share):
        yield f"<td>{html.escape(text)}</td>"


def _layout(drawing: Drawing | Layout | str) -> Layout:
    if isinstance(drawing, str):
        from solver.layout.file import read

        drawing = read(drawing)
    return drawing.base if isinstance(drawing, Drawing) else drawing


def solve(drawing: Drawing | Layout | str, level: str = "minimum") -> Solution:
    """Solve a drawing as drawn; its cases are not solved.

    drawing: as read, one of its layouts (`drawing.alternatives[name].layout`), or the path of a file.
    level: "minimum", "normal" or "drawn down"; ValueError for another.
    Raises LayoutErrors for a file that is no drawing, NetworkError where there is no line to calculate,
    FluidError outside the fluid's figures.

    >>> solve("layouts/baler-flooded.toml").pumps["baler"].within
    True
    """
    return Solution(solving.solve(_layout(drawing), Level(level)))


def check(solution: Solution) -> tuple[Finding, ...]:
    """What is wrong or doubtful in a solved drawing, the worst first.

    >>> [finding.severity for finding in check(solve("layouts/carriage-at-altitude.toml"))][0]
    <Severity.STOP: 'stop'>
    """
    from solver.findings import checks, judgement
    from solver.fixes import remedies

    solved = solution.solved
    alone = judgement.alone(solved, checks.check(solved))
    return remedies.with_remedies(alone, solved.level).findings_by_case[AS_DRAWN]


def ask(solution: Solution, pump: str | None = None) -> Mapping[str, tuple[Answer, ...]]:
    """How far each thing may go before the margin is spent, by pump.

    pump: only this one. Raises KeyError for a pump that is not in the drawing.

    >>> answers = ask(solve("layouts/baler-flooded.toml"))["baler"]
    >>> print(answers[0].question, answers[0].status, sep=": ")
    highest port: found
    """
    from solver.answers.ask import ask_all

    names = tuple(solution.pumps) if pump is None else (solution.pumps[pump].pump,)
    return {name: ask_all(solution.layout, name, solution.solved.level) for name in names}


def sweep(
    drawing: Drawing | Layout | str,
    inputs: Mapping[str, ArrayLike | Sequence[str]],
    level: str = "minimum",
    *,
    grid: bool = False,
) -> dict[str, NDArray[np.float64]]:
    """Solve a drawing as drawn, its cases not, for very many variants of its figures.

    inputs: by name ("port height", "temperature", "blocked", ...), or "name of part" for one part alone;
    figures in SI, or texts with a unit. They broadcast together; with `grid` every combination is solved.
    Returns columns of one length, in SI, that go into a table library as they are: the inputs, then
    "pump: figure [unit]". A variant that cannot be calculated is nan throughout.
    Raises SweepError for an input that the drawing does not have, or that is out of its range.

    >>> columns = sweep("layouts/baler-flooded.toml", {"temperature": ["20 degC", "60 degC"]})
    >>> columns["baler: margin [Pa]"].shape
    (2,)
    """
    from solver.answers import sweep as sweeping

    keys = {name: _sweep_key(name) for name in inputs}
    axes: dict[sweeping.Key, ArrayLike] = {key: _column(key, inputs[name]) for name, key in keys.items()}
    chosen = sweeping.grid(axes) if grid else axes
    swept = sweeping.solve(_layout(drawing), chosen, Level(level), skip=True)
    assert isinstance(swept, sweeping.Sweep)  # only a progress report that says no can cancel one
    columns = {f"{name} [{_unit(key)}]": _flat(chosen[key], swept.shape) for name, key in keys.items()}
    for pump, figures in swept.pumps.items():
        for field, unit in SWEPT.items():
            columns[f"{pump}: {field} [{unit}]"] = _flat(getattr(figures, field), swept.shape)
    return columns


def _sweep_key(name: str) -> str | tuple[str, str]:
    varied, of, part = name.partition(" of ")
    return (varied, part) if of and varied in INPUTS else name


def _input(key: str | tuple[str, str]) -> str:
    return key if isinstance(key, str) else key[0]


def _unit(key: str | tuple[str, str]) -> str:
    return INPUTS[_input(key)].unit or "1"


def _column(key: str | tuple[str, str], values: Any) -> Any:
    texts = [values] if isinstance(values, str) else values
    if _input(key) in INPUTS and any(isinstance(text, str) for text in texts):
        kind = INPUTS[_input(key)].kind
        return np.array([units.quantity(text, kind).si for text in texts])
    return values


def _flat(values: Any, shape: tuple[int, ...]) -> NDArray[np.float64]:
    return np.broadcast_to(np.asarray(values, dtype=np.float64), shape).ravel()
