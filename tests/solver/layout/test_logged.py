"""A reading as it was written down follows the names of parts, in its state too."""

from __future__ import annotations

from solver.layout.logged import LoggedReading
from solver.quantities.units import Kind, System, quantity

READING = LoggedReading(
    "2026-03-04",
    "carriage",
    "riser",
    joint="connector",
    state={"fluid": {"carriage": "no part"}, "pumps": {"carriage": {"speed": "900 rpm"}}},
    strokes={"carriage": "standby"},
)


def test_another_name_of_a_pump_goes_through_place_stroke_and_state() -> None:
    named = READING.with_part_named("carriage", "main")
    assert (named.pump, named.strokes) == ("main", {"main": "standby"})
    assert named.state == {"fluid": {"carriage": "no part"}, "pumps": {"main": {"speed": "900 rpm"}}}


def test_places_are_written_in_words() -> None:
    assert LoggedReading("2026-03-04", "carriage").place == "the port of carriage"
    assert READING.place == "riser at connector"
    tap = LoggedReading("2026-03-04", "carriage", "riser", quantity("10 in", Kind.LENGTH))
    assert tap.place == "riser, 10 in from its start"
    assert tap.place_in(System.SI) == "riser, 0.254 m from its start"
    assert READING.place_in(System.SI) == READING.place
