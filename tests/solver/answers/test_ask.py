"""Questions answered backwards: at the answer the margin of the real solve is zero."""

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers import variations
from solver.answers.answer import Status
from solver.answers.ask import (
    QUESTIONS,
    ask,
    ask_all,
    highest_port,
)
from solver.answers.reasons import Reason, least_to_spare
from solver.answers.varied_drawing import PresentDrawing
from solver.findings.checks import check
from solver.formulas.flow import GRAVITY
from solver.layout.file import read
from solver.layout.kinds import LimitForm, PumpType
from solver.layout.parts import Level, Limit, Site
from solver.ledger.solve import solve
from solver.network.row_cache import RowCache
from solver.properties import fluid, sizes
from solver.quantities.units import Kind, Quantity, System, quantity, typeset
from solver.quantities.wording import degrees
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.records import nan_places
from tests.solver.checking import lifted, mesh, over_the_wall, with_floor, with_pump, with_screen
from tests.thorough import one_in

METRES = re.compile(r"\d+\.\d+ m")
LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def screened(**keys):
    return with_screen(lifted(), **mesh(**keys))


def with_speed(layout):
    displacement, speed = Quantity("80 cm^3/rev", 80e-6), Quantity("1500 rpm", 25.0)
    return with_pump(layout, displacement=displacement, speed=speed, flow=None)


def unhurried(layout):
    """Held to no velocity that its fluid comes near."""
    return replace(layout, criteria={"velocity_stop": Quantity("90 m/s", 90.0)})


def hot_water():
    """Water at 50 °C: what is left is spent by its vapour pressure as it grows hotter."""
    fluid = replace(lifted().fluid, name="Water", temperature=Quantity("50 degC", 323.15))
    npsh = Limit("npsh", ((None, Quantity("5 m", 5.0)),))
    return with_pump(replace(lifted(), fluid=fluid), limit=npsh)


def hosed():
    hose = replace(lifted().runs["riser"], size="hose -32", bore=None)
    return replace(lifted(), runs={"riser": hose})


def margin(layout, level="minimum"):
    return solve(layout, level).pumps["pump"].margin


def at(question, layout, value, level="minimum"):
    """The drawing with the thing asked about set to a value."""
    present = solve(layout, level)
    variation = QUESTIONS[question](present, present.pumps["pump"])
    assert not isinstance(variation, str)
    return variation.change(value)


LINES = {
    "highest port": lifted(),
    "smallest bore": unhurried(lifted()),
    "longest run": lifted(),
    "coldest start": lifted(z=1.0, lead=20.0, flow=0.003),
    "hottest fluid": hot_water(),
    "longest hose": hosed(),
    "highest site": lifted(),
    "lowest barometer": lifted(),
    "highest speed": unhurried(with_speed(lifted())),
    "largest flow": unhurried(lifted()),
    "dirtiest strainer": screened(),
    "least screen area": screened(),
    "most added K": lifted(),
    "heaviest fluid": lifted(z=2.5),
}


@pytest.mark.parametrize("question", LINES)
def test_at_the_answer_the_margin_is_spent(question):
    layout = LINES[question]
    assert margin(layout) > 0
    answer = ask(question, layout, "pump")
    assert answer.status == Status.FOUND
    assert answer.reason == Reason.FLOOR
    close = 2.0 if question == "highest port" else 0.1  # positions are kept to 0.1 mm
    assert margin(at(question, layout, answer.value)) == pytest.approx(0.0, abs=close)


@pytest.mark.parametrize("question", LINES)
def test_a_little_further_is_over_and_a_little_less_is_within(question):
    layout = LINES[question]
    answer = ask(question, layout, "pump")
    present = solve(layout)
    variation = QUESTIONS[question](present, present.pumps["pump"])
    step = (answer.value - variation.now) * 1e-2
    assert margin(variation.change(answer.value + step)) < 0 < margin(variation.change(answer.value - step))


def test_no_fluid_that_there_is_being_light_enough_is_not_enough_alone():
    """With a lift of 4.5 m the density would have to come down to some 530 kg/m³: no fluid has that."""
    answer = ask("heaviest fluid", lifted(z=4.5), "pump")
    assert answer.status == Status.ALREADY_OVER
    assert answer.value is None
    assert "still over at 600 kg/m³, where the search ends" in answer.text


