"""What every page of a sheet has: paper, border, and the title block, laid out by what it has to say."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sketch.drawing.labels import Box
from sketch.drawing.pencil import SMALL, Pencil, Ruler
from sketch.look.colours import Theme
from sketch.page.logo import Logo
from sketch.page.options import Option, best_of
from sketch.page.title_painting import TitleText, paint_title, title_height
from solver.field.age import ReadingDates
from solver.field.as_read import AsRead, as_read_first
from solver.field.stopping import Above, Newest, farthest_above, newest, stopped
from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook, of_pump, outlook, own_headline
from solver.layout.cases import AS_DRAWN as DRAWN
from solver.layout.differences import differences
from solver.layout.parts import Level
from solver.layout.title_block import TitleBlock
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import ledger_absolute
from solver.report.choices import worst_places
from solver.report.choosing import JudgedDrawing, is_enough_cleaned, to_build
from solver.report.clearing import cautions_in_short
from solver.report.other_line import other_line
from solver.report.uncertainty import DecidingTrials

LEAST_INLET, LEAST_INLET_SHORT = "least inlet pressure", "least inlet"
"""What the floor is called on paper, where nothing explains the word under a pointer; and beside a column of
pressures."""

NOT_NEEDED = "a choice, for cleaning alone is enough"

AS_PICTURED = "as every picture shows it"
"""Behind "as drawn", where the verdict over a picture is of the line as it was read."""

TITLE_SHARE = 0.125
"""Of the height of the first page: a title block that would take more is set closer."""

MARGIN = 34.0
STRIP = 24.0
GAP = 22.0
"""Logical pixels: page margin, the line in the place of the title block behind the first page, its gap."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One drawing on the sheet, in the case in which it is shown: the worst one unless asked for another."""

    option: Option
    place: PumpInCase
    solution: Solution
    highest_port: float | None  # [m]; None where there is none to show
    highest_text: str
    highest_shortest: str = ""  # as it stands on half a page
    as_read: AsRead | None = None  # with its screens as read, where one is past what is allowed or due
    newest: Newest = field(init=False, repr=False, compare=False)  # readings; a page asks a thousand times

    def __post_init__(self) -> None:
        layout, line = self.judgement.layout, "" if self.option.file else self.option.name
        object.__setattr__(self, "newest", newest(layout, layout.pumps, line))

    @property
    def judgement(self) -> Judgement:
        """What the drawing comes to in all its cases."""
        assert self.option.judgement is not None  # what has a place was judged
        return self.option.judgement

    @property
    def pump(self) -> str:
        """The pump that it is shown for."""
        return self.place.pump

    @property
    def ledger(self) -> PumpLedger:
        """The ledger of the pump, in the case shown."""
        return self.place.ledger

    @property
    def not_as_read(self) -> str:
        """Which screens its figures have as typed, though they were read as blocked; "" where none."""
        screens = () if self.as_read is None else self.as_read.names
        return f", {' and '.join(screens)} as drawn, not as read" if screens else ""

    def stop(self, system: System) -> Above | None:
        """The newest reading of it that is farthest past what is allowed there; None where none is."""
        return farthest_above(self.newest, system)

    def outlook(self, system: System, named: Collection[str] = ()) -> Outlook:
        """What it comes to in all its cases, and before that what its newest readings say.

        named: the pumps that it says this of, besides those that must not run so.
        """
        drawn = outlook(self.judgement, system, self.place.case)
        first = as_read_first(stopped(drawn, self.stop(system)), self.as_read, system, AS_PICTURED)
        cautions = cautions_in_short(self.judgement) if first.severity is Grade.CAUTION else ""
        beneath = (first.beneath, *self._others(system, named), self._not_its_own, cautions)
        return replace(first, beneath=". ".join(filter(None, beneath)))

    def read_place(self, system: System) -> PumpInCase | None:
        """Where it stands as read, where the verdict is of that; None where it is of the line as drawn."""
        if self.as_read is None or not self.as_read.is_over:
            return None
        drawn = stopped(outlook(self.judgement, system, self.place.case), self.stop(system))
        return None if drawn.severity is Grade.STOP else self.as_read.far

    @property
    def _not_its_own(self) -> str:
        """That readings of its file say nothing of it; "" where none is of the line before."""
        count = self.option.shared_readings
        which = "1 reading in its file was" if count == 1 else f"{count} readings in its file were"
        return f"{which} taken on the line before: how it stands as read is not known" if count else ""

    def _others(self, system: System, named: Collection[str]) -> Iterator[str]:
        """Every pump that must not run so or is among those named, but for the one of the verdict."""
        worst = self.judgement.worst()
        for pump, _ in worst_places(self.judgement):
            if pump in {*named, *self.not_to_run} and worst is not None and pump != worst.pump:
                yield of_pump(pump, own_headline(self.judgement, pump, system, self.place.case))

    @property
    def not_to_run(self) -> tuple[str, ...]:
        """The pumps that must not run so."""
        return tuple(
            pump
            for pump, place in worst_places(self.judgement)
            if place.pump_state is PumpState.UNFIT or not place.ledger.sound
        )

    @property
    def shown_as(self) -> str:
        """Which case and pump the figures belong to."""
        return f"{self.pump}, {case_name(self.place.case)}"


