"""Quantities as typed, against pint and the published definitions; and everything the door must keep out."""

from __future__ import annotations

import math
import time
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities import units
from solver.quantities.scales import SCALES, Linear
from solver.quantities.units import Kind, Quantity, UnitError
from tests.solver.calculator import registry

LENGTHS = (Kind.LENGTH, Kind.BORE, Kind.ELEVATION, Kind.HEAD)

# Our spelling -> pint's, where they differ. A turn is no unit there.
PINT = {
    "gpm": "gallon/minute",
    "cSt": "centistokes",
    "per inch": "1/inch",
    "per cm": "1/cm",
    "per mm": "1/mm",
    "per m": "1/m",
    "rpm": "1/minute",
    "rev/min": "1/minute",
    "rev/s": "1/s",
    "imp gpm": "imperial_gallon/minute",
    "imp gal": "imperial_gallon",
    "inHg": "inch_Hg",
    "mmHg": "millimeter_Hg",
}


def si(text: str, kind: Kind) -> float:
    return units.quantity(text, kind).si


def linear_units() -> list[tuple[Kind, str]]:
    plain = (Kind.NUMBER, Kind.SHARE, Kind.TEMPERATURE)
    rows = [(kind, name, scale) for kind, table in SCALES.items() for name, scale in table.items()]
    return [(kind, name) for kind, name, scale in rows if isinstance(scale, Linear) and kind not in plain]


@pytest.mark.parametrize(("kind", "name"), linear_units())
def test_every_factor_is_the_one_of_pint(kind: Kind, name: str) -> None:
    plain = name.removesuffix(" abs")
    spelled = PINT.get(plain, plain.replace("^", "**").removesuffix("/rev"))
    reference = registry().Quantity(2.5, spelled).to_base_units().magnitude
    assert si(f"2.5 {name}", kind) == pytest.approx(reference, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("12 ft", Kind.LENGTH, 3.6576),
        ("12ft", Kind.LENGTH, 3.6576),
        ("1 ft 6 in", Kind.LENGTH, 0.4572),
        ("6' 3 1/2\"", Kind.LENGTH, 75.5 * 0.0254),
        ("6'-3 1/2\"", Kind.LENGTH, 75.5 * 0.0254),
        ("-6' 3\"", Kind.ELEVATION, -75 * 0.0254),
        ("6′ 3″", Kind.LENGTH, 75 * 0.0254),
        ("6'", Kind.LENGTH, 72 * 0.0254),
        ("2 ft 10 in", Kind.LENGTH, 34 * 0.0254),
        ("2 ft 0.5 in", Kind.LENGTH, 24.5 * 0.0254),
        ("3 1/2 in", Kind.BORE, 3.5 * 0.0254),
        ('3-1/2"', Kind.BORE, 3.5 * 0.0254),
        ("3/4 in", Kind.BORE, 0.75 * 0.0254),
        ("1.5e3 mm", Kind.LENGTH, 1.5),
        ("−0.5 m", Kind.ELEVATION, -0.5),
        ("20 °C", Kind.TEMPERATURE, 293.15),
        ("-40 degF", Kind.TEMPERATURE, 233.15),
        ("32 °F", Kind.TEMPERATURE, 273.15),
        ("300 K", Kind.TEMPERATURE, 300.0),
        ("29.92 inHg", Kind.PRESSURE, 101320.75),
        ("1450 rpm", Kind.SPEED, 1450 / 60),
        ("100 per inch", Kind.WIRES, 100 / 0.0254),
        ("60 mesh", Kind.WIRES, 60 / 0.0254),
        ("1½ in", Kind.BORE, 1.5 * 0.0254),
        ("1-1/2 in", Kind.BORE, 1.5 * 0.0254),
        ("1-1/2-in", Kind.BORE, 1.5 * 0.0254),
        ("2-inch", Kind.BORE, 2 * 0.0254),
        ('1 1⁄2"', Kind.BORE, 1.5 * 0.0254),
        ("¾″", Kind.BORE, 0.75 * 0.0254),
        ("1.5''", Kind.BORE, 1.5 * 0.0254),
        ("12 ft. 6½ in.", Kind.LENGTH, 12 * 0.3048 + 6.5 * 0.0254),
        ("–1.2 metres", Kind.ELEVATION, -1.2),
        ("149 microns", Kind.BORE, 149e-6),
        ('7" Hg', Kind.VACUUM, 23704.72),
        ("7 in. Hg", Kind.VACUUM, 23704.72),
        ("7 inches of mercury", Kind.VACUUM, 23704.72),
        ("1013.25 hPa", Kind.PRESSURE, 101325.0),
        ("11.6 PSI", Kind.PRESSURE, 11.6 * 6894.757293168),
        ("1 kg/cm2", Kind.PRESSURE, 98066.5),
        ("75.7 LPM", Kind.FLOW, 0.0757 / 60),
        ("75.7 litres/min", Kind.FLOW, 0.0757 / 60),
        ("4.5 m3/hr", Kind.FLOW, 4.5 / 3600),
        ("108 m3/day", Kind.FLOW, 1.25e-3),
        ("20 US gpm", Kind.FLOW, 20 * 231 * 0.0254**3 / 60),
        ("20 UK gpm", Kind.FLOW, 20 * 4.54609e-3 / 60),
        ("40 imp gal", Kind.VOLUME, 40 * 4.54609e-3),
        ("115 deg F", Kind.TEMPERATURE, 319.2611111),
        ("46 ℃", Kind.TEMPERATURE, 319.15),
        ("0.87 g/cc", Kind.DENSITY, 870.0),
        ("50 lbm/ft3", Kind.DENSITY, 800.92317),
        ("82 ccm", Kind.DISPLACEMENT, 82e-6),
        ("1750 min⁻¹", Kind.SPEED, 1750 / 60),
        ("1750 r/min", Kind.SPEED, 1750 / 60),
        ("93 sq. in.", Kind.AREA, 93 * 0.0254**2),
        ("4 ft/sec", Kind.VELOCITY, 4 * 0.3048),
        ("20 percent", Kind.SHARE, 0.2),
        ("2 hours", Kind.TIME, 7200.0),
        ("82 cm³/rev", Kind.DISPLACEMENT, 82e-6),
        ("5 in^3/rev", Kind.DISPLACEMENT, 5 * 0.0254**3),
        ("30 m^3/h", Kind.FLOW_COEFFICIENT_KV, 30 / 3600),
        ("35 gpm", Kind.FLOW_COEFFICIENT_CV, 35 * 231 * 0.0254**3 / 60),
        ("5 %", Kind.SHARE, 0.05),
        ("0.05", Kind.SHARE, 0.05),
        ("2.5", Kind.NUMBER, 2.5),
    ],
)
def test_the_trades_spellings(text: str, kind: Kind, expected: float) -> None:
    quantity = units.quantity(text, kind)
    assert quantity.si == pytest.approx(expected, rel=1e-7)
    assert quantity.text == text


