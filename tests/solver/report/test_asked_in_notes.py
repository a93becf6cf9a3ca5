"""What notes ask for before work is quoted in their own words, and nothing else of them is."""

from __future__ import annotations

import pytest

from solver.report.asked_in_notes import MOST, MOST_WHOLE, asked_for, beginning_of, forbidden_in, quoted_of


@pytest.mark.parametrize(
    ("note", "quoted"),
    [
        ("Only with the owner's permission. The line is short.", ["Only with the owner's permission"]),
        ("A week's shutdown is needed.", ["A week's shutdown is needed"]),
        (
            "The tank stands in a bund, the pump outside it, and nobody is allowed in, but a wall sealed as "
            "the fire code for the site asks is.",
            ["\u2026 but a wall sealed as the fire code for the site asks is"],
        ),
        ("Wide and short, and it decodes nothing. The gauge agrees with the drawing.", []),
        ("", []),
    ],
)
def test_the_clause_that_asks_is_quoted(note: str, quoted: list[str]) -> None:
    assert list(asked_for(note)) == quoted


def test_a_long_clause_is_cut_about_the_word_that_asks() -> None:
    words = [f"word{number}" for number in range(40)]
    words[30] = "permission"
    (text,) = asked_for(" ".join(words))
    assert "permission" in text
    assert text.startswith("\u2026 ")
    assert len(text.replace("\u2026", "").split()) <= MOST


def test_a_note_begins_with_its_first_words() -> None:
    assert beginning_of("Short and whole.") == "Short and whole"
    words = [f"word{number}" for number in range(40)]
    assert beginning_of(" ".join(words)) == f"{' '.join(words[:12])} \u2026"


def test_a_short_note_is_quoted_whole_and_of_a_long_one_what_asks_before_what_may_be_a_condition() -> None:
    assert quoted_of("Both pumps,\nwith valve and tee.") == ("Both pumps, with valve and tee",)
    assert quoted_of("") == ()
    plain = "The same line in a wider bore. " * (MOST_WHOLE // 30 + 1)
    assert quoted_of(plain) == (beginning_of(plain),)
    long = f"{plain}Only on a Sunday. With the owner's permission."
    assert quoted_of(long)[:2] == ("With the owner's permission", "Only on a Sunday")


def test_a_sentence_that_forbids_something_is_quoted_whole() -> None:
    """Cut about its words it said neither who nor why."""
    told = f"The tank {'stands here and ' * 8}the builder was not allowed to pierce the wall, which is thick"
    assert list(asked_for(f"A pump. {told}.")) == [told]


def test_what_is_forbidden_is_known_again_by_a_word_that_both_have() -> None:
    note = "The tank is old, and nobody is not allowed to pierce the walls, which are thick. It is forbidden."
    assert forbidden_in(note, "Sleeve through the wall")
    assert not forbidden_in(note, "A thick sleeve on the tank"), "of the clause that forbids alone"
    assert not forbidden_in("The wall is thick.", "Sleeve through the wall")
