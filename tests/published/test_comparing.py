"""The keeping and showing of published values itself."""

from __future__ import annotations

import pytest

from tests.published.comparing import Published, Row, row, summary, table

NEAR = Row("A book", "Ex. 1", 10.0, 10.1, "ft", 0.2, True)
FAR = Row("Another book", "Ex. 2", 10.0, 11.0, "ft", 0.2, False)


def test_a_value_outside_its_tolerance_fails(published: Published, request: pytest.FixtureRequest) -> None:
    with pytest.raises(AssertionError, match="A check of the check"):
        published("A check of the check", "", 10.0, 10.3, abs=0.2)
    with pytest.raises(AssertionError):
        published("A check of the check", "", 10.0, float("nan"), rel=0.5)
    request.node.user_properties.clear()  # nothing published was compared here


def test_a_tolerance_must_be_given(published: Published) -> None:
    with pytest.raises(ValueError, match="how far"):
        published("A check of the check", "", 10.0, 10.0)


def test_a_relative_tolerance_is_of_their_value() -> None:
    assert row("", "", -200.0, -190.0, "", 0.06, None, False).tolerance == pytest.approx(12.0)


def test_rows_show_both_values_the_difference_and_what_is_allowed() -> None:
    lines = table([FAR, NEAR])
    assert [line.split()[0] for line in lines[2:]] == ["A", "Another"]
    assert lines[2].endswith("10      10.1 ft        +1.000 %        2 %")
    assert lines[3].endswith("+10.000 %      2 % !")


def test_the_summary_counts_sources_drawings_and_failures() -> None:
    said = summary([NEAR, FAR])
    assert said.startswith("2 published values of 2 sources, 1 of them through a layout file")
    assert said.endswith("1 outside their tolerances")
    assert summary([NEAR]).endswith("all within their tolerances")


def test_what_a_library_has_worked_out_is_counted_apart() -> None:
    said = summary([NEAR, NEAR._replace(source="fluids, Hooper (1981)")])
    assert said.startswith("1 published values of 1 sources")
    assert ", and 1 that libraries have worked out: all within" in said