@pytest.mark.parametrize(
    ("text", "kind", "reference"),
    [
        ("3 lbf/in^2", Kind.PRESSURE, "3 lbf/in**2"),
        ("9000 gal/h", Kind.FLOW, "9000 gallon/hour"),
        ("3 m*m", Kind.AREA, "3 m**2"),
        ("7 in*ft", Kind.AREA, "7 in*ft"),
        ("2 kg/m/s^2", Kind.PRESSURE, "2 kg/m/s**2"),
        ("2 kg * m^-1 * s^-2", Kind.PRESSURE, "2 kg/m/s**2"),
        ("5 lb/gal", Kind.DENSITY, "5 lb/gallon"),
        ("6 in^2/s", Kind.VISCOSITY, "6 in**2/s"),
    ],
)
def test_composed_units_measure_what_pint_says(text: str, kind: Kind, reference: str) -> None:
    assert si(text, kind) == pytest.approx(registry()(reference).to_base_units().magnitude, rel=1e-12)


def test_a_displacement_is_of_one_turn_whether_it_is_said_or_not() -> None:
    assert units.quantity("82 cm^3", Kind.DISPLACEMENT).si == pytest.approx(82e-6)
    with pytest.raises(UnitError, match="displacement"):
        units.quantity("82 cm^3/rev", Kind.VOLUME)
    with pytest.raises(UnitError):
        units.quantity("82 in*cm^2", Kind.DISPLACEMENT)
    assert si("1 in*cm^2/rev", Kind.DISPLACEMENT) == pytest.approx(0.0254e-4)


