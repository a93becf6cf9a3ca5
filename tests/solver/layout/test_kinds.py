"""The kinds that parts come in: a file has each by its word, and gets the member of its enumeration."""

from __future__ import annotations

import pytest

from solver.layout import keys
from solver.layout.file import parse
from solver.layout.kinds import (
    CHECK_KINDS,
    REDUCER_KINDS,
    VALVE_KINDS,
    Bend,
    FittingKind,
    IntakeKind,
    LimitForm,
    PumpType,
    ValveState,
)
from solver.layout.reading import KeyPlace
from solver.quantities.units import Kind, System
from tests.drawings import EVERY_KEY

READ_BY = {
    IntakeKind: (keys.INTAKE, "kind"),
    FittingKind: (keys.FITTING, "kind"),
    ValveState: (keys.FITTING, "state"),
    Bend: (keys.RUN, "bend"),
    PumpType: (keys.PUMP, "type"),
    System: (keys.TOP, "units"),
}


@pytest.mark.parametrize("kinds", READ_BY, ids=lambda kinds: kinds.__name__)
def test_a_file_s_word_is_read_as_the_kind_and_no_other_word_is(kinds: type) -> None:
    table, name = READ_BY[kinds]
    (read,) = (key.read for key in table if key.name == name)
    for member in kinds:
        assert read(member.value, KeyPlace((name,), [])) is member
    troubles: list = []
    assert read("no such kind", KeyPlace((name,), troubles)) is None
    assert "one of" in troubles[0].allowed


def test_what_a_file_has_is_a_member_everywhere() -> None:
    layout = parse(EVERY_KEY, "every").base
    assert all(type(part.kind) is FittingKind for part in layout.fittings.values())
    assert all(type(part.kind) is IntakeKind for part in layout.intakes.values())
    assert all(type(run.bend) is Bend for run in layout.runs.values())
    assert all(type(pump.limit.form) is LimitForm for pump in layout.pumps.values())
    assert all(type(pump.limit.over) is Kind for pump in layout.pumps.values())
    assert {type(part.state) for part in layout.fittings.values()} <= {ValveState, type(None)}
    assert type(layout.units) is System


def test_valves_checks_and_reducers_are_three_groups() -> None:
    groups = (*VALVE_KINDS, *CHECK_KINDS, *REDUCER_KINDS)
    assert len(set(groups)) == len(groups)
