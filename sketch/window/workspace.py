"""How the views share the window: elevation and what-if strip left, air column right, tables below."""

from __future__ import annotations

from functools import partial
from importlib import import_module

from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtGui import QIcon, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QSplitter, QVBoxLayout, QWidget

from sketch.air_column.column import AirColumn
from sketch.canvas import own_shelf
from sketch.canvas.elevation import Elevation
from sketch.canvas.shelf import Shelf
from sketch.card.part_card import PartCard
from sketch.editing.readings import ON_SHELF
from sketch.look.appearance import read_style_sheets_again
from sketch.look.focus_frame import FocusFrame
from sketch.model.document import Document
from sketch.strip.whatif import WhatIfStrip
from sketch.views.cases_view import CasesView
from sketch.views.ledger_view import LedgerView
from sketch.views.refusal import Guarded, mark_icon
from sketch.views.tabs import TABS, Tab
from sketch.window.tables import Tables
from solver.layout.own_parts import OwnPart

LEAST_COLUMN, COLUMN_PART = 340, 0.19
LEAST_TABLES, TABLES_PART = 238, 0.28


class SidewaysScroll(QScrollArea):
    """The strip, whole in as many rows as it takes; where the window is too narrow even so, it scrolls
    sideways and leaves the height to the drawing."""

    def __init__(self, strip: WhatIfStrip) -> None:
        super().__init__()
        self._strip = strip
        self.setWidget(strip)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalScrollBar().rangeChanged.connect(self._fit)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._strip.flow(self._strip.most_columns(event.size().width()))
        self._fit()
        super().resizeEvent(event)

    def _fit(self) -> None:
        bar = self.horizontalScrollBar()
        room = bar.sizeHint().height() if bar.maximum() > 0 else 0
        self.setFixedHeight(self._strip.sizeHint().height() + room)

    def event(self, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.FontChange):
            self._fit()
        return super().event(event)


def _view_of(tab: Tab, document: Document) -> QWidget:
    """The widget behind a tab."""
    module, _, name = tab.widget.partition(":")
    view: QWidget = getattr(import_module(module), name)(document)
    return view


