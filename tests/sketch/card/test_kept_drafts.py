"""What was typed and refused is kept by whose figures it is, and given back once."""

from __future__ import annotations

from sketch.card.card_subject import CardSubject
from sketch.card.kept_drafts import KeptDrafts
from sketch.editing import building
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS

PUMP, LINE = CardSubject(("carriage",)), CardSubject(("riser",))


def test_it_is_given_back_once_to_its_own_part_and_said_with_its_name() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    said = kept.keep(PUMP, layout, {"speed": "fast"}, System.US, layout)
    assert said == (
        'Not taken over from the part card, and kept there until carriage is selected again: Speed "fast".'
    )
    assert kept.take(LINE, layout) == (None, {})
    assert kept.take(PUMP, layout) == (layout, {"speed": "fast"})
    assert kept.take(PUMP, layout) == (None, {})


def test_several_parts_are_said_by_their_number() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    both = CardSubject(("riser", "lead"))
    said = kept.keep(both, layout, {"size": "big"}, System.US, layout)
    assert "kept there until 2 parts are selected again" in said
    kept.forget()
    assert kept.take(both, layout) == (None, {})


def test_it_is_given_back_under_every_name_that_its_part_has_had() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    once = building.rename(layout, "carriage", "main pump")
    twice = building.rename(once, "main pump", "feed pump")
    kept.note_rename("carriage", "main pump")
    kept.note_rename("main pump", "feed pump")
    for drawn, name in ((layout, "carriage"), (once, "main pump"), (twice, "feed pump")):
        subject = CardSubject((name,))
        assert f"until {name} is selected again" in kept.keep(
            PUMP, layout, {"speed": "fast"}, System.US, drawn
        )
        assert tuple(kept.refused_texts(System.US, drawn)) == (f'"fast" in Speed of {name}',)
        before, draft = kept.take(subject, drawn)
        assert (before, draft) == (drawn, {"speed": "fast"})
        assert tuple(kept.refused_texts(System.US, drawn)) == ()


def test_another_part_that_takes_the_name_gets_nothing() -> None:
    kept, layout = KeptDrafts(), file.read(LAYOUTS / "carriage-at-altitude.toml").base
    kept.keep(PUMP, layout, {"speed": "fast"}, System.US, layout)
    kept.note_rename("carriage", "main pump")
    now = building.rename(layout, "carriage", "main pump")
    now = building.rename(now, "lead", "carriage")
    assert kept.take(PUMP, now) == (None, {})
    assert kept.take(CardSubject(("main pump",)), now)[1] == {"speed": "fast"}
