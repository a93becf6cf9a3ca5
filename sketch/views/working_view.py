"""How the figure that is pointed at came about: its formula, its numbers, its source."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSignalBlocker, Qt, QTimer
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QTextBrowser,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.model.document import Document
from sketch.views import working_html
from sketch.views.from_top import FromTop
from solver.formulas.steps import Working
from solver.ledger.solve import Entry, PumpLedger
from solver.working import working
from solver.working.text import section_text
from solver.working.working import BUDGET, FLUID, OUTCOME

EMPTY = "Point at a piece of the line, or pick an entry"
COSTLIEST = "the costliest entry of this line"
REST_MS = 40  # of no further pointing or change before the page is set again
PAD = 8
READABLE = Qt.TextInteractionFlag.TextBrowserInteraction | Qt.TextInteractionFlag.TextSelectableByKeyboard
FRAME = {FLUID: "Fluid", BUDGET: "What there is to spend", OUTCOME: "Outcome at the port"}


class WorkingView(QWidget):
    """Follows the pointer until something is clicked or picked; then it stays there."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._key = self._line = ""
        self._stale = True
        self._from_top = FromTop(document, self)
        self._moved = False  # another thing is to be shown, from its top
        self.picker = Choice()
        self.pin = QToolButton()
        self.copy = QPushButton("Copy")
        self.why = Label(COSTLIEST)
        self.budget = Label()
        self.page = QTextBrowser()
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self.refresh)
        self._arrange()
        self._listen()

    def _arrange(self) -> None:
        self.setAccessibleName("Working")
        self.picker.setAccessibleName("Entry whose working is shown")
        self.picker.setPlaceholderText(EMPTY)
        self.picker.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.picker.setMinimumContentsLength(24)
        self.pin.setText("Stay")
        self.pin.setCheckable(True)
        self.pin.setToolTip("Stay with this entry instead of following the pointer")
        self.copy.setToolTip("Copy the steps that are shown as text")
        self.copy.setAutoDefault(False)
        self.budget.setTextFormat(Qt.TextFormat.RichText)  # its markup is this program's own
        self.budget.setWordWrap(True)
        self.budget.setAccessibleName("What there is to spend")
        self.budget.setTextInteractionFlags(READABLE)
        self.page.setAccessibleName("Steps of the working")
        self.page.setFrameShape(QFrame.Shape.NoFrame)
        self.page.setPlaceholderText(EMPTY)
        self.page.document().setDocumentMargin(PAD)
        self.page.setTextInteractionFlags(READABLE)
        head = QHBoxLayout()
        head.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        head.setSpacing(PAD)
        for widget in (self.picker, self.why, self.pin):
            head.addWidget(widget)
        head.addWidget(self.budget, 1)
        head.addWidget(self.copy)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.page, 1)
        self.setFocusProxy(self.picker)

    def _listen(self) -> None:
        self._document.changed.connect(self._later)
        self._document.pointed.connect(self._pointed)
        self._document.selected.connect(self._selected)
        self.picker.activated.connect(self._picked)
        self.pin.toggled.connect(self._keep_or_let_go)
        self.budget.linkActivated.connect(lambda line: self.show_key(BUDGET, line, keep=True))
        self.copy.clicked.connect(self.copy_text)

    # What is shown

    @property
    def key(self) -> str:
        """The key of the working that is shown; "" for none.

        Where nothing was asked for, or what was is not in this line: of the entry that costs the most.
        """
        ledger = self._document.ledger
        if ledger is None or self._key in FRAME or _entry(ledger, self._key) is not None:
            return self._key
        return max(ledger.entries, key=lambda each: each.lift + each.loss).key if ledger.entries else ""

    @property
    def part(self) -> str:
        """The part whose entry is shown; "" where it is no entry's working."""
        ledger = self._document.ledger
        entry = _entry(ledger, self.key) if ledger is not None else None
        return entry.part if entry is not None else ""

    @property
    def kept(self) -> bool:
        """Whether the view stays where it is while the pointer moves on."""
        return self.pin.isChecked()

    def show_key(self, key: str, line: str = "", *, keep: bool = False) -> None:
        """Show the working of that key, at a `line` of the budget where one is named; `keep`: stay there."""
        if keep:
            self.pin.setChecked(True)
        if (key, line) != (self._key, self._line):
            self._moved = True
            self._key, self._line = key, line
            self._later()

    def working(self) -> Working | None:
        """What is shown; None where nothing is, or nothing can be calculated."""
        document, key = self._document, self.key
        if not key or document.solution is None or document.ledger is None:
            return None
        try:
            return working.working(document.solution, document.pump, key, document.system)
        except KeyError:
            return None

    def refresh(self) -> None:
        """Set the page again, now or when it is next seen."""
        self._rest.stop()
        self._stale = not self.isVisible()
        if self._stale:
            return
        self._fill_picker()
        shown, ledger = self.working(), self._document.ledger
        self.copy.setEnabled(shown is not None)
        self.pin.setEnabled(shown is not None)
        self.why.setVisible(shown is not None and shown.key != self._key)
        self.setAccessibleDescription(EMPTY if shown is None else shown.title)
        if ledger is None:
            self.budget.clear()
        else:
            accent = theme_of(self.palette()).accent.name()
            self.budget.setText(working_html.budget_line(ledger, self._line, self._document.system, accent))
        if shown is None or ledger is None:
            self.page.clear()
        else:
            self._set(shown, ledger)

    def _set(self, shown: Working, ledger: PumpLedger) -> None:
        theme, bar = theme_of(self.palette()), self.page.verticalScrollBar()
        place = 0 if self._from_top.is_due() or self._moved else bar.value()
        small = max(7.0, self.font().pointSizeF() - 1.5)
        colours = {name: getattr(theme, name).name() for name in ("ink", "quiet", "caution")}
        self.page.document().setDefaultStyleSheet(working_html.STYLE.format(small=small, **colours))
        entry = _entry(ledger, shown.key)
        width = self.page.viewport().width()
        case = self._document.outcome.case_words
        self.page.setHtml(working_html.page(shown, entry, self._document.system, width, case))
        bar.setValue(place)
        if self._moved and self._line:
            self.page.scrollToAnchor(self._line)
        self._moved = False

    def _fill_picker(self) -> None:
        ledger, blocked = self._document.ledger, QSignalBlocker(self.picker)
        items = list(FRAME.items()) if ledger is not None else []
        if ledger is not None:
            entries = [(e.key, f"{e.part}, {e.element}") for e in (*ledger.entries, *ledger.parallel_entries)]
            items = [*items[:2], *entries, *items[2:]]
        if items != [(self.picker.itemData(i), self.picker.itemText(i)) for i in range(self.picker.count())]:
            self.picker.clear()
            for key, text in items:
                self.picker.addItem(text, key)
        self.picker.setCurrentIndex(self.picker.findData(self.key))
        blocked.unblock()

    def copy_text(self) -> None:
        """Put the steps that are shown on the clipboard."""
        shown = self.working()
        if shown is not None:
            case = self._document.outcome.case_words
            QApplication.clipboard().setText(section_text(shown) + (f"\nFigures {case}\n" if case else ""))

    # What it follows

    def _later(self) -> None:
        self._stale = True
        if self.isVisible() and not self._rest.isActive():
            self._rest.start()

    def _pointed(self, key: str) -> None:
        if key and not self.kept:
            self.show_key(key)

    def _keep_or_let_go(self, kept: bool) -> None:
        if kept:
            self._key = self.key
            self._later()
        else:
            self._pointed(self._document.pointed_key)

    def _selected(self, part: str) -> None:
        """A click keeps the entry that it falls on; a click on nothing lets go."""
        if not part:
            self.pin.setChecked(False)
            return
        ledger = self._document.ledger
        entries = (
            []
            if ledger is None
            else [e for e in (*ledger.entries, *ledger.parallel_entries) if e.part == part]
        )
        keys = [entry.key for entry in entries]
        if keys:
            under = next((k for k in (self._document.pointed_key, self.key) if k in keys), keys[0])
            self.show_key(under, keep=True)

    def _picked(self, index: int) -> None:
        key = self.picker.itemData(index)
        self.show_key(key, keep=True)
        if key not in FRAME:
            self._document.point(key)

    # The widget

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._later()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange) and hasattr(self, "_rest"):
            self._later()


def _entry(ledger: PumpLedger, key: str) -> Entry | None:
    return next((entry for entry in (*ledger.entries, *ledger.parallel_entries) if entry.key == key), None)
