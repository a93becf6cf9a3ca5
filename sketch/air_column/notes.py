"""What is written beside the air column, as data: which pressure each note belongs to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from operator import itemgetter
from typing import NamedTuple

from sketch.air_column.slices import FLOOR_NAME, Slice, surface_with_credits
from sketch.drawing.tags import LEAST_SHARE, percent
from sketch.model.doubt import MarginBand
from sketch.model.read_marks import ReadMark
from solver.ledger.rounding import port_figures
from solver.ledger.sentences import brief, margin_text
from solver.ledger.solve import PumpLedger
from solver.properties.atmosphere import SEA_LEVEL
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, unit
from solver.quantities.wording import (
    ESTIMATED,
    in_psi,
    is_none,
    ledger_absolute,
    ledger_pressure,
    over_atmosphere,
    text_above_zero,
)

LARGE = 10.0
"""The weight of a note that is never left out for want of room."""


OTHER, READ = 2.5, 6.0
"""The weights of a note of another case, and of what a gauge has read."""


class NoteKind(StrEnum):
    """What a line beside the column belongs to."""

    SLICE = "slice"
    AIR = "air"
    FLOOR = "floor"
    OVER = "over"
    OTHER = "other"  # another case


class Note(NamedTuple):
    """One line beside the column."""

    pressure: float  # where it belongs [Pa absolute]
    text: str
    kind: NoteKind = NoteKind.AIR
    key: str = ""
    share: str = ""
    value: float | None = None
    credit: bool = False
    weight: float = LARGE
    order: int = 0  # in walking order, for slices of the same pressure


def notes(
    ledger: PumpLedger,
    slices: Sequence[Slice],
    system: System,
    pointed: str,
    most: int | None = None,
    floor_name: str = FLOOR_NAME,
) -> list[Note]:
    """Everything worth a line, not yet in order nor thinned out, but for the slices that `keep` leaves out
    where it keeps no more than `most` notes."""
    return [
        *_around(ledger, system),
        *_slices(ledger, slices, system, pointed, most),
        *_bounds(ledger, system, floor_name),
    ]


def of_others(others: Sequence[tuple[str, PumpLedger]], system: System) -> list[Note]:
    """Where the pressure at the port lies in other cases, with the margin that is left there."""
    return [
        Note(ledger.inlet, _in_short(name, ledger, system), NoteKind.OTHER, weight=OTHER, order=810 + at)
        for at, (name, ledger) in enumerate(others)
    ]


def of_band(band: MarginBand, ledger: PumpLedger, system: System) -> Note:
    """Where the pressure at the port lies in most draws of what is not known."""
    middle = ledger.floor + (band.low + band.high) / 2
    return Note(max(middle, 0.0), f"trials: {band.in_short(system)}", NoteKind.OTHER, order=840)


def of_reads(reads: Sequence[ReadMark], ledger: PumpLedger, system: System) -> list[Note]:
    """What a gauge at the port has read, at its place on the scale of vacuum."""
    return [
        Note(
            ledger.atmosphere - mark.vacuum,
            mark.short(system),
            NoteKind.OVER if mark.over else NoteKind.OTHER,
            weight=READ,
            order=840,
        )
        for mark in reads
        if not mark.place.run
    ]


def _in_short(name: str, ledger: PumpLedger, system: System) -> str:
    """A case with its margin; the unit stands on the scale, and a comma would part a name from its figure."""
    words = brief(ledger, system).replace(f" {unit(Kind.VACUUM, system)}", "")
    return f"{name}: {words}".replace(", ", " ")


def keep(notes: Sequence[Note], room: int) -> list[Note]:
    """The `room` weightiest."""
    return sorted(notes, key=lambda note: -note.weight)[: max(room, 0)]


def smaller(slices: Sequence[Slice], kept: Sequence[Note], ledger: PumpLedger, system: System) -> Note | None:
    """What the slices take together that have no note of their own; None where each has one."""
    named = {note.key for note in kept if note.kind is NoteKind.SLICE}
    sizes = [each.high - each.low for each in slices if not each.credit and each.key not in named]
    sizes = [size for size in sizes if size > 0.0]
    if not sizes:
        return None
    total = text_above_zero(sum(sizes), Kind.VACUUM, system, "<", PLACES)
    return Note(ledger.inlet, f"and {len(sizes)} smaller: {total}", order=790)


def _around(ledger: PumpLedger, system: System) -> Iterator[Note]:
    atmosphere = ledger_absolute(ledger.atmosphere, system)
    top = max(ledger.atmosphere, surface_with_credits(ledger))
    if ledger.atmosphere < SEA_LEVEL * 0.999 and top < SEA_LEVEL * 0.995:
        # Where credits fill the room of the air that is missing, there is nothing to point at.
        lost = ledger_pressure(SEA_LEVEL - ledger.atmosphere, system)
        yield Note(SEA_LEVEL, "sea level", weight=3.0)
        yield Note((SEA_LEVEL + top) / 2, f"{lost} less here", weight=4.0)
    yield Note(ledger.atmosphere, f"atmosphere {atmosphere}")
    gauge = ledger.surface - ledger.atmosphere
    if abs(gauge) > 1.0:
        figure = ledger_pressure(abs(gauge), system)
        added = f"reservoir +{figure}{in_psi(gauge, system)}"
        name = added if gauge > 0 else f"reservoir takes {figure}"
        yield Note((ledger.surface + ledger.atmosphere) / 2, name)
    yield Note(0.0, "perfect vacuum", weight=3.0)


def _slices(
    ledger: PumpLedger, slices: Sequence[Slice], system: System, pointed: str, most: int | None
) -> Iterator[Note]:
    weights: list[tuple[float, int, Slice]] = []
    whole = ledger.atmosphere
    for order, piece in enumerate(slices):
        _, share, high, low, _ = piece
        size = (high - low) / whole if share is None else abs(share)
        if pointed and piece.key == pointed:
            weights.append((LARGE, order, piece))
        elif size >= LEAST_SHARE:
            weights.append((min(size, 2.0), order, piece))
    if most is not None and len(weights) > most:
        weights = sorted(sorted(weights, key=lambda each: -each[0])[: max(most, 0)], key=itemgetter(1))
    for weight, order, piece in weights:
        text, share_text = piece.name, ""
        if piece.share is None:
            text += f": {ledger_pressure(piece.high - piece.low, system)}"
        else:
            share_text = percent(piece.share)
        yield Note(
            (piece.high + piece.low) / 2, text, NoteKind.SLICE, piece.key, share_text,
            piece.share, piece.credit, weight, order,
        )  # fmt: skip


def reading(ledger: PumpLedger, system: System) -> str:
    """What a gauge at the port shows, in short; a plus is pressure above the atmosphere."""
    if ledger.inlet <= ledger.vapor_pressure:
        return "the column breaks"
    vacuum = port_figures(ledger, system)[0]
    if is_none(vacuum, Kind.VACUUM, system, PLACES):
        return "atmospheric"
    if vacuum < 0.0:
        return f"+{over_atmosphere(-vacuum, system, PLACES)}"
    return f"{ledger_pressure(vacuum, system)} vac."


def _bounds(ledger: PumpLedger, system: System, floor_name: str) -> Iterator[Note]:
    margin = margin_text(ledger, system)
    if ledger.budget > 0.0 and ledger.margin > 0.0:
        part = percent(ledger.margin / ledger.budget)
        yield Note((ledger.inlet + ledger.floor) / 2, f"{margin}, {part}", order=900)
    elif ledger.margin < 0.0:
        yield Note(ledger.inlet, margin, NoteKind.OVER, order=900)
    yield Note(
        ledger.inlet,
        f"at the port {reading(ledger, system)}",
        weight=5.0,
        order=800,
    )
    floor = ledger_absolute(ledger.floor, system) + (ESTIMATED if ledger.limit_estimated else "")
    yield Note(ledger.floor, f"{floor_name} {floor}", NoteKind.FLOOR, order=950)
    full = min(ledger.floor, ledger.surface, ledger.inlet)
    yield Note(full / 2, "kept to fill the pump", order=999)