REFUSED = [
    ("", Kind.LENGTH, "empty"),
    ("   ", Kind.LENGTH, "empty"),
    ("m", Kind.LENGTH, "number"),
    ("nan m", Kind.LENGTH, "number"),
    ("inf m", Kind.LENGTH, "number"),
    ("-inf m", Kind.LENGTH, "number"),
    ("1e400 m", Kind.LENGTH, "beyond"),
    ("1e308 km", Kind.LENGTH, "beyond"),
    ("1e-400 m", Kind.LENGTH, "too small"),
    ("9**9**9 m", Kind.LENGTH, "unknown unit"),
    ("1 m + 1 m", Kind.LENGTH, "unknown unit"),
    ("12,5 m", Kind.LENGTH, "with a comma"),
    ("1.2.3 m", Kind.LENGTH, "unknown unit"),
    ("1 2 m", Kind.LENGTH, "unknown unit"),
    ("--1 m", Kind.LENGTH, "number"),
    ("0x10 m", Kind.LENGTH, "unknown unit"),
    ("١٢ m", Kind.LENGTH, "number"),
    ("12 parsec", Kind.LENGTH, "unknown unit"),
    ("12 m m", Kind.AREA, "unknown unit"),
    ("12 m^9", Kind.LENGTH, "power 9"),
    ("12 m^99999", Kind.LENGTH, "power 9"),
    ("12 m^0.5", Kind.LENGTH, "unknown unit"),
    ("12 /m", Kind.LENGTH, "unknown unit"),
    ("12 m/", Kind.LENGTH, "unknown unit"),
    ("12 __import__('os')", Kind.LENGTH, "unknown unit"),
    ("12", Kind.LENGTH, "no unit"),
    ("12 ft", Kind.PRESSURE, "which is a length"),
    ("12 psi", Kind.LENGTH, "which is a pressure"),
    ("12 ft", Kind.NUMBER, "which is a length"),
    ("12 m/s^2", Kind.VELOCITY, "measures length / time ** 2"),
    ("1 1/0 in", Kind.BORE, "1/0"),
    ("3 4/2 in", Kind.BORE, "4/2"),
    ("1 ft 14 in", Kind.LENGTH, "14 in"),
    ("1.5 ft 6 in", Kind.LENGTH, "unknown unit"),
    ("3 1/2 psi", Kind.PRESSURE, "unknown unit"),
    ("15 SUS", Kind.VISCOSITY, "15 SUS"),
    ("-300 degC", Kind.TEMPERATURE, "below absolute zero"),
    ("-1 K", Kind.TEMPERATURE, "below absolute zero"),
    ("12 pa", Kind.PRESSURE, '"pa"'),
    ("1" * 65 + " m", Kind.LENGTH, "characters"),
    ("1 bbl", Kind.VOLUME, "unknown unit"),
]


@pytest.mark.parametrize(("text", "kind", "told"), REFUSED, ids=[row[0][:12] for row in REFUSED])
def test_refused_with_what_was_found_and_what_is_allowed(text: str, kind: Kind, told: str) -> None:
    with pytest.raises(UnitError) as error:
        units.quantity(text, kind)
    assert told in error.value.found
    assert error.value.allowed
    assert error.value.found in str(error.value)
    assert error.value.allowed in str(error.value)


def test_a_wrong_unit_names_the_right_ones() -> None:
    with pytest.raises(UnitError) as error:
        units.quantity("12 ft", Kind.PRESSURE)
    assert all(name in error.value.allowed for name in ("inHg", "psi", "bar", "kPa", "mbar", "mmHg", "MPa"))
    with pytest.raises(UnitError) as error:
        units.quantity("12 MBAR", Kind.PRESSURE)
    assert error.value.allowed == "mbar, spelled so"
    with pytest.raises(UnitError) as error:
        units.quantity("12 psig", Kind.PRESSURE)
    assert "gauge or absolute" in error.value.allowed


@pytest.mark.parametrize(
    ("text", "kind", "hint"),
    [
        ("40 cP", Kind.VISCOSITY, "divide this one by the density"),
        ("40 mPa·s", Kind.VISCOSITY, "divide this one by the density"),
        ("0.87 SG", Kind.DENSITY, "0.87 of water's is 870 kg/m^3"),
        ("95 inH2O", Kind.VACUUM, "column of water"),
        ("600 bbl/h", Kind.FLOW, "more than one barrel"),
        ("5 kPa(g)", Kind.PRESSURE, "kPa: the place where it is typed says"),
        ("5 psid", Kind.PRESSURE, "psi: the place where it is typed says"),
        ("5 bar gauge", Kind.PRESSURE, "bar: the place where it is typed says"),
    ],
)
def test_a_unit_that_cannot_be_read_alone_says_what_to_type(text: str, kind: Kind, hint: str) -> None:
    with pytest.raises(UnitError) as error:
        units.quantity(text, kind)
    assert hint in error.value.allowed


def test_another_kind_of_unit_has_its_article() -> None:
    with pytest.raises(UnitError, match="which is an area"):
        units.quantity("12 m^2", Kind.LENGTH)


