"""The card for the machine: what a gauge should show, clean to stop, in every case and at rest, on one "
"page."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtGui import QColor, QPainter

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, Ruler
from sketch.look.colours import LIGHT, Theme
from sketch.model.document import Document
from sketch.page.blocks import Block, Paragraph, total_height
from sketch.page.columns import paginate
from sketch.page.paper import FileInfo, Page, paper, usual, write
from sketch.page.table import Row, Table
from sketch.page.writing_grid import WritingGrid
from solver.field import card, cleaning
from solver.field.card import CardRow
from solver.field.compared import STOP
from solver.field.gauges import TYPICAL_RANGE, Gauge
from solver.field.mounts import Mount, correction, mount_of
from solver.field.places import Place
from solver.field.stopping import newest, stop_text
from solver.field.what_to_do import FigureSign, cleaned, parts_to_look_at, sign_of, what_to_do
from solver.findings.cold_line import warm_first
from solver.findings.judgement import Judgement, judged
from solver.findings.outlook import headline_as_drawn, own_headline
from solver.ledger.solve import Solution
from solver.properties.atmosphere import station_pressure
from solver.quantities.units import Kind, System, typeset, unit
from solver.quantities.wording import capitalised, is_none

MARGIN, HEAD, FOOT = 38.0, 34.0, 22.0
LINES, FEWEST_LINES, LINE_HIGH = 6, 2, 24.0
"""Readings to be written down: lines where nothing else is known, at the least, and their height [logical
pixels]."""

DASH, LINE = "\N{EN DASH}", "_" * 9
GAUGE_HEIGHTS = {System.US: 0.3048, System.SI: 0.1}
"""For which the weight of the fluid in a gauge's tube is written down [m]."""

CAUTIONS = (
    "Stop reached or passed: stop the pump first, ask afterwards. Never open, loosen or feel for a leak on a "
    "running or pressurised machine; lock the drive out first. The pump maker's instructions, local codes "
    "and a person licensed for the work come before this card.",
    "Calculated from the drawing, not measured, for the gauges as noted and the atmosphere of this "
    "site; a maker's sea-level figure is no limit here.",
)
NO_FAULT = "{}, where something is wrong: what a gauge shows then is no reading to expect, nor to run on at."
WITH_PLUS = (
    "is a pressure above the atmosphere, any other a vacuum: fit a gauge for both. As the line takes "
    "more, pressure falls, vacuum rises."
)


Call = Callable[[Callable[[], list[Block]]], list[Block]]
"""Calls what works out all that stands on a card: here or on another thread."""


def write_card(
    judgement: Judgement,
    path: Path | str,
    *,
    system: System,
    theme: Theme,
    name: str = "",
    date: datetime.date | None = None,
    file: str = "",
    paper_name: str = "",
    call: Call | None = None,
) -> tuple[Path, ...]:
    """Write the card of a drawing as PDF, SVG or PNG; a page where that holds it.

    Parameters: `judgement`, by all cases; `name`, of the alternative that it is of; `file`, of the drawing;
    `call`, what calls what takes long, None for a call as usual.
    Returns the files written. Raises ValueError for a paper or an ending that is not known, SheetError (an
    OSError) when the file cannot be written.
    """
    target = Path(path)
    on = paper(paper_name or usual(judgement.layout.units), target)
    day = f"{date or datetime.date.today():%Y-%m-%d}"

    def all_blocks() -> list[Block]:
        stop = _stop(judgement, name, system, theme.stop)
        return [*stop, *card_blocks(judgement, system, theme.caution, name=name, file=file)]

    blocks = all_blocks() if call is None else call(all_blocks)
    edge = MARGIN * on.dot
    wide, high = on.size[0] - 2 * edge, on.size[1] - 2 * edge - (HEAD + FOOT) * on.dot
    columns = paginate(_filled(blocks, Ruler(on.dot), wide, high), Ruler(on.dot), wide, high)
    title = f"Card for the machine: {judgement.layout.title or 'untitled drawing'}"
    title += f", {name}" if name else ""
    issue = f"{stated}, " if (stated := judgement.layout.title_block.issue) else ""
    pages: list[Page] = [
        partial(_page, theme, column, title, f"{issue}{day}, page {number} of {len(columns)}")
        for number, column in enumerate(columns, 1)
    ]
    return write(target, on, pages, FileInfo(title, date=date))


