"""Changes of pipe: sizes up, bends, valves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import pipes
from solver.fixes.candidate import Candidate, FixKind, NoRoomError
from solver.layout import file
from solver.layout.parts import Fitting, Layout, Opening
from solver.quantities.units import Kind, Quantity, System, quantity
from tests.drawings import BENT, RISER, drawing, fitting, pump, run
from tests.solver.fixes.examples import line, of_kind, riser


def test_the_next_sizes_up_are_those_of_asme_b36_10() -> None:
    """ASME B36.10, schedule 40: NPS 2, 2-1/2, 3, 4; inside diameters 2.469, 3.068 and 4.026 in. NPS 3-1/2 is
    kept by few: common practice, no source."""
    layout = riser()
    (wider,) = list(pipes.wider(layout, line(layout)))
    drawn = [wider.edit(layout, size).runs["riser"].size for size in wider.sizes[:3]]
    assert drawn == ["NPS 2-1/2 schedule 40", "NPS 3 schedule 40", "NPS 4 schedule 40"]
    assert wider.describe(0.0, System.SI) == "lay the whole line in NPS 2-1/2 schedule 40"
    assert wider.edit(layout, 0.0).intakes["strainer"].size == "NPS 2-1/2 schedule 40"


def test_a_part_that_is_wider_already_keeps_its_size() -> None:
    layout = riser()
    wide = replace(layout.intakes["strainer"], size="NPS 4 schedule 40")
    layout = replace(layout, intakes={"strainer": wide})
    (wider,) = list(pipes.wider(layout, line(layout)))
    changed = wider.edit(layout, 0.0)
    assert changed.intakes["strainer"].size == "NPS 4 schedule 40"
    assert changed.runs["riser"].size == "NPS 2-1/2 schedule 40"


def test_the_widest_size_of_a_family_has_none_above_it() -> None:
    layout = riser(RISER.replace("NPS 2 schedule 40", "NPS 12 schedule 40"))
    assert list(pipes.wider(layout, line(layout))) == []


def bends(text: str) -> list[str]:
    layout = riser(text)
    kept_candidates = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.BENDS)
    return [each.describe(size, System.SI) for each in kept_candidates for size in each.sizes]


def test_bends_become_longer_kinds_or_are_made_to_a_wider_radius() -> None:
    """Radii of three and five bores of NPS 2 schedule 40, 52.5 mm; common practice, no source."""
    tight = BENT.replace(
        'via = [["0.6 m", "1.00 m"]]', 'via = [["0.6 m", "1.00 m"]]\nbend = "threaded elbow"'
    )
    made_bends = ["bend riser to a radius of 158 mm", "bend riser to a radius of 263 mm"]
    assert bends(tight) == ["give riser threaded long elbows", "give riser long-radius bends", *made_bends]
    assert bends(BENT) == made_bends, "a long radius unless it says otherwise"
    assert bends(RISER) == [], "no bend"
    typed = tight.replace('bend = "threaded elbow"', 'bend_radius = "160 mm"')
    assert bends(typed) == made_bends[1:], "a radius as typed, and none that is tighter"


def test_a_bend_of_wider_radius_takes_less() -> None:
    layout = riser(BENT)
    (change,) = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.BENDS)
    wider = change.edit(layout, 0.0)
    assert wider.runs["riser"].bend_radius is not None
    assert line(wider).margin > line(layout).margin


def valved(valve: Fitting) -> Layout:
    return drawing(valve, run("riser", "strainer", "v"), run("lead", "v", "pump"))


@pytest.mark.parametrize(
    ("kind", "better"),
    [("globe valve", "ball valve"), ("lift check", "swing check"), ("poppet foot valve", "foot valve")],
)
def test_a_tight_valve_gives_place_to_one_that_lets_more_through(kind: str, better: str) -> None:
    layout = valved(fitting("v", (0.9, 0.8), kind=kind))
    (change,) = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.VALVE)
    after = change.edit(layout, 1.0)
    assert after.fittings["v"].kind == better
    assert line(after).margin > line(layout).margin


@pytest.mark.parametrize("kind", pipes.OF_ANOTHER_USE)
def test_a_valve_that_chooses_a_way_or_turns_the_line_is_not_replaced(kind: str) -> None:
    layout = valved(fitting("v", (0.9, 0.8), kind=kind))
    assert of_kind(list(pipes.candidates(layout, line(layout))), FixKind.VALVE) == []


def test_a_full_bore_valve_is_left_alone_unless_it_stands_part_open() -> None:
    ball = fitting("v", (0.9, 0.8))
    layout = valved(ball)
    assert of_kind(list(pipes.candidates(layout, line(layout))), FixKind.VALVE) == []
    layout = valved(replace(ball, opening=Opening(kv=quantity("12 m^3/h", Kind.FLOW_COEFFICIENT_KV))))
    (change,) = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.VALVE)
    assert change.edit(layout, 1.0).fittings["v"].opening is None
    assert Quantity("12 m^3/h", 12 / 3600).si == pytest.approx(layout.fittings["v"].opening.kv.si)


def test_a_valve_narrower_than_its_line_is_offered_in_the_line_s_size() -> None:
    layout = valved(fitting("v", (0.9, 0.8)))
    runs = {name: replace(each, bore=None, size="NPS 2 schedule 40") for name, each in layout.runs.items()}
    narrow = replace(layout.fittings["v"], bore=None, size="NPS 1-1/2 schedule 40")
    layout = replace(layout, runs=runs, fittings={"v": narrow})
    (larger,) = (
        each for each in pipes.candidates(layout, line(layout)) if each.cost == "a larger ball valve"
    )
    assert larger.edit(layout, 1.0).fittings["v"].size == "NPS 2 schedule 40"
    assert larger.describe(1.0, System.SI) == "make v as wide as its line, NPS 2 schedule 40"


def at_reducer(layout: Layout) -> list[Candidate]:
    every = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.REDUCER)
    return [each for each in every if each.part == "r"]


def test_a_reducer_without_a_cone_is_offered_one_that_is_four_times_its_step() -> None:
    slim = replace(
        fitting("r", (0.9, 0.8), kind="eccentric reducer", bore=0.05), other_bore=Quantity("40 mm", 0.04)
    )
    layout = drawing(slim, run("riser", "strainer", "r"), run("lead", "r", "pump", bore=0.04))
    (cone,) = at_reducer(layout)
    length = cone.edit(layout, 1.0).fittings["r"].length
    assert length is not None
    assert length.si == pytest.approx(0.04)
    longer = cone.edit(layout, 1.0)
    assert at_reducer(longer) == []


def test_the_reducer_at_the_port_grows_with_the_run_behind_it() -> None:
    slim = replace(
        fitting("r", (0.9, 0.8), kind="eccentric reducer", bore=0.08),
        other_size="NPS 1-1/2 schedule 40",
    )
    lead = replace(run("lead", "r", "pump"), size="NPS 1-1/2 schedule 40", bore=None)
    layout = drawing(slim, run("riser", "strainer", "r", bore=0.08), lead, pump(bore=0.08))
    every = list(pipes.wider(layout, line(layout)))
    wider = next(each for each in every if each.part == "lead")
    assert wider.describe(0.0, System.SI).endswith(" in NPS 2 schedule 40")
    after = wider.edit(layout, 0.0)
    assert after.fittings["r"].other_size == after.runs["lead"].size == "NPS 2 schedule 40"
    assert after.fittings["r"].bore == layout.fittings["r"].bore
    assert line(after).margin > line(layout).margin


def joined(z: float = 1.3) -> Layout:
    """A line of 60 mm that meets a valve and a port of 40 mm without reducers."""
    slim = fitting("v", (0.9, 0.7), bore=0.04)
    return drawing(
        slim,
        pump(at=(0.9, z), bore=0.04),
        run("riser", "strainer", "v", bore=0.06),
        run("lead", "v", "pump", bore=0.06),
    )


def test_a_line_that_meets_a_narrower_part_gets_a_reducer_there() -> None:
    """Four times the step of 20 mm, as for a reducer that is drawn."""
    layout = joined()
    cones = of_kind(list(pipes.candidates(layout, line(layout))), FixKind.REDUCER)
    assert {each.part for each in cones} >= {"v", "pump"}
    (cone,) = (each for each in cones if each.part == "pump")
    assert cone.describe(1.0, System.SI) == "put a reducer 80.0 mm long between lead and pump"
    after = cone.edit(layout, 1.0)
    assert file.check(after) == ()
    (reducer,) = (each for each in after.fittings.values() if "reducer" in each.kind)
    assert reducer.kind == "concentric reducer", "in a line that stands"
    assert line(after).margin > line(layout).margin
    lengths = [sum(e.length for e in line(each).entries) for each in (layout, after)]
    assert lengths[0] == pytest.approx(lengths[1]), "no more line than before"
    assert [each for each in pipes.candidates(after, line(after)) if each.part == "pump"] == []


def test_a_straight_without_room_gets_no_reducer() -> None:
    layout = joined(z=0.8)
    (cone,) = (
        each
        for each in of_kind(list(pipes.candidates(layout, line(layout))), FixKind.REDUCER)
        if each.part == "pump"
    )
    with pytest.raises(NoRoomError, match="too short"):
        cone.edit(layout, 1.0)
