"""What is to be varied, as typed; and every variant the drawing solved by itself in every case."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from solver.answers import sweep
from solver.answers.axes import MOST, AxisError, pieces, read_axis, size
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.file import read
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.solver.checking import lifted

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def test_ends_count_and_part_are_read():
    axis = read_axis("port height of pump=1 m..2 m/5")
    assert (axis.name, axis.part, axis.label) == ("port height", "pump", "port height of pump")
    assert axis.values.tolist() == [1.0, 1.25, 1.5, 1.75, 2.0]


@pytest.mark.parametrize("typed", ["temperature=10..60 degC", "temperature = 10 degC .. 60 degC"])
def test_a_unit_may_stand_at_the_second_figure_alone(typed):
    values = read_axis(typed).values
    assert (values[0], values[-1]) == pytest.approx((283.15, 333.15))
    assert values.size == 11


def test_a_key_may_be_written_with_hyphens():
    assert read_axis("port-height=1 m..2 m").name == "port height"


def test_a_unit_with_a_stroke_is_no_count():
    axis = read_axis("flow=10 L/min..40 L/min/4")
    assert axis.values * 60e3 == pytest.approx([10.0, 20.0, 30.0, 40.0])


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("temperature", "allowed: KEY=FROM..TO"),
        ("temp=1..2 m", "'temp' cannot be varied; allowed: port height, bore"),
        ("level of =1 m..2 m", "cannot be varied"),
        ("level=1 m..2 kg", "kg"),
        ("level=1 m..2 m/0", "0 figures"),
    ],
)
def test_what_cannot_be_varied_is_said(typed, why):
    with pytest.raises(AxisError, match="allowed") as caught:
        read_axis(typed)
    assert why in str(caught.value)


def test_one_figure_twice_and_too_many_variants_are_refused():
    level = read_axis("level=1 m..2 m")
    with pytest.raises(AxisError, match="'level' is to be varied twice"):
        size([level, level])
    large = math.isqrt(MOST) + 1
    with pytest.raises(AxisError, match="at most"):
        size([read_axis(f"level=1 m..2 m/{large}"), read_axis(f"bore=40 mm..50 mm/{large}")])


def winter():
    return read(LAYOUTS / "winter-press.toml").base


def test_every_variant_is_the_drawing_solved_by_itself_in_the_case_that_decides():
    layout = winter()
    axes = [read_axis("port height=1.5 ft..3 ft/3"), read_axis("blocked=0 %..60 %/4")]
    (piece,) = pieces(layout, axes)
    least, case, names = piece.decided("press")
    assert piece.count == 12
    for at in range(piece.count):
        changed = {key: piece.figures[key][at] for key in ("port height", "blocked")}
        variant = sweep.variant(layout, changed)
        alone = {
            name: solve(layout_in_case(variant, name, each)).pumps["press"].margin
            for name, each in cases_of(variant).items()
        }
        assert least[at] == pytest.approx(min(alone.values()), abs=1e-6)
        assert names[case[at]] == min(alone, key=lambda name: alone[name])


def test_a_case_that_cannot_be_judged_leaves_the_worst_unknown():
    layout = winter()
    frozen = replace(layout.fluid, coldest_start=quantity("-80 degC", Kind.TEMPERATURE))
    (piece,) = pieces(replace(layout, fluid=frozen), [read_axis("blocked=0 %..60 %/2")])
    least, case, _ = piece.decided("press")
    assert np.isnan(least).all()
    assert (case == -1).all()


def test_a_level_that_a_case_gives_is_varied_too():
    """Else every variant would be the same, and look like a drawing that a level does nothing to."""
    tank = replace(lifted().reservoirs["tank"], level=quantity("0.5 m", Kind.LENGTH))
    layout = replace(lifted(), reservoirs={"tank": tank})
    (piece,) = pieces(layout, [read_axis("level=0.3 m..0.5 m/2")], Level.MINIMUM)
    low, high = piece.cases["as drawn"]["pump"].margin
    assert high - low == pytest.approx(0.2 * 9.80665 * solve(layout).fluid.density, rel=1e-6)


def test_more_variants_than_go_at_once_come_in_their_order():
    axes = [read_axis("level=0.3 m..0.5 m/50"), read_axis("elevation=0 m..1000 m/20")]
    all_pieces = list(pieces(lifted(), axes))
    assert len(all_pieces) > 1
    levels = np.concatenate([piece.figures["level"] for piece in all_pieces])
    assert levels == pytest.approx(np.repeat(np.linspace(0.3, 0.5, 50), 20))
    assert not any(math.isnan(each) for piece in all_pieces for each in piece.decided("pump")[0])
