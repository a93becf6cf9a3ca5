"""A pump's figures over one thing that is varied: what is chosen, and the plot of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import floor, log10
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sketch.editing import edits
from sketch.editing.edits import EditError
from sketch.look import screenshot, words
from sketch.look.label import Label
from sketch.model import disk
from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.views.curves import Picture, Quantity, as_csv, picture
from solver.answers.curves import (
    Curves,
    Subject,
    UncertainMargin,
    curves,
    subjects,
    transitional,
    uncertain_margin,
)
from solver.answers.inputs import INPUTS
from solver.answers.sweep import SweepError
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.quantities import units
from solver.quantities.wording import capitalised
from solver.report.uncertainty import every_case, lines, sentence

if TYPE_CHECKING:
    from sketch.views.curves_plot import CurvesPlot

IDLE_MS = 150  # of no change before the curves are worked out again

Edit = Callable[[Layout, Subject, Level, float], Layout]

EDITS: Mapping[str, Edit] = {
    "port height": lambda layout, what, level, si: edits.set_port_height(layout, what.part, si),
    "temperature": lambda layout, what, level, si: edits.set_temperature(layout, si),
    "level": lambda layout, what, level, si: edits.set_level(layout, what.part, level, si),
    "speed": lambda layout, what, level, si: edits.set_speed(layout, what.part, si),
    "elevation": lambda layout, what, level, si: edits.set_site_elevation(layout, si),
    "blocked": lambda layout, what, level, si: edits.set_blocked(layout, what.part, si),
}
"""What dragging the point does to the drawing, of that which the strip turns too."""


LOADING = "Uncertainty: being worked out"

WIDEST_CHOICE = 220
"""Width of a list that is given all the room it wants, in logical pixels."""


class CurvesView(QWidget):
    """Works the curves out once the drawing has come to rest, and only while it is seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._curves: Curves | None = None
        self._others: dict[str, Curves] = {}
        self._between: tuple[tuple[float, float], ...] = ()
        self._uncertain_margin: UncertainMargin | None = None
        self._subjects: tuple[Subject, ...] = ()
        self._gesture, self._base = 0, document.layout
        self.plot: CurvesPlot | None = None
        self.over, self.quantity = QComboBox(), QComboBox()
        self.over.setAccessibleName("Varied")
        self.quantity.setAccessibleName("Shown")
        self.quantity.addItems([str(each) for each in Quantity])
        for choice in (self.over, self.quantity):  # a long name in a list must not widen the whole window
            choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumContentsLength(6)
            choice.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            choice.setMaximumWidth(WIDEST_CHOICE)
        self.every_case, self.alternatives = QCheckBox("Every case"), QCheckBox("Alternatives")
        self.every_case.setChecked(True)
        self._doubt = doubt(document)
        self.uncertainty = QCheckBox("Uncertainty")
        self.uncertainty.setToolTip(
            "Between which margins nine in ten draws lie, here, beside column and profile"
        )
        self.uncertainty.setChecked(self._doubt.on)
        self._chance, self._gaps = Label(), Label()
        for said in (self._chance, self._gaps):
            said.setWordWrap(True)
            said.setContentsMargins(8, 0, 8, 0)
            said.hide()
        self._picture_button, self._csv_button = QPushButton("Picture…"), QPushButton("CSV…")
        self._picture_button.setToolTip("Save the curves as a picture")
        self._csv_button.setToolTip("Save the figures of the curves for a spreadsheet")
        self._trouble = Label()
        self._trouble.setWordWrap(True)
        self._trouble.hide()
        self._arrange()
        self.setAccessibleName("Curves")
        self.setAccessibleDescription(
            "A pump's margin, vacuum, pressure or NPSH over one figure, in every case"
        )
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self.refresh)
        self._connect()

    def _arrange(self) -> None:
        bar = QHBoxLayout()
        for widget in (
            Label("Over"),
            self.over,
            Label("Shown"),
            self.quantity,
            self.every_case,
            self.alternatives,
            self.uncertainty,
        ):
            bar.addWidget(widget, 4 if isinstance(widget, QComboBox) else 0)
        bar.addStretch(1)
        bar.addWidget(self._picture_button)
        bar.addWidget(self._csv_button)
        bar.setContentsMargins(8, 4, 8, 0)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addLayout(bar)
        self._column.addWidget(self._trouble)
        self._column.addWidget(self._chance)
        self._column.addWidget(self._gaps)

    def _connect(self) -> None:
        self._document.changed.connect(self._changed)
        self._document.opened.connect(self._forget)
        self.over.activated.connect(self.refresh)
        self.quantity.activated.connect(self._paint)
        self.every_case.toggled.connect(self._paint)
        self.alternatives.toggled.connect(self.refresh)
        self.uncertainty.clicked.connect(self._doubt.toggle)
        self._doubt.changed.connect(self._follow_doubt)
        self._picture_button.clicked.connect(self.ask_for_picture)
        self._csv_button.clicked.connect(self.ask_for_csv)

    def _follow_doubt(self) -> None:
        """One switch for all views: the box stands as it does, whoever threw it."""
        thrown = self.uncertainty.isChecked() != self._doubt.on or self._chance.isHidden() == self._doubt.on
        if thrown or (self._chance.text() == LOADING and not self._loads):
            self.uncertainty.setChecked(self._doubt.on)
            self._chance.setVisible(self._doubt.on)
            if self.isVisible():
                self.refresh()

    @property
    def subject(self) -> Subject | None:
        """What is varied; None where nothing can be."""
        at = self.over.currentIndex()
        return self._subjects[at] if 0 <= at < len(self._subjects) else None

    def vary(self, name: str) -> None:
        """Show the curves over that one of `INPUTS`; nothing where the drawing has no such figure."""
        at = next((at for at, each in enumerate(self._subjects) if each.name == name), -1)
        if at >= 0:
            self.over.setCurrentIndex(at)
            self.refresh()

    def refresh(self) -> None:
        """Work the curves out for the drawing as it is."""
        document = self._document
        ledger = document.ledger
        if ledger is None:
            return
        self._offer(subjects(document.layout, ledger, document.level))
        subject = self.subject
        if subject is None:
            return
        try:
            self._curves = curves(document.layout, document.pump, subject, document.level)
            self._others = self._of_alternatives(subject) if self.alternatives.isChecked() else {}
            in_view = document.solution.layout if document.solution is not None else document.layout
            self._between = transitional(in_view, document.pump, subject, document.level)
            self._draw_unknown()
        except (SweepError, NetworkError) as error:
            self._curves = None
            self._show_trouble(str(error))
            return
        self._show_trouble("")
        self._paint()

    @property
    def _loads(self) -> bool:
        """Whether the libraries for the draws are being loaded, which takes over a second, by a thread."""
        return self._doubt.answered is None and self._doubt.busy

    def _draw_unknown(self) -> None:
        """The chance of being over, and the band of the margin, where they are asked for."""
        document, wanted = self._document, self.uncertainty.isChecked()
        self._chance.setVisible(wanted)
        self._uncertain_margin = None
        if not wanted or self._curves is None:
            return
        if self._loads:
            self._chance.setText(LOADING)
            return
        self._uncertain_margin = uncertain_margin(document.layout, self._curves, document.level)
        drawn = every_case(document.layout, document.pump, document.level)
        self._chance.setText(f"{capitalised(sentence(drawn))}; the band holds 90 of 100.")
        self._chance.setToolTip(words.tooltip("\n".join(lines(drawn, document.system))))

    def _offer(self, offered: tuple[Subject, ...]) -> None:
        """List what can be varied, and keep what was chosen."""
        chosen = self.subject.name if self.subject is not None else "port height"
        labels = [capitalised(each.label) for each in offered]
        self._subjects = offered
        if labels != [self.over.itemText(at) for at in range(self.over.count())]:
            self.over.clear()
            self.over.addItems(labels)
        names = [each.name for each in offered]
        self.over.setCurrentIndex(names.index(chosen) if chosen in names else 0)

    def _of_alternatives(self, subject: Subject) -> dict[str, Curves]:
        """The curves of every other alternative that has the figure and the pump."""
        document, others = self._document, {}
        layouts = {"": document.drawing.base} | {
            name: each.layout for name, each in document.drawing.alternatives.items()
        }
        for name, layout in layouts.items():
            if name == document.alternative or document.pump not in layout.pumps:
                continue
            try:
                others[name or "base drawing"] = curves(layout, document.pump, subject, document.level)
            except (SweepError, NetworkError):
                continue  # it has no such figure
        return others

    def _paint(self) -> None:
        if self._curves is None:
            return
        if self.plot is None:
            from sketch.views.curves_plot import CurvesPlot

            self.plot = CurvesPlot(self)
            self.plot.dragged.connect(self._drag)
            self.plot.let_go.connect(self._let_go)
            self.plot.given_up.connect(self._give_up)
            self._column.addWidget(self.plot, 1)
        subject = self.subject
        self.plot.draggable = subject is not None and subject.name in EDITS
        shown = self._pictured()
        # In one paragraph: a line each would take the room of the plot.
        self._gaps.setText(" ".join(f"{gap.text}." for gap in shown.gaps))
        self._gaps.setVisible(bool(shown.gaps))
        self.plot.show_picture(shown)

    def _pictured(self, now: float | None = None) -> Picture:
        assert self._curves is not None
        return picture(
            self._curves,
            Quantity(self.quantity.currentText()),
            self._document.system,
            self._others,
            self._between,
            every_case=self.every_case.isChecked(),
            now=now,
            uncertain_margin=self._uncertain_margin,
        )

    # The hand

    def _drag(self, x: float) -> None:
        """Take the drawing along with its point, as the strip does."""
        subject, document, plot = self.subject, self._document, self.plot
        if subject is None or plot is None:
            return
        if not self._gesture:
            self._gesture, self._base = document.gesture(), document.layout
        kind = INPUTS[subject.name].kind
        si = units.from_display(_stepped(x, subject, document.system), kind, document.system)
        level = Level.MINIMUM if document.level == Level.MINIMUM else Level.NORMAL
        try:
            layout = EDITS[subject.name](self._base, subject, level, si)
        except (EditError, GeometryError) as error:
            self._show_trouble(str(error))
            return
        self._show_trouble("")
        document.apply(capitalised(subject.label), layout, self._gesture)
        plot.show_picture(self._pictured(si))

    def put(self, x: float) -> None:
        """Put a place of the level axis [shown unit] into the drawing, as if its point were dragged there."""
        self._drag(x)
        self._let_go()

    def words_of(self, x: float) -> str:
        """What a place of the level axis [shown unit] stands for: "port height of press 4 ft"."""
        subject, system = self.subject, self._document.system
        assert subject is not None
        kind = INPUTS[subject.name].kind
        si = units.from_display(_stepped(x, subject, system), kind, system)
        return f"{subject.label} {units.typeset(si, kind, system)}"

    def _let_go(self) -> None:
        self._gesture = 0
        self.refresh()

    def _give_up(self) -> None:
        if self._gesture:
            self._document.cancel(self._gesture)
        self._let_go()

    # Out

    def save_picture(self, path: Path) -> None:
        """Write the plot as a PNG file. Raises SaveError."""
        assert self.plot is not None
        disk.write_safely(path, screenshot.png_of(self.plot))

    def save_csv(self, path: Path) -> None:
        """Write every figure of the curves as CSV, in SI. Raises SaveError."""
        assert self._curves is not None
        disk.write_safely(path, as_csv(self._curves, self._others))

    def ask_for_picture(self) -> None:
        """Ask for a file and write the plot to it."""
        self._ask("Save picture", "PNG (*.png)", ".png", self.save_picture)

    def ask_for_csv(self) -> None:
        """Ask for a file and write the figures to it."""
        self._ask("Save CSV", "CSV (*.csv)", ".csv", self.save_csv)

    def _ask(self, title: str, kinds: str, ending: str, save: Callable[[Path], None]) -> None:
        waiting = self._document.file.waiting
        if self._curves is None or self.plot is None or waiting.refuses():
            return
        name, _ = QFileDialog.getSaveFileName(self, title, f"curves{ending}", kinds)
        if not name:
            return
        path = Path(name) if Path(name).suffix else Path(name).with_suffix(ending)
        try:
            with waiting.showing(f"Writing {disk.path_text(Path(path.name))}"):
                save(path)
        except (OSError, ValueError) as error:
            self._document.refused.emit(str(error))

    # What the drawing does

    def _show_trouble(self, trouble: str) -> None:
        self._trouble.setText(trouble)
        self._trouble.setVisible(bool(trouble))
        if trouble and self.plot is not None:
            self.plot.grey()

    def _forget(self) -> None:
        """Another drawing is here: nothing of the last one stays on the screen."""
        self._curves, self._others, self._uncertain_margin, self._gesture = None, {}, None, 0
        self._chance.setText("")
        if self.plot is not None:
            self.plot.deleteLater()
            self.plot = None

    def _changed(self) -> None:
        if not self.isVisible() or (self.plot is not None and self.plot.dragging):
            return
        if self.plot is not None:
            self.plot.grey()
        self._idle.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()


def _stepped(x: float, subject: Subject, system: units.System) -> float:
    """A place rounded to what a hand can mean: a thousandth of the whole way, in ones, twos or fives."""
    kind = INPUTS[subject.name].kind
    low, high = (units.to_display(end, kind, system) for end in subject.ends)
    rough = (high - low) / 500
    power = 10.0 ** _floor_log(rough)
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough)
    return round(x / step) * step


def _floor_log(value: float) -> int:
    return floor(log10(value)) if value > 0 else -6
