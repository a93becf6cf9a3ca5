"""The views below the drawing, by the names that the menus and the command line know them by.

Nothing here imports Qt: the command line must be read where Qt cannot load.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Tab(NamedTuple):
    """What stands on the tab, what the menu calls it and says of it, and the widget behind it."""

    text: str
    menu: str
    tip: str
    widget: str  # module and class, which is made with the document
    guarded: bool = True  # gives way to the reason while nothing can be calculated
    every_case: bool = False  # shows all cases, and stays while any of them can be


TABS: Mapping[str, Tab] = {
    "ledger": Tab(
        "Ledger",
        "&Ledger",
        "What each element takes from the inlet budget",
        "sketch.views.ledger_view:LedgerView",
    ),
    "profile": Tab(
        "Pressure profile",
        "&Pressure profile",
        "Absolute pressure along the line",
        "sketch.plots.profile_view:PressureProfile",
    ),
    "findings": Tab(
        "Findings",
        "F&indings",
        "What to look at before this line is built",
        "sketch.views.findings_view:FindingsView",
        every_case=True,
    ),
    "fixes": Tab(
        "Fixes",
        "Fi&xes",
        "What could be changed, each change solved in every case, and what it buys",
        "sketch.views.fixes_view:FixesView",
    ),
    "working": Tab(
        "Working",
        "&Working",
        "How each figure came about: formula, numbers, source",
        "sketch.views.working_view:WorkingView",
    ),
    "cases": Tab(
        "Cases",
        "&Cases",
        "Every pump and every alternative in every case",
        "sketch.views.cases_view:CasesView",
        guarded=False,
    ),
    "alternatives": Tab(
        "Alternatives",
        "&Alternatives",
        "The drawing and its alternatives side by side",
        "sketch.views.alternatives_page:AlternativesPage",
    ),
    "reach": Tab(
        "Reach",
        "R&each",
        "How far each thing may go before the margin is spent",
        "sketch.views.reach_view:ReachView",
    ),
    "curves": Tab(
        "Curves",
        "C&urves",
        "Margin, vacuum, pressure or NPSH over one figure, in every case",
        "sketch.plots.curves_view:CurvesView",
    ),
    "priming": Tab(
        "Priming",
        "Pri&ming",
        "How to fill the pump and its line before a first start, and where air may come in",
        "sketch.views.priming_view:PrimingView",
    ),
    "readings": Tab(
        "Readings",
        "Rea&dings",
        "What was read at a gauge, beside what the drawing expects in that state",
        "sketch.views.readings_view:ReadingsView",
        guarded=False,
    ),
    "causes": Tab(
        "Causes",
        "Ca&uses",
        "What would explain the readings of a visit, how likely and how large, and what to look at next",
        "sketch.views.causes_view:CausesView",
        guarded=False,
    ),
    "card": Tab(
        "Part card",
        "Pa&rt card",
        "The figures of the part that is selected, to be edited",
        "sketch.card.part_card:PartCard",
        guarded=False,
    ),
}
"""In the order in which they stand, and are reached by Ctrl+1 to Ctrl+9, then Alt+1 and on."""

OLD_NAMES: Mapping[str, str] = {"limits": "reach"}
"""What a view was called before, and is still understood as on the command line."""
