"""Changes of a screen: larger, cleaner, coarser, none."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import screens
from solver.fixes.candidate import Candidate, NoRoomError
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import System
from tests.drawings import RISER, SHIPPED, drawing, run
from tests.solver.fixes.examples import line, riser


def changes(layout: Layout, case: str = "as drawn") -> dict[str, Candidate]:
    screen_candidates = screens.candidates(layout, line(layout), case)
    return {
        each.describe(each.now or (each.sizes or (0.0,))[0], System.SI).split()[0]: each
        for each in screen_candidates
    }


def test_twice_the_screen_is_twice_the_area_and_takes_less() -> None:
    layout = riser()
    larger = changes(layout)["give"]
    assert larger.describe(2.0, System.SI) == "give strainer 2.0 times the screen: 1200 cm²"
    after = larger.edit(layout, 2.0)
    assert after.intakes["strainer"].screen.area.si == pytest.approx(0.12)
    assert line(after).margin > line(layout).margin
    assert (larger.now, larger.most) == (1.0, screens.LARGEST)


def test_points_of_a_maker_stand_for_more_flow_where_the_element_is_larger() -> None:
    text = RISER.replace(
        'mesh = "100 per inch", wire = "0.11 mm", area = "0.06 m^2"',
        'drops = [["80 L/min", "0.03 bar"]], viscosity = "32 cSt", density = "870 kg/m^3"',
    )
    layout = riser(text)
    ((flow, drop),) = changes(layout)["give"].edit(layout, 2.0).intakes["strainer"].screen.drops
    assert (flow.text, drop.text) == ("160 L/min", "0.03 bar")


def test_a_clean_screen_is_not_to_be_cleaned() -> None:
    layout = riser()
    clean = changes(layout)["clean"]
    assert clean.describe(1.0, System.SI) == "clean strainer, 10 % of which is blocked"
    after = clean.edit(layout, 1.0)
    assert after.intakes["strainer"].screen.blocked == 0.0
    assert "clean" not in changes(after)


def test_only_coarser_cloth_is_offered() -> None:
    layout = riser()
    coarser = changes(layout)["cover"]
    meshes = [coarser.edit(layout, size).intakes["strainer"].screen.mesh.text for size in coarser.sizes]
    assert meshes == ["60 per inch", "40 per inch"]
    coarse = riser(RISER.replace('"100 per inch"', '"30 per inch"'))
    assert "cover" not in changes(coarse)


def test_without_its_screen_an_intake_is_a_plain_end() -> None:
    layout = riser()
    after = changes(layout)["put"].edit(layout, 1.0)
    assert (after.intakes["strainer"].screen, after.intakes["strainer"].kind) == (None, "plain end")
    assert changes(after) == {}


def test_a_line_without_a_screen_is_offered_none() -> None:
    assert changes(drawing(run("riser", "strainer", "pump"))) == {}


def test_the_share_of_a_case_is_lowered_in_that_case() -> None:
    blocked = '\n[cases.due]\nintakes.strainer.screen.blocked = "90 %"\n'
    layout = riser(RISER.replace("format = 1", "format = 2") + blocked)
    of_the_case = [each for each in screens.candidates(layout, line(layout), "due") if each.now == 0.9]
    (sooner,) = of_the_case
    assert sooner.most == pytest.approx(0.1), "as clean as it is drawn"
    part = layout.intakes["strainer"]
    as_new = replace(part, screen=replace(part.screen, blocked=0.0))
    clean = replace(layout, intakes={"strainer": as_new})
    (sooner_still,) = (e for e in screens.candidates(clean, line(layout), "due") if e.now == 0.9)
    assert sooner_still.most == screens.SOONEST, "nobody cleans what has caught nothing yet"
    after = sooner.edit(layout, 0.5)
    assert after.cases["due"].table["intakes"]["strainer"]["screen"]["blocked"] == 0.5
    assert after.intakes == layout.intakes
    assert [e for e in screens.candidates(layout, line(layout), "as drawn") if e.now == 0.9] == []
    cleaner = replace(layout, cases={})
    assert [e for e in screens.candidates(cleaner, line(layout), "due") if e.now == 0.9] == []


def test_a_filter_in_the_suction_line_gives_place_to_one_in_the_return_line() -> None:
    path = next(each for each in SHIPPED if each.stem == "baler-flooded")
    layout = file.read(path).alternatives["Filter in the line, half blocked"].layout
    out = changes(layout)["take"]
    assert out.describe(1.0, System.SI).startswith(
        "take filter out of the suction line, with a filter in the"
    )
    after = out.edit(layout, 1.0)
    assert "filter" not in after.fittings
    assert file.check(after) == ()
    assert line(after).margin > line(layout).margin
    with pytest.raises(NoRoomError, match="gone by now"):
        out.edit(after, 1.0)
