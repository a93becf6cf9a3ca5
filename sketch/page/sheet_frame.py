"""What every page of a sheet has: paper, border, and the title block, laid out by what it has to say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, Ruler, shown
from sketch.look.colours import Theme
from sketch.page.options import Option
from solver.findings.judgement import Judgement, Place
from solver.layout.cases import AS_DRAWN as DRAWN
from solver.layout.parts import Level
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System

MARGIN = 38.0
TITLE = 78.0
STRIP = 24.0
GAP = 22.0
"""Logical pixels: page margin, title block, the line in its place behind the first page, between fields."""

LEAST_TITLE = 0.3
"""Of the title block, at least, for the title."""

Field = tuple[str, str]
"""A name, and what it says."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One drawing on the sheet, in the case in which it is shown: the worst one unless asked for another."""

    option: Option
    place: Place
    solution: Solution
    highest_port: float | None  # [m]; None where there is none to show
    highest_text: str

    @property
    def judgement(self) -> Judgement:
        """By all cases of the drawing."""
        assert self.option.judgement is not None  # what has a place was judged
        return self.option.judgement

    @property
    def pump(self) -> str:
        """The pump that it is shown for."""
        return self.place.pump

    @property
    def ledger(self) -> PumpLedger:
        """Of the pump, in the case shown."""
        return self.place.ledger

    @property
    def shown_as(self) -> str:
        """Which case and pump the figures belong to."""
        return f"{self.pump}, {case_name(self.place.case)}"


