"""Every word that the screen leaves to be known is explained where it stands."""

from __future__ import annotations

import pytest

from sketch.look.glossary import PHRASES, WORDS, word_meanings


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
        ("riser, straight 1", []),
        ("K", ["K"]),
        ("floored, screens", []),
    ],
)  # fmt: skip
def test_the_words_of_a_text_are_explained_in_their_order(text: str, words: list[str]) -> None:
    assert [line.partition(":")[0] for line in word_meanings(text).splitlines()] == words


def test_every_phrase_has_its_explanation() -> None:
    assert set(PHRASES.values()) <= set(WORDS)
