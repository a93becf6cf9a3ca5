"""What the plan adds to the figures: levels, gauge figures, and what is to be asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.card import rows
from solver.field.mounts import mount_of
from solver.field.places import Place
from solver.field.plan import facts, steps
from solver.field.priming import priming, with_fluid_of
from solver.findings.judgement import alone, judge
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Layout, Limit, LimitForm
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity, typeset
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}


def work(layout: Layout) -> tuple[str, ...]:
    solution = solve(layout)
    pump = next(iter(layout.pumps))
    return steps(priming(solution, pump, System.SI), alone(solution, ()), solution, System.SI)


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_plan_goes_from_the_locked_drive_to_the_running_gauge(name: str) -> None:
    text = work(LAYOUTS[name])
    order = [
        next(i for i, step in enumerate(text) if key in step) for key in ("lock it off", "locks off", "Jog")
    ]
    assert order == sorted(order)
    ledger = solve(LAYOUTS[name]).pumps[next(iter(LAYOUTS[name].pumps))]
    assert typeset(abs(ledger.vacuum), Kind.VACUUM, System.SI) in text[-1]
    assert "as the machine's card says" in text[-1] or "no reading up to which it may run" in text[-1]


def test_a_pressure_that_must_stand_at_the_port_is_stopped_at_when_it_falls() -> None:
    wall = LAYOUTS["over-the-bund-wall"]
    limit = Limit(LimitForm.PRESSURE, ((None, quantity("112 kPa abs", Kind.ABSOLUTE)),))
    pressed = replace(wall, pumps={"transfer": replace(wall.pumps["transfer"], limit=limit)})
    assert "no reading up to which it may run; past the limit: do not run it like this." in work(pressed)[-1]
    (tank,) = wall.reservoirs.values()
    raised = replace(tank, pressure=quantity("0.3 bar", Kind.PRESSURE))
    text = work(replace(pressed, reservoirs={tank.name: raised}))[-1]
    assert "above the atmosphere or less, as the machine's card says" in text


def test_a_pump_on_the_same_header_is_locked_off_too() -> None:
    """A header that is shut or opened starves the other pump, or fills it with air, if that runs."""
    header = LAYOUTS["header-two-pumps"]
    assert any(
        "tag it, and that of pilot, which draws through the same line" in each for each in work(header)
    )
    assert not any("same line" in each for each in work(LAYOUTS["winter-press"]))


def test_a_pump_that_is_over_on_a_low_pressure_day_alone_has_a_limit_on_any_other() -> None:
    header = LAYOUTS["header-two-pumps"]
    pump = replace(header.pumps["main"], limit=_limit_of(header, 1500.0))
    text = work(replace(header, cases={}, pumps={**header.pumps, "main": pump}))[-1]
    assert "Past the limit on a low-pressure day: do not run it then; on any other day" in text
    assert "no reading up to which" not in text


def _limit_of(layout: Layout, room: float) -> Limit:
    """A limit of the first pump that leaves it so much room as drawn [Pa]."""
    ledger = next(iter(solve(layout).pumps.values()))
    sea = ledger.vacuum + room + 101_325.0 - ledger.atmosphere
    return Limit(LimitForm.VACUUM, ((None, quantity(f"{sea!r} Pa", Kind.VACUUM)),))


def test_a_line_that_is_over_is_not_started() -> None:
    assert work(LAYOUTS["carriage-at-altitude"])[0].startswith("Do not start carriage yet")
    assert not work(LAYOUTS["over-the-bund-wall"])[0].startswith("Do not")


def test_a_line_over_a_wall_to_a_port_under_the_fluid_is_shut_before_it_is_opened() -> None:
    """Once full it is a siphon: opened at the pump it empties the tank."""
    text = work(LAYOUTS["over-the-bund-wall"])
    shut = next(i for i, step in enumerate(text) if "Close isolator and lock it" in step)
    assert "empties store over the high place" in text[shut]
    assert shut < next(i for i, step in enumerate(text) if "Fill" in step)


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ({}, "shear cannot draw that air out itself."),
        (
            {"dry_lift": None, "priming_time": None},
            "shear can draw that air out itself only if its maker says so.",
        ),
        (
            {"dry_lift": "3 m", "priming_time": "60 s"},
            "never open it as a vent; shear draws that air out as it primes the line.",
        ),
    ],
)
def test_a_high_place_over_the_fluid_asks_for_nothing_that_the_maker_forbids(
    figures: dict[str, str | None], words: str
) -> None:
    layout = LAYOUTS["shear-started-dry"]
    kinds = {"dry_lift": Kind.LENGTH, "priming_time": Kind.TIME}
    typed = {key: None if text is None else quantity(text, kinds[key]) for key, text in figures.items()}
    pump = replace(layout.pumps["shear"], **typed)  # type: ignore[arg-type]
    text = work(replace(layout, pumps={"shear": pump}))
    (step,) = (each for each in text if each.startswith("The high place in line"))
    assert step.endswith(words)


def test_pressure_on_the_tank_is_let_off_first() -> None:
    layout = LAYOUTS["baler-flooded"]
    (tank,) = layout.reservoirs.values()
    pressed = replace(tank, pressure=quantity("0.3 bar", Kind.PRESSURE))
    text = work(replace(layout, reservoirs={tank.name: pressed}))
    off = next(i for i, step in enumerate(text) if f"Let the pressure off {tank.name}" in step)
    assert off < next(i for i, step in enumerate(text) if step.startswith("Close isolator"))
    assert not any("Let the pressure off" in step for step in work(layout))


def test_at_rest_the_gauge_shows_the_weight_of_the_fluid_alone() -> None:
    layout = LAYOUTS["over-the-bund-wall"]
    solution = solve(layout)
    ledger = solution.pumps["transfer"]
    head = ledger.density * 9.80665 * (ledger.fluid_level - ledger.port_z)
    shown = typeset(head, Kind.VACUUM, System.SI)
    assert any(f"shows {shown} above the atmosphere" in step for step in work(layout))


def test_card_and_plan_are_at_rest_at_one_temperature_and_name_it() -> None:
    """In the cold case too, whose fluid weighs more."""
    layout = LAYOUTS["strainer-over-a-year"]
    judgement = judge(layout)
    cold = judgement.cases["cold morning"].solution
    assert cold is not None
    said = dict(facts(priming(cold, "feed", System.SI), cold, System.SI, layout))[
        "Gauge at the port, line full, at rest"
    ]
    row = next(row for row in rows(judgement, "feed", System.SI) if not row.cases and not row.place.run)
    assert row.clean is not None
    gauge = mount_of(layout, Place("feed"))
    at_minimum = typeset(row.clean[1] - gauge.shift(solve(layout)), Kind.VACUUM, System.SI)
    assert said == f"{at_minimum} of vacuum, fluid at 45 °C"
    assert "line full, 45 °C" in row.words
    assert with_fluid_of(cold, layout).fluid.temperature == solve(layout).fluid.temperature


def test_what_only_the_maker_knows_is_asked_for() -> None:
    solution = solve(LAYOUTS["carriage-at-altitude"])
    listed = dict(facts(priming(solution, "carriage", System.US), solution, System.US, solution.layout))
    assert listed["The pump's case holds"] == "not known: ask its maker"
    assert listed["Longest run without fluid, by its maker"] == "not known: ask its maker"
    assert "not known" in listed["Primes its line by itself"]


def test_what_was_opened_last_is_fitted_again_before_the_line_is_filled() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    unnoted = work(layout)
    why = next(i for i, step in enumerate(unnoted) if "find out why it is empty" in step)
    assert why < next(i for i, step in enumerate(unnoted) if step.startswith("Fill carriage"))
    cleaned = LoggedReading("2026-11-26", "carriage", work=("strainer cleaned",))
    earlier = LoggedReading("2026-01-05", "carriage", work=("line changed",))
    noted = work(replace(layout, readings=(cleaned, earlier)))
    (step,) = (each for each in noted if "joint sealed" in each)
    assert step.startswith("The reading of 2026-11-26 notes work: strainer cleaned.")
    assert not any("find out why it is empty" in each for each in noted)


def test_the_plan_stops_where_the_machine_s_card_does() -> None:
    layout = LAYOUTS["winter-press"]
    warm = replace(layout.fluid, temperature=quantity("45 degC", Kind.TEMPERATURE))
    layout = replace(layout, fluid=warm, cases={})
    gauge = LoggedGauge("A", accuracy=1.6, range=quantity("60 kPa", Kind.PRESSURE))
    cold = LoggedReading("2026-01-20", "press", gauge=gauge, state={"fluid": {"temperature": "-4 degC"}})
    noted = replace(layout, readings=(cold,))
    judgement = judge(noted)
    row = next(row for row in rows(judgement, "press", System.SI) if AS_DRAWN in row.cases)
    ledger = solve(noted).pumps["press"]
    assert row.stop is not None
    assert row.stop < ledger.allowed_vacuum
    (text,) = work(noted)[-1:]
    assert f"Stop at {typeset(row.stop, Kind.VACUUM, System.SI)} of vacuum or more, as the machine's" in text
    assert "less the 1.0 kPa that the gauge may be off." in text
    assert "the newest reading, of 2026-01-20, notes \N{MINUS SIGN}4" in text.replace("-4", "\N{MINUS SIGN}4")
    assert "newest reading" not in work(layout)[-1]


def test_a_foot_valve_that_does_not_fit_is_not_ordered() -> None:
    over = next(step for step in work(LAYOUTS["carriage-at-altitude"]) if "One in the place of" in step)
    assert "Without the maker's word, do not start carriage on this line" in over
    assert "fit a foot valve" not in over


def test_a_pump_that_was_read_running_is_asked_about_its_prime_and_nothing_is_ordered_for_it() -> None:
    stated = LAYOUTS["strainer-over-a-year"]
    year = replace(stated, pumps={"feed": replace(stated.pumps["feed"], dry_lift=None)})
    read = next(step for step in work(year) if "Only its maker knows whether" in step)
    assert "It was read running (2025-02-03 to 2026-02-23)" in read
    assert "ask who starts it" in read
    assert "wherever the line has lost its prime, fill it by hand before the start" in read
    assert "fit a foot valve" not in read
    never = next(step for step in work(replace(year, readings=())) if "Only its maker knows whether" in step)
    assert "fit a foot valve, and fill the line by hand before every start" in never
    low = replace(year.pumps["feed"], dry_lift=quantity("0.01 m", Kind.LENGTH))
    short = work(replace(year, pumps={"feed": low}))
    assert any("it a foot valve, and fill the line by hand" in step for step in short), "it cannot prime it"
