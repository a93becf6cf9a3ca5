"""A figure of a ledger is the same to its last digit in every view, file and sentence."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication

from sketch.page.sheet_parts import SHEET_PARTS
from solver.findings.checks import check
from solver.findings.judgement import Judgement
from solver.quantities.adding import as_shown, written
from solver.quantities.units import Kind, System, unit
from solver.report import records, text
from solver.working.working import IN_LEDGER, as_text
from tests.sketch import sheets
from tests.thorough import one_in

Figures = dict[tuple[str, str, str], dict[str, set[str]]]
"""By pump, case and name of a figure: each spelling of it, and where it stands so."""

NUMBER = r"([−+]?\d+(?:\.\d+)?)"
HEADINGS = [re.escape(part.title) for part in SHEET_PARTS.values() if part.title != "Working"]
BOTH = [(name, system) for name in sheets.NAMES for system in System]


def plain(words: str) -> str:
    """On one line, as no view breaks it in the same places."""
    return " ".join(words.replace("\N{NO-BREAK SPACE}", " ").split())


def patterns(system: System) -> Mapping[str, tuple[str, ...]]:
    """How each figure stands in the words of one pump and case."""
    u = unit(Kind.VACUUM, system)
    port = rf"Spent, at the port(?: {NUMBER}| \N{{EN DASH}})(?: {NUMBER}| \N{{EN DASH}})"
    spent = rf"spent: {NUMBER} {u}"
    return {
        "at the port": (
            rf"A gauge at the port shows {NUMBER} {u} of vacuum",
            rf"At the port {NUMBER} {u} vac\.",
            rf" to {{pump}} \({NUMBER} {u}\)",
            rf"V_port = p_atm − p_port.*?= {NUMBER} {u} definition",
        ),
        "allowed": (
            rf"of vacuum; {NUMBER} {u} of vacuum is allowed here",
            rf"Allowed here {NUMBER} {u} vac\.",
        ),
        "budget": (rf"less the floor of [\d.]+ {NUMBER}", rf"Inlet budget, of {{pump}} {NUMBER}"),
        "floor": (rf"less the floor of {NUMBER}", rf"{{pump}}: the least inlet pressure of {NUMBER} {u} abs"),
        "spent": (rf"{spent}", rf"{port} {NUMBER}".replace(NUMBER, r"[−+]?[\d.]+", 2)),
        "pressure at the port": (
            rf"Lowest pressure: {NUMBER} {u} abs at the port of {{pump}}\.",
            rf"{{pump}} is within (?:only if|as long as) that is no more than {NUMBER} {u} abs at the port",
            rf"p_port = p_surface − spent.*?= {NUMBER} {u} energy equation",
        ),
        "margin": (
            rf"margin, to the (?:estimated )?floor {NUMBER} ",
            rf"Margin {NUMBER} {u}",
            rf"{{pump}}: over by {NUMBER} {u}",
        ),
    }  # fmt: skip


def gather(figures: Figures, words: str, where: str, pump: str, case: str, system: System) -> None:
    """All figures of a pump and case that stand in some words; those that a working adds are the ledger's."""
    said = plain(words)
    u = unit(Kind.VACUUM, system)
    for name, each in patterns(system).items():
        for pattern in each:
            for match in re.finditer(pattern.replace("{pump}", re.escape(pump)), said):
                behind = re.match(rf"[^=]*?; {NUMBER} {u} {IN_LEDGER}", said[match.end() :])
                figure = behind[1] if behind and "_port" in pattern else match[1]
                _add(figures, (pump, case, name), figure, where)


def _add(figures: Figures, key: tuple[str, str, str], figure: str, where: str) -> None:
    """Size and two decimals: a working has a digit more, or fewer, and its sign may stand in a word."""
    if "working" in where and not re.fullmatch(r"[−+]?\d+\.\d\d", figure):
        figure = f"{float(figure.replace('−', '-')):.2f}" if _is_finer(figure) else ""
    if figure:
        figures.setdefault(key, {}).setdefault(figure.lstrip("−+-"), set()).add(where)