def test_the_highest_port_is_nearly_the_margin_s_head_above_the_port():
    layout = lifted()
    pump_ledger = solve(layout).pumps["pump"]
    answer = highest_port(layout, "pump")
    above = answer.value - 1.2
    head = pump_ledger.margin / (pump_ledger.density * GRAVITY)
    assert head * 0.9 < above < head  # less, as the line grows with it


def test_a_solution_at_hand_gives_the_same_answer():
    layout = lifted()
    assert highest_port(layout, "pump", solution=solve(layout)) == highest_port(layout, "pump")


def test_a_highest_port_that_would_lie_under_the_tank_says_that_no_pump_stands_there():
    limit = Limit(LimitForm.VACUUM, ((None, Quantity("-0.1 bar", -10e3)),))
    starved = with_pump(lifted(), limit=limit)
    answer = highest_port(starved, "pump")
    assert answer.value < 0.0
    assert answer.text.endswith(
        f"come down to {typeset(answer.figure, Kind.LENGTH, System.SI)}, "
        "below the tank's floor at its present place"
    )


def test_the_level_in_use_counts():
    low, high = (highest_port(lifted(), "pump", level).value for level in ("minimum", "normal"))
    assert high - low == pytest.approx(0.15, abs=0.01)


def test_a_port_that_stands_too_high_is_told_where_it_would_do():
    answer = highest_port(lifted(z=3.0), "pump")
    assert answer.status == Status.ALREADY_OVER
    assert answer.value < 3.0
    assert margin(at("highest port", lifted(z=3.0), answer.value)) == pytest.approx(0.0, abs=2.0)
    assert answer.text.startswith(
        "Highest port: already over at 3.00 m, elevation of the port's centre; it would "
    )
    assert answer.text.endswith(f"have to come down to {typeset(answer.figure, Kind.LENGTH, System.SI)}")
    assert margin(at("highest port", lifted(z=3.0), answer.figure)) >= 0.0


def test_where_nothing_in_the_range_helps_there_is_no_value():
    answer = ask("longest run", with_floor(lifted(), 99e3), "pump")
    assert answer.status == Status.ALREADY_OVER
    assert answer.value is None
    assert METRES.sub("…", answer.text) == (
        "Longest run: already over at …, straight pipe in riser, as short as it is drawn; "
        "its bends come on top, and stay as they are, as do its heights"
    )


def at_level(layout, level):
    return QUESTIONS["lowest fluid level"](solve(layout), solve(layout).pumps["pump"]).change(level)


def nearly_spent():
    """A margin of some 0.2 m of fluid."""
    deep = lifted(at=(0.9, 0.02))
    return with_floor(deep, solve(deep).pumps["pump"].inlet - 1700.0)


def test_the_lowest_level_is_found_above_the_intake():
    deep = nearly_spent()
    answer = ask("lowest fluid level", deep, "pump")
    assert answer.status == Status.FOUND
    assert 0.02 < answer.by_margin < answer.value < 0.4
    assert answer.reason == Reason.VORTEX
    assert margin(at("lowest fluid level", deep, answer.by_margin)) == pytest.approx(0.0, abs=0.1)


def test_or_there_is_no_limit_down_to_the_intake():
    answer = ask("lowest fluid level", lifted(), "pump")
    assert answer.status == Status.FOUND
    assert answer.by_margin is None
    begins = re.fullmatch(
        r"Lowest fluid level: below (0\.\d+) m a vortex may draw air in; by the margin enough is "
        "left down to 0.120 m \\(now 0.400 m\\), elevation of the fluid in tank; the search ends there, "
        "at the intake strainer",
        answer.text,
    )
    assert begins is not None
    assert answer.reason == Reason.VORTEX
    assert answer.value <= float(begins[1]) < answer.value + 0.002  # rounded to where none begins
    assert answer.value == pytest.approx(float(begins[1]), abs=0.002)
    for level, drawn in ((float(begins[1]) + 0.003, []), (float(begins[1]) - 0.003, ["submergence"])):
        there = check(solve(at_level(lifted(), level)))
        assert [str(each.finding) for each in there if each.finding == "submergence"] == drawn