class Workspace(QSplitter):
    """Every view of one document, with panels that can be hidden."""

    def __init__(self, document: Document) -> None:
        super().__init__(Qt.Orientation.Vertical)
        self._document = document
        self._arranged = False  # by the user, in an earlier session
        self._gauge_in_hand, self._readings = False, 0  # how many readings there were before it
        self.shelf = Shelf()
        self.shelf.hide()
        self.elevation = Elevation(document)
        self.column = AirColumn(document)
        self.whatif = WhatIfStrip(document)
        self._strip = SidewaysScroll(self.whatif)
        self.views = {name: _view_of(tab, document) for name, tab in TABS.items()}
        ledger = self.views["ledger"]
        assert isinstance(ledger, LedgerView)
        self.ledger = ledger  # how it is folded is remembered
        card = self.views["card"]
        assert isinstance(card, PartCard)
        self.card = card
        self.own_parts: dict[str, OwnPart] = {}  # that can be taken in hand, by the shelf's names
        card.own_parts.own.changed.connect(self._show_own)
        cases = self.views["cases"]
        assert isinstance(cases, CasesView)
        self.case_card = cases.card
        self.tables = Tables({name: self._page(name) for name in TABS})
        self.tabs = self.tables.tabs
        self._upper = QSplitter(Qt.Orientation.Horizontal)
        for sheet in (self.elevation, self.column):
            # Both paint all of themselves: nothing behind them need be painted first, move by move.
            sheet.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        FocusFrame(self.elevation)
        self._arrange()
        self.shelf.picked.connect(self.pick_part)
        self.elevation.picked.connect(self.shelf.show_picked)
        self.elevation.picked.connect(self._follow_gauge)
        self.elevation.asked.connect(partial(self.show_tab, "card"))
        document.changed.connect(self._name_findings)
        self._name_findings()

    def pick_part(self, what: str) -> None:
        """Take in hand a part by what the shelf calls it, one of one's own among them."""
        own = self.own_parts.get(what)
        self.elevation.pick(what if own is None else own_shelf.PUT_DOWN_AS[own.kind], own)

    def _show_own(self) -> None:
        """Have the shelf show the parts of one's own that the card has read."""
        parts = own_shelf.on_shelf(self.card.own_parts.own.catalogue)
        self.own_parts = {own_shelf.key_of(part): part for part in parts}
        self.shelf.set_own(parts)

    def _follow_gauge(self, what: str) -> None:
        """Once a gauge has been put on the drawing, its figures are to be typed."""
        count = len(self._document.layout.readings)
        if not what and self._gauge_in_hand and count > self._readings:
            self.show_tab("readings")
        self._gauge_in_hand, self._readings = what == ON_SHELF, count

    def _page(self, name: str) -> QWidget:
        """A view, in what shows the reasons while nothing can be calculated."""
        tab, view = TABS[name], self.views[name]
        return Guarded(self._document, view, every_case=tab.every_case) if tab.guarded else view

    def _arrange(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        sheet = QHBoxLayout()
        sheet.setSpacing(0)
        sheet.addWidget(self.shelf)
        sheet.addWidget(self.elevation, 1)
        column.addLayout(sheet, 1)
        column.addWidget(self._strip)
        self._upper.addWidget(left)
        self._upper.addWidget(self.column)
        self.addWidget(self._upper)
        self.addWidget(self.tables)
        for splitter in (self, self._upper):
            splitter.setStretchFactor(0, 1)
            splitter.setStretchFactor(1, 0)
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(5)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._arranged:
            self._arranged = True
            self._share_out(self.width(), self.height())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "tables"):  # not while Qt sets it up
            read_style_sheets_again(self)
            self._name_findings(colours_changed=True)

    def _share_out(self, width: int, height: int) -> None:
        """Give column and tables their part of the window, and never less than they need."""
        column = max(LEAST_COLUMN, round(COLUMN_PART * width))
        tables = max(LEAST_TABLES, round(TABLES_PART * height))
        self._upper.setSizes([width - column, column])
        self.setSizes([height - tables, tables])

    def _panels(self) -> dict[str, QWidget]:
        return {"column": self.column, "whatif": self._strip, "tables": self.tables, "shelf": self.shelf}

    def shown(self, panel: str) -> bool:
        """Whether a panel is shown."""
        return not self._panels()[panel].isHidden()

    def toggle(self, panel: str) -> None:
        """Hide or show a panel: "column", "whatif", "tables" or "shelf"."""
        self._panels()[panel].setHidden(self.shown(panel))

    def show_tab(self, name: str) -> None:
        """Bring a view below the drawing to the front, by its name in `TABS`, and give it the keyboard."""
        self.tables.show()
        self.tables.focus_page(name)

    def show_site(self) -> None:
        """Show the figures of site and fluid: those of no part."""
        self._document.select("")
        self.show_tab("card")

    def _name_findings(self, *, colours_changed: bool = False) -> None:
        """Say on the tab how many findings wait behind it, and how serious the worst of them is."""
        severities = self._document.outcome.severities
        at, name = list(TABS).index("findings"), TABS["findings"].text
        worst = severities[0] if severities else None
        count, total = sum(each == worst for each in severities), len(severities)
        rest = f" of {total}" if count < total else ""
        shown = f"{name}: {count} {worst}{'s'[: count > 1]}{rest}" if severities else name
        # The same name again would lay the tabs out again.
        if colours_changed or self.tabs.tabText(at) != shown:
            mark = mark_icon(worst, self.palette(), self.devicePixelRatioF()) if worst else QIcon()
            self.tables.name_page("findings", shown, mark)

    def keep(self, settings: QSettings) -> None:
        """Remember sizes, panels and tab."""
        settings.setValue("upper", self._upper.saveState())
        settings.setValue("whole", self.saveState())
        settings.setValue("tab", self.tabs.currentIndex())
        settings.setValue("beside", self.tables.wanted)
        settings.setValue("unfolded", not self.ledger.folded)
        settings.setValue("hidden", [name for name in self._panels() if not self.shown(name)])

    def restore(self, settings: QSettings) -> None:
        """Take up what was remembered."""
        for splitter, name in ((self._upper, "upper"), (self, "whole")):
            state = settings.value(name)
            if state is not None:
                self._arranged = splitter.restoreState(state)
        self.tabs.setCurrentIndex(_number(settings.value("tab")))
        self.tables.set_beside(settings.value("beside") not in (False, "false"))
        self.ledger.fold(settings.value("unfolded") not in (True, "true"))
        hidden = settings.value("hidden") or ["shelf"]
        for name, panel in self._panels().items():
            panel.setHidden(name in hidden)


def _number(value: object) -> int:
    try:
        return int(str(value))
    except ValueError:
        return 0
