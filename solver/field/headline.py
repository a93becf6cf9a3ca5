"""What the readings of one visit come to, in one line, and what belongs right under it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from solver.field import explain
from solver.field.causes import AIR, CauseKind
from solver.field.compared import STOP
from solver.field.explain import Explained, Explanation
from solver.field.states import TEMPERATURE_NOT_NOTED, Reading
from solver.ledger.solve import solve
from solver.quantities.wording import uncapitalised

NOT_FILLING = 0.7
"""Share of the atmosphere from which a vacuum may be that of a pump that does not fill; common practice, no
source."""

NO_SIZE = (
    "At such a vacuum the pump may not fill: a valve is shut or the line plugged, and by how much cannot be "
    "read from a gauge."
)


def headline(
    explained: Explained,
    size: str,
    readings: Sequence[Reading],
    second: Explanation | None,
    stop: str,
    due: Mapping[str, str],
) -> tuple[str, tuple[str, ...]]:
    """What the readings come to, and the sentences that belong right under it.

    size: of the likeliest cause, in words. second: the likeliest other cause. stop: that the pump must
    stop, and why; "" where it need not. due: the screens that are due for cleaning by their trend, each with
    how surely.
    """
    beneath = due_sentences(due)
    named = {screen: word for screen, word in due.items() if not _is_named(explained, screen)}
    if stop:
        begin = f"{stop} "
    else:
        begin = "".join(f"{screen} {word} for cleaning by its trend. " for screen, word in named.items())
    answer, more = _answer(explained, size, readings, second, bool(named))
    return f"{begin}{answer}", (*beneath, *more)


def due_sentences(due: Mapping[str, str]) -> tuple[str, ...]:
    """That screens are due for cleaning by their trend. due: each with how surely."""
    return tuple(
        f"By the trend of its readings {screen} {word} for cleaning, and no work on the line is noted since."
        for screen, word in due.items()
    )


def stop_words(past: bool, held: bool) -> str:
    """That the pump must stop, and why; "" where it need not.

    past: a reading is past what is allowed. held: one of an earlier visit is, and still counts.
    """
    if past:
        return f"{STOP}: a reading is past what is allowed here."
    return f"{STOP}: an earlier visit's reading still counts." if held else ""


def is_starved(readings: Sequence[Reading]) -> bool:
    """Whether a vacuum was read under which a pump may not fill."""
    atmosphere = solve(readings[0].layout, readings[0].level).atmosphere
    return any(reading.band.high > NOT_FILLING * atmosphere for reading in readings if not reading.resting)


def _is_named(explained: Explained, screen: str) -> bool:
    """Whether the answer names a screen as blocked anyway."""
    first = explained.explanations[0]
    likely = explained.word in ("far likelier", "likelier")
    return likely and first.cause in (CauseKind.SCREEN, CauseKind.STUCK) and first.part == screen


def _answer(
    explained: Explained, size: str, readings: Sequence[Reading], second: Explanation | None, due: bool
) -> tuple[str, tuple[str, ...]]:
    first = explained.explanations[0]
    if is_starved(readings):
        return NO_SIZE, ()
    if explained.word == "none of these":
        return "None of these causes explains the readings.", ()
    if explained.air >= explain.LIKELIER and first.weight < explain.LIKELIER:
        return "Likelier than any other: air is drawn in.", tuple(_ways(explained))
    if first.cause is CauseKind.NOTHING:
        if explained.air > explain.RIVAL * first.weight:
            either = "What was seen or heard points to air, which a gauge hardly shows; it shows no fault."
            return either, tuple(_ways(explained))
        nothing = _nothing(explained, readings)
        return f"By the latest visit alone: {uncapitalised(nothing)}" if due else nothing, ()
    if explained.word == "cannot be distinguished":
        others = f"(2) {second.name}" if second is not None else "(2) others"
        return f"Cannot be distinguished: (1) {first.name}; {others}.", ()
    named = ", ".join(filter(None, (first.name, size)))
    return f"{explained.word.capitalize()} than any other: {named}.", ()


def _ways(explained: Explained) -> Iterator[str]:
    """By which way air is drawn in, as far as that can be said."""
    ways = [each for each in explained.explanations if each.cause in AIR and each.weight > 0.0]
    near = [str(each.cause) for each in ways if each.weight > explain.RIVAL * ways[0].weight]
    if len(near) == 1:
        yield f"Of the ways for air, likelier than the others: {near[0]}."
    else:
        yield f"Where the air gets in is not clear: {', '.join(near[:-1])} or {near[-1]}."


def _nothing(explained: Explained, readings: Sequence[Reading]) -> str:
    over = any(each.over for each in explained.expected)
    if over and any(doubt.words == TEMPERATURE_NOT_NOTED for each in readings for doubt in each.doubts):
        return (
            "Note the fluid's temperature first: without it the drawing may itself be past what is allowed "
            "here, and a fault is not excluded."
        )
    if over:
        return "Over by design, and not from a fault: the drawing itself is past what is allowed here."
    if explained.word == "cannot be distinguished":
        return "Nothing is seen to be wrong, but these readings could not tell some faults from none."
    return f"{explained.word.capitalize()} than any fault: nothing is wrong that a gauge would show."
