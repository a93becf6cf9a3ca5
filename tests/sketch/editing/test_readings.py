"""What is typed of a reading is taken and refused as in a file; nothing else of it changes."""

from __future__ import annotations

import math

import pytest

from sketch.editing import readings
from sketch.editing.edits import EditError
from sketch.editing.readings import FIELDS, ReadingField, distance_of, new, shown, typed, with_reading
from solver.field import places
from solver.field.places import Place
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.readings import read_reading, reading_raw
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import SHIPPED

DRAWING = file.read(next(path for path in SHIPPED if path.stem == "over-the-bund-wall"))
WALL, LINES = DRAWING.base, {name: each.layout for name, each in DRAWING.alternatives.items()}
EMPTY = new(WALL, "transfer", "2026-03-04")

TYPED = {
    "when": "2026-03-05 08:15",
    "pump": "transfer",
    "run": "lead",
    "distance": "0.2 m",
    "vacuum": "5.5 inHg",
    "pressure": "-3 kPa",
    "rest_vacuum": "1 kPa",
    "fall_time": "holds",
    "line": "Sleeve through the wall",
    "gauge.name": "A",
    "gauge.over_port": "0.3 m",
    "gauge.tube": "full",
    "gauge.class": "1.6",
    "gauge.range": "100 kPa",
    "gauge.zero": "0.2 kPa",
    "gauge.reference": "sea level",
    "case": "coldest start",
    "state.fluid.temperature": "44 degC",
    "measured_at": "tank",
    "running": "10 min",
    "strokes.<pump>": "standby",
    "state.levels.<tank>": "0.8 m",
    "cylinders": "out",
    "state.site.barometer": "980 mbar",
    "sound": "erratic",
    "foam": "yes",
    "milky": "no",
    "jar": "clears from below",
    "slow_cylinder": "yes",
    "filler_cap": "no change",
    "joints_wetted": "changed",
    "in_tank": "calm, foam at the return",
    "age": "in service",
    "work": "strainer cleaned, fluid changed",
    "note": "quiet day",
}


def field(name: str) -> ReadingField:
    return next(each for each in FIELDS if ".".join(each.path) == name)


def put(reading: LoggedReading, name: str, text: str, system: System = System.SI) -> LoggedReading:
    return typed(WALL, reading, field(name), text, system, "store", LINES)


@pytest.mark.parametrize("name", TYPED)
def test_every_field_is_kept_shown_and_emptied_again(name: str) -> None:
    before = put(EMPTY, "run", "lead") if name == "distance" else EMPTY
    after = put(before, name, TYPED[name])
    text = shown(after, field(name))
    assert text.replace(".0", "") == TYPED[name].replace(".0", "")
    if name not in ("when", "pump", "run", "distance"):
        assert put(after, name, "") == before


def test_a_level_is_typed_by_its_mark_too_and_shown_by_it() -> None:
    marked = put(EMPTY, "state.levels.<tank>", "min")
    assert marked.state == {"level": "minimum"}
    assert shown(marked, field("state.levels.<tank>")) == "minimum"
    high = put(marked, "state.levels.<tank>", "0.8 m")
    assert high.state == {"levels": {"store": "0.8 m"}}
    assert put(high, "state.levels.<tank>", "Normal").state == {"level": "normal"}
    assert put(marked, "state.levels.<tank>", "") == EMPTY
    with pytest.raises(EditError, match=r"Allowed: a length.* or a mark: minimum, normal, drawn down"):
        put(EMPTY, "state.levels.<tank>", "low")


def test_every_field_of_the_list_is_tried() -> None:
    names = {".".join(each.path) for each in FIELDS}
    assert names - set(TYPED) == {
        "sound_when",
        "strokes.<others>",
        "state.fittings",
        "state.pumps.<pump>.speed",
    }


def test_a_speed_is_of_a_pump_that_is_drawn_by_its_displacement() -> None:
    """Kept of another it would be no state, and the whole reading would not be compared."""
    press = file.read(next(path for path in SHIPPED if path.stem == "winter-press")).base
    reading = typed(
        press, new(press, "press", "2026-03-04"), field("state.pumps.<pump>.speed"), "900", System.SI
    )
    assert shown(reading, field("state.pumps.<pump>.speed")) == "900 rpm"
    with pytest.raises(EditError, match="no displacement of transfer; allowed: its flow"):
        put(EMPTY, "state.pumps.<pump>.speed", "900 rpm")


def test_other_pumps_and_shut_valves_are_named_and_only_those_there_are() -> None:
    two = file.read(next(path for path in SHIPPED if path.stem == "header-two-pumps")).base
    reading = typed(two, new(two, "main", "2026-03-04"), field("strokes.<pump>"), "full flow", System.SI)
    noted = typed(two, reading, field("strokes.<others>"), "pilot: at rest", System.SI)
    assert noted.strokes == {"main": "full flow", "pilot": "at rest"}
    assert shown(noted, field("strokes.<others>")) == "pilot: at rest"
    assert typed(two, noted, field("strokes.<others>"), "", System.SI) == reading
    for text in ("feed: at rest", "main: at rest", "pilot: asleep"):
        with pytest.raises(EditError, match="allowed"):
            typed(two, reading, field("strokes.<others>"), text, System.SI)
    shut = typed(two, reading, field("state.fittings"), "isolator", System.SI)
    assert shut.state == {"fittings": {"isolator": {"state": "closed"}}}
    assert shown(shut, field("state.fittings")) == "isolator"
    assert typed(two, shut, field("state.fittings"), "", System.SI) == reading
    with pytest.raises(EditError, match="no valve lid"):
        typed(two, reading, field("state.fittings"), "isolator, lid", System.SI)


