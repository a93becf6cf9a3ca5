"""The ledger as text: what stands where, and that it fits."""

import csv
import html
import io
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.answers.ask import ask_all
from solver.findings.judgement import alone, judge
from solver.findings.outlook import outlook
from solver.fixes.remedies import with_remedies
from solver.layout.differences import differences
from solver.layout.file import read
from solver.layout.parts import Baffle, Case
from solver.ledger.sentences import verdict
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from solver.report import records
from solver.report.page import page
from solver.report.text import WIDTH, report
from solver.working.working import working
from tests.drawings import metres
from tests.solver.checking import lifted, with_floor, with_fluid, with_pump
from tests.thorough import first, one_in

OTHER_UNITS = {System.SI: ("inHg", "°F", "gpm", "ft/s"), System.US: ("kPa", "L/min", "m/s")}
LAYOUTS = sorted((Path(__file__).resolve().parents[3] / "layouts").glob("*.toml"))


def text_of(layout, **more):
    return report(judge(layout), **more)


@pytest.mark.parametrize("units", first(System))
@pytest.mark.parametrize("file", one_in(12, LAYOUTS), ids=lambda file: file.stem)
def test_every_example_fits_in_a_hundred_columns(file, units):
    drawing = read(file)
    for layout in (drawing.base, *(alternative.layout for alternative in drawing.alternatives.values())):
        shown = replace(layout, units=units)
        asked = {name: ask_all(shown, name) for name in shown.pumps}
        text = text_of(shown, alternative="Some alternative with a name", answers=asked)
        assert max(map(len, text.splitlines())) <= WIDTH == 100
        assert "nan" not in text.split()
        sources = "Source: "  # quoted in the units of the source
        plain = " ".join(part for part in text.split("\n  ") if sources not in part)
        assert not [unit for unit in OTHER_UNITS[units] if unit in plain]


def test_the_verdict_stands_first_and_last():
    said = f"pump: {verdict(solve(lifted()).pumps['pump'], System.SI)}; coldest start not judged"
    lines = text_of(lifted()).splitlines()
    assert lines[1] == said
    assert lines[-1] == said


def test_the_alternative_is_named():
    assert text_of(lifted(), alternative="Wider line").splitlines()[1] == "Alternative: Wider line"


def test_columns_align_on_the_decimal_point():
    lines = text_of(lifted()).splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("  Where the budget goes"))
    ends = [line for line in lines[start + 3 :] if re.search(r"\d\.\d\d$", line)][:5]
    assert len({line.rindex(".") for line in ends}) == 1


def figures_of(line):
    """The figures of a line of the ledger."""
    return [float(text.replace("−", "-")) for text in re.findall(r"[−-]?\d+\.\d\d(?!\d)", line)]


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("file", LAYOUTS, ids=lambda file: file.stem)
def test_lift_and_loss_of_the_entries_add_up_to_what_is_spent_as_shown(file, units):
    """And that with the margin to the budget; the port's pressure to the margin over the floor."""
    solution = solve(replace(read(file).base, units=units))
    lines = text_of(solution.layout).splitlines()
    for ledger in solution.pumps.values():
        start = lines.index(next(line for line in lines if line.startswith(f"{ledger.pump}: takes in")))
        at, budget = next((n, line) for n, line in enumerate(lines) if n > start and "inlet budget:" in line)
        first = next(n for n in range(at, len(lines)) if lines[n].startswith("    fluid surface"))
        last = next(n for n in range(first, len(lines)) if lines[n].startswith("    spent: "))
        surface, floor, there_is = (Decimal(f"{each:.2f}") for each in figures_of(budget))
        sums = [cell_of(lines[first - 2], lines[last], name) for name in ("lift", "loss", "pressure")]
        for name, whole in zip(("lift", "loss"), sums, strict=False):
            entries = lines[first + 1 : first + 1 + len(ledger.entries)]
            assert sum(cell_of(lines[first - 2], line, name) for line in entries) == whole
        spent, margin = (Decimal(f"{figures_of(lines[n])[0]:.2f}") for n in (last, last + 1))
        assert (surface - floor, sums[0] + sums[1]) == (there_is, spent)
        assert (there_is - spent, sums[2] - floor) == (margin, margin)


