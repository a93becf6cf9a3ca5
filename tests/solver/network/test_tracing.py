"""The way of the fluid through a drawing, and what bars it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.kinds import Bend
from solver.network import tracing
from tests.drawings import drawing, fitting, intake, pump, run, tee


def loose(*parts: object) -> list[tuple[str, str]]:
    layout = drawing(*parts)  # type: ignore[arg-type]
    return list(tracing.loose(layout, tracing.RunGraph(layout)))


def test_a_whole_line_has_no_loose_end() -> None:
    assert loose(run("riser", "strainer", "pump")) == []


@pytest.mark.parametrize(
    ("parts", "name", "text"),
    [
        ((), "strainer", "no line is joined to it"),
        ((run("ring", "pump", "pump"),), "ring", "starts and ends on pump"),
        (
            (fitting("valve", (0.9, 1.0)), run("riser", "strainer", "valve")),
            "riser",
            "ends in the air at valve",
        ),
        (
            (
                fitting("valve", (0.9, 1.0)),
                pump(),
                pump("other", (2.0, 1.0)),
                run("riser", "strainer", "valve"),
                run("one", "valve", "pump"),
                run("two", "valve", "other"),
            ),
            "valve",
            "joins 3 lines; a ball valve sits between two",
        ),
        (
            (tee("split", (0.9, 1.0)), run("riser", "strainer", "split"), run("lead", "split", "pump")),
            "split",
            "joins 2 lines, riser and lead; a tee joins three: join a third to it, or take it out, and let "
            "the two be one line",
        ),
        (
            (
                tee("split", (0.9, 1.0)),
                replace(run("riser", "strainer", "split"), material="rubber hose", bend=Bend.MITRE),
                run("lead", "split", "pump"),
            ),
            "split",
            "joins 2 lines, riser and lead; a tee joins three: join a third to it, or take it out. The two "
            "differ in material and bends: make them alike and one line, or put in what joins them",
        ),
        (
            (tee("split", (0.9, 1.0)), *(run(f"run {at}", "strainer", "split") for at in range(4))),
            "split",
            "joins 4 lines; a tee joins three",
        ),
        (
            (
                intake(),
                pump(),
                pump("other", (2.0, 1.0)),
                run("one", "strainer", "pump"),
                run("two", "strainer", "other"),
            ),
            "strainer",
            "feeds 2 lines; join them at a tee",
        ),
    ],
    ids=["no line", "on itself", "in the air", "fitting", "tee", "unlike lines", "four lines", "intake"],
)
def test_a_loose_end_is_named_with_its_part(parts: tuple[object, ...], name: str, text: str) -> None:
    assert any(part == name and why.startswith(text) for part, why in loose(*parts))


def test_a_run_to_what_is_not_there_is_named() -> None:
    layout = drawing(run("riser", "strainer", "pump"))
    broken = replace(layout, runs={"riser": replace(layout.runs["riser"], end="pmup")})
    assert list(tracing.unknown_ends(broken)) == [("riser", "ends on pmup, which is not there")]
