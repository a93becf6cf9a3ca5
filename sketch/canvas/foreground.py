"""All that lies over the drawing on the screen: handles, what is in hand, and the words at the pointer."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from sketch.canvas import ghost, overlay, readout
from sketch.canvas.hand import Hand
from sketch.canvas.selecting import Selector
from sketch.canvas.tool import Tool
from sketch.drawing.labels import Label
from sketch.drawing.view import View
from sketch.look.colours import Theme
from sketch.model.advisor import advisor
from sketch.model.document import Document


class Foreground:
    """Paints what one elevation has in hand, from its hand, its tool and its selector."""

    def __init__(self, document: Document, hand: Hand, tool: Tool, selector: Selector) -> None:
        self._document, self._hand, self._tool, self._selector = document, hand, tool, selector
        self.pointer = QPointF()  # where the words stand

    def paint(
        self,
        painter: QPainter,
        view: View,
        within: QRectF,
        theme: Theme,
        labels: Sequence[Label] = (),
        *,
        typing: bool = False,
    ) -> None:
        """Paint it over the drawing, its labels legible; no words at the pointer while a figure is typed."""
        hand, tool, preview = self._hand, self._tool, advisor(self._document).preview
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if preview is not None:
            ghost.paint_ghost(painter, view, self._document.layout, preview, theme, labels)
        overlay.paint_handles(painter, view, hand.shown(), hand.lit, theme)
        if tool.picked:
            overlay.paint_tool(painter, view, tool.line(), tool.pointer, theme)
        if self._selector.band is not None:
            overlay.paint_band(painter, view, self._selector.band, theme)
        if hand.proposal is not None:
            overlay.paint_guides(painter, view, hand.proposal.guides, theme)
        words = [] if typing else self.words(theme)
        if words:
            overlay.paint_readout(painter, self.pointer, words, within, theme)

    def words(self, theme: Theme) -> list[overlay.Line]:
        """The lines beside the pointer while something is drawn or dragged."""
        if self._tool.picked:
            return [(text, theme.ink) for text in self._tool.readout()]
        held, proposal = self._hand.held, self._hand.proposal
        if held is None or proposal is None:
            return []
        return readout.lines(self._document, held, proposal, theme)
