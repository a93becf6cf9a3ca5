"""The card's button for parts of one's own: takes one out of a catalogue, or keeps the card's part in it."""

from __future__ import annotations

import datetime

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QMenu, QMessageBox, QPushButton, QToolTip, QWidget

from sketch.editing import own_parts as editing
from sketch.look.asking import ask, ask_for_text
from sketch.look.words import tooltip
from sketch.model import own_parts
from sketch.model.disk import SaveError, path_text
from sketch.model.document import Document
from solver.layout.file import LayoutErrors
from solver.layout.own_parts import Catalogue, OwnPart
from solver.properties import families

ONE = {"fluids": "fluid", "pumps": "pump", "screens": "screen", "fittings": "fitting", "hoses": "hose"}
MOST = 200
"""Parts that the menu lists."""


class OwnPartsButton(QPushButton):
    """What a catalogue of one's own can do for a part, as a menu; the document's `refused` says what not."""

    left_out = Signal(object)  # the problems of the catalogues, which somebody wants to see

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__("Own parts", parent)
        self._document = document
        self._name = ""
        self.own = own_parts.OwnCatalogue(self)
        self.own.changed.connect(self._count_refused)
        document.opened.connect(self.follow)
        self.follow()
        self._menu = QMenu(self)
        self._menu.setToolTipsVisible(True)
        self._menu.aboutToShow.connect(self._fill)
        self.setMenu(self._menu)
        self.setToolTip(tooltip("Figures from a catalogue of your own, or this part kept in it"))
        self.setAutoDefault(False)

    def set_parts(self, names: tuple[str, ...], *, remark: bool = False) -> None:
        """Serve the one part of those names, or the fluid for none; hidden for what no catalogue has.

        remark: the card shows a text or a dimension of one's own, which is neither.
        """
        self._name = names[0] if names else ""
        known = len(names) < 2 and bool(editing.kinds_for(self._document.layout, self._name))
        self.setVisible(known and not remark)

    def follow(self) -> None:
        """Read the catalogues of the open drawing again."""
        self.own.follow(self._document.path)

    def _count_refused(self) -> None:
        """Say on the button itself that a catalogue has what does not hold."""
        count = len(self.own.catalogue.problems)
        self.setText(f"Own parts: {count} refused" if count else "Own parts")

    def _fill(self) -> None:
        layout, name = self._document.layout, self._name
        self._menu.clear()
        catalogue = own_parts.catalogue_for(self._document.path)
        self.own.set_catalogue(catalogue)
        for kind in editing.kinds_for(layout, name):
            self._add_kind(catalogue, kind)
        self._menu.addSeparator()
        for kind in editing.kinds_for(layout, name):
            self._menu.addAction(f"Keep as own {ONE[kind]}…").triggered.connect(
                lambda _=False, kind=kind: self._ask_name(kind)
            )
        if catalogue.problems:
            self._menu.addAction(
                f"What is wrong in the catalogues: {len(catalogue.problems)}…"
            ).triggered.connect(lambda: self._show_problems(catalogue))

    def _add_kind(self, catalogue: Catalogue, kind: str) -> None:
        parts = catalogue.of_kind(kind)
        self._menu.addAction(f"From own {kind}:" if parts else f"No own {kind} yet").setEnabled(False)
        for part in parts[:MOST]:
            action = self._menu.addAction(part.name.replace("&", "&&"))
            about = [part.source, part.note, f"changed {part.changed}" if part.changed else ""]
            action.setToolTip(tooltip(" – ".join(each for each in about if each)))
            action.triggered.connect(lambda _=False, part=part: self.put_in(part))
        if len(parts) > MOST:
            self._menu.addAction(f"{len(parts) - MOST} more in the files").setEnabled(False)

    def fluid_of(self, name: str) -> OwnPart | None:
        """What a fluid chosen by name brings with it: a catalogue's figures, or none in the place of those.

        None where the figures of the drawing stay.
        """
        own = self.own.catalogue
        if own.part("fluids", self._document.layout.fluid.name) and name in families.catalogue():
            return OwnPart("fluids", name, {})
        return own.part("fluids", name)

    def put_in(self, part: OwnPart) -> None:
        """Put the figures of a catalogue's part into the drawing, as one undo step."""
        self._apply(f"Take {part.name} for {self._name or 'the fluid'}", part)

    def _apply(self, label: str, part: OwnPart) -> None:
        """Have the drawing carry a part's figures, and say whose they are."""
        document, name = self._document, self._name
        try:
            edited = editing.with_own_part(document.layout, name, part)
        except LayoutErrors as error:
            self._document.refused.emit(own_parts.first_problem(error))
            return
        if trouble := document.trouble_with(edited):
            self._document.refused.emit(trouble)
            return
        document.apply(label, edited)

    def _ask_name(self, kind: str) -> None:
        layout = self._document.layout
        begin = self._name or layout.fluid.name
        name = ask_for_text(self, "Own parts", f"Name of this {ONE[kind]} in your catalogue:", begin)
        if name is None:
            return
        table = editing.table_for(layout, self._name, kind)
        self.keep(OwnPart(kind, name.strip(), table, changed=datetime.date.today().isoformat()))

    def keep(self, part: OwnPart, *, replacing: bool = False) -> None:
        """Keep a part in the user's catalogue; one that is there already is replaced only if confirmed."""
        waiting = self._document.file.waiting
        if waiting.refuses():
            return
        try:
            with waiting.showing(f"Keeping {part.name}"):
                path = own_parts.keep(part, replacing=replacing)
            self._apply(f"Keep {part.name} as own {ONE[part.kind]}", part)
            self.follow()
            text = tooltip(f"{part.name} is kept in {path_text(path)}")
            QToolTip.showText(self.mapToGlobal(QPoint(0, self.height())), text, self)
        except own_parts.NameInUseError as error:
            if self._confirmed(f"{error}. Replace it by this one?"):
                self.keep(part, replacing=True)
        except LayoutErrors as error:
            self._document.refused.emit(f"Not kept. {own_parts.first_problem(error)}")
        except SaveError as error:
            self._document.refused.emit(f"Not kept. {error}")

    def _confirmed(self, question: str) -> bool:
        box = QMessageBox(QMessageBox.Icon.Question, "Own parts", question, parent=self)
        box.setTextFormat(Qt.TextFormat.PlainText)  # a name is no markup
        box.setStandardButtons(QMessageBox.StandardButton.Yes | QMessageBox.StandardButton.No)
        box.setDefaultButton(QMessageBox.StandardButton.No)
        pressed = ask(box)
        box.deleteLater()
        return pressed == QMessageBox.StandardButton.Yes

    def _show_problems(self, catalogue: Catalogue) -> None:
        self.left_out.emit(catalogue.problems)
