"""Names, order and refusals of the standard sizes. Published bores: tests/published/test_sizes.py."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.properties import sizes


@pytest.mark.parametrize("name", sizes.names())
def test_every_listed_size_has_a_bore_inside_its_outside(name: str) -> None:
    assert sizes.bore(name) > 0
    outside = sizes.outside(name)
    assert outside is None or outside > sizes.bore(name)


def test_sizes_of_a_family_come_in_order_of_bore() -> None:
    for family in {sizes.family(name) for name in sizes.names()}:
        bores = [sizes.bore(name) for name in sizes.names() if sizes.family(name) == family]
        assert bores == sorted(bores)


def test_next_up_climbs_through_a_family_to_its_end() -> None:
    size: str | None = "NPS 1/8 schedule 40"
    seen = []
    while size is not None:
        seen.append(size)
        size = sizes.next_up(size)
    assert seen == [name for name in sizes.names() if name.endswith("schedule 40")]
    assert sizes.next_up("hose -64") is None


def test_next_up_of_a_tube_that_is_not_listed() -> None:
    assert sizes.next_up("tube 41 x 3 mm") == "tube 42 x 3 mm"


@pytest.mark.parametrize(
    "spelling",
    ["NPS 1.5 schedule 40", "NPS 1 1/2 schedule 40", "nps 1-1/2 sch 40", "DN 40 schedule 40"],
)
def test_spellings_of_one_pipe(spelling: str) -> None:
    assert sizes.find(spelling) == sizes.find("NPS 1-1/2 schedule 40")


def test_a_listed_tube_needs_neither_word_nor_unit() -> None:
    for listed in (name for name in sizes.names() if name.startswith("tube")):
        figures = listed.removeprefix("tube ").rpartition(" ")[0]
        assert {sizes.find(each) for each in (figures, figures.replace(" ", ""), f"tube {figures}")} == {
            sizes.find(listed)
        }, "no pair of figures stands in both lists"
    assert sizes.find("42x3mm") == sizes.find("tube 42 x 3 mm")
    names = {sizes.full_name(each) for each in ("42 x 3", "42x3mm", "tube 42 x 3", "tube 42 x 3 mm")}
    assert names == {"tube 42 x 3 mm"}
    assert sizes.full_name("NPS 1.5 sch 40") == "NPS 1.5 sch 40"


@pytest.mark.parametrize(
    ("size", "allowed"),
    [
        ("41 x 3", "with the unit where the list has no such tube"),
        ("hose -33", "-32"),
        ("NPS 7 schedule 40", "3-1/2"),
        ("NPS 2 schedule 45", "schedule 10, 40, 80, 160"),
        ("NPS 1/0 schedule 40", "3/4"),
        ("NPS 1/4 schedule 160", "not below 1/2"),
        ("DN 51 schedule 40", "NPS"),
        ("tube 10 x 5 mm", "tube 42 x 3 mm"),
        ("tube 10 x 0 mm", "tube 42 x 3 mm"),
        ("", "hose"),
        ("2 inch", '"NPS 2 schedule 40", "hose -32"'),
        ('1-1/2"', '"NPS 1-1/2 schedule 40", "hose -24"'),
        ("50 mm", "an inside diameter as bore"),
        ("1/0 in", "3/4"),
    ],
)
def test_refusal_says_what_is_allowed(size: str, allowed: str) -> None:
    with pytest.raises(sizes.SizeError) as error:
        sizes.bore(size)
    assert error.value.found == size
    assert allowed in error.value.allowed


def test_nominal_size_of_pipe_and_hose_is_their_name() -> None:
    assert sizes.nominal("NPS 2 schedule 80", 0.0) == pytest.approx(0.0508)
    assert sizes.nominal("hose -32", 0.0) == pytest.approx(0.0508)


@pytest.mark.parametrize("nps", ["1/8", "1/2", "1-1/4", "2", "12"])
def test_bare_bore_takes_the_nominal_size_of_the_equal_pipe(nps: str) -> None:
    pipe = sizes.find(f"NPS {nps} schedule 40")
    assert sizes.nominal(None, pipe.bore) == pytest.approx(pipe.nominal)


@given(st.floats(0.002, 0.5), st.floats(1e-6, 1e-3))
def test_nominal_size_grows_without_a_step(bore: float, step: float) -> None:
    small, large = sizes.nominal(None, bore), sizes.nominal(None, bore + step)
    assert small < large < small + 2.5 * step


def test_every_roughness_has_a_source() -> None:
    assert set(sizes.ROUGHNESS) == set(sizes.ROUGHNESS_SOURCE)
    assert all(0 < height < 0.005 for height in sizes.ROUGHNESS.values())


@pytest.mark.parametrize("size", ["DN50", "DN 50", "NPS 2"])
def test_a_pipe_without_its_wall_asks_for_the_schedule(size: str) -> None:
    with pytest.raises(sizes.SizeError, match="with the schedule of its wall, such as"):
        sizes.find(size)


def test_what_few_merchants_keep_is_listed_but_not_in_stock() -> None:
    assert set(sizes.names()) - set(sizes.stocked()) == {
        *(f"NPS 3-1/2 schedule {schedule}" for schedule in (10, 40, 80)),
        *(f"NPS 5 schedule {schedule}" for schedule in (10, 40, 80, 160)),
    }


@pytest.mark.parametrize(
    ("size", "up", "down"),
    [
        ("NPS 2 schedule 80", "NPS 2-1/2 schedule 80", "NPS 1-1/2 schedule 80"),
        ("NPS 3 schedule 40", "NPS 4 schedule 40", "NPS 2-1/2 schedule 40"),
        ("tube 60 x 4 mm", "tube 65 x 4 mm", "tube 50 x 4 mm"),
        ("tube 38 x 4 mm", "tube 42 x 4 mm", "tube 35 x 3 mm"),
        ("hose -24", "hose -32", "hose -20"),
        ("hose -64", None, "hose -56"),
    ],
)
def test_one_size_up_and_down_within_its_standard(size: str, up: str | None, down: str | None) -> None:
    assert sizes.neighbour(size, 1) == up
    assert sizes.neighbour(size, -1) == down


@pytest.mark.parametrize(("bore", "hose"), [(0.0409, "hose -24"), (0.0525, "hose -32"), (0.5, "hose -64")])
def test_the_hose_nearest_to_a_bore(bore: float, hose: str) -> None:
    assert sizes.hose_of_bore(bore) == hose
