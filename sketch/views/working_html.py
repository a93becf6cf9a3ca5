"""What the Working view shows as HTML: the budget in one line, and the steps. No Qt here."""

from __future__ import annotations

import html
import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from solver.formulas.formula import HTML
from solver.formulas.steps import Step, Working
from solver.ledger.solve import BudgetLine, Entry, PumpLedger
from solver.quantities import units
from solver.quantities.adding import places_of_sums
from solver.quantities.units import MINUS, Kind, System
from solver.working.text import Row, row, source

NARROW = 760
"""Width [logical pixels] below which sources stand under the formulas, not beside them."""

STYLE = """
body {{ color: {ink}; }}
p {{ margin: 0 0 6px 0; }}
td {{ padding: 3px 16px 3px 0; }}
.name {{ color: {quiet}; }}
.small {{ color: {quiet}; font-size: {small}pt; }}
.caution {{ color: {caution}; font-weight: bold; }}
.result {{ white-space: nowrap; }}
"""

# Budget lines that have no working of their own stand in that of another.
_PLACES = {
    "sea level": "altitude",
    "gas expansion": "reservoir pressure",
    "breather": "reservoir pressure",
    "vapour pressure": "floor",
    "mean velocity head, in NPSH": "floor",
}


def page(working: Working, entry: Entry | None, system: System, width: float, case: str = "") -> str:
    """What the entry takes, what to be careful of, and the steps.

    Parameters: `entry`, of a working that belongs to one; `width` of the page [logical pixels]; `case`, which
    it is of, in words where there are several. Steps of the budget carry the names of their lines as anchors.
    """
    where = f", {html.escape(case)}" if case else ""
    html_text = "" if entry is None else f"<p>{spent_sentence(entry, system)}{where}</p>"
    html_text += "".join(f'<p class="caution">{html.escape(text)}</p>' for text in working.cautions)
    return html_text + table(working.steps, width)


def spent_sentence(entry: Entry, system: System) -> str:
    """What an entry takes, in a sentence."""
    whole, unit = entry.lift + entry.loss, units.unit(Kind.VACUUM, system)
    verb = "gives back" if whole < 0 else "takes"
    parts, places = "", FEWEST
    if entry.lift and entry.loss:
        places = places_of_sums(Kind.VACUUM, system, FEWEST, (entry.lift, entry.loss, -whole))
        sign, loss = MINUS if entry.loss < 0 else "+", _amount(abs(entry.loss), system, places)
        parts = f" (lift {_amount(entry.lift, system, places)} {sign} loss {loss})"
    share = "" if entry.share is None else f", {_percent(abs(entry.share))} of the inlet budget"
    name = html.escape(f"{entry.part}, {entry.element}")
    return f"<b>{name}</b> {verb} <b>{_amount(abs(whole), system, places)} {unit}</b>{parts}{share}"


FEWEST = 2
"""Decimals of pressures that are added up by eye, at the least."""


def _amount(pressure: float, system: System, places: int) -> str:
    return units.with_minus(f"{units.to_display(pressure, Kind.VACUUM, system):.{places}f}")


def _budget_places(ledger: PumpLedger, system: System) -> int:
    """Decimals with which both sums of the budget come to what is written behind them."""
    surface = (*(line.value for line in ledger.surface_lines), -ledger.surface)
    budget = (ledger.surface, *(line.value for line in ledger.floor_lines), -ledger.budget)
    return places_of_sums(Kind.VACUUM, system, FEWEST, surface, budget)


def _percent(share: float) -> str:
    return f"{share * 100:.1f} %" if share < 0.0995 else f"{share * 100:.0f} %"


def budget_line(ledger: PumpLedger, looked_at: str, system: System, colour: str) -> str:
    """What there is to spend as one sum; each figure links to its steps, that which is looked at in bold.

    Parameters: `looked_at`, a line of the budget or ""; `colour` of the links.
    """
    places = _budget_places(ledger, system)

    def terms(lines: Sequence[BudgetLine]) -> Iterator[str]:
        for line in lines:
            sign = MINUS if math.copysign(1.0, line.value) < 0 else "+"
            name = line.name + (" (estimate)" if line.estimated else "")
            figure = _amount(abs(line.value), system, places)
            yield f"{sign} {link(name, figure, _PLACES.get(line.name, line.name))}"

    def link(name: str, figure: str, target: str) -> str:
        label = html.escape(name).replace(" ", "&nbsp;")
        label = f"<b>{label}</b>" if target == looked_at else label
        style = f"color: {colour}; text-decoration: none"
        return f'<a href="{html.escape(target)}" style="{style}">{label}</a>&nbsp;{figure}'

    on_fluid, budget = (
        f"<b>{_amount(value, system, places)}</b>" for value in (ledger.surface, ledger.budget)
    )
    pieces = [
        *terms(ledger.surface_lines),
        f"= {link('on the fluid', on_fluid, 'reservoir pressure')}",
        *terms(ledger.floor_lines),
        f"= {link('inlet budget', budget, 'inlet budget')}",
    ]
    return f"{' '.join(pieces).removeprefix('+ ')}&nbsp;{units.unit(Kind.VACUUM, system)}"


def table(steps: Sequence[Step], width: float) -> str:
    """The steps as a table: name, result, how, source. Figures given one after another share a row."""
    wide = width >= NARROW
    rows = []
    for given, group in groupby(steps, key=lambda step: step.worked is None):
        group_steps = list(group)
        rows += [_given(group_steps, wide)] if given else [_row(step, wide) for step in group_steps]
    return f'<table width="99%" cellspacing="0" style="margin-top: 6px">{"".join(rows)}</table>'


def _given(steps: Sequence[Step], wide: bool) -> str:
    shown = [row(step, HTML) for step in steps]
    figures = " &nbsp; ".join(_figure(each) for each in shown)
    return f'<tr><td class="name">given</td><td colspan="{3 if wide else 2}">{figures}</td></tr>'


def _figure(shown: Row) -> str:
    figure = f"{html.escape(shown.name)} {shown.symbol} = <b>{shown.result}</b>"
    return figure + (f' <span class="small">{html.escape(shown.source)}</span>' if shown.source else "")


def _row(step: Step, wide: bool) -> str:
    shown = row(step, HTML)
    how = _how(shown, step.implicit)
    origin = f'<span class="small">{source(shown)}</span>'
    if shown.caution:
        how += f'<br><span class="caution">{html.escape(shown.caution)}</span>'
    if not wide:
        how += f"<br>{origin}"
    anchor = f'<a name="{html.escape(step.line)}"></a>' if step.line else ""
    cells = [
        ("15%" if wide else "24%", "name", anchor + html.escape(shown.name)),
        ("14%" if wide else "20%", "result", f"{shown.symbol} = <b>{shown.result}</b>"),
        ("47%" if wide else "56%", "how", how),
        *([("24%", "source", origin)] if wide else []),
    ]
    return (
        "<tr>" + "".join(f'<td width="{w}" class="{c}">{content}</td>' for w, c, content in cells) + "</tr>"
    )


def _how(shown: Row, implicit: bool) -> str:
    lines = [shown.formula, *shown.numbers] if implicit else [f"= {shown.formula}", f"= {shown.numbers[0]}"]
    if shown.si:
        lines.append(f'<span class="small">in SI {shown.si}</span>')
    return "<br>".join(lines)
