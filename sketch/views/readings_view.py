"""What was read at the machine's gauges, beside what the drawing expects; typed and dropped here."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QBrush, QHideEvent, QKeyEvent
from PySide6.QtWidgets import (
    QTableWidgetItem,
    QTabWidget,
    QToolButton,
    QWidget,
)

from sketch.editing import readings
from sketch.look.appearance import theme_of
from sketch.look.buttons import word_button
from sketch.look.keys import keep_own_key
from sketch.look.words import tooltip, typographic, whole_bands
from sketch.model.document import Document
from sketch.model.drawing_state import state_with_readings
from sketch.model.inspector import inspector
from sketch.model.pins import pins
from sketch.views import reading_rows
from sketch.views.reading_card import ReadingCard
from sketch.views.reading_rows import CHECK_IT, HEADINGS, SAYS, ReadingRow
from sketch.views.refusal import mark_icon
from sketch.views.table_with_pane import TableWithPane, WrappedTable
from sketch.views.trend_view import TrendView
from solver.field.caveats import UNTIMED
from solver.field.stopping import Newest, newest
from solver.field.visits import name_of, untimed_before, visit_of
from solver.findings.kinds import Severity
from solver.layout.logged import LoggedReading

SHARES = {1: 3, 2: 3, 3: 2, 4: 2}
BANDS = (3, 4)
NONE_YET = (
    "No reading yet. New begins one at the port of the pump that is shown, or at a tap on the run that is "
    "selected; the gauge on the shelf puts one where you click."
)
COMPARING = "Comparing…"
NUMBER = Qt.ItemDataRole.UserRole


class _Table(WrappedTable):
    """The readings; Delete, which is the window's key for a part, is here that of a reading."""

    def __init__(self, on_remove: Callable[[], None]) -> None:
        super().__init__("Readings", HEADINGS, SHARES)
        self._on_remove = on_remove

    def event(self, event: QEvent) -> bool:
        return keep_own_key(event, _deletes) or super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if _deletes(event):
            self._on_remove()
        else:
            super().keyPressEvent(event)


def _deletes(event: QKeyEvent) -> bool:
    return Qt.Key(event.key()) is Qt.Key.Key_Delete


