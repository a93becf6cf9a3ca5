"""What a screen reader says of the elevation: what it shows, what is selected, and what has changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget

from sketch.canvas import readout
from sketch.card import card_several
from sketch.card.part_lines import heading
from sketch.drawing.tags import percent
from sketch.model.document import Document
from sketch.model.inspector import gauger
from solver.layout.parts import Layout
from solver.ledger.solve import Entry, PumpLedger
from solver.quantities import units
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised, uncapitalised

REST_MS = 400  # of no change before one is spoken: a drag would otherwise talk without end

Politeness = QAccessible.AnnouncementPoliteness


class Speaker(QObject):
    """Keeps an elevation's accessible description, and announces selections, changes and verdicts."""

    announced = Signal(str)

    def __init__(self, document: Document, widget: QWidget, dragging: Callable[[], bool]) -> None:
        """dragging: whether the mouse moves something on the widget at this moment."""
        super().__init__(widget)
        self._document, self._widget, self._dragging = document, widget, dragging
        self._step, self._choice, self._verdict, self._standing = 0, _choice(document), "", ""
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._speak_change)
        document.changed.connect(self._changed)
        document.opened.connect(self._begin)
        document.selected.connect(self._selected)
        gauger(document).changed.connect(self._changed)  # a newest reading may say stop
        self._begin()

    def _begin(self) -> None:
        """A drawing that has just been opened is described, and is no change."""
        self.describe()
        self._note()
        self._rest.stop()

    def _note(self) -> None:
        document = self._document
        self._step, self._choice = document.undo_stack.index(), _choice(document)
        self._verdict, self._standing = _grade(document), readout.verdict_text(document)

    def describe(self) -> None:
        """Say in words what the elevation shows now."""
        texts = (readout.description(self._document), selected_text(self._document))
        self._widget.setAccessibleDescription(" ".join(text for text in texts if text))

    def _changed(self) -> None:
        if not self._dragging():  # else once it rests
            self.describe()
        self._rest.start()

    def _selected(self) -> None:
        self.describe()
        if self._widget.hasFocus():  # elsewhere the view that has the keyboard reads out its own row
            self._announce(selected_text(self._document) or "Nothing selected.", Politeness.Polite)

    def _speak_change(self) -> None:
        self.describe()
        before, state_before, what = self._verdict, self._standing, self._what_changed()
        self._note()
        if self._verdict != before:
            self._announce(" ".join(filter(None, (what, verdict(self._document)))), Politeness.Assertive)
        elif what or self._standing != state_before:
            self._announce(" ".join(filter(None, (what, self._standing))), Politeness.Polite)

    def _what_changed(self) -> str:
        """The step that was made or taken back since the last words, or what was chosen to be looked at."""
        stack = self._document.undo_stack
        if stack.index() > self._step:
            return f"{capitalised(stack.undoText())}."
        if stack.index() < self._step:
            return f"Undone: {stack.redoText()}."
        now = _choice(self._document)
        return " ".join(
            f"{capitalised(new)}." for old, new in zip(self._choice, now, strict=True) if old != new
        )

    def speak(self, text: str) -> None:
        """Announce a line, where the sheet has the keyboard."""
        if text and self._widget.hasFocus():
            self._announce(text, Politeness.Polite)

    def _announce(self, text: str, politeness: QAccessible.AnnouncementPoliteness) -> None:
        event = QAccessibleAnnouncementEvent(self._widget, text)
        event.setPoliteness(politeness)
        QAccessible.updateAccessibility(event)
        self.announced.emit(text)


def _choice(document: Document) -> tuple[str, ...]:
    """What of the drawing is looked at, each in words."""
    alternative = document.alternative
    return (
        f"alternative {alternative}" if alternative else "the drawing itself",
        f"case {document.case}",
        f"{document.level} level",
        f"pump {document.pump}" if document.pump else "no pump",
    )


def _grade(document: Document) -> str:
    """What stays the same while only the figures of a verdict change."""
    outlook = gauger(document).outlook
    return "" if outlook is None else f"{outlook.severity}: {outlook.word}"


def verdict(document: Document) -> str:
    """How the drawing stands in all its cases, in a word and a sentence, or why it cannot be told."""
    outlook = gauger(document).outlook
    if outlook is None:
        return readout.verdict_text(document)
    return f"{outlook.word}. {outlook.sentence}."


def selected_text(document: Document) -> str:
    """What is selected, with its share and its figures; "" for nothing."""
    chosen, layout = document.selection, document.layout
    if not chosen:
        return ""
    if len(chosen) > 1:
        what = f"{len(chosen)} parts, {card_several.heading_of(layout, chosen)}"
    else:
        what = ", ".join((chosen[0], _kind(layout, chosen[0]), *_figures(document, chosen[0])))
    return f"Selected: {what}; {_spent_text(document, chosen)}."


def _kind(layout: Layout, name: str) -> str:
    return uncapitalised(heading(layout, name))


def _figures(document: Document, name: str) -> Iterator[str]:
    """The figures that a part is drawn with."""
    layout, system = document.layout, document.system
    if name in layout.runs:
        run = layout.runs[name]
        yield run.size or (f"bore {run.bore.text}" if run.bore is not None else "no size yet")
    elif name in layout.reservoirs:
        tank = layout.reservoirs[name]
        yield f"minimum level {units.typeset(tank.minimum_level.si, Kind.LENGTH, system)}"
        yield f"normal level {units.typeset(tank.normal_level.si, Kind.LENGTH, system)}"
    else:
        x, y = layout.joint(name).at
        yield f"height {units.typeset(y.si, Kind.LENGTH, system)}"
        yield f"x {units.typeset(x.si, Kind.LENGTH, system)}"


def _spent_text(document: Document, names: tuple[str, ...]) -> str:
    """What parts take of the budget of the pump that is shown."""
    ledger = document.ledger
    if ledger is None:
        return "not calculated"
    entries = [entry for entry in ledger.entries if entry.part in names]
    if not entries:
        aside = any(entry.part in names for entry in ledger.parallel_entries)
        return f"in parallel with the way to {ledger.pump}" if aside else f"not on the way to {ledger.pump}"
    return f"{_share(entries)}, {_pressures(document, ledger, entries)}"


def _share(entries: list[Entry]) -> str:
    shares = [entry.share for entry in entries]
    if any(share is None for share in shares):
        return "no budget to take from"
    least = "at least " if any(entry.at_least for entry in entries) else ""
    return f"{least}{percent(sum(share for share in shares if share is not None))} of the budget"


def _pressures(document: Document, ledger: PumpLedger, entries: list[Entry]) -> str:
    lift, loss = (sum(getattr(entry, each) for entry in entries) for each in ("lift", "loss"))
    lift_text, loss_text = (units.typeset(each, Kind.VACUUM, document.system) for each in (lift, loss))
    return f"lift {lift_text}, loss {loss_text}"
