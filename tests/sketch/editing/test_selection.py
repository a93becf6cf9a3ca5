"""Several parts at once: what moves together, what stretches, what is refused."""

from __future__ import annotations

import pytest

from sketch.editing import edits, selection
from sketch.editing.edits import EditError
from sketch.editing.selection import Axis
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from tests.drawings import SHIPPED


def drawn(name: str) -> Layout:
    (path,) = [each for each in SHIPPED if each.stem == name]
    return file.read(path).base


CARRIAGE, HEADER = drawn("carriage-at-altitude"), drawn("header-two-pumps")


def margins(layout: Layout) -> list[float]:
    return [ledger.margin for ledger in solve(layout).pumps.values()]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_drawing_moved_or_mirrored_whole_is_the_same_drawing_elsewhere(path: object) -> None:
    layout = file.read(path).base  # type: ignore[arg-type]
    names = selection.everything(layout)
    before = margins(layout)
    for changed in (selection.move(layout, names, 0.6096, 0.3048), selection.mirror(layout, names)):
        assert changed != layout
        assert not file.check(changed)
        assert margins(changed) == pytest.approx(before, abs=1.0)  # [Pa]: figures are written to 0.1 mm
        assert selection.everything(changed) == names
    again = selection.mirror(selection.mirror(layout, names), names)
    assert margins(again) == pytest.approx(before, abs=1.0)


def test_a_tank_takes_along_what_stands_in_it_and_its_lines_stretch() -> None:
    moved = selection.move(CARRIAGE, ["tank"], -0.3048, 0.1524)
    tank = moved.reservoirs["tank"]
    assert [x.text for x, _ in tank.outline] == ["-1 ft", "3 ft", "3 ft", "-1 ft"]
    assert (tank.minimum_level.text, tank.depth.text) == ("2 ft 4 in", "2 ft")
    assert edits.place(moved, "strainer") == pytest.approx((0.0, 0.4826))
    assert moved.pumps is CARRIAGE.pumps
    corner = edits.corner(moved, "riser", 0)
    assert corner[0] == pytest.approx(0.0), "the riser stays upright"


def test_levels_that_a_case_types_come_along_with_the_tank() -> None:
    text = next(p for p in SHIPPED if p.stem == "carriage-at-altitude").read_text("utf-8")
    layout = file.parse(
        text.replace("format = 1", "format = 2") + '\n[cases.low]\nlevels.tank = "2 ft"\n'
    ).base
    moved = selection.move(layout, ["tank"], 0.0, 0.3048)
    assert moved.cases["low"].figures["levels", "tank"].text == "3 ft"
    assert moved.cases["low"].table["levels"] == {"tank": "3 ft"}


def test_a_line_alone_moves_with_its_ends_and_one_between_two_parts_whole() -> None:
    moved = selection.move(HEADER, ["pilot leg"], 0.0, -0.3048)
    assert edits.place(moved, "pilot")[1] == pytest.approx(edits.place(HEADER, "pilot")[1] - 0.3048)
    assert edits.place(moved, "split")[1] == pytest.approx(edits.place(HEADER, "split")[1] - 0.3048)
    legs = [[y.si - moved.joint("split").at[1].si for _, y in moved.runs["pilot leg"].via],
            [y.si - HEADER.joint("split").at[1].si for _, y in HEADER.runs["pilot leg"].via]]  # fmt: skip
    assert legs[0] == pytest.approx(legs[1])


def test_an_intake_stays_in_its_tank() -> None:
    with pytest.raises(EditError, match="strainer"):
        selection.move(CARRIAGE, ["strainer", "connector"], -3.0, 0.0)
    assert selection.move(CARRIAGE, ["strainer"], 0.0, 0.0) is CARRIAGE


def test_the_whole_line_is_all_that_is_joined_but_the_pumps() -> None:
    line = selection.whole_line(HEADER, "isolator")
    assert set(line) == {"nozzle", "isolator", "split", "outlet", "header", "main leg", "pilot leg"}
    assert selection.whole_line(HEADER, "main") == line
    assert selection.whole_line(HEADER, "tank") == ()


def test_parts_fall_in_line_with_the_last_and_stand_at_equal_distances() -> None:
    level = selection.align(CARRIAGE, ["carriage", "strainer"], Axis.Y)
    assert edits.place(level, "carriage")[1] == pytest.approx(edits.place(CARRIAGE, "strainer")[1])
    over = selection.align(HEADER, ["main", "pilot"], Axis.X)
    assert edits.place(over, "main")[0] == pytest.approx(edits.place(HEADER, "pilot")[0])
    spread = selection.distribute(HEADER, ["nozzle", "isolator", "split", "outlet"], Axis.X)
    xs = [edits.place(spread, name)[0] for name in ("nozzle", "isolator", "split")]
    assert xs[1] - xs[0] == pytest.approx(xs[2] - xs[1], abs=2e-4)
    assert xs[2] == pytest.approx(edits.place(HEADER, "split")[0])
    with pytest.raises(EditError, match="3 parts or more"):
        selection.distribute(HEADER, ["nozzle", "outlet", "split"], Axis.X)


def test_what_is_deleted_together_leaves_nothing_hanging() -> None:
    rest = selection.remove(HEADER, ["pilot", "pilot leg", "split"])
    assert "split" not in rest.tees
    assert rest.runs["header"].end == "main", "the tee has healed"
    assert len(rest.runs["header"].via) == 2
    assert selection.everything(selection.remove(HEADER, selection.everything(HEADER))) == ()
    with pytest.raises(EditError, match="nozzle stands in tank"):
        selection.remove(HEADER, ["tank"])
