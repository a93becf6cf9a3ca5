"""Published lists of what makes a pump cavitate or draw air, against the causes that readings are held to.

No cause that a list names may be rejected without a reason from the physics. Where the lists disagree it is
said beside them; of two that disagree about a sound, neither may decide.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from solver.field.causes import CauseKind
from solver.field.diagnosis import Diagnosis, diagnose
from solver.field.signs import ODDS, odds_of, signs
from solver.layout import file
from solver.layout.logged import LoggedReading
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
TEXT = PATH.read_text(encoding="utf-8").partition("[alternatives")[0].replace("format = 1", "format = 2")
HIGH = """
[[readings]]
when = "2026-03-04"
pump = "carriage"
vacuum = "6.0 inHg"
gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0 }
state = { level = "minimum", fluid.temperature = "45 degC" }
sound = "steady"
foam = true
"""


@dataclass(frozen=True)
class Published:
    """One list: what it names, each with the kind of cause that it is here, or why it is none."""

    source: str
    causes: tuple[tuple[str, CauseKind | str], ...]
    remarks: str = ""  # where it disagrees with another


LIMIT = "it moves what is allowed, and not what a gauge reads"

LISTS = (
    Published(
        "Smiley, Cavitation or Aeration? How to Tell the Difference, machinerylubrication.com/Read/30768",
        (
            ("plugged suction strainer or filter", CauseKind.SCREEN),
            ("suction line that is too small", CauseKind.AS_BUILT),
            ("air leak in the suction line", CauseKind.JOINT),
            ("low level", CauseKind.VORTEX),
            ("bad shaft seal", CauseKind.SEAL),
        ),
        "A steady, high-pitched whine is cavitation; an erratic one is aeration.",
    ),
    Published(
        "Hydraulic Troubleshooting, step 1, hydraulic-systems.com/pages/ref_trouble1.htm",
        (
            ("dirt on the suction strainer, on a new as well as an older system", CauseKind.SCREEN),
            ("air leaks at union joints of the suction line", CauseKind.JOINT),
            ("oil level that lets a vortex form: 3 in over the strainer at least", CauseKind.VORTEX),
        ),
        "The strainer is suspected on new systems too, where the trade suspects the line or the viscosity.",
    ),
    Published(
        "Parr, Hydraulics and Pneumatics, 3rd ed., section on cavitation and aeration (read as an excerpt)",
        (
            ("high-viscosity fluid, low temperature", CauseKind.FLUID),
            ("pump overspeed", CauseKind.MORE_FLOW),
            ("inlet line too small", CauseKind.BORE),
            ("blocked inlet strainer", CauseKind.SCREEN),
            ("worn shaft seal", CauseKind.SEAL),
            ("low level", CauseKind.VORTEX),
            ("return above the level", CauseKind.RETURN),
            ("leak on the inlet line", CauseKind.JOINT),
        ),
    ),
    Published(
        "Data Sheet 48, Troubleshooting Tips for Hydraulic Pumps, evolutionmotion.com",
        (
            ("suction strainer, also one that does not look dirty", CauseKind.SCREEN),
            ("restricted or clogged inlet plumbing, collapsed hose", CauseKind.HOSE),
            ("air breather clogged, on the extension stroke", CauseKind.SURFACE),
            ("oil viscosity too high", CauseKind.FLUID),
        ),
        "Milky oil counts as a symptom of cavitation, where others take it for air or water.",
    ),
    Published(
        "Wickham, blockage in the suction line, jonwickham.com/ans0906.htm",
        (
            ("sludge held against the strainer by the flow", CauseKind.SCREEN),
            ("imploded suction hose, closed under suction alone", CauseKind.HOSE),
            ("a foreign object or valve part in the line", CauseKind.RESISTANCE),
        ),
        "A blockage that comes with the flow is gone when the line is opened.",
    ),
    Published(
        "Kavitation in Hydrauliksystemen, service.kunze-buehnen.com",
        (
            ("verstopfte Saugfilter", CauseKind.SCREEN),
            ("zu enge oder zu lange Saugleitungen", CauseKind.AS_BUILT),
            ("Undichtigkeiten, Luft wird angesaugt", CauseKind.JOINT),
            ("hohe Ölviskosität, kaltes Öl", CauseKind.FLUID),
            ("zu hohe Drehzahl der Pumpe", CauseKind.MORE_FLOW),
        ),
        "Whistle and rattle are both taken for cavitation.",
    ),
    Published(
        "Cavitation, mvwautotechniek.nl/en/cavitation",
        (
            ("suction hose sucked flat", CauseKind.HOSE),
            ("suction line too narrow", CauseKind.BORE),
            ("dirty suction filter", CauseKind.SCREEN),
            ("too thick oil", CauseKind.FLUID),
            ("insufficient aeration of the reservoir", CauseKind.SURFACE),
            ("presence of air in the oil", CauseKind.RETURN),
            ("high oil temperature", LIMIT),
        ),
    ),
    Published(
        "Tuthill, Service Manual 73, page 31, capacity too low (manualshive.com)",
        (
            ("air leaks in the suction line", CauseKind.JOINT),
            ("suction lift too great", CauseKind.LEVEL),
            ("suction line too small or too long", CauseKind.AS_BUILT),
            ("strainer too small or obstructed", CauseKind.SCREEN),
            ("increased clearances or wear", CauseKind.LESS_FLOW),
        ),
    ),
)
"""Read on 2026-11-26. Pages about the trade alone; none is of a program."""

NAMED = sorted({kind for each in LISTS for _, kind in each.causes if isinstance(kind, CauseKind)})


@pytest.fixture(scope="module")
def diagnosis() -> Diagnosis:
    return diagnose(file.parse(TEXT + HIGH).base, "carriage")


def test_there_are_five_lists_or_more() -> None:
    assert len({each.source for each in LISTS}) >= 5


@pytest.mark.parametrize("kind", NAMED)
def test_what_a_list_names_is_weighed_or_rejected_with_a_reason(
    kind: CauseKind, diagnosis: Diagnosis
) -> None:
    mine = [each for each in diagnosis.causes if each.explanation.cause is kind]
    assert mine, kind
    assert all(each.word != "cannot" or each.evidence_against for each in mine)


def test_a_clogged_strainer_is_never_rejected_by_one_high_reading(diagnosis: Diagnosis) -> None:
    (screen,) = (each for each in diagnosis.causes if each.name == "screen blocked: strainer")
    assert screen.word != "cannot"


@pytest.mark.parametrize(
    "noted",
    [
        {"sound": "steady"},
        {"sound": "erratic"},
        {"milky": True},
        {"foam": True},
        {"age": "new"},
        {"age": "long in service"},
    ],
)
def test_what_the_lists_disagree_about_never_decides(noted: dict[str, object]) -> None:
    logged = replace(LoggedReading("2026-03-04", "carriage"), **noted)  # type: ignore[arg-type]
    for above in (True, False):
        assert all(1 / ODDS <= shift <= ODDS for shift in odds_of(signs([logged], above)).values())
