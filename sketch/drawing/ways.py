"""What the elements on the ways to a pump take of its budget, and where along them the floor is reached.

No Qt here. The walk is the way with the largest flow; lines in parallel with it lie beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import Entry, PumpLedger, Solution


def crossings(entries: Sequence[Entry], budget: float) -> dict[str, float]:
    """How far along each entry that ends beyond the budget the budget is used up, 0 to 1, by key.

    Walked with the credits first, as the air column stacks them.
    """
    credit = -sum([min(entry.lift + entry.loss, 0.0) for entry in entries])
    spent, shares = 0.0, {}
    for entry in entries:
        total = entry.lift + entry.loss
        if total <= 0.0:
            continue
        left = budget + credit - spent
        spent += total
        if spent > (budget + credit) * (1.0 + 1e-9):
            shares[entry.key] = min(max(left / total, 0.0), 1.0)
    return shares


def shares(solution: Solution | None, pump: str) -> dict[str, float | None]:
    """Share of the budget by entry key, lines in parallel among them; empty if nothing is known."""
    if solution is None or pump not in solution.pumps:
        return {}
    ledger = solution.pumps[pump]
    return {entry.key: entry.share for entry in (*ledger.parallel_entries, *ledger.entries)}


def beyond(solution: Solution | None, pump: str) -> dict[str, float]:
    """`crossings` of every way to a pump."""
    ledger = solution.pumps.get(pump) if solution is not None else None
    if solution is None or ledger is None or not ledger.budget > 0.0:
        return {}
    shares = crossings(ledger.entries, ledger.budget)
    if shares and ledger.parallel_entries:
        shares |= _parallel_crossings(solution, ledger)
    return shares


@dataclass(frozen=True, slots=True)
class _Step:
    """An entry as a step from node to node, with the flow."""

    entry: Entry
    start: str
    end: str

    @property
    def total(self) -> float:
        return self.entry.lift + self.entry.loss


@dataclass(slots=True)
class _Ways:
    """Every way to a pump, along the largest flow where several lead on."""

    into: Mapping[str, _Step]  # the widest step to each node
    out: Mapping[str, _Step]  # the widest step from each node
    before: dict[str, float] = field(default_factory=dict)  # what is taken up to a node, credits aside
    credit: dict[str, float] = field(default_factory=dict)  # what is given up to a node
    onward: dict[str, float] = field(default_factory=dict)  # what is given from a node on

    def reach(self, node: str) -> tuple[float, float]:
        """What is taken and what is given on the way to a node."""
        way: list[_Step] = []
        while node not in self.before and node in self.into and len(way) < len(self.into):
            way.append(self.into[node])
            node = way[-1].start
        spent, given = self.before.get(node, 0.0), self.credit.get(node, 0.0)
        for step in reversed(way):
            spent += max(step.total, 0.0)
            given -= min(step.total, 0.0)
            self.before[step.end], self.credit[step.end] = spent, given
        return spent, given

    def leave(self, node: str) -> float:
        """What is given on the way from a node to the port."""
        way: list[_Step] = []
        while node not in self.onward and node in self.out and len(way) < len(self.out):
            way.append(self.out[node])
            node = way[-1].end
        given = self.onward.get(node, 0.0)
        for step in reversed(way):
            given -= min(step.total, 0.0)
            self.onward[step.start] = given
        return given


def _parallel_crossings(solution: Solution, ledger: PumpLedger) -> dict[str, float]:
    """Where the floor is reached on lines in parallel with the walk: each on its own way to the port."""
    steps = list(_steps(solution, (*ledger.entries, *ledger.parallel_entries)))
    ways = _Ways(_widest((step.end, step) for step in steps), _widest((step.start, step) for step in steps))
    flooded_head = -sum(entry.lift for entry in ledger.entries if entry.kind == HeadEntryKind.FLOODED)
    parallel_keys = {entry.key for entry in ledger.parallel_entries}
    shares: dict[str, float] = {}
    for step in steps:
        if step.entry.key not in parallel_keys or step.total <= 0.0:
            continue
        spent, given = ways.reach(step.start)
        left = ledger.budget + flooded_head + given + ways.leave(step.end) - spent
        if step.total > left + 1e-9 * ledger.budget:
            shares[step.entry.key] = min(max(left / step.total, 0.0), 1.0)
    return shares


def _steps(solution: Solution, entries: Iterable[Entry]) -> Iterable[_Step]:
    network = solution.network
    for entry in entries:
        if entry.key in network.index:
            row = network.rows[network.index[entry.key]]
            ends = (row.start, row.end) if entry.flow >= 0.0 else (row.end, row.start)
            yield _Step(entry, *ends)


def _widest(steps: Iterable[tuple[str, _Step]]) -> dict[str, _Step]:
    widest: dict[str, _Step] = {}
    for node, step in steps:
        if node not in widest or abs(step.entry.flow) > abs(widest[node].entry.flow):
            widest[node] = step
    return widest