def cell_of(headings, line, name):
    """A figure of a line of the ledger, by the end of its heading; 0 where there is none."""
    end = headings.index(name) + len(name)
    text = line[end - 8 : end].replace("−", "-").split()
    return Decimal(text[-1]) if text else Decimal(0)


@pytest.mark.parametrize("file", LAYOUTS, ids=lambda file: file.stem)
def test_every_total_of_the_budget_is_the_one_before_it_and_its_step(file):
    lines = text_of(read(file).base).splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("  What there is, "))
    end = next(i for i, line in enumerate(lines) if line.startswith("    inlet budget"))
    before = 0.0
    for line in lines[start + 1 : end]:
        if line.startswith("  What must remain"):
            before = 0.0
            continue
        step, total = figures_of(line.replace("+", ""))[-2:]
        assert before + step == pytest.approx(total, abs=0.011)
        before = total


def test_that_figures_are_rounded_to_add_up_stands_under_the_ledger():
    assert (
        "Figures are rounded so that lift, loss and budget add up"
        in text_of(lifted()).partition("A gauge at")[0]
    )


def test_no_column_runs_into_the_next():
    """Far over a small budget: shares of four digits and losses of three before the point."""
    text = text_of(with_floor(lifted(z=15.0), 99.5e3))
    margin = next(line for line in text.splitlines() if line.startswith("    margin"))
    assert re.search(r" −\d+\.\d\d +−\d+ % +99\.50$", margin)


def test_a_share_past_all_sense_is_left_out():
    text = text_of(with_floor(lifted(), solve(lifted()).pumps["pump"].surface - 1.0))
    assert re.search(r"    margin.* — ", text)


def test_an_impossible_pressure_is_said_in_words_not_as_a_reading():
    text = text_of(lifted(z=15.0))
    inlet = -solve(lifted(z=15.0)).pumps["pump"].inlet / 1000
    said = f"The column of fluid breaks before the port: it would need −{inlet:.2f} kPa abs"
    assert text.splitlines()[1] == f"pump: {said}"
    assert f"  {said}.\n" in text
    assert "A gauge at the port shows" not in text
    assert "NPSH available: none." in text


def test_where_no_vacuum_is_allowed_the_port_must_stand_above_the_atmosphere():
    text = " ".join(text_of(with_floor(lifted(), 101325.0 + 53.6e3)).split())
    assert "no vacuum is allowed here: the port must stand at least 53.60 kPa above the atmosphere." in text
    assert "kPa of vacuum is allowed" not in text


def cold(layout, celsius=5.0):
    return with_fluid(layout, coldest_start=Quantity(f"{celsius} degC", celsius + 273.15))


def test_every_case_has_a_line_of_its_own_the_worst_first():
    then = solve(with_fluid(lifted(), temperature=Quantity("5 degC", 278.15))).pumps["pump"]
    lines = text_of(cold(with_floor(lifted(), then.inlet + 1000.0))).splitlines()
    first = lines.index("Cases, the worst first") + 1
    assert lines[first].startswith("  coldest start: pump, over by 1.00 kPa (")
    assert lines[first + 1].startswith("  as drawn: pump, within, ")
    assert lines[1] == "Case shown: as drawn"
    assert "Cases" not in text_of(lifted())


def test_a_case_that_was_not_judged_says_why_in_the_units_shown():
    beyond = cold(lifted(), -90.0)
    assert "coldest start: not judged, Mineral oil, ISO VG 46: " in text_of(beyond)
    assert "−130 °F" in text_of(replace(beyond, units=System.US))
    assert text_of(beyond).splitlines()[2].endswith('not judged: "coldest start"')


