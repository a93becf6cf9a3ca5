"""The card on paper: one page, its figures those of the solver, cautions and room to write on it."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from sketch.look.colours import LIGHT
from sketch.model.document import Document
from sketch.page.blocks import Paragraph
from sketch.page.machine_card import CAUTIONS, card_blocks, write_card, write_card_of
from sketch.page.table import Table
from solver.field import card, what_to_do
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.quantities.units import Kind, System, number
from tests.sketch.sheets import EXAMPLES, drawing, pages, words
from tests.sketch.views.gauged import gauged

pytestmark = pytest.mark.usefixtures("qapp")


def test_one_page_with_every_row_its_figures_what_to_do_and_the_cautions(tmp_path: Path) -> None:
    base = drawing("header-two-pumps").base
    cases = {name: case for name, case in base.cases.items() if name != "pilot alone"}
    judgement = judge(replace(base, cases=cases))
    path = tmp_path / "card.pdf"
    date = datetime.date(2026, 11, 26)
    file, paper = "header-two-pumps.toml", "A4"  # the lower of the two papers
    write_card(judgement, path, system=System.US, theme=LIGHT, date=date, file=file, paper_name=paper)
    (text,) = pages(path)
    assert "strainers clean" not in text
    assert "Initials" in text
    assert "Clean at" not in text, "there is no strainer to clean"
    shown_rows = list[card.CardRow]()
    for pump in ("main", "pilot"):
        assert f"{pump}, at its port" in text
        shown_rows += card.rows(judgement, pump, System.US)
        for row in shown_rows:
            for figure in (row.limit, row.low_day, row.stop, row.service):
                assert figure is None or number(figure, Kind.VACUUM, System.US) in text
    for said in (
        *what_to_do.what_to_do(shown_rows, what_to_do.parts_to_look_at(judgement.layout)),
        "too coarse",
        "any reading",
        "2026-11-26",
        "820 ft",
        "Over by 0.96 inHg",
        "tube: full / empty",
    ):
        assert said in text
    assert CAUTIONS[0][:60] in text


def test_what_the_front_has_no_room_for_stands_on_the_back_with_lines_to_write_on(tmp_path: Path) -> None:
    layout = drawing("header-two-pumps").base
    taps = tuple(
        LoggedReading("2026-03-04", pump, run=run, joint="split")
        for pump, runs in (("main", ("header", "main leg")), ("pilot", ("header", "pilot leg")))
        for run in runs
    )
    path = tmp_path / "card.pdf"
    write_card(judge(replace(layout, readings=taps)), path, system=System.US, theme=LIGHT)
    front, back = pages(path)
    assert "pilot, tap on header" in front
    assert "pilot, tap on pilot leg" in back  # with the states under it
    assert "pilot, tap on pilot leg" not in front
    assert "What to do" not in front
    assert all(words in back for words in ("What to do", "Initials"))


def test_a_machine_that_is_over_in_every_state_stops_at_any_reading_and_is_not_run_on(tmp_path: Path) -> None:
    judgement = judge(drawing("carriage-at-altitude").base)
    path = tmp_path / "card.pdf"
    write_card(judgement, path, system=System.US, theme=LIGHT)
    (text,) = pages(path)
    assert text.count("any reading") == 3, "of both states, and what to do then"
    assert "next stop" not in text
    assert '"coldest start": 77 °F' in text


def test_a_case_that_is_a_fault_is_named_without_a_row(tmp_path: Path) -> None:
    text = (EXAMPLES / "winter-press.toml").read_text(encoding="utf-8")
    marked = text.replace('[cases."strainer due"]', '[cases."strainer due"]\nfault = true')
    blocks = list(card_blocks(judge(file.parse(marked).base), System.US, LIGHT.caution))
    (table,) = (block for block in blocks if isinstance(block, Table) and block.headings[1] == "Expected")
    assert not any("strainer due" in row.cells[0] for row in table.rows)
    (named,) = (block for block in blocks if isinstance(block, Paragraph) and block.lead == "Without a row:")
    assert named.text.startswith('"strainer due", where something is wrong')


def test_a_line_that_is_left_cold_is_warmed_before_its_pump_is_loaded(tmp_path: Path) -> None:
    path, winter = tmp_path / "card.pdf", drawing("winter-press")
    heated = winter.alternatives["Tank heater to 10 °C"].layout
    write_card(judge(heated), path, system=System.US, theme=LIGHT)
    text = words(path)
    assert '"first stroke": line still at 14 °F, 1450 rpm' in text
    assert "Warm and lag the line of press" in text
    write_card(judge(winter.base), path, system=System.US, theme=LIGHT)
    assert "Warm and lag" not in words(path)


def test_it_is_written_as_a_picture_too(tmp_path: Path) -> None:
    judgement = judge(drawing("winter-press").base)
    path = tmp_path / "card.svg"
    assert write_card(judgement, path, system=System.SI, theme=LIGHT) == (path,)


def test_the_card_is_of_the_alternative_and_the_units_that_are_shown(tmp_path: Path) -> None:
    document = Document(keeps=False)
    document.open(EXAMPLES / "over-the-bund-wall.toml")
    document.show_alternative("Sleeve through the wall")
    document.set_system(System.US)
    path = tmp_path / "card.pdf"
    write_card_of(document, path)
    text = words(path)
    assert "Sleeve through the wall" in text
    assert "inHg" in text
    assert "kPa" not in text


def test_a_newest_reading_above_what_is_allowed_comes_first(tmp_path: Path) -> None:
    read = file.read(gauged(tmp_path)).base
    path = tmp_path / "card.pdf"
    write_card(judge(read), path, system=System.SI, theme=LIGHT)
    text = words(path)
    assert text.index("Stop the pump: 40.0 kPa read at the port of transfer") < text.index("ithin")
    assert "Stop the pump, by what was read. As drawn: within" in text
    assert "Within" not in text


def test_nothing_is_written_of_a_drawing_that_is_not_calculated(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="nothing is calculated"):
        write_card_of(Document(keeps=False), tmp_path / "card.pdf")
    assert not (tmp_path / "card.pdf").exists()