def case_name(case: str) -> str:
    """A case as a sheet names it."""
    return case if case == DRAWN else f'"{case}"'


def cases_text(held: Sequence[str], cases: Sequence[str]) -> str:
    """In which of the cases; "" where there is one alone."""
    if len(cases) < 2:
        return ""
    others = [name for name in cases if name not in held]
    if not others:
        return "every case"
    if len(others) < len(held):
        return f"every case but {', '.join(map(case_name, others))}"
    return ", ".join(map(case_name, held))


TWO_LINES = "Two different lines, not one before and after a change"


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
    aside: tuple[Option, ...] = ()  # alternatives that were not asked for
    file: str = ""  # what the drawing is kept in
    notes: str = ""  # of the drawing
    title_block: TitleBlock = field(default_factory=TitleBlock)
    logo: Logo | None = None
    alone: bool = False  # the first page has nothing behind it
    priming_plan: str = ""  # its heading, where a page behind the first has it
    if_left: str = ""  # what it costs to leave the line as it is
    trials: tuple[DecidingTrials, ...] = ()  # of the panels, each in the case that decides
    likely: tuple[str, ...] = ()  # what the newest readings come from, where one cause is far likelier
    read_on: ReadingDates | None = None  # when the drawing itself was read; None where it was not
    behind: Mapping[str, int] = field(
        default_factory=dict
    )  # parts by their titles, and the pages they begin on
    ends: Mapping[str, int] = field(default_factory=dict)  # the parts, and the pages they end on
    continued: frozenset[str] = frozenset()  # what the first page has no room for of its sections

    @property
    def drawn(self) -> Option:
        """The drawing itself."""
        return self.options[0]

    @property
    def as_read(self) -> AsRead | None:
        """The drawing itself with its screens as read, where one is past what is allowed or due."""
        return self.panels[0].as_read

    @property
    def chosen(self) -> Panel:
        """The drawing that is shown, or the alternative beside it."""
        return self.panels[-1]

    @property
    def choices(self) -> tuple[JudgedDrawing, JudgedDrawing | None]:
        """The drawing as it stands, and the alternative beside it, as a recommendation takes them."""
        first, *others = (
            JudgedDrawing(
                panel.option.name,
                panel.judgement,
                panel.option.advice,
                choices=panel.option.choices,
                note=panel.option.note,
                unchanged=panel.option.unchanged,
            )
            for panel in self.panels
        )
        first = replace(first, as_read=self.as_read)
        if self.other_line:
            return first, None
        base = first.judgement.layout
        return first, replace(others[-1], base=base) if others else None

    @property
    def other_line(self) -> str:
        """Why the file beside the drawing is of another line, which nothing is recommended of; "" where it is
        not."""
        if len(self.panels) < 2 or not self.chosen.option.file:
            return ""
        why = other_line(self.panels[0].judgement.layout, self.chosen.judgement.layout)
        return f"{TWO_LINES}: {why}" if why else ""

    def outlook(self, panel: Panel) -> Outlook:
        """What a drawing comes to, with every pump that one of both must not run so, as it stands in this."""
        return panel.outlook(self.system, {pump for each in self.panels for pump in each.not_to_run})

    @property
    def best_aside(self) -> JudgedDrawing | None:
        """The alternative that stands best, where it is not on the page because another was asked for."""
        best = best_of((*self.options[1:], *self.aside), self.drawn)
        shown = [panel.option.name for panel in self.panels]
        if len(shown) < 2 or best is None or best.judgement is None or best.name in shown:
            return None
        base = None if best.file else self.panels[0].judgement.layout
        return JudgedDrawing(best.name, best.judgement, {}, base=base, as_read=best.as_read)

    def heading(self, panel: Panel) -> str:
        """What stands over a drawing: its name, and of an alternative that nothing asks for that it is so."""
        drawn, shown = (each.judgement.layout for each in (self.panels[0], panel))
        if not is_enough_cleaned(self.choices[0]) or not differences(drawn, shown, self.system):
            return panel.option.title
        return f"{panel.option.title}: {NOT_NEEDED}"

    @property
    def old_reading(self) -> str:
        """That its newest reading is too old to decide by at the date of the sheet; "" where it is not."""
        if self.read_on is None or not self.date:
            return ""
        return self.read_on.sentence(datetime.date.fromisoformat(self.date))

    @property
    def built(self) -> Panel:
        """The line that is recommended: card and plan are of it. The drawing itself where that stays."""
        before, after = self.choices
        return self.panels[0] if to_build(before, after, self.system) is before else self.chosen

    def line_name(self, panel: Panel) -> str:
        """Which of several lines a page is of, to stand behind its heading; "" where there is one alone."""
        return panel.option.name or (panel.option.title if len(self.options) > 1 else "")