def test_the_level_after_a_draw_down_may_be_asked_about():
    """Its answer is the level itself, whatever volume brings it about; it may rise over the normal level."""
    deep = drawn_down(lifted(at=(0.9, 0.05), z=2.6))
    asked = ask("lowest fluid level", deep, "pump", "drawn down")
    plain = ask("lowest fluid level", replace_level(deep), "pump", "normal")
    assert asked.status == plain.status == Status.FOUND
    assert asked.by_margin == pytest.approx(plain.by_margin, abs=1e-3)
    there = at("lowest fluid level", deep, asked.by_margin, "drawn down")
    assert margin(there, "drawn down") == pytest.approx(0, abs=1)
    full = at("lowest fluid level", deep, 0.6, "drawn down")
    assert solve(full, "drawn down").pumps["pump"].fluid_level == pytest.approx(0.6)


def drawn_down(layout):
    tank = replace(layout.reservoirs["tank"], draw_down=Quantity("50 L", 0.05))
    return replace(layout, reservoirs={"tank": tank})


def replace_level(layout):
    tank = replace(layout.reservoirs["tank"], draw_down=None)
    return replace(layout, reservoirs={"tank": tank})


def test_one_bore_for_the_line_takes_a_reducer_along():
    reducer = replace(fitting("reducer", (0.9, 0.9), kind="concentric reducer"), other_bore=metres(0.08))
    layout = drawing(
        intake(bore=0.08),
        reducer,
        pump(at=(0.9, 1.5)),
        run("riser", "strainer", "reducer", bore=0.08),
        run("lead", "reducer", "pump"),
    )
    one = at("smallest bore", layout, 0.06)
    (row,) = (e for e in solve(one).pumps["pump"].entries if e.part == "reducer")
    assert row.loss == pytest.approx(0.0, abs=1e-9)


def test_a_line_of_several_bores_is_told_its_widest():
    wide = lifted()
    narrow = replace(wide, runs={n: replace(r, bore=metres(0.04), size=None) for n, r in wide.runs.items()})
    assert "(now 50.0 mm)" in ask("smallest bore", wide, "pump").text
    assert "(now up to 50.0 mm)" in ask("smallest bore", narrow, "pump").text


def test_where_a_range_ends_is_said_for_what_it_is():
    over = with_floor(screened(blocked=0.5), 99e3)
    text = ask("dirtiest strainer", over, "pump").text
    assert text == (
        "Dirtiest strainer: already over at 50 %, blocked share of strainer, and still over at 0 %, "
        "with a clean screen"
    )
    rim = ask("lowest fluid level", over, "pump").text
    assert re.search(r", and still over at 0\.\d+ m, the rim of tank$", rim)
    site = ask("highest site", over, "pump").text
    assert site.endswith(
        "on a standard day, and still over at 500 m below sea level, as low as any site on land, so it is "
        "over at any site"
    )


def test_a_site_below_the_sea_is_no_place_to_look_for() -> None:
    layout = LINES["highest site"]
    limit = ask("highest site", layout, "pump").value
    floor = solve(layout).pumps["pump"].floor
    at_sea, now = (solve(replace(layout, site=Site(elevation=Quantity("typed", z)))).pumps["pump"].margin
                   for z in (0.0, limit))  # fmt: skip
    answer = ask("highest site", with_floor(layout, floor + at_sea - now + 2e3), "pump")
    assert -500.0 < answer.value < 0.0
    assert re.search(r"come down to \d+ m below sea level, so it is over at any site above it$", answer.text)


def test_the_normal_level_may_be_asked_about_as_well():
    deep = nearly_spent()
    low, normal = (ask("lowest fluid level", deep, "pump", level).value for level in ("minimum", "normal"))
    assert normal == pytest.approx(low, abs=1e-5)


def test_the_smallest_bore_comes_with_the_next_standard_size_of_the_line_s_family():
    layout = read(LAYOUTS / "baler-flooded.toml").base
    answer = ask("smallest bore", layout, "baler")
    assert answer.status == Status.FOUND
    assert sizes.family(answer.size) == sizes.family("NPS 2 schedule 40")
    assert sizes.bore(answer.size) >= answer.value
    assert answer.size in answer.text
    parts = variations.line_parts(solve(layout).pumps["baler"])
    assert solve(variations.with_bore(layout, parts, size=answer.size)).pumps["baler"].within


