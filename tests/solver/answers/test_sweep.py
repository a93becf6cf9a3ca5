"""Many variants of a drawing at once give what each gives alone."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.answers import sweep
from solver.answers.sweep import FIGURES, Cancelled, SweepError
from solver.layout import file
from solver.layout.parts import Limit, Opening, Screen
from solver.ledger import solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import SHIPPED, drawing, fitting, intake, metres, pump, run, tank, tee
from tests.solver.checking import lifted, mesh, over_the_wall
from tests.thorough import one_in

CLOSE = 1e-12
"""Of the pressure on the fluid."""


def rich():
    """A strainer with a bypass, a valve, changes of bore, a slant, a device whose drop was read in oil."""
    held = fitting("device", (1.6, 1.2), kind="known drop", bore=0.06)
    held = replace(held, drop=Quantity("1 kPa", 1e3), flow=Quantity("100 L/min", 1 / 600))
    line = drawing(
        intake(),
        fitting("isolator", (0.9, 0.8), kind="butterfly valve"),
        held,
        pump(at=(2.4, 1.5), bore=0.052),
        run("riser", "strainer", "isolator"),
        run("lead", "isolator", "device", via=[(0.9, 1.2)], bore=0.06, bend_radius=None, out_of_plane=0.4),
        run("slant", "device", "pump", via=[(1.9, 1.2), (2.2, 1.5)], bore=0.045, bend_radius=0.05),
    )
    strainer = intake(kind="strainer", screen=Screen(**mesh(blocked=0.1, bypass=Quantity("20 kPa", 20e3))))
    turning = replace(
        line.pumps["pump"],
        flow=None,
        displacement=quantity("82 cm^3/rev", Kind.DISPLACEMENT),
        speed=quantity("1450 rpm", Kind.SPEED),
        rated_speed=quantity("1450 rpm", Kind.SPEED),
        limit=Limit("vacuum", ((None, Quantity("7 inHg", 23705.0)),)),
    )
    return replace(line, intakes={"strainer": strainer}, pumps={"pump": turning})


def header():
    """Two pumps on one line: NPSH, and a table over speed."""
    layout = drawing(
        tank(),
        intake(),
        tee("split", (0.9, 1.0)),
        pump("one", at=(1.8, 1.3)),
        pump("two", at=(0.2, 0.6), flow=0.001),
        run("riser", "strainer", "split"),
        run("left", "split", "one", via=[(1.5, 1.0), (1.5, 1.3)], bend_radius=0.04),
        run("right", "split", "two", via=[(0.5, 1.0), (0.5, 0.6)], bore=0.04, bend_radius=0.04),
    )
    one = replace(layout.pumps["one"], limit=Limit("npsh", ((None, metres(3.0)),)))
    table = (
        (Quantity("1200 rpm", 20.0), Quantity("25 kPa", 25e3)),
        (Quantity("1800 rpm", 30.0), Quantity("15 kPa", 15e3)),
    )
    two = replace(layout.pumps["two"], limit=Limit("vacuum", table), speed=Quantity("1450 rpm", 1450 / 60))
    return replace(layout, pumps={"one": one, "two": two})


def plant():
    """A sealed tank, a foot valve, a branch that is shut, a valve part-open, a reducer, a pumping stroke."""
    opening = Opening(kv=quantity("40 m^3/h", Kind.FLOW_COEFFICIENT_KV))
    taper = fitting("taper", (1.5, 1.2), kind="eccentric reducer")
    strokes = {"type": "reciprocating", "cylinders": 3, "speed": Quantity("300 rpm", 5.0)}
    return drawing(
        replace(tank(size=(1.2, 0.9)), sealed=True, draw_down=Quantity("20 L", 0.02)),
        intake(kind="foot valve"),
        tee("spare", (0.9, 0.8)),
        replace(fitting("shut", (0.5, 0.8)), state="closed"),
        replace(fitting("throttle", (1.2, 1.2)), opening=opening),
        replace(taper, other_bore=metres(0.06), length=metres(0.1)),
        replace(pump(at=(2.2, 1.2), bore=0.06), **strokes),
        run("riser", "strainer", "spare"),
        run("side", "spare", "shut"),
        run("lead", "spare", "throttle", via=[(0.9, 1.2)]),
        run("middle", "throttle", "taper"),
        run("wide", "taper", "pump", bore=0.06),
    )


DRAWINGS = {
    "rich": rich(),
    "plant": plant(),
    "header": header(),
    "over the wall": over_the_wall(),
    **{path.stem: file.read(path).base for path in SHIPPED},
}


def ranges(layout):
    """What may be varied in a drawing, from where to where."""
    tanks = [
        (min(y.si for _, y in t.outline), max(y.si for _, y in t.outline)) for t in layout.reservoirs.values()
    ]
    allowed = {
        "temperature": (280.0, 350.0),
        "density": (700.0, 1200.0),
        "viscosity": (1e-6, 5e-4),
        "elevation": (-300.0, 3000.0),
        "level": (max(low for low, _ in tanks), min(high for _, high in tanks)),
        "bore": (0.03, 0.09),
        "roughness": (0.0, 3e-4),
    }
    if any(part.screen is not None for part in (*layout.intakes.values(), *layout.fittings.values())):
        allowed["blocked"] = (0.0, 0.97)
    for name, each in layout.pumps.items():
        z = each.at[1].si
        allowed["port height", name] = (z - 0.4, z + 0.8)
        allowed["flow", name] = (2e-4, 6e-3)
        allowed["bore", name] = (0.03, 0.09)
        if each.speed is not None:
            allowed["speed", name] = (0.3 * each.speed.si, 2.0 * each.speed.si)
    for name in layout.runs:
        allowed["bore", name] = (0.03, 0.09)
        allowed["roughness", name] = (0.0, 3e-4)
    return allowed


@st.composite
def sweeps(draw, layout, most=6):
    """Some inputs of a drawing, each an array over the variants or one figure for all of them."""
    count = draw(st.integers(1, most))
    bounds = ranges(layout)
    keys = draw(st.lists(st.sampled_from(list(bounds)), min_size=1, max_size=len(bounds), unique=True))
    inputs = {}
    for key in keys:
        figure = st.floats(*bounds[key])
        few = st.lists(figure, min_size=count, max_size=count)
        inputs[key] = np.array(draw(st.one_of(few, st.lists(figure, min_size=1, max_size=1))))
    return inputs


def alone(layout, inputs, place, level="minimum"):
    """One variant's ledgers, or why it has none."""
    values = {
        key: float(np.broadcast_to(v, (1000,) if v.size == 1 else v.shape)[place])
        for key, v in inputs.items()
    }
    try:
        return solve.solve(sweep.variant(layout, values, level), level).pumps
    except NetworkError as error:
        return error.problems
    except FluidError as error:
        return ((error.part, error.text),)


