"""How to fill the pump and its line before a first start, and where air may come in, as things stand."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, Qt, QTimer, QUrl
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.pins import pins
from sketch.views import priming_html
from sketch.views.from_top import FromTop
from solver.findings.outlook import own_headline
from solver.layout.cases import AS_DRAWN
from solver.report import priming

IDLE_MS = 180  # of no change before the plan is worked out again
PAD = 8
LIST_INDENT = 26  # room for the number of a step, in logical pixels
READABLE = Qt.TextInteractionFlag.TextBrowserInteraction | Qt.TextInteractionFlag.TextSelectableByKeyboard
STRETCH = (5, 8, 7)


class PrimingView(QWidget):
    """Three panes; the joints below the atmosphere stand on the drawing by number while this is seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._parts: tuple[str, ...] = ()
        self.stale = True
        self._from_top = FromTop(document, self)
        self.heading = Label()
        self.copy = QPushButton("Copy")
        self.facts, self.work, self.air = (QTextBrowser() for _ in range(3))
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self.refresh)
        self._arrange()
        document.changed.connect(self._changed)
        self.copy.clicked.connect(self.copy_text)
        self.air.anchorClicked.connect(self._select)

    def _arrange(self) -> None:
        self.setAccessibleName("Priming")
        names = (priming_html.FACTS, priming_html.WORK, priming_html.AIR)
        panes = QSplitter(Qt.Orientation.Horizontal)
        for at, (pane, name) in enumerate(zip((self.facts, self.work, self.air), names, strict=True)):
            pane.setAccessibleName(name)
            pane.setFrameShape(QFrame.Shape.NoFrame)
            pane.setOpenLinks(False)
            pane.document().setDocumentMargin(PAD)
            pane.setTextInteractionFlags(READABLE)
            pane.setCursorWidth(0)  # a caret would look as if it could be written in
            panes.addWidget(pane)
            panes.setStretchFactor(at, STRETCH[at])
        panes.setChildrenCollapsible(False)
        panes.setHandleWidth(5)
        self.heading.setWordWrap(True)
        self.copy.setToolTip("Copy the plan and where air may come in as text")
        self.copy.setAutoDefault(False)
        head = QHBoxLayout()
        head.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        head.addWidget(self.heading, 1)
        head.addWidget(self.copy, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(panes, 1)
        self.setAutoFillBackground(True)
        self.setBackgroundRole(self.work.viewport().backgroundRole())
        self.setFocusProxy(self.work)

    def refresh(self) -> None:
        """Take the plan from the document, now or when it is next seen."""
        self._idle.stop()
        document = self._document
        solution, judgement = document.solution, document.outcome.judgement
        if not self.isVisible() or solution is None or judgement is None or document.ledger is None:
            return
        theme = theme_of(self.palette())
        colours = {name: getattr(theme, name).name() for name in ("ink", "quiet", "caution", "stop")}
        from_top = self._from_top.is_due()
        shown = priming_html.page(judgement, solution, document.pump, document.system, theme.accent.name())
        for pane, text in ((self.facts, shown.facts), (self.work, shown.work), (self.air, shown.air)):
            bar = pane.verticalScrollBar()
            place = 0 if from_top else bar.value()
            pane.document().setIndentWidth(LIST_INDENT)
            pane.document().setDefaultStyleSheet(priming_html.STYLE.format(**colours))
            pane.setHtml(text)
            bar.setValue(place)
        state = "as drawn" if document.case == AS_DRAWN else f'in the case "{document.case}"'
        headline = own_headline(judgement, document.pump, document.system)
        self.heading.setText(typographic(f"{document.pump}, {state}: before the first start. {headline}."))
        self.heading.setEnabled(True)
        self._parts, self.stale = shown.parts, False
        pins(document).show(self, shown.pins)

    def copy_text(self) -> None:
        """Put the plan on the clipboard as text."""
        document = self._document
        solution, judgement = document.solution, document.outcome.judgement
        if solution is None or judgement is None:
            return
        layout = replace(solution.layout, units=document.system)
        QApplication.clipboard().setText(
            priming.text(judgement, replace(solution, layout=layout), document.pump, document.alternative)
        )

    def _select(self, link: QUrl) -> None:
        """Select the part that a joint ends."""
        if part := self.part_of(link.toString()):
            self._document.select(part)

    def part_of(self, link: str) -> str:
        """The part of the joint that a link is of; "" for none, and while the page is out of date."""
        number = int(link) if link.isdecimal() else len(self._parts)
        return self._parts[number] if not self.stale and number < len(self._parts) else ""

    def _changed(self) -> None:
        """What is shown belongs to another drawing now: it is greyed until the plan is worked out again."""
        self.stale = True
        self.heading.setEnabled(False)
        if self.isVisible():
            self._idle.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        pins(self._document).hide(self)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange) and hasattr(self, "_idle"):
            self.refresh()
