"""A calculation in writing: text for a terminal or a plain file, HTML for a page, rows for a sheet."""

from __future__ import annotations

import html
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from solver.formulas.formula import HTML, PLAIN, UNBROKEN, Notation, Symbol
from solver.formulas.steps import Step, Working, symbols_of
from solver.formulas.worked import si_unit
from solver.quantities.units import System
from solver.quantities.wording import printable

WIDTH = 100
NAME = 30
ROOM = WIDTH - NAME
"""Columns of text: all, of the names on the left, of the formulas beside them."""

HEAD = (
    "Each result stands with its formula, the same with numbers in, and its source. Numbers carry their "
    "unit; where units do not fit together, the line in SI has the same numbers in metres, seconds, "
    "kilograms, pascals and kelvins, to be typed into a calculator as they stand. Results are rounded to "
    "four digits, one more than a reading of them earns; what is put in carries as many as it takes to "
    "arrive there. Pressures are absolute unless they are called a vacuum, a gauge pressure or an allowance."
)

CAUTION = (
    "The pump maker's own figures for this pump, fluid and speed come first, then local codes and the "
    "judgement of a licensed engineer."
)


def units_sentence(system: System) -> str:
    """In which units a working is, where these are not SI; "" where they are."""
    if system is System.SI:
        return ""
    return (
        "Figures and results are in US customary units. In SI are absolute temperatures (K), the viscosity "
        "in the formulas of how it falls with temperature (mm²/s, that is cSt), and coefficients per metre, "
        "which have no usual unit there: what they come to is in US customary units again."
    )


class Row(NamedTuple):
    """A step as the words of a table."""

    name: str
    symbol: str
    formula: str  # "" for a given figure
    numbers: tuple[str, ...]  # the formula with numbers in; both sides of an equation, each with its value
    si: str  # the numbers in SI without units, with their result; "" where they would say the same
    result: str
    counted: str  # in what its numbers are counted, where it goes with set units
    source: str  # where the formula or figure comes from, and where it holds
    caution: str


class Section(NamedTuple):
    """A working as the rows of a table."""

    title: str
    rows: tuple[Row, ...]


def sections(workings: Iterable[Working], notation: Notation = PLAIN) -> tuple[Section, ...]:
    """Workings as rows of words."""
    return tuple(Section(w.title, tuple(row(step, notation) for step in w.steps)) for w in workings)


def row(step: Step, notation: Notation = PLAIN) -> Row:
    """A step as words."""
    writing = step.writing(notation)
    numbers = tuple(line.numbers for line in writing.lines)
    if step.implicit:
        numbers = tuple(f"{line.numbers} = {line.result}" for line in writing.lines)
    elif step.counted() and writing.lines[0].result != writing.result:
        numbers = (f"{numbers[0]} = {writing.lines[0].result}",)
    return Row(
        step.name,
        step.symbol(notation),
        step.formula(notation),
        numbers,
        "; ".join(f"{line.numbers} = {line.result}" for line in writing.si_lines),
        writing.result,
        step.counted(notation),
        _source(step),
        step.outside,
    )


def _source(step: Step) -> str:
    parts = (step.source, f"holds for {step.valid}" if step.valid else "")
    return "; ".join(part for part in parts if part)


# Text


def text(title: str, opening: Sequence[str], workings: Sequence[Working]) -> str:
    """A calculation in at most `WIDTH` columns.

    Parameters: `title`; `opening`, sentences under it (the verdict, cautions); `workings` in their order.
    """
    lines = [*_wrap(title), *(line for paragraph in opening for line in _wrap(paragraph)), "", *_wrap(HEAD)]
    for number, working in enumerate(workings, 1):
        lines += ["", *_wrap(f"{number}  {working.title}"), ""]
        lines += [line for step in working.steps for line in _step(step)]
    lines += ["", "Symbols", "", *_symbols(workings)]
    return _joined(lines)


