"""What a gauge would show with a cause in each of its sizes.

What nobody has measured (viscosity within its grade, K of fittings, roughness, level, temperature, the pump's
flow) varies normally about the drawing and is carried through by its slopes. Of an open bypass without its
maker's point a budget takes the unfavourable drop; here that is one end of what it may take, and its opening
pressure the other. All sizes and slopes of a cause in one state are one solve, as columns.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.answers import inputs
from solver.field import places
from solver.field.causes import Cause, CauseKind, thicker, unseen, with_flow, with_scaled_rows
from solver.field.states import Reading
from solver.formulas.flow import GRAVITY
from solver.ledger.solve import balances, solve_network
from solver.network.build import Network, build
from solver.network.build import columns as build_columns
from solver.network.ways import Rows
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer

Floats = NDArray[np.float64]

VISCOSITY, RESISTANCE, ROUGHNESS, FLOW = 0.06, 0.12, 0.30, 0.03
"""Standard deviations of what is the same in all readings, as shares; common practice, no source."""

LEVEL = 0.015
"""Standard deviation of a level that was noted [m]; common practice, no source."""


TUBE_MOVES = 0.1
"""Share of what the tube of a gauge may add, unknown, that may differ from one reading of it to another: air
that is caught in it takes more room in a deeper vacuum; common practice, no source."""


class _Step(NamedTuple):
    """By how much a variant differs from the drawing: factors, what it is colder [K], its open bypass."""

    viscosity: float = 1.0
    resistance: float = 1.0
    roughness: float = 1.0
    flow: float = 1.0
    colder: float = 0.0
    held: float = 0.0  # 1: a bypass of which no point is known takes no more than its opening pressure


def _steps(reading: Reading) -> tuple[_Step, ...]:
    """The drawing itself, what moves all readings alike, and the reading's own temperature."""
    return (
        _Step(),
        _Step(viscosity=1.0 + VISCOSITY),
        _Step(resistance=1.0 + RESISTANCE),
        _Step(roughness=1.0 + ROUGHNESS),
        _Step(flow=1.0 + FLOW),
        _Step(colder=reading.temperature),
    )


SHARED = slice(1, 5)
"""Of `_steps`, those that move all readings alike."""

OWN = 5

HELD = 6
"""The step with an open bypass held at its opening pressure, where one has no maker's point."""

NOT_SOLVED = 8e3
"""Standard deviation of what cannot be solved in a state that may have been the machine's [Pa]; common
practice, no source."""

VISCOUS = 1

TINY = 1e-9

NO_LOSS = 10.0
"""Vacuum that is lost up to a place, below which no share of it is worked out [Pa]."""

SIZES_OF_PARALLEL = 6
"""Sizes of a cause that are solved where lines run in parallel and each is a search of its own."""


