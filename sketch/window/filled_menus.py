"""Menus that are filled as they open: recent files, parts of one's own, alternatives, pumps and cases."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMenu

from sketch.model import storage
from sketch.model.disk import path_text
from sketch.model.document import BASE, Document
from sketch.views.comparison import DRAWING_ITSELF
from sketch.window.actions import Actions
from sketch.window.files import Files
from sketch.window.workspace import Workspace
from solver.layout.cases import cases_of


class FilledMenus(QObject):
    """Fills each with what there is at the moment, when it is opened."""

    def __init__(
        self, parent: QObject, document: Document, workspace: Workspace, files: Files, actions: Actions
    ) -> None:
        super().__init__(parent)
        self._document, self._workspace, self._files, self._actions = document, workspace, files, actions
        actions.menu("File/Open recent", before="save").aboutToShow.connect(self._fill_recent)
        actions.menu("View/Alternative").aboutToShow.connect(self._fill_alternatives)
        actions.menu("View/Pump").aboutToShow.connect(self._fill_pumps)
        actions.menu("View/Case").aboutToShow.connect(self._fill_cases)
        actions.menu("Insert/Own parts").aboutToShow.connect(self._fill_own_parts)
        menu = actions.menu("Edit/Ready-made case", before="rename case")
        menu.aboutToShow.connect(partial(workspace.case_card.offer_ready_made, menu))

    def show_choices(self) -> None:
        """Show the menus of alternatives, pumps and cases only where there is a choice."""
        document = self._document
        for path, others in (
            ("View/Alternative", len(document.alternatives)),
            ("View/Pump", len(document.layout.pumps) - 1),
            ("View/Case", len(cases_of(document.layout)) - 1),
        ):
            self._actions.menu(path).menuAction().setVisible(others > 0)

    def _fill_recent(self) -> None:
        menu = self._actions.menu("File/Open recent")
        menu.clear()
        for path in storage.recent_files():
            action = menu.addAction(_text(path_text(Path(path.name))), partial(self._files.open, path))
            action.setStatusTip(path_text(path))
        if menu.isEmpty():
            menu.addAction("Nothing opened yet").setEnabled(False)

    def _fill_own_parts(self) -> None:
        menu = self._actions.menu("Insert/Own parts")
        menu.clear()
        for key, part in self._workspace.own_parts.items():
            action = menu.addAction(_text(part.name), partial(self._workspace.pick_part, key))
            action.setStatusTip(part.note or part.source)
            action.setEnabled(self._document.has_drawing)
        if menu.isEmpty():
            menu.addAction("None in your catalogues: Own parts on the part card keeps one").setEnabled(False)

    def _fill_alternatives(self) -> None:
        document, names = self._document, (BASE, *self._document.alternatives)
        menu = self._actions.menu("View/Alternative")
        self._fill_choices(menu, names, document.alternative, document.show_alternative)

    def _fill_pumps(self) -> None:
        document, menu = self._document, self._actions.menu("View/Pump")
        self._fill_choices(menu, tuple(document.layout.pumps), document.pump, document.show_pump)

    def _fill_cases(self) -> None:
        document, menu = self._document, self._actions.menu("View/Case")
        self._fill_choices(menu, tuple(cases_of(document.layout)), document.case, document.set_case)

    @staticmethod
    def _fill_choices(
        menu: QMenu, names: tuple[str, ...], current: str, choose: Callable[[str], object]
    ) -> None:
        menu.clear()
        for name in names:
            action = menu.addAction(_text(name or DRAWING_ITSELF), partial(choose, name))
            action.setCheckable(True)
            action.setChecked(name == current)


def _text(name: str) -> str:
    """A name as an entry of a menu, where an ampersand would mark the key of the next letter."""
    return name.replace("&", "&&")
