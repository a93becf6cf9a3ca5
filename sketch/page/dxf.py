"""The drawing at its true size as DXF (AutoCAD R2010), for a drawing program: layers, dimensions and text.

One unit of the file is a millimetre, or an inch where the drawing is in US customary units; y is up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from io import StringIO
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import shapely

from sketch.drawing import glyphs, remarks, symbols
from sketch.drawing.backdrop import spans
from sketch.drawing.pencil import SMALL
from sketch.drawing.view import XY, View
from sketch.model.disk import write_safely
from sketch.model.document import Document
from solver.geometry import measured, outline
from solver.geometry.reservoirs import level
from solver.layout.parts import Layout, Level
from solver.layout.remarks import TextAnchor
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import printable

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

LAYERS = {
    "TANK": 8,
    "LEVEL": 5,
    "LINE": 7,
    "CENTRE": 1,
    "PART": 7,
    "TEXT": 7,
    "DIMENSION": 3,
}
"""Layers and their colours, by the number that DXF has for a colour."""

UNITS = {System.SI: (1000.0, 4, 0), System.US: (1000.0 / 25.4, 1, 2)}
"""Units of the file a metre, their number in $INSUNITS, and the decimals of a dimension."""

PIXEL = 0.0015  # m: of a symbol too small for its bore, and of text
TEXT_HEIGHT = 14.0  # pixels
ALIGNED = {TextAnchor.LEFT: "LEFT", TextAnchor.MIDDLE: "CENTER", TextAnchor.RIGHT: "RIGHT"}
"""How DXF calls what of a text stands at its place."""
BETWEEN_BENDS = "Straights are dimensioned less their bends, from tangent to tangent."
SHORTEST_DIMENSION = 0.05  # m: a shorter straight is not dimensioned


def write_dxf_of(
    document: Document, path: Path | str, call: Callable[[Callable[[], str]], str] | None = None
) -> tuple[Path, ...]:
    """Write what a document shows, in its units. Returns the file written.

    `call` calls what takes long, None for a call as usual.
    Raises ValueError for another ending or a drawing that is not calculated, OSError when it cannot be
    written.
    """
    if document.solution is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    target = Path(path)
    if target.suffix.lower() != ".dxf":
        raise ValueError(f"it is written as .dxf, not as {target.suffix or 'a bare name'}")
    pump = document.pump or next(iter(document.solution.pumps), "")
    make = partial(dxf_text, document.layout, document.solution, pump, document.system)
    write_safely(target, make() if call is None else call(make))
    return (target,)


def dxf_text(layout: Layout, solution: Solution, pump: str, system: System) -> str:
    """The text of the DXF file; lift is dimensioned to the levels of the solution."""
    import ezdxf

    scale, code, _ = UNITS[system]
    drawing = ezdxf.new("R2010", setup=True)  # type: ignore[attr-defined]
    drawing.header["$INSUNITS"] = code
    drawing.header["$MEASUREMENT"] = int(system == System.SI)
    for name, colour in LAYERS.items():
        drawing.layers.add(name, color=colour)
    drawing.layers.get("CENTRE").dxf.linetype = "CENTER"
    drawing.layers.get("LEVEL").dxf.linetype = "DASHED"
    drawing.header["$LTSCALE"] = scale * PIXEL * 10
    _Plotter(drawing.modelspace(), layout, solution, pump, system).draw()
    stream = StringIO()
    drawing.write(stream)
    return stream.getvalue()


class _Plotter:
    """Puts one drawing into the model space of a file."""

    def __init__(
        self, space: Modelspace, layout: Layout, solution: Solution, pump: str, system: System
    ) -> None:
        self._space, self._layout, self._solution, self._pump = space, layout, solution, pump
        self._system = system
        self._scale, _, self._decimals = UNITS[system]
        self._view = View(self._scale, 0.0, 0.0, PIXEL * self._scale)

    def draw(self) -> None:
        self._tanks()
        for name in self._layout.runs:
            self._run(name)
        for glyph in glyphs.glyphs(self._layout, self._solution, self._view, self._pump):
            if not glyph.is_pipe:
                self._symbol(symbols.symbol(glyph, self._view.dot))
        for name in self._layout.pumps:
            self._pump_symbol(name)
        groups = (self._layout.intakes, self._layout.fittings, self._layout.tees, self._layout.pumps)
        for part in (part for group in groups for part in group.values()):
            x, y = outline.position(part)
            self._text(part.name, (x + 20 * PIXEL, y - 30 * PIXEL))
        for name in self._solution.pumps:
            self._lift(name)
        if any(run.via for run in self._layout.runs.values()):
            self._dimension_note()
        self._remarks()

    def _dimension_note(self) -> None:
        """Put in, under the drawing, how a straight is dimensioned."""
        corners = [point for tank in self._layout.reservoirs.values() for point in tank.outline]
        x, y = (min(point[axis].si for point in corners) for axis in (0, 1))
        self._text(BETWEEN_BENDS, (x, y - 60 * PIXEL), "DIMENSION")

    def _at(self, point: XY) -> XY:
        return point[0] * self._scale, point[1] * self._scale

    def _polyline(self, points: Iterable[XY], layer: str, *, close: bool = False) -> None:
        """Put a line through points [m]."""
        self._space.add_lwpolyline(
            [self._at(point) for point in points], close=close, dxfattribs={"layer": layer}
        )

    def _device(self, points: Iterable[XY], *, close: bool) -> None:
        """Put a line of a symbol, of which y runs down, through points in units of the file."""
        self._space.add_lwpolyline([(x, -y) for x, y in points], close=close, dxfattribs={"layer": "PART"})

    def _text(
        self,
        text: str,
        at: XY,
        layer: str = "TEXT",
        larger: float = 1.0,
        anchor: TextAnchor = TextAnchor.LEFT,
    ) -> None:
        from ezdxf.enums import TextEntityAlignment

        plain = printable(text).replace("%%", "% %")
        height = TEXT_HEIGHT * PIXEL * self._scale * larger
        entity = self._space.add_text(plain, height=height, dxfattribs={"layer": layer})
        entity.set_placement(self._at(at), align=TextEntityAlignment[ALIGNED[anchor]])

    def _length(self, metres: float) -> str:
        return typeset(metres, Kind.LENGTH, self._system)

    def _tanks(self) -> None:
        for name, tank in self._layout.reservoirs.items():
            corners = [(x.si, y.si) for x, y in tank.outline]
            self._polyline(corners, "TANK", close=True)
            left, low = min(x for x, _ in corners), min(y for _, y in corners)
            self._text(name, (left + 20 * PIXEL, low + 20 * PIXEL))
            for which in (Level.MINIMUM, Level.NORMAL):
                surface = level(tank, which)
                for begin, end in spans(corners, surface):
                    self._polyline(((begin, surface), (end, surface)), "LEVEL")
                    words = f"{which} level {self._length(surface)}"
                    self._text(words, (begin + 20 * PIXEL, surface + 5 * PIXEL), "LEVEL")

    def _run(self, name: str) -> None:
        run = self._layout.runs[name]
        pieces = outline.outline(self._layout, run)
        centre: list[XY] = []
        for piece in pieces:
            centre += [
                point for point in piece.path if not centre or math.dist(point, centre[-1]) > outline.NEAR
            ]
        if len(centre) < 2:
            return  # all of it is out of the plane of the drawing
        self._polyline(centre, "CENTRE")
        wall = shapely.LineString(centre).buffer(outline.bore(run) / 2, cap_style="flat", join_style="mitre")
        for shape in getattr(wall, "geoms", [wall]):
            self._polyline(list(shape.exterior.coords)[:-1], "LINE", close=True)
        for piece in pieces:
            if not piece.bend and math.dist(*piece.path) >= SHORTEST_DIMENSION:
                self._dimension(piece.path)
        self._text(f"{name}  {_size_text(run.size, outline.bore(run), self._system)}", _beside(centre))

    def _symbol(self, symbol: symbols.Symbol) -> None:
        for polygon in (*symbol.fills, *symbol.solid):
            self._device(polygon, close=True)
        for line in (*symbol.lines, *symbol.dashed):
            self._device(line, close=False)

    def _pump_symbol(self, name: str) -> None:
        x, y, radius = glyphs.pump_circle(self._layout, name, self._view)
        self._space.add_circle((x, -y), radius, dxfattribs={"layer": "PART"})
        self._device(symbols.pump_triangle(x, y, radius, *glyphs.pump_way(self._layout, name)), close=True)

    def _lift(self, name: str) -> None:
        (x, y), fluid = outline.position(self._layout.pumps[name]), self._solution.pumps[name].fluid_level
        if abs(y - fluid) < SHORTEST_DIMENSION:
            return
        ends = (self._at((x, fluid)), self._at((x, y)))
        centre, _, radius = glyphs.pump_circle(self._layout, name, self._view)
        dimension = self._space.add_linear_dim(
            base=(centre + radius + 40 * PIXEL * self._scale, ends[1][1]), p1=ends[0], p2=ends[1], angle=90,
            override=self._style(), dxfattribs={"layer": "DIMENSION"},
        )  # fmt: skip
        dimension.render()

    def _remarks(self) -> None:
        """Put in the texts and dimensions of one's own."""
        for text in self._layout.texts:
            larger = remarks.SIZES[text.size] / SMALL
            at = text.at[0].si, text.at[1].si - larger * TEXT_HEIGHT * PIXEL / 2
            self._text(text.text, at, larger=larger, anchor=text.anchor)
        for each in self._layout.dimensions:
            ends, line = measured.ends(self._layout, each), measured.dimension_line(self._layout, each)
            if ends is None or line is None:
                continue
            (a, b), (base, to) = map(self._at, ends), map(self._at, line)
            angle = math.degrees(math.atan2(to[1] - base[1], to[0] - base[0]))
            dimension = self._space.add_linear_dim(
                base=base, p1=a, p2=b, angle=angle, override=self._style(), dxfattribs={"layer": "DIMENSION"}
            )
            dimension.render()

    def _dimension(self, path: Sequence[XY]) -> None:
        dimension = self._space.add_aligned_dim(
            p1=self._at(path[0]), p2=self._at(path[-1]), distance=60 * PIXEL * self._scale,
            override=self._style(), dxfattribs={"layer": "DIMENSION"},
        )  # fmt: skip
        dimension.render()

    def _style(self) -> dict[str, float | int]:
        height = TEXT_HEIGHT * PIXEL * self._scale
        return {"dimtxt": height, "dimasz": 0.8 * height, "dimexo": 0.4 * height, "dimexe": 0.6 * height,
                "dimdec": self._decimals, "dimlfac": 1.0, "dimscale": 1.0}  # fmt: skip


def _size_text(size: str | None, bore: float, system: System) -> str:
    return size or f"bore {typeset(bore, Kind.BORE, system)}"


def _beside(centre: Sequence[XY]) -> XY:
    """Where the name of a line stands: off the middle of its longest stretch [m]."""
    one, other = max(pairwise(centre), key=lambda ends: math.dist(*ends))
    return (one[0] + other[0]) / 2 + 20 * PIXEL, (one[1] + other[1]) / 2 + 20 * PIXEL
