"""Every word that the screen leaves to be known is explained where it stands."""

from __future__ import annotations

import pytest

from sketch.look.glossary import ON_PAPER, PHRASES, WORDS, word_meanings, words_on_paper


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("floor 22.9 inHg abs, est.", ["Floor", "est."]),
        ("kept to fill the pump", ["Kept to fill the pump"]),
        ("share of the inlet budget, given back", ["Share", "Inlet budget", "Given back"]),
        ("over budget", ["Over budget"]),
        ("highest port 1.58 ft", ["Highest port"]),
        ("carriage, velocity head", ["Velocity head"]),
        ("strainer, screen", ["Entrance, screen"]),
        ("entrance", ["Entrance, screen"]),
        ("at the port 2.3 inHg vac.", ["Vacuum"]),
        ("at a tap on the riser", ["Tap"]),
        ("riser, straight 1", []),
        ("K", ["K"]),
        ("floored, screens", []),
    ],
)  # fmt: skip
def test_the_words_of_a_text_are_explained_in_their_order(text: str, words: list[str]) -> None:
    assert [line.partition(":")[0] for line in word_meanings(text).splitlines()] == words


def test_every_phrase_has_its_explanation() -> None:
    assert set(PHRASES.values()) <= set(WORDS)
    assert set(ON_PAPER.values()) <= set(WORDS)


def test_on_paper_a_word_is_explained_once_and_only_where_it_stands() -> None:
    text = "Flooded 2.75 ft, lift: at the port 4.3 inHg vac.; NPS 2, 1590 cSt, low-pressure day; port."
    assert list(words_on_paper(text)) == ["Vacuum", "Port", "Lift", "Low-pressure day", "inHg", "cSt", "NPS"]
    assert words_on_paper("report in sports") == {}
    text = 'traps air: a high point; split, branch; as drawn, "coldest start"; 29.05 inHg abs'
    named = ["As drawn", "Coldest start", "Branch", "Trapped high point", "abs", "inHg"]
    assert list(words_on_paper(text)) == named


def test_trials_are_explained_by_both_figures_that_a_page_may_show_of_them() -> None:
    """A sheet says how many are over, the window between which margins most of them lie."""
    assert "in how many of 100" in WORDS["Trials"]
    assert "between which two margins" in WORDS["Trials"]
    assert "these" not in WORDS["Trials"]
