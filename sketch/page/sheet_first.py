"""What stands on the first page beside the drawings: all that a client needs to decide."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, groupby
from operator import itemgetter

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.sheet_advice import FEWEST, advice, also_judged, in_paragraphs, work
from sketch.page.sheet_basis import limit_words, maker_words, weather_words
from sketch.page.sheet_cases import (
    changes_of,
    pumps_of,
    under_like_conditions,
)
from sketch.page.sheet_changes import NEW, change_table, in_a_line
from sketch.page.sheet_frame import TWO_LINES, Panel, Sheet, case_name
from sketch.page.sheet_parts import SHEET_PARTS
from sketch.page.sheet_stakes import how_sure, why_it_matters
from sketch.page.sheet_text import CAUTIONS, SCALED
from sketch.page.table import Table
from solver.field.as_read import AsRead
from solver.field.compared import STOP
from solver.findings.criteria import Finding
from solver.findings.judgement import OF_CASES, Judgement
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity
from solver.findings.outlook import unsound_pumps
from solver.layout.parts import Level
from solver.ledger.solve import PumpLedger
from solver.quantities.units import System
from solver.quantities.wording import capitalised, uncapitalised
from solver.report.as_built import as_built
from solver.report.assumptions import particular
from solver.report.cautions import cautions
from solver.report.choosing import advised_on, is_enough_cleaned, rebuilds
from solver.report.defaults import defaults

Contents = Sequence[tuple[str, int]]
"""What stands behind the first page, and where each begins."""


@dataclass(frozen=True, slots=True)
class Telling:
    """How much the first page tells."""

    most: int  # of findings, and of everything else that is no change
    changes: int = sys.maxsize  # of the alternative
    new: int = NEW  # parts that cost something, in the table of what it buys
    short: bool = False  # of what it buys the budget, what is spent of it and the margin alone
    assumptions: int = 0  # besides the foremost


TELLINGS = (
    *map(Telling, (3, 2, 1)),
    *(Telling(1, new=new) for new in (1, 0)),
    *(Telling(1, changes, new=0) for changes in (8, 5)),
    *(Telling(0, changes, short=True) for changes in (sys.maxsize, 8, 5, 3)),
)
"""To be tried until one fits: the parts in the table go last, after all but the first changes. None tells
all: whoever decides reads this page, and what does not carry the decision stands behind it."""

CARRYING = 1
"""Assumptions of a drawing's own that the first page carries in any case."""

MOST_CASES = 2
"""Cases that a finding names on the first page; of more it is said how many they are."""

NOTHING_BUILT = "Nothing of the line is built for it."

NO_ROOM = " that this page has no room for"

NOTHING = "No stop and no caution{}. Only the line is judged."
BY_READINGS = "Nothing by the drawing; what was read stands under Recommendation."


def continued(sheet: Sheet) -> str:
    """Where the text goes on that this page cuts off."""
    page = sheet.behind.get(SHEET_PARTS["rest"].title)
    return f"Continued on page {page}." if page else f"There is more{NO_ROOM}."


def _where(sheet: Sheet, part: str) -> str:
    """On which pages behind this one a part stands."""
    title = SHEET_PARTS[part].title
    page = sheet.behind.get(title)
    if page is None:
        return NO_ROOM
    end = sheet.ends.get(title, page)
    if end == page:
        return f", page {page}"
    return f", pages {page} {'and' if end == page + 1 else 'to'} {end}"


def first_pages(sheet: Sheet, telling: Telling) -> Iterator[tuple[Block, ...]]:
    """What changes and buys, what remains, what to do, what it is based on; then with what it buys behind
    what to do, as its table is not torn, and leaves a gap where it does not fit.

    With one or none of each it is set as tightly as it can be.
    """
    sections = [tuple(section) for section in _sections(sheet, telling)]
    table = tuple(bought(sheet, telling))
    for at in TABLE_AFTER if table else TABLE_AFTER[:1]:
        blocks = (block for section in (*sections[:at], table, *sections[at:]) for block in section)
        yield tuple(blocks if telling.most > 1 else _run_in(blocks))


def shortest_page(sheet: Sheet) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """The text at its shortest: what may end where its room does, and what stands under it in any case."""
    telling = TELLINGS[-1]
    kept = tuple(_run_in(_assumptions(sheet, telling.most)))
    return tuple(block for block in next(first_pages(sheet, telling)) if block not in kept), kept