def case_name(case: str) -> str:
    """A case as a sheet names it."""
    return case if case == DRAWN else f'"{case}"'


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything the pages share."""

    title: str
    system: System
    level: Level
    theme: Theme
    date: str
    panels: tuple[Panel, ...]  # the drawing itself, and the alternative beside it where there is one
    options: tuple[Option, ...]  # the drawing itself first, then all alternatives
    file: str = ""  # what the drawing is kept in
    notes: str = ""  # of the drawing

    @property
    def drawn(self) -> Option:
        """The drawing itself."""
        return self.options[0]

    @property
    def chosen(self) -> Panel:
        """The drawing that is shown, or the alternative beside it."""
        return self.panels[-1]


@dataclass(frozen=True, slots=True)
class Folio:
    """Which page of how many, and what its title block says."""

    number: int
    total: int
    under: str = ""  # under the title: what the page shows
    scale: str = ""


def body_of(width: float, height: float, dot: float, *, first: bool = False) -> Box:
    """What the frame and the title block leave of a page."""
    edge, foot = MARGIN * dot, (TITLE if first else STRIP) * dot
    return Box(edge, edge, width - 2 * edge, height - 2 * edge - foot - 8 * dot)


def paint_frame(pencil: Pencil, sheet: Sheet, folio: Folio, width: float, height: float) -> None:
    """Paper and border; the title block on the first page, a line in its place on every other."""
    dot, edge, theme = pencil.dot, MARGIN * pencil.dot, sheet.theme
    pencil.box(Box(0.0, 0.0, width, height), theme.paper)
    foot = (TITLE if folio.number == 1 else STRIP) * dot
    block = Box(edge, height - edge - foot, width - 2 * edge, foot)
    border = Box(edge - 8 * dot, edge - 8 * dot, width - 2 * edge + 16 * dot, height - 2 * edge + 16 * dot)
    pencil.box(border, None, theme.construction, 1.2)
    pencil.lines([((border.x, block.y), (border.right, block.y))], theme.construction)
    if folio.number == 1:
        _title_block(pencil, sheet, folio, block)
    else:
        _strip(pencil, sheet, folio, block)


def _strip(pencil: Pencil, sheet: Sheet, folio: Folio, block: Box) -> None:
    middle = block.y + block.height / 2 + 3 * pencil.dot
    right = f"{sheet.date}    Page {folio.number} of {folio.total}"
    pencil.text(block.right, middle, right, sheet.theme.quiet, SMALL, align=1.0)
    room = block.width - pencil.width(right) - GAP * pencil.dot
    pencil.text(block.x, middle, pencil.elide(sheet.title, room, SMALL), sheet.theme.quiet, SMALL)


def _title_block(pencil: Pencil, sheet: Sheet, folio: Folio, block: Box) -> None:
    dot, theme = pencil.dot, sheet.theme
    rows = [placed(pencil, row, (1.0 - LEAST_TITLE) * block.width) for row in _fields(sheet, folio)]
    left = block.right - max(wide for _, wide in rows)
    for number, (fields, _) in enumerate(rows):
        _row(pencil, theme, fields, left, block.y + (4 + 37 * number) * dot)
    area = Box(block.x, block.y, left - block.x - 24 * dot, block.height)
    _title(pencil, sheet.title, folio.under, area, theme)


def _row(pencil: Pencil, theme: Theme, fields: Sequence[tuple[float, Field]], left: float, y: float) -> None:
    dot = pencil.dot
    for at, (name, figure) in fields:
        x = left + at
        pencil.lines([((x - 10 * dot, y + 4 * dot), (x - 10 * dot, y + 34 * dot))], theme.grid)
        pencil.text(x, y + 11 * dot, name, theme.quiet, SMALL)
        pencil.text(x, y + 26 * dot, figure, theme.ink, SMALL)


def placed(ruler: Ruler, row: Sequence[Field], most: float) -> tuple[list[tuple[float, Field]], float]:
    """The fields of a row with how far each stands from the first, each as wide as what it says, and the
    width of them all. Where that is more than `most`, the widest is shortened."""
    gap = GAP * ruler.dot
    widths = [max(ruler.width(text, SMALL) for text in field) for field in row]
    texts = [figure for _, figure in row]
    lacking = sum(widths) + gap * (len(row) - 1) - most
    if lacking > 0.0:
        widest = max(range(len(row)), key=widths.__getitem__)
        widths[widest] = max(widths[widest] - lacking, 40 * ruler.dot)
        texts[widest] = ruler.elide(texts[widest], widths[widest], SMALL)
    lefts = [sum(widths[:number]) + gap * number for number in range(len(row))]
    fields = [(name, text) for (name, _), text in zip(row, texts, strict=True)]
    return list(zip(lefts, fields, strict=True)), lefts[-1] + widths[-1]


def _fields(sheet: Sheet, folio: Folio) -> tuple[list[Field], list[Field]]:
    """The two rows of the title block."""
    arrow = " \N{RIGHTWARDS ARROW} "
    fluids = dict.fromkeys(_fluid(panel, sheet.system) for panel in sheet.panels)
    sites = dict.fromkeys(_site(panel.solution, sheet.system) for panel in sheet.panels)
    pumps = dict.fromkeys(panel.pump for panel in sheet.panels)
    levels = dict.fromkeys(str(panel.solution.level) for panel in sheet.panels)
    file = [("File", sheet.file)] if sheet.file else []
    return (
        [("Fluid", arrow.join(fluids)), *file],
        [
            ("Site", arrow.join(sites)),
            ("Pump", arrow.join(pumps)),
            ("Level", arrow.join(levels)),
            ("Scale", folio.scale or "\N{EN DASH}"),
            ("Date", sheet.date),
            ("Page", f"{folio.number} of {folio.total}"),
        ],
    )


def _site(solution: Solution, system: System) -> str:
    air = shown(solution.atmosphere, Kind.ABSOLUTE, system)
    return (
        air if solution.elevation is None else f"{shown(solution.elevation, Kind.ELEVATION, system)}, {air}"
    )


def _fluid(panel: Panel, system: System) -> str:
    tank, line = panel.solution.tank_fluid, panel.solution.fluid
    text = f"{tank.name}, {shown(tank.temperature, Kind.TEMPERATURE, system)}"
    return text if line is tank else f"{text}; line {shown(line.temperature, Kind.TEMPERATURE, system)}"


def _title(pencil: Pencil, title: str, below: str, box: Box, theme: Theme) -> None:
    """The title in large type where it fits, else on up to three lines; under it what the page shows."""
    size = LARGE if pencil.width(title, LARGE) <= box.width else BODY
    lines = _at_most(pencil, title, box.width, 3 if size == BODY else 1, size)
    under = _at_most(pencil, below, box.width, 5 - max(len(lines), 2), SMALL)
    steps = [(line, size) for line in lines] + [(line, SMALL) for line in under]
    heights = [pencil.height(each) * 1.12 for _, each in steps]
    y = box.y + (box.height - sum(heights)) / 2
    for number, ((line, each), high) in enumerate(zip(steps, heights, strict=True)):
        named = number < len(lines)
        colour = theme.ink if named else theme.quiet
        pencil.text(box.x, y + high / 2, line, colour, each, bold=named and size == BODY)
        y += high


def _at_most(ruler: Ruler, text: str, width: float, most: int, size: float) -> list[str]:
    """The text on no more lines than that, cut short only where they do not hold it."""
    lines = ruler.wrap(text, width, size, bold=size == BODY)
    rest = " ".join(lines[most - 1 :])
    return [*lines[: most - 1], ruler.elide(rest, width, size, bold=size == BODY)] if rest else lines
