"""Each cause raises the vacuum at the port where the trade says that it does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.causes import AIR, Cause, CauseKind, causes, unseen, with_resistance
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.states import Reading
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve, solve_network
from solver.network.build import build, columns
from solver.network.ways import Rows
from tests.drawings import SHIPPED

PORT = Place("carriage")
(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN: Layout = file.read(PATH).base
READING = Reading(DRAWN, Level.MINIMUM, PORT, Band(0.0, 0.0), Gauge())
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"], [READING]))


def at_port(cause: Cause, size: float) -> float:
    changed = cause.change(build(DRAWN), size)
    return places.vacuum(solve_network(changed), PORT) + cause.offset(size, READING)


@pytest.mark.parametrize(
    "kind",
    [
        CauseKind.SCREEN,
        CauseKind.BORE,
        CauseKind.HOSE,
        CauseKind.RESISTANCE,
        CauseKind.AS_BUILT,
        CauseKind.FLUID,
        CauseKind.LEVEL,
        CauseKind.SURFACE,
        CauseKind.MORE_FLOW,
    ],
)
def test_more_of_it_shows_more_vacuum(kind: CauseKind) -> None:
    for cause in (each for each in ALL if each.kind is kind):
        small, large = at_port(cause, cause.sizes[0]), at_port(cause, cause.sizes[len(cause.sizes) // 2])
        assert places.vacuum(solve(DRAWN), PORT) < small < large


def test_less_flow_shows_less_vacuum() -> None:
    (cause,) = (each for each in ALL if each.kind is CauseKind.LESS_FLOW)
    assert at_port(cause, 0.5) < at_port(cause, 0.9) < places.vacuum(solve(DRAWN), PORT)


def test_resistance_goes_as_the_velocity_head() -> None:
    network = build(DRAWN)
    plain, more = (
        places.vacuum(solve_network(each), PORT) for each in (network, with_resistance(network, "lead", 10.0))
    )
    ledger = solve(DRAWN).pumps["carriage"]
    (entry,) = (entry for entry in ledger.entries if entry.part == "lead")
    assert more - plain == pytest.approx(10.0 * ledger.density * entry.velocity**2 / 2)


def test_resistance_is_met_either_way_and_in_laminar_flow() -> None:
    network = build(DRAWN)
    at = next(i for i, row in enumerate(network.rows) if row.part == "lead")
    rows = list(network.rows)
    rows[at] = replace(rows[at], k_slow=1.0, k_inf_back=2.0, k_slow_back=3.0)
    changed = with_resistance(replace(network, rows=Rows(rows), columns=columns(rows)), "lead", 10.0).rows[at]
    assert (changed.k_slow, changed.k_inf_back, changed.k_slow_back) == (11.0, 12.0, 13.0)


def test_what_no_gauge_shows_is_not_among_them_and_moves_nothing() -> None:
    assert not {each.kind for each in ALL} & set(AIR)
    joint = unseen(CauseKind.JOINT, "", "no joint")
    assert (joint.sizes, joint.why_not) == ((0.0,), "no joint")
    assert at_port(joint, 0.0) == places.vacuum(solve(DRAWN), PORT)


def test_each_gauge_may_be_off_by_itself() -> None:
    other = replace(READING, gauge=Gauge("B"))
    listed = list(causes(DRAWN, solve(DRAWN).pumps["carriage"], [READING, other]))
    off = [each for each in listed if each.kind is CauseKind.OFFSET]
    assert [each.part for each in off] == ["", "B"]
    assert [each.offset(100.0, other) for each in off] == [0.0, 100.0]
    assert off[0].offset(100.0, READING) == 100.0


def test_a_breather_shows_at_rest_only_where_what_was_read_held_from_the_stop_on() -> None:
    (breather,) = (each for each in ALL if each.kind is CauseKind.SURFACE)
    rest = replace(READING, resting=True)
    shown = [breather.offset(5e3, each) for each in (READING, rest, replace(rest, held=True))]
    assert shown == [5e3, 0.0, 5e3]


def test_a_soft_liner_narrows_the_warmer_it_is() -> None:
    (soft,) = (each for each in ALL if each.kind is CauseKind.HOSE)
    bores = []
    for temperature in (290.0, 318.0, 333.15):
        drawn = inputs.temperature(DRAWN, ("",), temperature, Level.MINIMUM)
        rows = soft.change(build(drawn), 0.4).rows
        bores.append(next(row.bore for row in rows if row.part == "connector"))
    assert bores[0] > bores[1] > bores[2]
    assert bores[2] == pytest.approx(0.6 * bores[0])
