"""How flow splits between lines that run in parallel.

Newton on the pressures of the junctions and the flows of the lines between them at once: the global gradient
algorithm of Todini and Pilati (1988), with the same loss and slope of every row as anywhere else. Reservoir
surfaces hold their pressure, pumps take in their flow. Pressures are total ones, ρ g z included, so that a
rise costs nothing on the way round a loop.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.network import losses, tees
from solver.network.build import Floats, Network, NetworkError
from solver.properties.fluid import FluidState

Ints = NDArray[np.intp]

TOLERANCE = 1e-10
"""Largest change of any flow in the last pass, as a share of the largest flow."""

ENOUGH = 1e-9
"""Largest change that still counts as settled where rounding keeps it from getting smaller."""

MOST_PASSES = 60

MOST_CAUTION = 8
"""Passes with a cautious slope before the true ones are tried again."""

DEGREES = 10
"""Steps from a network without losses in its tees to the whole."""

MOST_CUTS = 40
"""Places along a move that are tried for how much of it to make."""

NEARLY = 0.05
"""Change below which the flows are near enough for the slopes of the tees to be trusted."""

DENSE = 200
"""Up to so many unknowns a dense solve is quicker than the set-up of a sparse one."""

STILL = 1e-9
"""Flows below this are rest [m³/s]."""

FIRST_SPEED = 0.5
"""Where the search starts in every line [m/s]."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Rows in series taken together: the lines between junctions.

    Junctions whose pressure is sought come first, then those where it is held.
    """

    start: Ints
    end: Ints
    line_of: Ints  # the line of each row
    sign: Floats  # +1 where the row points along its line, -1 where against it
    demand: Floats  # what each sought junction takes out [m³/s]
    held: Floats  # pressure of the others [Pa]
    first: Floats  # flow to begin with [m³/s]


@dataclass(frozen=True, slots=True)
class BalancedFlows:
    """The flows that balance parallel lines, and how near they come."""

    flows: Floats  # of each row [m³/s]
    passes: int
    residual: float  # largest change of a flow in the last pass, as a share of the largest flow


def balance(
    network: Network, fluid: FluidState, demands: Mapping[str, float], surfaces: Mapping[str, float]
) -> BalancedFlows:
    """The flow of every row.

    demands: what the pumps' nodes take in [m³/s]; surfaces: total pressure on the reservoirs' nodes [Pa].
    Raises NetworkError with the part that moves most, where the flows do not settle to 1e-9.
    """
    search = _Search(network, fluid, _lines(network, demands, surfaces))
    if search.search_cautiously() or search.search_by_steps() or search.search_cautiously():
        return BalancedFlows(search.row_flows(), search.passes, search.change)
    raise NetworkError(((search.worst(), _unsettled(search.change)),))


def _unsettled(change: float) -> str:
    return f"the flow here does not settle: it still changes by {change:.1e} of the largest flow"


class _Search:
    """One search in the making."""

    def __init__(self, network: Network, fluid: FluidState, lines: Lines) -> None:
        self.network, self.fluid, self.lines = network, fluid, lines
        self.tees = tees.table(network)
        self.without_tees = tees.without(network.columns, self.tees)
        self.solve = _system(lines, self.tees)
        self.passes = 0
        self._begin()

    def _begin(self) -> None:
        lines = self.lines
        self.flow = self.moves = lines.first
        self.pressure = np.concatenate([np.zeros(len(lines.demand)), lines.held])
        self.change = np.inf

    def search_cautiously(self) -> bool:
        """Search with a cautious slope; whether the flows settled.

        A tee may drag a slow stream along: its loss falls where the flow grows, and Newton's method may be
        caught there. A slope that never falls leads away from such places; the true slopes, which close in
        at once, are taken for as long as they do close in.
        """
        caution = cautious = 1
        for _ in range(MOST_PASSES):
            before, closing = self.change, cautious == 0
            if self._pass(closing) <= TOLERANCE:
                return True
            if closing and self.change > 0.5 * before:
                caution = min(2 * caution, MOST_CAUTION)
                cautious = caution
            elif self.change < NEARLY:
                cautious = max(cautious - 1, 0)
        return self.change <= ENOUGH

    def search_by_steps(self) -> bool:
        """Search from a network without losses in its tees to the whole; whether the flows settled.

        It stays with the even one of several splits that would do, where lines lie alike.
        """
        self._begin()
        for degree in range(DEGREES):
            for _ in range(10):
                if self._pass(closing=True, share=degree / DEGREES) <= NEARLY**2:
                    break
        for _ in range(MOST_PASSES):
            if self._pass(closing=True) <= TOLERANCE:
                return True
        return self.change <= ENOUGH

    def row_flows(self) -> Floats:
        return self._rows(self.flow)

    def _rows(self, flow: Floats) -> Floats:
        return flow[self.lines.line_of] * self.lines.sign

    def worst(self) -> str:
        """The part in the line whose flow moves most."""
        line = int(np.argmax(np.abs(self.moves)))  # the first that is no number, where there is one
        return self.network.rows[int(np.flatnonzero(self.lines.line_of == line)[0])].part

    def _pass(self, closing: bool, share: float = 1.0) -> float:
        """Move all flows and pressures once; the largest change, as a share of the largest flow.

        closing: with the true slopes of the tees, not the cautious ones. share: of their losses.
        """
        loss, slope = self._losses(self.flow, share)
        turning = share * tees.slopes(self.tees, self.row_flows(), self.fluid)
        if not closing:
            turning = np.abs(turning) * np.eye(3)
        self.moves, pressure = self.solve(self.flow, self._driving(self.pressure) - loss, slope, turning)
        if not np.isfinite(self.moves).all():
            raise NetworkError(((self.worst(), "no flow can be found here: a loss is not a finite number"),))
        self.change = float(np.abs(self.moves).max()) / max(float(np.abs(self.flow).max()), STILL)
        begun = self.flow is not self.lines.first
        reach = self._reach(pressure, loss, share) if begun else 1.0
        self.flow = self.flow + reach * self.moves
        self.pressure = self.pressure + reach * pressure
        self.passes += 1
        return self.change

    def _driving(self, pressure: Floats) -> Floats:
        return pressure[self.lines.start] - pressure[self.lines.end]

    def _losses(self, flow: Floats, share: float) -> tuple[Floats, Floats]:
        """Loss [Pa] and slope [Pa·s/m³] of each line; the slope is without that of its tees."""
        lines, rows, at = self.lines, self._rows(flow), self.tees.rows
        drops = losses.drop(self.without_tees, rows, self.fluid.density, self.fluid.viscosity)
        turned = share * tees.losses(self.tees, rows, self.fluid)
        loss = _sums_by_line(lines.line_of, drops.loss * lines.sign, len(flow))
        loss += _sums_by_line(lines.line_of[at], turned * lines.sign[at], len(flow))
        return loss, _sums_by_line(lines.line_of, drops.slope, len(flow))

    def _reach(self, pressure: Floats, loss: Floats, share: float) -> float:
        """How much of a move to make: all of it, unless that overshoots along its own direction.

        Past an overshoot the place is bracketed: a loss may rise like a wall and go on flat, as that of a
        blocked screen does until its bypass opens, and a step that is only cut short jumps over it for ever.
        """
        driving = self._driving(self.pressure + pressure)
        begin = float((loss - driving) @ self.moves)
        reach, enough = 1.0, 0.5 * abs(begin)
        low, at_low, high, at_high = 0.0, begin, 0.0, 0.0
        for _ in range(MOST_CUTS):
            slope = float((self._losses(self.flow + reach * self.moves, share)[0] - driving) @ self.moves)
            if begin >= 0 or (slope <= enough and (not high or slope >= -enough)):
                break
            if slope > 0:
                high, at_high = reach, slope
            else:
                low, at_low = reach, slope
            part = at_low / (at_low - at_high)
            reach = low + (high - low) * min(max(part, 0.1), 0.9)
        return reach


def _sums_by_line(line_of: Ints, of_rows: Floats, count: int) -> Floats:
    """Sums over the rows of each line."""
    return np.bincount(line_of.ravel(), of_rows.ravel(), count).astype(np.float64, copy=False)


def _system(
    lines: Lines, at: tees.TeeTable
) -> Callable[[Floats, Floats, Floats, Floats], tuple[Floats, Floats]]:
    """Solves for the moves of all flows and pressures at once.

    From the flow, what drives it beyond its loss, the slope of each line and those of the tees: every line
    in balance with the pressures at its ends, and every junction with what flows through it.
    """
    count, sought = len(lines.start), len(lines.demand)
    junctions = sought + len(lines.held)
    every = np.arange(count)
    from_sought, to_sought = lines.start < sought, lines.end < sought
    out_line, in_line = every[from_sought], every[to_sought]
    out_node, in_node = lines.start[from_sought] + count, lines.end[to_sought] + count
    legs, sign = lines.line_of[at.rows], lines.sign[at.rows]
    line = np.broadcast_to(legs[:, :, None], (len(legs), 3, 3)).ravel()
    by = np.broadcast_to(legs[:, None, :], (len(legs), 3, 3)).ravel()
    across = np.concatenate([every, line, out_line, in_line, out_node, in_node])
    down = np.concatenate([every, by, out_node, in_node, out_line, in_line])
    signs = sign[:, :, None] * sign[:, None, :]
    fixed = [np.full(len(out_line), -1.0), np.full(len(in_line), 1.0)]
    solve = _dense if count + sought <= DENSE else _sparse

    def moves(flow: Floats, surplus: Floats, slope: Floats, turning: Floats) -> tuple[Floats, Floats]:
        entries = np.concatenate([slope, (turning * signs).ravel(), *fixed, *fixed])
        net = np.bincount(lines.end, flow, junctions) - np.bincount(lines.start, flow, junctions)
        right = np.concatenate([surplus, lines.demand - net[:sought]])
        solution = solve(entries, across, down, right)
        return solution[:count], np.concatenate([solution[count:], np.zeros(len(lines.held))])

    return moves


def _dense(entries: Floats, across: Ints, down: Ints, right: Floats) -> Floats:
    matrix = np.zeros((len(right), len(right)))
    np.add.at(matrix, (across, down), entries)
    return np.linalg.solve(matrix, right).astype(np.float64, copy=False)


def _sparse(entries: Floats, across: Ints, down: Ints, right: Floats) -> Floats:
    # Only large networks pay for the import; most drawings never get here.
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import spsolve

    solved: Floats = spsolve(csc_matrix((entries, (across, down)), (len(right), len(right))), right)
    return solved


def _lines(network: Network, demands: Mapping[str, float], surfaces: Mapping[str, float]) -> Lines:
    """Follow the rows from junction to junction."""
    meeting: dict[str, list[int]] = {}
    for i, row in enumerate(network.rows):
        meeting.setdefault(row.start, []).append(i)
        meeting.setdefault(row.end, []).append(i)
    sought = [
        node for node, at in meeting.items() if node not in surfaces and (node in demands or len(at) != 2)
    ]
    held = [node for node in meeting if node in surfaces]
    number = {node: i for i, node in enumerate([*sought, *held])}
    line_of = np.full(len(network.rows), -1, dtype=np.intp)
    sign = np.ones(len(network.rows))
    ends: list[tuple[int, int]] = []
    for node in number:
        for first in meeting[node]:
            if line_of[first] < 0:
                far = _follow(network, meeting, number, node, first, line_of, sign, len(ends))
                ends.append((number[node], number[far]))
    pairs = np.array(ends, dtype=np.intp).reshape(-1, 2)
    top = max(surfaces.values())
    area = np.full(len(pairs), np.inf)
    np.minimum.at(area, line_of, np.pi / 4 * network.columns["bore"] ** 2)
    return Lines(
        start=pairs[:, 0],
        end=pairs[:, 1],
        line_of=line_of,
        sign=sign,
        demand=np.array([demands.get(node, 0.0) for node in sought]),
        held=np.array([surfaces[node] - top for node in held]),
        first=_first(network, line_of, sign, FIRST_SPEED * area),
    )


def _first(network: Network, line_of: Ints, sign: Floats, even: Floats) -> Floats:
    """Where the search starts in every line [m³/s]: evenly, or with flows that the network holds."""
    if network.begun is None:
        return even
    known = np.zeros(len(even))
    known[line_of] = network.begun[: len(line_of)] * sign
    return np.where(np.abs(known) > STILL, known, even)


def _follow(
    network: Network,
    meeting: Mapping[str, list[int]],
    junctions: Mapping[str, int],
    node: str,
    row: int,
    line_of: Ints,
    sign: Floats,
    line: int,
) -> str:
    """Mark the rows of one line from a junction on; the junction at its other end."""
    while True:
        current = network.rows[row]
        forward = current.start == node
        line_of[row], sign[row] = line, 1.0 if forward else -1.0
        node = current.end if forward else current.start
        if node in junctions:
            return node
        a, b = meeting[node]
        row = b if a == row else a
