"""Numbers in writing: digits, units, what is left out, and what is said outside a formula's range."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import flow, symbols
from solver.formulas.formula import HTML, Bound, Constant, Formula, Number, Symbol, largest, sqrt, without
from solver.formulas.worked import outside, read, shortened, work, write, written
from solver.quantities.units import Kind, System

a, b = (Symbol(name, Kind.NUMBER, name) for name in "ab")


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0, 4, "0"),
        (1.0, 4, "1"),
        (-1.5, 4, "−1.5"),
        (0.00019817, 5, "0.00019817"),
        (0.0000198171, 5, "1.9817·10⁻⁵"),
        (2.004, 3, "2.00"),
        (9.9996, 4, "10.00"),
        (101325.0, 4, "101325"),
        (6356766.0, 7, "6356766"),
        (63567663.0, 3, "6.36·10⁷"),
        (-4.5e-7, 2, "−4.5·10⁻⁷"),
    ],
)
def test_numbers_have_their_digits_and_no_more(value: float, digits: int, text: str) -> None:
    assert written(value, digits) == text


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12), st.integers(3, 12))
def test_what_is_written_is_read_back_within_its_digits(value: float, digits: int) -> None:
    if abs(value) < 1e-12:
        value = 0.0
    assert read(written(value, digits)) == pytest.approx(value, rel=10.0 ** (1 - digits))


def test_a_result_is_reached_from_the_numbers_beside_it_even_where_they_nearly_cancel() -> None:
    difference = Formula("difference", b, (a, symbols.k), a - symbols.k, "none")
    (line,) = write(work(difference, 1000.12345, 1000.12), System.SI).lines
    assert line.result == "0.003450"
    left, right = (read(part) for part in line.numbers.split(" − "))
    assert left - right == pytest.approx(0.00345, abs=5e-7)


def test_sums_of_one_unit_need_no_second_line_and_mixed_units_do() -> None:
    assert write(work(flow.margin, 5000.0, 3000.0), System.US).si_lines == ()
    (plain,) = write(work(flow.velocity, 0.002, 0.05), System.US).si_lines
    assert plain.numbers == "4 · 0.002/(π · 0.05²)"
    assert plain.result == "1.019 m/s"


def test_constants_take_the_system_s_unit() -> None:
    lift = work(flow.static_lift, 1000.0, 1.0)
    assert "32.174" in write(lift, System.US).lines[0].numbers
    assert "9.80665 m/s²" in write(lift, System.SI).lines[0].numbers


def test_what_counts_for_nothing_is_left_out() -> None:
    loss = work(flow.element_loss, 0.0, 0.0, 0.05, 0.6, 400.0, 0.0, 0.03, 0.002, 0.0, 870.0, 0.0)
    assert shortened(loss).relation.text() == "K · q"
    assert shortened(loss).value == loss.value == pytest.approx(240.0)
    whole = work(flow.element_loss, 0.05, 1.0, 0.05, 0.6, 400.0, 1e6, 0.03, 0.002, 450.0, 870.0, 10.0)
    assert shortened(whole).relation is flow.element_loss, "a length of one metre is no factor of 1"


@given(x=st.floats(-3, 3), y=st.sampled_from([0.0, 1.0]))
def test_a_shortened_formula_has_the_value_of_the_whole(x: float, y: float) -> None:
    tree = (a + b) * (a - b) / 2 + largest(a * b, b) - (b - a) ** 2 + sqrt(b) + 3**b - b / 2
    whole = Formula("tree", symbols.k, (a, b), tree, "none")
    shorter = without(whole, (("b", y),))
    assert "b" not in {leaf.symbol for leaf in shorter.expression.leaves()}
    assert shorter(x) == pytest.approx(whole(x, y), rel=1e-12, abs=1e-12)


def test_the_same_formula_speaks_of_another_thing() -> None:
    there = Symbol("v_p", Kind.VELOCITY, "velocity there")
    other = flow.velocity.with_symbols({symbols.v: there}, "velocity there")
    assert other.result is there
    assert other(0.002, 0.05) == flow.velocity(0.002, 0.05)


def test_a_unit_with_a_slash_is_not_divided_by_mistake() -> None:
    ratio = Formula("ratio", b, (symbols.rho, symbols.rho_rated), symbols.rho / symbols.rho_rated, "none")
    (line,) = write(work(ratio, 900.0, 870.0), System.SI).lines
    assert line.numbers == "900 kg/m³ / (870 kg/m³)"


def test_a_number_with_its_unit_is_raised_whole() -> None:
    square = Formula("square", b, (symbols.D,), symbols.D**2, "none")
    assert write(work(square, 0.05), System.SI).lines[0].numbers == "(50 mm)²"


def test_copied_exponents_stay_exponents() -> None:
    power = Formula("power", b, (a,), Number(2) ** (a / 3), "none")
    assert power.text() == "2^(a/3)"
    assert "^(" in power.text(notation=HTML)
    assert "<sup><i>a</i>/3</sup>" in power.text(notation=HTML)


@pytest.mark.parametrize(("value", "said"), [(0.999, True), (1.0, False), (2.0, False), (2.001, True)])
def test_a_bound_speaks_outside_and_is_silent_on_its_edge(value: float, said: bool) -> None:
    formula = Formula("f", b, (a,), 2 * a, "none", "a from 1 to 2", (Bound(a, 1.0, 2.0),))
    text = outside(work(formula, value), System.SI)
    assert bool(text) is said
    if said:
        assert text.endswith("it holds for a from 1 to 2.")


def test_a_bound_may_be_of_several_symbols_and_tells_its_unit() -> None:
    assert outside(work(flow.colebrook, 1e5, 0.0026, 0.05), System.SI)
    assert not outside(work(flow.colebrook, 1e5, 0.0024, 0.05), System.SI)
    high = work(flow.geopotential, 12000.0)
    assert "39400 ft" in outside(high, System.US) or "39370 ft" in outside(high, System.US)


def test_no_number_is_no_number() -> None:
    assert written(math.nan, 4) == "—"
    assert Constant("c", None, "c", value=2.0).code() == "c"
