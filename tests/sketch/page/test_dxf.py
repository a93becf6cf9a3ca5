"""The drawing as DXF, read back: its geometry is that of the drawing."""

from io import StringIO
from pathlib import Path

import ezdxf
import pytest
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
from tests.thorough import one_in


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
