"""Rows of parts that did not change, kept from one drawing to the next: a drag moves one part of many."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import NamedTuple

from solver.geometry.reservoirs import reservoir_problems
from solver.layout.parts import Fitting, Intake, Layout, Run
from solver.network import rows
from solver.network.kept_trace import Trace
from solver.network.rows import Row

SIZE = 2048
"""Parts kept: many times those of a drawing with all its alternatives."""

ROOM = 4
"""Entries kept for each part of a drawing: its rows, those of the joint, and both before a change."""


class _Kept(NamedTuple):
    parts: tuple[object, ...]  # held, so that no other object gets the identity that the key is made of
    rows: tuple[Row, ...]


class RowCache:
    """The rows last asked for, by the very parts they were made from: parts are frozen, so that one that is
    the same object makes the same rows. The owner of a drawing keeps one and hands it to every solve; its
    alternatives share it. A refusal is not kept.
    """

    def __init__(self, size: int = SIZE) -> None:
        """size: most parts kept; the one not asked for longest goes first."""
        self._size = size
        self._kept: OrderedDict[Hashable, _Kept] = OrderedDict()
        self._sound: tuple[object, object] | None = None  # the reservoirs and intakes found so last
        self.trace: Trace | None = None  # how the drawing is joined that was asked for last

    def __len__(self) -> int:
        return len(self._kept)

    def make_room(self, parts: int) -> None:
        """Keep what so many parts need, with as much again while one of them moves."""
        self._size = max(self._size, ROOM * parts)

    def clear(self) -> None:
        """Keep nothing: another drawing is opened."""
        self._kept.clear()
        self._sound = self.trace = None

    def reservoir_problems(self, layout: Layout) -> list[tuple[str, str]]:
        """What is wrong with the reservoirs and where the intakes stand, ((part, text), ...); looked for
        again only where either differs."""
        if self._sound is not None:
            reservoirs, intakes = self._sound
            if layout.reservoirs is reservoirs and layout.intakes is intakes:
                return []
        problems = reservoir_problems(layout)
        self._sound = None if problems else (layout.reservoirs, layout.intakes)
        return problems

    def run_rows(self, layout: Layout, run: Run, forward: bool, start: str, end: str) -> tuple[Row, ...]:
        """Parameters and errors as `rows.run_rows`."""
        parts = (run, layout.joint(run.start), layout.joint(run.end))
        return self._rows(
            parts, (forward, start, end), lambda: rows.run_rows(layout, run, forward, start, end)
        )

    def fitting_rows(self, fitting: Fitting, ends: tuple[float, float]) -> tuple[Row, ...]:
        """Parameters and errors as `rows.fitting_rows`."""
        if not all(isinstance(bore, float) for bore in ends):  # a column has no hash
            return rows.fitting_rows(fitting, ends)
        return self._rows((fitting,), ends, lambda: rows.fitting_rows(fitting, ends))

    def joint_rows(
        self, layout: Layout, fitting: Fitting, runs: tuple[Run, Run | None], ends: tuple[float, float]
    ) -> tuple[Row, ...]:
        """The rows of a fitting and of the corner at it; parameters and errors as `rows.fitting_rows`.

        runs: the one by which the fluid comes, and the other, if there is one.
        """
        if not all(isinstance(bore, float) for bore in ends):  # a column has no hash
            return rows.joint_rows(layout, fitting, runs, rows.fitting_rows(fitting, ends))
        parts: tuple[object, ...] = (fitting,)
        for run in runs:
            if run is not None:
                parts = (*parts, run, layout.joint(run.start), layout.joint(run.end))
        return self._rows(
            parts, ends, lambda: rows.joint_rows(layout, fitting, runs, self.fitting_rows(fitting, ends))
        )

    def intake_rows(self, intake: Intake) -> tuple[Row, ...]:
        """Parameters and errors as `rows.intake_rows`."""
        return self._rows((intake,), (), lambda: tuple(rows.intake_rows(intake)))

    def _rows(
        self, parts: tuple[object, ...], given: tuple[Hashable, ...], make: Callable[[], tuple[Row, ...]]
    ) -> tuple[Row, ...]:
        key = (*map(id, parts), *given)
        kept = self._kept.get(key)
        if kept is not None:
            self._kept.move_to_end(key)
            return kept.rows
        fresh = make()
        self._kept[key] = _Kept(parts, fresh)
        if len(self._kept) > self._size:
            self._kept.popitem(last=False)
        return fresh
