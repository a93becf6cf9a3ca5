"""A cause put into the drawing gives the readings that it was found from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places, prediction, put_in
from solver.field.causes import Cause, CauseKind, causes, changed
from solver.field.explain import Explanation
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.put_in import CannotPutInError
from solver.field.states import Reading
from solver.layout import file
from solver.layout.parts import Curve, Fitting, Layout, Level
from solver.ledger.solve import solve
from solver.network.build import build
from solver.properties import fluid
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
PORT, TAP = Place("carriage"), Place("carriage", "riser", 0.2)
READINGS = tuple(Reading(DRAWN, Level.MINIMUM, place, Band(0.0, 0.0), Gauge()) for place in (PORT, TAP))
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"], READINGS))
OF_THE_LINE = tuple(each for each in ALL if each.kind not in (CauseKind.NOTHING, CauseKind.OFFSET))


def found(cause: Cause, size: float) -> Explanation:
    return Explanation(cause.kind, cause.part, 1.0, size, size, size, False, False, (0.0,), ())


def tap_of(layout: Layout, place: Place) -> Place:
    """A tap as far along a run as before, where its straights have become longer out of the plane."""
    if not place.run:
        return place
    now, drawn = (
        sum(row.length for row in build(each).rows if row.part == place.run) for each in (layout, DRAWN)
    )
    return replace(place, distance=place.distance * now / drawn)


@pytest.mark.parametrize("cause", OF_THE_LINE, ids=[each.name for each in OF_THE_LINE])
def test_a_cause_put_in_gives_its_readings(cause: Cause) -> None:
    size = cause.sizes[len(cause.sizes) // 3]
    drawing = put_in.put_in(DRAWN, found(cause, size))
    assert cause.part in drawing.name
    assert put_in.size_text(found(cause, size), size, System.US) in drawing.name
    assert file.check(drawing.layout) == ()
    for reading in READINGS:
        sought = prediction.at(cause.change(build(DRAWN), size), reading) + cause.offset(size, reading)
        drawn = places.vacuum(solve(DRAWN), reading.place)
        shown = places.vacuum(solve(drawing.layout), tap_of(drawing.layout, reading.place))
        assert shown - drawn == pytest.approx(sought - drawn, rel=0.05, abs=30.0)


def test_what_happens_to_a_line_is_a_case_and_what_one_builds_an_alternative() -> None:
    cases = {each.kind for each in OF_THE_LINE if put_in.put_in(DRAWN, found(each, each.sizes[0])).table}
    assert cases == {
        CauseKind.SCREEN, CauseKind.FLUID, CauseKind.LEVEL, CauseKind.SURFACE, CauseKind.LESS_FLOW,
        CauseKind.MORE_FLOW,
    }  # fmt: skip


CONNECTOR = DRAWN.fittings["connector"]
CURVE = Curve(
    ((quantity("60 L/min", Kind.FLOW), quantity("2 kPa", Kind.PRESSURE)),),
    quantity("46 cSt", Kind.VISCOSITY),
    quantity("860 kg/m^3", Kind.DENSITY),
)


@pytest.mark.parametrize(
    "connector",
    [CONNECTOR, replace(CONNECTOR, length=quantity("0.5 m", Kind.LENGTH)), replace(CONNECTOR, curve=CURVE)],
    ids=["as its kind", "with its length", "by its maker's points"],
)
def test_a_soft_liner_of_a_connector_put_in_gives_its_readings_as_the_drawing_is_warm(
    connector: Fitting,
) -> None:
    drawn = replace(DRAWN, fittings={**DRAWN.fittings, "connector": connector})
    (soft,) = (
        each
        for each in causes(drawn, solve(drawn).pumps["carriage"], READINGS)
        if each.kind is CauseKind.HOSE
    )
    drawing = put_in.put_in(drawn, found(soft, 0.5))
    assert drawing.name == "connector with 50 % of its diameter lost when hot, as at 113 °F"
    assert drawing.line is not None
    assert file.check(drawing.layout) == ()
    was, shown = solve(drawn).pumps["carriage"].vacuum, solve(drawing.layout).pumps["carriage"].vacuum
    assert shown > was + 500.0
    assert shown == pytest.approx(prediction.at(soft.change(build(drawn), 0.5), READINGS[0]), rel=1e-6)


def test_a_liner_that_is_firm_as_drawn_cannot_be_put_in() -> None:
    cold = inputs.temperature(DRAWN, ("",), 290.0, Level.MINIMUM)
    with pytest.raises(CannotPutInError, match=r"at .* °F, as drawn, the liner is firm: type"):
        put_in.put_in(cold, found(of(CauseKind.HOSE), 0.5))


@pytest.mark.parametrize("kind", [CauseKind.NOTHING, CauseKind.OFFSET])
def test_what_is_nothing_of_the_line_cannot_be_put_in(kind: CauseKind) -> None:
    cause = next(each for each in ALL if each.kind is kind)
    with pytest.raises(CannotPutInError, match="no change of the line"):
        put_in.put_in(DRAWN, found(cause, cause.sizes[0]))


def of(kind: CauseKind, part: str = "") -> Cause:
    return next(each for each in ALL if each.kind is kind and part in ("", each.part))


PAIRS = (
    (of(CauseKind.SCREEN), of(CauseKind.FLUID), True, False),
    (of(CauseKind.LEVEL), of(CauseKind.SURFACE), True, False),
    (of(CauseKind.LESS_FLOW), of(CauseKind.MORE_FLOW), True, False),
    (of(CauseKind.SCREEN), of(CauseKind.BORE, "riser"), True, True),
    (of(CauseKind.BORE, "riser"), of(CauseKind.FLUID), True, True),
    (of(CauseKind.BORE, "riser"), of(CauseKind.AS_BUILT), False, True),
    (of(CauseKind.RESISTANCE), of(CauseKind.BORE, "lead"), False, True),
)


@pytest.mark.parametrize(("one", "other", "is_case", "is_line"), PAIRS)
def test_a_pair_put_in_gives_its_readings(one: Cause, other: Cause, is_case: bool, is_line: bool) -> None:
    sizes = [each.sizes[len(each.sizes) // 4] for each in (one, other)]
    pair = replace(found(one, sizes[0]), second=found(other, sizes[1]))
    drawing = put_in.put_in(DRAWN, pair)
    assert (drawing.table is not None, drawing.line is not None) == (is_case, is_line)
    first, second = (
        put_in.put_in(DRAWN, found(*each)).name for each in zip((one, other), sizes, strict=True)
    )
    assert drawing.name == f"{first}, {second}"
    for reading in READINGS:
        network = changed(build(DRAWN), [(one, sizes[0]), (other, sizes[1])])
        more = one.offset(sizes[0], reading) + other.offset(sizes[1], reading)
        drawn = places.vacuum(solve(DRAWN), reading.place)
        shown = places.vacuum(solve(drawing.layout), tap_of(drawing.layout, reading.place))
        sought = prediction.at(network, reading) + more
        assert shown - drawn == pytest.approx(sought - drawn, rel=0.06, abs=30.0)


def test_of_a_pair_what_is_no_change_of_the_line_is_left_out_and_named() -> None:
    screen, off = of(CauseKind.SCREEN), of(CauseKind.OFFSET)
    pair = replace(found(screen, 0.8), second=found(off, 2e3))
    drawing = put_in.put_in(DRAWN, pair)
    assert (drawing.line, drawing.left_out) == (None, off.name)
    assert drawing.name == "strainer 80 % blocked"
    with pytest.raises(CannotPutInError):
        put_in.put_in(DRAWN, replace(found(off, 2e3), second=found(off, 1e3)))


@pytest.mark.parametrize(
    ("kind", "low", "high", "words"),
    [
        (CauseKind.OFFSET, -2e3, -1e3, "1.0 kPa to 2.0 kPa too little"),
        (CauseKind.OFFSET, -1e3, 2e3, "1.0 kPa too little to 2.0 kPa too much"),
        (CauseKind.OFFSET, 1e3, 2e3, "1.0 kPa to 2.0 kPa too much"),
        (CauseKind.SURFACE, 1e3, 1e3, "1.0 kPa less on the fluid"),
        (CauseKind.SCREEN, 0.75, 0.82, "75 to 82 % blocked"),
        (CauseKind.LESS_FLOW, 0.5, 0.9, "50 to 90 % of its flow"),
    ],
)
def test_sizes_are_said_as_a_person_would_see_them(
    kind: CauseKind, low: float, high: float, words: str
) -> None:
    cause = found(of(kind), low)
    assert put_in.range_text(cause, low, high, System.SI) == words


COLD = replace(
    READINGS[0], layout=inputs.temperature(DRAWN, ("",), DRAWN.fluid.coldest_start.si, Level.MINIMUM)
)
"""At the coldest start, where a machine with a cause is read the highest."""


@pytest.mark.parametrize("cause", OF_THE_LINE, ids=[each.name for each in OF_THE_LINE])
def test_no_reading_that_a_cause_explains_stands_above_the_drawing_with_it_in_the_cold(cause: Cause) -> None:
    size = cause.sizes[len(cause.sizes) // 3]
    read = prediction.at(cause.change(build(COLD.layout), size), COLD) + cause.offset(size, COLD)
    drawn = put_in.put_in(DRAWN, found(cause, size)).layout
    cold = replace(drawn, fluid=replace(drawn.fluid, temperature=COLD.layout.fluid.temperature))
    shown = places.vacuum(solve(cold), PORT)
    error = COLD.gauge.error
    assert read <= shown + error


def test_a_thicker_fluid_put_in_is_as_thick_at_the_coldest_start() -> None:
    drawing = put_in.put_in(DRAWN, found(of(CauseKind.FLUID), 3.9)).layout
    for warmth in (DRAWN.fluid.coldest_start.si, 308.15, DRAWN.fluid.temperature.si, 333.15):
        thin, thick = (fluid.state(each.fluid, warmth).viscosity for each in (DRAWN, drawing))
        assert thick / thin == pytest.approx(3.9, rel=0.01)


def test_a_thicker_fluid_keeps_its_one_viscosity_or_its_index() -> None:
    size = found(of(CauseKind.FLUID), 2.0)
    held = replace(DRAWN.fluid, viscosity=quantity("40 cSt", Kind.VISCOSITY), coldest_start=None)
    one = put_in.put_in(replace(DRAWN, fluid=held), size)
    assert one.table == {"fluid": {"viscosity": "80 cSt"}}
    pair = ((quantity("40 degC", Kind.TEMPERATURE), quantity("46 cSt", Kind.VISCOSITY)),)
    indexed = replace(DRAWN, fluid=replace(DRAWN.fluid, viscosity=pair, viscosity_index=100.0))
    thick = put_in.put_in(indexed, size).layout.fluid
    for warmth in (298.15, 318.15):
        assert fluid.state(thick, warmth).viscosity >= 1.99 * fluid.state(indexed.fluid, warmth).viscosity
