"""The part card's model: what may be typed, what a refusal says and where, and what stays untouched."""

from pathlib import Path

import pytest

from sketch.card.card_draft import Refused, Typed, changed, drafted, shown, table_of
from sketch.card.card_lines import LINES, WHOLE
from sketch.card.part_lines import group_of, heading, lines_of
from sketch.editing import beginning
from solver.layout import file as layout_file
from solver.layout.keys import PARTS
from solver.layout.parts import Layout
from solver.quantities.units import System
from tests.sketch.card.drafts import FOLDER, refused

FILES = sorted(FOLDER.glob("*.toml"))


@pytest.fixture
def layout() -> Layout:
    return layout_file.read(FOLDER / "carriage-at-altitude.toml").base


def typed(layout: Layout, name: str, key: str, value: Typed, system: System = System.US) -> Layout:
    return changed(layout, name, {key: value}, system)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_typing_what_stands_there_changes_nothing(file: Path) -> None:
    layout = layout_file.read(file).base
    names = [WHOLE, *(name for group in PARTS for name in getattr(layout, group))]
    for name in names:
        table = table_of(layout, name)
        lines = [line for line in lines_of(group_of(layout, name), table) if line.path[0] != "at"]
        draft = {line.key: held for line in lines if (held := shown(table, line)) != ""}
        assert changed(layout, name, draft, System.SI) == layout
        assert heading(layout, name)


def test_a_figure_is_taken_as_typed_and_nothing_else_moves(layout: Layout) -> None:
    draft = typed(layout, "carriage", "speed", "1200 rpm")
    assert draft.pumps["carriage"].speed is not None
    assert draft.pumps["carriage"].speed.text == "1200 rpm"
    assert draft.runs["riser"] is layout.runs["riser"]
    assert draft.fluid == layout.fluid


@pytest.mark.parametrize(("system", "text"), [(System.US, "12 in"), (System.SI, "12 mm")])
def test_a_bare_number_is_in_the_unit_shown(layout: Layout, system: System, text: str) -> None:
    bore = typed(layout, "riser", "bore", "12", system).runs["riser"].bore
    assert bore is not None
    assert bore.text == text


def test_a_bore_takes_the_place_of_a_size_and_back(layout: Layout) -> None:
    bored = typed(layout, "riser", "bore", "60 mm")
    assert bored.runs["riser"].size is None
    again = typed(bored, "riser", "size", "NPS 2 schedule 40")
    assert again == layout


def test_another_form_of_limit_takes_the_place_of_the_first(layout: Layout) -> None:
    limit = typed(layout, "carriage", "limit.npsh", "2 m").pumps["carriage"].limit
    assert (limit.form, limit.table[0][1].text) == ("npsh", "2 m")


def test_a_table_over_speed_is_typed_and_shown_alike(layout: Layout) -> None:
    text = "1200 rpm: 7 inHg; 1800 rpm: 5 inHg"
    draft = typed(layout, "carriage", "limit.vacuum", text)
    assert len(draft.pumps["carriage"].limit.table) == 2
    line = next(line for line in LINES["pumps"] if line.key == "limit.vacuum")
    assert shown(table_of(draft, "carriage"), line) == text


def test_shares_may_be_typed_in_per_cent(layout: Layout) -> None:
    screen = typed(layout, "strainer", "screen.blocked", "30 %").intakes["strainer"].screen
    assert screen is not None
    assert screen.blocked == pytest.approx(0.3)


def test_an_emptied_field_goes_back_to_what_holds_without_it(layout: Layout) -> None:
    assert layout.fluid.coldest_start is not None
    assert typed(layout, "", "fluid.coldest_start", "").fluid.coldest_start is None


def test_another_kind_drops_what_has_no_meaning_for_it(layout: Layout) -> None:
    plain = typed(layout, "strainer", "kind", "plain end").intakes["strainer"]
    assert (plain.kind, plain.screen) == ("plain end", None)


def test_a_kind_that_needs_a_figure_waits_for_it(layout: Layout) -> None:
    draft: dict[str, Typed] = {"kind": "known K"}
    assert refused(layout, "connector", draft).by_line == {"k": "needed here"}
    lines = lines_of("fittings", drafted(layout, "connector", draft, System.US))
    assert "k" in [line.key for line in lines]
    fitting = changed(layout, "connector", {**draft, "k": "2.5"}, System.US).fittings["connector"]
    assert (fitting.kind, fitting.k) == ("known K", 2.5)


