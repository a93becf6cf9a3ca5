"""A solution as plain data for other programs: JSON objects and CSV rows, SI, keys ending in their unit."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping
from typing import Any

from solver.answers.ask import Answer
from solver.findings.checks import Finding
from solver.findings.outlook import outlook
from solver.ledger.solve import Entry, PumpLedger, Solution
from solver.quantities.units import System
from solver.report.escaping import cell, printable_json

_LEDGER_KEYS: Mapping[str, str] = {
    "flow": "flow_m3_s",
    "surface": "surface_Pa",
    "floor": "floor_Pa",
    "budget": "budget_Pa",
    "spent": "spent_Pa",
    "margin": "margin_Pa",
    "inlet": "inlet_Pa",
    "vacuum": "vacuum_Pa",
    "allowed_vacuum": "allowed_vacuum_Pa",
    "npsh_available": "npsh_available_m",
    "lowest": "lowest_Pa",
    "lowest_at": "lowest_at",
}

_ENTRY_KEYS: Mapping[str, str] = {
    "part": "part",
    "element": "element",
    "kind": "kind",
    "flow": "flow_m3_s",
    "bore": "bore_m",
    "length": "length_m",
    "velocity": "velocity_m_s",
    "reynolds": "reynolds",
    "friction_factor": "friction_factor",
    "k": "k",
    "lift": "lift_Pa",
    "loss": "loss_Pa",
    "share": "share",
    "pressure": "pressure_Pa",
}

_FINDING_KEYS = ("finding", "severity", "part", "value", "limit", "text")

CSV_COLUMNS = ("file", "alternative", "level", "pump", *_ENTRY_KEYS.values())


def record(
    solution: Solution,
    findings: Iterable[Finding],
    alternative: str | None = None,
    answers: Mapping[str, Iterable[Answer]] | None = None,
) -> dict[str, Any]:
    """One solution as a JSON object. A value that does not exist (nan, an infinity) is None.

    Parameters: `alternative`, the name of the one that was solved; `answers` by pump, where they were asked.
    """
    site = {"atmosphere_Pa": solution.atmosphere, "elevation_m": solution.elevation}
    state, findings = solution.fluid, tuple(findings)
    pumps = {name: _pump(ledger) for name, ledger in solution.pumps.items()}
    for name, pump in pumps.items():
        pump["cold"] = _cold(solution, name)
        found = outlook(solution, findings, name, System(solution.layout.units))
        pump["outlook"] = {"severity": found.severity, "headline": found.headline}
    for name, given in (answers or {}).items():
        pumps[name]["answers"] = [_answer(answer) for answer in given]
    return {
        "title": solution.layout.title,
        "alternative": alternative,
        "level": solution.level,
        "site": site,
        "fluid": {
            "name": state.name,
            "temperature_K": state.temperature,
            "density_kg_m3": state.density,
            "viscosity_m2_s": state.viscosity,
            "vapor_pressure_Pa": state.vapor_pressure,
        },
        "pumps": pumps,
        "findings": [{key: _finite(getattr(f, key)) for key in _FINDING_KEYS} for f in findings],
    }


def dumped(made: Any) -> str:
    """Plain data as JSON for a person and a program alike. Raises ValueError for a value that JSON lacks."""
    return printable_json(json.dumps(made, indent=1, ensure_ascii=False, allow_nan=False))


def table(solution: Solution, file: str, alternative: str | None = None) -> str:
    """Every entry of every pump as CSV lines in the order of `CSV_COLUMNS`, without the heading.

    A text that a spreadsheet would take for a formula is led by an apostrophe.
    """
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\n")
    for name, ledger in solution.pumps.items():
        for entry in ledger.entries:
            values = [_finite(getattr(entry, field)) for field in _ENTRY_KEYS]
            row = [file, alternative or "", solution.level, name, *values]
            writer.writerow([cell(value) for value in row])
    return made.getvalue()


def _pump(ledger: PumpLedger) -> dict[str, Any]:
    made = _figures(ledger)
    made["entries"] = [_entry(entry) for entry in ledger.entries]
    return made


def _figures(ledger: PumpLedger) -> dict[str, Any]:
    return {key: _finite(getattr(ledger, field)) for field, key in _LEDGER_KEYS.items()}


def _cold(solution: Solution, pump: str) -> dict[str, Any] | None:
    """The ledger's figures at the coldest start; None where there is none, or it cannot be calculated."""
    start, ledger = solution.cold_start, solution.cold(pump)
    if start is None or ledger is None:
        return None
    return {"temperature_K": start.temperature, "within": ledger.sound, **_figures(ledger)}


def _entry(entry: Entry) -> dict[str, Any]:
    return {key: _finite(getattr(entry, field)) for field, key in _ENTRY_KEYS.items()}


def _answer(answer: Answer) -> dict[str, Any]:
    return {
        "question": answer.question,
        "status": answer.status,
        "value": _finite(answer.value),
        "kind": str(answer.kind),
        "size": answer.size or None,
        "text": answer.text,
    }


def _finite(value: Any) -> Any:
    return None if isinstance(value, float) and not math.isfinite(value) else value