class ReadingNetworks:
    """Readings with their networks, built once for all causes; those of one state are solved at once."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self.readings = tuple(readings)
        self.networks = tuple(map(_begun, self.readings))
        self._rest: dict[int, Floats] = {}
        self._slopes: dict[int, Floats] = {}
        self._last: tuple[Cause, dict[int, Floats]] | None = None
        self.holds_bypass = any(map(_has_unknown_bypass, self.networks))
        self.steps = tuple(self._steps(i) for i in range(len(self.readings)))

    @cached_property
    def states(self) -> tuple[tuple[int, ...], ...]:
        """The readings with the pump running by the state that they were made in, by their numbers."""
        states: list[list[int]] = []
        for number, reading in enumerate(self.readings):
            if not reading.resting:
                alike = (state for state in states if self._is_alike(state[0], number))
                state = next(alike, None)
                states.append([number]) if state is None else state.append(number)
        return tuple(map(tuple, states))

    def _is_alike(self, one: int, other: int) -> bool:
        first, second = self.readings[one], self.readings[other]
        return (first.layout, first.level, self.steps[one]) == (
            second.layout,
            second.level,
            self.steps[other],
        )

    @cached_property
    def state_deviations(self) -> Floats:
        """What level and what was not noted may move each reading by [Pa], taken with nothing wrong."""
        return np.array([self._own(i) for i in range(len(self.readings))])

    def _own(self, number: int) -> float:
        reading = self.readings[number]
        ledger = solve_network(self.networks[number], reading.level).pumps[reading.place.pump]
        moved = [doubt.deviation for doubt in reading.doubts if not doubt.of_gauge]
        moved.append(TUBE_MOVES * reading.of_gauge)
        for doubt in reading.doubts:
            if doubt.layout is not None:
                try:
                    other = at(build(doubt.layout), reading) - at(self.networks[number], reading)
                except ValueError:
                    other = NOT_SOLVED
                moved.append(other)
        moved += [0.0 if self._solves(number, self.steps[number][OWN]) else NOT_SOLVED]
        return math.hypot(ledger.density * GRAVITY * LEVEL, *moved)

    def _solves(self, number: int, step: _Step) -> bool:
        reading = self.readings[number]
        try:
            at(_stepped(self.networks[number], step, reading), reading)
        except ValueError:
            return False
        return True

    def _steps(self, number: int) -> tuple[_Step, ...]:
        """Steps of one reading: colder, or warmer where the fluid's figures do not reach so far."""
        colder = _steps(self.readings[number])
        held = (_Step(held=1.0),) if self.holds_bypass else ()
        if self._solves(number, colder[OWN]):
            return (*colder, *held)
        return (*colder[:OWN], _Step(colder=-colder[OWN].colder), *held)

    @cached_property
    def gauges(self) -> Floats:
        """Covariance of the readings from their gauges alone [Pa²]."""
        count = len(self.readings)
        covariance = np.zeros((count, count))
        for i, reading in enumerate(self.readings):
            covariance[i, i] += reading.gauge.scatter**2
            for j, other in enumerate(self.readings):
                if other.gauge.name == reading.gauge.name:
                    covariance[i, j] += reading.gauge.bias * other.gauge.bias
        return covariance

    @cached_property
    def mountings(self) -> Floats:
        """Covariance of the readings from how their gauges are fitted, where that was not noted [Pa²]."""
        moved = np.array([reading.of_gauge for reading in self.readings])
        alike = [[one.shares_gauge(other) for other in self.readings] for one in self.readings]
        return np.asarray(np.outer(moved, moved) * np.array(alike))

    def predicted(self, cause: Cause, number: int) -> Floats:
        """Vacuum at one reading [(steps, sizes), Pa]; nan where the machine would not run so.

        Where lines run in parallel each variant is a search of its own: fewer sizes are solved, and the
        others lie on straight lines between them. What is not known moves them as it moves the drawing, by
        as much more as they lose more; what viscosity does to that is solved once for each cause.
        """
        reading = self.readings[number]
        offsets = np.array([cause.offset(size, reading) for size in cause.sizes])
        if reading.resting:
            return np.asarray(self._at_rest(number)[:, None] + offsets)
        if self._last is None or self._last[0] is not cause:
            self._last = (cause, {})
        shown = self._last[1]
        if number not in shown:
            state = next(state for state in self.states if number in state)
            shown.update(zip(state, self._of_state(cause, state), strict=True))
        return np.asarray(shown[number] + offsets)

    def _of_state(self, cause: Cause, state: tuple[int, ...]) -> Floats:
        """Vacuum at the readings of one state [(readings, steps, sizes), Pa]."""
        count, steps = len(cause.sizes), len(self.steps[state[0]])
        if not self.networks[state[0]].closures:
            variants = [(step, i) for step in range(steps) for i in range(count)]
            solved = self._solved(cause, state, variants)
            return solved.T.reshape(len(state), steps, count)
        picked = _picked(count, SIZES_OF_PARALLEL)
        middle = picked[len(picked) // 2]
        base = self._solved(cause, state, [*((0, i) for i in picked), (VISCOUS, middle)])
        shown = np.empty((len(state), steps, count))
        for at, number in enumerate(state):
            full = np.interp(np.arange(count), picked, base[:-1, at])
            drawn, rest = self._slopes_of_drawing(state)[at], self._at_rest(number)[0]
            slopes, lost = drawn - drawn[0], drawn[0] - rest
            more = (full - rest) / lost if abs(lost) > NO_LOSS else np.ones(count)
            shown[at] = full + slopes[:, None] * more
            bend = (base[-1, at] - full[middle]) / (slopes[VISCOUS] * more[middle])
            if np.isfinite(bend) and abs(lost) > NO_LOSS:
                turned = np.interp(np.abs(more - 1.0), (0.0, abs(more[middle] - 1.0) + TINY), (1.0, bend))
                shown[at, VISCOUS] = full + slopes[VISCOUS] * more * turned
        if self.holds_bypass:
            held = self._solved(cause, state, [(HELD, i) for i in picked])
            shown[:, HELD] = [np.interp(np.arange(count), picked, each) for each in held.T]
        return shown

    def _slopes_of_drawing(self, state: tuple[int, ...]) -> Floats:
        """Vacuum in every step with nothing wrong [(readings, steps), Pa]."""
        if state[0] not in self._slopes:
            nothing = unseen(CauseKind.NOTHING, "", "")
            steps = len(self.steps[state[0]])
            solved = self._solved(nothing, state, [(step, 0) for step in range(steps)])
            drawn = solved.T
            self._slopes[state[0]] = np.where(np.isnan(drawn), drawn[:, :1], drawn)
        return self._slopes[state[0]]

    def _solved(self, cause: Cause, state: tuple[int, ...], variants: Sequence[tuple[int, int]]) -> Floats:
        """Vacuum of each variant at the readings of one state [(variants, readings), Pa].

        variants: pairs of a step and a size, by their numbers.
        """
        network, steps = self.networks[state[0]], self.steps[state[0]]
        readings = [self.readings[number] for number in state]

        def vacuum(chosen: NDArray[np.intp]) -> Floats:
            pairs = [variants[k] for k in chosen]
            step = _Step(*(_figure([steps[s][field] for s, _ in pairs]) for field in range(len(_Step()))))
            size = _figure([cause.sizes[i] for _, i in pairs])
            changed = _with_rows_stepped(cause.change(_stepped(network, step, readings[0]), size), step)
            if len(changed.rows) == len(network.rows):
                changed = replace(changed, begun=network.begun)
            shown = [np.broadcast_to(each, chosen.shape) for each in _vacuums(changed, readings)]
            return np.stack(shown, axis=1)

        every = np.arange(len(variants))
        if network.closures:  # no two of them go the same way
            return np.concatenate([_in_groups(vacuum, each, len(state)) for each in every[:, None]])
        return _in_groups(vacuum, every, len(state))

    def _at_rest(self, number: int) -> Floats:
        """Vacuum at the place of a reading at rest in every step [Pa]: of the fluid density alone matters."""
        if number not in self._rest:
            reading, network = replace(self.readings[number], resting=True), self.networks[number]
            steps = self.steps[number]
            drawn, colder = (at(_stepped(network, steps[i], reading), reading) for i in (0, OWN))
            self._rest[number] = np.array([colder if i == OWN else drawn for i in range(len(steps))])
        return self._rest[number]


def _begun(reading: Reading) -> Network:
    """The network of a reading; with its flows where lines run in parallel, for a search to begin with."""
    network = build(reading.layout)
    if not network.closures:
        return network
    return replace(network, begun=solve_network(network, reading.level).flows)


def _picked(count: int, most: int) -> NDArray[np.intp]:
    """Numbers of so many things at most, evenly from the first to the last."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).round().astype(np.intp))


def at(network: Network, reading: Reading) -> float:
    """Vacuum at the place of a reading [Pa]. Raises as `solve_network`, and NoPlaceError."""
    if reading.resting:
        return places.at_rest(solve_network(network, reading.level), reading.place)
    return _vacuums(network, (reading,))[0]


def _vacuums(network: Network, readings: Sequence[Reading]) -> list[float]:
    """Vacuum at the places of readings of one state with the pump running [Pa]. Raises as `at`."""
    level, pump = readings[0].level, readings[0].place.pump
    if any(reading.place.run for reading in readings):
        solution = solve_network(network, level)
        return [places.vacuum(solution, reading.place) for reading in readings]
    return [balances(network, level, pump)[pump].vacuum] * len(readings)


def _figure(values: Sequence[float] | Floats) -> float:
    """One figure for some variants: a column unless all are the same."""
    array = np.asarray(values, dtype=np.float64)
    same = bool((array == array[0]).all())
    return float(array[0]) if same else columns.column(array.copy())


def _stepped(network: Network, step: _Step, reading: Reading) -> Network:
    layout = network.layout
    if columns.is_column(step.colder) or step.colder:
        degrees = layout.fluid.temperature.si - step.colder
        layout = inputs.temperature(layout, ("",), degrees, reading.level)
        network = replace(network, layout=layout)
    if columns.is_column(step.viscosity) or step.viscosity != 1.0:
        network = replace(network, layout=thicker(network.layout, step.viscosity))
    if columns.is_column(step.flow) or step.flow != 1.0:
        network = with_flow(network, network.layout.pumps, step.flow)
    return network


def _with_rows_stepped(network: Network, step: _Step) -> Network:
    names = {row.part for row in network.rows}
    more = dict.fromkeys(("k_inf", "k_slow", "k_inf_back", "k_slow_back"), step.resistance)
    scaled = with_scaled_rows(network, names, roughness=step.roughness, **more)
    return _with_bypass_held(scaled, step.held) if columns.is_column(step.held) or step.held else scaled


def _has_unknown_bypass(network: Network) -> bool:
    """Whether a screen has a bypass of which nothing but its opening pressure is known."""
    return any(math.isfinite(row.cap) and row.bypass_viscous is None for row in network.rows)


def _with_bypass_held(network: Network, held: float) -> Network:
    """A network in which, where `held` is 1, a bypass without a point takes its opening pressure alone."""
    added = _figure(np.where(np.asarray(held) > 0.0, 0.0, math.nan)) if columns.is_column(held) else 0.0
    rows = [
        replace(row, bypass_viscous=added) if math.isfinite(row.cap) and row.bypass_viscous is None else row
        for row in network.rows
    ]
    return replace(network, rows=Rows(rows), columns=build_columns(rows))


def _in_groups(
    vacuum: Callable[[NDArray[np.intp]], Floats], variants: NDArray[np.intp], places_read: int
) -> Floats:
    """Vacuum of every variant: in one solve, or in groups where they do not go the same way."""
    try:
        return np.array(vacuum(variants))
    except VariantsDiffer as differing:
        groups = [variants[differing.groups == group] for group in np.unique(differing.groups)]
        order = np.concatenate([np.flatnonzero(differing.groups == g) for g in np.unique(differing.groups)])
    except ValueError:
        if len(variants) == 1:
            return np.full((1, places_read), math.nan)
        middle = len(variants) // 2
        groups, order = [variants[:middle], variants[middle:]], np.arange(len(variants))
    out = np.empty((len(variants), places_read))
    out[order] = np.concatenate([_in_groups(vacuum, group, places_read) for group in groups])
    return out
