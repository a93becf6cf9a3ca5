"""The what-if strip: six figures of the drawing as sliders, and the margin that answers them."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QEvent, QTimer
from PySide6.QtGui import QFontMetrics, QPalette, QShowEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.word_tips import WordTips
from sketch.model.document import Document
from sketch.model.pace import pace
from sketch.strip import readings
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.safe import SafeRange, all_steps
from sketch.strip.scale import Elided
from sketch.strip.turner import Turner
from solver.quantities.wording import capitalised

REST_MS = 400  # of no change before it is looked how far each figure may go
DONE = object()
AGAINST = "Against the drawing as it was last saved, or as it began where it never was"
COLUMNS = (3, 2)  # of knobs side by side, the most that fit
PAD = 8
GAP = 12


class WhatIfStrip(QWidget):
    """The six knobs in rows of three, or of fewer where there is less room, and the margin beside them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName("What-if")
        self.turners = {knob.name: Turner(document, knob) for knob in KNOBS}
        self.margin, self.others, self.change = Label(), Elided(), Elided()
        self._ill_elsewhere: bool | None = None  # in any other case, as the colour has it
        self._columns = 0
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(GAP)
        self._grid.setVerticalSpacing(4)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(PAD, 4, PAD, 4)
        self._row.setSpacing(GAP)
        self._row.addLayout(self._grid, 1)
        self._row.addLayout(self._margin_column())
        self.flow(COLUMNS[0])
        self._searching: Iterator[None] = iter(())
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._search)
        self._next = QTimer(self, interval=0)
        self._next.timeout.connect(self._step)
        document.changed.connect(self._show_margin)
        pace(document).changed.connect(self._reload)
        document.opened.connect(self._forget_typing)
        self._show_margin()
        self._reload()

    def _margin_column(self) -> QVBoxLayout:
        font = self.margin.font()
        font.setBold(True)
        self.margin.setFont(font)
        # Of one width whatever it says: a slider must not shift under the hand that holds it.
        for label, longest in (
            (self.margin, "Over by <0.1 inHg, est."),
            # What is longer stands whole in its tooltip.
            (self.others, "Others: 0.0 inHg over, est."),
            (self.change, "0.0 inHg better than at first"),
        ):
            metrics = QFontMetrics(label.font())
            # And of one height, or each new text would have the strip laid out again.
            label.setFixedSize(metrics.horizontalAdvance(longest) + 4, metrics.height())
            label.setAutoFillBackground(True)  # or each new text would have the strip behind it painted too
        WordTips(self.margin, lambda _: self.margin.text())
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addStretch(1)
        column.addWidget(self.margin)
        column.addWidget(self.change)
        column.addWidget(self.others)
        column.addStretch(1)
        return column

    def flow(self, columns: int) -> None:
        """Put so many knobs side by side."""
        if columns == self._columns:
            return
        turners = list(self.turners.values())
        for turner in turners:
            self._grid.removeWidget(turner)
        for column in range(COLUMNS[0]):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        for place, turner in enumerate(turners):
            self._grid.addWidget(turner, place // columns, place % columns)
            turner.name.setFixedWidth(self._name_width(place % columns, columns))
        self._columns = columns
        self._row.invalidate()
        self.updateGeometry()

    def _name_width(self, column: int, columns: int) -> int:
        """Room for the longest name of a column, so that its sliders stand in line."""
        names = [turner.name for turner in list(self.turners.values())[column::columns]]
        return max(name.sizeHint().width() for name in names)

    def most_columns(self, width: int) -> int:
        """How many knobs stand side by side whole in so much room; the fewest where none do."""
        return next((columns for columns in COLUMNS if self._needed(columns) <= width), COLUMNS[-1])

    def _needed(self, columns: int) -> int:
        """The width the strip takes with so many knobs side by side."""
        rest = next(iter(self.turners.values())).least_without_name
        knobs = sum(self._name_width(column, columns) + rest for column in range(columns))
        margin_width = 2 * PAD + GAP + max(label.width() for label in (self.margin, self.others, self.change))
        return knobs + (columns - 1) * GAP + margin_width

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_row"):
            for turner in self.turners.values():
                turner.show_message_again()
            self._ill_elsewhere = None
            self._show_margin()
            self._reload()

    def _forget_typing(self) -> None:
        for turner in self.turners.values():
            turner.field.setModified(False)

    def _reload(self) -> None:
        document = self._document
        solution = document.solution
        level = solution.level if solution is not None else document.level
        which = subject(document.layout, document.ledger, document.pump, level, document.case)
        for turner in self.turners.values():
            turner.follow(which)
            if not turner.turning.active:  # what is safe for a figure does not change with itself
                turner.show_safe(None)
        self._next.stop()
        self._rest.start()

    def _show_margin(self) -> None:
        document = self._document
        self.margin.setText(readings.margin_text(document.ledger, document.system))
        self._show_others()
        change = readings.change_text(document)
        self.change.set_whole(change, f"{capitalised(change)}. {AGAINST}" if change else "")

    def _search(self) -> None:
        """Look for the range of each knob that is safe in every case, while nothing moves."""
        document = self._document
        judgement = document.outcome.judgement
        if not self.isVisible() or judgement is None:
            return
        if any(case.error is not None for case in judgement.cases.values()):
            return  # nobody knows what is safe in a case that cannot be judged
        turnings = [turner.turning for turner in self.turners.values()]
        searches = [
            SafeRange(document.layout, document.level, turning.knob, turning.which, document.rows)
            for turning in turnings
            if not turning.knob.reason(document.layout, turning.which)
        ]
        self._searching = all_steps(searches, self._show_safe)
        self._next.start()

    def _step(self) -> None:
        if next(self._searching, DONE) is DONE:
            self._next.stop()

    def _show_safe(self, search: SafeRange) -> None:
        self.turners[search.knob.name].show_safe(search.found, gaps=search.gaps)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._rest.start()

    def _show_others(self) -> None:
        """The margin in the worst of the other cases, where the drawing has any."""
        outcome, system = self._document.outcome, self._document.system
        place = outcome.worst_elsewhere(self._document.pump)
        missing = [case for case in outcome.not_judged if case.name != outcome.case]
        words = readings.case_text(place.ledger, system) if place is not None else ""
        lines = [f"{len(missing)} not judged"] if missing else []  # what is too long is cut at its end
        lines += [readings.elsewhere_text(words, place.case)] if place is not None else []
        tips = [f'Least margin in any other case, in "{place.case}": {words}'] if place is not None else []
        tips += [f'"{case.name}" not judged: {case.why(system)}' for case in missing]
        self.others.set_whole("; ".join(lines), ". ".join(tips))
        ill = bool(missing) or (place is not None and not place.ledger.sound)
        if ill != self._ill_elsewhere:
            self._ill_elsewhere = ill
            theme, palette = theme_of(self.palette()), QPalette(self.others.palette())
            palette.setColor(QPalette.ColorRole.WindowText, theme.stop if ill else theme.ink)
            self.others.setPalette(palette)
