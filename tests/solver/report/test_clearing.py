"""What an alternative clears is named, and nothing that it may not clear."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from solver.findings.judgement import Judgement, judge
from solver.findings.kinds import FindingId, Severity
from solver.layout import file
from solver.ledger.cases import CaseSolution
from solver.report.choosing import JudgedDrawing
from solver.report.clearing import cleared, in_short
from solver.report.recommendation import recommendation

LAYOUTS = Path(__file__).parents[3] / "layouts"
PRESS = file.read(LAYOUTS / "winter-press.toml")
HEADER = file.read(LAYOUTS / "header-two-pumps.toml")
GLYCOL = file.read(LAYOUTS / "glycol-on-the-oil-line.toml")

VORTEX = "nozzle: 1.00 ft under the level, 1.22 ft keeps a vortex away"


def of(name: str, drawing: file.Drawing) -> Judgement:
    return judge(drawing.alternatives[name].layout)


def test_what_is_still_to_be_cleared_is_named_with_its_parts() -> None:
    judgement = of("Three-inch header", HEADER)
    *_, text = recommendation(JudgedDrawing("", judgement, {}), None, judgement.layout.units)
    assert text.endswith(" is left in the worst case. Still to be cleared: suction velocity (main leg).")


def test_each_kind_is_named_once_and_the_mildest_are_counted() -> None:
    (cold,) = (each for each in of("Tank heater to 10 °C", PRESS).findings if each.severity != Severity.NOTE)
    kinds = (FindingId.SUBMERGENCE, FindingId.LINE_LEFT_COLD, FindingId.FLOOR_CLEARANCE)
    several = [replace(cold, finding=each, part=part) for each in kinds for part in ("a", "b")]
    assert in_short(several) == "submergence (a, b), line left cold (a, b), floor clearance (a, b)"
    further = [replace(cold, finding=each, part="") for each in (FindingId.FREE_AIR, FindingId.NO_FOOT_VALVE)]
    assert in_short([*several, *further]).endswith(", free air, 1 more under Findings")


def test_a_wider_margin_is_not_told_again_as_something_cleared() -> None:
    before = judge(HEADER.base)
    text = cleared(before, of("Three-inch header", HEADER))
    assert text == f"It clears: suction velocity (outlet), submergence ({VORTEX})."


def test_a_stop_that_leaves_a_caution_is_cleared_unless_that_is_of_its_own_part() -> None:
    """In the outlet 6.2 ft/s, then 2.8; with one pump on it 4.4, which is a caution."""
    before, alone = judge(HEADER.base), of("Main pump alone", HEADER)
    assert cleared(before, alone) == f"It clears: submergence ({VORTEX})."
    assert cleared(before, before) == ""


def test_what_is_found_elsewhere_then_is_not_cleared() -> None:
    before = of("Water-glycol, same line", GLYCOL)
    assert cleared(before, of("Water-glycol, pump lowered", GLYCOL)) == (
        "It clears: strainer drop (strainer), no foot valve (caster)."
    )


def test_nothing_is_cleared_while_a_line_may_be_cold_or_in_a_case_that_is_not_judged() -> None:
    before, thinner = judge(PRESS.base), of("High-VI oil, ISO VG 32", PRESS)
    assert cleared(before, thinner) == "It clears: start viscosity (press), strainer drop (strainer)."
    unjudged = replace(thinner, cases={**thinner.cases, "first stroke": CaseSolution("first stroke")})
    assert cleared(before, unjudged) == ""
    assert cleared(before, of("Tank heater to 10 °C", PRESS)) == ""


def test_a_caution_that_is_ended_stands_with_its_figures() -> None:
    """What an alternative cleared was named, and never that it had been wrong, or by how much."""
    now, then = judge(HEADER.base), of("Three-inch header", HEADER)
    (vortex,) = (each for each in now.findings if each.finding is FindingId.SUBMERGENCE)
    assert cleared(now, then) == f"It clears: suction velocity (outlet), submergence ({vortex.text})."
