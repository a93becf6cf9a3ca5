"""The views below the drawing: one of them as a tab, and the findings beside it where there is room."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QResizeEvent
from PySide6.QtWidgets import QSplitter, QTabBar, QTabWidget, QWidget

from sketch.look.words import NO_BREAK
from sketch.views.refusal import Guarded
from sketch.views.tabs import TABS
from solver.findings.kinds import Severity

SECOND_PAGE = "findings"
"""What stands beside the others, by its name in `TABS`."""
ROOM = 1700  # logical pixels of width from which there is room for two
GAP = 4  # between a mark and its text, in logical pixels, as Qt has it
COUNTS = tuple(f"{TABS[SECOND_PAGE].text}: 10 {severity}s of 20" for severity in Severity)
"""What that may be called; a tab that says less keeps the room."""
PARTS = (5, 3)  # of the width, for a tab and for what stands beside it


class TabsInPlace(QTabBar):
    """Tabs that stay where they are while one of them counts more or fewer."""

    def __init__(self, counting: int) -> None:
        """counting: the place of the tab that counts."""
        super().__init__()
        self._counting = counting

    def tabSizeHint(self, index: int) -> QSize:
        """The counting tab has room for any count, so that none after it moves."""
        size = super().tabSizeHint(index)
        if index == self._counting:
            size += QSize(self._spare(), 0)
            if self.tabIcon(index).isNull():
                mark = self.iconSize()
                size += QSize(mark.width() + GAP, max(mark.height() - self.fontMetrics().height(), 0))
        return size

    def _spare(self) -> int:
        """How much narrower the count is than the longest [logical pixels]."""
        metrics = self.fontMetrics()
        longest = max(metrics.horizontalAdvance(text) for text in COUNTS)
        return max(longest - metrics.horizontalAdvance(self.tabText(self._counting)), 0)

    def initStyleOption(self, option, tabIndex):  # type: ignore[no-untyped-def]  # Qt's own signature
        """Have the count stand beside its mark, with the room that is left behind it."""
        super().initStyleOption(option, tabIndex)
        if tabIndex == self._counting:
            option.text += NO_BREAK * (self._spare() // self.fontMetrics().horizontalAdvance(NO_BREAK))


class Tables(QSplitter):
    """Tabs, of which one view stands beside the others while it is wanted there and there is room."""

    rearranged = Signal()  # a view has gone beside the others, or back among them

    def __init__(self, pages: Mapping[str, QWidget]) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self._pages = dict(pages)
        self._gap = QWidget()  # keeps the place of the tab that stands beside
        self.wanted = True
        self.tabs, self.side = QTabWidget(), QTabWidget()
        self.tabs.setTabBar(TabsInPlace(list(self._pages).index(SECOND_PAGE)))
        self.side.setTabBar(TabsInPlace(0))
        for widget in (self.tabs, self.side):
            widget.setDocumentMode(True)
            self.addWidget(widget)
        self.side.hide()
        self.side.setAccessibleName("Beside the tabs")
        self.setChildrenCollapsible(False)
        for name, page in self._pages.items():
            self.tabs.addTab(page, TABS[name].text)
        self.tabs.currentChanged.connect(self._skip_gap)

    @property
    def split(self) -> bool:
        """Whether a view stands beside the others now."""
        return self.side.count() > 0

    @property
    def current(self) -> str:
        """The view of the tab in front, by its name in `TABS`."""
        return list(self._pages)[self.tabs.currentIndex()]

    def set_beside(self, wanted: bool) -> None:
        """Have the findings beside the tabs, where there is room, or among them."""
        self.wanted = wanted
        self._arrange()

    def show_page(self, name: str) -> None:
        """Bring a view to the front."""
        if not (self.split and name == SECOND_PAGE):
            self.tabs.setCurrentIndex(list(self._pages).index(name))

    def focus_page(self, name: str) -> None:
        """Bring a view to the front and give it the keyboard."""
        self.show_page(name)
        page = self._pages[name]
        (page.view if isinstance(page, Guarded) else page).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def name_page(self, name: str, text: str, icon: QIcon) -> None:
        """Set the text and the mark on a tab, wherever that stands."""
        at = list(self._pages).index(name)
        self.tabs.setTabText(at, text)
        self.tabs.setTabIcon(at, icon)
        if self.split and name == SECOND_PAGE:
            self.side.setTabText(0, text)
            self.side.setTabIcon(0, icon)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        side_by_side = self.wanted and self.width() >= ROOM
        if side_by_side is not self.split:
            self._split() if side_by_side else self._join()
            self.rearranged.emit()

    def _split(self) -> None:
        at, page = list(self._pages).index(SECOND_PAGE), self._pages[SECOND_PAGE]
        text, icon, front = self.tabs.tabText(at), self.tabs.tabIcon(at), self.tabs.currentIndex()
        self._exchange(at, self._gap, 0 if front == at else front)
        self.tabs.setTabVisible(at, False)
        self.side.addTab(page, icon, text)
        self.side.show()
        self.setSizes([part * self.width() // sum(PARTS) for part in PARTS])

    def _join(self) -> None:
        self.side.removeTab(0)
        self.side.hide()
        at = list(self._pages).index(SECOND_PAGE)
        self.tabs.setTabVisible(at, True)
        self._exchange(at, self._pages[SECOND_PAGE], self.tabs.currentIndex())

    def _exchange(self, at: int, page: QWidget, front: int) -> None:
        """Put another page behind a tab."""
        text, icon = self.tabs.tabText(at), self.tabs.tabIcon(at)
        self.tabs.blockSignals(True)
        self.tabs.removeTab(at)
        self.tabs.insertTab(at, page, icon, text)
        self.tabs.setCurrentIndex(front)
        self.tabs.blockSignals(False)

    def _skip_gap(self, at: int) -> None:
        if self.tabs.widget(at) is self._gap:
            self.tabs.setCurrentIndex(0)
