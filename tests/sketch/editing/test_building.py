"""Adding, deleting, renaming: what comes out can be saved, and what is put in comes out again whole."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from sketch.editing import beginning, building
from sketch.editing.building import FREE, IN_LINE, PUMP, TANK, TEE
from sketch.editing.edits import EditError
from solver.layout import file as layout_file
from solver.layout.kinds import REDUCER_KINDS, FittingKind
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.quantities.units import Kind, System, quantity

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture(params=System)
def layout(request: pytest.FixtureRequest) -> Layout:
    return beginning.begin(request.param)


@pytest.fixture
def carriage() -> Layout:
    return layout_file.read(LAYOUTS / "carriage-at-altitude.toml").base


def length(layout: Layout) -> float:
    """Of every straight and bend together [m]."""
    return sum(row.length + row.arc for row in solve(layout).network.rows)


def test_a_new_drawing_is_calculated_saved_and_read_again(layout: Layout) -> None:
    ledger = solve(layout).pumps["pump"]
    assert ledger.sound
    assert 0 < ledger.margin < ledger.budget
    text = layout_file.write(layout_file.Drawing(layout))
    assert layout_file.parse(text).base == layout


@pytest.mark.parametrize("what", [what for what in IN_LINE if what != TEE])
def test_a_part_cuts_its_line_in_two_and_the_line_heals(layout: Layout, what: str) -> None:
    built = building.insert(layout, what, "line", 0.32, 0.55)
    assert list(built.layout.runs) == ["line", "line 2"]
    assert built.layout.runs["line"].end == built.layout.runs["line 2"].start == built.name
    assert layout_file.check(built.layout) == ()
    assert length(built.layout) == pytest.approx(length(layout), abs=1e-9)
    healed = building.remove(built.layout, built.name)
    assert healed == layout, "nothing of the line changes, not even for a reducer"


def test_a_length_out_of_the_plane_is_kept_where_two_lines_become_one(layout: Layout) -> None:
    cut = building.insert(layout, "gate valve", "line", 0.32, 0.55).layout
    runs = {
        name: replace(run, out_of_plane=quantity(length, Kind.LENGTH))
        for (name, run), length in zip(cut.runs.items(), ("0.3 m", "0.5 m"), strict=True)
    }
    for kept, out in ((runs, 0.8), ({**cut.runs, "line 2": runs["line 2"]}, 0.5)):
        healed = building.remove(replace(cut, runs=kept), "gate valve").runs["line"].out_of_plane
        assert healed is not None
        assert healed.si == pytest.approx(out)


def test_a_part_costs_what_it_costs(layout: Layout) -> None:
    built = building.insert(layout, "known K", "line", 0.32, 0.55)
    entry = next(e for e in solve(built.layout).pumps["pump"].entries if e.part == built.name)
    density = solve(layout).fluid.density
    assert entry.loss == pytest.approx(density * entry.velocity**2 / 2)
    lost = solve(layout).pumps["pump"].margin - solve(built.layout).pumps["pump"].margin
    assert lost == pytest.approx(entry.loss, rel=1e-9)


def test_a_part_put_in_beside_a_line_sits_on_it(layout: Layout) -> None:
    x, y = building.place_on(layout, "line", 0.0, 0.55)
    strainer = layout.intakes["strainer"].at
    assert x == pytest.approx(strainer[0].si)
    assert y == pytest.approx(0.55, abs=0.0254)


def test_there_is_no_room_in_a_short_line(layout: Layout) -> None:
    def cut_again_and_again(layout: Layout) -> None:
        for _ in range(40):
            layout = building.insert(layout, "gate valve", "line", 0.3, 0.4).layout

    with pytest.raises(EditError, match="too short"):
        cut_again_and_again(layout)


def test_a_tee_waits_for_its_third_line_and_gives_a_second_pump_its_flow(layout: Layout) -> None:
    built = building.insert(layout, TEE, "line", 0.6, 0.9)
    with pytest.raises(NetworkError):
        solve(built.layout)
    pumped = building.add(built.layout, PUMP, 2.0, 1.5)
    at = built.layout.tees[built.name].at
    whole = building.add_line(pumped.layout, built.name, pumped.name, ((at[0].si, 1.5),)).layout
    flows = solve(whole).pumps
    assert flows[pumped.name].flow == pytest.approx(flows["pump"].flow)
    assert building.remove(building.remove(whole, pumped.name), built.name) == layout


@pytest.mark.parametrize("what", FREE)
def test_what_stands_alone_is_added_and_deleted(layout: Layout, what: str) -> None:
    place = (2.5, 0.0) if what == TANK else (0.61, 0.3) if what != PUMP else (2.0, 1.0)
    built = building.add(layout, what, *place)
    assert layout_file.check(built.layout) == ()
    assert building.remove(built.layout, built.name) == layout


def test_an_intake_stands_in_its_tank(layout: Layout) -> None:
    with pytest.raises(EditError, match="outside"):
        building.add(layout, "strainer", 9.0, 9.0)
    bare = replace(layout, reservoirs={}, intakes={}, runs={})
    with pytest.raises(EditError, match="reservoir"):
        building.add(bare, "strainer", 0.0, 0.0)


def test_a_tank_that_something_stands_in_stays(layout: Layout) -> None:
    with pytest.raises(EditError, match="strainer"):
        building.remove(layout, "tank")


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [("pump", "pump", "two parts"), ("pump", "strainer", "no end free"), ("tank", "pump", "cannot end")],
)
def test_lines_that_cannot_be_drawn(layout: Layout, start: str, end: str, said: str) -> None:
    with pytest.raises(EditError, match=said):
        building.add_line(layout, start, end)


def test_deleting_a_pump_takes_its_line_along(layout: Layout) -> None:
    left = building.remove(layout, "pump")
    assert not left.pumps
    assert not left.runs


def test_a_corner_stays_where_a_part_sat_on_one(carriage: Layout) -> None:
    bent = building.insert(carriage, "known K", "lead", 0.0, 0.0)
    moved = bent.layout
    assert math.isfinite(solve(building.remove(moved, bent.name)).pumps["carriage"].margin)
    assert building.remove(moved, bent.name) == carriage


def test_every_part_but_a_tank_in_use_can_be_deleted() -> None:
    """Nor a tee of three lines: which of them stays is not for the program to say."""
    for file in sorted(LAYOUTS.glob("*.toml")):
        layout = layout_file.read(file).base
        for group in ("reservoirs", "intakes", "fittings", "tees", "pumps", "runs"):
            for name in getattr(layout, group):
                if group in ("reservoirs", "tees"):
                    with pytest.raises(EditError):
                        building.remove(layout, name)
                    continue
                left = building.remove(layout, name)
                assert layout_file.check(left) == ()
                with pytest.raises(KeyError):
                    left.part(name)


def test_every_part_of_every_drawing_can_be_renamed_and_nothing_else_changes() -> None:
    for file in sorted(LAYOUTS.glob("*.toml")):
        layout = layout_file.read(file).base
        for group in ("reservoirs", "intakes", "fittings", "tees", "pumps", "runs"):
            for name in getattr(layout, group):
                again = building.rename(building.rename(layout, name, "some other"), "some other", name)
                assert again == layout


@pytest.mark.parametrize("wanted", ["pump", "", "a\nb", "x" * 300])
def test_names_that_a_file_would_refuse_are_refused(layout: Layout, wanted: str) -> None:
    with pytest.raises(EditError):
        building.rename(layout, "strainer", wanted)


def test_free_names_count_on_from_the_stem(layout: Layout) -> None:
    assert building.free_name(layout, "valve") == "valve"
    assert building.free_name(layout, "line") == "line 2"
    twice = building.insert(layout, "gate valve", "line", 0.3, 0.4).layout
    assert building.free_name(twice, "line 2") == "line 3"


def sized(layout: Layout, strainer: str, pump: str) -> Layout:
    """A strainer and a pump of these sizes, with no line between them."""
    begun = building.remove(layout, "line")
    intakes = {"strainer": replace(begun.intakes["strainer"], size=strainer)}
    return replace(begun, intakes=intakes, pumps={"pump": replace(begun.pumps["pump"], size=pump)})


TWO, SLIM = "NPS 2 schedule 40", "NPS 1-1/2 schedule 40"


@pytest.mark.parametrize(("start", "end"), [("strainer", "pump"), ("pump", "strainer")])
@pytest.mark.parametrize("strainer", [TWO, "tube 60 x 4 mm", "NPS 3 schedule 40"])
def test_a_line_has_the_size_of_where_it_starts_and_changes_none(
    layout: Layout, start: str, end: str, strainer: str
) -> None:
    """Also where that is the size that new parts begin with: somebody may have typed it."""
    begun = sized(layout, strainer, SLIM)
    drawn = building.add_line(begun, start, end)
    assert drawn.layout.runs["line"].size == begun.joint(start).size
    assert (drawn.layout.intakes, drawn.layout.pumps) == (begun.intakes, begun.pumps)
    assert (
        drawn.text
        == {
            "pump": f"Line drawn in {strainer}; the port of pump is {SLIM}: put in a reducer.",
            "strainer": f"Line drawn in {SLIM}; strainer is {strainer}: put in a reducer.",
        }[end]
    )


def test_a_line_that_fits_both_ends_has_nothing_to_say(layout: Layout) -> None:
    assert building.add_line(building.remove(layout, "line"), "strainer", "pump").text == ""
    pipe_and_tube = sized(layout, TWO, "tube 60 x 4 mm")
    assert building.add_line(pipe_and_tube, "strainer", "pump").text == "", "of one bore to a hundredth"
    assert building.add_line(pipe_and_tube, "strainer", "pump", what=building.HOSE).text == ""
    hose = building.add_line(sized(layout, TWO, SLIM), "strainer", "pump", what=building.HOSE)
    assert hose.text == f"Hose drawn in hose -32; the port of pump is {SLIM}: put in a reducer."


@pytest.mark.parametrize("kind", REDUCER_KINDS)
@pytest.mark.parametrize("turned", [False, True], ids=["from the strainer", "from the pump"])
def test_a_reducer_leads_from_the_line_s_size_to_the_pump_s(
    layout: Layout, kind: FittingKind, *, turned: bool
) -> None:
    start, end = ("pump", "strainer") if turned else ("strainer", "pump")
    drawn = building.add_line(sized(layout, TWO, SLIM), start, end, ((0.3, 0.9),)).layout
    drawn = replace(drawn, runs={"line": replace(drawn.runs["line"], size=TWO)})
    built = building.insert(drawn, kind, "line", 0.6, 0.9)
    upstream, downstream = ("line 2", "line") if turned else ("line", "line 2")
    runs, reducer = built.layout.runs, built.layout.fittings[kind]
    assert {upstream: runs[upstream].size, downstream: runs[downstream].size} == {
        upstream: TWO,
        downstream: SLIM,
    }
    assert {reducer.size, reducer.other_size} == {TWO, SLIM}
    assert (built.layout.intakes, built.layout.pumps) == (drawn.intakes, drawn.pumps)
    assert not [row for row in solve(built.layout).network.rows if row.kind == "bore change"]
    assert built.text == (
        f"{kind} put in from {TWO} to {SLIM}, as the port of pump is; {downstream}, between them, "
        f"is {SLIM} now."
    )


def test_a_reducer_beside_a_wider_strainer_has_its_size_on_that_side_alone(layout: Layout) -> None:
    drawn = building.add_line(sized(layout, "NPS 3 schedule 40", TWO), "pump", "strainer", ((0.3, 0.9),))
    built = building.insert(drawn.layout, "eccentric reducer", "line", 0.6, 0.9)
    assert [run.size for run in built.layout.runs.values()] == [TWO, "NPS 3 schedule 40"]


def test_a_reducer_in_a_line_of_one_size_leaves_it_alone_and_says_what_to_type(layout: Layout) -> None:
    built = building.insert(layout, "eccentric reducer", "line", 0.32, 0.55)
    reducer, size = built.layout.fittings["eccentric reducer"], layout.runs["line"].size
    assert (reducer.size, reducer.other_size) == (size, size)
    assert built.text == (
        f"eccentric reducer is {size} on both sides, as line is and the parts at its ends are: "
        "type its other size, and that of the line beyond it."
    )
    assert solve(built.layout).pumps["pump"].sound


def test_a_new_drawing_is_written_in_its_own_units(layout: Layout) -> None:
    text = layout_file.write(layout_file.Drawing(layout))
    others = {
        System.US: (' m"', "mm", "degC", "kPa", "L/min"),
        System.SI: ("ft", " in", "degF", "inHg", "NPS"),
    }
    assert [unit for unit in others[layout.units] if unit in text.replace("per inch", "")] == []
