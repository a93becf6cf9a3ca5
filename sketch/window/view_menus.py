"""The menus of Reach, Curves, Priming, Working, Readings and Causes: of their rows, points, gauges, texts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from PySide6.QtCore import QObject, QPoint, QPointF
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractItemView, QMenu, QTextBrowser, QWidget

from sketch.canvas import walking
from sketch.editing import readings
from sketch.editing.edits import EditError
from sketch.model import alternatives
from sketch.model.document import Document
from sketch.model.inspector import diagnostician
from sketch.plots.curve_edits import EDITS, edited
from sketch.plots.curves_view import CurvesView
from sketch.views.causes_view import CausesView
from sketch.views.priming_view import PrimingView
from sketch.views.reach_view import ReachView
from sketch.views.reading_rows import ReadingRow
from sketch.views.readings_view import ReadingsView
from sketch.views.working_view import WorkingView
from sketch.window.actions import Actions
from sketch.window.workspace import Workspace
from solver.answers import curves, temperatures
from solver.answers.answer import HIGHEST_PORT, LOWEST_LEVEL, Answer, Status
from solver.geometry.followed import followed_text
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout
from solver.quantities.wording import capitalised

Filler = Callable[[QMenu, QPoint | None], QPoint | None]
"""Fills a menu for a place of its widget, or with None for what the keyboard is on; where it is to open."""

VARIED: Mapping[str, str] = {
    HIGHEST_PORT: "port height",
    LOWEST_LEVEL: "level",
    "smallest bore": "bore",
    temperatures.COLDEST_START: "temperature",
    temperatures.HOTTEST: "temperature",
    "highest site": "elevation",
    "highest speed": "speed",
    "largest flow": "flow",
    "dirtiest strainer": "blocked",
    "heaviest fluid": "density",
}
"""Which figure of the curves a question of Reach is about."""


class ViewMenus:
    """Fills those menus, with the window's own commands and with what the views do themselves."""

    def __init__(
        self,
        document: Document,
        workspace: Workspace,
        actions: Actions,
        of_part: Callable[[QMenu], None],
    ) -> None:
        """`of_part` adds what is done with the part that is selected."""
        self._document, self._workspace = document, workspace
        self._actions, self._of_part = actions, of_part
        views = workspace.views
        reach, plotted, priming = (views[name] for name in ("reach", "curves", "priming"))
        working, logged, causes = (views[name] for name in ("working", "readings", "causes"))
        assert isinstance(reach, ReachView)
        assert isinstance(plotted, CurvesView)
        assert isinstance(priming, PrimingView)
        assert isinstance(working, WorkingView)
        assert isinstance(logged, ReadingsView)
        assert isinstance(causes, CausesView)
        self._reach, self._curves, self._priming = reach, plotted, priming
        self._working, self._readings, self._causes = working, logged, causes

    def fillers(self) -> dict[QObject, Filler]:
        """Who fills the menu of which widget."""
        pages = (self._priming.facts, self._priming.work, self._priming.air)
        return {
            **dict.fromkeys(surfaces(self._reach), self._on_answer),
            self._curves: self._on_curves,
            **{each: partial(self._on_plan, page) for page in pages for each in surfaces(page)},
            **dict.fromkeys((self._working, *surfaces(self._working.page)), self._on_working),
            **dict.fromkeys(surfaces(self._readings.table), self._on_reading),
            self._readings.trend.plot: self._on_trend,
            **dict.fromkeys(surfaces(self._causes.table), self._on_cause),
            **dict.fromkeys(surfaces(self._causes.page), self._on_reasons),
        }

    def of_reading(self, menu: QMenu, number: int) -> None:
        """What is done with the gauge on the drawing that shows a reading, by its place in the file."""
        menu.addAction("Show this reading", partial(self._show_reading, number))
        menu.addAction("Explain this visit", partial(self._explain, number))

    def of_highest_port(self, menu: QMenu) -> None:
        """What is done with the line of the highest port on the drawing."""
        menu.addAction("Show how far the port may go", partial(self._workspace.show_tab, "reach"))
        menu.addAction("Show the curve over its height", partial(self._show_curve, VARIED[HIGHEST_PORT]))

    def _add(self, menu: QMenu, *names: str) -> None:
        if not menu.isEmpty():
            menu.addSeparator()
        menu.addActions([self._actions[name] for name in names])

    # Reach

    def _on_answer(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view = self._reach
        index = view.currentIndex() if place is None else view.indexAt(place)
        if not index.isValid():
            return None
        view.setCurrentIndex(index)
        answer, answers = view.reach.answers[index.row()], view.reach.answers
        subject = self._subject(VARIED.get(answer.question, ""))
        menu.addAction("Copy this answer", partial(_copy, _sentence(answer)))
        menu.addAction("Copy all answers", partial(_copy, "\n".join(map(_sentence, answers))))
        if subject is not None:
            menu.addSeparator()
            menu.addAction("Show the curve over it", partial(self._show_curve, subject.name))
        if (
            subject is not None
            and subject.name in EDITS
            and answer.question not in temperatures.OF_TEMPERATURE
        ):
            is_found = answer.value is not None and answer.status == Status.FOUND and not view.stale
            keep = menu.addAction("Keep this limit as alternative",
                                  partial(self._keep_limit, answer, subject))  # fmt: skip
            keep.setEnabled(is_found)
        if answer.question == HIGHEST_PORT:
            self._add(menu, "reach map")
        return view.visualRect(index).center() if place is None else place

    def _subject(self, name: str) -> curves.CurveSubject | None:
        """What is varied under that name in the drawing as it stands."""
        document = self._document
        if not name or document.ledger is None:
            return None
        offered = curves.subjects(document.layout, document.ledger, document.level)
        return next((each for each in offered if each.name == name), None)

    def _show_curve(self, name: str) -> None:
        self._workspace.show_tab("curves")
        self._curves.vary(name)

    def _keep_limit(self, answer: Answer, subject: curves.CurveSubject) -> None:
        """Keep the drawing with a figure at its limit as an alternative; the drawing stays as it is."""
        assert answer.figure is not None
        document = self._document
        try:
            layout = edited(document.layout, subject, document.level, answer.figure)
        except (EditError, GeometryError) as error:
            document.refused.emit(f"No alternative was made: {error}.")
            return
        followed = followed_text(document.layout, layout)  # bends that it took to lead the line there
        note = f"{_sentence(answer)} {capitalised(followed)}." if followed else _sentence(answer)
        self._keep(f"{subject.label} at its limit", layout, note)

    def _keep(self, change: str, layout: Layout, note: str) -> None:
        self._document.change_alternatives(
            f"Keep the alternative {change}", lambda state: alternatives.kept(state, change, layout, note)
        )

    # Curves

    def _on_curves(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view = self._curves
        plot = view.plot
        if plot is None:
            return None
        value = None if place is None else plot.value_at(QPointF(plot.mapFrom(view, place)))
        if value is not None and plot.draggable and not plot.stale:
            menu.addAction(f"Put {view.words_of(value)} into the drawing", partial(view.put, value))
            menu.addSeparator()
        menu.addAction("Copy the picture of the curves", partial(_copy_picture, plot))
        for text, save in (
            ("Save the picture of the curves…", view.ask_for_picture),
            ("Save the figures of the curves as CSV…", view.ask_for_csv),
        ):
            menu.addAction(text, save).setEnabled(not view.stale)
        menu.addSeparator()
        menu.addAction("Show all of the curves", plot.fit)
        self._add(menu, "uncertainty")
        return plot.geometry().center() if place is None else place

    # Priming and Working

    def _on_plan(self, page: QTextBrowser, menu: QMenu, place: QPoint | None) -> QPoint | None:
        self._of_text(menu, page)
        menu.addAction("Copy the whole plan", self._priming.copy_text)
        at = page.cursorRect().center() if place is None else place
        part = self._priming.part_of(page.anchorAt(at))
        if part:
            self._document.select(part)
            self._of_part(menu)
        self._add(menu, "card file", "sheet")
        return at

    def _on_working(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view = self._working
        shown = view.working()
        if shown is None:
            return None
        self._of_text(menu, view.page)
        menu.addAction("Copy the steps", view.copy_text)
        stay = menu.addAction("Stay with this entry", view.pin.toggle)
        stay.setCheckable(True)
        stay.setChecked(view.kept)
        part = view.part
        if part:
            view.show_key(shown.key, keep=True)
            self._document.select(part)
            self._of_part(menu)
        self._add(menu, "calculation file")
        return view.page.rect().center() if place is None else place

    def _of_text(self, menu: QMenu, page: QTextBrowser) -> None:
        """What is done with the words that are marked on a page."""
        if page.textCursor().hasSelection():
            menu.addAction("Copy what is marked", page.copy)

    # Readings

    def _on_reading(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view, table = self._readings, self._readings.table
        index = table.currentIndex() if place is None else table.indexAt(place)
        if index.isValid():
            table.selectRow(index.row())
            row = view.rows[index.row()]
            logged = self._document.layout.readings[row.number]
            menu.addAction("Copy this reading", partial(_copy, _reading_text(row)))
            menu.addAction("Copy all readings", partial(_copy, "\n".join(map(_reading_text, view.rows))))
            menu.addSeparator()
            menu.addAction("Explain this visit", partial(self._explain, row.number))
            go = menu.addAction("Go to its place on the drawing",
                                partial(self._go_to, logged.run or logged.pump))  # fmt: skip
            go.setEnabled((logged.run or logged.pump) in walking.flow_order(self._document))
            menu.addAction("Over time", partial(view.sides.setCurrentWidget, view.trend))
            menu.addSeparator()
            menu.addAction("Delete this reading", view.remove)
        new = menu.addAction("New reading", view.add)
        new.setEnabled(bool(self._document.layout.pumps))
        put = menu.addAction("Put a gauge on the drawing", self._actions[f"take {readings.ON_SHELF}"].trigger)
        put.setEnabled(new.isEnabled())
        return table.visualRect(index).center() if place is None else place

    def _on_trend(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        plot = self._readings.trend.plot
        if plot.trend is None:
            return None
        at = plot.rect().center() if place is None else place
        number = plot.number_at(at.x())
        if place is not None and number is not None:
            self.of_reading(menu, number)
            menu.addSeparator()
        menu.addAction("Copy this picture", partial(_copy_picture, plot))
        return at

    def _show_reading(self, number: int) -> None:
        self._workspace.show_tab("readings")
        self._readings.choose(number)

    def _explain(self, number: int) -> None:
        """Show what explains the visit that a reading belongs to."""
        document, asked = self._document, diagnostician(self._document)
        pump = document.layout.readings[number].pump
        if pump in document.layout.pumps:
            document.show_pump(pump)
        asked.visit = next((name for name, numbers in asked.visits().items() if number in numbers), "")
        self._workspace.show_tab("causes")
        self._causes.ask_again()

    def _go_to(self, part: str) -> None:
        self._document.select(part)
        self._workspace.elevation.setFocus()

    # Causes

    def _on_cause(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        table = self._causes.table
        index = table.currentIndex() if place is None else table.indexAt(place)
        if not index.isValid():
            return None
        table.selectRow(index.row())
        self._of_causes(menu)
        return table.visualRect(index).center() if place is None else place

    def _on_reasons(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        page = self._causes.page
        if self._causes.chosen is None:
            return None
        self._of_text(menu, page)
        self._of_causes(menu)
        return page.rect().center() if place is None else place

    def _of_causes(self, menu: QMenu) -> None:
        """What is done with the cause that is chosen."""
        view = self._causes
        row = view.chosen
        assert row is not None
        put = menu.addAction(view.put.text(), view.put_into_drawing)
        put.setEnabled(view.put.isEnabled())
        part = row.words.explanation.part
        if part in walking.flow_order(self._document):
            menu.addAction(f"Go to {part} on the drawing", partial(self._go_to, part))
        menu.addSeparator()
        menu.addAction("Copy this cause", partial(_copy, row.spoken))
        menu.addAction("Copy all causes", partial(_copy, "\n\n".join(each.spoken for each in view.rows)))
        self._add(menu, "readings", "fixes")


def surfaces(view: QAbstractItemView | QTextBrowser) -> tuple[QWidget, QWidget]:
    """Where a view gets the menu of the keyboard, and that of the pointer."""
    return view, view.viewport()


def _sentence(answer: Answer) -> str:
    return f"{answer.text} (limited by: {answer.reason})" if answer.reason else answer.text


def _reading_text(row: ReadingRow) -> str:
    cells: Sequence[str] = [each for each in row.cells if each]
    return ". ".join((", ".join(cells), *row.words))


def _copy(text: str) -> None:
    QGuiApplication.clipboard().setText(capitalised(text))


def _copy_picture(widget: QWidget) -> None:
    QGuiApplication.clipboard().setImage(widget.grab().toImage())