class ReadingsView(TableWithPane):
    """A table of readings and the card of the one that is chosen; gauges stand on the drawing meanwhile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        self._inspector = inspector(document)
        super().__init__("Readings", _Table(self.remove), self._inspector.ask, parent)
        self._document = document
        self._rows: tuple[ReadingRow, ...] = ()
        self.chosen = -1  # a reading, by its place in the file
        self.card = ReadingCard(self._change)
        self.trend = TrendView(document)
        self.buttons: dict[str, QToolButton] = {}
        self._arrange()
        document.changed.connect(self._changed)
        document.opened.connect(self._forget)
        self._inspector.changed.connect(self._answered)
        self.table.itemSelectionChanged.connect(self._choose)

    def _arrange(self) -> None:
        for name, text, does in (("new", "New", self.add), ("delete", "Delete", self.remove)):
            self.buttons[name] = word_button(text, "reading", does)
        self.sides = QTabWidget()
        self.sides.setDocumentMode(True)
        self.sides.addTab(self.card, "This reading")
        self.sides.addTab(self.trend, "Over time")
        self._lay_out(self.sides, *self.buttons.values())

    # What it shows

    @property
    def rows(self) -> tuple[ReadingRow, ...]:
        """What is listed, the newest first."""
        return self._rows

    def refresh(self) -> None:
        """Take the readings from the document, with what they come to as far as that is at hand."""
        document, comparisons = self._document, self._inspector.comparisons
        logged = document.layout.readings
        self._rows = reading_rows.rows(logged, comparisons, document.system)
        if not 0 <= self.chosen < len(logged):
            self.chosen = self._rows[0].number if self._rows else -1
        self._fill()
        self._show_words()
        if comparisons is not None and self.isVisible():
            pins(document).show(self, reading_rows.pins(comparisons, self.chosen, document.system))

    def _fill(self) -> None:
        table, theme = self.table, theme_of(self.palette())
        blocked = table.blockSignals(True)
        table.setRowCount(len(self._rows))
        for at, row in enumerate(self._rows):
            for column, text in enumerate(row.cells):
                shown = typographic(text)
                item = QTableWidgetItem(whole_bands(shown) if column in BANDS else shown)
                item.setToolTip(tooltip("\n".join(row.words)))
                if column == 0:
                    item.setData(NUMBER, row.number)
                if column == SAYS and row.severity is not None:
                    item.setIcon(mark_icon(row.severity, self.palette(), self.devicePixelRatioF()))
                    if row.severity is Severity.STOP:
                        item.setForeground(QBrush(theme.stop))
                elif not row.compared:
                    item.setForeground(QBrush(theme.quiet))
                table.setItem(at, column, item)
        table.fit()
        at = next((at for at, row in enumerate(self._rows) if row.number == self.chosen), -1)
        if at >= 0:
            table.selectRow(at)
        table.blockSignals(blocked)
        self._show_card()

    def _show_words(self) -> None:
        row = next((row for row in self._rows if row.number == self.chosen), None)
        trouble = self._inspector.trouble
        waiting = self._rows and self._inspector.comparisons is None
        stops = {each.number for each in self._rows if each.severity is Severity.STOP}
        newest = self._newest() if stops and not waiting else None
        stop = newest is not None and bool(newest.stops)
        text = NONE_YET if not self._rows else self._counted(len(stops), newest)
        if trouble or waiting:
            text = f"Not compared: {trouble}." if trouble else COMPARING
        self.show_heading(text, stop=stop and not waiting)
        words = " ".join((*row.words, *self._of_visit(row.number))) if row is not None else ""
        self.show_below(words, stop=row is not None and row.severity is Severity.STOP)
        self.buttons["delete"].setEnabled(row is not None)
        self.buttons["new"].setEnabled(bool(self._document.layout.pumps))

    def _of_visit(self, number: int) -> Iterator[str]:
        """The visit that a reading belongs to, where that has others or may have them."""
        layout = self._document.layout
        visit = visit_of(layout, number)
        if len(visit) > 1:
            name = name_of(layout, number)
            yield f"It is one of the {len(visit)} readings of {name}, which are explained together."
        elif untimed := untimed_before(layout, number):
            yield UNTIMED.format(untimed)

    def _newest(self) -> Newest | None:
        """Which of the readings say stop now; None while they are not compared."""
        layout, comparisons = self._document.layout, self._inspector.comparisons
        if comparisons is None:
            return None
        return newest(layout, layout.pumps, self._document.alternative, comparisons.__getitem__)

    def _counted(self, stops: int, newest: Newest | None) -> str:
        count = f"{len(self._rows)} reading{'s' * (len(self._rows) > 1)}"
        open_ones = sum(not row.compared for row in self._rows)
        asked = sum(row.cells[SAYS] == CHECK_IT for row in self._rows)
        if asked and not stops:
            now = self._rows[0].cells[SAYS] == CHECK_IT  # the newest
            stop = ": stop the pump until that is clear" if now else ""
            return f"{count}, {asked} with a sign or unit to be checked{stop}."
        if not stops and open_ones == len(self._rows):
            return f"{count}, nothing to compare with what is allowed."
        if not stops and open_ones:
            return f"{count}, {open_ones} not compared; of the others none past what is allowed in its state."
        if not stops:
            return f"{count}, none past what is allowed in its state."
        past = f"{stops} of {count} past what is allowed in {'its state' if stops == 1 else 'their states'}"
        if newest is None or not newest.stops:
            return f"{past}, none that still counts."
        still = "" if any(each.stop for each in newest.latest) else "; an earlier one still counts"
        return f"Stop the pump: {past}{still}."

    def _show_card(self) -> None:
        document = self._document
        logged = document.layout.readings
        reading = logged[self.chosen] if 0 <= self.chosen < len(logged) else None
        ledger = document.solution.pumps.get(reading.pump) if reading and document.solution else None
        tank = ledger.reservoir if ledger else ""
        lines = {name: each.layout for name, each in document.drawing.alternatives.items()}
        self.card.show_reading(document.layout, reading, document.system, tank, self.chosen, lines)

    # What it does

    def choose(self, number: int) -> None:
        """Choose a reading by its place in the file."""
        at = next((at for at, row in enumerate(self._rows) if row.number == number), -1)
        if at >= 0:
            self.sides.setCurrentWidget(self.card)
            self.table.setCurrentCell(at, 0)

    def _choose(self) -> None:
        at = self.table.currentRow()
        if 0 <= at < len(self._rows) and self._rows[at].number != self.chosen:
            self.chosen = self._rows[at].number
            self._show_card()
            self._show_words()
            comparisons = self._inspector.comparisons
            if comparisons is not None:
                pins(self._document).show(
                    self, reading_rows.pins(comparisons, self.chosen, self._document.system)
                )

    def add(self) -> None:
        """Begin a reading of now: at a tap on the run that is selected, else at the port that is shown."""
        document = self._document
        run = document.selected_part if document.selected_part in document.layout.runs else ""
        now = f"{datetime.datetime.now():%Y-%m-%d %H:%M}"  # by the clock here, as one would type it
        reading = readings.new(document.layout, document.pump, now, run)
        self.chosen = len(document.layout.readings)
        self._keep(f"New reading of {now}", self.chosen, reading)
        self.sides.setCurrentWidget(self.card)
        self.card.begin()

    def remove(self) -> None:
        """Drop the reading that is chosen."""
        logged = self._document.layout.readings
        if 0 <= self.chosen < len(logged):
            self.card.show_reading(self._document.layout, None, self._document.system, "")
            self._keep(f"Delete the reading of {logged[self.chosen].dated}", self.chosen, None)

    def _change(self, what: str, reading: LoggedReading) -> None:
        self._keep(f"Reading of {reading.dated}: {what}", self.chosen, reading)

    def _keep(self, label: str, number: int, reading: LoggedReading | None) -> None:
        kept = readings.with_reading(self._document.layout.readings, number, reading)
        self._document.change_alternatives(label, lambda state: state_with_readings(state, kept))

    # What it follows

    def _forget(self) -> None:
        self.chosen = -1
        self._rows = ()
        self.begin_at_top()
        for side in (self.card, self.trend):
            side.verticalScrollBar().setValue(0)
        self._show_card()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        pins(self._document).hide(self)
