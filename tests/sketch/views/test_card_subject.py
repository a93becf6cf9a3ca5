"""What a card is about."""

from __future__ import annotations

from sketch.views.card_subject import CardSubject
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.views.cards import LAYOUTS


def test_one_part_the_whole_and_several() -> None:
    layout = file.read(LAYOUTS / "carriage-at-altitude.toml").base
    whole, one, several = CardSubject(), CardSubject(("riser",)), CardSubject(("riser", "lead"))
    assert (whole.name, one.name, several.name) == ("", "riser", "")
    assert one.heading(layout, System.US) == "Line from strainer to connector"
    assert several.heading(layout, System.US) == "2 lines"
    for subject in (whole, one, several):
        lines = subject.lines(layout, {}, System.US)
        assert set(subject.values(layout, {}, System.US, lines)) == {line.key for line in lines}
    size = next(line for line in several.lines(layout, {}, System.US) if line.key == "size")
    assert several.values(layout, {"size": "x"}, System.US, (size,)) == {"size": "x"}
    wider = several.changed(layout, {"size": "NPS 3 schedule 40"}, System.US)
    assert {run.size for run in wider.runs.values()} == {"NPS 3 schedule 40"}
    assert one.changed(layout, {"material": "plastic"}, System.US).runs["riser"].material == "plastic"
    assert several.undo_text(layout, wider, size) == "Change size of 2 parts to NPS 3 schedule 40"
    assert not several.replaced_text(layout, wider, size)
