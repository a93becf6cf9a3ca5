"""What was typed and refused is kept by whose figures it is, and given back once."""

from __future__ import annotations

from sketch.card.card_subject import CardSubject
from sketch.card.kept_drafts import KeptDrafts
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS

PUMP, LINE = CardSubject(("carriage",)), CardSubject(("riser",))


def test_it_is_given_back_once_to_its_own_part_and_said_with_its_name() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    said = kept.keep(PUMP, layout, {"speed": "fast"}, System.US)
    assert said == (
        'Not taken over from the part card, and kept there until carriage is selected again: Speed "fast".'
    )
    assert kept.take(LINE) == (None, {})
    assert kept.take(PUMP) == (layout, {"speed": "fast"})
    assert kept.take(PUMP) == (None, {})


def test_several_parts_are_said_by_their_number() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    both = CardSubject(("riser", "lead"))
    said = kept.keep(both, layout, {"size": "big"}, System.US)
    assert "kept there until 2 parts are selected again" in said
    kept.forget()
    assert kept.take(both) == (None, {})