def test_a_new_elevation_moves_the_part_with_its_line(layout: Layout) -> None:
    draft = typed(layout, "carriage", "at.y", "3 ft")
    assert draft.pumps["carriage"].at[1].text == "3 ft"
    assert draft.fittings["connector"].at[1].si == pytest.approx(0.9144)
    assert refused(layout, "strainer", {"at.x": "90 ft"}).by_line.keys() == {"at.x"}
    assert "Allowed" in refused(layout, "carriage", {"at.y": "high"}).by_line["at.y"]
    assert refused(layout, "carriage", {"at.y": "1: 2"}).by_line.keys() == {"at.y"}


@pytest.mark.parametrize("order", [(0, 1, 2), (0, 2, 1), (2, 1, 0)])
@pytest.mark.parametrize("height", ["0.9 m", "0.5 m"])
def test_levels_and_the_height_of_a_tank_are_judged_together(height: str, order: tuple[int, ...]) -> None:
    """Whichever is typed first: a level that only the new tank has room for, or only the old one."""
    tank = beginning.begin(System.SI)
    rim = 0.1 if height == "0.5 m" else 0.4
    figures = [
        ("normal_level", f"{rim + 0.4} m"),
        ("minimum_level", f"{rim + 0.3} m"),
        ("side.height", height),
    ]
    draft: dict[str, Typed] = dict(figures[each] for each in order)
    reservoir = changed(tank, "tank", draft, System.SI).reservoirs["tank"]
    assert (reservoir.normal_level.si, reservoir.minimum_level.si) == pytest.approx((rim + 0.4, rim + 0.3))
    assert max(y.si for _, y in reservoir.outline) == pytest.approx(float(height[:3]))
    with pytest.raises(Refused) as caught:
        changed(tank, "tank", {**draft, "normal_level": "1.2 m"}, System.SI)
    assert "normal_level" in caught.value.by_line
    if height == "0.9 m":
        assert "0.9" in caught.value.by_line["normal_level"]


@pytest.mark.parametrize(
    ("name", "key", "text", "said"),
    [
        ("carriage", "speed", "fast", 'found "fast"'),
        ("carriage", "speed", "9**9**9 rpm", "found"),
        ("carriage", "speed", "nan", "found"),
        ("carriage", "speed", "0 rpm", "above zero"),
        ("carriage", "speed", "3 ft", "rpm"),
        ("riser", "bore", "-2 in", "from 0.1 mm"),
        ("riser", "size", "NPS 9", "NPS 1/8"),
        ("strainer", "screen.blocked", "130 %", "below 1"),
        (
            "strainer",
            "screen.wire",
            "",
            "needed here; cloth of that mesh usually has 0.0045 in, which leaves",
        ),
        ("carriage", "limit.vacuum", "1800 rpm: 5 inHg; 1200 rpm: 7 inHg", "rising"),
        ("", "fluid.name", "Watr", 'did you mean "Water"'),
        ("", "fluid.name", "VG 68", 'did you mean "Mineral oil, ISO VG 68"'),
        ("", "fluid.name", "vg 46", 'did you mean "Mineral oil, ISO VG 46" or "High-VI oil, ISO VG 46"'),
        ("", "site.elevation", "1e400 m", "found"),
        ("tank", "minimum_level", "90 ft", "rim"),
    ],
)
def test_what_is_wrong_is_said_at_its_line(layout: Layout, name: str, key: str, text: str, said: str) -> None:
    told = refused(layout, name, {key: text})
    assert told.by_line.keys() == {key}
    assert said in told.by_line[key]
    assert "quotes" not in told.by_line[key]


@pytest.mark.parametrize(
    ("key", "number", "us", "si"),
    [("fluid.temperature", "50", "50 °F", "50 °C"), ("site.elevation", "1500", "1500 ft", "1500 m")],
)
@pytest.mark.parametrize("before", ["metric", "american", "feet and inches"])
def test_a_bare_number_is_in_the_unit_that_the_window_shows_whatever_stood_there(
    layout: Layout, key: str, number: str, us: str, si: str, before: str
) -> None:
    owner, name = key.split(".")
    stood = {
        "fluid.temperature": {"metric": "45 degC", "american": "110 degF", "feet and inches": "318 K"},
        "site.elevation": {"metric": "1650 m", "american": "5413 ft", "feet and inches": "5' 6\""},
    }[key][before]
    drawn = typed(layout, "", key, stood)
    for system, text in ((System.US, us), (System.SI, si)):
        assert getattr(getattr(typed(drawn, "", key, number, system), owner), name).text == text