def same(value, expected, scale):
    expected = math.nan if expected is None else expected
    return value == pytest.approx(expected, rel=CLOSE, abs=CLOSE * scale, nan_ok=True)


def check(layout, inputs, level="minimum"):
    """Every figure and share of every variant, and every refusal, against the single solve."""
    swept = sweep.solve(layout, inputs, level, shares=True, skip=True)
    refused = {int(i): refusal for refusal in swept.refused for i in refusal.variants}
    for place in range(math.prod(swept.shape)):
        expected = alone(layout, inputs, place, level)
        if isinstance(expected, tuple):
            assert [part for part, _ in refused[place].problems] == [part for part, _ in expected]
            if place == refused[place].variants[0]:
                assert refused[place].problems == expected
            assert all(np.isnan(each.margin.flat[place]) for each in swept.pumps.values())
            continue
        assert place not in refused
        for name, one in expected.items():
            many = swept.pumps[name]
            for figure in FIGURES:
                assert same(getattr(many, figure).flat[place], getattr(one, figure), one.surface), figure
            worth = one.surface / abs(one.budget) if one.budget else math.inf
            shares = {key: values.flat[place] for key, values in many.shares.items()}
            for entry in one.entries:
                assert same(shares.pop(entry.key, 0.0), entry.share, worth), entry.key
            assert all(share == 0 or not one.budget > 0 for share in shares.values())


