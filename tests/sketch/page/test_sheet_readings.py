"""Readings on the sheet, where they are asked for: what was read, what is expected, what explains it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sketch.page.blocks import Paragraph, Picture
from sketch.page.columns import Columns
from sketch.page.options import option_of
from sketch.page.sheet import _sheet, write_sheet
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_readings import likely_causes, readings_in_short, readings_part
from solver.field.age import reading_dates
from solver.field.as_read import as_read
from solver.field.compared import compare
from solver.field.diagnosis import diagnose
from solver.field.trend import long_trends
from solver.findings.judgement import judge
from solver.layout.logged import LoggedReading
from solver.layout.parts import Level
from solver.quantities.units import Kind, System, quantity
from solver.report.choosing import JudgedDrawing
from solver.report.cleaned_first import cleaning_first
from tests.sketch.sheets import ALL_PARTS, DAY, drawing, pages, words, written

pytestmark = pytest.mark.usefixtures("qapp")

YEAR = "strainer-over-a-year"
READINGS = frozenset(["readings"])


@pytest.mark.thorough
def test_every_reading_stands_beside_what_is_expected_and_what_explains_it() -> None:
    layout = drawing(YEAR).base
    text = words(written(YEAR, parts=READINGS))
    text = text[text.index("Readings Caution:") :]
    for each in compare(layout, ""):
        assert f"{each.logged.when}, {each.logged.place_in(System.SI)}" in text
        assert _squeezed(each.words(System(layout.units))[0]) in _squeezed(text)
    for pump in dict.fromkeys(each.pump for each in layout.readings):
        diagnosis = diagnose(layout, pump, "")
        assert _squeezed(diagnosis.headline) in _squeezed(text)
        assert _squeezed(diagnosis.causes[0].name) in _squeezed(text)


@pytest.mark.thorough
def test_without_readings_or_unasked_there_is_no_such_part() -> None:
    assert "Readings Caution:" not in words(written(YEAR))
    assert "Readings in short Caution:" in words(written(YEAR))
    assert "Readings Caution:" not in words(written("carriage-at-altitude", compared=True, parts=ALL_PARTS))


def test_a_newest_reading_that_says_stop_comes_first_on_the_first_page(tmp_path: Path) -> None:
    drawn = drawing(YEAR).base
    over = replace(drawn.readings[-1], vacuum=(quantity("21.3 kPa", Kind.VACUUM),))
    layout = replace(drawn, readings=(*drawn.readings[:-1], over))
    option = option_of("", "", layout, Level.MINIMUM, System.SI)
    write_sheet((option,), tmp_path / "stop.pdf", SheetWish(pages=1), date=DAY, file=tmp_path / "stop.toml")
    first = pages(tmp_path / "stop.pdf")[0]
    sentence = "21.3 kPa read at the port of feed on 2026-02-23, no more than 19.2 kPa is allowed there"
    short = "21.3 kPa read, 19.2 kPa allowed thereRead at the port of feed on 2026-02-23. As drawn: within:"
    assert _squeezed(f"Stop the pump{short}") in _squeezed(first)
    assert _squeezed(f"What speaks against it: Stop the pump: {sentence}.") in _squeezed(first)
    assert "No stop and no caution" not in first
    alone = "By the drawing alone: No check found anything else to put right."
    read = as_read(layout)
    drawn = JudgedDrawing("", judge(layout), {}, as_read=read)
    cleaned = " ".join(cleaning_first(drawn, None, System.SI, stated=False))
    assert cleaned.startswith("Clean strainer first. That is enough")
    keep = f"Keep the pump stopped until it is known what raised its reading. {cleaned} {alone}"
    likely, due = likely_causes(layout, System.SI, ("strainer",))
    read = "By what was read at feed (2026-02-23)"
    assert likely == f"{read} one cause is far likelier than any other: screen blocked (strainer)."
    assert due.startswith("By the trend of its readings strainer is due for cleaning")
    order = "Order of work: 1. With the pump stopped, look"
    assert _squeezed(f"Recommendation: {likely} {due} {keep} {order}") in _squeezed(first)


def test_how_much_of_a_strainer_is_blocked_is_one_figure_on_the_first_page(tmp_path: Path) -> None:
    layout = drawing(YEAR).base
    option = option_of("", "", layout, Level.MINIMUM, System.SI)
    write_sheet((option,), tmp_path / "year.pdf", SheetWish(pages=1), date=DAY, file=tmp_path / "year.toml")
    first = _squeezed(pages(tmp_path / "year.pdf")[0])
    (by_visit, _), (named, _) = (likely_causes(layout, System.SI, sized) for sized in ((), ("strainer",)))
    assert by_visit.endswith(" % blocked.")
    assert named.endswith("screen blocked (strainer).")
    read = as_read(layout)
    assert read is not None
    assert _squeezed(named) in first
    assert _squeezed(read.screens[0].share) in first
    assert set(re.findall(r"(\d+to\d+)%", first)) == {_squeezed(read.screens[0].share)[:-1]}
    shown = 'As read: feed, "cold morning". The picture: strainer as drawn, margin 6.91 kPa'
    assert _squeezed(shown) in first
    assert _squeezed("What speaks against it As read on 2026-02-23: feed is over by") in first.replace(
        "it:", "it"
    )
    cleaned = "Clean strainer first. That is enough: for the margin nothing has to be built."
    dates = reading_dates(layout)
    assert dates is not None
    advised = f"Recommendation {dates.sentence(DAY)} {cleaned}"
    assert _squeezed(advised) in first.replace("Recommendation:", "Recommendation")
    alone = "By the drawing alone no check found anything else to put right."
    assert _squeezed(alone) in first
    assert _squeezed('Why it matters: Left uncleaned, feed fails in "cold morning"') in first


def test_what_several_readings_have_alike_is_stated_once_and_a_trend_is_drawn() -> None:
    layout = drawing("carriage-at-altitude").base
    state = {"level": "minimum", "fluid": {"temperature": "45 degC"}}
    read = (("2026-03-03", "2.4 inHg"), ("2026-06-04", "3.0 inHg"), ("2026-09-02", "4.1 inHg"))
    rest = (quantity("1.4 inHg", Kind.VACUUM),)
    layout = replace(
        layout,
        readings=tuple(
            LoggedReading(
                when,
                "carriage",
                vacuum=(quantity(shown, Kind.VACUUM),),
                rest_vacuum=rest,
                state=state,
            )
            for when, shown in read
        ),
    )
    option = option_of("", "", layout, Level.MINIMUM, System.US)
    sheet = _sheet((option,), SheetWish(), Level.MINIMUM, System.US)
    (columns,) = (block for block in readings_part(sheet) if isinstance(block, Columns))
    texts = [block.text for block in columns.blocks if isinstance(block, Paragraph)]
    assert sum("neither the gauge's height" in text for text in texts) == 1
    assert any(text.startswith("2026-03-03: ") and "% open" in text for text in texts)
    assert sum(isinstance(block, Picture) for block in columns.blocks) == 1


def test_unasked_the_sheet_has_what_the_readings_come_to_and_when_the_strainer_is_due() -> None:
    layout = drawing(YEAR).base
    sheet = _sheet(
        (option_of("", "", layout, Level.MINIMUM, System.SI),), SheetWish(), Level.MINIMUM, System.SI
    )
    blocks = list(readings_in_short(sheet))
    texts = [f"{block.lead} {block.text}" for block in blocks if isinstance(block, Paragraph)]
    diagnosis, (trend,) = diagnose(layout, "feed", ""), long_trends(layout, "feed")
    assert f"feed, readings of 2026-02-23: {diagnosis.headline}" in texts
    assert diagnosis.next is not None
    assert f"Next: {diagnosis.next.what}." in texts
    (over_time,) = (text for text in texts if text.startswith("strainer over time: "))
    newest = trend.points[-1]
    band = f"({newest.low * 100:.0f} to {newest.high * 100:.0f} %) on 2026-02-23"
    assert f"{newest.open_share * 100:.0f} % open {band}" in over_time
    assert trend.due_share is not None
    assert trend.earliest is not None
    due = f"{trend.due_share * 100:.0f} % open is reached on {trend.earliest.date()} at the earliest"
    assert due in over_time
    assert 'feed in "cold morning" is then over on a low-pressure day. It is due.' in over_time
    assert sum(isinstance(block, Picture) for block in blocks) == 1
    assert sheet.likely[-1].startswith("By the trend of its readings strainer is due for cleaning")
    unread = option_of("", "", replace(layout, readings=()), Level.MINIMUM, System.SI)
    assert not list(readings_in_short(replace(sheet, panels=(replace(sheet.panels[0], option=unread),))))


def _squeezed(text: str) -> str:
    return "".join(text.split())