def _filled(blocks: Sequence[Block], ruler: Ruler, width: float, room: float) -> list[Block]:
    """The blocks of a card with as many lines to write on as its last page has left, or as a back holds."""
    *others, last = blocks
    assert isinstance(last, WritingGrid)
    left = room - total_height(paginate(others, ruler, width, room)[-1], ruler, width)
    return [*others, last.filling(ruler, width, left if last.fits(ruler, width, left) else room)]


def _page(
    theme: Theme,
    blocks: Sequence[Block],
    title: str,
    under: str,
    painter: QPainter,
    width: float,
    height: float,
    dot: float,
) -> None:
    pencil, edge = Pencil(painter, dot), MARGIN * dot
    pencil.box(Box(0.0, 0.0, width, height), theme.box)
    border = Box(edge - 8 * dot, edge - 8 * dot, width - 2 * edge + 16 * dot, height - 2 * edge + 16 * dot)
    pencil.box(border, None, theme.construction, 1.2)
    size = LARGE if pencil.width(title, LARGE) <= width - 2 * edge else BODY
    head = pencil.elide(title, width - 2 * edge, size, bold=True)
    pencil.text(edge, edge + HEAD * dot / 2 - 2 * dot, head, theme.ink, size, bold=True)
    y = edge + HEAD * dot
    for block in blocks:
        block.paint(pencil, theme, edge, y, width - 2 * edge)
        y += block.height(pencil, width - 2 * edge)
    pencil.text(edge, height - edge - 4 * dot, under, theme.quiet, SMALL)


def _stop(judgement: Judgement, name: str, system: System, colour: QColor) -> Iterator[Block]:
    """What a reading that says stop now was against what is allowed there; nothing where none does."""
    layout = judgement.layout
    text = stop_text(newest(layout, layout.pumps, name), system)
    if text:
        yield Paragraph(f"{text}.", f"{STOP}:", colour)


def card_blocks(
    judgement: Judgement, system: System, colour: QColor, *, name: str = "", file: str = ""
) -> Iterator[Block]:
    """The card: what it stands on, the rows of every pump, cautions, what to do. `colour`: of cautions."""
    layout = judgement.layout
    yield _facts(judgement, system, file)
    solution = _solved(judgement)
    if solution is not None:
        yield _gauge_higher(solution, system)
    for pump in layout.pumps:
        screen = cleaning.screen_to_clean(layout, pump, judgement.cases.values())
        strainer = f" {cleaning.NO_STRAINER}" if screen == "" else ""
        drawn = own_headline(judgement, pump, system)
        if stop_text(newest(layout, [pump], name), system):
            drawn = f"{STOP}, by what was read. {headline_as_drawn(drawn)}"
        yield Paragraph(f"{drawn}.{strainer}", f"{pump}:", keep=True)
    look_at = parts_to_look_at(layout)
    groups = [card.rows(judgement, pump, system) for pump in layout.pumps]
    every = [row for rows in groups for row in rows]
    off = card.gauge_error(every, layout, system) or "error"
    yield _readings(every, system, off, screened="strainer" in look_at)
    if faults := card.fault_cases(judgement):
        yield Paragraph(NO_FAULT.format(", ".join(f'"{name}"' for name in faults)), "Without a row:")
    if sign_of(every) is not FigureSign.VACUUM:
        yield Paragraph(WITH_PLUS, "A figure with a plus", keep=True)
    for text in card.coarse_gauges(every, layout, system):
        yield Paragraph(text, "Gauge:", colour)
    for pump, rows in zip(layout.pumps, groups, strict=True):
        if any(row.over and row.line_cold for row in rows):
            yield Paragraph(warm_first(pump), "Caution:", colour)
    yield Paragraph(f"{card.low_day_words(layout, system)}.", "A low-pressure day:")
    for text in CAUTIONS:
        yield Paragraph(text, "Caution:", colour)
    yield _what_to_do(every, look_at)
    yield written_down(system)


def _solved(judgement: Judgement) -> Solution | None:
    return next((case.solution for case in judgement.cases.values() if case.judged), None)