def _is_finer(figure: str) -> bool:
    return len(figure.partition(".")[2]) > 2


def sections(words: str, judgement: Judgement) -> Iterator[tuple[str, str]]:
    """What stands of each pump in the ledgers of a terminal."""
    ledgers = words.partition("\nCases, the worst first")[0].partition("\nFindings")[0]
    starts = [(ledgers.find(f"\n{pump}: takes in"), pump) for pump in judgement.layout.pumps]
    known = sorted((at, pump) for at, pump in starts if at >= 0)
    for (at, pump), (end, _) in zip(known, [*known[1:], (len(ledgers), "")], strict=True):
        yield pump, ledgers[at:end]


def from_terminal(figures: Figures, judgement: Judgement, system: System) -> None:
    """The ledger as text, which is also what the window copies, the working, the page and CSV."""
    for case, judged in judgement.cases.items():
        if judged.solution is None:
            continue
        for pump, words in sections(text.report(judgement, case), judgement):
            gather(figures, words, "terminal", pump, case, system)
        for pump in judged.solution.pumps:
            gather(figures, as_text(judged.solution, pump, system, case=case), "working", pump, case, system)
        for finding in check(judged.solution, system=system):
            own = next((pump for pump in judged.solution.pumps if finding.text.startswith(f"{pump}:")), "")
            if own:
                gather(figures, f"{finding.text}. {finding.advice}", "findings", own, case, system)


def from_csv(figures: Figures, judgement: Judgement, system: System) -> None:
    """CSV has values in SI, which are rounded here as a ledger does: the budget is of two."""
    for row in csv.DictReader(io.StringIO(records.heading() + records.table(judgement, "file"))):
        floor, margin, surface = (
            as_shown(each, Kind.VACUUM, system)
            for each in (
                float(row["floor_Pa"]),
                float(row["margin_Pa"]),
                float(row["floor_Pa"]) + float(row["budget_Pa"]),
            )
        )
        for name, own in (("budget", surface - floor), ("floor", floor), ("margin", margin)):
            _add(figures, (row["pump"], row["case"], name), written(own), "CSV")


def from_sheet(figures: Figures, name: str, judgement: Judgement, system: System) -> None:
    """Every page of a sheet of the drawing alone, with its working: each pump in the case it is worst in."""
    words = sheets.words(sheets.written(name, system=system, parts=frozenset({"working"})))
    worst = judgement.worst()
    assert worst is not None
    if "Margin as read" not in words:  # which is of the drawing with its screens as they were read
        gather(figures, words.partition(" Ledger of ")[0], "sheet, page 1", worst.pump, worst.case, system)
    pieces = re.split(rf"(?= (?:Ledger|Working) of )|(?= (?:{'|'.join(HEADINGS)}) )", words)
    for piece in pieces[1:]:
        of = re.match(r" (?:Ledger|Working) of (.+?)[,:] (?:The drawing itself, )?", piece)
        if of is None:
            continue
        cases = [case for case in judgement.cases if piece[of.end() :].lstrip('"').startswith(case)]
        if of[1] in judgement.layout.pumps and cases:
            where = "sheet, working" if piece.startswith(" Working") else "sheet, ledger"
            gather(figures, piece, where, of[1], max(cases, key=len), system)


def shown(name: str, system: System) -> Judgement:
    return sheets.options_of(name, system)[0].judgement


@pytest.mark.parametrize(("name", "system"), one_in(9, BOTH, several=True))
def test_a_figure_is_the_same_to_its_last_digit_wherever_it_is_shown(
    qapp: QApplication, name: str, system: System
) -> None:
    judgement, figures = shown(name, system), Figures()
    judgement = replace(judgement, layout=replace(judgement.layout, units=system))
    from_terminal(figures, judgement, system)
    from_csv(figures, judgement, system)
    from_sheet(figures, name, judgement, system)
    unlike = {key: spellings for key, spellings in figures.items() if len(spellings) > 1}
    assert unlike == {}
    places = {where for spellings in figures.values() for each in spellings.values() for where in each}
    assert {"terminal", "working", "CSV"} < places
    assert {"sheet, ledger", "sheet, working"} < places
