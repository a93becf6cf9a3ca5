"""The drawing as DXF, read back: its geometry is that of the drawing."""

from io import StringIO
from itertools import combinations
from pathlib import Path

import ezdxf
import pytest
import shapely
import shapely.affinity
from ezdxf.enums import TextEntityAlignment
from pytestqt.qtbot import QtBot

from sketch.__main__ import main
from sketch.editing import remarks
from sketch.model.document import Document
from sketch.page.dxf import BETWEEN_BENDS, LAYERS, dxf_text, write_dxf_of
from solver.geometry import outline
from solver.geometry.reservoirs import level
from solver.layout.file import parse
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests import drawings
from tests.thorough import first, one_in


def read_back(layout: Layout, system: System) -> ezdxf.document.Drawing:
    solution = solve(layout)
    text = dxf_text(layout, solution, next(iter(solution.pumps)), system)
    drawing = ezdxf.read(StringIO(text))
    assert not drawing.audit().errors
    assert {layer.dxf.name for layer in drawing.layers} >= LAYERS.keys()
    assert drawing.dxfversion == "AC1024"  # R2010
    return drawing


def polylines(drawing: ezdxf.document.Drawing, layer: str, unit: float) -> list[list[tuple[float, float]]]:
    """The lines of a layer, in metres."""
    lines = drawing.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    return [[(round(x * unit, 6), round(y * unit, 6)) for x, y in each.get_points("xy")] for each in lines]


