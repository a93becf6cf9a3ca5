"""The mouse and the keys while something from the shelf is in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter

from sketch.canvas import overlay
from sketch.canvas.tool import Tool
from sketch.model.document import Document

if TYPE_CHECKING:
    from sketch.canvas.elevation import Elevation


class Placing(QObject):
    """Takes the elevation's mouse for as long as something is picked; panning and zooming stay with it."""

    picked = Signal(str)  # what is in hand now; "" for nothing

    def __init__(self, elevation: Elevation, document: Document) -> None:
        super().__init__(elevation)
        self._elevation = elevation
        self.tool = Tool(document)
        document.opened.connect(self.put_back)

    def pick(self, what: str) -> None:
        """Take a kind of part in hand, or the line; "" puts it back."""
        if what and not self.tool.picked:
            self._elevation.installEventFilter(self)
        elif not what:
            self._elevation.removeEventFilter(self)
        self.tool.pick(what)
        self._elevation.setCursor(Qt.CursorShape.CrossCursor)
        if not what:
            self._elevation.unsetCursor()
        else:
            self._elevation.setFocus()
        self._say()
        self.picked.emit(what)

    def put_back(self) -> None:
        """Have nothing in hand."""
        if self.tool.picked:
            self.pick("")

    def _say(self) -> None:
        self._elevation.message.emit(self.tool.trouble or self.tool.hint)
        self._elevation.update()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QMouseEvent):
            return self._mouse(event)
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            return self._key(Qt.Key(event.key()))
        if event.type() == QEvent.Type.Leave:
            self.tool.here = None
            self._elevation.update()
        return False

    def _mouse(self, event: QMouseEvent) -> bool:
        moved = event.type() == QEvent.Type.MouseMove
        left = event.button() is Qt.MouseButton.LeftButton
        if not (left or (moved and event.buttons() == Qt.MouseButton.NoButton)):
            return False
        place = event.position()
        free = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        self.tool.here = self.tool.spot(self._elevation.view, place.x(), place.y(), free=free)
        if event.type() in (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonDblClick):
            if self.tool.click(self.tool.here):
                self.pick("")
            else:
                self._say()
        self._elevation.update()
        return True

    def _key(self, key: Qt.Key) -> bool:
        if key is Qt.Key.Key_Escape:
            self.pick("")
        elif key is Qt.Key.Key_Backspace and self.tool.via:
            self.tool.via = self.tool.via[:-1]
            self._say()
        else:
            return False
        return True

    def paint(self, painter: QPainter) -> None:
        """What is in hand, over the drawing."""
        tool, here = self.tool, self.tool.here
        view, theme = self._elevation.view, self._elevation.theme
        at = (here.x, here.y) if here is not None else None
        rooted = here is not None and bool(here.part or here.run)
        overlay.paint_tool(painter, view, tool.way(), at, rooted, theme)
        if here is not None:
            overlay.paint_guides(painter, view, here.guides, theme)