def test_a_pump_that_is_left_out_is_named_when_it_is_over():
    layout = read(next(file for file in LAYOUTS if file.stem == "header-two-pumps")).base
    lines = text_of(layout, pump="pilot").splitlines()
    assert lines[3].startswith("Not shown here: main is over by ")
    assert not any(line.startswith("Not shown") for line in text_of(layout).splitlines())


def test_absolute_pressures_are_in_the_unit_of_what_is_taken_from_them():
    text = text_of(replace(lifted(), units=System.US))
    assert "psi" not in text
    assert "inHg abs" in text


def test_pressure_on_the_reservoir_also_stands_in_psi():
    layout = replace(lifted(), units=System.US)
    tank = replace(layout.reservoirs["tank"], pressure=Quantity("6 psi", 41_368.5))
    text = text_of(replace(layout, reservoirs={"tank": tank}))
    row = next(line for line in text.splitlines() if "reservoir pressure" in line)
    assert row.split() == ["reservoir", "pressure", "(6.00", "psi)", "+12.22", row.split()[-1]]


def test_estimates_are_labelled():
    estimated = with_pump(lifted(), rated_density=replace(metres(1.0), si=800.0))
    assert "density correction (estimate)" in text_of(estimated)
    assert "The floor is an estimate" in text_of(estimated)
    assert "estimate)" not in text_of(lifted())


def test_without_a_budget_no_share_is_shown():
    text = text_of(with_floor(lifted(), 120e3))
    assert "No lift works here" in text
    row = next(line for line in text.splitlines() if "riser, straight 1" in line)
    assert "%" not in row
    assert "—" not in row
    assert "share" not in text.partition("Where the budget goes")[2].partition("\n")[0]
    assert "share" in text_of(lifted()).partition("Where the budget goes")[2].partition("\n")[0]


def test_a_flooded_head_has_no_pressure_of_its_own():
    """It counts to the port's height, where the fluid is not yet when it leaves the surface."""
    text = text_of(lifted(z=0.2))
    row = next(line for line in text.splitlines() if "flooded head" in line and "tank," in line)
    assert not re.search(r"\d{2,}\.\d+$", row.rstrip())


def test_a_finding_comes_with_its_why_its_advice_and_its_source():
    text = report(with_remedies(judge(with_floor(lifted(), 99e3))))
    at = text.index("  stop     pump: over by")
    assert at < text.index("Why: ", at) < text.index("Try: ", at) < text.index("Source: ", at)


def test_no_finding_is_said_too():
    solution = solve(lifted())
    assert "Findings\n  none\n" in report(alone(solution, ()))


def test_the_maker_and_local_codes_come_first():
    text = " ".join(text_of(lifted()).split())
    assert "pump maker's own figures" in text
    assert "local codes" in text
    assert "licensed engineer" in text


def test_the_fluid_in_each_reservoir_is_told():
    """1.2 by 0.6 m: 288 L up to 0.4 m, 346 L after 50 L of the 396 at the normal level are out."""
    tank = replace(lifted().reservoirs["tank"], draw_down=Quantity("50 L", 0.05))
    layout = replace(lifted(), reservoirs={"tank": tank})
    assert "Level  minimum: tank at 0.400 m holds 288 L\n" in text_of(layout)
    drawn = solve(layout, "drawn down")
    assert "tank at 0.481 m holds 346 L, 50.0 L drawn out" in report(alone(drawn, ()))
    unknown = report(alone(solve(lifted(), "drawn down"), ()))
    assert "tank at 0.400 m holds 288 L, its minimum level, as what its cylinders" in " ".join(
        unknown.split()
    )
    baffle = Baffle(metres(0.9), metres(0.3))
    parted = replace(layout, reservoirs={"tank": replace(tank, baffle=baffle)})
    assert "72.0 L of it on the suction side of its baffle" in " ".join(text_of(parted).split())


