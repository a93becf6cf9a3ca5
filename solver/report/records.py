"""A solution as plain data for other programs: JSON objects and CSV rows, SI, keys ending in their unit."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Collection, Iterable, Mapping
from typing import Any

from solver.answers.answer import Answer, AnswerInCase
from solver.findings.checks import Finding
from solver.findings.judgement import Judgement
from solver.findings.outlook import case_headline, not_judged, outlook, own_headline
from solver.layout.cases import AS_DRAWN
from solver.ledger.path import HeadEntryKind
from solver.ledger.resting import RestingPump
from solver.ledger.solve import Entry, PumpLedger, Solution
from solver.properties.fluid import FluidState
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

_FINDING_KEYS: Mapping[str, str] = {
    "finding": "finding",
    "severity": "severity",
    "part": "part",
    "value": "value",
    "threshold": "limit",
    "text": "text",
    "advice": "advice",
}

_SUMMARY_KEYS = ("budget_Pa", "floor_Pa", "margin_Pa", "verdict")

CSV_COLUMNS = ("file", "alternative", "case", "level", "pump", *_ENTRY_KEYS.values(), *_SUMMARY_KEYS)

REACH_COLUMNS = ("file", "alternative", "pump", "question", "status", "value", "kind", "size", "text")

NOT_JUDGED = "not judged"

PROGRAM = "Liftledger"

FORMAT = 2
"""Version of the JSON object: one more whenever a key goes, or means another thing."""


def record(
    judgement: Judgement,
    case: str = AS_DRAWN,
    alternative: str | None = None,
    answers: Mapping[str, Iterable[Answer]] | None = None,
    pump: str | None = None,
    fixes: Mapping[str, list[dict[str, Any]]] | None = None,
    alternatives: Mapping[str, Judgement | str] | None = None,
) -> dict[str, Any]:
    """A judged drawing as a JSON object. A value that does not exist (nan, an infinity) is None.

    Parameters: `case`, the one in view, whose figures stand at the top; `alternative`, the name of the one
    that was solved; `answers` and `fixes` by pump, where they were asked; `pump`, the only one that is shown;
    `alternatives` of the drawing by name, each judged or why it was not.
    """
    from importlib.metadata import version  # no other output asks for it

    layout = judgement.layout
    system = layout.units
    fields = _case(judgement, case, pump)
    for name, given in (answers or {}).items():
        fields["pumps"][name]["answers"] = [_answer(answer) for answer in given]
    for name, changes in (fixes or {}).items():
        if name in fields["pumps"]:
            fields["pumps"][name]["fixes"] = changes
    whole, worst = outlook(judgement, system), judgement.worst(pump)
    for name, figures in fields["pumps"].items():
        figures["outlook"] = {"severity": whole.severity, "headline": own_headline(judgement, name, system)}
    return {
        "program": {"name": PROGRAM, "version": version(PROGRAM.lower())},
        "format": FORMAT,
        "title": layout.title,
        "alternative": alternative,
        "case": case,
        "worst": None if worst is None else {"pump": worst.pump, "case": worst.case},
        "headline": whole.headline,
        **{key: fields[key] for key in OF_CASE_IN_VIEW if key in fields},
        "cases": {name: _case(judgement, name, pump, short=True) for name in judgement.cases},
        "alternatives": {name: _alternative(each, pump) for name, each in (alternatives or {}).items()},
    }


OF_CASE_IN_VIEW = ("level", "site", "fluid", "line_fluid", "pumps", "resting", "findings")
"""What stands at the top as well, for programs that know no cases; `line_fluid` where there is one."""


def _alternative(judged: Judgement | str, pump: str | None) -> dict[str, Any]:
    """How an alternative stands in its worst case, pump by pump; or why it could not be judged."""
    if isinstance(judged, str):
        return {"judged": False, "why": judged, "headline": None, "worst": None, "pumps": {}}
    system, worst = judged.layout.units, judged.worst(pump)
    places = [judged.worst(name) for name in judged.layout.pumps if pump in (None, name)]
    return {
        "judged": not judged.not_judged,
        "why": not_judged(judged) or None,
        "headline": outlook(judged, system).headline,
        "worst": None if worst is None else {"pump": worst.pump, "case": worst.case},
        "pumps": {
            place.pump: {"case": place.case, "standing": place.pump_state, **_figures(place.ledger)}
            for place in places
            if place is not None
        },
    }


def _case(judgement: Judgement, name: str, pump: str | None, *, short: bool = False) -> dict[str, Any]:
    """One case; `short`: without the entries of its pumps."""
    case = judgement.cases[name]
    solution, system = case.solution, judgement.layout.units
    of_case: dict[str, Any] = {"judged": case.judged, "why": case.why(system) or None, "note": case.note}
    of_case["passed_over"] = list(case.passed_over)
    fields: dict[str, Any] = {**of_case, "level": None, "site": None, "fluid": None, "pumps": {}}
    if solution is not None:
        ledgers = {each: ledger for each, ledger in solution.pumps.items() if pump in (None, each)}
        fields["level"] = solution.level
        fields["site"] = {"atmosphere_Pa": solution.atmosphere, "elevation_m": solution.elevation}
        fields |= _fluids(solution)
        fields["pumps"] = {each: _pump(ledger, short=short) for each, ledger in ledgers.items()}
        for place in judgement.pumps_in_cases:
            if place.case == name and place.pump in ledgers:
                fields["pumps"][place.pump]["standing"] = place.pump_state
    resting = solution.resting if solution is not None else {}
    fields["resting"] = {each: _resting(port) for each, port in resting.items() if pump in (None, each)}
    fields["findings"] = [
        _finding(finding, judgement) for finding in judgement.findings_by_case.get(name, ())
    ]
    return fields


def _fluids(solution: Solution) -> dict[str, Any]:
    """The fluid in the tank, and that in the line where it is not as warm."""
    fields = {"fluid": _fluid(solution.tank_fluid)}
    return (
        fields if solution.fluid is solution.tank_fluid else fields | {"line_fluid": _fluid(solution.fluid)}
    )


def _fluid(state: FluidState) -> dict[str, Any]:
    return {
        "name": state.name,
        "temperature_K": state.temperature,
        "density_kg_m3": state.density,
        "viscosity_m2_s": state.viscosity,
        "vapor_pressure_Pa": state.known_vapor_pressure,
    }


def _finding(finding: Finding, judgement: Judgement) -> dict[str, Any]:
    """A finding of one case, with the cases that it holds in."""
    place = (finding.finding, finding.part, finding.key)
    cases = next(each.cases for each in judgement.findings if (each.finding, each.part, each.key) == place)
    return {
        **{key: _finite(getattr(finding, field)) for field, key in _FINDING_KEYS.items()},
        "cases": list(cases),
    }


def _resting(port: RestingPump) -> dict[str, Any]:
    return {
        "inlet_Pa": port.inlet,
        "vacuum_Pa": port.vacuum,
        "check_valve": port.check_valve or None,
        "draws_air": port.draws_air,
    }


def dumped(value: Any) -> str:
    """Plain data as JSON for a person and a program alike. Raises ValueError for a value that JSON lacks."""
    return printable_json(json.dumps(value, indent=1, ensure_ascii=False, allow_nan=False))


def table(
    judgement: Judgement,
    file: str,
    alternative: str | None = None,
    cases: Collection[str] | None = None,
    pump: str | None = None,
) -> str:
    """Every entry of every pump as CSV lines in the order of `CSV_COLUMNS`, without the heading.

    Every line repeats the budget, the floor, the margin and the verdict [SI units] of its pump in its case. A
    case that was not judged has one line, which says why. Parameters: `cases` and `pump`, the only ones that
    are shown. A text that a spreadsheet would take for a formula is led by an apostrophe.
    """
    rows: list[list[Any]] = []
    for name, case in judgement.cases.items():
        if cases is not None and name not in cases:
            continue
        start = [file, alternative or "", name]
        if case.solution is None or not case.judged:
            why = f"{NOT_JUDGED}: {case.why(System.SI)}"
            rows.append([*start, "", pump or "", *[""] * (len(_ENTRY_KEYS) + 3), why])
            continue
        for place in [
            each for each in judgement.pumps_in_cases if each.case == name and pump in (None, each.pump)
        ]:
            ledger, verdict = place.ledger, case_headline(judgement, place, System.SI)
            summary = [_finite(value) for value in (ledger.budget, ledger.floor, ledger.margin)]
            for entry in ledger.entries:
                values = _entry(entry).values()
                rows.append([*start, case.solution.level, place.pump, *values, *summary, verdict])
    return _lines(rows)


def reach_table(answers: Mapping[str, Iterable[Answer]], file: str, alternative: str | None = None) -> str:
    """Every answer of every pump as CSV lines in the order of `REACH_COLUMNS`, without the heading."""
    return _lines(
        [file, alternative or "", pump, *(cells[key] for key in REACH_COLUMNS[3:])]
        for pump, pump_answers in answers.items()
        for cells in map(_answer, pump_answers)
    )


def heading(columns: Iterable[str] = CSV_COLUMNS) -> str:
    """The first line of a table."""
    return _lines([list(columns)])


def _lines(rows: Iterable[Iterable[Any]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerows([cell(value) for value in row] for row in rows)
    return text.getvalue()


def _pump(ledger: PumpLedger, *, short: bool = False) -> dict[str, Any]:
    fields = {**_figures(ledger), "within": ledger.sound}
    if short:
        return fields
    fields["entries"] = [_entry(entry) for entry in ledger.entries]
    return fields


def _figures(ledger: PumpLedger) -> dict[str, Any]:
    return {key: _finite(getattr(ledger, field)) for field, key in _LEDGER_KEYS.items()}


def _entry(entry: Entry) -> dict[str, Any]:
    record = {key: _finite(getattr(entry, field)) for field, key in _ENTRY_KEYS.items()}
    if entry.kind == HeadEntryKind.FLOODED:  # the fluid has that pressure nowhere
        record[_ENTRY_KEYS["pressure"]] = None
    return record


def _answer(answer: Answer) -> dict[str, Any]:
    return {
        "question": answer.question,
        "status": answer.status,
        "value": _finite(answer.value),
        "kind": str(answer.kind),
        "size": answer.size or None,
        "reason": answer.reason,
        "by_margin": answer.by_margin,
        "no_place": answer.no_place or None,
        "case": answer.case or None,
        "by_case": [_in_case(each) for each in answer.by_case],
        "text": answer.text,
    }


def _in_case(answer: AnswerInCase) -> dict[str, Any]:
    return {
        "case": answer.case,
        "status": answer.status,
        "value": _finite(answer.value),
        "decides": answer.decides,
        "text": answer.text,
    }


def _finite(value: Any) -> Any:
    return None if isinstance(value, float) and not math.isfinite(value) else value
