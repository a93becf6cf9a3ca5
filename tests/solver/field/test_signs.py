"""Sound and age shift the odds; they prove nothing. Rules of the trade: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.causes import AIR, CauseKind
from solver.field.signs import Sign, contradiction, odds_of, signs
from solver.layout.logged import LoggedReading
from solver.quantities.units import Kind, quantity

VISIT = LoggedReading("2026-03-04", "carriage")


def odds(above: bool, **noted: object) -> dict[CauseKind, float]:
    return odds_of(signs([replace(VISIT, **noted)], above))  # type: ignore[arg-type]


def test_a_steady_note_above_the_allowed_points_to_the_line() -> None:
    assert odds(True, sound="steady")[CauseKind.SCREEN] > 1.0
    assert odds(False, sound="steady") == {}


def test_an_erratic_noise_within_the_allowed_points_to_air() -> None:
    within = odds(False, sound="erratic")
    assert all(within[kind] == 3.0 for kind in AIR)
    assert not odds(True, sound="erratic").keys() & set(AIR)


def test_a_new_system_points_to_its_line_and_an_old_one_to_its_strainer() -> None:
    new, old = odds(False, age="new"), odds(False, age="long in service")
    assert new[CauseKind.AS_BUILT] > 1.0
    assert new[CauseKind.FLUID] > 1.0
    assert old[CauseKind.SCREEN] > 1.0
    assert old[CauseKind.BORE] > 1.0


@pytest.mark.parametrize(
    ("noted", "kind", "likelier"),
    [
        ({"filler_cap": "changed"}, CauseKind.SURFACE, True),
        ({"filler_cap": "no change"}, CauseKind.SURFACE, False),
        ({"jar": "clears from below"}, CauseKind.VORTEX, True),
        ({"jar": "clear"}, CauseKind.RETURN, False),
        ({"fall_time": "holds"}, CauseKind.JOINT, False),
        ({"fall_time": quantity("40 s", Kind.TIME)}, CauseKind.SEAL, True),
        ({"vacuum": (quantity("5 kPa", Kind.VACUUM), quantity("7 kPa", Kind.VACUUM))}, CauseKind.JOINT, True),
        ({"joints_wetted": "changed"}, CauseKind.JOINT, True),
        ({"joints_wetted": "no change"}, CauseKind.JOINT, False),
        ({"in_tank": ("swirl over the intake",)}, CauseKind.VORTEX, True),
        ({"in_tank": ("foam at the return",)}, CauseKind.RETURN, True),
        ({"in_tank": ("calm",)}, CauseKind.VORTEX, False),
        ({"age": "long in service"}, CauseKind.SEAL, True),
        ({"work": ("line changed",)}, CauseKind.JOINT, True),
        ({"work": ("pump changed",)}, CauseKind.JOINT, True),
        ({"work": ("breather changed",)}, CauseKind.SURFACE, False),
        ({"work": ("fluid topped up",)}, CauseKind.LEVEL, False),
        ({"sound": "erratic", "sound_when": ("only cold",)}, CauseKind.JOINT, True),
        ({"sound": "steady", "sound_when": ("only hot",)}, CauseKind.JOINT, False),
        ({"sound": "steady", "sound_when": ("only hot",)}, CauseKind.HOSE, True),
        ({"sound": "steady", "sound_when": ("extending",)}, CauseKind.VORTEX, True),
        ({"slow_cylinder": True}, CauseKind.LESS_FLOW, True),
        ({"work": ("strainer cleaned",)}, CauseKind.SCREEN, False),
        ({"sound": "steady", "sound_when": ("extending",)}, CauseKind.SURFACE, True),
    ],
)
def test_what_was_seen_shifts_its_cause(noted: dict[str, object], kind: CauseKind, likelier: bool) -> None:
    assert (odds(False, **noted)[kind] > 1.0) is likelier


def test_a_sign_that_is_noted_twice_counts_once() -> None:
    twice = replace(VISIT, foam=True)
    assert len(signs([twice, twice], False)) == 1


def test_all_signs_together_shift_a_cause_by_three_to_one_at_most() -> None:
    many = [Sign(str(i), ((CauseKind.SCREEN, 3.0),)) for i in range(5)]
    assert odds_of(many) == {CauseKind.SCREEN: 3.0}
    tried = Sign("tried", ((CauseKind.SCREEN, 0.1),), trial=True)
    assert odds_of([*many, tried])[CauseKind.SCREEN] == pytest.approx(0.3)


def test_at_rest_a_line_that_holds_says_nothing_of_the_intake_and_the_return() -> None:
    assert not odds(False, fall_time="holds").keys() & {CauseKind.VORTEX, CauseKind.RETURN}


def test_only_fast_goes_with_air_and_shifts_it_by_nothing() -> None:
    fast = odds(False, sound="steady", sound_when=("only fast",))
    assert {fast[kind] for kind in AIR} == {1.0}
    assert fast[CauseKind.RESISTANCE] > 1.0


def test_a_noise_only_when_cold_that_is_heard_warm_contradicts_itself_and_counts_for_nothing() -> None:
    warm, cold = (
        replace(VISIT, when=f"2026-03-04 {hour}", state={"fluid": {"temperature": f"{celsius} degC"}})
        for hour, celsius in (("18:30", 50), ("07:10", 25))
    )
    only_cold = replace(cold, sound="steady", sound_when=("only cold",))
    visit = [replace(warm, sound="steady"), only_cold]
    assert contradiction(visit) == (
        "The notes of a noise contradict each other, only cold on 2026-03-04 07:10, and heard on "
        "2026-03-04 18:30 with the fluid warmer"
    )
    assert signs(visit, True) == ()
    quiet = [replace(warm, sound="normal"), only_cold]
    assert contradiction(quiet) == ""
    assert odds_of(signs(quiet, True))[CauseKind.FLUID] > 1.0
    only_hot = [replace(cold, sound="erratic"), replace(warm, sound_when=("only hot",))]
    assert contradiction(only_hot).endswith("with the fluid colder")
    assert contradiction([replace(VISIT, sound="steady"), only_cold]) == "", "its warmth was not noted"