def test_the_size_below_would_not_do():
    layout = read(LAYOUTS / "baler-flooded.toml").base
    answer = ask("smallest bore", layout, "baler")
    family = [s for s in sizes.names() if sizes.family(s) == sizes.family(answer.size)]
    below = family[family.index(answer.size) - 1]
    parts = variations.line_parts(solve(layout).pumps["baler"])
    assert margin_in_all(variations.with_bore(layout, parts, size=below), "baler") < 0


def test_a_bore_typed_as_a_figure_is_looked_up_among_the_pipes():
    answer = ask("smallest bore", lifted(), "pump")
    assert answer.size.startswith("NPS ")
    assert answer.size.endswith("schedule 40")


def test_the_coldest_start_names_the_pump_s_start_viscosity_as_well():
    layout = with_pump(LINES["coldest start"], start_viscosity=Quantity("400 cSt", 400e-6))
    text = ask("coldest start", layout, "pump").text
    assert re.search(r"; below −?\d+(\.\d)? °C the fluid is thicker than the pump's start viscosity$", text)
    usual = ask("coldest start", LINES["coldest start"], "pump").text
    assert re.search(
        r"; below −?\d+(\.\d)? °C the fluid is thicker than the usual start viscosity of its", usual
    )


def test_a_fluid_that_is_too_thick_already_is_told_where_it_would_be_thin_enough():
    """Asked of colder fluid alone, its start viscosity would seem to be reached nowhere."""
    thick = with_pump(LINES["coldest start"], start_viscosity=Quantity("20 cSt", 20e-6))
    text = ask("coldest start", thick, "pump").text
    below = float(re.search(r"; below (\d+(\.\d)?) °C the fluid is thicker", text)[1])
    warm = replace(thick.fluid, temperature=Quantity("typed", below + 273.15))
    assert below > 45.0
    assert fluid.state(warm).viscosity == pytest.approx(20e-6, rel=0.01)


@pytest.mark.parametrize(("start", "than"), [(100e-6, "thinner"), (10e-6, "thicker")])
def test_or_nowhere_if_the_fluid_s_figures_end_first(start, than):
    layout = with_pump(LINES["coldest start"], start_viscosity=Quantity("typed", start))
    flat = tuple(
        (Quantity("typed", kelvin), Quantity("typed", nu)) for kelvin, nu in ((250.0, 47e-6), (400.0, 46e-6))
    )
    even = replace(layout, fluid=replace(layout.fluid, viscosity=flat))
    text = ask("coldest start", even, "pump").text
    assert text.endswith(f"; the fluid is {than} than the pump's start viscosity as far as its figures go")


def test_one_viscosity_says_nothing_of_a_start():
    plain = LINES["coldest start"]
    one = replace(plain, fluid=replace(plain.fluid, viscosity=Quantity("46 cSt", 46e-6)))
    answer = ask("coldest start", one, "pump")
    assert answer.status == Status.NOT_ASKED
    assert "one viscosity" in answer.text


def test_the_coldest_start_begins_at_the_one_that_is_typed():
    plain = lifted(z=1.0, lead=20.0, flow=0.0025)  # laminar at and around the answer
    limit = ask("coldest start", plain, "pump").value

    def starting(kelvin):
        start = Quantity("typed", kelvin)
        return replace(plain, fluid=replace(plain.fluid, coldest_start=start))

    above = ask("coldest start", starting(limit + 1.0), "pump")
    assert above.status == Status.FOUND
    assert above.value == pytest.approx(limit, abs=1e-2)
    meant = "fluid temperature at full flow, the same in every case"
    assert f"(given {degrees(limit + 1.0, System.SI)}), {meant}; " in above.text
    below = ask("coldest start", starting(limit - 1.0), "pump")
    assert below.status == Status.ALREADY_OVER
    assert below.value == pytest.approx(limit, abs=1e-2)
    given, needed = (degrees(each, System.SI) for each in (limit - 1.0, below.value))
    assert f"already over at the {given} given, " in below.text
    assert f"; it would have to go up to {needed}; " in below.text


def test_the_fluid_s_data_may_end_first():
    answer = ask("coldest start", lifted(z=0.6, flow=1e-4), "pump")
    assert answer.status == Status.NO_LIMIT
    assert (
        "; the search ends there (Mineral oil, ISO VG 46: figures for its density hold from " in answer.text
    )
    assert margin(at("coldest start", lifted(z=0.6, flow=1e-4), answer.value)) > 0