def test_feet_of_head_are_no_pressure() -> None:
    assert si("10 ft", Kind.HEAD) == pytest.approx(3.048)
    with pytest.raises(UnitError):
        units.quantity("10 ft", Kind.VACUUM)


@pytest.mark.parametrize(
    "text", ["9**9**9 m", "9" * 100_000 + " m", "1 " + "m*" * 40_000 + "m", "1" + "/m" * 30]
)
def test_a_hostile_text_is_refused_at_once(text: str) -> None:
    start = time.process_time()
    with pytest.raises(UnitError):
        units.quantity(text, Kind.LENGTH)
    assert time.process_time() - start < 2.0  # the first composed unit loads pint


@given(st.text(max_size=70), st.sampled_from(Kind))
def test_any_text_is_a_finite_quantity_or_refused(text: str, kind: Kind) -> None:
    with suppress(UnitError):
        assert math.isfinite(units.quantity(text, kind).si)


@given(
    st.text("0123456789.eE+-/*^ '\"", min_size=1, max_size=14),
    st.sampled_from(["m", "ft", "in", "psi", "degC", "SUS", "m^3/h", "per inch", "kg/m^3", ""]),
    st.sampled_from(Kind),
)
def test_near_misses_are_finite_or_refused(number: str, unit: str, kind: Kind) -> None:
    with suppress(UnitError):
        assert math.isfinite(units.quantity(f"{number} {unit}", kind).si)


ALL_UNITS = [(kind, name) for kind, table in SCALES.items() for name in table]


@given(st.sampled_from(ALL_UNITS), st.floats(40.0, 9e4))
def test_units_in_units_out(row: tuple[Kind, str], value: float) -> None:
    kind, name = row
    typed = units.quantity(f"{value:.6g} {name}", kind)
    amount = units.quantity_in(typed.si, kind, name)
    assert amount.si == si(amount.text, kind)
    step = {**dict.fromkeys(LENGTHS, 1e-4), Kind.BORE: 1e-5, Kind.TEMPERATURE: 1e-2}.get(kind, 0.0)
    assert amount.si == pytest.approx(typed.si, rel=2e-6, abs=step)
    assert (
        units.in_unit_of(typed, typed.si, kind) is typed
        or units.in_unit_of(typed, typed.si, kind).si == amount.si
    )


@given(st.integers(-4000, 4000))
def test_feet_and_inches_on_the_rule_round_trip(sixteenths: int) -> None:
    value = sixteenths * 0.0254 / 16.0
    for form in ("ft in", "' \""):
        assert units.quantity_in(value, Kind.LENGTH, form).si == pytest.approx(value, abs=1e-12)


@given(st.floats(-200.0, 200.0))
def test_feet_and_inches_hold_a_tenth_of_a_millimetre(value: float) -> None:
    assert units.quantity_in(value, Kind.ELEVATION, "' \"").si == pytest.approx(value, abs=1e-4)


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (0.0525, Kind.BORE, "mm", "52.5 mm"),
        (1.9177, Kind.LENGTH, "' \"", "6' 3 1/2\""),
        (0.4572, Kind.LENGTH, "ft in", "1 ft 6 in"),
        (1.0, Kind.LENGTH, "m", "1 m"),
        (1.05000004, Kind.LENGTH, "m", "1.05 m"),
        (0.0, Kind.LENGTH, "ft", "0 ft"),
        (-0.00001, Kind.LENGTH, "m", "0 m"),
        (318.15, Kind.TEMPERATURE, "degC", "45 degC"),
        (1450 / 60, Kind.SPEED, "rpm", "1450 rpm"),
        (0.5, Kind.NUMBER, "", "0.5"),
        (1e7, Kind.PRESSURE, "Pa", "10000000 Pa"),
    ],
)
def test_made_texts_have_sensible_digits(value: float, kind: Kind, unit: str, text: str) -> None:
    assert units.quantity_in(value, kind, unit).text == text


@pytest.mark.parametrize(
    ("old", "kind", "text"),
    [
        ("1 ft 6 in", Kind.LENGTH, "3 ft 0 in"),
        ("1' 6\"", Kind.LENGTH, "3' 0\""),
        ("18 in", Kind.LENGTH, "36 in"),
        ("3 1/2 in", Kind.LENGTH, "36 in"),
        ("450 mm", Kind.LENGTH, "914.4 mm"),
        ("0.45m", Kind.LENGTH, "0.9144 m"),
    ],
)
def test_a_new_value_keeps_the_unit_of_the_old(old: str, kind: Kind, text: str) -> None:
    assert units.in_unit_of(units.quantity(old, kind), 0.9144, kind).text == text


