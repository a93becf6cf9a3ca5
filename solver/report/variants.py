"""Variants of drawings as text, CSV and JSON: a row for each variant and pump, in the case that decides."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from solver.answers.axes import Axis, Piece
from solver.answers.sweep import PumpSweep
from solver.quantities.units import System, typeset
from solver.quantities.wording import ledger_pressure, printable
from solver.report.escaping import cell, printable_json

FIGURES = {
    "margin": "margin_Pa",
    "vacuum": "vacuum_Pa",
    "allowed_vacuum": "allowed_vacuum_Pa",
    "inlet": "inlet_Pa",
    "floor": "floor_Pa",
    "lowest": "lowest_Pa",
    "npsh_available": "npsh_available_m",
    "vapor_pressure": "vapor_pressure_Pa",
    "flow": "flow_m3_s",
}
"""What is said of every variant, with the name and unit it has."""

NOT_JUDGED = "not judged"


@dataclass(frozen=True, slots=True)
class Row:
    """One variant of one drawing for one pump, in the case that leaves it least."""

    figures: tuple[float, ...]  # one for each axis [SI]
    pump: str
    case: str  # that decides; empty where some case is not judged
    values: tuple[float | None, ...]  # in the order of FIGURES [SI]; None where not judged
    broken: str = ""  # a case in which the column of fluid breaks

    @property
    def known(self) -> tuple[float | None, ...]:
        """Its values; none for a vapour pressure that counts as 0 since nobody has typed it."""
        unknown = self.figure("npsh_available") is None
        return tuple(None if unknown and name == "vapor_pressure" else value
                     for name, value in zip(FIGURES, self.values, strict=True))  # fmt: skip

    def figure(self, name: str) -> float | None:
        """One of FIGURES [SI]; None where not judged."""
        return self.values[list(FIGURES).index(name)]

    @property
    def short(self) -> bool:
        """Whether the margin of the case that decides is below zero."""
        margin = self.figure("margin")
        return margin is not None and margin < 0

    @property
    def over(self) -> bool:
        """Whether it is over in the case that decides, or its column breaks in some case."""
        return self.short or bool(self.broken)

    @property
    def breaks_at_port(self) -> bool:
        """Whether the column breaks before the port in the case that decides, so that no gauge shows it."""
        inlet, vapor = self.figure("inlet"), self.figure("vapor_pressure")
        return inlet is not None and vapor is not None and inlet <= vapor

    @property
    def judged(self) -> bool:
        """Whether every case in which it runs is judged."""
        return bool(self.case)


def rows(piece: Piece, wanted: str | None = None) -> Iterator[Row]:
    """The variants of a piece in their order. Parameter `wanted`: only that pump."""
    pumps = dict.fromkeys(name for pumps_there in piece.cases.values() for name in pumps_there)
    chosen = [pump for pump in pumps if wanted in (None, pump)]
    decided = {pump: piece.decided(pump) for pump in chosen}
    nothing = (None,) * len(FIGURES)
    for at in range(piece.count):
        figures = tuple(float(values[at]) for values in piece.figures.values())
        for pump in chosen:
            _, case, names = decided[pump]
            name = names[case[at]] if case[at] >= 0 else ""
            swept = piece.cases[name][pump] if name else None
            values = tuple(_finite(getattr(swept, each)[at]) for each in FIGURES) if swept else nothing
            broken = next((each for each in names if _breaks(piece.cases[each][pump], at)), "")
            yield Row(figures, pump, name, values, broken)


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _breaks(swept: PumpSweep, at: int) -> bool:
    return bool(swept.lowest[at] <= swept.vapor_pressure[at])


def _columns(axes: Sequence[Axis]) -> tuple[str, ...]:
    """An axis with its SI unit, as keys are written: `temperature_K`, `level of tank_m`."""
    units = (axis.input.unit.replace("^", "").replace("/", "_") for axis in axes)
    return tuple(f"{axis.label}_{unit}".rstrip("_") for axis, unit in zip(axes, units, strict=True))


def csv_heading(axes: Sequence[Axis]) -> str:
    """The first line of the table."""
    return _line(("file", "alternative", *_columns(axes), "pump", "case", *FIGURES.values(), "breaks_in"))


def csv_line(row: Row, file: str, alternative: str | None) -> str:
    """One row as a line of CSV; empty cells where it is not judged."""
    values = ("" if value is None else value for value in row.known)
    return _line(
        (file, alternative or "", *row.figures, row.pump, row.case or NOT_JUDGED, *values, row.broken)
    )


def _line(cells: Sequence[Any]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow([cell(each) for each in cells])
    return text.getvalue()


def json_row(row: Row, axes: Sequence[Axis], file: str, alternative: str | None) -> str:
    """One row as a JSON object on one line."""
    values = zip(FIGURES.values(), row.known, strict=True)
    keys = {
        "file": file,
        "alternative": alternative,
        **dict(zip(_columns(axes), row.figures, strict=True)),
        "pump": row.pump,
        "case": row.case or None,
        **dict(values),
        "breaks_in": row.broken or None,
    }
    return printable_json(json.dumps(keys, ensure_ascii=False, allow_nan=False))


def text_heading(axes: Sequence[Axis]) -> str:
    """The line over the rows of text."""
    return _aligned(
        [axis.label for axis in axes], ("pump", "margin", "gauge", "allowed", "case that decides")
    )


def text_line(row: Row, axes: Sequence[Axis], system: System) -> str:
    """One row as a line of text, in the units of a system."""
    shown = [typeset(value, axis.input.kind, system) for axis, value in zip(axes, row.figures, strict=True)]
    if not row.case:
        return _aligned(shown, (row.pump, NOT_JUDGED, "", "", ""))
    margin, vacuum, allowed = (
        ledger_pressure(value, system) if value is not None else ""
        for value in map(row.figure, ("margin", "vacuum", "allowed_vacuum"))
    )
    if row.breaks_at_port:
        vacuum = "breaks"
    remarks = (
        ("over", row.short),
        (f"the column breaks in {row.broken}", bool(row.broken)),
    )
    remark = ", ".join(text for text, holds in remarks if holds)
    return _aligned(shown, (row.pump, margin, vacuum, allowed, f"{row.case}{remark and f' ({remark})'}"))


def _aligned(figures: Sequence[str], others: Sequence[str]) -> str:
    pump, margin, vacuum, allowed, case = others
    left = "".join(f"{each:<18} " for each in figures)
    return printable(f"{left}{pump:<12} {margin:>11} {vacuum:>11} {allowed:>11}  {case}".rstrip()) + "\n"
