"""Figures of a catalogue's part in a drawing: its own go, its place and how it is run stay."""

import pytest

from sketch.editing import own_parts
from solver.layout import file
from solver.layout.file import LayoutErrors
from solver.layout.own_parts import OwnPart, parse
from solver.layout.parts import Layout
from tests.sketch.card.cards import LAYOUTS
from tests.solver.layout.test_own_parts import WHOLE

CATALOGUE = parse(WHOLE.replace("82 cm^3/rev", "90 cm^3/rev"))


@pytest.fixture(scope="module")
def layout() -> Layout:
    return file.read(LAYOUTS / "carriage-at-altitude.toml").base


def of(kind: str) -> OwnPart:
    return CATALOGUE.of_kind(kind)[0]


def test_a_pump_keeps_its_place_and_speed_and_takes_the_rest(layout: Layout) -> None:
    old, new = (
        layout.pumps["carriage"],
        own_parts.with_own_part(layout, "carriage", of("pumps")).pumps["carriage"],
    )
    assert (new.at, new.speed) == (old.at, old.speed)
    assert new.displacement is not None
    assert new.displacement.text == "90 cm^3/rev"
    assert len(new.limit.table) == 2
    assert own_parts.differs(layout, "carriage", of("pumps"))
    assert own_parts.other_figures(layout, "carriage", CATALOGUE) == ""  # it was never copied from there
    drawn = own_parts.with_own_part(layout, "carriage", of("pumps"))
    assert own_parts.other_figures(drawn, "carriage", CATALOGUE) == ""
    newer = parse(WHOLE.replace('type = "vane"', 'type = "vane"\nchanged = "2026-05-01"'), "shop.parts.toml")
    sentence = "shop.parts.toml has other figures for vane 82, changed 2026-05-01"
    assert own_parts.other_figures(drawn, "carriage", newer) == sentence
    faster = file.to_raw(drawn)
    faster["pumps"]["carriage"]["speed"] = "1000 rpm"  # how it is run is no figure of the catalogue's
    assert own_parts.other_figures(file.from_raw(faster), "carriage", CATALOGUE) == ""


def test_a_blocked_screen_stays_blocked(layout: Layout) -> None:
    name = next(name for name, each in layout.intakes.items() if each.screen)
    raw = file.to_raw(layout)
    raw["intakes"][name]["screen"]["blocked"] = 0.4
    screen = own_parts.with_own_part(file.from_raw(raw), name, of("screens")).intakes[name].screen
    assert screen is not None
    assert screen.blocked == 0.4
    assert screen.area is not None
    assert screen.area.text == "0.06 m^2"
    assert own_parts.kinds_for(layout, name) == ("screens",)
    assert own_parts.table_for(file.from_raw(raw), name, "screens").keys() == file.to_raw(layout)["intakes"][
        name
    ]["screen"].keys() - {"blocked"}


def test_a_fluid_brings_its_name_and_leaves_the_temperatures(layout: Layout) -> None:
    fluid = own_parts.with_own_part(layout, "", of("fluids")).fluid
    assert fluid.name == "Supplier's oil"
    assert (fluid.temperature, fluid.coldest_start) == (layout.fluid.temperature, layout.fluid.coldest_start)
    assert fluid.density is not None


def test_what_the_drawing_cannot_have_is_refused(layout: Layout) -> None:
    with pytest.raises(LayoutErrors):
        own_parts.with_own_part(layout, "carriage", OwnPart("pumps", "none", {"type": "vane"}))


def test_a_hose_keeps_its_way_and_takes_bore_wall_and_bends(layout: Layout) -> None:
    old = layout.runs["riser"]
    drawn = own_parts.with_own_part(layout, "riser", of("hoses"))
    new = drawn.runs["riser"]
    assert (new.start, new.end, new.via, new.size) == (old.start, old.end, old.via, None)
    assert new.bore is not None
    assert new.bend_radius is not None
    assert (new.bore.text, new.bend_radius.text, new.own_part) == ("50.8 mm", "300 mm", "suction hose 2")
    assert own_parts.other_figures(drawn, "riser", CATALOGUE) == ""
    wider = parse(WHOLE.replace("50.8 mm", "63.5 mm"), "shop.parts.toml")
    assert "shop.parts.toml has other figures" in own_parts.other_figures(drawn, "riser", wider)
    assert own_parts.kinds_for(layout, "riser") == ("hoses",)
    assert "from" not in own_parts.table_for(layout, "riser", "hoses")
