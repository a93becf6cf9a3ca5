"""What was found in a drawing and its alternatives, each thing once with where it holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.options import side_by_side
from sketch.page.sheet_basis import source_words
from sketch.page.sheet_frame import Sheet, case_name, cases_text
from solver.findings.criteria import Finding, milder_in
from solver.findings.judgement import Judgement
from solver.findings.kinds import FindingId, Severity
from solver.layout.cases import AS_DRAWN
from solver.report.choices import is_over

SHORT = 40
"""Characters of a source that is repeated rather than looked for above."""

IN_ADVICE = ("Figures are for the case", "The figures of the finding are those of")
"""How advice begins that says itself which case the figures are of."""

MOST_ASIDE = 1
"""Drawings that the first page does not show, of which notes are listed: those of more fill pages."""

INDENT = 16.0
"""Logical pixels."""


@dataclass(frozen=True, slots=True)
class _Holder:
    """A drawing in which something was found."""

    title: str  # "" on a sheet of one drawing
    cases: str
    shown: bool  # whether the first page shows it: what to try is of such a one
    figures_of: str  # the case that the figures are of; "" where they are alike in all
    finding: Finding


@dataclass(frozen=True, slots=True)
class _Row:
    """What was found with the very same words and figures, and where."""

    holders: tuple[_Holder, ...]

    @property
    def finding(self) -> Finding:
        return self.holders[0].finding

    @property
    def shown(self) -> bool:
        return any(holder.shown for holder in self.holders)

    def holds_in(self) -> str:
        """The drawings, by the cases it holds in there."""
        titles: dict[str, list[str]] = {}
        for holder in self.holders:
            titles.setdefault(holder.cases, []).append(holder.title)
        return "; ".join(filter(None, (_held(", ".join(each), cases) for cases, each in titles.items())))

    def advice(self) -> str:
        """What to try, and in which drawing where that is not alike in all of them."""
        if len({holder.finding.advice for holder in self.holders}) == 1:
            return self.finding.advice
        titles: dict[str, list[str]] = {}
        for holder in self.holders:
            if holder.shown or (holder is self.holders[0] and not self.shown):
                titles.setdefault(holder.finding.advice, []).append(holder.title)
        return " ".join(f"For {', '.join(each)}: {text}" for text, each in titles.items() if text)

    def figures_of(self, usual: str) -> str:
        """Which case its figures are of, where that is not the usual one."""
        cases: dict[str, list[str]] = {}
        for holder in self.holders:
            if holder.figures_of:
                cases.setdefault(holder.figures_of, []).append(holder.title)
        if not cases or list(cases) == [usual]:
            return ""
        if len(cases) == 1:
            return f"The figures of the finding are those of {_the_case(*cases)}."
        each = (f"of {_the_case(case)} in {', '.join(titles)}" for case, titles in cases.items())
        return f"The figures of the finding are those {', and those '.join(each)}."


def finding_part(sheet: Sheet) -> Iterator[Block]:
    """What was found, in which cases of which drawings, why it matters, what to try; what was said of another
    one of its kind above is not repeated."""
    yield Heading("Findings")
    yield Columns(tuple(_findings(sheet)))


def _findings(sheet: Sheet) -> Iterator[Block]:
    groups = _grouped(sheet)
    if not groups:
        yield Paragraph("Nothing found within the checks made.")
    every = [row for rows in groups for row in rows]
    usual, source = _usual_case(every), _usual_source(every)
    said = (_unless_named(usual, source) if usual or source else "", _left_out(sheet))
    if any(said):
        yield Paragraph(" ".join(filter(None, said)), quiet=True, keep=True)
    stated: dict[str, str] = {}  # why and by what limit, with the part it was first said of
    for first, *others in groups:
        yield from _headed(sheet, first, stated, usual, source)
        for row in others:
            yield _another(row, first, usual)


def _headed(sheet: Sheet, row: _Row, stated: dict[str, str], usual: str, source: str) -> Iterator[Paragraph]:
    """A finding with why it matters, and the source of its limit."""
    colours = {Severity.STOP: sheet.theme.stop, Severity.CAUTION: sheet.theme.caution}
    finding = row.finding
    lead, colour = f"{finding.severity.capitalize()}:", colours.get(finding.severity, sheet.theme.quiet)
    yield Paragraph(f"{finding.text}.", lead, colour, close=True, keep=True)
    first = stated.get(finding.source, "")
    limit = f"as for {first}" if first and len(finding.source) > SHORT else finding.source
    advice, held = row.advice(), row.holds_in()
    texts = (
        finding.why if finding.severity != Severity.NOTE and finding.why not in stated else "",
        advice,
        f"Source: {source_words(limit)}." if limit and limit != source else "",
        f"{'Holds in' if row.holders[0].title else 'Cases'}: {held}." if held else "",
        "" if advice.startswith(IN_ADVICE) else row.figures_of(usual),
    )
    for text in (finding.why, finding.source):
        stated.setdefault(text, finding.part)
    yield Paragraph(" ".join(filter(None, texts)), indent=INDENT, tears=True)


def _another(row: _Row, first: _Row, usual: str) -> Paragraph:
    """What was found of the kind and at the place of the first, with other figures."""
    whose = f"{first.finding.text.partition(': ')[0]}: "
    text = row.finding.text.removeprefix(whose)
    advice = row.advice() if row.shown else ""
    figures = "" if advice.startswith(IN_ADVICE) else row.figures_of(usual)
    sentences = (f"{row.holds_in()}: {text}.", advice, figures)
    return Paragraph(" ".join(filter(None, sentences)), indent=INDENT, tears=True)


def _usual_case(rows: Sequence[_Row]) -> str:
    """The case of most of the figures that need one; "" where no two share it."""
    numbers = Counter(row.holders[0].figures_of for row in rows if row.holders[0].figures_of)
    case, number = max(numbers.items(), key=lambda each: each[1], default=("", 0))
    return case if number > 1 else ""


def _usual_source(rows: Sequence[_Row]) -> str:
    """The source of most of the limits; "" where no two share it."""
    numbers = Counter(row.finding.source for row in rows if row.finding.source)
    source, number = max(numbers.items(), key=lambda each: each[1], default=("", 0))
    return source if number > 1 and len(source) <= SHORT else ""


def _unless_named(case: str, source: str) -> str:
    """What holds of every finding that names nothing else."""
    figures = f"the figures of what holds in several cases are those of {_the_case(case)}" if case else ""
    limits = f"the source is: {source_words(source)}" if source else ""
    return f"Where nothing else is named, {'; '.join(filter(None, (figures, limits)))}."


def _the_case(case: str) -> str:
    return "the case as drawn" if case == AS_DRAWN else f"the case {case_name(case)}"


def _grouped(sheet: Sheet) -> list[list[_Row]]:
    """Findings of all drawings, the worst first: those of one kind and place together, one for each set of
    words and figures; of what the first page shows first."""
    rows: dict[tuple[Severity, FindingId, str, str], dict[str, list[_Holder]]] = {}
    several = len(sheet.options) > 1
    shown = {panel.option.name for panel in sheet.panels}
    for option in sheet.options:
        if (judgement := option.judgement) is None:
            continue
        for finding in judgement.findings:
            finding = replace(finding, text=f"{finding.text}{_apart(judgement, finding)}")
            if finding.severity == Severity.NOTE and option.name not in shown and _are_aside(sheet):
                continue
            place = (finding.severity, finding.finding, finding.part, finding.key)
            holder = _Holder(
                option.title if several else "",
                cases_text(finding.cases, list(judgement.cases)) + milder_in(finding),
                option.name in shown,
                _figures_of(judgement, finding),
                finding,
            )
            rows.setdefault(place, {}).setdefault(finding.text, []).append(holder)
    return [
        sorted((_Row(tuple(each)) for each in texts.values()), key=lambda row: not row.shown)
        for _, texts in sorted(rows.items(), key=lambda each: each[0][0].rank)
    ]


def _are_aside(sheet: Sheet) -> bool:
    """Whether only stops and cautions are listed of drawings that the first page does not show."""
    return len(sheet.options) - len(sheet.panels) > MOST_ASIDE


def _left_out(sheet: Sheet) -> str:
    """Which findings are not listed; "" where all are."""
    if not _are_aside(sheet):
        return ""
    shown = " and ".join(panel.option.title for panel in sheet.panels)
    return (
        f"Notes are those of {shown}; those of the other alternatives are counted under "
        f'"{side_by_side(sheet.options)}", their stops and cautions are listed here.'
    )


def _apart(judgement: Judgement, finding: Finding) -> str:
    """The case of a thin margin, where its pump is over in another: it reads as if it were not."""
    if finding.finding is not FindingId.THIN_MARGIN:
        return ""
    over = any(each.pump == finding.part and is_over(each) for each in judgement.pumps_in_cases)
    return f" in {_the_case(finding.figures_of or finding.cases[0])}" if over and finding.cases else ""


def _figures_of(judgement: Judgement, finding: Finding) -> str:
    """The case that the figures of a finding are of; "" where it says the same in every case it holds in."""
    place = (finding.finding, finding.part, finding.key)
    texts = {
        each.text
        for case in finding.cases
        for each in judgement.findings_by_case[case]
        if (each.finding, each.part, each.key) == place
    }
    return finding.figures_of if finding.value is not None and len(texts) > 1 else ""


def _held(names: str, cases: str) -> str:
    return f"{names} ({cases})" if names and cases else names or cases
