"""What notes ask for before work is quoted in their own words, and nothing else of them is."""

from __future__ import annotations

import pytest

from solver.report.asked_in_notes import MOST, asked_for, beginning_of


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
    assert beginning_of("Both pumps, with nozzle, valve, header and tee.") == (
        "Both pumps, with nozzle, valve, header \u2026"
    )
