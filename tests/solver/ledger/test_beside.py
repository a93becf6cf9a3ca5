"""The lines in parallel with a walk, each with the whole way that leads through it."""

from __future__ import annotations

from itertools import pairwise

import pytest

from solver.layout.parts import Layout
from solver.ledger.beside import lines_beside
from solver.ledger.solve import solve
from tests.drawings import ring, twins


@pytest.mark.parametrize("layout", [twins(), ring()], ids=["twins", "ring"])
def test_a_line_beside_leads_from_a_tank_to_the_port_without_a_gap(layout: Layout) -> None:
    solution = solve(layout)
    rows, index = solution.network.rows, solution.network.index
    for pump, ledger in solution.pumps.items():
        own = set[str]()
        for line in lines_beside(solution, pump):
            ends = [
                (row.start, row.end) if entry.flow >= 0 else (row.end, row.start)
                for entry in line.entries
                for row in (rows[index[entry.key]],)
            ]
            assert ends[0][0] == f"reservoir:{line.reservoir}"
            assert ends[-1][1] == f"pump:{pump}"
            assert all(before[1] == after[0] for before, after in pairwise(ends))
            own |= line.own
        assert own == {entry.key for entry in ledger.parallel_entries}


def test_a_pump_fed_by_one_line_has_none_beside() -> None:
    assert list(lines_beside(solve(ring()), "least")) == []