@pytest.mark.parametrize("name", one_in(9, DRAWINGS))
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_a_variant_among_many_is_what_it_is_alone(name, data):
    level = data.draw(st.sampled_from(["minimum", "normal", "drawn down"]))
    check(DRAWINGS[name], data.draw(sweeps(DRAWINGS[name])), level)


def twin(flow=0.002):
    """Two suction lines to one pump: the split between them is sought."""
    return drawing(
        tank(),
        intake("near", (0.9, 0.12)),
        intake("far", (0.3, 0.12)),
        tee("meet", (0.9, 1.0)),
        pump(at=(0.9, 1.4), flow=flow),
        run("straight", "near", "meet"),
        run("round", "far", "meet", via=[(0.3, 1.0)], bore=0.04),
        run("lead", "meet", "pump"),
    )


def test_parallel_lines_are_solved_one_variant_at_a_time():
    inputs = {"temperature": np.array([300.0, 320.0, 340.0]), ("bore", "round"): np.array([0.03, 0.04, 0.05])}
    check(twin(), inputs)


@pytest.mark.parametrize(
    "inputs",
    [
        {("speed", "two"): np.array([20.0, 25.0]), ("flow", "two"): np.array([1e-3])},
        {"elevation": np.array([0.0, 1000.0])},
        {"level": np.array([0.3, 0.5])},
        {("bore", "left"): np.array([0.04, 0.06])},
    ],
    ids=["floor", "surface", "lift", "one line"],
)
def test_one_side_of_the_balance_may_vary_alone(inputs):
    check(header(), inputs)


@pytest.mark.parametrize("fall", [-0.3, 0.3])
def test_a_change_of_bore_that_only_some_variants_have(fall):
    layout = over_the_wall(fall=1.4 + fall)
    near = 0.05 * (1 + np.array([0.0, 1e-9, 0.9e-3, 1.1e-3, -0.9e-3, -1.1e-3, 0.1, -0.1]))
    check(layout, {"bore": near})
    check(layout, {("bore", "pump"): near, "flow": np.array([6e-3])})


@pytest.mark.parametrize("inputs", [{"temperature": [300.0, 320.0]}, {("bore", "riser"): [0.04, 0.05]}])
def test_pieces_put_together_are_the_whole(inputs, monkeypatch):
    layout = lifted()
    inputs = {key: np.linspace(*values, 50) for key, values in inputs.items()}
    whole = sweep.solve(layout, inputs, shares=True).pumps["pump"]
    monkeypatch.setattr(sweep, "MOST", 7)
    monkeypatch.setattr(sweep, "FEWEST", 7)
    pieces = sweep.solve(layout, inputs, shares=True).pumps["pump"]
    for figure in FIGURES:
        assert getattr(pieces, figure) == pytest.approx(getattr(whole, figure), rel=CLOSE, nan_ok=True)
    assert pieces.shares["riser/straight 1"] == pytest.approx(whole.shares["riser/straight 1"], rel=CLOSE)


def test_arrays_broadcast_and_the_figures_have_their_shape():
    inputs = {"temperature": np.array([[300.0], [320.0]]), "elevation": np.array([0.0, 500.0, 1000.0])}
    swept = sweep.solve(lifted(), inputs)
    margin = swept.pumps["pump"].margin
    assert swept.shape == margin.shape == (2, 3)
    single = sweep.variant(lifted(), {"temperature": 320.0, "elevation": 500.0})
    assert margin[1, 1] == pytest.approx(solve.solve(single).pumps["pump"].margin, rel=1e-9)


def test_a_grid_has_an_axis_for_each_input():
    axes = sweep.grid({"temperature": [300.0, 320.0], ("flow", "pump"): [1e-3, 2e-3, 3e-3]})
    margin = sweep.solve(lifted(), axes).pumps["pump"].margin
    assert margin.shape == (2, 3)
    assert (np.diff(margin, axis=0) > 0).all()  # warmer, thinner
    assert (np.diff(margin, axis=1) < 0).all()


def test_one_figure_for_all_variants_makes_one_variant():
    swept = sweep.solve(lifted(), {"temperature": 320.0})
    assert swept.shape == ()
    alone = solve.solve(sweep.variant(lifted(), {"temperature": 320.0})).pumps["pump"]
    assert float(swept.pumps["pump"].inlet) == pytest.approx(alone.inlet, rel=CLOSE)