def test_flow_and_displacement_put_each_other_out(layout: Layout) -> None:
    fixed = changed(layout, "carriage", {"displacement": "", "flow": "20 gpm"}, System.US)
    flowing = fixed.pumps["carriage"]
    assert flowing.displacement is None
    turning = changed(fixed, "carriage", {"displacement": "4 in^3/rev"}, System.US).pumps["carriage"]
    assert turning.flow is None
    assert turning.speed == layout.pumps["carriage"].speed


def test_a_strainer_comes_with_an_ordinary_screen(layout: Layout) -> None:
    plain = typed(layout, "strainer", "kind", "plain end")
    again = typed(plain, "strainer", "kind", "strainer").intakes["strainer"]
    assert again.screen is not None
    assert again.screen.mesh is not None
    assert again.screen.mesh.text == "100 per inch"


def test_an_assumed_limit_is_marked_until_it_is_typed_or_confirmed() -> None:
    new = beginning.begin(System.SI)
    assert new.pumps["pump"].limit_assumed
    assert "limit_assumed = true" in layout_file.write(layout_file.Drawing(new))
    assert typed(new, "pump", "speed", "1000 rpm").pumps["pump"].limit_assumed
    for key, value in (("limit.vacuum", "20 kPa"), ("limit.vacuum", "17 kPa"), ("limit_assumed", False)):
        stated = typed(new, "pump", key, value)
        assert not stated.pumps["pump"].limit_assumed
        assert "limit_assumed" not in layout_file.write(layout_file.Drawing(stated))


def test_the_heading_of_the_whole_never_contradicts_the_alternative_it_is_of(layout: Layout) -> None:
    assert heading(layout, "") == "Site and fluid, for the whole drawing"
    assert heading(layout, "", "Slow") == "Site and fluid – in the alternative Slow only"
    assert heading(layout, "riser", "Slow").endswith(" – in the alternative Slow only")


def test_the_date_that_the_line_was_built_is_typed_and_refused_as_in_a_file(layout: Layout) -> None:
    assert typed(layout, WHOLE, "built", "2026-03-04").built == "2026-03-04"
    assert "a date such as" in refused(layout, WHOLE, {"built": "spring"}).by_line["built"]


def test_a_tube_typed_by_its_figures_has_its_name_in_the_drawing(layout: Layout) -> None:
    assert typed(layout, "riser", "size", "42 x 3").runs["riser"].size == "tube 42 x 3 mm"


def test_a_new_pump_with_a_tube_port_is_offered_pipes_besides_and_first_in_a_line_of_pipes() -> None:
    new = beginning.begin(System.SI)
    said = refused(new, "pump", {"size": "1-1/2 in"}).by_line["size"]
    assert said.startswith('1-1/2 in may be "tube 1.5 x')
    assert said.endswith('"NPS 1-1/2 schedule 40" or "NPS 1-1/2 schedule 80": choose one')
    for name in sizes_of(new):
        new = typed(new, name, "size", "NPS 2 schedule 80") if name != "pump" else new
    said = refused(new, "pump", {"size": "1-1/2 in"}).by_line["size"]
    assert said.startswith('1-1/2 in may be "NPS 1-1/2 schedule 80", "NPS 1-1/2 schedule 40", "tube')
    assert typed(new, "pump", "size", "2-inch pipe").pumps["pump"].size == "NPS 2 schedule 80"
    assert typed(new, "pump", "size", "2in pipe sch 40").pumps["pump"].size == "NPS 2 schedule 40"


def sizes_of(layout: Layout) -> list[str]:
    """The names of the parts that have a size."""
    groups = (layout.intakes, layout.pumps, layout.runs, layout.fittings, layout.tees)
    return [name for group in groups for name, part in group.items() if part.size is not None]


def test_a_head_takes_the_place_of_a_drop_and_back(layout: Layout) -> None:
    drop = changed(
        layout, "connector", {"kind": "known drop", "drop": "1 kPa", "density": "860 kg/m^3"}, System.SI
    )
    head = typed(drop, "connector", "head", "0.4", System.SI).fittings["connector"]
    assert (head.drop, head.density) == (None, None)
    assert head.head is not None
    assert head.head.text == "0.4 m"
    again = typed(typed(drop, "connector", "head", "0.4"), "connector", "drop", "1 kPa").fittings["connector"]
    assert again.head is None
