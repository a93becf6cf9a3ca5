"""How a drawing is joined is looked at once, and its rows are those of a drawing built by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from solver.geometry import moving
from solver.layout import file
from solver.layout.parts import Layout, ValveState
from solver.network import build, tracing
from solver.network.row_cache import RowCache
from solver.quantities.units import Quantity
from tests import drawings

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"
ROUGH = Quantity("1 mm", 1e-3)


def counted(monkeypatch: pytest.MonkeyPatch) -> list[Layout]:
    """The drawings that are walked through from now on."""
    walked: list[Layout] = []

    class Counted(tracing.Walk):
        def __init__(self, layout: Layout, graph: tracing.RunGraph) -> None:
            walked.append(layout)
            super().__init__(layout, graph)

    monkeypatch.setattr(tracing, "Walk", Counted)
    return walked


def moved(layout: Layout, name: str) -> Layout:
    x, z = (value.si for value in layout.joint(name).at)
    return moving.move_part(layout, name, x + 0.01, z + 0.02)


def changes(layout: Layout) -> Iterator[Layout]:
    """The drawing with each part moved, each run rough, wide or taken out, and each fitting shut."""
    for group in (layout.pumps, layout.fittings, layout.tees, layout.intakes):
        yield from (moved(layout, name) for name in group)
    for name, run in layout.runs.items():
        yield replace(layout, runs={**layout.runs, name: replace(run, roughness=ROUGH)})
        wider = replace(run, size=None, bore=Quantity("70 mm", 0.07))
        yield replace(layout, runs={**layout.runs, name: wider})
        yield replace(layout, runs={other: each for other, each in layout.runs.items() if other != name})
    for name, part in layout.fittings.items():
        shut = replace(part, state=ValveState.CLOSED)
        yield replace(layout, fittings={**layout.fittings, name: shut})


def outcome(layout: Layout, cache: RowCache | None) -> build.Network | tuple[tuple[str, str], ...]:
    try:
        return build.build(layout, cache)
    except build.NetworkError as error:
        return error.problems


def assert_alike(layout: Layout, cache: RowCache) -> None:
    kept, alone = outcome(layout, cache), outcome(layout, None)
    if isinstance(kept, tuple) or isinstance(alone, tuple):
        assert kept == alone
        return
    names = ("rows", "elevation", "index", "tees", "closures", "cut_off", "still")
    assert [getattr(kept, name) for name in names] == [getattr(alone, name) for name in names]
    for name, column in alone.columns.items():
        np.testing.assert_array_equal(kept.columns[name], column)


@pytest.mark.parametrize("path", sorted(LAYOUTS.glob("*.toml")), ids=lambda path: path.stem)
def test_a_drawing_changed_step_by_step_is_built_as_one_by_itself(path: Path) -> None:
    base, cache = file.read(path).base, RowCache()
    assert_alike(base, cache)
    for layout in changes(base):
        assert_alike(layout, cache)
        assert_alike(base, cache)


def test_a_pump_that_is_dragged_has_its_line_walked_through_once(monkeypatch: pytest.MonkeyPatch) -> None:
    layout, cache, walked = drawings.steps(20), RowCache(), counted(monkeypatch)
    for _ in range(5):
        build.build(layout, cache)
        layout = moved(layout, "pump")
    assert len(walked) == 1


def test_only_steps_beside_what_moves_are_made_again(monkeypatch: pytest.MonkeyPatch) -> None:
    layout, cache = drawings.steps(200), RowCache()
    build.build(layout, cache)
    steps: list[str] = []
    add_step = build._Table._add_step
    monkeypatch.setattr(
        build._Table,
        "_add_step",
        lambda table, step: steps.append(step.run.name) or add_step(table, step),
    )
    build.build(moved(layout, "pump"), cache)
    assert 1 <= len(steps) <= 2


def test_a_shut_valve_has_the_line_walked_through_again(monkeypatch: pytest.MonkeyPatch) -> None:
    layout, cache = drawings.steps(20), RowCache()
    build.build(layout, cache)
    name, valve = next(iter(layout.fittings.items()))
    shut = replace(layout, fittings={**layout.fittings, name: replace(valve, state=ValveState.CLOSED)})
    with pytest.raises(build.NetworkError):
        build.build(shut, cache)
    walked = counted(monkeypatch)
    build.build(layout, cache)
    assert not walked  # the one that was refused has not taken its place


def test_a_run_without_a_bore_is_refused_after_one_with() -> None:
    layout, cache = drawings.steps(20), RowCache()
    build.build(layout, cache)
    name, run = next(iter(layout.runs.items()))
    unknown = replace(layout, runs={**layout.runs, name: replace(run, size="DN none", bore=None)})
    with pytest.raises(build.NetworkError, match="is no known size"):
        build.build(unknown, cache)


def test_another_drawing_forgets_the_last() -> None:
    cache = RowCache()
    build.build(drawings.steps(20), cache)
    assert cache.trace is not None
    cache.clear()
    assert cache.trace is None
