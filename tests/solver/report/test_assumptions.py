"""Assumptions that change a result stand in words on text, page and sheet."""

from pathlib import Path

from solver.findings.judgement import judge
from solver.layout.file import from_raw, read, to_raw
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.assumptions import assumptions
from solver.report.page import page
from solver.report.text import report

BALER = Path(__file__).resolve().parents[3] / "layouts" / "baler-flooded.toml"
CARRIAGE = BALER.with_name("carriage-at-altitude.toml")


def drawn(share, length):
    raw = to_raw(read(CARRIAGE).base)
    raw["intakes"]["strainer"]["screen"]["blocked"] = share
    raw["runs"]["riser"]["out_of_plane"] = length
    return from_raw(raw)


def test_a_blocked_screen_and_a_length_out_of_plane_are_named():
    layout = drawn(0.4, "3 m")
    lines = list(assumptions(solve(layout), System.SI))
    assert lines == [
        "strainer: 40 % of its screen is taken as blocked",
        "riser: 3.00 m out of the plane of the drawing are counted besides what is drawn",
    ]


def test_a_clean_screen_is_an_assumption_too():
    lines = list(assumptions(solve(drawn(0.0, "1 m")), System.SI))
    assert lines[0] == "strainer: nothing of its screen is taken as blocked"


def test_text_and_page_have_them():
    judgement = judge(drawn(0.4, "3 m"))
    for text in (report(judgement), page(judgement)):
        assert "strainer: 40 % of its screen is taken as blocked" in text
