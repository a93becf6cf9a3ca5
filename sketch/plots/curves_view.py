"""A pump's figures over one thing that is varied: what is chosen, and the plot of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtGui import QHideEvent, QShowEvent
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

from sketch.editing.edits import EditError
from sketch.look import screenshot, words
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.model import disk
from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.plots.curve_edits import EDITS, before_drag, dragged, rounded
from sketch.plots.curves import CurveQuantity, CurvesPicture, as_csv, picture, unjudged_text
from sketch.plots.curves_worker import CurvesQuestion, CurvesWorker, Draws, DrawsWorker, SolvedCurves
from solver.answers.curves import CurveSubject, UncertainMargin
from solver.answers.inputs import INPUTS
from solver.geometry.outline import GeometryError
from solver.quantities import units
from solver.quantities.wording import capitalised

if TYPE_CHECKING:
    from sketch.plots.curves_plot import CurvesPlot

WORKING_OUT = "Solving the curves of this drawing in every case…"
DRAWING_OUT = "Uncertainty: being worked out"

WIDEST_CHOICE = 220
"""Width of a list that is given all the room it wants, in logical pixels."""


class CurvesView(QWidget):
    """Has the curves worked out once the drawing has come to rest, and only while it is seen.

    Curves of a drawing that is no longer the one shown are greyed at once. While the point is dragged they
    stay: its own figure is what they are drawn over.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._worker = CurvesWorker(document)
        self._draws = DrawsWorker(document, self._worker)
        self._worked: SolvedCurves | None = None  # what is drawn, whatever drawing it belongs to
        self._drawn: Draws | None = None  # the draws whose band is drawn
        self._gesture, self._base, self._first = 0, document.layout, document.layout
        self._dragged: tuple[CurvesQuestion | None, float] | None = None  # of what, and the point [SI]
        self.plot: CurvesPlot | None = None
        self.over, self.quantity = Choice(), Choice()
        self.over.setAccessibleName("Varied")
        self.quantity.setAccessibleName("Shown")
        self.quantity.addItems([str(each) for each in CurveQuantity])
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
            "Between which margins 90 of 100 trials lie, here, beside column and profile"
        )
        self.uncertainty.setChecked(self._doubt.on)
        self._working_out, self._trouble, self._chance, self._gaps = (Label() for _ in range(4))
        self._working_out.setText(WORKING_OUT)
        self._picture_button, self._csv_button = QPushButton("Picture…"), QPushButton("CSV…")
        self._picture_button.setToolTip("Save the curves as a picture")
        self._csv_button.setToolTip("Save the figures of the curves for a spreadsheet")
        self._arrange()
        self.setAccessibleName("Curves")
        self.setAccessibleDescription("Margin, vacuum, pressure or NPSH of a pump over one figure, by case")
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
        for label in (self._working_out, self._trouble, self._chance, self._gaps):
            label.setWordWrap(True)
            label.setContentsMargins(8, 0, 8, 0)
            label.setVisible(label is self._working_out)
            self._column.addWidget(label)
        self._column.addStretch()

    def _connect(self) -> None:
        self._document.changed.connect(self._changed)
        self._document.opened.connect(self._forget)
        self._worker.changed.connect(self._answered)
        self._draws.changed.connect(self._show_draws)
        self.over.activated.connect(self._choose)
        self.quantity.activated.connect(self._paint)
        self.every_case.toggled.connect(self._paint)
        self.alternatives.toggled.connect(self._choose)
        self.uncertainty.clicked.connect(self._doubt.toggle)
        self._doubt.changed.connect(self._follow_doubt)
        self._picture_button.clicked.connect(self.ask_for_picture)
        self._csv_button.clicked.connect(self.ask_for_csv)

    @property
    def stale(self) -> bool:
        """Whether the curves belong to a drawing that is no longer the one shown."""
        if self._worker.at_hand:
            return False
        question = self._worker.question()
        return question is None or self._dragged is None or self._dragged[0] != question

    @property
    def busy(self) -> bool:
        """Whether anything that is to be drawn is on its way."""
        return self._worker.busy or self._draws.busy

    @property
    def subject(self) -> CurveSubject | None:
        """What is varied in the curves that are drawn; None where none are."""
        return self._worked.curves.subject if self._worked is not None else None

    def vary(self, name: str) -> None:
        """Show the curves over that one of `INPUTS`; nothing where the drawing has no such figure."""
        if self._worked is None or name in (each.name for each in self._worked.offered):
            self._worker.over = name
            self._follow(at_once=True)

    def _choose(self) -> None:
        """Have other curves of the drawing worked out, as was chosen."""
        at = self.over.currentIndex()
        if self._worked is not None and 0 <= at < len(self._worked.offered):
            self._worker.over = self._worked.offered[at].name
        self._worker.with_alternatives = self.alternatives.isChecked()
        self._follow(at_once=True)

    def _follow(self, *, at_once: bool = False) -> None:
        """Show the curves of the drawing as it is, or grey the old ones and have those worked out."""
        self._worker.ask(at_once=at_once)
        if self._worker.at_hand:
            self._show_answer()
        elif self.stale:
            self._grey()

    def _answered(self) -> None:
        if self.isVisible():
            self._show_answer()

    def _show_answer(self) -> None:
        """Draw the curves of this drawing, or say why there are none."""
        worked: SolvedCurves | None = self._worker.answer
        self._working_out.hide()
        if worked is None:
            self._show_trouble(self._worker.trouble)
            self._grey()
            return
        self._show_trouble("")
        if worked is not self._worked or self._dragged is not None or self.plot is None or self.plot.stale:
            if worked is not self._worked:
                self._drawn = None
            self._worked, self._dragged = worked, None
            self._offer(worked)
            self._paint()
        self._ask_draws()

    def _offer(self, worked: SolvedCurves) -> None:
        """List what can be varied, and choose what is."""
        labels = [capitalised(each.label) for each in worked.offered]
        if labels != [self.over.itemText(at) for at in range(self.over.count())]:
            self.over.clear()
            self.over.addItems(labels)
        self.over.setCurrentIndex(labels.index(capitalised(worked.curves.subject.label)))

    # How sure the margin is

    def _follow_doubt(self) -> None:
        """One switch for all views: the box stands as it does, whoever threw it."""
        self.uncertainty.setChecked(self._doubt.on)
        thrown, self._draws.on = self._draws.on != self._doubt.on, self._doubt.on
        if thrown and self.isVisible():
            self._ask_draws()

    def _ask_draws(self) -> None:
        if self._draws.on:
            self._draws.ask(at_once=True)
        self._show_draws()

    def _show_draws(self) -> None:
        """The chance of being over, and the band of the margin, where they are asked for."""
        draws: Draws | None = self._draws.answer
        trouble = self._draws.trouble
        if not self._draws.on:
            self._chance.setText("")
        elif draws is not None:
            self._chance.setText(draws.sentence)
        elif trouble or not self._chance.text():
            self._chance.setText(f"Uncertainty: {trouble}" if trouble else DRAWING_OUT)
        self._chance.setToolTip(words.tooltip("\n".join(draws.lines)) if draws is not None else "")
        self._chance.setVisible(self._draws.on)
        self._chance.setEnabled(self._draws.at_hand)
        if draws is not self._drawn and self._worker.at_hand:
            self._drawn = draws
            self._paint()

    # The plot

    def _paint(self) -> None:
        if self._worked is None:
            return
        if self.plot is None:
            self.plot = self._new_plot()
        shown, stale = self._pictured(), self.stale
        self.plot.draggable = self._worked.curves.subject.name in EDITS
        self._gaps.setText(unjudged_text(shown.gaps))
        self._gaps.setVisible(bool(shown.gaps))
        self.plot.show_picture(shown)
        self._set_current(not stale)
        if stale:
            self.plot.grey()

    def _new_plot(self) -> CurvesPlot:
        from sketch.plots.curves_plot import CurvesPlot

        plot = CurvesPlot(self)
        plot.dragged.connect(self._drag)
        plot.let_go.connect(self._let_go)
        plot.given_up.connect(self._give_up)
        self._column.insertWidget(self._column.count() - 1, plot, 1)
        return plot

    def _pictured(self) -> CurvesPicture:
        assert self._worked is not None
        return picture(
            self._worked.curves,
            CurveQuantity(self.quantity.currentText()),
            self._document.system,
            self._worked.others,
            self._worked.between,
            every_case=self.every_case.isChecked(),
            now=self._dragged[1] if self._dragged is not None else None,
            uncertain_margin=self._band,
        )

    def _grey(self) -> None:
        """Say that the drawing has changed under what is shown."""
        if self.plot is not None:
            self.plot.grey()
        self._set_current(current=False)

    def _set_current(self, current: bool) -> None:
        self._chance.setEnabled(current and self._draws.at_hand)
        for each in (self._gaps, self._picture_button, self._csv_button):
            each.setEnabled(current)

    # The hand

    def _drag(self, x: float) -> None:
        """Take the drawing along with its point, as the strip does."""
        subject, document, plot = self.subject, self._document, self.plot
        if subject is None or plot is None:
            return
        if not self._gesture:
            self._gesture, self._base = document.gesture(), document.layout
            self._first = before_drag(document, subject)
        si = rounded(x, subject, document.system)
        try:
            label, layout = dragged(self._base, self._first, subject, document.level, si)
        except (EditError, GeometryError) as error:
            self._show_trouble(str(error))
            return
        self._show_trouble("")
        document.apply(label, layout, self._gesture)
        self._dragged = self._worker.question(), si
        plot.show_picture(self._pictured())

    def put(self, x: float) -> None:
        """Put a place of the level axis [shown unit] into the drawing, as if its point were dragged there."""
        if not self.stale:
            self._drag(x)
            self._let_go()

    def words_of(self, x: float) -> str:
        """What a place of the level axis [shown unit] stands for: "port height of press 4 ft"."""
        subject, system = self.subject, self._document.system
        assert subject is not None
        figure = units.typeset(rounded(x, subject, system), INPUTS[subject.name].kind, system)
        return f"{subject.label} {figure}"

    def _let_go(self) -> None:
        self._gesture = 0
        self._follow(at_once=True)

    def _give_up(self) -> None:
        if self._gesture:
            self._document.cancel(self._gesture)
        self._let_go()

    # Out

    @property
    def _band(self) -> UncertainMargin | None:
        """The band of the margin, where it is drawn."""
        return self._drawn.margin if self._drawn is not None else None

    def save_picture(self, path: Path) -> None:
        """Write the plot as a PNG file. Raises SaveError."""
        assert self.plot is not None
        disk.write_safely(path, screenshot.png_of(self.plot))

    def save_csv(self, path: Path) -> None:
        """Write every figure of the curves as CSV, in SI. Raises SaveError."""
        assert self._worked is not None
        disk.write_safely(path, as_csv(self._worked.curves, self._worked.others, self._band))

    def ask_for_picture(self) -> None:
        """Ask for a file and write the plot to it."""
        self._ask("Save picture", "PNG (*.png)", ".png", self.save_picture)

    def ask_for_csv(self) -> None:
        """Ask for a file and write the figures to it."""
        self._ask("Save CSV", "CSV (*.csv)", ".csv", self.save_csv)

    def _ask(self, title: str, kinds: str, ending: str, save: Callable[[Path], None]) -> None:
        waiting = self._document.file.waiting
        if self._worked is None or self.plot is None or waiting.refuses():
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
        if trouble:
            self._grey()

    def _forget(self) -> None:
        """Another drawing is here: nothing of the last one stays on the screen."""
        self._worked, self._drawn, self._dragged, self._gesture = None, None, None, 0
        self._chance.setText("")
        for label in (self._trouble, self._chance, self._gaps):
            label.hide()
        self._working_out.show()
        self._set_current(current=False)
        if self.plot is not None:
            self.plot.hide()  # it goes only when the loop of events comes round
            self.plot.deleteLater()
            self.plot = None

    def _changed(self) -> None:
        if not self.isVisible():
            return
        if self.plot is not None and self.plot.dragging:
            self._worker.ask()
            self._chance.setEnabled(False)
        else:
            self._follow()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._worker.on = True
        self._follow(at_once=True)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._worker.on = False
