"""What a change on the card is called, and what it takes the place of."""

from __future__ import annotations

import pytest

from sketch.card import card_words
from sketch.card.card_subject import CardSubject
from sketch.card.card_words import lowered
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS
from tests.solver.checking import lifted, with_fluid

LAYOUT = file.read(LAYOUTS / "carriage-at-altitude.toml").base


@pytest.mark.parametrize(
    ("names", "key", "typed", "undo", "lost"),
    [
        (("carriage",), "speed", "725 rpm", "Change speed of carriage to 725 rpm", ""),
        (("carriage",), "dry_lift", "", "Clear height to which it primes of carriage", ""),
        (("strainer",), "screen.bypass", "4 psi", "Change bypass opening pressure of strainer to 4 psi", ""),
        (("carriage",), "at_rest", True, "Put carriage at rest", ""),
        (("carriage",), "limit_assumed", True, "Mark the limit of carriage as assumed", ""),
        (("carriage",), "credit", True, "Change eased limit of carriage to yes", ""),
        (("riser",), "straight.1", "3 ft", "Change straight 1 of riser to 3 ft 0 in", ""),
        (
            ("carriage",),
            "limit.npsh",
            "0.8 m",
            "Change NPSH required of carriage to 0.8 m, in place of the vacuum limit of 7 inHg",
            "NPSH required 0.8 m takes the place of the vacuum limit of 7 inHg",
        ),
        (
            ("carriage",),
            "flow",
            "20 L/min",
            "Change displacement of carriage to 13.79 cm³/rev",
            "",
        ),
        (
            ("riser", "lead"),
            "bore",
            "2 in",
            "Change bore of 2 parts to 2 in, in place of the size of NPS 2 schedule 40",
            "Bore 2 in takes the place of the size of NPS 2 schedule 40",
        ),
    ],
)
def test_a_change_is_named_with_its_figure_and_with_what_goes(names, key, typed, undo, lost) -> None:
    subject = CardSubject(names)
    line = next(each for each in subject.lines(LAYOUT, {}, System.US) if each.key == key)
    edited = subject.changed(LAYOUT, {key: typed}, System.US)
    assert subject.undo_text(LAYOUT, edited, line) == undo
    assert subject.replaced_text(LAYOUT, edited, line) == lost


def test_a_symbol_keeps_its_capital_in_a_sentence() -> None:
    labels = ("NPSH required", "Kv", "Least pressure")
    assert [lowered(label) for label in labels] == ["NPSH required", "Kv", "least pressure"]


def test_what_the_catalogue_has_stands_with_its_figure() -> None:
    known = card_words.catalogue_figures(with_fluid(lifted(), name="Mineral oil, ISO VG 46"), System.SI)
    assert known["fluid.viscosity_index"].endswith(", listed")
    assert known["fluid.density"].split()[1] == "kg/m³,"
    assert card_words.catalogue_figures(with_fluid(lifted(), name="House blend"), System.SI) == {}