def _joined(lines: Iterable[str]) -> str:
    text = "\n".join(line.replace("\N{NO-BREAK SPACE}", " ") for line in lines)
    return printable(text, keep="\n") + "\n"


def section_text(working: Working) -> str:
    """One working in at most `WIDTH` columns."""
    lines = [*_wrap(working.title), "", *(line for step in working.steps for line in _step(step))]
    return _joined(lines)


def _step(step: Step) -> Iterator[str]:
    shown = row(step, UNBROKEN)
    lines = _given(shown) if not shown.formula else _worked(shown, step.implicit)
    lines += _wrap(f"  {shown.caution}", ROOM, "  ") if shown.caution else []
    names = textwrap.wrap(shown.name, NAME - 4, break_on_hyphens=False)
    for i in range(max(len(lines), len(names))):
        name, line = (column[i] if i < len(column) else "" for column in (names, lines))
        yield f"  {name:<{NAME - 2}}{line}".rstrip()


def _given(shown: Row) -> list[str]:
    source = f", {shown.source}" if shown.source else ""
    return _wrap(f"{shown.symbol} = {shown.result}{source}", ROOM, "  ")


def _worked(shown: Row, implicit: bool) -> list[str]:
    if implicit:
        lines = _wrap(f"{shown.symbol} = {shown.result}, for which", ROOM)
        for line in (shown.formula, *shown.numbers):
            lines += _wrap(f"  {line}", ROOM, "    ")
    else:
        lines = _wrap(f"{shown.symbol} = {shown.formula}", ROOM, "    ")
        lines += _wrap(f"  = {shown.numbers[0]} = {shown.result}", ROOM, "    ")
    lines += _wrap(f"  in SI {shown.si}", ROOM, "    ") if shown.si else []
    source = "; ".join(part for part in (shown.counted, shown.source) if part)
    return lines + (_wrap(f"  {source}", ROOM, "  ") if source else [])


def _symbols(workings: Iterable[Working]) -> Iterator[str]:
    for symbol in symbols_of(step for working in workings for step in working.steps):
        for i, line in enumerate(textwrap.wrap(_meaning(symbol), ROOM)):
            yield f"  {PLAIN.symbol(symbol) if not i else '':<{NAME - 2}}{line}"


def _wrap(text: str, width: int = WIDTH, following: str = "") -> list[str]:
    text = printable(text, keep="\n\t")
    indent = text[: len(text) - len(text.lstrip())]
    return textwrap.wrap(
        text.lstrip(),
        width,
        initial_indent=indent,
        subsequent_indent=following,
        break_on_hyphens=False,
        break_long_words=False,
    ) or [""]


# HTML

STYLE = """
body { font-family: sans-serif; font-size: 11pt; margin: 24px; max-width: 960px; line-height: 1.4; }
h1 { font-size: 16pt; }
h2 { font-size: 14pt; margin: 32px 0 6px; border-bottom: 1px solid #999; }
h3 { font-size: 11pt; margin: 20px 0 4px; }
h1, h2, h3 { break-after: avoid; }
nav li { margin: 2px 0; }
table { border-collapse: collapse; width: 100%; }
td { vertical-align: top; padding: 3px 14px 3px 0; }
td.name { width: 24%; color: #555; }
.small { font-size: 9pt; color: #666; }
.caution { font-weight: bold; }
.stop { color: #a00000; font-weight: bold; }
table.figures th { text-align: right; font-weight: normal; color: #555; padding: 3px 0 3px 14px; }
table.figures td { text-align: right; padding: 2px 0 2px 14px; white-space: nowrap; }
table.figures .left { text-align: left; padding-left: 0; white-space: normal; }
table.figures tr.sum td { border-top: 1px solid #999; font-weight: bold; }
tr { break-inside: avoid; }
"""


class Part(NamedTuple):
    """What belongs together on a page."""

    title: str
    workings: tuple[Working, ...]


