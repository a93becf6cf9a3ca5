"""What is asked for behind the ledger is printed there, each once and in one order."""

from __future__ import annotations

from typing import Any

import pytest

from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Level
from solver.report import appendices
from solver.report.appendices import AppendixInput
from tests.drawings import RISER


@pytest.fixture(scope="module")
def asked() -> AppendixInput:
    judgement = judge(file.parse(RISER).base)
    return AppendixInput(judgement, judgement.cases[AS_DRAWN].solution, "", None, Level.MINIMUM)


def test_nothing_is_printed_that_is_not_wanted(asked: AppendixInput) -> None:
    assert appendices.texts(asked, ()) == ""


def test_what_is_wanted_comes_in_one_order(asked: AppendixInput) -> None:
    text = appendices.texts(asked, ("readings", "priming"))
    assert text.index("before the first start") < text.index("No reading is written")


def test_of_a_case_that_was_not_judged_it_is_said_that_there_is_no_plan(asked: AppendixInput) -> None:
    none = AppendixInput(asked.judgement, None, "", None, Level.MINIMUM)
    assert "No plan for a first start: the case that is shown was not judged." in appendices.texts(
        none, ("priming",)
    )


def test_records_are_put_where_they_belong(asked: AppendixInput) -> None:
    one: dict[str, Any] = {"pumps": {"carriage": {}}}
    appendices.add_records(one, asked, ("priming", "readings"))
    assert one["readings"] == {"readings": [], "pumps": {}}
    assert one["pumps"]["carriage"]["priming"]["flooded"] is False
