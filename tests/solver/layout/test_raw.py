"""One drawing laid over another as plain tables."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout import file
from solver.layout.file import parse, write
from solver.layout.parts import Layout
from tests.drawings import EVERY_KEY, RISER


@pytest.fixture(scope="module")
def base() -> Layout:
    return parse(EVERY_KEY).base


def alternative(text: str, name: str) -> Layout:
    return parse(text).alternatives[name].layout


def with_alternative(lines: str) -> Layout:
    return alternative(f"{EVERY_KEY}\n[alternatives.tried]\n{lines}\n", "tried")


def test_tables_without_what_goes_without_saying(base: Layout) -> None:
    raw = file.to_raw(base)
    assert raw["runs"]["left"] == {"from": "header", "to": "carriage", "bore": "52.5 mm"}
    assert raw["pumps"]["saw"]["limit"] == {"npsh": "3 m"}
    assert file.from_raw(raw) == base


def test_an_alternative_is_the_base_but_for_what_it_says(base: Layout) -> None:
    colder = alternative(EVERY_KEY, "Colder")
    assert colder.fluid.temperature.text == "5 degC"
    assert colder.fluid.viscosity == base.fluid.viscosity
    assert colder.runs == base.runs
    assert colder.title == base.title


def test_without_takes_parts_and_keys_off_the_base() -> None:
    layout = alternative(EVERY_KEY, "Wider, on the day tank")
    assert set(layout.reservoirs) == {"day tank"}
    assert set(layout.intakes) == {"nozzle"}
    assert set(layout.runs) == {"lead", "left", "right"}
    assert layout.fittings["device"].kv is None
    assert layout.fittings["device"].k == 3.0


def test_an_array_is_replaced_whole() -> None:
    layout = with_alternative('runs.riser.via = [["0.9 m", "0.85 m"]]')
    assert [(x.text, y.text) for x, y in layout.runs["riser"].via] == [("0.9 m", "0.85 m")]


@pytest.mark.parametrize(
    ("lines", "part", "gone", "there"),
    [
        ('pumps.carriage.size = "NPS 2 schedule 40"', ("pumps", "carriage"), "bore", "size"),
        ('tees.header.bore = "60 mm"', ("tees", "header"), "size", "bore"),
        ('runs.riser.material = "commercial steel"', ("runs", "riser"), "roughness", "material"),
        ('fittings.device.cv = "35 gpm"', ("fittings", "device"), "kv", "cv"),
    ],
)
def test_a_key_takes_the_place_of_its_rival(lines: str, part: tuple[str, str], gone: str, there: str) -> None:
    changed = getattr(with_alternative(lines), part[0])[part[1]]
    assert getattr(changed, gone) is None
    assert getattr(changed, there) is not None


def test_rivals_of_site_limit_bend_and_screen() -> None:
    layout = with_alternative(
        'site.elevation = "100 m"\n'
        'pumps.saw.limit.pressure = "0.8 bar"\n'
        'runs.riser.bend = "mitre"\n'
        'fittings.filter.screen = { mesh = "60 per inch", wire = "0.1 mm", area = "0.1 m^2" }'
    )
    assert layout.site.barometer is None
    assert layout.pumps["saw"].limit.form == "pressure"
    assert (layout.runs["riser"].bend, layout.runs["riser"].bend_radius) == ("mitre", None)
    screen = layout.fittings["filter"].screen
    assert screen is not None
    assert (screen.drops, screen.viscosity, screen.blocked) == ((), None, 0.25)


def test_a_drawing_without_a_date_takes_none_from_the_text_it_is_written_into() -> None:
    dated = RISER.replace("format = 1", 'format = 2\nbuilt = "2026-03-04"')
    undated = replace(parse(RISER), text=dated)
    assert "built" not in write(undated)
    assert parse(write(undated)).base == undated.base