TABLE_AFTER = (1, 3)
"""Sections before the table of what it buys, the usual place first."""


def _run_in(blocks: Iterable[Block]) -> Iterator[Block]:
    """Headings at the head of the first line under them."""
    heading = ""
    for block in blocks:
        if isinstance(block, Heading):
            heading = f"{block.text}:"
        elif isinstance(block, Paragraph) and heading:
            text = f"{block.lead} {block.text}".strip()
            yield replace(block, text=text, lead=heading, lead_colour=None, tears=not block.keep)
            heading = ""
        else:
            yield replace(block, tears=not block.keep) if isinstance(block, Paragraph) else block


def _sections(sheet: Sheet, telling: Telling) -> Iterator[Iterator[Block]]:
    """All but the table of what an alternative buys."""
    most = telling.most
    if len(sheet.panels) > 1:
        yield _changes(sheet, telling.changes)
    yield _remains(sheet, max(most, 1), in_short=telling.short)
    yield chain(advice(sheet, most), () if telling.short else also_judged(sheet))
    if not telling.short:
        yield work(sheet, most)
    yield cautions_of_built(sheet, most)
    yield _assumptions(sheet, most, telling.assumptions)
    if telling.short:
        yield work(sheet, most)
        yield also_judged(sheet)


def cautions_of_built(sheet: Sheet, most: int) -> Iterator[Block]:
    """Always all that belong to what is recommended; nothing where none does."""
    built, drawn = sheet.built, sheet.panels[0]
    before = None if built is drawn else drawn.judgement.layout
    choices = advised_on(*sheet.choices, sheet.system).chosen.values()
    fixes = () if sheet.other_line else [choice.fix for choice in choices if not choice.serves]
    changed = [fix.layout for fix in fixes if fix is not None]
    texts = cautions(built.judgement, before, sheet.system, changed)
    if texts:
        yield Heading("Cautions", tight=True)
        yield from in_paragraphs(texts, most)


def contents_line(contents: Contents) -> tuple[Paragraph, ...]:
    """What stands behind this page, and on which page; nothing for no contents."""
    if not contents:
        return ()
    return (Paragraph(f"{'; '.join(_by_page(contents))}.", "Behind this page:"),)


def _by_page(contents: Contents) -> Iterator[str]:
    """What begins on each page, and on which, told once for all that does."""
    for page, listed in groupby(contents, key=itemgetter(1)):
        yield f"{', '.join(title for title, _ in listed)}, p. {page}"


def _some(sheet: Sheet, texts: Sequence[str], most: int, left: str, part: str) -> Iterator[tuple[str, bool]]:
    """So many of the texts, then how many are left to a part behind; with each, whether it is such a remark.

    left: what one is called that is left.
    """
    for text in texts[:most]:
        yield text, False
    more = len(texts) - most
    if more > 0:
        yield f"{more} more {left}{_where(sheet, part)}", True


def _changes(sheet: Sheet, most: int) -> Iterator[Block]:
    option = sheet.chosen.option
    if sheet.other_line:
        yield Heading("What is compared", tight=True)
        yield Paragraph(
            f"{sheet.other_line.removeprefix(f'{TWO_LINES}: ')}.", f"{TWO_LINES}:", sheet.theme.caution
        )
        return
    yield Heading(f"What changes: {option.title}", tight=True)
    changed = (*(each.needs for each in pumps_of(sheet, option)), *changes_of(sheet, option))
    left = _several("change", len(changed) - most)
    named = [text for text, _ in _some(sheet, changed, most, left, "cases")]
    yield Paragraph("; ".join(named) + "." if named else "Nothing that matters.")
    if not rebuilds(sheet.panels[0].judgement.layout, sheet.chosen.judgement.layout):
        yield Paragraph(NOTHING_BUILT)


def _several(name: str, number: int, *, counted: bool = False) -> str:
    text = name if number == 1 else f"{name}s"
    return f"{number} {text}" if counted else text