def test_no_variant_at_all_is_an_empty_sweep():
    swept = sweep.solve(lifted(), {"temperature": np.array([])})
    assert swept.pumps["pump"].margin.shape == (0,)


def test_nothing_varied_is_the_drawing_itself():
    swept = sweep.solve(over_the_wall(), {})
    assert float(swept.pumps["pump"].margin) == pytest.approx(
        solve.solve(over_the_wall()).pumps["pump"].margin, rel=CLOSE
    )


@given(st.floats(0.8, 1.6), st.floats(0.03, 0.06))
def test_shares_and_what_is_left_make_the_whole(z, bore):
    swept = sweep.solve(lifted(), {"port height": [z, 1.2], "bore": [bore, 0.05]}, shares=True)
    pump_sweep = swept.pumps["pump"]
    assert sum(pump_sweep.shares.values()) + pump_sweep.margin / pump_sweep.budget == pytest.approx(
        np.ones(2), rel=1e-12
    )


def test_shares_are_made_where_asked_for_alone():
    assert not sweep.solve(lifted(), {"temperature": [300.0]}).pumps["pump"].shares


def test_a_figure_of_one_part_stands_over_that_of_all():
    layout = rich()
    all_and_one = {"roughness": [0.0], ("roughness", "riser"): [3e-4]}
    for inputs in (all_and_one, dict(reversed(all_and_one.items()))):
        held = sweep.variant(layout, {key: value[0] for key, value in inputs.items()})
        assert held.runs["riser"].roughness.si == 3e-4
        assert held.runs["lead"].roughness.si == 0.0


REFUSED = [
    ({"bore": [0.05, 0.0, 0.05]}, "bore", (1,), "bore at [1] is 0 m; allowed: above 0 m"),
    ({("bore", "riser"): -0.1}, "bore of riser", (), "bore of riser at [] is -0.1 m; allowed: above 0 m"),
    (
        {"elevation": [[0.0, 1.2e4]]},
        "elevation",
        (0, 1),
        "elevation at [0, 1] is 12000 m; allowed: -500 to 9000 m",
    ),
    ({"blocked": [0.5, 1.0]}, "blocked", (1,), "blocked at [1] is 1; allowed: 0 to 0.99"),
    ({"flow": [1e-3, math.nan]}, "flow", (1,), "flow at [1] is nan m^3/s; allowed: above 0 m^3/s"),
    ({"flow": [math.inf]}, "flow", (0,), "flow at [0] is inf m^3/s; allowed: above 0 m^3/s"),
    (
        {("level", "tank"): [0.4, 0.8]},
        "level of tank",
        (1,),
        "level of tank at [1] is 0.8 m; allowed: 0 to 0.7 m",
    ),
    ({"roughness": [-1e-6]}, "roughness", (0,), "roughness at [0] is -1e-06 m; allowed: 0 m or more"),
    (
        {"port height": [-math.inf]},
        "port height",
        (0,),
        "port height at [0] is -inf m; allowed: any finite number",
    ),
]


@pytest.mark.parametrize(("inputs", "name", "index", "text"), REFUSED)
def test_a_figure_that_is_not_allowed_is_refused_by_name_and_place(inputs, name, index, text):
    with pytest.raises(SweepError) as caught:
        sweep.solve(rich(), inputs)
    assert (caught.value.varied, caught.value.index, str(caught.value)) == (name, index, text)


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("colour", "'colour' is not an input; allowed: port height, bore, roughness, blocked, "),
        (("bore", "elbow"), "there is no bore of elbow; allowed: riser, "),
        (("flow", "riser"), "there is no flow of riser; allowed: pump"),
        ("speed", "there is no speed; allowed: no part"),
        ("blocked", "there is no blocked; allowed: no part"),
        (("temperature", "tank"), "there is no temperature of tank; allowed: the whole drawing"),
    ],
)
def test_an_input_that_the_drawing_does_not_have_is_refused_by_name(key, text):
    with pytest.raises(SweepError) as caught:
        sweep.solve(lifted(), {key: [1.0]})
    assert str(caught.value).startswith(text)


