"""The facts in the status bar, and those of the case in view: level and strainers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QStatusBar, QToolButton

from sketch.editing import beginning
from sketch.model.disk import path_text
from sketch.model.document import Document
from solver.layout import keys
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout
from solver.quantities import units
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised, ledger_absolute

GAP = "   ·   "
TIP = "Site and fluid: a click shows them on the part card"
MARGINS = 32
"""Logical pixels round a message and the facts, and for the corner that sizes the window."""


class Facts(QToolButton):
    """Words at the right of a status bar; a click asks for the figures that they are of. They give way to a
    message that leaves them no room."""

    def __init__(self, bar: QStatusBar, ask: Callable[[], object]) -> None:
        super().__init__()
        self._bar = bar
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # keys reach the card by its own command
        self.setToolTip(TIP)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(lambda: ask())
        bar.addPermanentWidget(self)
        bar.messageChanged.connect(self._make_room)

    def show_facts(self, text: str) -> None:
        """Show a line of facts, as it stands."""
        self.setText(text.replace("&", "&&"))
        self.setEnabled(bool(text))

    def _make_room(self, message: str) -> None:
        words = QFontMetrics(self._bar.font()).horizontalAdvance(message)
        self.setVisible(not message or words + self.sizeHint().width() + MARGINS <= self._bar.width())


def title(document: Document) -> str:
    """What the window is called: by the drawing's title, or by its file where nobody has given it one."""
    given = document.layout.title
    if document.path is not None and given in ("", beginning.TITLE):
        return path_text(Path(document.path.name))
    return given or "Untitled drawing"


def message(layout: Layout, text: str) -> str:
    """A passing message as a sentence begins: with a large letter, but for a name of the drawing."""
    if not text:
        return ""  # at every move of a drag
    names = tuple(name for group in keys.PARTS for name in getattr(layout, group))
    return text if text.startswith(names) else capitalised(text)


def facts(document: Document) -> str:
    """One line; only what was asked for where nothing is calculated."""
    parts, cases = conditions(document), cases_of(document.layout)
    if len(cases) > 1:
        parts.append(f"{len(cases)} cases, shown: {document.case}")
    return GAP.join(parts)


def conditions(document: Document) -> list[str]:
    """Site and fluid of the case in view."""
    solution, system = document.solution, document.system
    try:
        layout = solution.layout if solution is not None else _in_case(document)
    except CaseError:
        return [f'The case "{document.case}" does not hold']
    fluid, site = layout.fluid, "Site"
    if layout.site.elevation is not None:
        site += f" at {units.typeset(layout.site.elevation.si, Kind.ELEVATION, system)}"
    if solution is not None:
        site += f", {ledger_absolute(solution.atmosphere, system)}"
    parts = [site, fluid.name, units.typeset(fluid.temperature.si, Kind.TEMPERATURE, system)]
    if solution is not None and solution.fluid is not solution.tank_fluid:
        parts.append(f"line {units.typeset(solution.fluid.temperature, Kind.TEMPERATURE, system)}")
    if solution is not None:
        parts.append(units.typeset(solution.fluid.viscosity, Kind.VISCOSITY, system))
    return parts


def _in_case(document: Document) -> Layout:
    """The drawing with the figures of the case in view. Raises CaseError."""
    return layout_in_case(document.layout, document.case, cases_of(document.layout)[document.case])


def case_state(document: Document) -> str:
    """The fluid level and the strainers of the case in view; "" where it is not calculated."""
    solution, ledger, system = document.solution, document.ledger, document.system
    if solution is None:
        return ""
    tanks = [tank.level for tank in solution.layout.reservoirs.values() if tank.level is not None]
    heights = ", ".join(units.typeset(each.si, Kind.LENGTH, system) for each in tanks)
    parts = [f"level at {heights}" if tanks else f"{solution.level} level"]
    entries = (*ledger.entries, *ledger.parallel_entries) if ledger is not None else ()
    for name in dict.fromkeys(entry.part for entry in entries):
        screen = solution.layout.screen(name)
        if screen is not None:
            parts.append(f"{name} {units.typeset(screen.blocked, Kind.SHARE, system)} blocked")
    return ", ".join(parts)
