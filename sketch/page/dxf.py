"""The drawing at its true size as DXF (AutoCAD R2010), for a drawing program: layers, dimensions and text.

One unit of the file is a millimetre, or an inch where the drawing is in US customary units; y is up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING

import shapely

from sketch.drawing import backdrop, glyphs, remarks, symbols, tags
from sketch.drawing.glyphs import Glyph, Mark
from sketch.drawing.labels import Anchor, Box, LabelPlace
from sketch.drawing.pencil import SMALL
from sketch.drawing.view import BEFORE, XY
from sketch.model.disk import write_safely
from sketch.model.document import Document
from sketch.page.dxf_places import (
    GAP,
    PAD,
    TEXT_HEIGHT,
    FreePlaces,
    dimension_line,
    figure_box,
    measured,
    text_size,
)
from solver.geometry import measured as own_measures
from solver.geometry import outline
from solver.layout.parts import Layout
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
        self._space, self._layout, self._solution = space, layout, solution
        self._system = system
        self._scale, _, self._decimals = UNITS[system]
        self._places = FreePlaces(layout, 1.0 / PIXEL)
        self._view = self._places.view
        self._glyphs = glyphs.glyphs(layout, solution, self._view, pump)

    def draw(self) -> None:
        """Lines first, then the texts of one's own, dimensions, and names where these leave room."""
        self._places.keep_off_line(self._glyphs)
        levels = backdrop.levels(self._layout, self._view, self._places.placer.size, self._solution.level)
        self._tanks(levels)
        for name in self._layout.runs:
            self._run(name)
        for glyph in self._glyphs:
            if not glyph.is_pipe:
                self._symbol(symbols.symbol(glyph, self._view.dot))
        for name in self._layout.pumps:
            self._pump_symbol(name)
        self._own_texts()
        self._own_dimensions()
        for name in self._layout.runs:
            self._straights(name)
        for name in self._solution.pumps:
            self._lift(name)
        self._level_names(levels)
        for place, anchor in self._places.best([*self._names(), *self._sizes()]):
            self._text(place, anchor=anchor)
        if any(run.via for run in self._layout.runs.values()):
            self._dimension_note()

    def _dimension_note(self) -> None:
        """Put in, under the drawing, how a straight is dimensioned."""
        corners = [point for tank in self._layout.reservoirs.values() for point in tank.outline]
        left, low = (min(point[axis].si for point in corners) for axis in (0, 1))
        x, y = self._view.device(left, low)
        down = (Box(x, y + off, *text_size(BETWEEN_BENDS)) for off in range(40, 700, 20))
        place = self._places.first(BETWEEN_BENDS, down)
        if place is not None:
            self._text(place, "DIMENSION")

    def _at(self, point: XY) -> XY:
        return point[0] * self._scale, point[1] * self._scale

    def _of_device(self, x: float, y: float) -> XY:
        return self._at(self._view.world(x, y))

    def _polyline(self, points: Iterable[XY], layer: str, *, close: bool = False) -> None:
        """Put a line through points [m]."""
        self._space.add_lwpolyline(
            [self._at(point) for point in points], close=close, dxfattribs={"layer": layer}
        )

    def _device(self, points: Iterable[XY], *, close: bool) -> None:
        """Put a line of a symbol through points of the device."""
        self._space.add_lwpolyline(
            [self._of_device(*point) for point in points], close=close, dxfattribs={"layer": "PART"}
        )

    def _text(self, place: LabelPlace, layer: str = "TEXT", anchor: TextAnchor = TextAnchor.LEFT) -> None:
        """Put in a text at the place that was found for it, with the line back to its element."""
        box = place.box
        x = box.x + PAD + BEFORE[anchor] * (box.width - 2 * PAD)
        base = self._of_device(x, box.y + (box.height + TEXT_HEIGHT) / 2)
        self._written(place.key, base, layer, anchor=anchor)
        if place.leader is not None:
            foot, end = (self._of_device(*point) for point in place.leader)
            self._space.add_line(foot, end, dxfattribs={"layer": layer})

    def _written(
        self,
        text: str,
        at: XY,
        layer: str = "TEXT",
        larger: float = 1.0,
        anchor: TextAnchor = TextAnchor.LEFT,
    ) -> None:
        from ezdxf.enums import TextEntityAlignment

        height = TEXT_HEIGHT * PIXEL * self._scale * larger
        entity = self._space.add_text(_plain(text), height=height, dxfattribs={"layer": layer})
        entity.set_placement(at, align=TextEntityAlignment[ALIGNED[anchor]])

    def _tanks(self, levels: Sequence[backdrop.LevelLine]) -> None:
        for tank in self._layout.reservoirs.values():
            self._polyline([(x.si, y.si) for x, y in tank.outline], "TANK", close=True)
        for level in levels:
            ends = [self._view.world(x, level.y)[0] for x in (level.left, level.right)]
            self._polyline([(x, level.z) for x in ends], "LEVEL")
            self._places.placer.lines.block_line(((level.left, level.y), (level.right, level.y)))

    def _level_names(self, levels: Sequence[backdrop.LevelLine]) -> None:
        """Put in the names of levels on their surfaces, else at an end."""
        places, dot = self._places, self._view.dot
        for level in levels:
            text = f"{level.name} {typeset(level.z, Kind.LENGTH, self._system)}"
            sought = (level, *text_size(text), dot, places.placer)
            on = places.first(text, (*backdrop.on_surface(*sought), *backdrop.beside_reservoir(*sought)))
            ends = [Anchor(x, level.y, way, 0.0) for x, way in ((level.left, -1.0), (level.right, 1.0))]
            for place, anchor in [(on, TextAnchor.LEFT)] if on else places.best([(text, ends)]):
                self._text(place, "LEVEL", anchor)

    def _names(self) -> Iterator[tuple[str, Sequence[Anchor]]]:
        """The names of parts, each with where it may stand."""
        layout, view = self._layout, self._view
        symbol_of = {each.part: each for each in reversed(self._glyphs) if _is_symbol(each)}
        for group in (layout.intakes, layout.fittings, layout.tees):
            for name, part in group.items():
                alone = (Anchor(*view.device(*outline.position(part))),)
                yield name, tags.anchors(symbol_of[name], view.dot) if name in symbol_of else alone
        for name in layout.pumps:
            yield name, tags.pump_anchors(layout, name, view)
        for name, tank in layout.reservoirs.items():
            yield name, tags.reservoir_anchors(tank, view, text_size(name)[0])

    def _sizes(self) -> Iterator[tuple[str, Sequence[Anchor]]]:
        """The names of lines with their sizes, beside their longest straights."""
        for name, run in self._layout.runs.items():
            pipes = [glyph for glyph in self._glyphs if glyph.is_pipe and glyph.part == name]
            pipes.sort(key=lambda glyph: -glyph.length)
            at = [anchor for glyph in pipes[:3] for anchor in tags.anchors(glyph, self._view.dot)]
            if at:
                yield f"{name}  {_size_text(run.size, outline.bore(run), self._system)}", at

    def _run(self, name: str) -> None:
        run = self._layout.runs[name]
        centre: list[XY] = []
        for piece in outline.outline(self._layout, run):
            centre += [
                point for point in piece.path if not centre or math.dist(point, centre[-1]) > outline.NEAR
            ]
        if len(centre) < 2:
            return  # all of it is out of the plane of the drawing
        self._polyline(centre, "CENTRE")
        wall = shapely.LineString(centre).buffer(outline.bore(run) / 2, cap_style="flat", join_style="mitre")
        for shape in getattr(wall, "geoms", [wall]):
            self._polyline(list(shape.exterior.coords)[:-1], "LINE", close=True)

    def _straights(self, name: str) -> None:
        for piece in outline.outline(self._layout, self._layout.runs[name]):
            if not piece.bend and math.dist(*piece.path) >= SHORTEST_DIMENSION:
                self._dimension(piece.path[0], piece.path[-1])

    def _symbol(self, symbol: symbols.Symbol) -> None:
        for polygon in (*symbol.fills, *symbol.solid):
            self._device(polygon, close=True)
        for line in (*symbol.lines, *symbol.dashed):
            self._device(line, close=False)

    def _pump_symbol(self, name: str) -> None:
        x, y, radius = glyphs.pump_circle(self._layout, name, self._view)
        self._space.add_circle(
            self._of_device(x, y), radius * PIXEL * self._scale, dxfattribs={"layer": "PART"}
        )
        self._device(symbols.pump_triangle(x, y, radius, *glyphs.pump_way(self._layout, name)), close=True)

    def _lift(self, name: str) -> None:
        (x, y), fluid = outline.position(self._layout.pumps[name]), self._solution.pumps[name].fluid_level
        if abs(y - fluid) < SHORTEST_DIMENSION:
            return
        centre, _, radius = glyphs.pump_circle(self._layout, name, self._view)
        past = max(centre + radius - self._view.device(x, y)[0], 0.0)
        self._dimension((x, fluid), (x, y), past, right=True)

    def _dimension(self, p: XY, q: XY, least: float = 0.0, *, right: bool = False) -> None:
        """Dimension the distance of two points [m] where its line and figure have room."""
        figure = f"{math.dist(p, q) * self._scale:.{self._decimals}f}"
        of = measured(self._view.device(*p), self._view.device(*q), figure)
        off = self._places.dimension(of, least, right=right)
        dimension = self._space.add_aligned_dim(
            p1=self._of_device(*of.a), p2=self._of_device(*of.b), distance=off * PIXEL * self._scale,
            override=self._style(), dxfattribs={"layer": "DIMENSION"},
        )  # fmt: skip
        dimension.render()

    def _own_texts(self) -> None:
        for text in self._layout.texts:
            larger = remarks.SIZES[text.size] / SMALL
            at = text.at[0].si, text.at[1].si - larger * TEXT_HEIGHT * PIXEL / 2
            self._written(text.text, self._at(at), larger=larger, anchor=text.anchor)
            (x, middle), (wide, high) = self._view.device(at[0], text.at[1].si), text_size(text.text, larger)
            self._places.keep_off(Box(x - BEFORE[text.anchor] * wide, middle - high / 2, wide, high))

    def _own_dimensions(self) -> None:
        for each in self._layout.dimensions:
            ends = own_measures.ends(self._layout, each)
            line = own_measures.dimension_line(self._layout, each)
            if ends is None or line is None:
                continue
            (a, b), (base, to) = map(self._at, ends), map(self._at, line)
            angle = math.degrees(math.atan2(to[1] - base[1], to[0] - base[0]))
            dimension = self._space.add_linear_dim(
                base=base, p1=a, p2=b, angle=angle, override=self._style(), dxfattribs={"layer": "DIMENSION"}
            )
            dimension.render()
            begin, end = (self._view.device(*point) for point in line)
            figure = f"{math.dist(base, to):.{self._decimals}f}"
            for of in (measured(begin, end, figure), measured(end, begin, figure)):
                self._places.keep_off(figure_box(of, 0.0), dimension_line(of, 0.0))

    def _style(self) -> dict[str, float | int | str]:
        height = TEXT_HEIGHT * PIXEL * self._scale
        return {"dimtxt": height, "dimasz": 0.8 * height, "dimexo": 0.4 * height, "dimexe": 0.6 * height,
                "dimgap": GAP * PIXEL * self._scale, "dimtix": 1, "dimtxsty": "Standard",
                "dimdec": self._decimals, "dimlfac": 1.0, "dimscale": 1.0}  # fmt: skip


def _is_symbol(glyph: Glyph) -> bool:
    """Whether it is the symbol of a part, not what joins one."""
    return not glyph.is_pipe and glyph.kind not in (Mark.PORT, Mark.BORE_CHANGE, Mark.STUB)


def _plain(text: str) -> str:
    """A text without the codes that a program would take for its own."""
    return printable(text).replace("%%", "% %")


def _size_text(size: str | None, bore: float, system: System) -> str:
    return size or f"bore {typeset(bore, Kind.BORE, system)}"
