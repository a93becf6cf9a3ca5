"""The lines of the part card: every key of a file, what it asks for, and what it says at the field."""

from __future__ import annotations

import pytest

from sketch.card.card_lines import LINES, WHOLE, CardLine
from sketch.editing import cases, readings
from sketch.strip.knobs import KNOBS
from solver.layout import file as layout_file
from solver.layout import raw as layout_raw
from solver.layout.keys import PARTS
from solver.layout.parts import Layout
from solver.quantities import units
from solver.quantities.units import Kind, System
from tests.sketch.card.drafts import FOLDER, refused

NOT_TYPED = {
    "at", "via", "from", "to", "reservoir",  # drawn
    "outline", "return_at", "baffle",  # drawn
    "notes",  # a page of its own
}  # fmt: skip


@pytest.fixture
def layout() -> Layout:
    return layout_file.read(FOLDER / "carriage-at-altitude.toml").base


def test_every_key_of_a_file_has_its_line() -> None:
    for group, table in PARTS.items():
        first = {line.path[0] for line in LINES[group]}
        assert {key.name for key in table.keys} - NOT_TYPED <= first


def test_what_belongs_to_no_line_is_said_too(layout: Layout) -> None:
    told = refused(layout, "riser", {"size": ""})
    assert not told.by_line
    assert "size" in told.rest[0]


def test_part_tables_are_those_of_the_file(layout: Layout) -> None:
    raw = layout_raw.to_raw(layout)
    assert layout_raw.part_raw(layout, "riser") == ("runs", raw["runs"]["riser"])
    with pytest.raises(KeyError):
        layout_raw.part_raw(layout, "nobody")


def line(group: str, key: str) -> CardLine:
    return next(each for each in LINES[group] if each.key == key)


@pytest.mark.parametrize(
    ("group", "key", "words"),
    [
        ("pumps", "volumetric_efficiency", "takes in; what it delivers is less"),
        ("intakes", "screen.drops", "the entrance is charged besides, so that a figure that holds it counts"),
        ("fittings", "screen.drops", "the entrance is charged besides"),
        ("intakes", "kind", "submergence is worked out with that bore"),
        (WHOLE, "site.altimeter_setting", "reduced to sea level with the day's temperature cannot be turned"),
        ("pumps", "limit_assumed", "No maker has stated it"),
        ("pumps", "rated_fluid", "of another fluid it is an estimate"),
        (WHOLE, "fluid.vapor_pressure", "NPSH"),
        ("fittings", "k_re", 'until typed the loss is "at least"'),
    ],
)
def test_what_is_easily_mistaken_is_said_at_the_field(group: str, key: str, words: str) -> None:
    assert words in line(group, key).tip


@pytest.mark.parametrize("system", System)
def test_every_field_has_one_unit_that_a_bare_number_takes(layout: Layout, system: System) -> None:
    """Pressures of the suction side in inHg, as all views show them; only what presses a tank is in psi."""
    lines = [(group, line.label, line.kind) for group in LINES for line in LINES[group]]
    figures = [("", figure.words, figure.kind) for figure in cases.figures(layout)]
    noted = [("", field.label, field.kind) for field in readings.FIELDS]
    turned = [("", knob.name, knob.kind) for knob in KNOBS]
    for group, label, kind in (*lines, *figures, *noted, *turned):
        if kind is None:
            continue
        unit = units.unit(kind, system)
        assert units.quantity(f"1 {unit}", Kind.PRESSURE if kind is Kind.ABSOLUTE else kind)
        presses = label == "Pressure above the fluid" or label.endswith("pressure on the fluid")
        assert (unit in ("psi", "kPa") and kind is Kind.PRESSURE) is presses, (group, label)
        if kind in (Kind.VACUUM, Kind.ABSOLUTE):
            wanted = {System.US: "inHg", System.SI: "kPa"}[system]
            assert unit.removesuffix(" abs") == wanted, (group, label)
