"""The title block names the drawing and whoever it is for; a line in its place names the drawing behind."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Ruler
from sketch.drawing.recorder import Recorder
from sketch.look.colours import LIGHT
from sketch.page.machine_card import write_card
from sketch.page.options import option_of
from sketch.page.sheet import _sheet, write_sheet
from sketch.page.sheet_frame import Folio, Sheet, _strip, _title_height, scale_text
from sketch.page.sheet_parts import SheetWish
from solver.field.stopping import Newest, newest
from solver.findings.kinds import Grade
from solver.layout.parts import Level
from solver.layout.title_block import Revision, TitleBlock
from solver.quantities.units import Kind, System, quantity
from tests.sketch.sheets import drawing, options_of, pages, panel_of, small_options, written
from tests.solver.checking import lifted

pytestmark = pytest.mark.usefixtures("qapp")


def test_the_title_block_says_where_and_from_which_file() -> None:
    first, *rest = pages(written("carriage-at-altitude", compared=True))
    for expected in ("5413 ft, 24.31 inHg abs", "carriage-at-altitude.toml", "Log carriage pump"):
        assert expected in first
    assert all("Log carriage pump" in page and "2026-03-31" in page for page in rest)


BLOCK = TitleBlock(
    client="Upper Farm", project="Press that starts in the cold", site="Shed 2", drawn_by="A. Draughtsman",
    checked="B. Checker", date="2025-12-24", revision="B", company=("Hill Hydraulics", "1 Some Lane"),
)  # fmt: skip


def test_what_the_drawing_says_of_itself_stands_in_the_block_and_in_the_file(tmp_path: Path) -> None:
    layout = replace(lifted(), title_block=BLOCK)
    path = tmp_path / "sheet.pdf"
    write_sheet([option_of("", "", layout, Level.MINIMUM, System.US)], path, SheetWish(pages=1))
    (page,) = pages(path)
    for name in ("client", "project", "site", "drawn_by", "checked", "date", "revision"):
        assert getattr(BLOCK, name) in page
    assert "Hill Hydraulics, 1 Some Lane" in page
    about = PdfReader(path).metadata
    assert about is not None
    assert (about.title, about.author) == (layout.title, "A. Draughtsman")
    assert about.subject == "Press that starts in the cold, Upper Farm"


def test_the_revision_of_another_file_stands_behind_the_first_with_its_row(tmp_path: Path) -> None:
    long = Revision("C", "", "more than the title block has room for, " * 3)
    other = replace(BLOCK, revision="C", revisions=(*ISSUES, Revision("C", "2026-02-01", "wider riser")))
    first = replace(lifted(), title_block=replace(BLOCK, revisions=ISSUES))
    path = tmp_path / "sheet.pdf"
    for block, expected in (
        (other, "B, 2026-01-05: larger header → C, 2026-02-01: wider riser"),
        (replace(other, revisions=(long,)), "B, 2026-01-05: larger header → C"),
        (first.title_block, "B, 2026-01-05: larger header"),
    ):
        option = option_of("other.toml", "", replace(first, title_block=block), Level.MINIMUM, System.US)
        options = [option_of("", "", first, Level.MINIMUM, System.US), replace(option, file="other.toml")]
        write_sheet(options, path, SheetWish(pages=1), file=tmp_path / "first.toml")
        (page,) = pages(path)
        assert expected in page
        assert "first.toml → other.toml" in page
        assert "first.toml, revision B" in page
        assert "drawing itself" not in page


ISSUES = (Revision("A", "", "first issue"), Revision("B", "2026-01-05", "larger header"))


def test_what_is_empty_takes_no_room() -> None:
    first, *_ = pages(written("winter-press", compared=True))
    for name in ("Client", "Project", "Drawn by", "Checked by", "Revision"):
        assert name not in first


def test_a_logo_that_cannot_be_read_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    layout = replace(lifted(), title_block=TitleBlock(logo="logo.svg"))
    options = [option_of("", "", layout, Level.MINIMUM, System.US)]
    with pytest.raises(ValueError, match=r"logo\.svg"):
        write_sheet(options, tmp_path / "out.pdf", SheetWish(pages=1), file=tmp_path / "press.toml")
    assert not list(tmp_path.iterdir())


def test_pages_behind_the_first_and_the_card_name_client_and_revision(tmp_path: Path) -> None:
    layout = replace(lifted(), title_block=BLOCK)
    option = option_of("", "", layout, Level.MINIMUM, System.US)
    _, behind = pages(write_sheet([option], tmp_path / "sheet.pdf", SheetWish(pages=2))[0])
    assert option.judgement is not None
    (card,) = pages(write_card(option.judgement, tmp_path / "c.pdf", system=System.US, theme=LIGHT)[0])
    for page in (behind, card):
        assert "Upper Farm, revision B" in page


def test_a_client_too_long_for_the_foot_of_a_later_page_leaves_room_for_the_revision() -> None:
    (option,) = small_options()
    sheet = Sheet("Press", System.SI, Level.MINIMUM, LIGHT, "2026-03-31", (panel_of(option),), (option,))
    for client, named in (("Upper Farm", True), ("Upper Farm and its neighbours " * 3, False)):
        titled = replace(sheet, title_block=TitleBlock(client=client.strip(), revision="B"))
        recorder = Recorder()
        _strip(recorder, titled, Folio(2, 3), Box(0.0, 0.0, 420.0, 20.0))
        text = recorder.strokes[-1].how[2]
        assert ("Upper Farm" in text) is named
        assert text.startswith("Press")
        assert text.endswith("revision B")


def test_the_scale_says_what_is_not_drawn_to_it_and_takes_no_more_room_than_was_kept() -> None:
    assert scale_text(40.0) == "1 : 40, symbols larger"
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.SI)
    blank, *named = (Folio(1, 3, scale=scale) for scale in ("", scale_text(2.5), scale_text(999.0)))
    kept = _title_height(Ruler(), sheet, blank, 794.0, 1123.0)
    assert all(_title_height(Ruler(), sheet, each, 794.0, 1123.0) <= kept for each in named)


def test_readings_of_the_line_before_neither_condemn_nor_acquit_another_file() -> None:
    """Its own ones do."""
    layout = drawing("strainer-over-a-year").base
    drawn = option_of("", "", layout, Level.MINIMUM, System.SI)
    over = replace(layout.readings[-1], when="2026-03-30", vacuum=(quantity("26 kPa", Kind.VACUUM),))
    for readings, grade in ((layout.readings, Grade.GOOD), ((*layout.readings, over), Grade.STOP)):
        other = option_of("Revision B", "", replace(layout, readings=readings), Level.MINIMUM, System.SI)
        options = (drawn, replace(other, file="b.toml"))
        sheet = _sheet(options, SheetWish(), Level.MINIMUM, System.SI)
        before, after = (panel.outlook(System.SI) for panel in sheet.panels)
        assert before.word == "Over as read"
        assert after.severity is grade
        said = "12 readings in its file were taken on the line before: how it stands as read is not known"
        assert said in after.beneath
        assert "in its file" not in before.beneath
        assert sheet.panels[1].as_read is None or grade is Grade.STOP


def test_readings_are_compared_once_a_drawing_not_with_each_line_that_is_tried(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def newest_of(*given: Any) -> Newest:
        asked.append(given)
        return newest(*given)

    monkeypatch.setattr("sketch.page.sheet_frame.newest", newest_of)
    options = options_of("strainer-over-a-year")
    write_sheet(options, tmp_path / "sheet.pdf", SheetWish(pages=1))
    assert 0 < len(asked) <= 4 * len(options)