def bought(sheet: Sheet, telling: Telling) -> Iterator[Block]:
    """The bars, in the case that decides as the drawing stands; nothing where no alternative is beside it.

    Where cleaning comes first and is enough, they are of that.
    """
    cleaned = tuple(_cleaned(sheet, telling))
    yield from cleaned
    if cleaned or len(sheet.panels) < 2 or sheet.other_line:
        return
    before, (option, conditions) = sheet.panels[0], under_like_conditions(sheet)
    yield Heading("What it buys", tight=True)
    pump, case = before.place.pump, before.place.case
    after = None if option is None else option.ledger(pump, case)
    whose = f"For {pump}, {case_name(case)}, {_why_shown(sheet, before)}"
    if option is None or after is None:
        title = sheet.chosen.option.title
        yield Paragraph(f"{whose}: not to be compared, as {title} has no ledger of it there.")
        return
    least = [each.worst(pump) for each in (sheet.drawn, option)]
    margins = tuple(place.ledger.margin for place in least if place is not None)
    other = margins != (before.ledger.margin, after.margin)
    worst = (margins[0], margins[1]) if other and len(margins) == 2 else None
    yield Paragraph(f"{whose}.{conditions}", quiet=True, keep=True)
    yield _bars(telling, (before.ledger, after), ("Before", "After"), sheet.system, worst)


def _cleaned(sheet: Sheet, telling: Telling) -> Iterator[Block]:
    """What cleaning buys where the line is over as read, in that pump and case."""
    drawn, _ = sheet.choices
    read, place = drawn.as_read, sheet.panels[0].read_place(sheet.system)
    after = None if place is None else sheet.drawn.ledger(place.pump, place.case)
    if read is None or place is None or after is None or not is_enough_cleaned(drawn):
        return
    yield Heading("What cleaning buys", tight=True)
    whose = f"For {place.pump}, {case_name(place.case)}, with {read.most} as read, then as drawn"
    if len(sheet.panels) < 2:
        yield in_a_line(whose, place.ledger.margin, after.margin, sheet.system)
        return
    yield Paragraph(f"{whose}.", quiet=True, keep=True)
    yield _bars(telling, (place.ledger, after), ("As read", "As drawn"), sheet.system)


def _bars(
    telling: Telling,
    ledgers: tuple[PumpLedger, PumpLedger],
    names: tuple[str, str],
    system: System,
    worst: tuple[float, float] | None = None,
) -> Table:
    parts = 0 if telling.short else max(telling.most - 1, FEWEST)
    table = change_table(*ledgers, names, system, parts, worst, telling.new)
    return replace(table, dense=telling.most < FEWEST)


def _why_shown(sheet: Sheet, panel: Panel) -> str:
    """Why the drawing is compared in this case, and of which screens: it decides, unless another pump or case
    was asked for."""
    now, read = "as it is now", sheet.as_read
    screens = "" if read is None else f"{' and '.join(read.names)} as drawn, not as read"
    if read is not None:
        now = f"with {screens}"
    if panel.place == sheet.drawn.worst():
        return f"the worst case {now}"
    if panel.place == sheet.drawn.worst(panel.place.pump):
        return f"its worst case {now}"
    return ", ".join(filter(None, ("the case asked for, which is not the worst", screens)))


def _remains(sheet: Sheet, most: int, *, in_short: bool) -> Iterator[Block]:
    """What is over, not judged or else found, once the alternative is built."""
    judgement, colours = sheet.chosen.judgement, {
        Severity.STOP: sheet.theme.stop, Severity.CAUTION: sheet.theme.caution,
    }  # fmt: skip
    yield from why_it_matters(sheet)
    yield from how_sure(sheet, in_short=in_short)
    read = () if sheet.as_read is None else (_read_as(sheet.as_read, sheet),)
    if len(sheet.panels) > 1 and not sheet.panels[0].read_place(sheet.system):
        yield from read
    yield Heading(_remains_heading(sheet), tight=True)
    lacking = [text for _, text in unsound_pumps(judgement, sheet.system)]
    missing = [f"{case_name(case.name)}: {case.why(sheet.system)}" for case in judgement.not_judged]
    findings = [f for f in judgement.findings if f.severity in colours and f.finding not in OVER_BUDGET]
    stop = sheet.chosen.stop(sheet.system)
    if stop:
        yield Paragraph(f"{stop.text}.", f"{STOP}:", sheet.theme.stop)
    if len(sheet.panels) < 2:
        yield from read
    others = pumps_of(sheet, sheet.chosen.option) if len(sheet.panels) > 1 else ()
    for each in others:
        yield Paragraph(f"{each.needs}.", "To be bought or agreed:", sheet.theme.caution)
    if not (lacking or missing or findings or stop or others or (read and len(sheet.panels) < 2)):
        notes = len(judgement.findings)
        counted = f"; {_several('note', notes, counted=True)}{_where(sheet, 'findings')}" if notes else ""
        yield Paragraph(BY_READINGS if sheet.likely else NOTHING.format(counted))
    for text, remark in _some(sheet, lacking, most, "over", "cases"):
        yield Paragraph(f"{text}.", "" if remark else "Over:", sheet.theme.stop, quiet=remark)
    for text, remark in _some(sheet, missing, most, "not judged", "cases"):
        yield Paragraph(f"{text}.", "" if remark else "Not judged:", sheet.theme.caution, quiet=remark)
    left = _left_as_ordered(sheet)
    for finding in findings[:most]:
        lead = f"{finding.severity.capitalize()}:"
        ends = "" if left is None or (finding.finding, finding.part) in left else ENDED
        yield Paragraph(f"{finding.text}{_held(judgement, finding)}{ends}.", lead, colours[finding.severity])
    more = len(findings) - most
    if more > 0:
        others_left = _several("finding", more)
        yield Paragraph(f"{more} more {others_left}{_where(sheet, 'findings')}.", quiet=True)


