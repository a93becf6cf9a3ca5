"""All that lies over the drawing on the screen: handles, what is in hand, and the words at the pointer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from operator import is_

from PySide6.QtCore import QPointF, QRect, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from sketch.canvas import ghost, overlay, readout
from sketch.canvas.hand import Hand
from sketch.canvas.handles import Handle
from sketch.canvas.selecting import Selector
from sketch.canvas.tool import Tool
from sketch.drawing.labels import Label
from sketch.drawing.view import View
from sketch.look.colours import Theme
from sketch.model.advisor import advisor
from sketch.model.document import Document

EDGE = 2
"""Pixels that the edge of a line may reach beyond what it is drawn round."""


class Foreground:
    """Paints what one elevation has in hand, from its hand, its tool and its selector."""

    def __init__(self, document: Document, hand: Hand, tool: Tool, selector: Selector) -> None:
        self._document, self._hand, self._tool, self._selector = document, hand, tool, selector
        self.pointer = QPointF()  # where the words stand
        self._covered: Sequence[QRectF] | None = ()  # by what was painted last
        self._words: tuple[tuple[object, ...], list[overlay.Line]] = ((), [])  # as last made, and of what

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
        shown, words = hand.shown(), [] if typing else self.words(theme)
        self._covered = None if preview is not None else self._marked(view, shown)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if preview is not None:
            ghost.paint_ghost(painter, view, self._document.layout, preview, theme, labels)
        overlay.paint_handles(painter, view, shown, hand.lit, theme)
        if tool.picked:
            overlay.paint_tool(painter, view, tool.line(), tool.pointer, theme)
        if self._selector.band is not None:
            overlay.paint_band(painter, view, self._selector.band, theme)
        if hand.proposal is not None:
            overlay.paint_guides(painter, view, hand.proposal.guides, theme)
        if words:
            box = overlay.paint_readout(painter, self.pointer, words, within, theme)
            self._covered = None if self._covered is None else [*self._covered, box]

    def changed(self, widget: QWidget, drawn: Sequence[QRect] | None, view: View, theme: Theme) -> QRect:
        """What of the widget to paint again: where the drawing has changed, which may be anywhere for None,
        and all that this covers now or covered when it was last painted."""
        areas = self._marked(view, self._hand.shown())
        if drawn is None or areas is None or self._covered is None:
            return widget.rect()
        if words := self.words(theme):
            within = QRectF(widget.rect())
            areas.append(overlay.readout_area(widget.font(), self.pointer, words, within))
        whole = QRect()
        for area in (*drawn, *(each.toAlignedRect() for each in (*self._covered, *areas))):
            whole |= area
        return whole.adjusted(-EDGE, -EDGE, EDGE, EDGE)

    def _marked(self, view: View, shown: Iterable[Handle]) -> list[QRectF] | None:
        """What handles and guides cover in a drag; None where more than these may be painted."""
        if self._tool.picked or self._selector.band is not None:
            return None
        marks = [overlay.handle_area(handle, view) for handle in shown]
        areas = [mark for mark in marks if mark is not None]
        if len(areas) < len(marks):
            return None
        if self._hand.proposal is not None:
            areas += [overlay.guide_area(guide, view) for guide in self._hand.proposal.guides]
        return areas

    def words(self, theme: Theme) -> list[overlay.Line]:
        """The lines beside the pointer while something is drawn or dragged."""
        if self._tool.picked:
            return [(text, theme.ink) for text in self._tool.readout()]
        held, proposal = self._hand.held, self._hand.proposal
        if held is None or proposal is None:
            return []
        document = self._document
        of = (document.outcome, document.pump, document.system, held, proposal, theme)
        if len(self._words[0]) != len(of) or not all(map(is_, self._words[0], of)):
            self._words = of, readout.lines(document, held, proposal, theme, self._hand.followed)
        return self._words[1]
