"""The menu of whatever is pointed at: on the sheet, a slice of the column, a row of the ledger, a finding."""

from __future__ import annotations

from collections.abc import Collection
from functools import partial

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QContextMenuEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from sketch.air_column.column import slice_at
from sketch.air_column.slices import part_of
from sketch.canvas import bending, shelf, walking
from sketch.canvas.handles import REMARKS, Handle, Hold
from sketch.drawing.labels import LabelKind
from sketch.drawing.pins import pin_at
from sketch.editing import building, remarks, reshape, tanks
from sketch.editing.readings import ON_SHELF
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.model.pins import pins
from sketch.plots.profile_view import PressureProfile
from sketch.views.alternatives_page import AlternativesPage
from sketch.views.cases_view import CasesView
from sketch.views.findings_view import FindingsView
from sketch.views.fixes_view import FixesView
from sketch.views.ledger_rows import Role
from sketch.views.working_view import WorkingView
from sketch.window.actions import Actions
from sketch.window.view_menus import Filler, ViewMenus, surfaces
from sketch.window.workspace import Workspace
from solver.layout.remarks import Direction
from solver.quantities.wording import uncapitalised

MEASURE = {
    Direction.STRAIGHT: "all of the way between",
    Direction.ACROSS: "across only",
    Direction.UP: "up only",
}
NEAR = 5.0  # logical pixels from a line that is pointed at
BENDS = (Hold.CORNER, Hold.OUTLINE)
OF_PART = ("card", "rename part", "select line")
OF_SELECTION = ("cut", "copy", "duplicate", "remove part")
OF_SHEET = ("paste", "select all")
OF_VIEW = ("fit", "zoom in", "zoom out", "reach map")


