"""A size typed by its nominal figure alone is that of the list of the size that the part has."""

from __future__ import annotations

import pytest

from sketch.card.typed_size import choice_text, sizes_meant
from solver.properties import sizes

PIPE, HEAVY, HOSE, TUBE = "NPS 3 schedule 40", "NPS 3 schedule 80", "hose -24", "tube 42 x 3 mm"


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
    ],
)
def test_where_several_fit_all_of_them_are_meant(typed: str, present: str, meant: tuple[str, ...]) -> None:
    names = sizes_meant(typed, present)
    assert set(names) == set(meant)
    assert all(f'"{name}"' in choice_text(typed, names) for name in meant)


@pytest.mark.parametrize("typed", ["NPS 2 schedule 40", "42 x 3", "", "big", "47 mm", "2 ft", "1/0", "NPS 7"])
def test_names_and_what_is_no_size_are_left_as_they_are_typed(typed: str) -> None:
    assert sizes_meant(typed, PIPE) == ()


def test_a_part_without_a_size_has_no_list_to_look_in() -> None:
    assert sizes_meant("2 in", None) == ()
