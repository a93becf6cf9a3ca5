"""Text that a field holds and the drawing has not, as it was not accepted; saving says so."""

from __future__ import annotations

from itertools import chain

from PySide6.QtWidgets import QLineEdit, QWidget

_PROPERTY = "refused"


def mark(field: QLineEdit, refused: bool) -> None:
    """Note of a field whether what is typed in it was not accepted."""
    field.setProperty(_PROPERTY, refused)


def is_refused(field: QLineEdit) -> bool:
    """Whether what is typed in it was not accepted."""
    return bool(field.property(_PROPERTY))


class KeepsRefused:
    """A widget that keeps such texts itself, also of what it does not show at the moment."""

    def refused_texts(self) -> tuple[str, ...]:
        """Every such text, with what it is typed as."""
        raise NotImplementedError


def refused_texts(window: QWidget) -> tuple[str, ...]:
    """Every such text in a window, with what its field is called."""
    fields = (each for each in window.findChildren(QLineEdit) if is_refused(each))
    kept = (each.refused_texts() for each in window.findChildren(QWidget) if isinstance(each, KeepsRefused))
    marked = (f'"{each.text()}" in {each.accessibleName().removesuffix(", typed")}' for each in fields)
    return *chain.from_iterable(kept), *marked