def _facts(judgement: Judgement, system: System, file: str) -> Block:
    """What the figures stand on, in two columns of names and figures."""
    layout, solution = judgement.layout, _solved(judgement)
    built = f"built {layout.built}" if layout.built else "date built not noted"
    mounts = [mount_of(layout, Place(pump)) for pump in layout.pumps]
    facts = [
        ("Drawing", f"{file}, {built}" if file else built),
        ("Fluid", layout.fluid.name),
        *(_site_facts(judgement, solution, system) if solution is not None else ()),
        *_gauge_facts(mounts, system),
    ]
    half = (len(facts) + 1) // 2
    facts += [("", "")] * (2 * half - len(facts))
    rows = tuple(Row((*facts[at], *facts[half + at])) for at in range(half))
    return Table(("", "", "", ""), rows, frozenset(range(4)), dense=True)


def _gauge_facts(mounts: Sequence[Mount], system: System) -> Iterator[tuple[str, str]]:
    """The gauge at the port of each pump; in one line where they are alike."""
    alike = len({replace(mount, place=mounts[0].place) for mount in mounts}) == 1
    for mount in mounts[:1] if alike else mounts:
        whose = "" if alike else f" of {mount.place.pump}"
        yield f"Gauge{whose}", _gauge(mount.gauge, system)
        yield f"Its height over the port{whose}", _fitted(mount, system)


def _gauge(gauge: Gauge, system: System) -> str:
    """A gauge by its name, or a line to write it on, and the error that is taken off the limit."""
    error = typeset(gauge.error, Kind.VACUUM, system)
    plain = gauge.accuracy is None and gauge.range is None
    span = typeset(TYPICAL_RANGE, Kind.VACUUM, system)
    noted = f"assumed class 1.6 of {span}" if plain else "as noted"
    return f"{gauge.name or LINE} {noted}: {error} off at most"


def _fitted(mount: Mount, system: System) -> str:
    """Its height and its tube; lines to write them on where they are not noted."""
    if not mount.known:
        return f"{LINE} tube: full / empty; figures are at the port"
    high = "any" if mount.over_port is None else typeset(mount.over_port, Kind.LENGTH, system)
    return f"{high}, tube {'full' if mount.full else 'empty'}: figures are as it shows them"


def _gauge_higher(solution: Solution, system: System) -> Block:
    """What the fluid in the tube of a gauge weighs that is not at the height of its place."""
    high = GAUGE_HEIGHTS[system]
    weight = typeset(correction(solution, next(iter(solution.pumps)), high), Kind.VACUUM, system)
    text = f"shows {weight} more vacuum, or less pressure, for each {typeset(high, Kind.LENGTH, system)}"
    return Paragraph(f"{text}; lower down the reverse.", "A gauge higher up, its tube full,")


def _site_facts(judgement: Judgement, solution: Solution, system: System) -> Iterator[tuple[str, str]]:
    layout, elevation = judgement.layout, solution.elevation
    yield "Elevation", "not typed" if elevation is None else typeset(elevation, Kind.ELEVATION, system)
    yield (
        "Barometer",
        f"{typeset(station_pressure(layout.site), Kind.ABSOLUTE, system)}, before any allowance",
    )


def _readings(rows: Sequence[CardRow], system: System, off: str, *, screened: bool) -> Block:
    """The table that readings are written into; each place under its name where there are several.

    off: what "stop at" has taken off for the gauge.
    """
    serviced, clean = cleaned(rows), ", strainers clean" if screened else ""
    measured = "vacuum" if sign_of(rows) is FigureSign.VACUUM else "vacuum, or pressure (+),"
    headings = (
        f"State of the machine{clean}; {measured} in {unit(Kind.VACUUM, system)}",
        "Expected",
        *(["Clean at"] if serviced else []),
        "Limit",
        "Limit, low-\npressure day",
        f"Stop at, less\ngauge's {off}",
    )
    count = len(headings)
    words = frozenset((0,))
    several, lines, place = len({row.place for row in rows}) > 1, list[Row](), None
    for row in rows:
        if several and row.place != place:
            place = row.place
            lines.append(Row((_where(place, system), *[""] * (count - 1)), bold=True, rule=True))
        lines.append(_row(row, system, serviced))
    return Table(headings, tuple(lines), words)


