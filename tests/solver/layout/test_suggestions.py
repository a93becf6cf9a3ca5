"""What a word is taken to have been meant for."""

import pytest

from solver.layout.suggestions import MOST_MEANT, suggestion
from solver.properties import families


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("water-gl", 'did you mean "Water-glycol (HFC)"? '),
        ("water", 'did you mean "Water"? '),
        ("Watr", 'did you mean "Water"? '),
        ("VG 68", 'did you mean "Mineral oil, ISO VG 68"? '),
        ("vg 46", 'did you mean "Mineral oil, ISO VG 46" or "High-VI oil, ISO VG 46"? '),
        ("", ""),
        ("qqqq", ""),
    ],
)
def test_what_begins_so_then_what_holds_the_words_then_what_is_near(word: str, said: str) -> None:
    assert suggestion(word, families.catalogue()) == said


def test_the_beginning_of_a_word_is_enough() -> None:
    assert "Natural ester" in suggestion("natural", families.catalogue())


def test_many_that_hold_it_are_not_all_named() -> None:
    assert suggestion("ISO VG", families.catalogue()).count('"') == 2 * MOST_MEANT
