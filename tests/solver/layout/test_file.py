"""A drawing read: what each key becomes, and how an alternative is laid over the base."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.layout import file
from solver.layout.file import case_problems, parse
from solver.layout.parts import Layout, Limit
from tests.drawings import EVERY_KEY, RISER, SHIPPED


@pytest.fixture(scope="module")
def base() -> Layout:
    return parse(EVERY_KEY).base


def alternative(text: str, name: str) -> Layout:
    return parse(text).alternatives[name].layout


def with_alternative(lines: str) -> Layout:
    return alternative(f"{EVERY_KEY}\n[alternatives.tried]\n{lines}\n", "tried")


def test_the_head_of_a_drawing(base: Layout) -> None:
    assert base.title == "Two tanks and a header"
    assert base.notes == "Two lines,\nthe second one."
    assert base.units == "SI"
    assert base.site.elevation is None
    assert base.site.barometer is not None
    assert base.site.barometer.si == pytest.approx(24.6 * 3386.389, rel=1e-6)


def test_figures_of_the_fluid(base: Layout) -> None:
    assert base.fluid.name == "House blend"
    assert base.fluid.temperature.si == pytest.approx(318.15)
    assert isinstance(base.fluid.viscosity, tuple)
    assert [(t.si, round(v.si * 1e6, 6)) for t, v in base.fluid.viscosity] == [(313.15, 46.0), (373.15, 6.8)]
    assert isinstance(base.fluid.density, tuple)
    assert base.fluid.density[0][1].si == pytest.approx(865.0, rel=1e-3)
    assert base.fluid.dissolved_air == 0.09


def test_parts_are_in_file_order_and_keep_their_text(base: Layout) -> None:
    assert list(base.reservoirs) == ["tank", "day tank"]
    assert list(base.runs) == ["riser", "lead", "left", "right"]
    assert base.reservoirs["tank"].depth.text == "2'"
    assert base.reservoirs["tank"].depth.si == pytest.approx(0.6096)
    assert [corner[0].si for corner in base.reservoirs["day tank"].outline] == [3.0, 4.0, 3.5]


def test_what_is_not_typed_is_the_layouts_default(base: Layout) -> None:
    left = base.runs["left"]
    assert (left.via, left.size, left.material, left.bend, left.bend_radius) == (
        (),
        None,
        None,
        "long radius",
        None,
    )
    assert base.pumps["saw"].credit is False
    assert base.reservoirs["day tank"].pressure is None


def test_a_run_and_its_ends(base: Layout) -> None:
    riser = base.runs["riser"]
    assert (riser.start, riser.end) == ("strainer", "bend-tester")
    assert [(x.si, y.si) for x, y in riser.via] == [(0.9, 0.8), (1.2, 0.8)]
    assert riser.bend_radius is not None
    assert riser.roughness is not None
    assert riser.roughness.si == pytest.approx(46e-6)


def test_limits_in_their_forms(base: Layout) -> None:
    table = base.pumps["carriage"].limit
    assert table.form == "vacuum"
    assert [(s and round(s.si * 60), round(v.si)) for s, v in table.table] == [(1200, 23705), (1800, 16932)]
    saw = base.pumps["saw"].limit
    assert (saw.form, saw.table[0][0], saw.table[0][1].si) == ("npsh", None, 3.0)


def test_screens_by_mesh_and_by_points(base: Layout) -> None:
    mesh = base.intakes["strainer"].screen
    assert mesh is not None
    assert mesh.mesh is not None
    assert mesh.mesh.si == pytest.approx(100 / 0.0254)
    assert (mesh.blocked, mesh.drops) == (0.0, ())
    points = base.fittings["filter"].screen
    assert points is not None
    assert (points.mesh, points.blocked, len(points.drops)) == (None, 0.25, 1)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_shipped_drawings_survive_being_plain_tables(path: Path) -> None:
    drawing = file.read(path)
    for layout in (drawing.base, *(alternative.layout for alternative in drawing.alternatives.values())):
        assert file.from_raw(file.to_raw(layout)) == layout
        assert file.check(layout) == ()


def test_there_are_drawings_to_test_with() -> None:
    assert len(SHIPPED) >= 7


def test_a_part_may_be_taken_off_and_put_back_as_another() -> None:
    layout = with_alternative(
        'without = ["header"]\n'
        'fittings.header = { at = ["1.5 m", "0.9 m"], kind = "ball valve", bore = "50 mm" }'
    )
    assert "header" not in layout.tees
    assert layout.fittings["header"].kind == "ball valve"


def test_a_name_with_dots_is_found() -> None:
    text = EVERY_KEY.replace("pumps.saw]", 'pumps."saw.1"]').replace('to = "saw"', 'to = "saw.1"')
    lines = (
        'without = ["pumps.saw.1.flow"]\npumps."saw.1" = { displacement = "50 cm^3/rev", speed = "1450 rpm" }'
    )
    saw = alternative(f"{text}\n[alternatives.tried]\n{lines}\n", "tried").pumps["saw.1"]
    assert saw.flow is None
    assert saw.speed is not None


def test_the_text_stays_with_the_drawing() -> None:
    assert parse(EVERY_KEY).text == EVERY_KEY


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path: Path) -> None:
    path = tmp_path / "windows.toml"
    path.write_bytes(b"\xef\xbb\xbf" + EVERY_KEY.replace("\n", "\r\n").encode())
    drawing = file.read(path)
    assert drawing.base == parse(EVERY_KEY).base
    assert drawing.text.startswith("\ufeff# A drawing")


def test_no_parts_at_all_is_a_drawing_still_to_be_made() -> None:
    text = 'format = 1\n[site]\nelevation = "0 m"\n[fluid]\nname = "Water"\ntemperature = "20 degC"\n'
    base = parse(text).base
    assert (base.title, dict(base.pumps), dict(base.runs)) == ("", {}, {})


def test_an_edit_can_be_checked_before_it_is_saved(base: Layout) -> None:
    from dataclasses import replace

    lone = replace(base, runs={**base.runs, "left": replace(base.runs["left"], end="nowhere")})
    problems = file.check(lone)
    assert [problem.key for problem in problems] == ["runs.left.to"]
    assert isinstance(base.pumps["saw"].limit, Limit)


def test_an_absolute_pressure_may_say_so_and_a_viscosity_may_be_written_in_a_line() -> None:
    text = EVERY_KEY.replace('barometer = "24.6 inHg"', 'barometer = "0.83 bara"')
    text = text.replace('limit = { pressure = "0.8 bar" }', 'limit = { pressure = "0.8 bar abs" }')
    begin, end = text.index("viscosity = ["), text.index("vapor_pressure")
    text = text[:begin] + 'viscosity = "46 cSt at 40 °C, 6.8 cSt at 100 °C"\n' + text[end:]
    layout = file.parse(text, "typed").base
    assert layout.site.barometer is not None
    assert layout.site.barometer.si == pytest.approx(83e3)
    assert [(at.si, value.si) for at, value in layout.fluid.viscosity] == [
        (pytest.approx(313.15), pytest.approx(46e-6)),
        (pytest.approx(373.15), pytest.approx(6.8e-6)),
    ]


def test_what_keeps_a_case_from_holding_is_placed_in_the_base_or_the_alternative() -> None:
    text = RISER.replace("format = 1", "format = 2") + (
        '[cases.odd]\nlevl = "normal"\n[cases.low]\nlevels.tank = "-9 m"\n'
        "[alternatives.other]\ncases.own.speed = 3\n"
    )
    drawing = parse(text)
    lines = text.split("\n")
    places = {case: (each.line, each.key) for case, (each,) in case_problems(drawing).items()}
    assert places == {
        "odd": (1 + lines.index('levl = "normal"'), "cases.odd.levl"),
        "low": (1 + lines.index('levels.tank = "-9 m"'), "cases.low.levels.tank"),
    }
    other = case_problems(drawing, "other")
    assert {case: other[case] for case in places} == case_problems(drawing)
    own = other["own"][0]
    assert own.line == 1 + lines.index("cases.own.speed = 3")
    assert own.key == "alternatives.other.cases.own.speed"
