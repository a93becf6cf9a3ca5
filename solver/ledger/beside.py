"""The lines in parallel with the walk to a pump, each with the rest of the way from its tank to the port."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from solver.ledger.path import Entry
from solver.ledger.solve import Solution


class LineBeside(NamedTuple):
    """A line in parallel with the walk to a pump."""

    entries: tuple[Entry, ...]  # of the whole way that leads through it, in walking order
    own: frozenset[str]  # the keys of those that are its own
    reservoir: str


def lines_beside(solution: Solution, pump: str) -> Iterator[LineBeside]:
    """Every line in parallel with the walk. Raises KeyError for a pump that does not run."""
    ledger, index = solution.pumps[pump], solution.network.index
    if not ledger.parallel_entries:
        return
    walk = [entry for entry in ledger.entries if entry.key in index]
    others = [entry for entry in ledger.parallel_entries if entry.key in index]
    feeding: dict[str, Entry] = {}
    leaving: dict[str, Entry] = {}
    for entry in (*walk, *others):  # the walk first, for that leads to the port
        start, end = _ends(solution, entry)
        leaving.setdefault(start, entry)
        if end not in feeding or abs(entry.flow) > abs(feeding[end].flow):
            feeding[end] = entry
    for line in _chains(solution, others):
        before = _on(line[0], lambda entry: feeding.get(_ends(solution, entry)[0]), len(feeding))
        after = _on(line[-1], lambda entry: leaving.get(_ends(solution, entry)[1]), len(leaving))
        way = (*reversed(before), *line, *after)
        tank = _ends(solution, way[0])[0].removeprefix("reservoir:")
        yield LineBeside(way, frozenset(entry.key for entry in line), tank)


def _ends(solution: Solution, entry: Entry) -> tuple[str, str]:
    """The nodes between which an element lies, in the order of the flow."""
    row = solution.network.rows[solution.network.index[entry.key]]
    return (row.start, row.end) if entry.flow >= 0 else (row.end, row.start)


def _chains(solution: Solution, entries: Sequence[Entry]) -> Iterator[list[Entry]]:
    """Entries one after the other in pieces that hang together."""
    chain: list[Entry] = []
    for entry in entries:
        if chain and _ends(solution, chain[-1])[1] != _ends(solution, entry)[0]:
            yield chain
            chain = []
        chain.append(entry)
    if chain:
        yield chain


def _on(entry: Entry, following: Callable[[Entry], Entry | None], most: int) -> list[Entry]:
    """The entries that follow one, each on the one before; `most`, how many there are at all."""
    passed: list[Entry] = []
    step = following(entry)
    while step is not None and len(passed) < most:
        passed.append(step)
        step = following(step)
    return passed