class ContextMenus(QObject):
    """Opens a menu by the right button and by the menu key, made of the window's own commands."""

    def __init__(self, window: QWidget, document: Document, workspace: Workspace, actions: Actions) -> None:
        super().__init__(window)
        self._window, self._document = window, document
        self._workspace, self._actions = workspace, actions
        findings = workspace.views["findings"]
        assert isinstance(findings, FindingsView)
        self._findings = findings
        page = workspace.views["alternatives"]
        assert isinstance(page, AlternativesPage)
        self._alternatives = alternatives = page.table
        page.new.setDefaultAction(actions["new alternative"])
        cases, fixes, profile = (workspace.views[name] for name in ("cases", "fixes", "profile"))
        assert isinstance(cases, CasesView)
        assert isinstance(fixes, FixesView)
        assert isinstance(profile, PressureProfile)
        self._cases, self._fixes, self._profile = cases.table, fixes.list, profile
        self._fillers: dict[QObject, Filler] = {
            workspace.elevation: self._on_sheet,
            workspace.column: self._on_column,
            **dict.fromkeys(surfaces(workspace.ledger.table), self._on_ledger),
            **dict.fromkeys(surfaces(findings), self._on_finding),
            **dict.fromkeys(surfaces(alternatives), self._on_alternative),
            **dict.fromkeys(surfaces(self._cases), self._on_case),
            **dict.fromkeys(surfaces(self._fixes), self._on_fix),
            self._profile: self._on_profile,
        }
        self._of_views = ViewMenus(document, workspace, actions, self._of_part)
        self._fillers |= self._of_views.fillers()
        for widget in self._fillers:
            widget.installEventFilter(self)

    @property
    def watched(self) -> tuple[QWidget, ...]:
        """Every widget whose menu is opened here."""
        return tuple(widget for widget in self._fillers if isinstance(widget, QWidget))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # By class: what kind an event is takes longer to ask, and every move of a drag brings dozens.
        if isinstance(event, QContextMenuEvent):
            by_key = event.reason() is QContextMenuEvent.Reason.Keyboard
            self._open(watched, None if by_key else event.pos())
            return True
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and _asks_for_menu(event):
            self._open(watched, None)
            return True
        return False

    def _open(self, watched: QObject, place: QPoint | None) -> None:
        assert isinstance(watched, QWidget)
        if QApplication.activePopupWidget() is not None:  # the desktop has sent the key and the menu's event
            return
        menu = QMenu(self._window)
        menu.aboutToHide.connect(menu.deleteLater)
        at = self._fillers[watched](menu, place)
        if at is not None and not menu.isEmpty():
            menu.popup(watched.mapToGlobal(at))

    # The sheet

    def _on_sheet(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        elevation, document = self._workspace.elevation, self._document
        if elevation.hand.dragging or elevation.tool.picked:
            return None
        if place is None:
            handle, part = elevation.hand.active, document.selected_part
            at = QPointF(*elevation.view.device(*walking.middle(document.layout, part))) if part else None
            at = at or QPointF(elevation.rect().center())
        else:
            at = QPointF(place)
            handle = elevation.hand.at(elevation.view, at.x(), at.y())
            part = handle.name if handle is not None else elevation.targets.part_at(at.x(), at.y())
        if part not in document.selection:
            document.select(part)
        handle = handle if handle is not None and handle.name == part else None
        on_bend = handle is not None and handle.hold is Hold.CORNER
        bends_here = part in document.layout.runs and not on_bend
        self._of_handle(menu, handle, at)
        self._of_gauge(menu, QPointF(place) if place is not None else None)
        if place is not None and not part:
            self._of_highest_port(menu, QPointF(place))
        self._of_place(menu, part, at, bends=bends_here)
        # Of the bends, what is done where the pointer is stands in the place of what is done with the line.
        left_out = {"remove bend"} if on_bend else {"add bend"} if bends_here else ()
        self._of_part(menu, left_out) if part else self._of_sheet(menu)
        return at.toPoint()

    def _of_handle(self, menu: QMenu, handle: Handle | None, at: QPointF) -> None:
        """What is done with just the bend, the level or the figure that lies there."""
        elevation = self._workspace.elevation
        dimension = elevation.dimension_at(at)
        if dimension is not None:
            menu.addAction(f"Type {uncapitalised(dimension.name)}…",
                           partial(elevation.field.open, dimension))  # fmt: skip
        if handle is not None and handle.hold in BENDS:
            what = "bend" if handle.hold is Hold.CORNER else "corner"
            menu.addAction(f"Remove this {what}", partial(self._remove_bend, handle))
        if handle is not None and handle.hold in REMARKS:
            self._of_remark(menu, handle)
        if handle is not None and handle.hold is Hold.WALL:
            wall, world = (handle.name, handle.corner), elevation.view.world(at.x(), at.y())
            add = partial(bending.add_corner, self._document, *wall, world)
            menu.addAction("Put a corner into this wall", add)
        if handle is not None and handle.hold is Hold.LEVEL and handle.which is not None:
            self._of_level(menu, self._actions[handle.which])

    @staticmethod
    def _of_level(menu: QMenu, shown: QAction) -> None:
        """Its command under a name that says what it does: in the menu of levels "Normal" is enough."""
        action = menu.addAction("Calculate with the fluid at this level", shown.trigger)
        action.setStatusTip(shown.statusTip())
        action.setCheckable(True)
        action.setChecked(shown.isChecked())
        action.setEnabled(shown.isEnabled())

    def _of_gauge(self, menu: QMenu, place: QPointF | None) -> None:
        """What is done with the reading whose gauge lies there."""
        sheet = self._workspace.elevation
        drawn = (sheet.picture.labels, pins(self._document).shown, sheet.view)
        pin = pin_at(*drawn, place.x(), place.y()) if place is not None else None
        if pin is not None and pin.number >= 0:
            self._of_views.of_reading(menu, pin.number)
            menu.addSeparator()

    def _of_highest_port(self, menu: QMenu, place: QPointF) -> None:
        """What is done with the line of the highest port, on itself or on its label."""
        sheet = self._workspace.elevation
        limits = (each.box for each in sheet.picture.labels if each.kind is LabelKind.LIMIT)
        high = sheet.highest_port
        on_line = high is not None and abs(sheet.view.device(0.0, high)[1] - place.y()) <= NEAR
        if on_line or any(box.holds(place.x(), place.y()) for box in limits):
            self._of_views.of_highest_port(menu)
            menu.addSeparator()

    def _of_remark(self, menu: QMenu, handle: Handle) -> None:
        """What is done with a text or a dimension of one's own."""
        document = self._document
        if handle.hold is Hold.DIMENSION:
            now = document.layout.dimensions[handle.corner].direction
            for direction in Direction:
                action = menu.addAction(f"Measure {MEASURE[direction]}")
                action.triggered.connect(partial(self._measure, handle.corner, direction))
                action.setEnabled(direction is not now)
        menu.addAction(self._actions["card"])
        menu.addAction(f"Delete this {handle.hold}", partial(self._delete_remark, handle))

    def _measure(self, number: int, direction: Direction) -> None:
        changed = remarks.set_direction(self._document.layout, number, direction)
        self._document.apply("Measure another way", changed)

    def _delete_remark(self, handle: Handle) -> None:
        self._workspace.elevation.hand.forget()
        changed = remarks.remove(self._document.layout, handle.hold, handle.corner)
        self._document.apply(f"Delete a {handle.hold}", changed)

    def _remove_bend(self, handle: Handle) -> None:
        elevation = self._workspace.elevation
        at = elevation.view.device(handle.x, handle.y)
        elevation.selector.press_twice(elevation.targets, *at, more=False)
        elevation.message.emit(elevation.selector.trouble)

    def _of_place(self, menu: QMenu, part: str, at: QPointF, *, bends: bool) -> None:
        """What can be put where the pointer is; `bends` where a line can be bent there."""
        layout, world = self._document.layout, self._workspace.elevation.view.world(at.x(), at.y())
        if part in layout.runs:
            if bends:
                menu.addAction("Bend it here", partial(self._bend, part, world))
            self._offer(menu, "Put into it here", (*building.IN_LINE, ON_SHELF), part, world)
        elif part in layout.reservoirs:
            self._offer(menu, "Put into it here", (*tanks.IN_TANK, *building.FREE), part, world)
            menu.addMenu(self._actions.menu("View/Fluid level"))
        elif part in layout.pumps:
            menu.addAction("Note a reading here", partial(self._put, ON_SHELF, part, world))
        elif not part:
            self._offer(menu, "Put here", building.FREE, part, world)

    def _bend(self, run: str, world: tuple[float, float]) -> None:
        stretch, place = reshape.nearest_stretch(self._document.layout, run, *world)
        bending.add_bend(self._document, run, stretch, place)

    def _offer(
        self, menu: QMenu, text: str, what: Collection[str], part: str, world: tuple[float, float]
    ) -> None:
        submenu = menu.addMenu(text)
        for name, kind, tip in shelf.PARTS:
            if kind in what:
                action = submenu.addAction(name, partial(self._put, kind, part, world))
                action.setStatusTip(tip)

    def _put(self, what: str, part: str, world: tuple[float, float]) -> None:
        elevation = self._workspace.elevation
        elevation.pick(what)
        elevation.tool.put_down(elevation.tool.spot_on(part, *world), world)
        trouble = elevation.tool.trouble
        elevation.pick("")
        elevation.message.emit(trouble)

    def _of_part(self, menu: QMenu, left_out: Collection[str] = ()) -> None:
        """What is done with the parts that are selected, but for the commands left out."""
        alone, lines = len(self._document.selection) == 1, self._document.layout.runs
        self._add(menu, *OF_PART)
        if alone and self._document.selected_part in lines:
            bends = (name for name in ("add bend", "remove bend", "turn end") if name not in left_out)
            self._add(menu, *bends, rule=False)
        self._add(menu, "size up", "size down")
        self._add(menu, *OF_SELECTION)
        if not alone:
            menu.addMenu(self._actions.menu("Edit/Arrange"))

    def _of_sheet(self, menu: QMenu) -> None:
        self._add(menu, *OF_SHEET)
        self._add(menu, *OF_VIEW)

    def _add(self, menu: QMenu, *names: str, rule: bool = True) -> None:
        if rule and not menu.isEmpty():
            menu.addSeparator()
        menu.addActions([self._actions[name] for name in names])

    # Beside the sheet

    def _on_column(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        column = self._workspace.column
        at = column.rect().center() if place is None else place
        key = self._document.pointed_key if place is None else slice_at(column.drawn, at.x(), at.y())
        read = next((each.text for each in column.drawn.labels if each.box.holds(at.x(), at.y())), "")
        for mark in gauger(self._document).marks:
            if place is not None and mark.short(self._document.system) == read:
                self._of_views.of_reading(menu, mark.number)
                menu.addSeparator()
        self._of_entry(menu, key)
        self._add(menu, "uncertainty", "other cases", "copy ledger")
        return at

    def _on_ledger(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        table = self._workspace.ledger.table
        index = table.currentIndex() if place is None else table.indexAt(place)
        if index.isValid():
            row = table.ledger.rows[index.row()]
            self._of_entry(menu, row.key if row.role in (Role.ENTRY, Role.PARALLEL) else "")
        self._add(menu, "copy ledger", "ledger file")
        return table.visualRect(index).center() if place is None else place

    def _of_entry(self, menu: QMenu, key: str) -> None:
        """What is done with an entry of the ledger: its working, and its part with all its commands."""
        part = part_of(self._document.ledger, key)
        if not part or part not in walking.flow_order(self._document):
            return
        self._document.select(part)
        menu.addAction("Show its working", partial(self._show_working, key))
        self._of_part(menu)

    def _show_working(self, key: str) -> None:
        working = self._workspace.views["working"]
        assert isinstance(working, WorkingView)
        self._workspace.show_tab("working")
        working.show_key(key, keep=True)

    def _on_finding(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view = self._findings
        index = view.currentIndex() if place is None else view.indexAt(place)
        if not index.isValid():
            return None
        view.setCurrentIndex(index)
        menu.addAction("Copy this finding", view.copy)
        self._add(menu, "fixes", rule=False)
        part = view.findings.findings[index.row()].part
        if part in walking.flow_order(self._document):
            self._document.select(part)
            self._of_part(menu)
        return view.visualRect(index).center() if place is None else place

    def _on_alternative(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        view = self._alternatives
        index = view.currentIndex() if place is None else view.indexAt(place)
        if index.isValid():
            view.setCurrentIndex(index)
            menu.addActions(view.actions())
        self._add(menu, "new alternative", "remove alternative")
        return view.visualRect(index).center() if place is None else place

    def _on_case(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        """What is done with a case, which is shown by that."""
        table = self._cases
        index = table.currentIndex() if place is None else table.indexAt(place)
        if index.isValid():
            table.choose(index)
            self._add(menu, "rename case", "delete case")
        self._add(menu, "new case", "other cases")
        return table.visualRect(index).center() if place is None else place

    def _on_fix(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        fixes = self._fixes
        index = fixes.currentIndex() if place is None else fixes.indexAt(place)
        if not index.isValid():
            return None
        fixes.setCurrentIndex(index)
        keep = menu.addAction("Keep as alternative", partial(fixes.keep, index.row()))
        keep.setEnabled(fixes.can_keep(index.row()))
        self._add(menu, "alternatives", rule=False)
        return fixes.visualRect(index).center() if place is None else place

    def _on_profile(self, menu: QMenu, place: QPoint | None) -> QPoint | None:
        plot = self._profile.plot
        if plot is None:
            return None
        key = self._document.pointed_key
        if place is not None and (number := plot.reading_at(place.x(), place.y())) >= 0:
            self._of_views.of_reading(menu, number)
            menu.addSeparator()
        if place is not None:
            stretch = plot.stretch_at(place.x(), place.y())
            key = stretch.key if stretch is not None else ""
        self._of_entry(menu, key)
        if not menu.isEmpty():
            menu.addSeparator()
        menu.addAction("Show all of the profile", plot.fit)
        self._add(menu, "other cases", "uncertainty", rule=False)
        return plot.rect().center() if place is None else place


def _asks_for_menu(event: QKeyEvent) -> bool:
    """The menu key, or Shift+F10: not every desktop makes the event for a menu of them."""
    shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    return event.key() == Qt.Key.Key_Menu or (event.key() == Qt.Key.Key_F10 and shift)
