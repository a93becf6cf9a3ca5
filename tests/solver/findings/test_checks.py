"""How findings are listed, and that none lacks its words."""

import dataclasses
from dataclasses import replace
from pathlib import Path

import pytest

from solver.findings.checks import CHECKS, SOURCES, Criteria, check
from solver.findings.criteria import place_in_words
from solver.findings.judgement import judge
from solver.findings.kinds import FindingId, Severity
from solver.fixes.remedies import ANSWERED
from solver.layout import file
from solver.layout.parts import FluidChoice
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from tests import drawings
from tests.drawings import drawing, fitting, intake, pump, run, tee
from tests.solver.checking import found, ledger, lifted, only, with_floor, with_pump

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


def two_pumps():
    return drawing(
        intake(at=(0.9, 0.39), bore=0.06),
        tee("header", (0.9, 1.2), bore=0.06),
        pump("top", (0.9, 2.0), flow=0.003),
        pump("side", (2.0, 1.2), flow=0.001),
        run("riser", "strainer", "header", bore=0.06),
        run("up", "header", "top"),
        run("across", "header", "side"),
    )


def test_what_two_pumps_share_is_said_once():
    assert len(found(two_pumps(), "submergence")) == 1


def test_a_reservoir_is_judged_by_the_flow_of_all_its_pumps():
    one = only(two_pumps(), "reservoir volume", reservoir_minutes=10.0)
    assert one.threshold == pytest.approx(0.004 * 600)


def test_stops_come_first_and_notes_last():
    findings = check(solve(with_floor(lifted(at=(0.9, 0.39)), 100e3)))
    ranks = [finding.severity.rank for finding in findings]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0


def test_every_finding_says_what_and_why():
    for finding in check(solve(two_pumps())):
        assert finding.text
        assert finding.why
        assert finding.unsolved is (finding.finding in ANSWERED)
        assert finding.source
        assert finding.severity in Severity
        assert finding.part in finding.text or finding.key in finding.text


def test_every_check_has_its_words_and_every_limit_its_source():
    assert sorted(row.finding for row in CHECKS) == sorted(FindingId)
    for row in CHECKS:
        assert row.why.endswith(".")
        assert row.solved is (row.finding in ANSWERED)
        assert row.source
    assert set(SOURCES) == {field.name for field in dataclasses.fields(Criteria)}
    assert all(SOURCES.values())


def test_sentences_follow_the_units_asked_for():
    solution = solve(with_floor(lifted(), 100e3))
    us, si = (check(solution, system=system)[0].text for system in (System.US, System.SI))
    assert "inHg" in us
    assert "kPa" in si


def test_a_good_line_has_no_finding_but_notes():
    primed = with_pump(lifted(z=0.9), dry_lift=Quantity("1 m", 1.0))
    layout = replace(primed, fluid=FluidChoice("Mineral oil, ISO VG 46", Quantity("45 degC", 318.15)))
    assert {f.severity for f in check(solve(layout))} <= {"note"}


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_no_sentence_shows_a_key(path):
    drawing = file.read(path)
    layouts = [drawing.base, *(each.layout for each in drawing.alternatives.values())]
    for layout in layouts:
        solution = solve(layout)
        keys = {entry.key for pump in solution.pumps.values() for entry in pump.entries}
        for finding in check(solution, replace(Criteria(), transitional_share=-1.0, free_air=-1.0)):
            assert not [key for key in keys if key in finding.text]
            assert finding.part in {entry.part for p in solution.pumps.values() for entry in p.entries} | {
                *layout.reservoirs,
                *layout.pumps,
            }


@pytest.mark.parametrize(
    ("kind", "part", "element", "words"),
    [
        ("straight", "lead", "straight 1", "straight 1 of lead"),
        ("bend", "lead", "bend 2", "bend 2 of lead"),
        ("bore change", "lead", "bore change at pump", "the bore change at pump"),
        ("bore change", "lead", "bore change at wash", "the bore change at the wash pump"),
        ("bore change", "lead", "bore change at isolator", "the bore change at isolator"),
        ("port", "pump", "port", "the port of pump"),
        ("flooded head", "tank", "flooded head", "the fluid surface in tank"),
        ("entrance", "strainer", "entrance", "the entrance of strainer"),
        ("valve", "isolator", "ball valve", "isolator"),
    ],
)
def test_a_place_is_said_in_words(kind, part, element, words):
    layout = lifted(fitting("isolator", (1.2, 1.2)))
    layout = replace(layout, pumps={**layout.pumps, "wash": layout.pumps["pump"]})
    entry = ledger(lifted()).entries[0]._replace(kind=kind, part=part, element=element)
    assert place_in_words(layout, entry) == words


CASES = """
[cases.warm]
fluid.temperature = "60 degC"
[cases.high]
site.elevation = "900 m"
[cases.calm]
site.weather_allowance = "10 mbar"
[cases.due]
intakes.mouth.screen.blocked = "60 %"
[cases.full]
level = "normal"
[cases.low]
levels.tank = "0.9 m"
[cases.slow]
pumps.pump.flow = "20 L/min"
"""


def test_what_is_seen_once_for_several_cases_is_what_each_shows_alone():
    text = drawings.steps_text(6).replace("format = 1", "format = 2") + CASES
    for layout in (file.parse(text).base, *(file.read(path).base for path in LAYOUTS)):
        judgement = judge(layout)
        for name, findings in judgement.findings_by_case.items():
            assert findings == check(judgement.cases[name].solution), name
