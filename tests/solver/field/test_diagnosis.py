"""What is said of a visit: how sure, by what, and what to do next; first that the pump must stop."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.as_read import screens_as_read
from solver.field.causes import AIR, CauseKind, causes, without_bypass
from solver.field.caveats import UNTIMED
from solver.field.compared import STOP
from solver.field.diagnosis import Diagnosis, NothingToExplainError, _by_newest, diagnose
from solver.field.headline import NO_SIZE
from solver.field.looks import LOCKED_OUT
from solver.field.places import Place
from solver.field.trend import trends
from solver.field.visits import visits
from solver.layout import file
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve, solve_network
from solver.network.build import build
from solver.quantities.units import Kind, Quantity, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
GAUGE = LoggedGauge("A", quantity("0 m", Kind.LENGTH), "empty", 1.0, None, quantity("0 kPa", Kind.VACUUM))
STATE = {
    "level": "minimum",
    "fluid": {"temperature": "45 degC"},
    "pumps": {"carriage": {"speed": "1450 rpm"}},
}
PORT = LoggedReading("2026-03-04 09:30", "carriage", gauge=GAUGE, state=STATE, measured_at="line")
TAP = replace(PORT, run="riser", distance=quantity("0.1 m", Kind.LENGTH), gauge=replace(GAUGE, name="B"))


def shown(machine: Layout, reading: LoggedReading) -> LoggedReading:
    """A reading with what a machine shows at its place."""
    along = 0.0 if reading.distance is None else reading.distance.si
    vacuum = places.vacuum(solve(machine), Place("carriage", reading.run, along))
    rest = places.at_rest(solve(machine), Place("carriage", reading.run, along))
    return replace(reading, vacuum=(pascals(vacuum),), rest_vacuum=(pascals(rest),))


def pascals(vacuum: float) -> Quantity:
    return Quantity(f"{vacuum!r} Pa", vacuum)


def diagnosed(machine: Layout, *readings: LoggedReading, drawn: Layout = DRAWN) -> Diagnosis:
    return diagnose(replace(drawn, readings=tuple(shown(machine, each) for each in readings)), "carriage")


BLOCKED = inputs.blocked(DRAWN, ("strainer",), 0.85, Level.MINIMUM)


def test_a_blocked_screen_is_told_with_its_evidence_and_its_size() -> None:
    diagnosis = diagnosed(BLOCKED, replace(PORT, filler_cap="no change"), TAP)
    assert diagnosis.headline.startswith(STOP)
    first = diagnosis.causes[0]
    assert first.explanation.cause is CauseKind.SCREEN
    assert "% blocked" in first.size
    assert any("the port: read" in line for line in first.evidence_for)
    assert first.may_put_in
    narrowed = next(each for each in diagnosis.causes if each.name == "bore narrowed: lead")
    assert (narrowed.word, narrowed.may_put_in) == ("cannot", False)
    assert any(line.startswith("riser: read") for line in narrowed.evidence_against)


def test_nothing_is_asked_of_a_running_pump_while_an_earlier_stop_counts() -> None:
    past = replace(PORT, when="2026-01-04 09:30", vacuum=(quantity("60 kPa", Kind.VACUUM),))
    mild = replace(PORT, state={}, vacuum=(quantity("2 kPa", Kind.VACUUM),))
    layout = replace(DRAWN, readings=(past, mild))
    diagnosis = diagnose(layout, "carriage")
    assert diagnosis.stop
    assert diagnosis.headline.startswith(f"{STOP}: an earlier visit")
    assert [each.number for each in diagnosis.comparisons] == [1]
    assert all(each.stopped for each in diagnosis.steps)


def test_one_reading_undecided_and_asks_for_the_next() -> None:
    alone = replace(shown(BLOCKED, PORT), rest_vacuum=())
    diagnosis = diagnose(replace(DRAWN, readings=(alone,)), "carriage")
    assert "Cannot be distinguished" in diagnosis.headline
    assert diagnosis.next is not None
    assert diagnosis.next.stopped or "speed" in diagnosis.next.what  # it stands past what is allowed
    assert "locked out" in diagnosis.next.what, (
        "a thicker fluid and a soft connector read alike at any speed here"
    )
    assert not any(caveat.startswith("No ") for caveat in diagnosis.caveats)


def test_a_drawing_that_is_over_by_itself_is_no_fault() -> None:
    diagnosis = diagnosed(DRAWN, PORT)
    assert "Over by design, and not from a fault" in diagnosis.headline
    left = 1.0 - math.fsum(each.explanation.weight for each in diagnosis.causes)
    assert left >= 0.01
    assert diagnosis.caveats[0].endswith(f"{100.0 * left:.0f} % in all."), "so that the shares add up"


def test_within_and_as_drawn_nothing_is_wrong() -> None:
    sea = replace(DRAWN, site=replace(DRAWN.site, elevation=quantity("0 m", Kind.ELEVATION)))
    diagnosis = diagnosed(sea, PORT, TAP, drawn=sea)
    assert not diagnosis.stop
    assert diagnosis.causes[0].explanation.cause is CauseKind.NOTHING
    assert not any("locked out" in step.what for step in diagnosis.steps), "no sound machine is taken apart"
    assert not any("No further reading" in each for each in diagnosis.caveats)
    assert any("hardly shows air" in caveat for caveat in diagnosis.caveats)


@pytest.mark.thorough
def test_air_is_four_causes_with_evidence_and_no_size() -> None:
    sea = replace(DRAWN, site=replace(DRAWN.site, elevation=quantity("0 m", Kind.ELEVATION)))
    heard = replace(PORT, sound="erratic", foam=True)
    diagnosis = diagnosed(sea, heard, drawn=sea)
    air = [each for each in diagnosis.causes if each.explanation.cause in AIR]
    assert {each.explanation.cause for each in air} == set(AIR)
    assert {(each.size, each.may_put_in) for each in air} == {("", False)}
    assert all(any("points to air" in line for line in each.evidence_for) for each in air)
    assert diagnosis.headline == "Likelier than any other: air is drawn in."
    assert diagnosis.beneath[0].startswith("Where the air gets in is not clear: air at a joint, ")
    assert "A gauge cannot show the size of an air leak." in diagnosis.caveats
    joint = next(each for each in air if each.explanation.cause is CauseKind.JOINT)
    (suspects,) = (line for line in joint.evidence_for if line.startswith("suspects"))
    assert suspects.index("lead to carriage") < suspects.index("riser to connector")
    assert diagnosis.next is not None
    assert "jar" in diagnosis.next.what  # whether it is air at all
    clear = replace(heard, jar="clears from below")
    sure = diagnosed(sea, clear, drawn=sea)
    assert sure.headline == "Likelier than any other: air is drawn in."
    assert sure.next is not None
    assert "wet one joint" in sure.next.what
    wetted = diagnosed(sea, replace(clear, joints_wetted="changed"), drawn=sea)
    assert wetted.causes[0].explanation.cause is CauseKind.JOINT
    assert "likelier than any other: air at a joint." in wetted.headline.lower()


def test_no_joint_is_a_suspect_where_none_is_below_the_atmosphere() -> None:
    flooded = file.read(PATH).alternatives["Pump beside the tank"].layout
    solution = solve(flooded)
    assert solution.pumps["carriage"].vacuum < 0.0
    heard = replace(shown(flooded, PORT), sound="erratic", foam=True, line="beside")
    diagnosis = diagnose(replace(flooded, readings=(heard,)), "carriage", "beside")
    joint, seal = (
        next(each for each in diagnosis.causes if each.explanation.cause is kind)
        for kind in (CauseKind.JOINT, CauseKind.SEAL)
    )
    assert (joint.word, seal.word) == ("cannot", "cannot")
    assert "no joint is below the atmosphere" in joint.evidence_against[0]


def test_a_normal_vacuum_that_holds_at_rest_rules_a_plugged_breather_out() -> None:
    more = places.vacuum(solve(DRAWN), Place("carriage")) + 5e3
    read = replace(shown(DRAWN, PORT), vacuum=(pascals(more),))
    both = (diagnose(with_readings(one), "carriage") for one in (read, replace(read, fall_time="holds")))
    open_still, ruled_out = (
        next(each for each in one.causes if each.name == "breather plugged: tank") for one in both
    )
    assert (open_still.word == "cannot", ruled_out.word) == (False, "cannot")
    assert any(line.startswith("the port at rest: read") for line in ruled_out.evidence_against)


def test_a_vacuum_that_no_pump_fills_under_is_named() -> None:
    reading = replace(PORT, vacuum=(pascals(75e3),))
    diagnosis = diagnose(replace(DRAWN, readings=(reading,)), "carriage")
    assert diagnosis.headline.endswith(NO_SIZE)
    assert {(each.size, each.may_put_in) for each in diagnosis.causes} == {("", False)}
    assert any("does not fill is loud" in caveat for caveat in diagnosis.caveats)


def test_a_reading_speaks_only_for_what_brings_the_drawing_nearer_to_it() -> None:
    alone = replace(PORT, rest_vacuum=(pascals(places.at_rest(solve(DRAWN), Place("carriage")) + 900.0),))
    causes = {each.explanation.cause: each for each in diagnose(with_readings(alone), "carriage").causes}
    assert not causes[CauseKind.NOTHING].evidence_for
    assert not causes[CauseKind.SCREEN].evidence_for  # nothing flows at rest
    assert causes[CauseKind.LEVEL].evidence_for
    assert causes[CauseKind.BORE].size.endswith("% of its diameter left, or less; nothing smaller was tried")
    assert causes[CauseKind.AS_BUILT].size.endswith("% longer, or more; nothing larger was tried")


def test_readings_of_another_line_alone_are_no_readings_of_this_one() -> None:
    with pytest.raises(NothingToExplainError, match="no reading of carriage on this line"):
        diagnose(with_readings(replace(shown(DRAWN, PORT), line="old")), "carriage")


def with_readings(*readings: LoggedReading) -> Layout:
    return replace(DRAWN, readings=readings)


@pytest.mark.thorough
def test_readings_of_the_latest_visit_are_explained_together() -> None:
    before = replace(PORT, when="2026-01-04")
    evening = replace(TAP, when="2026-03-03 18:00")
    layout = replace(DRAWN, readings=tuple(shown(DRAWN, each) for each in (PORT, before, evening)))
    diagnosis = diagnose(layout, "carriage")
    assert [each.number for each in diagnosis.comparisons] == [0, 2]
    assert diagnosis.visit == "2026-03-03 to 2026-03-04"
    dated = replace(layout, readings=(layout.readings[0], replace(layout.readings[2], when="2026-03-03")))
    untimed = diagnose(dated, "carriage")
    assert [each.number for each in untimed.comparisons] == [0]
    assert UNTIMED.format("2026-03-03") in untimed.caveats
    assert [each.number for each in diagnose(layout, "carriage", numbers=(1,)).comparisons] == [1]


def test_readings_that_cannot_be_compared_are_named() -> None:
    gone = replace(shown(DRAWN, TAP), run="gone")
    layout = replace(DRAWN, readings=(shown(DRAWN, PORT), gone))
    assert [each.number for each in diagnose(layout, "carriage").not_used] == [1]
    with pytest.raises(NothingToExplainError, match="no run gone"):
        diagnose(replace(DRAWN, readings=(gone,)), "carriage")
    with pytest.raises(NothingToExplainError, match="no reading of carriage"):
        diagnose(DRAWN, "carriage")


def test_where_none_of_these_explains_it_something_is_asked_for_that_would_narrow_it() -> None:
    odd = [replace(PORT, vacuum=(pascals(5e3),)), replace(TAP, vacuum=(pascals(25e3),), gauge=GAUGE)]
    diagnosis = diagnose(replace(DRAWN, readings=tuple(odd)), "carriage")
    assert "None of these causes explains the readings." in diagnosis.headline
    assert diagnosis.next is not None
    assert "at rest" in diagnosis.next.what
    assert "as drawn" in diagnosis.next.shows[0]


def test_what_a_pump_adds_to_its_reading_at_rest_counts_where_the_gauge_is_not_described() -> None:
    unknown = LoggedGauge()
    rest = places.at_rest(solve(DRAWN), Place("carriage")) + 3e3  # by fluid in a tube that nobody noted
    sound = places.vacuum(solve(DRAWN), Place("carriage")) + 3e3
    visits = [
        replace(PORT, when=when, gauge=unknown, vacuum=(pascals(sound + more),), rest_vacuum=(pascals(rest),))
        for when, more in (("2026-03-04", 0.0), ("2026-06-04", 2.5e3), ("2026-09-04", 6e3))
    ]
    first, *_, last = visits
    assert diagnose(with_readings(first), "carriage").causes[0].explanation.cause is CauseKind.NOTHING
    by_kind = {each.explanation.cause: each for each in diagnose(with_readings(last), "carriage").causes}
    assert by_kind[CauseKind.NOTHING].word == "cannot"
    assert by_kind[CauseKind.OFFSET].word == "cannot", "a gauge that is off is so at rest too"
    diagnosis = diagnose(with_readings(*visits), "carriage")
    assert diagnosis.causes[0].explanation.cause is CauseKind.SCREEN
    thick = next(each for each in diagnosis.causes if each.explanation.cause is CauseKind.FLUID)
    assert any("2026-03-04 fitted the drawing" in words for words in thick.evidence_against)
    running = diagnosis.comparisons[0].words(System.SI)[0]
    assert "Running less at rest" in running
    assert ": above the " in running


def test_a_screen_that_its_bypass_alone_rules_out_says_that_it_rests_on_the_bypass_as_drawn() -> None:
    cold = inputs.temperature(DRAWN, ("",), 298.15, Level.MINIMUM)
    machine = inputs.blocked(without_bypass(cold, "strainer"), ("strainer",), 0.97, Level.MINIMUM)
    read = [
        replace(each, state={**STATE, "fluid": {"temperature": "25 degC"}}, gauge=replace(GAUGE, name="A"))
        for each in (PORT, TAP)
    ]
    diagnosis = diagnosed(machine, *read)
    first = diagnosis.causes[0].explanation
    assert first.cause is CauseKind.STUCK
    screen = next(each for each in diagnosis.causes if each.name == "screen blocked: strainer")
    assert screen.word == "cannot"
    why = "its bypass as drawn, which opens at 3.00 psi, lets no more build up"
    assert any(words.startswith(why) for words in screen.evidence_against), screen.evidence_against
    warm = diagnosed(BLOCKED, PORT, TAP)
    assert not any("its bypass as drawn" in why for each in warm.causes for why in each.evidence_against)


def test_what_alone_fits_is_looked_at_with_the_drive_locked_out() -> None:
    soft = next(
        each for each in causes(DRAWN, solve(DRAWN).pumps["carriage"], ()) if each.kind is CauseKind.HOSE
    )
    read = []
    for warmth in (15.0, 60.0):
        warm = inputs.temperature(DRAWN, ("",), warmth + 273.15, Level.MINIMUM)
        vacuum = places.vacuum(solve_network(soft.change(build(warm), 0.5)), Place("carriage"))
        state = {**STATE, "fluid": {"temperature": f"{warmth} degC"}}
        read.append(replace(PORT, state=state, vacuum=(pascals(vacuum),)))
    diagnosis = diagnose(with_readings(*read), "carriage")
    assert (diagnosis.explained.word, diagnosis.causes[0].name) == (
        "far likelier",
        "hose liner soft: connector",
    )
    assert diagnosis.next is not None
    assert diagnosis.next.what.startswith(f"{LOCKED_OUT}take connector off at one end")


def test_the_band_of_the_visit_is_told_apart_from_the_one_that_the_verdict_uses() -> None:
    layout = file.read(next(path for path in SHIPPED if path.stem == "strainer-over-a-year")).base
    diagnosis = diagnose(layout, "feed")
    size = diagnosis.causes[0].size
    (read,) = screens_as_read(layout)
    assert size.removesuffix(" blocked") != read.share
    (said,) = (each for each in diagnosis.beneath if size in each)
    assert f"by the newest alone it is {read.share}" in said
    before = visits(layout, "feed")[0]
    assert not any("newest alone" in each for each in diagnose(layout, "feed", "", before).beneath)
    assert not list(_by_newest(trends(layout, "feed"), "strainer", f"{read.share} blocked"))
    assert not list(_by_newest(trends(layout, "feed"), "strainer", ""))
    assert not list(_by_newest(trends(layout, "feed"), "riser", size))
