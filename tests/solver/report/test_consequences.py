"""What it costs to leave a line is of its own ledgers: where it fails, what its pump does, from where."""

from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers import ask
from solver.field.as_read import as_read
from solver.field.cleaning import cleaning_due
from solver.findings.judgement import judge
from solver.findings.kinds import FindingId, Severity
from solver.layout.cases import AS_DRAWN, only_case
from solver.layout.file import read
from solver.layout.parts import Level
from solver.ledger.sentences import trouble
from solver.quantities.units import Kind, System, quantity, typeset
from solver.quantities.wording import degrees, uncapitalised
from solver.report import consequences
from solver.report.consequences import if_cautions_left, if_left, if_left_as_read

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def base(name):
    return read(LAYOUTS / f"{name}.toml").base


def left(layout, **changes):
    return if_left(judge(replace(layout, **changes)), Level.MINIMUM, System.US)


def test_it_names_where_it_fails_and_what_the_pump_does_there():
    judgement = judge(base("header-two-pumps"))
    said = if_left(judgement, Level.MINIMUM, System.US)
    assert said.startswith('Left as it is, main fails as drawn and in "coldest start"; below its least inlet')
    assert trouble(judgement.worst().ledger, System.US) not in said, "its verdict says by how much"
    (finding, *_) = (each for each in judgement.findings if each.finding is FindingId.OVER_THE_LIMIT)
    assert finding.why[1:].rstrip(".") in said
    stop = next(each for each in judgement.findings_by_case[AS_DRAWN] if each.part == "outlet")
    assert said.endswith(f"pilot must not run so either: {stop.text}, as drawn.")


def test_it_says_from_which_temperature_as_the_question_asked_backwards_does():
    layout = base("header-two-pumps")
    coldest = ask.ask("coldest start", layout, "main").figure
    assert f"it fails with fluid below {degrees(coldest, System.US)};" in left(layout)
    assert "at a site above" not in left(layout), "it would have to lie below the sea"


def test_the_temperature_is_of_the_case_that_the_sentence_is_of():
    layout = base("winter-press")
    own, of_all = (
        ask.ask("coldest start", each, "press").figure for each in (only_case(layout, "first stroke"), layout)
    )
    said = left(layout)
    assert f'all else as in "first stroke", it fails with fluid below {degrees(own, System.US)}.' in said
    assert degrees(of_all, System.US) not in said, "of a blocked strainer, in another case"


def test_and_from_which_height_and_whether_no_temperature_helps():
    layout = base("carriage-at-altitude")
    highest = ask.ask("highest site", layout, "carriage").figure
    where = (
        f"at any temperature of its fluid and at a site above {typeset(highest, Kind.ELEVATION, System.US)}."
    )
    assert left(layout).endswith(where)
    assert left(layout).startswith("Left as it is, carriage fails in every case; ")


def test_a_fluid_too_warm_fails_above_a_temperature():
    hot = read(LAYOUTS / "wash-water-npsh.toml").alternatives["Water at 80 °C"].layout
    warmest = ask.ask("hottest fluid", hot, "wash").figure
    assert f"with fluid above {degrees(warmest, System.US)}" in left(hot)


def test_a_line_that_may_run_has_nothing_to_say_and_a_milder_one_says_less():
    assert left(base("over-the-bund-wall")) == ""
    mild = quantity("80 degF", Kind.TEMPERATURE)
    fluid = replace(base("header-two-pumps").fluid, temperature=mild, coldest_start=mild)
    said = left(base("header-two-pumps"), fluid=fluid)
    assert "over by" not in said
    assert "must not run" in said, "too fast all the same"


def test_it_is_of_the_line_it_is_asked_of():
    other = read(LAYOUTS / "baler-flooded.toml").alternatives["Filter in the line, half blocked"].layout
    judgement = judge(other)
    said = if_left(judgement, Level.MINIMUM, System.SI, 'With "Filter"')
    assert said.startswith('With "Filter", baler fails in "coldest start"; below')
    coldest = ask.ask("coldest start", other, "baler").figure
    assert f"with fluid below {degrees(coldest, System.SI)}" in said


def test_the_gravest_cautions_of_a_line_that_may_run_say_what_comes_of_them():
    judgement = judge(base("shear-started-dry"))
    cautions = [each for each in judgement.findings if each.severity is Severity.CAUTION]
    air, dry = (uncapitalised(each.why.partition(". ")[0]).rstrip(".") for each in cautions)
    said = if_cautions_left(judgement)
    assert said == f"Trapped high point (line), if left: {air}; no foot valve (shear), if left: {dry}."
    assert if_cautions_left(judge(base("header-two-pumps"))) == "", "it must not run, which is said"
    assert if_cautions_left(judge(base("baler-flooded"))) == ""


def test_cautions_that_are_not_told_are_counted(monkeypatch):
    monkeypatch.setattr(consequences, "MOST_CAUTIONS", 1)
    said = if_cautions_left(judge(base("shear-started-dry")))
    assert said.startswith("Trapped high point (line), if left: ")
    assert said.endswith("; 1 more under Findings.")


def test_screens_left_as_read_say_from_which_share_it_begins():
    layout = base("strainer-over-a-year")
    was = as_read(layout)
    said = if_left_as_read(was, layout, System.SI)
    assert said.startswith('Left uncleaned, feed fails in "cold morning"; below its least inlet')
    share = cleaning_due(layout, "feed").blocked
    assert said.endswith(f"on a low-pressure day it begins at {share * 100:.0f} % of strainer blocked.")
    assert if_left_as_read(replace(was, far=judge(layout).worst()), layout, System.SI) == ""


@pytest.mark.thorough
def test_a_column_that_breaks_is_told_as_such():
    high = replace(base("wash-water-npsh").fluid, temperature=quantity("95 degC", Kind.TEMPERATURE))
    assert "the column of fluid breaks" in left(base("wash-water-npsh"), fluid=high)
