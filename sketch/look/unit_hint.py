"""The unit that a bare number takes, shown in the field while it is typed and while the field is empty.

And what a figure typed in another system of units is in the one shown.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QLineEdit
from shiboken6 import isValid

from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.words import with_signs
from solver.quantities.spelling import with_unit

PAD = 6


class UnitHint(Label):
    """Stands at the end of a field, out of the way of its text.

    There only while a bare number is typed, or nothing is and there is room for it; or with what the figure
    in the field also is, where there is room for that.
    """

    def __init__(self, field: QLineEdit, unit: str = "") -> None:
        super().__init__(with_signs(unit), field)
        self._field = field
        self.unit, self.also = unit, ""
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()
        field.textChanged.connect(self._follow)
        field.editingFinished.connect(self._follow)
        field.installEventFilter(self)

    def set_unit(self, unit: str) -> None:
        """The unit in which a bare number would be read; "" where it has none."""
        self.unit = unit
        self._follow()

    def set_also(self, also: str) -> None:
        """The figure in the field in the unit that is shown elsewhere; "" where it is typed in that."""
        self.also = also
        self._follow()

    def _follow(self) -> None:
        field = self._field
        if not isValid(field):
            return  # the editor of a list goes with it, and loses the keyboard on the way
        also = bool(self.also) and not field.isModified() and bool(field.text())
        text = self.also if also else with_signs(self.unit)
        if text != self.text():
            self.setText(text)
        wanted = bool(text) and (self._is_typed() if field.text() and not also else self._has_room())
        if not wanted and self.isHidden():
            return  # at every move of a drag
        field.setTextMargins(0, 0, self.sizeHint().width() + PAD if wanted else 0, 0)
        if wanted:
            palette = self.palette()
            palette.setColor(self.foregroundRole(), theme_of(field.palette()).quiet)
            self.setPalette(palette)
            self.adjustSize()
            self.move(field.width() - self.width() - PAD, (field.height() - self.height()) // 2)
        self.setVisible(wanted)

    def _is_typed(self) -> bool:
        field = self._field
        return field.hasFocus() and field.isModified() and with_unit(field.text(), self.unit) != field.text()

    def _has_room(self) -> bool:
        """Whether the field has room for it beside its figure, or what stands there instead of one.

        A figure in its place, such as one that follows from others, has its own unit and needs all its room.
        """
        field = self._field
        if not field.isEnabled() or field.isReadOnly():
            return False
        if not field.text() and self.unit and field.placeholderText().endswith(f" {with_signs(self.unit)}"):
            return False
        held = field.fontMetrics().horizontalAdvance(field.text() or field.placeholderText())
        return (
            field.hasFocus() and not field.text()
        ) or held + self.sizeHint().width() + 4 * PAD <= field.width()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.Resize, QEvent.Type.FocusOut, QEvent.Type.FocusIn):
            self._follow()
        return super().eventFilter(watched, event)
