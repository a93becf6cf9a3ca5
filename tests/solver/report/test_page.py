"""The HTML page: verdicts, ledgers, cases, findings and reach stand before the working."""

import html
import re
from dataclasses import replace
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.answers.ask import ask_all
from solver.findings.judgement import judge
from solver.findings.outlook import own_headline
from solver.layout.file import from_raw, read, to_raw
from solver.layout.title_block import Revision, TitleBlock
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.quantities.units import System
from solver.report.page import page

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"
TWO_PUMPS = read(LAYOUTS / "header-two-pumps.toml").base


@pytest.fixture(scope="module")
def whole():
    answers = {name: ask_all(TWO_PUMPS, name)[:2] for name in TWO_PUMPS.pumps}
    return page(judge(TWO_PUMPS), answers=answers), answers


def words_of(text):
    """What a reader sees of HTML."""
    return html.unescape(re.sub(r"<[^>]*>", " ", text))


def headings(text):
    return re.findall(r"<h2[^>]*>(.*?)</h2>", text)


def test_what_it_comes_to_stands_before_the_working(whole):
    text, _ = whole
    assert headings(text) == [
        "Ledger of main", "Ledger of pilot", "Cases, the worst first", "Findings",
        "How far may it go, one thing at a time: main", "How far may it go, one thing at a time: pilot",
        "Assumptions", "Working", "Every pump", "main", "pilot", "Symbols",
    ]  # fmt: skip
    opening = text[: text.index("<h2>")]
    for name in TWO_PUMPS.pumps:
        assert f"{name}: {own_headline(judge(TWO_PUMPS), name, System.US)}." in words_of(opening)


def test_every_ledger_has_every_entry_its_budget_and_its_margin(whole):
    judgement = judge(TWO_PUMPS)
    solution = judgement.cases["as drawn"].solution
    for name, ledger in solution.pumps.items():
        start = whole[0].index(f"<h2>Ledger of {name}</h2>")
        part = words_of(whole[0][start : whole[0].index("<h2>", start + 1)])
        for entry in ledger.entries[:-1]:
            assert f"{entry.part}, {entry.element}" in part
        figures = RoundedLedger(ledger, System.US)
        for figure in (figures.budget, figures.margin, figures.floor):
            assert in_writing(figure) in part


def test_every_finding_and_every_answer_is_there(whole):
    text, answers = whole
    shown = words_of(text)
    for finding in judge(TWO_PUMPS).findings:
        assert finding.text in shown
    for pump_answers in answers.values():
        assert all(answer.text in shown for answer in pump_answers)


def test_one_pump_alone():
    text = page(judge(TWO_PUMPS), pump="pilot")
    assert "Ledger of pilot" in text
    assert "Ledger of main" not in text


def test_a_case_that_was_not_judged_still_makes_a_page():
    raw = to_raw(TWO_PUMPS)
    raw["cases"] = {"broken": {"fluid": {"temperature": "-272 degC"}}}
    judgement = judge(from_raw(raw))
    text = page(judgement, "broken")
    assert text.startswith("<!DOCTYPE html>")
    assert "broken: not judged, " in text
    assert "as drawn: main, over by " in words_of(text)


def test_what_a_drawing_says_of_itself_is_no_markup():
    raw = to_raw(TWO_PUMPS) | {"title": "<b>x</b>"}
    assert "<b>x</b>" not in page(judge(from_raw(raw)))


def test_without_a_case_asked_for_the_page_is_of_that_in_its_headline(capsys):
    layout = str(LAYOUTS / "winter-press.toml")
    worst = judge(read(Path(layout)).base).worst().case
    main([layout, "--html"])
    assert f"Case worked out here: {worst}" in words_of(capsys.readouterr().out)
    main([layout, "--html", "--case", "as drawn"])
    assert "Case worked out here: as drawn" in capsys.readouterr().out


def test_the_title_block_stands_over_the_calculation():
    block = TitleBlock(client="Upper Farm", revision="B", revisions=(Revision("B", "2026-03-31", "lower"),))
    opening = page(judge(replace(TWO_PUMPS, title_block=block)), pump="pilot")
    assert "<p>Client: Upper Farm. Revision: B, 2026-03-31.</p>" in opening[: opening.index("<h2>")]


def test_the_page_has_the_date_of_the_drawing_or_that_of_the_day():
    judgement = judge(TWO_PUMPS)
    assert "Date: 2026-02-03." in words_of(page(judgement, date="2026-02-03"))
    dated = replace(TWO_PUMPS, title_block=TitleBlock(date="2025-12-24"))
    text = words_of(page(judge(dated), date="2026-02-03"))
    assert "Date: 2025-12-24." in text
    assert "2026-02-03" not in text