@pytest.mark.parametrize(
    ("units", "range_of_data"), [(System.SI, "from −20 °C to 100 °C"), (System.US, "from −4 °F to 212 °F")]
)
def test_the_end_of_the_fluid_s_data_is_told_in_the_drawing_s_units(units, range_of_data):
    layout = replace(lifted(z=0.6, flow=1e-4), units=units)
    text = ask("coldest start", layout, "pump").text
    assert f"(Mineral oil, ISO VG 46: figures for its density hold {range_of_data}); " in text


def test_a_hose_that_cannot_be_bent_is_told_in_the_drawing_s_units():
    layout = read(LAYOUTS / "winter-press.toml").base
    for units, radius in ((System.SI, "229 mm"), (System.US, "9.00 in")):
        text = ask("smallest bore", replace(layout, units=units), "press").text
        assert f"a bend radius of {radius} is less than half the bore" in text


def test_a_barometer_is_read_as_the_height_it_stands_for():
    by_barometer = replace(lifted(), site=Site(barometer=quantity("83.0 kPa", Kind.PRESSURE)))
    by_elevation = lifted()
    one, other = (ask("highest site", layout, "pump") for layout in (by_barometer, by_elevation))
    assert one.value == pytest.approx(other.value, abs=0.1)


def test_the_weather_allowance_stays_at_every_site():
    site = Site(elevation=metres(0.0), weather_allowance=quantity("3 kPa", Kind.PRESSURE))
    layouts = (lifted(), replace(lifted(), site=site))
    calm, stormy = (ask("highest site", layout, "pump").value for layout in layouts)
    assert calm - stormy > 200.0


def test_without_a_speed_the_flow_alone_is_asked_about():
    answer = ask("largest flow", unhurried(lifted()), "pump")
    assert answer.status == Status.FOUND
    assert margin(lifted(flow=answer.value)) == pytest.approx(0.0, abs=0.1)
    assert "), taken in by pump; but then: riser: " in answer.text
    speed = ask("highest speed", lifted(), "pump")
    assert (speed.status, speed.text) == (Status.NOT_ASKED, "Highest speed: pump is given by its flow")


def test_a_fitting_of_the_most_added_k_spends_the_margin():
    """K q of the port's bore, with q of the mean velocity, is the whole of the margin."""
    ledger = solve(lifted()).pumps["pump"]
    answer = ask("most added K", lifted(), "pump")
    velocity = ledger.flow / (math.pi / 4 * 0.05**2)
    assert answer.value * ledger.density * velocity**2 / 2 == pytest.approx(ledger.margin, rel=1e-3)
    assert "straight pipe" not in answer.text  # it may stand anywhere


def test_the_lowest_barometer_is_the_margin_below_that_of_today():
    answer = ask("lowest barometer", lifted(), "pump")
    assert answer.value == pytest.approx(101_325.0 - solve(lifted()).pumps["pump"].margin, abs=1.0)


def test_where_the_column_breaks_before_the_floor_is_reached_it_binds():
    """Over a wall the pressure at the top is less than at the port: the fluid boils there first."""
    wall = over_the_wall()
    water = replace(wall, fluid=replace(wall.fluid, name="Water", temperature=Quantity("85 degC", 358.15)))
    low = with_floor(water, 2e3)
    answer = ask("highest site", low, "pump")
    assert answer.reason == Reason.VAPOR_PRESSURE
    assert answer.text.endswith("; there the column of fluid breaks")
    there = QUESTIONS["highest site"](solve(low), solve(low).pumps["pump"]).change(answer.value)
    ledger = solve(there).pumps["pump"]
    assert ledger.lowest == pytest.approx(ledger.vapor_pressure, abs=1.0)
    assert ledger.margin > 0


def test_a_start_too_thick_for_the_pump_comes_before_the_margin_s():
    plain = LINES["coldest start"]
    by_margin = ask("coldest start", plain, "pump").value
    warmer = replace(plain.fluid, temperature=Quantity("typed", by_margin + 2.0))
    limit = fluid.state(warmer).viscosity
    layout = with_pump(plain, start_viscosity=Quantity("typed", limit))
    answer = ask("coldest start", layout, "pump")
    assert answer.reason == Reason.VISCOSITY
    assert answer.value == pytest.approx(by_margin + 2.0, abs=0.01)
    thick = replace(layout.fluid, temperature=Quantity("typed", answer.value))
    assert fluid.state(thick).viscosity == pytest.approx(limit, rel=1e-3)
    assert answer.text.startswith(f"Coldest start: {degrees(answer.figure, System.SI)}, by the pump's start")
    assert answer.text.count("start viscosity") == 1
    assert margin(at("coldest start", layout, answer.value)) > 0