def page(title: str, opening: Sequence[str], parts: Sequence[Part], before: str = "") -> str:
    """A calculation as an HTML page that needs nothing beside it.

    Parameters: `title`; `opening`, sentences under it; `parts` in their order, each a heading and a list of
    its workings in the contents; `before`, HTML that stands between the opening and the working.
    """
    name, workings = html.escape(title), [working for part in parts for working in part.workings]
    head, how = ("".join(map(paragraph, texts)) for texts in (opening, (HEAD,)))
    contents = "".join(_listed(number, part) for number, part in enumerate(parts, 1))
    body = "".join(_part(number, part) for number, part in enumerate(parts, 1))
    document = (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>{name}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<h1>{name}</h1>\n{head}{before}"
        f"<h2>Working</h2>\n{how}<nav>\n<ul>\n{contents}"
        f'<li><a href="#symbols">Symbols</a></li>\n</ul>\n</nav>\n{body}'
        f'<h2 id="symbols">Symbols</h2>\n{_symbol_table(workings)}</body>\n</html>\n'
    )
    return printable(document, keep="\n")


def paragraph(text: str) -> str:
    """A sentence of a page."""
    return f"<p>{html.escape(text)}</p>\n"


def _listed(number: int, part: Part) -> str:
    """A part in the contents: its title, and links to its workings."""
    links = (
        f'<a href="#s{number}.{at}">{html.escape(working.title)}</a>'
        for at, working in enumerate(part.workings, 1)
    )
    return f"<li>{html.escape(part.title)}: {' · '.join(links)}</li>\n"


def _part(number: int, part: Part) -> str:
    sections = (
        f'<h3 id="s{number}.{at}">{html.escape(working.title)}</h3>\n{table(working)}'
        for at, working in enumerate(part.workings, 1)
    )
    return f"<h2>{html.escape(part.title)}</h2>\n{''.join(sections)}"


def table(working: Working) -> str:
    """The steps of a working as an HTML table: names, and formulas with their numbers."""
    rows = ((html.escape(step.name), cell(step)) for step in working.steps)
    lines = (f'<tr><td class="name">{name}</td><td>{cells}</td></tr>\n' for name, cells in rows)
    return f"<table>\n{''.join(lines)}</table>\n"


def cell(step: Step) -> str:
    """One step as HTML: formula, numbers, result in bold, then in small what it stands on."""
    shown = row(step, HTML)
    result = f"<b>{shown.result}</b>"
    lines = [f"{shown.symbol} = {result}"]
    if shown.formula and step.implicit:
        lines = [f"{shown.symbol} = {result}, for which {shown.formula}", *shown.numbers]
    elif shown.formula:
        lines = [f"{shown.symbol} = {shown.formula}", f"= {shown.numbers[0]} = {result}"]
    small = [f"in SI: {shown.si}"] if shown.si else []
    small += [source(shown)] if shown.counted or shown.source else []
    content = "<br>".join(lines)
    content += "".join(f'<br><span class="small">{line}</span>' for line in small)
    if shown.caution:
        content += f'<br><span class="caution">{html.escape(shown.caution)}</span>'
    return content


def source(shown: Row) -> str:
    """What a step written by the HTML notation stands on, as HTML."""
    return "; ".join(part for part in (shown.counted, html.escape(shown.source)) if part)


def _symbol_table(workings: Iterable[Working]) -> str:
    symbols = symbols_of(step for working in workings for step in working.steps)
    rows = "".join(
        f"<tr><td>{HTML.symbol(s)}</td><td>{html.escape(_meaning(s))}</td></tr>\n" for s in symbols
    )
    return f"<table>\n{rows}</table>\n"


def _meaning(symbol: Symbol) -> str:
    unit = si_unit(symbol).text
    if not unit:
        return symbol.meaning
    return f"{symbol.meaning}, in {unit}" if symbol.kind is None else f"{symbol.meaning}, {unit} in SI"