def test_figures_that_are_no_numbers_are_refused_by_name():
    with pytest.raises(SweepError, match="the figures of bore of riser are not numbers"):
        sweep.solve(lifted(), {("bore", "riser"): ["wide"]})


def test_arrays_that_do_not_go_together_are_refused():
    with pytest.raises(SweepError, match=r"temperature \(2,\), elevation \(3,\)"):
        sweep.solve(lifted(), {"temperature": [300.0, 310.0], "elevation": [0.0, 1.0, 2.0]})


def test_a_variant_that_cannot_be_calculated_is_refused_by_place_with_its_figures():
    inputs = {"temperature": np.array([300.0, 310.0, 500.0]), "elevation": np.array([0.0])}
    with pytest.raises(SweepError) as caught:
        sweep.solve(lifted(), inputs)
    assert (caught.value.varied, caught.value.index) == ("temperature", (2,))
    text = str(caught.value)
    assert text.startswith("variant [2], temperature 500 K, elevation 0 m: fluid: ")
    assert "its figures hold from" in text


def test_variants_that_cannot_be_calculated_may_be_left_out():
    deep = np.array([0.4, 0.05, 0.3, 0.05])
    swept = sweep.solve(lifted(), {"level": deep}, skip=True, shares=True)
    (refusal,) = swept.refused
    assert refusal.variants.tolist() == [1, 3]
    assert refusal.problems[0][0] == "strainer"
    pump_sweep = swept.pumps["pump"]
    for values in (pump_sweep.margin, pump_sweep.shares["riser/straight 1"]):
        assert np.isnan(values).tolist() == [False, True, False, True]


def test_a_level_that_the_tank_does_not_allow_is_left_out_though_the_line_stays():
    swept = sweep.solve(plant(), {"level": [0.5, 0.9]}, skip=True)
    assert [(refusal.variants.tolist(), refusal.problems[0][0]) for refusal in swept.refused] == [
        ([1], "tank")
    ]


def test_a_drawing_that_cannot_be_calculated_is_refused_as_ever():
    with pytest.raises(NetworkError):
        sweep.solve(drawing(), {"temperature": [300.0]})


def halting(at):
    told = []

    def progress(done, of):
        told.append((done, of))
        return len(told) < at

    return progress, told


def test_progress_is_told_piece_by_piece(monkeypatch):
    monkeypatch.setattr(sweep, "MOST", 10)
    progress, told = halting(at=99)
    assert not isinstance(
        sweep.solve(lifted(), {"temperature": np.linspace(300, 340, 25)}, progress=progress), Cancelled
    )
    assert told == [(10, 25), (20, 25), (25, 25)]


def test_a_cancelled_sweep_says_so_and_keeps_what_is_finished(monkeypatch):
    monkeypatch.setattr(sweep, "MOST", 10)
    progress, told = halting(at=2)
    inputs = {"temperature": np.linspace(300, 340, 25)}
    stopped = sweep.solve(lifted(), inputs, progress=progress)
    assert isinstance(stopped, Cancelled)
    assert (stopped.of, stopped.finished.shape, len(told)) == (25, (20,), 2)
    whole = sweep.solve(lifted(), inputs).pumps["pump"].margin
    assert stopped.finished.pumps["pump"].margin == pytest.approx(whole[:20], rel=CLOSE)


def test_a_sweep_cancelled_in_its_last_piece_is_finished(monkeypatch):
    monkeypatch.setattr(sweep, "MOST", 10)
    progress, _ = halting(at=2)
    swept = sweep.solve(lifted(), {"temperature": np.linspace(300, 340, 20)}, progress=progress)
    assert swept.shape == (20,)


def test_a_grid_that_is_cancelled_keeps_its_beginning_in_one_row(monkeypatch):
    monkeypatch.setattr(sweep, "MOST", 4)
    axes = sweep.grid({"temperature": [300.0, 320.0], "elevation": [0.0, 500.0, 1000.0]})
    stopped = sweep.solve(lifted(), axes, progress=lambda done, of: False)
    assert stopped.finished.pumps["pump"].margin == pytest.approx(
        sweep.solve(lifted(), axes).pumps["pump"].margin.ravel()[:4], rel=CLOSE
    )
