"""A size typed by its nominal figure alone is that of the list of the size that the part has."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from sketch.card.typed_size import choice_text, sizes_beside, sizes_meant
from sketch.editing import beginning
from solver.properties import sizes
from solver.quantities.units import System

PIPE, HEAVY, HOSE, TUBE = "NPS 3 schedule 40", "NPS 3 schedule 80", "hose -24", "tube 42 x 3 mm"
INCH_PIPES = ("NPS 1-1/2 schedule 40", "NPS 1-1/2 schedule 80")
INCH_TUBES = tuple(f"tube 1.5 x {wall} in" for wall in ("0.12", "0.095", "0.083", "0.065"))


@pytest.mark.parametrize(
    ("typed", "present", "meant"),
    [
        ("2 in", PIPE, "NPS 2 schedule 40"),
        ("2", PIPE, "NPS 2 schedule 40"),
        ('2"', HEAVY, "NPS 2 schedule 80"),
        ("1-1/2 in", PIPE, "NPS 1-1/2 schedule 40"),
        ("1 1/2", PIPE, "NPS 1-1/2 schedule 40"),
        ("1.5 inch", PIPE, "NPS 1-1/2 schedule 40"),
        ("DN 50", PIPE, "NPS 2 schedule 40"),
        ("dn50", HEAVY, "NPS 2 schedule 80"),
        ("50 mm", PIPE, "NPS 2 schedule 40"),
        ("50", PIPE, "NPS 2 schedule 40"),
        ("NPS 2", HEAVY, "NPS 2 schedule 80"),
        ("2 in sch 80", PIPE, "NPS 2 schedule 80"),
        ("2 in sch. 80", HOSE, "NPS 2 schedule 80"),
        ("2 in", HOSE, "hose -32"),
        ("50 mm", HOSE, "hose -32"),
        ("-32", HOSE, "hose -32"),
        ("2-inch", PIPE, "NPS 2 schedule 40"),
        ("2-inch pipe", HEAVY, "NPS 2 schedule 80"),
        ("1-1/2-inch pipe", PIPE, "NPS 1-1/2 schedule 40"),
        ("2in pipe sch 40", HEAVY, "NPS 2 schedule 40"),
        ("2in pipe sch 40", TUBE, "NPS 2 schedule 40"),
        ("2 in pipe, schedule 80", None, "NPS 2 schedule 80"),
        ("2 in sch 40 pipe", HOSE, "NPS 2 schedule 40"),
        ("Pipe 2 in sch 40", TUBE, "NPS 2 schedule 40"),
        ("NPS 2 schedule 40 pipe", TUBE, "NPS 2 schedule 40"),
        ("50 mm pipe", PIPE, "NPS 2 schedule 40"),
    ],
)
def test_what_can_mean_one_size_only_is_that_size(typed: str, present: str, meant: str) -> None:
    assert sizes_meant(typed, present) == (meant,)
    assert sizes.find(meant).name == meant


@pytest.mark.parametrize(
    ("typed", "present", "meant"),
    [
        ("8", PIPE, ("NPS 8 schedule 40", "NPS 1/4 schedule 40")),
        ("4", HOSE, ("hose -4", "hose -64")),
        ("50 mm", TUBE, ("tube 50 x 5 mm", "tube 50 x 4 mm", "tube 50 x 3 mm")),
        ("DN 50", HOSE, ("NPS 2 schedule 40", "NPS 2 schedule 80")),
        ("DN 50", None, ("NPS 2 schedule 40", "NPS 2 schedule 80")),
        ("2-inch pipe", TUBE, ("NPS 2 schedule 40", "NPS 2 schedule 80")),
        ("2 in pipe", None, ("NPS 2 schedule 40", "NPS 2 schedule 80")),
        ("3 in", TUBE, ("NPS 3 schedule 40", "NPS 3 schedule 80")),
        ("1-1/2", TUBE, (*INCH_TUBES, *INCH_PIPES)),
        ("1-1/2 in", TUBE, (*INCH_TUBES, *INCH_PIPES)),
        ("tube 1-1/2 in", PIPE, INCH_TUBES),
    ],
)
def test_where_several_fit_all_of_them_are_meant(
    typed: str, present: str | None, meant: tuple[str, ...]
) -> None:
    names = sizes_meant(typed, present)
    assert set(names) == set(meant)
    assert all(f'"{name}"' in choice_text(typed, names) for name in meant)


@pytest.mark.parametrize(
    "typed",
    [
        "NPS 2 schedule 40",
        "42 x 3",
        "",
        "big",
        "47 mm",
        "2 ft",
        "1/0",
        "NPS 7",
        "pipe",
        "1 pipe 1/2",
        "2-",
        "pipeline 2",
    ],
)
def test_names_and_what_is_no_size_are_left_as_they_are_typed(typed: str) -> None:
    assert sizes_meant(typed, PIPE) == ()


def test_a_part_without_a_size_has_no_list_to_look_in() -> None:
    assert sizes_meant("2 in", None) == ()


def test_pipes_come_first_at_a_tube_where_the_line_is_of_pipes() -> None:
    assert sizes_meant("1-1/2 in", TUBE, [PIPE, PIPE, TUBE]) == (*INCH_PIPES, *INCH_TUBES)
    assert sizes_meant("1-1/2 in", TUBE, [PIPE, TUBE, TUBE]) == (*INCH_TUBES, *INCH_PIPES)
    assert sizes_meant("1-1/2 in", TUBE, [HEAVY, HEAVY])[:2] == INCH_PIPES[::-1]


@pytest.mark.parametrize("present", [TUBE, HOSE, None])
def test_a_pipe_without_its_schedule_has_that_of_its_line_or_is_chosen(present: str | None) -> None:
    assert sizes_meant("2-inch pipe", present, [HEAVY, TUBE]) == ("NPS 2 schedule 80",)
    assert sizes_meant("2-inch pipe", PIPE, [HEAVY]) == ("NPS 2 schedule 40",)
    several = ("NPS 2 schedule 80", "NPS 2 schedule 40")
    assert sizes_meant("2-inch pipe", present, [HEAVY, PIPE]) == several


@pytest.mark.parametrize("typed", ["hose 2 in pipe", "tube 2 in pipe"])
def test_what_is_called_two_things_is_neither(typed: str) -> None:
    assert sizes_meant(typed, TUBE) == ()


def test_the_sizes_beside_a_part_are_those_of_its_line_or_of_all_where_it_is_in_none() -> None:
    new = beginning.begin(System.SI)
    own = sizes_beside(new, "pump")
    assert own
    assert set(own) == {"tube 60 x 4 mm"}
    other = replace(new.pumps["pump"], name="other", size=PIPE)
    two = replace(new, pumps={**new.pumps, "other": other})
    assert sizes_beside(two, "pump") == own
    assert Counter(sizes_beside(two, "other")) == Counter((*own, "tube 60 x 4 mm"))
