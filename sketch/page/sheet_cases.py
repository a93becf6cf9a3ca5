"""Every alternative in every case, each figure once, and what each alternative changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.options import Option, side_by_side
from sketch.page.sheet_changes import counted, figure, margin_gain
from sketch.page.sheet_frame import Sheet, case_name
from sketch.page.table import LONGEST, Row, Table, in_lines
from solver.findings.judgement import Judgement, PumpState
from solver.findings.outlook import outlook
from solver.layout.cases import AS_DRAWN
from solver.layout.differences import differences
from solver.ledger.sentences import sentence_of_pump
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, degrees, uncapitalised
from solver.report.as_built import as_built, ordered_changes
from solver.report.case_words import as_drawn_words, case_words
from solver.report.choices import worst_places
from solver.report.choosing import advised_on, does_for
from solver.report.expected import expected_readings, gauge_for
from solver.report.instead import in_its_place
from solver.report.like_conditions import at_conditions_of
from solver.report.measures import measures
from solver.report.other_pumps import OtherPump, other_pumps

EVERY_CASE = "Every case"

FEW, LONGEST_OF_MANY, ROOMY = 4, 10, 28
"""Drawings beside one another; characters in a line of the heading of each where they are more, and where
there is room for it."""

AT_REST, NOT_JUDGED, NOT_FIT, ABSENT = "at rest", "not judged", "not fit to run", "\N{EN DASH}"
DAGGER = "\N{DAGGER}"


def case_blocks(sheet: Sheet) -> Iterator[Block]:
    """The margin of every pump in every case, an alternative a column; then what each comes to."""
    several = len(sheet.options) > 1
    if several:
        yield Heading(side_by_side(sheet.options))
        yield _summary(sheet)
    yield Heading(EVERY_CASE)
    unit = units.unit(Kind.VACUUM, sheet.system)
    judged = [each.judgement for each in sheet.options if each.judgement is not None]
    which = f"a pump is {NOT_FIT}" if len(sheet.options) <= FEW else f"a pump marked {DAGGER} is {NOT_FIT}"
    unfit = f' Why {which} stands under "Findings".' if any(map(_unfit, judged)) else ""
    yield Paragraph(
        f"Margin in {unit}; below zero the pump is over its limit or its column breaks.{unfit}",
        quiet=True, keep=True,
    )  # fmt: skip
    yield replace(_margins(sheet), name=EVERY_CASE)
    yield from _as_ordered(sheet)
    yield from _what_holds(sheet)
    for option in sheet.options:
        if option.judgement is None:
            yield Paragraph(f"{option.why}.", f"{option.title} is not calculated:")
            continue
        for case in option.judgement.not_judged:
            whose = f", {option.title}" if several else ""
            yield Paragraph(f"{case.why(sheet.system)}.", f"Not judged{whose}, {case_name(case.name)}:")
    for option in sheet.options[1:]:
        yield from _differences(sheet, option)


def _as_ordered(sheet: Sheet) -> Iterator[Block]:
    """What the first page says of the line as ordered there: margins, readings, what would do more."""
    if sheet.other_line:
        return
    before, after = sheet.choices
    built = advised_on(before, after, sheet.system)
    together = as_built(built)
    if together is not None and together is not built.judgement:
        changes = " and to ".join(each.text for each in ordered_changes(built))
        which = f"{built.called} and to {changes}" if built.name else f"to {changes}"
        margins = "; ".join(
            sentence_of_pump(place.ledger, sheet.system) + f" ({case_name(place.case)})"
            for _, place in worst_places(together)
        )
        yield Paragraph(f"{which}, built together: {margins}.", "As ordered on page 1:")
    then = built.judgement if together is None else together
    gauge, nothing = gauge_for(then, sheet.system)
    readings = "; ".join(expected_readings(then, None, sheet.system))
    yield Paragraph(f"{readings}; with {gauge}. {nothing}".rstrip(), "At the ports then:")
    if built is after:
        for text in in_its_place(before, built, sheet.system):
            yield Paragraph(text, quiet=True)


def _what_holds(sheet: Sheet) -> Iterator[Block]:
    """What each case has otherwise than the drawing; of an alternative those that are its own."""
    drawn, known = sheet.drawn.solution(AS_DRAWN), set[tuple[str, str]]()
    if drawn is not None:
        yield Paragraph(f"{as_drawn_words(drawn, sheet.system)}.", f"{capitalised(AS_DRAWN)}:")
    for option in sheet.options:
        if option.judgement is None:
            continue
        layout, whose = option.judgement.layout, f", {option.title}" if option.name else ""
        for name, words in case_words(layout, sheet.system):
            if (name, words) not in known:
                note = " ".join(layout.cases[name].note.split()) if name in layout.cases else ""
                yield Paragraph(f"{words}. {note}".rstrip(), f"{capitalised(name)}{whose}:")
            known.add((name, words))


def _margins(sheet: Sheet) -> Table:
    cases = dict.fromkeys(name for each in sheet.options if each.judgement for name in each.judgement.cases)
    pumps = dict.fromkeys(
        name for each in sheet.options if each.judgement for name in each.judgement.layout.pumps
    )
    longest = LONGEST if len(sheet.options) <= FEW else LONGEST_OF_MANY
    headings, roomy = (
        ("Case", "Pump", *(in_lines(each.title, most) for each in sheet.options)) for most in (longest, ROOMY)
    )
    rows: list[Row] = []
    for case in cases:
        for number, pump in enumerate(pumps):
            cells = [
                _cell(option, pump, case, sheet.system)
                + _warmth(sheet, option, pump, case)
                + _fitness(option, pump, case, many=len(sheet.options) > FEW)
                for option in sheet.options
            ]
            rows.append(Row((case if not number else "", pump, *cells), rule=not number and bool(rows)))
    rows += _as_read(sheet)
    return Table(headings, tuple(rows), frozenset((0, 1)), roomy, whole=True, may_tear=True, dense=True)


def _as_read(sheet: Sheet) -> Iterator[Row]:
    """Where a drawing stands worst with its screens as they were read, and an alternative with its own."""
    places = [None if each.as_read is None else each.as_read.far for each in sheet.options]
    for place in dict.fromkeys((each.pump, each.case) for each in places if each is not None):
        cells = (
            figure(each.ledger.margin, sheet.system) + (" breaks" if each.ledger.breaks else "")
            if each is not None and (each.pump, each.case) == place
            else ABSENT
            for each in places
        )
        pump, case = place
        yield Row((f"{AS_READ}, {case_name(case)}", pump, *cells), rule=True)


AS_READ = "as read"


def _cell(option: Option, pump: str, case: str, system: System) -> str:
    judgement = option.judgement
    if judgement is None or pump not in judgement.layout.pumps or case not in judgement.cases:
        return ABSENT
    solution = option.solution(case)
    if solution is None:
        return NOT_JUDGED
    ledger = solution.pumps.get(pump)
    if ledger is None:
        return AT_REST
    return figure(ledger.margin, system) + (" breaks" if ledger.breaks else "")


def _fitness(option: Option, pump: str, case: str, *, many: bool) -> str:
    """That a pump is not fit to run, behind its margin: in words, or by a mark in one of many columns."""
    if option.judgement is None or (pump, case) not in _unfit(option.judgement):
        return ""
    return f" {DAGGER}" if many else f", {NOT_FIT}"


def _unfit(judgement: Judgement) -> set[tuple[str, str]]:
    """The pumps that are within and must not run so all the same, each with its case."""
    places = judgement.pumps_in_cases
    return {(each.pump, each.case) for each in places if each.pump_state is PumpState.UNFIT}


def _warmth(sheet: Sheet, option: Option, pump: str, case: str) -> str:
    """How warm the fluid is, where a case of that name has it otherwise in the drawing itself."""
    drawn, own = sheet.drawn.solution(case), option.solution(case)
    if drawn is None or own is None or pump not in own.pumps:
        return ""
    was, now = (degrees(each.tank_fluid.temperature, sheet.system) for each in (drawn, own))
    return f" at {now}" if now != was else ""


def _summary(sheet: Sheet) -> Table:
    unit = units.unit(Kind.VACUUM, sheet.system)
    headings = ("Drawing", "In its worst case", f"Margin\n{unit}", f"Buys\n{unit}", "Findings")
    rows = []
    for option in sheet.options:
        worst = option.worst()
        if worst is None or option.judgement is None:
            rows.append(Row((option.title, "Not calculated", "", "", ""), quiet=True))
            continue
        read = "".join(panel.not_as_read for panel in sheet.panels if panel.option is option)
        rows.append(
            Row(
                (
                    option.title,
                    _headline(option.judgement, sheet.system) + read + unchanged_there(sheet, option),
                    figure(worst.ledger.margin, sheet.system),
                    _buys(sheet, option, worst.pump) if option.name else "",
                    counted(option.judgement.findings),
                ),
                bold=len(sheet.panels) > 1 and option.name == sheet.chosen.option.name,
            )
        )
    return Table(headings, tuple(rows), frozenset((0, 1, 4)), whole=True, dense=True)


def _buys(sheet: Sheet, option: Option, named: str) -> str:
    """What an alternative buys for the pump that stands worst as drawn, which is named where its line names
    another; nothing can be told where it has no ledger of it."""
    cases = () if option.judgement is None else option.judgement.cases
    base = sheet.drawn.worst(cases=cases)
    after = None if base is None else option.worst(base.pump)
    if base is None or after is None:
        return ABSENT
    gain = margin_gain(base.ledger, after.ledger, sheet.system)
    return gain if base.pump == named else f"{gain} ({base.pump})"


def unchanged_there(sheet: Sheet, option: Option) -> str:
    """Why an alternative buys nothing: in the worst case it is no other line; "" where it is."""
    worst = option.worst()
    base = sheet.drawn.worst() if option.name else None
    if worst is None or base is None or (worst.pump, worst.case) != (base.pump, base.case):
        return ""
    return ", where it changes nothing" if abs(worst.ledger.margin - base.ledger.margin) < SAME else ""


SAME = 0.5
"""Two margins that differ by less are one [Pa]."""


def of_one_file(sheet: Sheet, other: Option) -> str:
    """The alternatives that one file alone has, this one or another set beside it; "" where none has any."""
    own = [each.name for each in (*sheet.options, *sheet.aside) if each.name and not each.file]
    if not own and not other.file_alternatives:
        return ""
    alone = (
        (sheet.file or "this drawing", [name for name in own if name not in other.file_alternatives]),
        (other.file, [name for name in other.file_alternatives if name not in own]),
    )
    texts = [f"; only {file} has {' and '.join(map(_quoted, names))}" for file, names in alone if names]
    return f", not their alternatives{''.join(texts)}"


def _quoted(name: str) -> str:
    return f'"{name}"'


def after_other_conditions(sheet: Sheet) -> str:
    """What margins before and after differ by besides the line, where that is what an alternative is for."""
    before, after = (panel.judgement for panel in (sheet.panels[0], sheet.chosen))
    others = does_for(before, after, sheet.system)
    return f" After it the conditions are others too: {'; '.join(others)}." if others else ""


def under_like_conditions(sheet: Sheet) -> tuple[Option | None, str]:
    """What is set beside the drawing, and what is said of its conditions: the line of another file as it
    would stand under those of the drawing; None where it cannot be judged so."""
    option, drawn = sheet.chosen.option, sheet.drawn.judgement
    if not option.file or option.judgement is None or drawn is None:
        return option, after_other_conditions(sheet)
    alike = at_conditions_of(option.judgement, drawn)
    if alike is None or alike is option.judgement:
        return None if alike is None else option, ""
    of_drawing = f"under the conditions of {sheet.drawn.inside}, not its own"
    return replace(option, judgement=alike), f" {option.title} is counted {of_drawing}."


def _headline(judgement: Judgement, system: System) -> str:
    """What it comes to in its worst case, with the name of that wherever there is another."""
    return outlook(judgement, system, "" if len(judgement.cases) > 1 else AS_DRAWN).headline


def _differences(sheet: Sheet, option: Option) -> Iterator[Block]:
    if option.judgement is None or sheet.drawn.judgement is None:
        return
    changed = (*(each.needs for each in pumps_of(sheet, option)), *changes_of(sheet, option))
    yield Paragraph(
        "; ".join(changed) + "." if changed else "nothing that matters.", f"{option.title} changes:"
    )
    if option.note.strip():
        yield Paragraph(" ".join(option.note.split()), quiet=True, indent=16)


def changes_of(sheet: Sheet, option: Option) -> tuple[str, ...]:
    """What an alternative changes in the drawing, in the words of the parts."""
    if option.judgement is None or sheet.drawn.judgement is None:
        return ()
    if _is_other_line(sheet, option):
        return (uncapitalised(sheet.other_line),)
    return differences(sheet.drawn.judgement.layout, option.judgement.layout, sheet.system)


def _is_other_line(sheet: Sheet, option: Option) -> bool:
    return bool(option.file and sheet.other_line)


def measures_of(sheet: Sheet, option: Option) -> tuple[str, ...]:
    """What an alternative counts on that is kept up, not built."""
    if option.judgement is None or sheet.drawn.judgement is None or _is_other_line(sheet, option):
        return ()
    return measures(sheet.drawn.judgement.layout, option.judgement.layout, sheet.system)


def pumps_of(sheet: Sheet, option: Option) -> tuple[OtherPump, ...]:
    """Pumps that an alternative has to buy, or to have its maker agree to."""
    if option.judgement is None or sheet.drawn.judgement is None or _is_other_line(sheet, option):
        return ()
    return other_pumps(sheet.drawn.judgement.layout, option.judgement.layout, sheet.system)