def test_the_end_of_a_search_is_named():
    """A bend that finds no room on the way, and figures of the fluid that end."""
    press = read(LAYOUTS / "winter-press.toml").base
    warm = replace(press, cases={}, fluid=replace(press.fluid, temperature=Quantity("40 degC", 313.15)))
    warm = replace(warm, fluid=replace(warm.fluid, coldest_start=None))
    gone = {name: replace(pump, type=PumpType.CENTRIFUGAL) for name, pump in warm.pumps.items()}
    assert ask("hottest fluid", replace(warm, pumps=gone), "press").reason == Reason.SEARCH


def test_answers_beyond_reason_hold_no_nan():
    assert nan_places(ask_all(with_floor(lifted(), 99e3), "pump")) == []


@pytest.mark.parametrize("question", ["smallest bore", "highest speed", "largest flow"])
def test_the_fluid_runs_no_faster_than_it_may_wherever_an_answer_leads(question):
    """1.5 m/s, the stop of the criteria, passed by far where the margin would be spent."""
    layout = with_speed(lifted())
    answer = ask(question, layout, "pump")
    assert (answer.status, answer.reason) == (Status.FOUND, Reason.VELOCITY)
    assert ", by the velocity in riser, 1.50 m/s at most; by the margin " in answer.text
    assert "over the utmost" not in answer.text
    assert margin(at(question, layout, answer.value)) > 0
    there = solve(at(question, layout, answer.value)).pumps["pump"]
    assert max(entry.velocity for entry in there.entries) == pytest.approx(1.5, rel=1e-5)


def test_no_other_answer_lets_a_velocity_begin():
    layout = with_speed(lifted())
    answers = {answer.question: answer for answer in ask_all(layout, "pump")}
    hurried = {name for name, answer in answers.items() if answer.reason == Reason.VELOCITY}
    assert hurried == {"smallest bore", "highest speed", "largest flow"}
    for name in {name for name, answer in answers.items() if answer.value is not None} - hurried:
        there = solve(at(name, layout, answers[name].value)).pumps["pump"]
        assert max(entry.velocity for entry in there.entries) < 1.5, name


def test_where_the_fluid_runs_too_fast_already_nothing_may_go_further():
    layout = replace(with_speed(lifted()), criteria={"velocity_stop": Quantity("0.9 m/s", 0.9)})
    flow, port = (ask(question, layout, "pump") for question in ("largest flow", "highest port"))
    assert (flow.value, flow.reason) == (0.002, Reason.VELOCITY)
    assert flow.text.startswith(
        "Largest flow: already the fluid in riser runs faster than 0.90 m/s, where a stop begins; by the "
        "margin "
    )
    assert port.reason == Reason.FLOOR  # it runs no faster there
    bore = ask("smallest bore", layout, "pump")
    assert bore.reason == Reason.VELOCITY
    wider = replace(layout.runs["riser"], size=bore.size, bore=None)
    there = solve(replace(layout, runs={**layout.runs, "riser": wider})).pumps["pump"]
    assert max(entry.velocity for entry in there.entries if entry.key.startswith("riser/straight")) < 0.9


def test_a_case_that_is_not_judged_is_named_in_every_answer():
    layout = with_cold_start(lifted(), "-90 degC")
    answers = ask_all(layout, "pump")
    with_value = [a for a in answers if a.status == Status.FOUND]
    assert with_value
    assert all(a.text.endswith('; "coldest start" not judged, and left out') for a in with_value)


def test_a_typed_flow_goes_with_the_speed():
    layout = with_pump(lifted(), speed=Quantity("1500 rpm", 25.0))
    fast = at("highest speed", layout, 50.0).pumps["pump"]
    assert fast.flow.si == pytest.approx(2 * layout.pumps["pump"].flow.si)


