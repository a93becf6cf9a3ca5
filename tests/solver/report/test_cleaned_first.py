"""A screen that was read as blocked is cleaned first, and what that is worth is said before what to build."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.as_read import as_read
from solver.findings.judgement import judge
from solver.fixes.fixes import advise_all
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from solver.report.choices import Choice
from solver.report.choosing import JudgedDrawing, advised_on, is_enough_cleaned, to_build
from solver.report.cleaned_first import cleaning_first, cleaning_order, removed_screens
from solver.report.recommendation import recommendation, state_then
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN, SI = file.read(PATH).base, System.SI
TWICE = file.read(PATH).alternatives["Twice the strainer"].layout
WIDER = replace(DRAWN, runs={
    name: replace(run, bore=quantity("53 mm", Kind.BORE)) for name, run in DRAWN.runs.items()
})  # fmt: skip


def before(limit: str = "25 kPa", *, advised: bool = False) -> JudgedDrawing:
    layout = limited(DRAWN, limit)
    return JudgedDrawing("", judge(layout), advise_all(layout) if advised else {}, as_read=as_read(layout))


def after(layout: Layout, limit: str = "25 kPa") -> JudgedDrawing:
    return JudgedDrawing("Other", judge(limited(layout, limit)), {}, limited(DRAWN, limit))


def limited(layout: Layout, vacuum: str) -> Layout:
    """The drawing with another limit of its pump."""
    pump = layout.pumps["feed"]
    limit = replace(pump.limit, table=((None, quantity(vacuum, Kind.VACUUM)),))
    return replace(layout, pumps={"feed": replace(pump, limit=limit)})


@pytest.mark.parametrize("layout", [None, TWICE, WIDER])
def test_where_cleaning_is_enough_nothing_has_to_be_built(layout: Layout | None) -> None:
    drawn, other = before(), None if layout is None else after(layout)
    assert is_enough_cleaned(drawn)
    clean, stands, enough = cleaning_first(drawn, other, SI)
    assert clean == "Clean strainer first."
    assert stands == f"With strainer as drawn (clean), in the worst case {state_then(drawn.judgement, SI)}"
    assert 'feed is then within: 12.30 of 19.21 kPa allowed here in "cold morning".' in stands
    assert enough == "That is enough: for the margin nothing has to be built."
    assert advised_on(drawn, other, SI) is drawn
    assert to_build(drawn, other, SI) is drawn
    assert "then pull and clean strainer" in cleaning_order(drawn, other, SI)
    texts = " ".join(recommendation(drawn, other, SI))
    assert "Build" not in texts
    if layout is not None:
        assert '"Other" is a choice of its own for ' in texts
        gone = "strainer as now fitted goes with it: built at once, no need to clean that first."
        assert (gone in texts) is (layout is TWICE)
        assert ("With it strainer is to be cleaned all the same." in texts) is (layout is WIDER)


@pytest.mark.parametrize(
    ("limit", "says"),
    [("16 kPa", "Cleaning alone is not enough."), ("19 kPa", "Cleaning alone leaves a thin margin.")],
)
def test_where_cleaning_is_not_enough_both_are_to_be_done_but_not_of_what_is_thrown_away(
    limit: str, says: str
) -> None:
    drawn = before(limit)
    assert not is_enough_cleaned(drawn)
    texts = list(cleaning_first(drawn, after(WIDER, limit), SI))
    assert texts[0] == "Clean strainer first."
    assert texts[2:] == [says]
    assert 'Build "Other"' in " ".join(recommendation(drawn, after(WIDER, limit), SI))
    assert "then pull and clean strainer" in cleaning_order(drawn, after(WIDER, limit), SI)
    other = after(TWICE, limit)
    assert removed_screens(drawn, other, SI) == ("strainer",)
    texts = list(cleaning_first(drawn, other, SI))
    assert texts[0].startswith("With strainer as drawn (clean), in the worst case ")
    assert texts[1:] == [
        says,
        "What is recommended takes out strainer, so that it is not cleaned first.",
    ]
    order = cleaning_order(drawn, other, SI)
    assert order.startswith("Lock out the drive, let the pressure off")
    assert "pull and clean" not in order


@pytest.mark.parametrize(("of_screen", "gone"), [(True, ("strainer",)), (False, ())])
def test_a_change_that_takes_the_screen_out_is_not_preceded_by_cleaning_it(
    of_screen: bool, gone: tuple[str, ...]
) -> None:
    drawn = before("16 kPa", advised=True)
    fixes = (fix for advice in drawn.advice.values() for fix in advice.fixes)
    fix = next(fix for fix in fixes if ("in the place of the screen" in fix.text) is of_screen
               and ("strainer" in fix.layout.intakes))  # fmt: skip
    ordered = replace(drawn, choices={"feed": Choice(fix)})
    assert removed_screens(ordered, None, SI) == gone
    assert ("pull and clean strainer" in cleaning_order(ordered, None, SI)) is not of_screen
    first = next(cleaning_first(ordered, None, SI))
    assert (first == "Clean strainer first.") is not of_screen


def test_where_nothing_was_read_as_blocked_nothing_is_cleaned() -> None:
    drawn = replace(before(), as_read=None)
    assert list(cleaning_first(drawn, None, SI)) == []
    assert cleaning_order(drawn, None, SI) == ""
    assert advised_on(drawn, other := after(TWICE), SI) is other
