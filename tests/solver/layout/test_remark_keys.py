"""Texts and dimensions of a drawing: read, refused, kept to the byte, in alternatives too."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout import file
from solver.layout.file import LayoutErrors
from solver.layout.remarks import Direction, OwnText, TankCorner, TextAnchor, TextSize
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import SHIPPED
from tests.solver.layout.test_schema import keeps_to

REMARKS = """
[[texts]]
at = ["1 ft", "5 ft"]               # over the riser
text = "hole in the lid, 3 in"

[[dimensions]]
from = "strainer"
to = ["4 ft", "6 in"]
direction = "across"
offset = "-9 in"
"""


@pytest.fixture
def text() -> str:
    (path,) = (each for each in SHIPPED if each.stem == "carriage-at-altitude")
    return path.read_text("utf-8").replace("format = 1", "format = 2") + REMARKS


def length(text: str) -> Quantity:
    return quantity(text, Kind.LENGTH)


def test_they_are_read_belong_to_alternatives_too_and_change_no_figure(text: str) -> None:
    drawing = file.parse(text)
    (own,) = drawing.base.texts
    assert own == OwnText((length("1 ft"), length("5 ft")), "hole in the lid, 3 in")
    (dimension,) = drawing.base.dimensions
    assert (dimension.start, dimension.direction) == ("strainer", Direction.ACROSS)
    assert dimension.offset.text == "-9 in"
    beside = drawing.alternatives["Pump beside the tank"].layout
    assert "strainer" not in beside.intakes
    assert (beside.texts, beside.dimensions) == (drawing.base.texts, drawing.base.dimensions)
    assert file.write(drawing) == text


def test_a_change_leaves_every_other_byte_and_a_new_file_reads_back(text: str) -> None:
    drawing = file.parse(text)
    base = drawing.base
    moved = replace(base.texts[0], at=(length("2 ft"), base.texts[0].at[1]))
    new = OwnText(moved.at, "second")
    changed = file.with_base(drawing, replace(base, texts=(moved, new)))
    assert [each.layout.texts for each in changed.alternatives.values()] == [(moved, new)] * 2
    written = file.write(changed)
    assert 'at = ["2 ft", "5 ft"]               # over the riser' in written
    assert file.parse(written).base == changed.base
    fresh = replace(changed, text="")
    assert file.parse(file.write(fresh)).base == changed.base
    none = file.with_base(drawing, replace(base, texts=(), dimensions=()))
    assert "[[texts]]" not in file.write(none)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('from = "strainer"', 'from = "strainr"', 'did you mean "strainer"'),
        ('from = "strainer"', 'from = "tank"', "a part that lines end on"),
        ('to = ["4 ft", "6 in"]', 'to = "strainer"', "another"),
        ('direction = "across"', 'direction = "sideways"', '"across"'),
        ('offset = "-9 in"', 'offset = "9 kg"', "length"),
        ('text = "hole in the lid, 3 in"', 'text = ""', "a line of text"),
        ('text = "hole in the lid, 3 in"', 'text = "a\\tb"', "without control characters"),
        ("[[texts]]", "[texts]", "[[texts]]"),
        ("[[dimensions]]", 'size = "huge"\n[[dimensions]]', '"large"'),
        ('from = "strainer"', 'from = { reservoir = "tnk", corner = 1 }', 'did you mean "tank"'),
        ('from = "strainer"', 'from = { reservoir = "tank", corner = 5 }', "1 to 4, the corners of tank"),
        ('from = "strainer"', 'from = { reservoir = "tank", corner = 0 }', "from 1 on"),
        ('from = "strainer"', 'from = { reservoir = "tank" }', 'the key "corner"'),
    ],
)
def test_what_is_wrong_is_refused_with_its_place(text: str, old: str, new: str, said: str) -> None:
    with pytest.raises(LayoutErrors) as raised:
        file.parse(text.removesuffix(REMARKS) + REMARKS.replace(old, new))
    (problem, *_) = raised.value.problems
    assert problem.line > 80
    assert said in str(problem)


def test_an_end_may_be_a_part_that_an_alternative_alone_has(text: str) -> None:
    drawing = file.parse(text.removesuffix(REMARKS) + REMARKS.replace('"strainer"', '"nozzle"'))
    assert drawing.base.dimensions[0].start == "nozzle"


def test_a_size_an_anchor_and_a_tank_corner_are_read_and_written(text: str) -> None:
    corner = '{ reservoir = "tank", corner = 2 }'
    own = REMARKS.replace('"strainer"', corner)
    own = own.replace('lid, 3 in"\n', 'lid, 3 in"\nsize = "large"\nanchor = "right"\n')
    typed = text.removesuffix(REMARKS) + own
    drawing = file.parse(typed)
    (written_large,) = drawing.base.texts
    assert (written_large.size, written_large.anchor) == (TextSize.LARGE, TextAnchor.RIGHT)
    assert drawing.base.dimensions[0].start == TankCorner("tank", 1)
    assert keeps_to(typed)
    assert not keeps_to(typed.replace("corner = 2", "corner = 0"))
    assert file.write(drawing) == typed
    fresh = file.write(replace(drawing, text=""))
    assert file.parse(fresh).base == drawing.base
    other = replace(drawing.base.dimensions[0], start=TankCorner("tank", 0))
    written = file.write(file.with_base(drawing, replace(drawing.base, dimensions=(other,))))
    assert file.parse(written).base.dimensions == (other,)


def test_an_alternative_has_none_of_its_own(text: str) -> None:
    table = '[alternatives."Three-inch suction line"]\n'
    drawing = file.parse(text.replace(table, table + "texts = []\n"))
    (trouble,) = drawing.broken["Three-inch suction line"].troubles
    assert trouble.allowed == "only in the base"


def test_the_schema_knows_them(text: str) -> None:
    assert keeps_to(text)
    assert not keeps_to(text.replace('direction = "across"', 'direction = "sideways"'))
    assert not keeps_to(text.replace('offset = "-9 in"\n', ""))
