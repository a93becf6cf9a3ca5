"""Rows kept from one drawing to the next: never of another part, never more than there is room for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network import build, row_cache, rows
from solver.network.row_cache import RowCache
from solver.quantities.units import Quantity

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


@pytest.fixture(scope="module")
def drawing() -> file.Drawing:
    return file.read(LAYOUTS / "carriage-at-altitude.toml")


def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the parts whose rows are worked out from now on."""
    names: list[str] = []
    run_rows, fitting_rows = rows.run_rows, rows.fitting_rows
    monkeypatch.setattr(
        rows, "run_rows", lambda layout, run, *a: names.append(run.name) or run_rows(layout, run, *a)
    )
    monkeypatch.setattr(
        rows, "fitting_rows", lambda part, *a: names.append(part.name) or fitting_rows(part, *a)
    )
    return names


def roughened(layout: Layout, run: str) -> Layout:
    rough = replace(layout.runs[run], roughness=Quantity("1 mm", 1e-3))
    return replace(layout, runs={**layout.runs, run: rough})


def test_only_what_changed_is_worked_out_again(
    drawing: file.Drawing, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache, names = RowCache(), counted(monkeypatch)
    whole = build.build(drawing.base, cache)
    assert sorted(names) == sorted([*drawing.base.runs, *drawing.base.fittings])
    names.clear()
    assert build.build(drawing.base, cache).rows == whole.rows
    assert names == []
    run = next(iter(drawing.base.runs))
    rougher = build.build(roughened(drawing.base, run), cache)
    assert names == [run]
    assert rougher.rows == build.build(roughened(drawing.base, run)).rows != whole.rows


def test_alternatives_keep_their_rows_side_by_side(
    drawing: file.Drawing, monkeypatch: pytest.MonkeyPatch
) -> None:
    run = next(iter(drawing.base.runs))
    one, other, cache = drawing.base, roughened(drawing.base, run), RowCache()
    first = [solve(each, cache=cache) for each in (one, other)]
    names = counted(monkeypatch)
    again = [solve(each, cache=cache) for each in (one, other)]
    assert names == []
    assert [s.network.rows for s in again] == [s.network.rows for s in first]
    assert first[0].network.rows != first[1].network.rows


def test_nothing_is_kept_but_in_a_cache(drawing: file.Drawing, monkeypatch: pytest.MonkeyPatch) -> None:
    build.build(drawing.base)
    names = counted(monkeypatch)
    build.build(drawing.base)
    assert names


def test_the_part_not_asked_for_longest_goes_first(drawing: file.Drawing) -> None:
    runs = list(drawing.base.runs.values())
    cache = RowCache(size=1)
    kept = cache.run_rows(drawing.base, runs[0], True, "a", "b")
    assert cache.run_rows(drawing.base, runs[0], True, "a", "b") is kept
    cache.run_rows(drawing.base, runs[1], True, "a", "b")
    assert len(cache) == 1
    assert cache.run_rows(drawing.base, runs[0], True, "a", "b") is not kept
    cache.clear()
    assert len(cache) == 0


def test_a_fitting_with_another_bore_is_another(drawing: file.Drawing) -> None:
    part, cache = next(iter(drawing.base.fittings.values())), RowCache()
    kept = cache.fitting_rows(part, (0.05, 0.05))
    assert cache.fitting_rows(part, (0.05, 0.05)) is kept
    assert cache.fitting_rows(part, (0.05, 0.06)) is not kept


def test_reservoirs_are_looked_at_again_only_where_they_or_the_intakes_differ(
    drawing: file.Drawing, monkeypatch: pytest.MonkeyPatch
) -> None:
    layout, cache, looked = drawing.base, RowCache(), list[Layout]()
    name, tank = next(iter(layout.reservoirs.items()))
    drained = replace(
        layout, reservoirs={**layout.reservoirs, name: replace(tank, normal_level=tank.outline[0][1])}
    )
    of = row_cache.reservoir_problems
    monkeypatch.setattr(row_cache, "reservoir_problems", lambda each: (looked.append(each), of(each))[1])
    moved = replace(layout, title="Another")
    assert [cache.reservoir_problems(each) for each in (layout, moved)] == [[], []]
    assert looked == [layout]
    wrong = of(drained)
    assert wrong
    assert [cache.reservoir_problems(drained) for _ in range(2)] == [wrong, wrong]
    assert cache.reservoir_problems(moved) == []
    assert looked == [layout, drained, drained, moved]
    cache.clear()
    assert cache.reservoir_problems(moved) == []
    assert looked[-2:] == [moved, moved]