def _row(row: CardRow, system: System, serviced: bool) -> Row:
    note = f". {capitalised(row.note)}" if row.note else ""
    cells = (
        f"{row.state}{note}",
        "breaks" if row.breaks else _span(row.clean, system),
        *([row.instead or _from(row.service, system)] if serviced else []),
        *(_at_most(each, system) for each in (row.limit, row.low_day)),
        _stop_at(row, system),
    )
    return Row(cells, rule=True)


def _stop_at(row: CardRow, system: System) -> str:
    """From which reading on to stop, or in short why no reading says so; its words say it at length."""
    if row.over:
        return "any reading"
    if row.over_on_low_day:
        return "by the day"
    if row.stop is None and row.limit is not None and row.note:
        return "too coarse"
    return _from(row.stop, system)


def _where(place: Place, system: System) -> str:
    if not place.run:
        return f"{place.pump}, at its port"
    along = typeset(place.distance, Kind.LENGTH, system)
    return f"{place.pump}, tap on {place.run} at {along} from its start"


def _figure(vacuum: float | None, system: System) -> str:
    """A vacuum without its unit; a plus is pressure above the atmosphere."""
    if vacuum is None:
        return DASH
    if is_none(vacuum, Kind.VACUUM, system):
        return "0.0"
    text = typeset(abs(vacuum), Kind.VACUUM, system).partition(" ")[0]
    return f"+{text}" if vacuum < 0.0 else text


def _at_most(limit: float | None, system: System) -> str:
    """A limit by the way that leads to it: a vacuum rises to it, a pressure falls to it."""
    return _by_sense(limit, system, "at most {}", "at least {}")


def _from(vacuum: float | None, system: System) -> str:
    """A reading from which on something is to be done: at more vacuum, or less pressure, as well."""
    return _by_sense(vacuum, system, "{} or more", "{} or less")


def _by_sense(vacuum: float | None, system: System, of_vacuum: str, of_pressure: str) -> str:
    """A reading in the words for a vacuum, or in those for a pressure above the atmosphere."""
    figure = _figure(vacuum, system)
    if vacuum is None:
        return figure
    return (of_pressure if figure.startswith("+") else of_vacuum).format(figure)


def _span(clean: tuple[float, float] | None, system: System) -> str:
    if clean is None:
        return DASH
    low, high = (_figure(each, system) for each in clean)
    return low if low == high else f"{low} to {high}"


def _what_to_do(shown: Sequence[CardRow], look_at: Sequence[str]) -> Block:
    todo = what_to_do(shown, look_at)
    rows = tuple(Row((reading, f"{capitalised(work)}.")) for reading, work in todo.items())
    return Table(("Reading", "What to do"), rows, frozenset((0, 1)), dense=True)


def written_down(system: System) -> WritingGrid:
    """Room to write readings in as they are made, with what makes them comparable."""
    vacuum = unit(Kind.VACUUM, system)
    headings = (
        ("Date, time", 1.4),
        ("State, or tap", 1.6),
        (f"Fluid, {unit(Kind.TEMPERATURE, system)}", 1.0),
        (f"Speed, {unit(Kind.SPEED, system)}", 1.0),
        (f"Level, {unit(Kind.LENGTH, system)}", 1.0),
        (f"At rest, {vacuum}", 1.1),
        (f"Running, {vacuum}", 1.2),
        ("Noise, foam, work done since", 3.0),
        ("Initials", 0.8),
    )
    return WritingGrid(headings, LINES, FEWEST_LINES, LINE_HIGH)


def write_card_of(
    document: Document, path: Path | str, paper_name: str = "", call: Call | None = None
) -> tuple[Path, ...]:
    """Write the card of what a document shows, in its units. Returns the files written.

    `call` as `write_card`.

    Raises ValueError when nothing is calculated, or for a paper or an ending that is not known; OSError when
    the file cannot be written.
    """
    judgement = document.outcome.judgement
    if judgement is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    shown_in = judged(replace(judgement.layout, units=document.system), judgement.cases)
    return write_card(
        shown_in,
        path,
        system=document.system,
        theme=LIGHT,
        name=document.alternative,
        file=document.path.name if document.path else "",
        paper_name=paper_name,
        call=call,
    )
