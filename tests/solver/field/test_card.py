"""The figures of the card: those of the solver, on the unfavourable side, and never of another state."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.optimize import brentq

from solver.answers import inputs
from solver.field import card, cleaning
from solver.field.card import CardRow, fault_cases, rows
from solver.field.gauges import Gauge
from solver.field.mounts import mount_of
from solver.field.places import Place
from solver.field.trend import trends
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.kinds import IntakeKind
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Case, Layout, Level, Limit, LimitForm
from solver.ledger.solve import Solution, solve
from solver.quantities.units import Kind, System, quantity, typeset
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}
WALL, TWO = LAYOUTS["over-the-bund-wall"], LAYOUTS["header-two-pumps"]
YEAR = LAYOUTS["strainer-over-a-year"]
(YEAR_TEXT,) = (path.read_text(encoding="utf-8") for path in SHIPPED if path.stem == "strainer-over-a-year")
GRAVITY = 9.80665


def of(layout: Layout, pump: str) -> dict[str, CardRow]:
    """The rows at the port of a pump, by each case that they hold in; "" at rest."""
    shown_rows = rows(judge(layout), pump, System.SI)
    return {name: row for row in shown_rows if not row.place.run for name in (row.cases or ("",))}


def test_at_rest_the_gauge_shows_the_fluid_s_weight_between_the_levels() -> None:
    row = of(WALL, "transfer")[""]
    (tank,) = WALL.reservoirs.values()
    density = solve(WALL).pumps["transfer"].density
    ends = [density * GRAVITY * (0.5 - level.si) for level in (tank.normal_level, tank.minimum_level)]
    assert row.clean == pytest.approx(tuple(ends), rel=1e-3)
    assert (row.limit, row.stop, row.service, row.note) == (None, None, None, "")


def test_clean_is_what_the_solver_says_with_clean_strainers() -> None:
    layout = LAYOUTS["winter-press"]
    intake = layout.intakes["strainer"]
    assert intake.screen is not None
    dirty = replace(intake, screen=replace(intake.screen, blocked=0.6))
    row = of(replace(layout, intakes={**layout.intakes, "strainer": dirty}), "press")[AS_DRAWN]
    clean = replace(intake, screen=replace(intake.screen, blocked=0.0))
    ledger = solve(replace(layout, intakes={**layout.intakes, "strainer": clean})).pumps["press"]
    assert row.clean == (ledger.vacuum, ledger.vacuum)


def test_the_limit_falls_on_a_low_pressure_day_by_the_barometer_s_fall_and_stop_keeps_the_gauge_s_error() -> (
    None
):
    row = of(WALL, "transfer")[AS_DRAWN]
    assert row.limit is not None
    assert row.low_day is not None
    assert row.limit - row.low_day == pytest.approx(2500.0)
    assert row.stop == pytest.approx(row.low_day - 0.016 * 101_325.0)


def test_the_site_s_own_allowance_counts_where_it_is_larger() -> None:
    allowed = replace(WALL.site, weather_allowance=quantity("40 mbar", Kind.PRESSURE))
    row = of(replace(WALL, site=allowed), "transfer")[AS_DRAWN]
    assert row.limit is not None
    assert row.low_day is not None
    assert row.limit == row.low_day == pytest.approx((of(WALL, "transfer")[AS_DRAWN].limit or 0.0) - 4000.0)
    drawn = judge(replace(WALL, site=allowed)).layout
    assert card.low_day_words(drawn, System.SI).endswith("which is what the drawing itself allows for")


def test_the_limit_is_the_ledger_s_with_the_drawing_s_own_allowance() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    for name, row in of(layout, "carriage").items():
        if name:
            solution = judge(layout).cases[name].solution
            assert solution is not None
            assert row.limit == pytest.approx(solution.pumps["carriage"].allowed_vacuum)
    words = card.low_day_words(layout, System.SI)
    assert words == (
        "2.5 kPa less air than a standard day (common practice, no source); the drawing itself allows for "
        "0.7 kPa of it"
    )
    assert card.low_day_words(WALL, System.SI).endswith("; the drawing itself allows for none of it")


def test_a_gauge_that_is_too_coarse_for_a_limit_is_named() -> None:
    shown_rows = rows(judge(LAYOUTS["carriage-at-altitude"]), "carriage", System.SI)
    (words,) = card.coarse_gauges(shown_rows, LAYOUTS["carriage-at-altitude"], System.SI)
    assert words.startswith("The gauge is too coarse here")
    assert card.coarse_gauges(rows(judge(WALL), "transfer", System.SI), WALL, System.SI) == ()


def test_a_line_that_is_over_has_no_figure_to_run_up_to() -> None:
    row = of(LAYOUTS["carriage-at-altitude"], "carriage")[AS_DRAWN]
    assert row.note == card.OVER_CLEAN
    assert (row.stop, row.service) == (None, None)


def test_where_the_column_breaks_there_is_no_figure_and_any_reading_says_stop() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    cold = quantity("-15 degC", Kind.TEMPERATURE)
    frozen = replace(layout, fluid=replace(layout.fluid, temperature=cold), cases={})
    assert solve(frozen).pumps["carriage"].breaks
    row = of(frozen, "carriage")[AS_DRAWN]
    assert (row.breaks, row.over, row.clean, row.stop) == (True, True, None, None)
    assert row.running
    assert row.note == f"{card.BREAKS}; {card.OVER_CLEAN}"
    vacuum = typeset(solve(frozen).pumps["carriage"].vacuum, Kind.VACUUM, System.SI)
    assert not [each.text for each in judge(frozen).findings if vacuum in each.text]


def test_a_pump_at_rest_while_others_run_shows_their_pull_and_no_limit() -> None:
    row = of(TWO, "main")["pilot alone"]
    solution = judge(TWO).cases["pilot alone"].solution
    assert solution is not None
    assert row.clean == (solution.resting["main"].vacuum,) * 2
    assert row.limit is None
    assert "at rest while others run" in row.state


def test_cases_that_cannot_be_told_apart_share_a_row_and_one_that_cannot_be_judged_says_why() -> None:
    shown_rows = rows(judge(TWO), "main", System.SI)
    assert next(row for row in shown_rows if AS_DRAWN in row.cases).cases == (AS_DRAWN, "coldest start")
    text = SHIPPED[0].read_text(encoding="utf-8")
    frozen = text.replace("[cases.", "[cases.", 1) + '\n[cases."frozen"]\nfluid.temperature = "-60 degC"\n'
    frozen = frozen.replace("format = 1", "format = 2")
    layout = file.parse(frozen, "frozen").base
    row = of(layout, next(iter(layout.pumps)))["frozen"]
    assert row.clean is None
    assert row.words.startswith("not judged") or row.note.startswith("not judged")


def test_a_fault_has_no_row_as_nobody_expects_what_it_shows() -> None:
    thick = {("fluid", "temperature"): quantity("30 degC", Kind.TEMPERATURE)}
    fault = Case({"fault": True, "fluid": {"temperature": "30 degC"}}, thick)
    layout = replace(YEAR, cases={**YEAR.cases, "thick": fault})
    assert fault_cases(judge(layout)) == ("thick",)
    assert of(layout, "feed") == of(YEAR, "feed")
    kept = replace(fault, table={"fluid": {"temperature": "30 degC"}})
    assert len(of(replace(layout, cases={**YEAR.cases, "thick": kept}), "feed")) == len(of(YEAR, "feed")) + 1


def gauge_of(run: str, distance: float, *read: LoggedReading) -> Gauge:
    return mount_of(replace(WALL, readings=read), Place("transfer", run, distance)).gauge


def test_a_tap_that_was_read_has_rows_of_its_own_with_the_port_s_room() -> None:
    distance = quantity("0.4 m", Kind.LENGTH)
    gauge = LoggedGauge("A", accuracy=1.0, range=quantity("60 kPa", Kind.VACUUM))
    read = LoggedReading("2026-03-04", "transfer", run="lead", distance=distance, gauge=gauge)
    shown_rows = rows(judge(replace(WALL, readings=(read,))), "transfer", System.SI)
    tap = next(row for row in shown_rows if row.place.run == "lead" and AS_DRAWN in row.cases)
    port = next(row for row in shown_rows if not row.place.run and AS_DRAWN in row.cases)
    assert tap.limit is None
    assert tap.clean is not None
    assert port.clean is not None
    assert tap.stop is not None
    assert port.stop is not None
    tap_gauge, port_gauge = gauge_of("lead", 0.4, read), gauge_of("", 0.0, read)
    assert (tap_gauge.error, port_gauge.error) == (pytest.approx(600.0), Gauge().error), "each its own"
    room = port.stop + port_gauge.error - port.clean[1]
    assert tap.stop + tap_gauge.error - tap.clean[1] == pytest.approx(room)
    assert port.low_day is not None
    assert port.stop == pytest.approx(port.low_day - port_gauge.error)


@pytest.mark.parametrize(
    ("tube", "over", "weighs"), [("full", 0.3, 1.0), ("empty", 0.3, 0.0), ("full", -0.4, 1.0)]
)
def test_figures_are_as_the_gauge_shows_them_where_it_is_noted_how_it_is_fitted(
    tube: str, over: float, weighs: float
) -> None:
    gauge = LoggedGauge("A", over_port=quantity(f"{over} m", Kind.LENGTH), tube=tube)
    read = replace(WALL, readings=(LoggedReading("2026-03-04", "transfer", gauge=gauge),))
    more = weighs * over * GRAVITY * solve(WALL).pumps["transfer"].density
    for name in ("", AS_DRAWN):
        before, after = of(WALL, "transfer")[name], of(read, "transfer")[name]
        assert before.clean is not None
        assert after.clean == pytest.approx(tuple(each + more for each in before.clean))
        if name:
            assert before.stop is not None
            assert after.stop == pytest.approx(before.stop + more)
            assert after.limit == pytest.approx((before.limit or 0.0) + more)


def test_a_tube_that_nobody_looked_at_shifts_nothing_and_is_not_known() -> None:
    gauge = LoggedGauge("A", over_port=quantity("0.3 m", Kind.LENGTH))
    read = replace(WALL, readings=(LoggedReading("2026-03-04", "transfer", gauge=gauge),))
    assert of(read, "transfer")[AS_DRAWN].clean == of(WALL, "transfer")[AS_DRAWN].clean
    assert not mount_of(read, Place("transfer")).known


def blocked(layout: Layout, share: float) -> Layout:
    return inputs.blocked(layout, ("strainer",), share, Level.MINIMUM)


def share_at(case: Solution, vacuum: float) -> float:
    """The blocked share at which the port shows a vacuum in the state of a case."""

    def off(share: float) -> float:
        return solve(blocked(case.layout, share), case.level).pumps["feed"].vacuum - vacuum

    return float(brentq(off, 0.0, 0.95))


def test_a_strainer_cleaned_at_its_reading_in_any_state_leaves_every_case_within() -> None:
    """The worst case decides, which on a warm day is a colder one; the gauge may show too little."""
    judgement = judge(YEAR)
    row_of = of(YEAR, "feed")
    for name, case in judgement.cases.items():
        row, solution = row_of[name], case.solution
        assert row.stop is not None
        if row.instead:
            assert row.service is None
            continue
        assert row.service is not None
        assert row.service < row.stop
        assert solution is not None
        share = share_at(solution, row.service + 600.0)
        assert judge(blocked(cleaning.on_low_day(YEAR), share - 0.002)).sound
    share = share_at(solve(YEAR), (row_of[AS_DRAWN].service or 0.0) + 600.0)
    assert not judge(blocked(cleaning.on_low_day(YEAR), share + 0.002)).sound, "and not a month too early"


def test_no_reading_to_clean_at_is_the_one_to_stop_at() -> None:
    """The state that is over first is due where it must stop: it says in words what to do instead."""
    row = of(YEAR, "feed")["cold morning"]
    assert (row.service, row.instead) == (None, card.EACH_TIME_OFF)
    assert row.note.startswith("no room between cleaning and stop")
    for layout in LAYOUTS.values():
        for pump in layout.pumps:
            for each in of(layout, pump).values():
                shown = [
                    None if at is None else typeset(at, Kind.VACUUM, System.SI)
                    for at in (each.service, each.stop)
                ]
                assert each.service is None or shown[0] != shown[1]


@pytest.mark.parametrize(
    ("span", "instead", "said"),
    [
        ("25 kPa", card.EACH_TIME_OFF, "each time the pump is off"),
        ("400 kPa", card.FINER_GAUGE, "fit one of class "),
        ("4000 kPa", card.LINE_FIRST, "no class is fine enough: change the line first"),
    ],
)
def test_where_little_is_left_it_says_whether_a_finer_gauge_would_do(
    span: str, instead: str, said: str
) -> None:
    """Twelve kPa expected, and 18.7 allowed on a low-pressure day."""
    row = replace(of(YEAR, "feed")["cold morning"], stop=None, instead="", note="")
    gauge = Gauge(range=quantity(span, Kind.VACUUM).si, accuracy=0.016)
    assert row.low_day is not None
    assert row.clean is not None
    near = card._without_room(row, row.low_day - gauge.error, row.clean[0], gauge)
    assert near.instead == instead
    assert said in near.note
    assert near.service is None


def test_at_rest_the_temperature_is_named() -> None:
    assert of(YEAR, "feed")[""].words.startswith("at rest, line full, 45 °C, fluid at 0.600 m (normal)")


def test_the_card_and_the_trend_speak_of_one_blocked_share() -> None:
    (trend,) = trends(YEAR, "feed")
    assert trend.due_share is not None
    there = solve(blocked(YEAR, 1.0 - trend.due_share)).pumps["feed"].vacuum
    assert of(YEAR, "feed")[AS_DRAWN].service == pytest.approx(there - 600.0, abs=1.0)


@pytest.mark.thorough
def test_a_strainer_that_two_pumps_draw_through_is_cleaned_for_the_one_that_is_over_first() -> None:
    (name,) = TWO.intakes
    screened = replace(TWO.intakes[name], kind=IntakeKind.STRAINER, screen=YEAR.intakes["strainer"].screen)
    layout = replace(TWO, intakes={name: screened})
    alone = of(layout, "pilot")["pilot alone"]
    assert alone.stop is not None
    assert (alone.service, alone.note) == (None, f"no reading to clean at: {cleaning.OVER_CLEAN}"), (
        "main is over"
    )
    layout = with_room(layout, 20e3, "pilot")
    low = of(with_room(layout, 1500.0, "main"), "pilot")[AS_DRAWN]
    assert low.stop is not None
    assert (low.service, "over on a low-pressure day" in low.note) == (None, True), "main is, then"
    roomy = with_room(layout, 9000.0, "main")
    assert of(roomy, "pilot")[AS_DRAWN].service is not None
    assert cleaning.cleaning_due(roomy, "pilot") == cleaning.cleaning_due(roomy, "main")


def test_a_case_that_is_not_judged_leaves_no_reading_to_clean_at() -> None:
    frozen = YEAR_TEXT + '\n[cases."frozen"]\nfluid.temperature = "-60 degC"\n'
    row = of(file.parse(frozen, "frozen").base, "feed")[AS_DRAWN]
    assert row.service is None
    assert row.note.startswith(f'{card.NO_CLEANING}: "frozen" not judged')


def test_a_bypass_leaves_no_reading_to_clean_at_where_nothing_is_over_or_its_drop_is_not_known() -> None:
    unknown = "no point of its open bypass is given: how far it may block is not known"
    row = of(LAYOUTS["shear-started-dry"], "shear")[AS_DRAWN]
    assert (row.service, row.note) == (None, f"{card.NO_CLEANING}: {unknown}")
    bypass, point = ', bypass = "2 kPa"', ', bypass_flow = "100 L/min", bypass_drop = "3 kPa"'
    viscosity = ', bypass_viscosity = "100 cSt"'
    for more, why in ((bypass, unknown), (bypass + point + viscosity, cleaning.NONE_OVER)):
        text = YEAR_TEXT.replace('area = "0.035 m^2"', f'area = "0.035 m^2"{more}')
        row = of(file.parse(text).base, "feed")[AS_DRAWN]
        assert (row.service, row.note) == (None, f"{card.NO_CLEANING}: {why}")


def test_a_line_without_a_strainer_says_nothing_of_a_clean_one() -> None:
    row = of(WALL, "transfer")[AS_DRAWN]
    assert (row.service, row.note) == (None, "")
    assert of(with_room(WALL, -1e3), "transfer")[AS_DRAWN].note == card.OVER


def with_room(layout: Layout, room: float, name: str = "") -> Layout:
    """A drawing one of whose pumps may have that much more vacuum at its port than it has [Pa]."""
    name = name or next(iter(layout.pumps))
    ledger = solve(layout).pumps[name]
    sea = ledger.vacuum + room + 101_325.0 - ledger.atmosphere
    limit = Limit(LimitForm.VACUUM, ((None, quantity(f"{sea!r} Pa", Kind.VACUUM)),))
    return replace(layout, cases={}, pumps={**layout.pumps, name: replace(layout.pumps[name], limit=limit)})


def test_a_line_that_a_low_pressure_day_alone_makes_over_is_over_on_that_day_only() -> None:
    layout = with_room(WALL, 1500.0)
    row = of(layout, "transfer")[AS_DRAWN]
    assert solve(layout).pumps["transfer"].sound
    assert (row.stop, row.service, row.over) == (None, None, False)
    assert row.note == f"{card.ON_LOW_DAY}; {card.NO_OTHER_DAY}"
    row = of(with_room(YEAR, 200.0), "feed")[AS_DRAWN]
    assert row.note.startswith(f"{card.CLEAN_ON_LOW_DAY}; on any other day")
    finer = tuple(replace(each, gauge=replace(each.gauge, accuracy=0.25)) for each in YEAR.readings)
    row = of(with_room(replace(YEAR, readings=finer), 300.0), "feed")[AS_DRAWN]
    assert row.note.endswith("kPa taken off that the gauge may be off")


def test_what_is_taken_off_to_stop_at_is_the_error_of_the_gauge() -> None:
    layout = with_room(WALL, 9e3)
    every = card.rows(judge(layout), "transfer", System.SI)
    (row,) = (each for each in every if each.stop is not None)
    assert row.low_day is not None
    assert card.gauge_error(every, layout, System.SI) == f"{(row.low_day - row.stop) / 1e3:.1f}"
    assert card.gauge_error([replace(each, stop=None) for each in every], layout, System.SI) == ""


def test_no_stop_is_given_that_a_sound_machine_exceeds() -> None:
    row = of(with_room(WALL, 2500.0 + 1000.0), "transfer")[AS_DRAWN]
    assert row.low_day is not None
    assert row.clean is not None
    assert row.low_day > row.clean[1], "within, by less than the gauge's error"
    assert row.stop is None
    assert row.note == (
        f"the gauge may be 1.6 kPa off, {card.FINER_TO_STOP}; "
        "fit one that is 0.6 kPa off at most (class 0.6, range 101 kPa)"
    )


@pytest.mark.parametrize(
    ("accuracy", "span", "would_do"),
    [
        (None, None, "(class 1, range 101 kPa)"),
        (2.5, "60 kPa", "(class 1.6, range 60.0 kPa)"),
        (1.6, "60 kPa", ""),
    ],
)
def test_a_gauge_too_coarse_to_clean_by_says_which_class_would_do(
    accuracy: float | None, span: str | None, would_do: str
) -> None:
    gauge = LoggedGauge("A", accuracy=accuracy, range=None if span is None else quantity(span, Kind.VACUUM))
    oil = LAYOUTS["glycol-on-the-oil-line"]
    row = of(replace(oil, readings=(LoggedReading("2026-03-04", "caster", gauge=gauge),)), "caster")[AS_DRAWN]
    assert (row.service is None) is bool(would_do)
    assert (card.FINER_TO_CLEAN in row.note, row.note.endswith(would_do)) == (bool(would_do), True)
    assert would_do or not row.note


def test_a_line_that_nothing_keeps_full_says_so() -> None:
    assert of(LAYOUTS["carriage-at-altitude"], "carriage")[""].note == card.DRAINS


def test_an_unknown_pump_is_refused() -> None:
    with pytest.raises(KeyError):
        rows(judge(WALL), "other", System.SI)


def test_a_line_that_may_be_cold_at_the_start_has_a_row_of_that_moment() -> None:
    """A warm row alone would stop every cold start, or have its reading taken for a fault."""
    (path,) = (each for each in SHIPPED if each.stem == "winter-press")
    heated = file.read(path).alternatives["Tank heater to 10 °C"].layout
    drawn = of(LAYOUTS["winter-press"], "press")
    of_starts = [row for row in rows(judge(heated), "press", System.US) if row.line_cold]
    names = [name for row in of_starts for name in row.cases]
    assert names == [AS_DRAWN, "coldest start", "first stroke"], "where the tank is warmer than drawn"
    for row in of_starts:
        assert row.words.startswith("line still at 14 °F, ")
        assert row.words.endswith(", tank at 50 °F")
        assert row.over
        assert row.stop is None
        assert row.clean is not None
        cold = drawn[row.cases[0]].clean
        assert cold is not None
        assert row.clean[1] == pytest.approx(cold[1], rel=0.02), "as thick as before the heater"
    assert not any(row.line_cold for row in drawn.values()), "no tank is warmed there"


def test_a_stop_is_the_reading_to_stop_at_and_nothing_else() -> None:
    """The card has a column "Stop at": what is done while the pump is off is not called a stop too."""
    assert not any("stop" in words for words in (card.EACH_TIME_OFF, card.NO_ROOM_WORK[card.EACH_TIME_OFF]))
