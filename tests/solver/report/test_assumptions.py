"""Assumptions that change a result stand in words on text, page and sheet."""

from pathlib import Path

from solver.findings.judgement import judge
from solver.layout.file import from_raw, read, to_raw
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.assumptions import assumptions, particular
from solver.report.page import page
from solver.report.text import report
from tests.solver.checking import lifted, with_fluid
from tests.solver.findings.test_missing import OWN

BALER = Path(__file__).resolve().parents[3] / "layouts" / "baler-flooded.toml"
CARRIAGE = BALER.with_name("carriage-at-altitude.toml")


def drawn(share, length):
    raw = to_raw(read(CARRIAGE).base)
    raw["intakes"]["strainer"]["screen"]["blocked"] = share
    raw["runs"]["riser"]["out_of_plane"] = length
    return from_raw(raw)


def test_a_blocked_screen_and_a_length_out_of_plane_are_named():
    layout = drawn(0.4, "3 m")
    lines = list(particular(solve(layout), System.SI))
    assert lines == [
        "strainer: 40 % of its screen is taken as blocked",
        "riser: 3.00 m out of the plane of the drawing count as well, without elbows",
    ]


def test_a_clean_screen_is_an_assumption_too():
    lines = list(assumptions(solve(drawn(0.0, "1 m")), System.SI))
    assert lines[0] == "strainer: nothing of its screen is taken as blocked"


def test_with_what_a_known_drop_was_read_is_named_where_nobody_has_stated_it():
    raw = to_raw(read(CARRIAGE).base)
    filter_ = raw["fittings"]["connector"] = {
        "at": raw["fittings"]["connector"]["at"], "size": "NPS 2 schedule 40",
        "kind": "known drop", "drop": "5 kPa", "flow": "100 L/min", "viscosity": "46 cSt",
    }  # fmt: skip
    (one,) = (each for each in assumptions(solve(from_raw(raw)), System.SI) if "connector" in each)
    assert one.startswith("connector: its drop is taken as read at 870 kg/m³, and grows")
    del filter_["viscosity"]
    (both,) = (each for each in assumptions(solve(from_raw(raw)), System.SI) if "connector" in each)
    assert "at 30.0 cSt and 870 kg/m³" in both
    filter_ |= {"viscosity": "46 cSt", "density": "860 kg/m^3"}
    assert not [each for each in assumptions(solve(from_raw(raw)), System.SI) if "connector" in each]


def test_a_head_lost_is_read_at_a_viscosity_and_at_no_density():
    raw = to_raw(read(CARRIAGE).base)
    lost = raw["fittings"]["connector"] = {
        "at": raw["fittings"]["connector"]["at"], "size": "NPS 2 schedule 40",
        "kind": "known drop", "head": "1.2 m",
    }  # fmt: skip
    read_at, at_any = (each for each in assumptions(solve(from_raw(raw)), System.SI) if "connector" in each)
    assert read_at == "connector: its head is taken as read at 30.0 cSt, and grows with a thicker fluid"
    assert "at any flow" in at_any
    lost |= {"viscosity": "46 cSt", "flow": "100 L/min"}
    assert not [each for each in assumptions(solve(from_raw(raw)), System.SI) if "connector" in each]


def test_a_vapour_pressure_that_nobody_has_typed_is_an_assumption():
    unknown = with_fluid(lifted(), **OWN)
    assert "House blend: no vapour pressure is typed; it is counted as 0" in report(judge(unknown))
    assert not list(particular(solve(lifted()), System.SI))


def test_text_and_page_have_them():
    judgement = judge(drawn(0.4, "3 m"))
    for text in (report(judgement), page(judgement)):
        assert "strainer: 40 % of its screen is taken as blocked" in text
