"""Changes of what lies in a tank: each makes a drawing that holds and is found fault with no longer."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from solver.findings.judgement import judge
from solver.findings.kinds import FindingId
from solver.fixes import tanks
from solver.fixes.candidate import Candidate
from solver.fixes.remedies import with_remedies
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import System
from tests.drawings import RISER

LEVEL = 'minimum_level = "0.40 m"'
ONE_SIDE = 'return_at = ["1.0 m", "0.3 m"]\nbaffle = { x = "0.3 m", top = "0.3 m" }'


def with_tank(keys: str) -> Layout:
    """The riser, its level at 0.40 m, and more in its tank; the intake at x = 0.6 m."""
    return file.parse(RISER.replace(LEVEL, f"{LEVEL}\n{keys}")).base


def inside(height: str) -> Layout:
    return file.parse(RISER.replace('"1.00 m"]', f'"{height}"]')).base


def level_line() -> Layout:
    """A pump beside its tank whose pipe goes through the wall to a plain end without a nozzle."""
    text = RISER.replace('["0.6 m", "1.00 m"]', '["1.6 m", "0.12 m"]').replace(
        '"strainer"\nsize', '"plain end"\nsize'
    )
    screen = text[text.index("screen =") : text.index("\n", text.index("screen ="))]
    return file.parse(text.replace(screen, "")).base


def advice(layout: Layout, which: FindingId) -> str:
    return next(each.advice for each in with_remedies(judge(layout)).findings if each.finding is which)


def edited(layout: Layout, candidates: Iterator[Candidate]) -> tuple[str, set[FindingId]]:
    """The order of the only candidate at its most, and what is left then."""
    (candidate,) = candidates
    size = candidate.sizes[0] if candidate.sizes else candidate.most
    after = candidate.edit(layout, size)
    assert file.check(after) == ()
    return candidate.describe(size, System.SI), {each.finding for each in judge(after).findings}


def test_a_baffle_that_shuts_comes_down_or_is_opened_at_its_foot() -> None:
    shut = with_tank('return_at = ["0.1 m", "0.3 m"]\nbaffle = { x = "0.3 m", top = "0.5 m" }')
    assert advice(shut, FindingId.BAFFLE_SHUTS) == (
        "Lower the baffle of tank to 0.390 m: then 0.390 m, under 0.399 m. "
        "Leave 0.040 m under the baffle of tank: then the finding is gone."
    )
    for candidates in (tanks.baffle_lower(shut, "tank"), tanks.baffle_gap(shut, "tank")):
        assert FindingId.BAFFLE_SHUTS not in edited(shut, candidates)[1]
    assert not list(tanks.baffle_lower(with_tank(""), "tank"))
    assert not list(tanks.baffle_gap(with_tank(""), "tank"))


def test_a_return_in_the_air_is_led_under_the_level_and_off_the_floor() -> None:
    dry = with_tank('return_at = ["1.0 m", "0.50 m"]')
    assert advice(dry, FindingId.RETURN_ABOVE_FLUID) == (
        "Lead the return of tank down to 0.390 m: then 0.390 m, under 0.399 m."
    )
    order, left = edited(dry, tanks.return_lower(dry, "tank"))
    assert order == "lead the return of tank down to 0.100 m"
    assert FindingId.RETURN_ABOVE_FLUID not in left


def test_a_return_near_its_intake_gets_a_baffle_between_or_goes_behind_the_one_there_is() -> None:
    bare = with_tank('return_at = ["1.0 m", "0.3 m"]')
    order, left = edited(bare, tanks.return_apart(bare, "strainer"))
    assert order == "stand a baffle in tank at x = 0.800 m, 0.270 m high, between intake and return"
    assert not left & {FindingId.RETURN_BESIDE_INTAKE, FindingId.BAFFLE_SHUTS}
    near = with_tank(ONE_SIDE)
    order, left = edited(near, tanks.return_apart(near, "strainer"))
    assert order == "lead the return into tank at x = 0.120 m, behind its baffle, 0.480 m from strainer"
    assert FindingId.RETURN_BESIDE_INTAKE not in left
    assert advice(near, FindingId.RETURN_BESIDE_INTAKE).startswith(order.replace("lead", "Lead", 1))
    assert not list(tanks.return_apart(with_tank(""), "strainer"))


@pytest.mark.parametrize("height", ["0.50 m", "0.30 m"])
def test_a_pump_in_its_tank_goes_on_the_lid_or_beside_it_whether_it_is_flooded_or_not(height: str) -> None:
    layout = inside(height)
    order, left = edited(layout, tanks.on_the_lid(layout, "carriage"))
    assert order == "stand carriage on the lid, its port at 0.800 m"
    assert FindingId.PORT_INSIDE not in left
    words = advice(layout, FindingId.PORT_INSIDE)
    assert "Put carriage beside tank, flooded through its wall: then the finding is gone; buys " in words
    assert "Stand carriage on the lid, its port at 0.800 m: then the finding is gone; takes " in words
    assert not list(tanks.on_the_lid(with_tank(""), "carriage"))


def test_a_pipe_through_a_wall_begins_at_a_nozzle_there() -> None:
    layout = level_line()
    order, left = edited(layout, tanks.nozzle_in_wall(layout, "riser"))
    assert order == "begin riser at a nozzle in the wall of tank at 0.120 m"
    assert FindingId.LINE_THROUGH_WALL not in left
    assert advice(layout, FindingId.LINE_THROUGH_WALL).startswith("Begin riser at a nozzle")
    screened = file.parse(RISER.replace('["0.6 m", "1.00 m"]', '["1.6 m", "0.12 m"]')).base
    assert not list(tanks.nozzle_in_wall(screened, "riser")), "its screen would be lost"


def test_an_intake_at_the_level_goes_under_it_or_the_level_over_it() -> None:
    layout = file.parse(RISER.replace('["0.6 m", "0.12 m"]', '["0.6 m", "0.40 m"]')).base
    assert advice(layout, FindingId.INTAKE_UNCOVERED) == (
        "Keep the minimum level of tank at 0.410 m: then 0.400 m, under 0.409 m. "
        "Lower strainer to 0.390 m: then 0.390 m, under 0.399 m."
    )