@dataclass(frozen=True, slots=True)
class Folio:
    """Which page of how many, and what its title block says."""

    number: int
    total: int
    under: str = ""  # under the title: what the page shows
    scale: str = ""


def later_body(width: float, height: float, dot: float) -> Box:
    """What the frame leaves of every page after the first [device units]; `dot`: one point in them."""
    return _body(width, height, dot, STRIP * dot)


def first_body(ruler: Ruler, sheet: Sheet, folio: Folio, width: float, height: float) -> Box:
    """What the frame and the title block leave of the first page [device units]."""
    return _body(width, height, ruler.dot, _title_height(ruler, sheet, folio, width, height))


def _body(width: float, height: float, dot: float, foot: float) -> Box:
    edge = MARGIN * dot
    return Box(edge, edge, width - 2 * edge, height - 2 * edge - foot - 8 * dot)


def _title_height(ruler: Ruler, sheet: Sheet, folio: Folio, width: float, height: float) -> float:
    room = width - 2 * MARGIN * ruler.dot
    return title_height(ruler, _title_text(sheet, folio), room, TITLE_SHARE * height)


def paint_frame(pencil: Pencil, sheet: Sheet, folio: Folio, width: float, height: float) -> None:
    """Paper and border; the title block on the first page, a line in its place on every other."""
    dot, edge, theme = pencil.dot, MARGIN * pencil.dot, sheet.theme
    pencil.box(Box(0.0, 0.0, width, height), theme.paper)
    first = folio.number == 1
    foot = _title_height(pencil, sheet, folio, width, height) if first else STRIP * dot
    block = Box(edge, height - edge - foot, width - 2 * edge, foot)
    border = Box(edge - 8 * dot, edge - 8 * dot, width - 2 * edge + 16 * dot, height - 2 * edge + 16 * dot)
    pencil.box(border, None, theme.construction, 1.2)
    pencil.lines([((border.x, block.y), (border.right, block.y))], theme.construction)
    if first:
        paint_title(pencil, theme, _title_text(sheet, folio), block, TITLE_SHARE * height)
    else:
        _strip(pencil, sheet, folio, block)