@pytest.mark.parametrize(
    ("old", "inches", "text"),
    [
        ("6 ft", 52.0, "4 ft 4 in"),
        ("6 ft", 60.0, "5 ft"),
        ("-2 ft", -0.5, "-0 ft 1/2 in"),
        ("6.5 ft", 54.0, "4.5 ft"),
        ("6 ft 6 in", 52.0, "4 ft 4 in"),
    ],
)
def test_whole_feet_go_on_in_inches_and_keep_the_value_of_a_step(old: str, inches: float, text: str) -> None:
    """A third of a foot has no end in decimals, so that a place on the grid would not stay on it."""
    new = units.in_unit_of(units.quantity(old, Kind.LENGTH), inches * 0.0254, Kind.LENGTH)
    assert new.text == text
    assert new.si == pytest.approx(inches * 0.0254, abs=1e-12)


def test_an_unchanged_value_keeps_its_text() -> None:
    old = units.quantity("12.000 ft", Kind.LENGTH)
    assert units.in_unit_of(old, old.si, Kind.LENGTH) is old


def test_no_text_is_made_of_what_is_no_number() -> None:
    for value in (math.nan, math.inf):
        with pytest.raises(UnitError):
            units.quantity_in(value, Kind.LENGTH, "m")
    with pytest.raises(UnitError):
        units.quantity_in(1.0, Kind.LENGTH, "psi")


def test_common_units_never_load_pint(monkeypatch: pytest.MonkeyPatch) -> None:
    """Figures that no other test reads: what was read once is kept."""
    loaded = []
    sound = units._registry
    monkeypatch.setattr(units, "_registry", lambda: loaded.append("pint") or sound())
    units.quantity("12.0625 ft", Kind.LENGTH)
    units.quantity("7 ft 6.0625 in", Kind.LENGTH)
    units.quantity("150.0625 SUS", Kind.VISCOSITY)
    assert loaded == []
    units.quantity("9000.0625 gal/h", Kind.FLOW)
    assert loaded


def test_a_quantity_is_a_value() -> None:
    assert units.quantity("12 ft", Kind.LENGTH) == Quantity("12 ft", 12 * 0.3048)


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("50 %", Kind.SHARE, 0.5),
        ("2 250 m", Kind.ELEVATION, 2250.0),
        ("12\u202f250.5 m", Kind.ELEVATION, 12250.5),
        ("5 gallon/min", Kind.FLOW, 5 * 3.785411784e-3 / 60),
        ("71 cc", Kind.DISPLACEMENT, 71e-6),
        ("80 cm3", Kind.DISPLACEMENT, 80e-6),
        ("80 ml", Kind.DISPLACEMENT, 80e-6),
        ("5 in3", Kind.DISPLACEMENT, 5 * 0.0254**3),
        ("80 ml", Kind.VOLUME, 80e-6),
        ("71 cc/rev", Kind.DISPLACEMENT, 71e-6),
        ("71 cc", Kind.VOLUME, 71e-6),
        ("1480 1/min", Kind.SPEED, 1480 / 60),
        ("5'2\"", Kind.LENGTH, 62 * 0.0254),
        ("5'2", Kind.LENGTH, 62 * 0.0254),
        ("0.8 bara", Kind.PRESSURE, 0.8e5),
        ("0.8 bar abs", Kind.PRESSURE, 0.8e5),
        ("3 1/2 in", Kind.LENGTH, 3.5 * 0.0254),
    ],
)
def test_a_figure_is_taken_as_people_write_it(text: str, kind: Kind, si: float) -> None:
    """Definitions of the inch, the US gallon and the bar."""
    assert units.quantity(text, kind).si == pytest.approx(si, rel=1e-12)
    assert units.quantity(text, kind).text == text


@pytest.mark.parametrize(
    ("text", "better"),
    [
        ("2,250 m", 'write "2250 m", or "2.250 m" if the comma is a decimal one'),
        ("12,5 m", 'write "12.5 m"'),
        ("0,250 m", 'write "0.250 m"'),
        ("5 ft 2", "5 ft 2 in"),
    ],
)
def test_what_may_mean_two_things_is_refused_with_what_to_write(text: str, better: str) -> None:
    with pytest.raises(UnitError) as refused:
        units.quantity(text, Kind.LENGTH)
    assert refused.value.allowed.endswith(better)


@pytest.mark.parametrize("text", ["2 25 m", "22 5000 m", "2 250 1/2 in", "2  250  0 m"])
def test_spaces_part_thousands_alone(text: str) -> None:
    with pytest.raises(UnitError):
        units.quantity(text, Kind.LENGTH)