def test_a_speed_found_on_an_estimated_floor_says_so():
    plain = ask("highest speed", with_speed(lifted()), "pump")
    assert "estimate" not in plain.text
    layout = with_pump(with_speed(lifted()), rated_speed=Quantity("1500 rpm", 25.0))
    answer = ask("highest speed", layout, "pump")
    assert answer.value < plain.value
    assert answer.text.endswith("; the least inlet pressure there is an estimate")
    slow = with_floor(with_pump(layout, rated_speed=Quantity("900 rpm", 15.0)), 10e3)
    assert "; the least inlet pressure there is an estimate too far from the maker's speed" in (
        ask("highest speed", slow, "pump").text
    )


def test_no_strainer_no_dirt():
    answer = ask("dirtiest strainer", lifted(), "pump")
    assert answer.status == Status.NOT_ASKED
    assert "no strainer" in answer.text


def test_a_bypass_may_leave_no_limit():
    answer = ask("dirtiest strainer", screened(bypass=Quantity("2 kPa", 2e3)), "pump")
    assert answer.status == Status.NO_LIMIT
    assert answer.text.endswith("; the search ends there; once its bypass opens, more dirt takes no more")


def test_a_line_with_no_room_above_ends_where_it_can_still_be_drawn():
    """The port cannot pass the tank's own level of refusals: whatever ends the way is quoted."""
    layout = drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        pump(at=(2.2, 0.12), flow=1e-4),
        run("lead", "nozzle", "pump", bend_radius=0.5),
    )
    answer = highest_port(layout, "pump")
    assert answer.status in (Status.FOUND, Status.NO_LIMIT)
    assert answer.value >= 0.12


@pytest.mark.parametrize("file", one_in(4, sorted(LAYOUTS.glob("*.toml"))), ids=lambda file: file.stem)
def test_every_question_is_answered_for_every_example(file):
    layout = read(file).base
    for name in layout.pumps:
        answers = ask_all(layout, name)
        assert [answer.question for answer in answers] == list(QUESTIONS)
        assert nan_places(answers) == []
        for answer in answers:
            assert answer.status in Status
            assert answer.text.lower().startswith(answer.question.lower())


def test_an_unknown_question_is_an_error():
    with pytest.raises(KeyError):
        ask("tallest tale", lifted(), "pump")


def margin_in_all(layout, pump):
    return least_to_spare(PresentDrawing(layout, pump, Level.MINIMUM, RowCache()).present, pump)


def with_cold_start(layout, text):
    return replace(layout, fluid=replace(layout.fluid, coldest_start=quantity(text, Kind.TEMPERATURE)))


@pytest.mark.parametrize("question", ["highest port", "highest site", "longest run"])
def test_a_cold_start_that_leaves_less_sets_the_answer(question):
    base = read(LAYOUTS / "baler-flooded.toml").base
    layout = with_cold_start(base, "5 degC")
    answer = ask(question, layout, "baler")
    present = solve(layout)
    changed = QUESTIONS[question](present, present.pumps["baler"]).change(answer.value)
    assert margin_in_all(changed, "baler") == pytest.approx(0.0, abs=2.0)
    assert solve(changed).pumps["baler"].margin > 100.0
    assert '; "coldest start" decides' in answer.text
    warm = replace(base, fluid=replace(base.fluid, coldest_start=None))
    assert ask(question, warm, "baler").value > answer.value
    assert "decides" not in ask(question, warm, "baler").text


def test_a_cold_start_that_is_no_colder_changes_no_answer():
    base = read(LAYOUTS / "baler-flooded.toml").base
    warm = replace(base, fluid=replace(base.fluid, coldest_start=None))
    same = with_cold_start(base, base.fluid.temperature.text)
    assert ask("highest port", same, "baler") == ask("highest port", warm, "baler")


def test_what_has_to_change_by_less_than_is_shown_is_not_the_figure_that_is_over():
    layout = LINES["highest site"]
    limit = ask("highest site", layout, "pump").value
    higher = replace(layout, site=Site(elevation=Quantity("typed", limit + 0.05)))
    answer = ask("highest site", higher, "pump")
    assert answer.status == Status.ALREADY_OVER
    assert "; it would have to come down to a little under that" in answer.text


def test_where_no_line_is_a_hose_it_is_said_how_one_becomes_it():
    layout = drawing(
        fitting("connector", (0.9, 0.6), kind="flexible connector"),
        run("foot", "strainer", "connector"),
        run("top", "connector", "pump"),
    )
    text = ask("longest hose", layout, "pump").text
    assert 'such as "hose -32"' in text
    assert "flexible connector" in text