def rounded(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    return [(round(x, 6), round(y, 6)) for x, y in points]


@pytest.mark.parametrize(("system", "unit"), [(System.SI, 0.001), (System.US, 0.0254)])
@pytest.mark.parametrize("path", one_in(9, drawings.SHIPPED), ids=lambda path: path.stem)
def test_its_geometry_is_the_drawings(path: Path, system: System, unit: float) -> None:
    layout = parse(path.read_text(encoding="utf-8")).base
    drawing = read_back(layout, system)
    centres = polylines(drawing, "CENTRE", unit)
    dimensions = [each.get_measurement() * unit for each in drawing.modelspace().query("DIMENSION")]
    for run in layout.runs.values():
        pieces = outline.outline(layout, run)
        points = rounded([point for piece in pieces for point in piece.path])
        assert list(dict.fromkeys(points)) in centres
        for piece in pieces:
            if not piece.bend and piece.length >= 0.05 and run.out_of_plane is None:
                assert any(abs(each) == pytest.approx(piece.length, abs=1e-6) for each in dimensions)
    tanks = [rounded([(x.si, y.si) for x, y in tank.outline]) for tank in layout.reservoirs.values()]
    assert polylines(drawing, "TANK", unit) == tanks
    heights = {line[0][1] for line in polylines(drawing, "LEVEL", unit)}
    assert {round(level(tank, Level.MINIMUM), 6) for tank in layout.reservoirs.values()} <= heights
    words = {each.dxf.text for each in drawing.modelspace().query("TEXT")}
    assert {*layout.pumps, *layout.reservoirs, *layout.intakes} <= words
    assert (BETWEEN_BENDS in words) is any(run.via for run in layout.runs.values())


def test_lift_is_dimensioned_from_the_level_that_is_shown() -> None:
    layout = parse(drawings.RISER).base
    solution = solve(layout)
    (name,) = solution.pumps
    drawing = read_back(layout, System.SI)
    lift = 1000 * (layout.pumps[name].at[1].si - solution.pumps[name].fluid_level)
    lengths = [each.get_measurement() for each in drawing.modelspace().query("DIMENSION")]
    assert any(abs(each) == pytest.approx(lift) for each in lengths)


def test_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "line.dxf"
    assert main([str(drawings.SHIPPED[0]), "--dxf", str(out)]) == 0
    assert f"Wrote {out}" in capsys.readouterr().out
    assert ezdxf.readfile(out).modelspace().query("LWPOLYLINE")
    assert main([str(drawings.SHIPPED[0]), "--dxf", str(tmp_path / "line.dwg")]) == 2
    assert ".dxf" in capsys.readouterr().err


def test_an_unfinished_drawing_is_not_written(qtbot: QtBot, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="incomplete"):
        write_dxf_of(Document(keeps=False), tmp_path / "line.dxf")
    assert not list(tmp_path.iterdir())


@pytest.mark.thorough
def test_texts_and_dimensions_of_ones_own_are_in_it_at_true_length() -> None:
    (path,) = (each for each in drawings.SHIPPED if each.stem == "carriage-at-altitude")
    layout = parse(path.read_text(encoding="utf-8")).base
    before = read_back(layout, System.US).modelspace()
    for at in ((0.6, 1.5), (-0.3, 0.6), (0.6, 0.7)):
        layout = remarks.add_dimension(layout, "strainer", "carriage", *at)
    layout = remarks.add_text(layout, 0.5, 1.6, "hole in the lid")
    layout = remarks.set_look(remarks.add_text(layout, 0.5, 2.0, "Press 4"), 1, "large", "right")
    after = read_back(layout, System.US).modelspace()
    texts = {each.dxf.text: each for each in after.query("TEXT")}
    small, large = texts["hole in the lid"], texts["Press 4"]
    assert large.dxf.height == pytest.approx(20 / 11 * small.dxf.height), "as on the screen"
    alignment, end, _ = large.get_placement()
    assert alignment is TextEntityAlignment.RIGHT
    assert end.x == pytest.approx(0.5 / 0.0254, abs=0.01)
    assert small.get_placement()[0] is TextEntityAlignment.LEFT
    known = sorted(each.get_measurement() for each in before.query("DIMENSION"))
    new = sorted(each.get_measurement() for each in after.query("DIMENSION"))
    for one in known:
        new.remove(min(new, key=lambda other, one=one: abs(other - one)))  # type: ignore[misc]
    assert new == pytest.approx([29.0, 31.0, (29.0**2 + 31.0**2) ** 0.5]), "inches: across, up, straight"


def text_boxes(drawing: ezdxf.document.Drawing) -> dict[str, shapely.Polygon]:
    """What each text and each figure of a dimension covers, every letter as wide as a capital is high."""
    space = drawing.modelspace()
    figures = [each for of in space.query("DIMENSION") for each in of.virtual_entities()]
    boxes = {}
    for number, each in enumerate((*space.query("TEXT"), *figures)):
        if each.dxftype() == "TEXT":
            high, text, turned = each.dxf.height, each.dxf.text, 0.0
            alignment, at, _ = each.get_placement()
            share = {"LEFT": 0.0, "CENTER": 0.5, "RIGHT": 1.0}[alignment.name]
            low, top = at.y - 0.3 * high, at.y + high
        elif each.dxftype() == "MTEXT":
            high, text, turned = each.dxf.char_height, each.text, each.dxf.rotation
            at, share = each.dxf.insert, 0.5
            low, top = at.y - high / 2, at.y + high / 2
        else:
            continue
        wide = len(text) * high
        box = shapely.box(at.x - share * wide, low, at.x + (1.0 - share) * wide, top)
        boxes[f"{number} {text}"] = shapely.affinity.rotate(box, turned, origin=(at.x, at.y))
    return boxes


def _layouts() -> list[tuple[Layout, System]]:
    """Every example with each of its alternatives, in both systems; first the one of two pumps."""
    files = sorted(drawings.SHIPPED, key=lambda path: path.stem != "header-two-pumps")
    read = [parse(path.read_text(encoding="utf-8")) for path in files]
    layouts = [each for file in read for each in (file.base, *(a.layout for a in file.alternatives.values()))]
    return [(layout, system) for layout in layouts for system in reversed(System)]


@pytest.mark.parametrize("drawn", first(_layouts()))
def test_no_text_lies_on_another_on_a_symbol_or_on_the_line(drawn: tuple[Layout, System]) -> None:
    layout, system = drawn
    drawing = read_back(layout, system)
    boxes = text_boxes(drawing)
    assert len(boxes) > len(layout.runs) + len(layout.pumps) + len(layout.reservoirs)
    for (one, box), (other, second) in combinations(boxes.items(), 2):
        assert box.intersection(second).area == 0.0, (one, other)
    lines = drawing.modelspace().query('LWPOLYLINE[layer!="LEVEL"]')
    drawn_lines = shapely.union_all([shapely.LineString(each.get_points("xy")) for each in lines])
    for text, box in boxes.items():
        assert box.intersection(drawn_lines).is_empty, text
