"""The what-if strip: six figures of the drawing as sliders, and the margin that answers them."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QEvent, QTimer
from PySide6.QtGui import QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from sketch.look.appearance import theme_of
from sketch.model.document import Document
from sketch.model.pace import pace
from sketch.strip import readings
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.margin_column import MarginColumn
from sketch.strip.safe import SafeRange, all_steps
from sketch.strip.turner import Turner
from solver.quantities.wording import capitalised

REST_MS = 400  # of no change before it is looked how far each figure may go
DONE = object()
AGAINST = "Against the drawing as it was last saved, or as it began where it never was"
COLUMNS = (3, 2)  # of knobs side by side, the most that fit
WIDE_ENOUGH = 60  # a slider, before the margin beside it gets more room than it must [logical pixels]
PAD = 8
GAP = 12


class WhatIfStrip(QWidget):
    """The six knobs in rows of three, or of fewer where there is less room, and the margin beside them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName("What-if")
        self.turners = {knob.name: Turner(document, knob) for knob in KNOBS}
        self.column = MarginColumn()
        self.margin, self.others, self.change = self.column.margin, self.column.others, self.column.change
        self._ill_elsewhere: bool | None = None  # in any other case, as the colour has it
        self._columns = 0
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(GAP)
        self._grid.setVerticalSpacing(4)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(PAD, 0, PAD, 0)
        self._grid.setContentsMargins(0, 5, 0, 5)
        self._row.setSpacing(GAP)
        self._row.addLayout(self._grid, 1)
        self._row.addWidget(self.column)
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

    def flow(self, columns: int) -> None:
        """Put so many knobs side by side."""
        if columns == self._columns:
            return
        turners = list(self.turners.values())
        for turner in turners:
            self._grid.removeWidget(turner)
        for column in range(columns, COLUMNS[0]):
            self._grid.setColumnStretch(column, 0)
        for place, turner in enumerate(turners):
            self._grid.addWidget(turner, place // columns, place % columns)
            turner.name.setFixedWidth(self._name_width(place % columns, columns))
        self._columns = columns
        self._share_out()
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
        knobs = sum(self._knob_widths(columns))
        return knobs + (columns - 1) * GAP + 2 * PAD + GAP + self.column.least_width

    def _knob_widths(self, columns: int) -> list[int]:
        """The width that a knob of each column takes at the least."""
        rest = next(iter(self.turners.values())).least_without_name
        return [self._name_width(column, columns) + rest for column in range(columns)]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_out()

    def _share_out(self) -> None:
        """Give the margin what the sliders can spare, and all sliders the same room."""
        columns = self._columns
        least = next(iter(self.turners.values())).scale.minimumWidth()
        spare = self.width() - self._needed(columns)
        self.column.widen(self.column.least_width + spare - columns * (WIDE_ENOUGH - least))
        each = max((spare + self.column.least_width - self.column.sizeHint().width()) // columns, 0)
        for column, width in enumerate(self._knob_widths(columns)):
            self._grid.setColumnStretch(column, width + each)

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
        self.column.show_margin(
            readings.margin_text(document.ledger, document.system),
            document.pump if len(document.layout.pumps) > 1 else "",
        )
        self._show_others()
        judgement, change = document.outcome.judgement, readings.change_text(document)
        place = judgement.worst(document.pump, [document.case]) if judgement is not None else None
        unfit = readings.unfit_text(judgement, place)  # beside a figure that looks well
        tips = [f"{capitalised(unfit)}."] if unfit else []
        tips += [f"{capitalised(change)}. {AGAINST}"] if change else []
        parts = [unfit, change.replace("; ", ";\n")]
        self.change.set_whole(";\n".join(filter(None, parts)), " ".join(tips))
        self.column.place()

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
        text, tip, ill = readings.others_text(self._document)
        self.others.set_whole(text, tip)
        if ill != self._ill_elsewhere:
            self._ill_elsewhere = ill
            theme, palette = theme_of(self.palette()), QPalette(self.others.palette())
            palette.setColor(QPalette.ColorRole.WindowText, theme.stop if ill else theme.ink)
            self.others.setPalette(palette)