def test_strokes_are_a_line_without_a_reynolds_number():
    strokes = {"type": "reciprocating", "speed": Quantity("300 rpm", 5.0), "cylinders": 3}
    text = text_of(with_pump(lifted(), **strokes))
    line = next(row for row in text.splitlines() if "acceleration head" in row)
    assert "nan" not in line
    assert line.split()[:3] == ["pump,", "acceleration", "head"]


def test_a_flooded_head_has_no_pressure_that_exists_nowhere():
    """The fluid over the port adds 2.14 inHg to 29.05, but the sum stands nowhere in the line."""
    path = next(path for path in LAYOUTS if path.stem == "header-two-pumps")
    judgement = judge(read(path).base)
    lines = [line for line in report(judgement).splitlines() if "tank, flooded head" in line]
    assert len(lines) == 2
    assert all("31.18" not in line and line.rstrip().endswith("%") for line in lines)
    recorded = records.record(judgement)["pumps"]["main"]["entries"]
    assert [each["pressure_Pa"] is None for each in recorded].count(True) == 1
    rows = list(csv.DictReader(io.StringIO(records.heading() + records.table(judgement, "x.toml"))))
    flooded = [row for row in rows if row["kind"] == "flooded head"]
    assert {row["pressure_Pa"] for row in flooded} == {""}
    assert all(float(row["pressure_Pa"]) > 0 for row in rows if row not in flooded)
    solution = judgement.cases["as drawn"].solution
    key = next(each.key for each in solution.pumps["main"].entries if each.kind == "flooded head")
    steps = working(solution, "main", key, System.US).steps
    assert "static pressure" not in str([step.name for step in steps])


def test_an_alternative_says_what_it_has_otherwise_on_text_and_page():
    (carriage,) = (file for file in LAYOUTS if file.stem == "carriage-at-altitude")
    drawing, name = read(carriage), "Three-inch suction line"
    judged = judge(drawing.alternatives[name].layout)
    changed = "; ".join(differences(drawing.base, judged.layout))
    assert "size NPS 3 schedule 40 instead of NPS 2 schedule 40" in changed
    plain = " ".join(report(judged, alternative=name, base=drawing.base).split())
    assert f"Alternative: {name} It changes: {changed}." in plain
    markup = html.unescape(page(judged, alternative=name, base=drawing.base))
    assert f"It changes: {changed}." in markup.replace("\N{NO-BREAK SPACE}", " ")
    assert "It changes:" not in text_of(drawing.base)


def test_every_alternative_has_its_verdict_after_the_cases(capsys):
    """Judged here apart, and printed by the program where the drawing itself is asked for."""
    (carriage,) = (file for file in LAYOUTS if file.stem == "carriage-at-altitude")
    expected = [
        f"{name}: {outlook(judge(each.layout), System.US).headline}"
        for name, each in read(carriage).alternatives.items()
    ]
    main([str(carriage)])
    plain = capsys.readouterr().out
    after = " ".join(plain[plain.index("\nAlternatives\n") :].split())
    assert (
        plain.index("\nCases, the worst first") < plain.index("\nAlternatives\n") < plain.index("\nFindings")
    )
    assert after.startswith(f"Alternatives {' '.join(expected)} Findings")
    main([str(carriage), "--brief"])
    assert capsys.readouterr().out.count("\n") == 1
    main([str(carriage), "--alternative", "Pump beside the tank"])
    assert "\nAlternatives\n" not in capsys.readouterr().out


def test_an_alternative_that_is_not_calculated_says_why():
    plain = text_of(lifted(), alternatives={"Wider line": "line: has no size"})
    assert "\n  Wider line: not calculated: line: has no size\n" in plain


def test_the_verdict_over_a_case_that_is_not_the_worst_names_that_as_drawn():
    layout = lifted(flow=0.003)
    warm = Case({}, {("fluid", "temperature"): Quantity("60 degC", 333.15)})
    judgement = judge(replace(layout, cases={"noon": warm}))
    assert judgement.worst().case == "as drawn"
    assert "in the case as drawn" in " ".join(report(judgement, "noon").split())
    assert "in the case as drawn" not in report(judgement)