def test_sound_when_goes_with_a_sound() -> None:
    assert put(put(EMPTY, "sound", "steady"), "sound_when", "only cold, only fast").sound_when == (
        "only cold",
        "only fast",
    )
    with pytest.raises(EditError, match=r"^Sound comes, only with a sound: choose one in"):
        put(EMPTY, "sound_when", "only cold")


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("5 to 6 inHg", ["5 inHg", "6 inHg"]),
        ("5 inHg..6 inHg", ["5 inHg", "6 inHg"]),
        ("5", "5 kPa"),
        ("5 to 6", ["5 kPa", "6 kPa"]),
    ],
)
def test_a_hand_that_swings_and_a_bare_number(text: str, kept: object) -> None:
    assert reading_raw(put(EMPTY, "vacuum", text))["vacuum"] == kept


def test_a_pressure_takes_the_place_of_a_vacuum() -> None:
    after = put(put(EMPTY, "vacuum", "5 kPa"), "pressure", "-4 kPa")
    assert (after.vacuum, after.pressure[0].text) == ((), "-4 kPa")


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("when", "yesterday"),
        ("vacuum", "5 apples"),
        ("gauge.class", "fine"),
        ("state.fluid.temperature", "warm"),
        ("state.levels.<tank>", "3 bar"),
        ("state.levels.<tank>", "99 m"),
        ("state.site.barometer", "20 bar"),
        ("line", "zz"),
    ],
)
def test_what_a_file_would_refuse_is_refused_in_words(name: str, text: str) -> None:
    with pytest.raises(EditError, match=r"(?i)allowed"):
        put(EMPTY, name, text)


@pytest.mark.parametrize(
    ("name", "text", "why"),
    [
        ("pressure", "-400 kPa", 'found "-400 kPa"; allowed: pressure from -2 bar, a vacuum, to 10 bar'),
        ("vacuum", "3 bar", 'found "3 bar"; allowed: vacuum of at most 2 bar, or below zero'),
        (
            "gauge.class",
            "20 %",
            'found "20 %"; allowed: a number above 0 and up to 10 (percent of the range)',
        ),
    ],
)
def test_the_bound_in_a_refusal_is_the_one_that_refused(name: str, text: str, why: str) -> None:
    with pytest.raises(EditError) as refused:
        put(EMPTY, name, text)
    assert str(refused.value).startswith(why)
    assert "quotes" not in str(refused.value)


def test_a_percent_sign_and_a_pressure_of_a_pressed_tank_are_kept() -> None:
    assert put(EMPTY, "gauge.class", "1.6 %").gauge.accuracy == 1.6
    assert put(EMPTY, "pressure", "3 bar").pressure[0].text == "3 bar"


def test_the_list_is_changed_at_one_place() -> None:
    other = new(WALL, "transfer", "2026-03-06")
    two = with_reading(with_reading((), 0, EMPTY), 1, other)
    assert two == (EMPTY, other)
    assert with_reading(two, 0, None) == (other,)
    assert with_reading(two, 1, EMPTY) == (EMPTY, EMPTY)


@pytest.mark.parametrize("distance", [0.0, 0.4, 1.5, 2.0, 3.3])
def test_the_distance_of_a_place_on_a_run_leads_back_to_it(distance: float) -> None:
    x, z = places.position(solve(WALL), Place("transfer", "crossing", distance))
    assert distance_of(WALL, "crossing", x, z) == pytest.approx(distance, abs=2e-3)


def test_a_place_beside_a_run_is_the_nearest_on_it() -> None:
    far = distance_of(WALL, "crossing", 1.9, 2.4)
    x, z = places.position(solve(WALL), Place("transfer", "crossing", far))
    assert math.dist((x, z), (1.9, 1.9)) < 0.01


def test_choices_are_those_of_the_drawing() -> None:
    assert readings.options(WALL, field("run"))[0] == readings.AT_PORT
    assert set(WALL.runs) < set(readings.options(WALL, field("run")))
    assert readings.options(WALL, field("vacuum")) == ()


def test_a_reading_that_cannot_be_read_is_put_right_key_by_key() -> None:
    """What is wrong elsewhere in it keeps no field from being typed in; a new fault is refused as ever."""
    when, vacuum = (next(each for each in FIELDS if each.path == (name,)) for name in ("when", "vacuum"))
    bad = read_reading({"when": "soon", "pump": "transfer", "vacuum": "3"})
    assert (shown(bad, when), shown(bad, vacuum)) == ("soon", "3")
    with pytest.raises(EditError):
        typed(WALL, bad, when, "later", System.SI)
    dated = typed(WALL, bad, when, "2026-03-04", System.SI)
    assert (dated.when, shown(dated, vacuum), len(dated.problems)) == ("2026-03-04", "3", 1)
    whole = typed(WALL, dated, vacuum, "3", System.SI)
    assert (whole.vacuum[0].text, whole.problems, whole.unread) == ("3 kPa", (), {})
