"""A tap stays where it is on the machine while its line is cut, healed and renamed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import building, edits, taps
from solver.field import places
from solver.field.places import Place
from solver.field.states import prepare
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
TAPS = tuple(
    LoggedReading("2026-03-04", "carriage", "riser", quantity(f"{at} m", Kind.LENGTH)) for at in (0.2, 0.6)
)
JOINTS = tuple(
    LoggedReading("2026-03-04", "carriage", "riser", joint=name) for name in ("strainer", "connector")
)


@pytest.fixture
def drawn() -> Layout:
    return replace(file.read(PATH).base, readings=(*TAPS, *JOINTS))


def heights(layout: Layout) -> list[float]:
    solution = solve(layout)
    placed = [Place(each.pump, each.run, each.distance.si) for each in layout.readings if each.distance]
    return [places.height(solution, place) for place in placed]


def test_taps_stay_through_a_cut_and_its_healing(drawn: Layout) -> None:
    cut = building.insert(drawn, "known K", "riser", 0.3048, 0.75)
    assert [each.run for each in cut.layout.readings] == ["riser", "riser 2", "riser", "riser 2"]
    assert heights(cut.layout) == pytest.approx(heights(drawn), abs=1e-4)
    healed = building.remove(cut.layout, cut.name)
    assert {each.run for each in healed.readings} == {"riser"}
    assert heights(healed) == pytest.approx(heights(drawn), abs=1e-3)


def test_a_tap_at_a_joint_that_is_taken_out_gets_a_distance(drawn: Layout) -> None:
    healed = building.remove(drawn, "connector")
    tap = healed.readings[-1]
    assert (tap.run, tap.joint) == ("riser", "")
    assert tap.distance is not None
    assert tap.distance.si == pytest.approx(taps.length(drawn, drawn.runs["riser"]), abs=1e-3)


def test_taps_follow_names(drawn: Layout) -> None:
    named = building.rename(drawn, "riser", "pipe")
    assert {each.run for each in named.readings} == {"pipe"}
    assert building.rename(drawn, "connector", "hose").readings[-1].joint == "hose"


def test_a_reading_on_a_part_that_is_deleted_is_kept(drawn: Layout) -> None:
    without = building.remove(drawn, "strainer")
    assert without.readings == drawn.readings


def test_alternatives_that_change_places_take_their_readings_along() -> None:
    base, wide = (LoggedReading("2026-03-04", "carriage", line=line) for line in ("", "wide"))
    exchanged = taps.lines_exchanged((base, wide), "", "wide", "before")
    assert [each.line for each in exchanged] == ["before", ""]
    assert [each.line for each in taps.line_renamed((base, wide), "wide", "wider")] == ["", "wider"]


def test_a_tap_moves_with_the_end_that_it_is_measured_from_and_is_kept_where_the_line_ends_before_it(
    drawn: Layout,
) -> None:
    far = replace(drawn.readings[0], distance=quantity("1.0 m", Kind.LENGTH))
    drawn = replace(drawn, readings=(*drawn.readings[:2], far))
    lower = edits.move_part(drawn, "strainer", 0.3048, 0.2302)
    assert lower.readings == drawn.readings
    down = [one - other for one, other in zip(heights(drawn), heights(lower), strict=True)]
    assert down[:2] == pytest.approx([0.1, 0.1], abs=1e-4)
    short = edits.move_part(drawn, "strainer", 0.3048, 0.55)
    assert short.readings == drawn.readings
    compared = prepare(short)
    assert [bool(each.why_not) for each in compared] == [False, False, True]
    assert "is shorter than its distance" in compared[2].why_not
