"""The ledger as text: what stands where, and that it fits."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers import ask_all
from solver.findings import check
from solver.layout import Baffle
from solver.layout_file import read
from solver.ledger import solve, verdict
from solver.report import WIDTH, report
from solver.units import Quantity, System
from tests.solver.checking import lifted, with_floor, with_pump
from tests.solver.drawing import metres

LAYOUTS = sorted((Path(__file__).resolve().parents[2] / "layouts").glob("*.toml"))


def text_of(layout, **more):
    solution = solve(layout)
    return report(solution, check(solution), **more)


@pytest.mark.parametrize("units", ["US customary", "SI"])
@pytest.mark.parametrize("file", LAYOUTS, ids=lambda file: file.stem)
def test_every_example_fits_in_a_hundred_columns(file, units):
    drawing = read(file)
    for layout in (drawing.base, *(alternative.layout for alternative in drawing.alternatives.values())):
        shown = replace(layout, units=units)
        asked = {name: ask_all(shown, name) for name in shown.pumps}
        text = text_of(shown, alternative="Some alternative with a name", answers=asked)
        assert max(map(len, text.splitlines())) <= WIDTH == 100
        assert "nan" not in text.split()


def test_the_verdict_stands_first_and_last():
    said = f"pump: {verdict(solve(lifted()).pumps['pump'], System.SI)}"
    lines = text_of(lifted()).splitlines()
    assert lines[1] == said
    assert lines[-1] == said


def test_the_alternative_is_named():
    assert text_of(lifted(), alternative="Wider line").splitlines()[1] == "Alternative: Wider line"


def test_columns_align_on_the_decimal_point():
    lines = text_of(lifted()).splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("  What spends it"))
    ends = [line for line in lines[start + 3 :] if re.search(r"\d\.\d\d$", line)][:5]
    assert len({line.rindex(".") for line in ends}) == 1


def test_the_budget_lines_add_up_as_printed_to_the_inlet_budget():
    lines = text_of(lifted()).splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("  What there is to spend"))
    end = next(i for i, line in enumerate(lines) if line.startswith("    inlet budget"))
    steps = [float(line.split()[-2].replace("−", "-")) for line in lines[start + 1 : end]]
    assert sum(steps) == pytest.approx(float(lines[end].split()[-1]), abs=0.011)


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
    assert "—" in row


def test_a_finding_comes_with_its_why_its_advice_and_its_source():
    text = text_of(with_floor(lifted(), 99e3))
    at = text.index("  stop     pump: over by")
    assert at < text.index("Why: ", at) < text.index("Try: ", at) < text.index("Source of the limit: ", at)


def test_no_finding_is_said_too():
    solution = solve(lifted())
    assert "Findings\n  none\n" in report(solution, ())


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
    assert "tank at 0.481 m holds 346 L, 50.0 L drawn out" in report(drawn, ())
    baffle = Baffle(metres(0.9), metres(0.3))
    parted = replace(layout, reservoirs={"tank": replace(tank, baffle=baffle)})
    assert "72.0 L of it on the suction side of its baffle" in " ".join(text_of(parted).split())


def test_strokes_are_a_line_without_a_reynolds_number():
    strokes = {"type": "reciprocating", "speed": Quantity("300 rpm", 5.0), "cylinders": 3}
    text = text_of(with_pump(lifted(), **strokes))
    line = next(row for row in text.splitlines() if "acceleration head" in row)
    assert "nan" not in line
    assert line.split()[:3] == ["pump,", "acceleration", "head"]
