"""Texts and dimensions put on a drawing, moved, and kept while parts come and go."""

from __future__ import annotations

import pytest

from sketch.editing import building, remarks, selection, tanks
from sketch.editing.edits import EditError
from sketch.model.document import Document
from sketch.model.drawing_state import without_alternative
from solver.geometry import measured
from solver.layout import file
from solver.layout.remarks import Direction, TankCorner
from tests.drawings import SHIPPED

(CARRIAGE,) = (each for each in SHIPPED if each.stem == "carriage-at-altitude")


@pytest.fixture
def document() -> Document:
    document = Document(keeps=False)
    document.open(CARRIAGE)
    return document


def test_a_text_is_added_moved_said_otherwise_and_taken_off(document: Document) -> None:
    layout = remarks.add_text(document.layout, 0.3048, 1.524, "  hole in\tthe lid ")
    assert layout.texts[0].text == "hole in the lid"
    assert [each.text for each in layout.texts[0].at] == ["1 ft", "5 ft"]
    layout = remarks.set_text(remarks.move_text(layout, 0, 0.6096, 1.524), 0, "other")
    assert (layout.texts[0].at[0].text, layout.texts[0].text) == ("2 ft", "other")
    assert remarks.set_text(layout, 0, " ") == document.layout
    for text in ("", "x" * 300):
        with pytest.raises(EditError, match="printable characters"):
            remarks.add_text(layout, 0.0, 0.0, text)


def test_a_dimension_measures_as_its_line_was_put_down_and_follows_its_part(document: Document) -> None:
    layout = remarks.add_dimension(document.layout, "strainer", "carriage", 2.0, 0.7)
    (dimension,) = layout.dimensions
    assert dimension.direction is Direction.UP
    (ax, ay), (bx, by) = measured.dimension_line(layout, dimension)
    assert ax == bx == pytest.approx(2.0, abs=1e-3)
    assert by - ay == pytest.approx(31 * 0.0254)
    layout = remarks.move_dimension(layout, 0, 1.8, 0.0)
    assert measured.dimension_line(layout, layout.dimensions[0])[0][0] == pytest.approx(1.8, abs=1e-3)
    layout = remarks.set_direction(layout, 0, Direction.ACROSS)
    assert layout.dimensions[0].direction is Direction.ACROSS
    assert remarks.remove(layout, remarks.DIMENSION, 0) == document.layout
    with pytest.raises(EditError, match="at one place"):
        remarks.add_dimension(layout, "carriage", "carriage", 0.0, 0.0)


def test_it_stays_while_its_part_is_renamed_and_taken_off(document: Document) -> None:
    document.apply("Dimension", remarks.add_dimension(document.layout, "strainer", "carriage", 2.0, 0.7))
    document.rename("strainer", "sock")
    layouts = [document.drawing.base, *(each.layout for each in document.drawing.alternatives.values())]
    assert {each.dimensions[0].start for each in layouts} == {"sock"}
    document.show_alternative("Pump beside the tank")
    document.apply("Delete", building.remove(document.layout, "carriage"))
    assert document.layout.dimensions[0].end == "carriage", "the drawing itself has it still"
    assert measured.ends(document.layout, document.layout.dimensions[0]) is None
    document.undo_stack.undo()
    document.show_alternative("")
    place = measured.ends(document.layout, document.layout.dimensions[0])
    document.apply("Delete", building.remove(document.layout, "carriage"))
    assert measured.ends(document.layout, document.layout.dimensions[0]) == place, "where the part was"


def test_one_put_down_in_an_alternative_belongs_to_the_file(document: Document) -> None:
    document.show_alternative("Pump beside the tank")
    document.apply("Text", remarks.add_text(document.layout, 0.0, 1.0, "seen"))
    assert document.drawing.base.texts == document.layout.texts
    assert document.drawing.base.texts[0].text == "seen"
    document.undo_stack.undo()
    assert document.drawing.base.texts == ()


def test_it_stays_where_a_part_was_that_went_with_its_alternative(document: Document) -> None:
    document.show_alternative("Pump beside the tank")
    layout = remarks.add_dimension(document.layout, "nozzle", "carriage", 2.0, 0.0)
    document.apply("Dimension", layout)
    place = measured.place_of(document.layout, "nozzle")
    document.change_alternatives("Remove", without_alternative)
    (dimension,) = document.layout.dimensions
    assert dimension.end == "carriage"
    assert measured.place_of(document.layout, dimension.start) == place
    written = file.write(document.drawing)
    assert file.parse(written).base.dimensions == document.layout.dimensions, "it can be opened again"
    document.undo_stack.undo()
    assert document.layout.dimensions[0].start == "nozzle"


def test_an_end_that_was_nowhere_takes_its_dimension_along(document: Document) -> None:
    layout = remarks.add_dimension(document.layout, "strainer", "carriage", 2.0, 0.0)
    (dimension,) = layout.dimensions
    loose = (dimension.with_part_named("strainer", "gone"), dimension)
    assert remarks.with_ends_kept(loose, [layout], [layout]) == (dimension,)
    assert remarks.with_ends_kept(loose, [layout], [layout], [{"intakes": {"gone": {}}}]) == loose


def test_a_dimension_on_a_corner_of_a_tank_follows_it(document: Document) -> None:
    layout = document.layout
    tank = layout.reservoirs["tank"]
    (x, y), at = (each.si for each in tank.outline[1]), TankCorner("tank", 1)
    layout = remarks.add_dimension(layout, at, "carriage", x + 0.5, 0.0)
    assert layout.dimensions[0].start == at
    moved = tanks.move_outline_corner(layout, "tank", 1, x + 0.2, y)
    assert measured.ends(moved, moved.dimensions[0])[0] == (pytest.approx(x + 0.2, abs=1e-3), y)
    whole = selection.move(layout, ["tank"], 0.3, 0.0)
    assert measured.ends(whole, whole.dimensions[0])[0][0] == pytest.approx(x + 0.3, abs=1e-3)
    more = tanks.add_corner(layout, "tank", 0, (x + tank.outline[0][0].si) / 2, y)
    assert more.dimensions[0].start == TankCorner("tank", 2)
    assert measured.ends(more, more.dimensions[0]) == measured.ends(layout, layout.dimensions[0])
    assert tanks.remove_corner(more, "tank", 1).dimensions == layout.dimensions
    gone = tanks.remove_corner(more, "tank", 2)
    assert measured.ends(gone, gone.dimensions[0])[0] == (x, y), "it stays where the corner was"
    mirrored = selection.mirror(layout, ["tank"])
    turned = measured.ends(mirrored, mirrored.dimensions[0])[0]
    xs = [each.si for each, _ in tank.outline]
    assert turned == (pytest.approx(min(xs) + max(xs) - x, abs=1e-3), pytest.approx(y, abs=1e-3))


def test_a_corner_is_kept_by_its_tanks_name_and_place(document: Document) -> None:
    at = TankCorner("tank", 0)
    document.apply("Dimension", remarks.add_dimension(document.layout, at, "carriage", 2.0, 0.0))
    document.rename("tank", "sump")
    assert document.layout.dimensions[0].start == TankCorner("sump", 0)
    place = measured.place_of(document.layout, TankCorner("sump", 0))
    (dimension,) = remarks.without_part(document.layout, "sump")
    assert measured.place_of(document.layout, dimension.start) == place
    assert not isinstance(dimension.start, TankCorner)
    assert measured.place_of(document.layout, TankCorner("sump", 99)) is None
    written = file.write(document.drawing)
    assert 'reservoir = "sump", corner = 1' in written
    assert file.parse(written).base.dimensions == document.layout.dimensions