ENDED = "; the order of work ends it"


def _left_as_ordered(sheet: Sheet) -> frozenset[tuple[FindingId, str]] | None:
    """Stops and cautions, each of a part, of the alternative with all that is ordered besides; None where
    nothing is, or it cannot be judged."""
    _, after = sheet.choices
    if after is None or sheet.built is not sheet.chosen:
        return None
    together = as_built(after)
    if together is None or together is after.judgement:
        return None
    grave = (Severity.STOP, Severity.CAUTION)
    return frozenset((each.finding, each.part) for each in together.findings if each.severity in grave)


def _remains_heading(sheet: Sheet) -> str:
    """With the name of an alternative that is not what is recommended: what is left then is its own."""
    if len(sheet.panels) < 2:
        return "What speaks against it"
    return "What remains" if sheet.built is sheet.chosen else f"What remains with {sheet.chosen.option.title}"


def _read_as(read: AsRead, sheet: Sheet) -> Paragraph:
    """How the line stands as it was read, which an alternative beside it leaves as it is."""
    when, _, stands = read.text(sheet.system).partition(": ")
    if not stands:
        when, stands = "As the line stands", when
    elif len(sheet.panels) > 1:
        when = f"As the line stands, {uncapitalised(when)}"
    return Paragraph(f"{stands}.", f"{when}:", sheet.theme.stop)


def _held(judgement: Judgement, finding: Finding) -> str:
    """In which of several cases a finding holds, unless it says so itself."""
    cases = () if finding.text.startswith(OF_CASES) else finding.cases
    if not cases or len(cases) == len(judgement.cases):
        return ""
    if len(cases) > MOST_CASES:
        return f" (in {len(cases)} of {len(judgement.cases)} cases)"
    return f" ({', '.join(case_name(case) for case in cases)})"


def _assumptions(sheet: Sheet, most: int, more: int = 0) -> Iterator[Block]:
    """Those that carry the result of what is shown last, and so many more where nothing stands behind."""
    panel = sheet.chosen
    yield Heading("What it is based on", tight=True)
    carrying = [
        f"{each.words}: not so in the figures as drawn"
        for each in (sheet.as_read.screens if sheet.as_read else ())
    ]
    asked = sheet.built is panel and not sheet.other_line
    limits = limit_words(panel, sheet.system)
    limits = limits if sheet.alone else maker_words(panel, sheet.system, asked=asked)
    carrying += [*limits, *weather_words(panel, sheet.system)]
    own = list(particular(panel.solution, sheet.system))
    carrying += own[:CARRYING]
    others = [*own[CARRYING:], _level_in_words(sheet.level), SCALED]
    assumed = sum(1 for _ in defaults(panel.solution, sheet.system))
    values = "1 usual value is" if assumed == 1 else f"{assumed} usual values are"
    others += [f"{values} assumed where no figure is typed"] if assumed else []
    if sheet.alone:
        left = _several("assumption", len(others) - most - more)
        carrying += [text for text, _ in _some(sheet, others, most + more, left, "assumptions")]
    sentences = [f"{capitalised(text)}." for text in carrying]
    release = CAUTIONS[0] if sheet.alone else f"{CAUTIONS[0].partition('. ')[0]}."
    yield from in_paragraphs([*sentences, release], most)


def _level_in_words(level: Level) -> str:
    where = "drawn down by its cylinders" if level == Level.DRAWN_DOWN else f"at its {level} level"
    return f"the fluid of every reservoir is {where}, unless a case says otherwise"
