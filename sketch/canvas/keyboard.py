"""What single keys do on the sheet."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from sketch.canvas import readout, tool_keys, walking
from sketch.canvas.hand import Hand
from sketch.canvas.handles import Handle
from sketch.canvas.inline import InlineField
from sketch.canvas.tool import Tool
from sketch.drawing.labels import Box
from sketch.drawing.view import XY, View
from sketch.look.keys import begins_figure
from sketch.model.document import Document
from solver.quantities.units import Kind

PAN = 0.1  # of the sheet, by a key
ZOOM = 1.15  # a notch of the wheel, or a key

FIT = (Qt.Key.Key_Home, Qt.Key.Key_F)
ZOOMS = {Qt.Key.Key_Plus: ZOOM, Qt.Key.Key_Equal: ZOOM, Qt.Key.Key_Minus: 1 / ZOOM}
RETURN = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
NEXT = Qt.Key.Key_N  # of the handles of the part that is selected

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class KeyTarget(Protocol):
    """What the keys act on: the elevation."""

    hand: Hand
    tool: Tool
    field: InlineField

    @property
    def view(self) -> View: ...
    def width(self) -> int: ...
    def height(self) -> int: ...
    def pick(self, what: str) -> None: ...
    def end_press(self, *, done: bool) -> None: ...
    def put_down_typed(self, text: str) -> None: ...
    def show_hint(self) -> None: ...
    def show_text(self, text: str) -> None: ...
    def let_go(self) -> None: ...
    def ask_card(self) -> None: ...
    def ask_text(self, handle: Handle) -> None: ...
    def fit(self) -> None: ...
    def zoom(self, factor: float) -> None: ...
    def pan(self, dx: float, dy: float) -> None: ...
    def update(self) -> None: ...


class Keys:
    """Hands each key to what is in hand, then to what is held or selected, then to the view."""

    def __init__(self, document: Document, sheet: KeyTarget) -> None:
        self._document, self._sheet = document, sheet

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key does; False for one that does nothing here."""
        key = Qt.Key(event.key())
        if key in _ARROWS and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return self._pan(*_ARROWS[key])
        if self._sheet.tool.picked and self._in_hand(key, event):
            return True
        return self._on_held(key) or self._on_selected(key, event) or self._on_view(key)

    def _in_hand(self, key: Qt.Key, event: QKeyEvent) -> bool:
        """The keys of what was picked from the shelf."""
        sheet, tool = self._sheet, self._sheet.tool
        if key is Qt.Key.Key_Escape:
            sheet.pick("")
        elif tool.takes_figures and begins_figure(event):
            self._ask_place(event.text())
        elif key is Qt.Key.Key_Backspace and tool.undo_corner():
            sheet.show_hint()
        elif key in RETURN:
            sheet.end_press(done=tool_keys.put_down(tool, self._middle()))
        elif key in _ARROWS:
            tool_keys.step(tool, *_ARROWS[key], self._middle(), coarse=_coarse(event))
            sheet.update()
        else:
            return False
        return True

    def _middle(self) -> XY:
        """The place in the middle of the sheet [m]."""
        return self._sheet.view.world(self._sheet.width() / 2, self._sheet.height() / 2)

    def _ask_place(self, begun: str) -> None:
        """Ask for a place, or a length of the line in hand, that begins with what was typed."""
        pointer = self._sheet.tool.pointer
        middle = self._sheet.width() / 2, self._sheet.height() / 2
        at = middle if pointer is None else self._sheet.view.device(pointer.x, pointer.y)
        name = "Length, or x; height"
        self._sheet.field.ask(Box(*at, 0.0, 0.0), name, begun, Kind.LENGTH, self._sheet.put_down_typed)

    def _on_held(self, key: Qt.Key) -> bool:
        if key is not Qt.Key.Key_Escape or self._sheet.hand.held is None:
            return False
        self._sheet.hand.cancel()
        self._sheet.let_go()
        return True

    def _on_selected(self, key: Qt.Key, event: QKeyEvent) -> bool:
        """The keys of what is selected: its card, its handles, and moving it."""
        remark = self._sheet.hand.remark
        if not self._document.selected_part and remark is None and key is not NEXT:
            back = key in (Qt.Key.Key_Left, Qt.Key.Key_Up)
            return key in _ARROWS and walking.begin(self._document, back=back)
        if key in RETURN:
            words = remark is not None and remark.own is not None
            self._sheet.ask_text(remark) if words and remark else self._sheet.ask_card()
        elif key is Qt.Key.Key_Escape and remark:
            self._sheet.hand.forget()
            self._sheet.update()
        elif key is Qt.Key.Key_Escape:
            self._document.select("")
        elif key is NEXT:
            return self._step_handle(back=_coarse(event))
        else:
            return self._nudge(key, event)
        return True

    def _step_handle(self, *, back: bool) -> bool:
        hand = self._sheet.hand
        if hand.dragging or len(self._document.selection) > 1:
            return False
        handle = hand.step_handle(back=back)
        if handle is None and not self._document.selection:
            self._sheet.update()
            return True
        where = readout.handle_text(self._document, handle) if handle else self._document.selected_part
        self._sheet.show_text(f"{where}: the arrow keys move it")
        return True

    def _nudge(self, key: Qt.Key, event: QKeyEvent) -> bool:
        """Move what is selected by an arrow key, ten steps with Shift; False where nothing is to be moved."""
        hand = self._sheet.hand
        if key not in _ARROWS or hand.dragging:
            return False
        if not hand.nudge(*_ARROWS[key], coarse=_coarse(event), repeated=event.isAutoRepeat()):
            return False
        self._sheet.show_text(hand.trouble)
        return True

    def _pan(self, dx: int, dy: int) -> bool:
        """Look further in the direction of an arrow, by a part of the sheet; not while something is held."""
        if self._sheet.hand.dragging:
            return False
        self._sheet.pan(-dx * PAN * self._sheet.width(), dy * PAN * self._sheet.height())
        return True

    def _on_view(self, key: Qt.Key) -> bool:
        if key in FIT:
            self._sheet.fit()
        elif key in ZOOMS:
            self._sheet.zoom(ZOOMS[key])
        else:
            return False
        return True


def _coarse(event: QKeyEvent) -> bool:
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)


def free(event: QMouseEvent) -> bool:
    """Whether a key holds off snapping."""
    return bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