def _strip(pencil: Pencil, sheet: Sheet, folio: Folio, block: Box) -> None:
    middle = block.y + block.height / 2 + 3 * pencil.dot
    right = f"{sheet.date}    Page {folio.number} of {folio.total}"
    pencil.text(block.right, middle, right, sheet.theme.quiet, SMALL, align=1.0)
    room = block.width - pencil.width(right) - GAP * pencil.dot
    text = next((each for each in _issues(sheet) if pencil.width(each) <= room), sheet.title)
    pencil.text(block.x, middle, pencil.elide(text, room, SMALL), sheet.theme.quiet, SMALL)


def _issues(sheet: Sheet) -> tuple[str, ...]:
    """What a later page is of, in full and without the client's name, which stands on the first."""
    block = sheet.title_block
    return tuple(
        f"{sheet.title}    {text}".rstrip() for text in (block.issue, replace(block, client="").issue)
    )


WIDEST = 1000.0
"""How many times smaller than life a drawing may be, for which the title block has room."""


def scale_text(ratio: float) -> str:
    """The scale of a drawing that is so many times smaller than life, and what is not drawn to it."""
    return f"1 : {ratio:g}, symbols larger"


def _title_text(sheet: Sheet, folio: Folio) -> TitleText:
    """What the title block says; what is empty is left out."""
    arrow, block = " \N{RIGHTWARDS ARROW} ", sheet.title_block
    fluids = dict.fromkeys(_fluid(panel, sheet.system) for panel in sheet.panels)
    sites = dict.fromkeys(_site(panel.solution, sheet.system) for panel in sheet.panels)
    pumps = dict.fromkeys(panel.pump for panel in sheet.panels)
    levels = dict.fromkeys(str(panel.solution.level) for panel in sheet.panels)
    fields = (
        ("Client", block.client),
        ("Project", block.project),
        ("Drawn by", block.drawn_by),
        ("Checked by", block.checked),
        ("Revision", arrow.join(_revisions(sheet))),
        ("Fluid", arrow.join(fluids)),
        ("File", arrow.join(dict.fromkeys(each for each in (sheet.file, sheet.chosen.option.file) if each))),
        ("Site", "; ".join(part for part in (block.site, arrow.join(sites)) if part)),
        ("Pump", arrow.join(pumps)),
        ("Level", arrow.join(levels)),
        ("Scale", folio.scale or scale_text(WIDEST)),
        ("Date", sheet.date),
        ("Page", f"{folio.number} of {folio.total}"),
    )
    stated = tuple((name, text) for name, text in fields if text)
    return TitleText(sheet.title, folio.under, stated, block.company, sheet.logo)


MOST_OF_ROW = 60
"""Characters of what a revision changed, in the title block; the pages behind have the whole list."""


def _revisions(sheet: Sheet) -> Iterator[str]:
    """The revision of the drawing and of another file beside it, with its row of the list."""
    for block in dict.fromkeys(
        (sheet.title_block, *(panel.judgement.layout.title_block for panel in sheet.panels))
    ):
        row = next((each for each in reversed(block.revisions) if each.name == block.revision), None)
        if row is None or not block.revision:
            yield from filter(None, (block.revision,))
            continue
        issued = f"{row.name}, {row.date}" if row.date else row.name
        yield f"{issued}: {row.text}" if row.text and len(row.text) <= MOST_OF_ROW else issued


def _site(solution: Solution, system: System) -> str:
    high = solution.elevation
    over_sea = "" if high is None else f"{typeset(high, Kind.ELEVATION, system)}, "
    return f"{over_sea}{ledger_absolute(solution.atmosphere, system)}"


def _fluid(panel: Panel, system: System) -> str:
    tank, line = panel.solution.tank_fluid, panel.solution.fluid
    text = f"{tank.name}, {typeset(tank.temperature, Kind.TEMPERATURE, system)}"
    return text if line is tank else f"{text}; line {typeset(line.temperature, Kind.TEMPERATURE, system)}"
