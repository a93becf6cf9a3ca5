"""How far a file is read that has much wrong with it."""

from __future__ import annotations

from solver.layout.file import parse
from tests.drawings import EVERY_KEY
from tests.solver.layout.refused import problems


def test_limits_say_their_numbers() -> None:
    parts = EVERY_KEY + "".join(f"[tees.t{n}]\n" for n in range(20_001))
    assert any("20000" in problem.allowed and problem.found.endswith(" parts") for problem in problems(parts))
    bends = EVERY_KEY.replace('["1.2 m", "0.8 m"],', '["1.2 m", "0.8 m"],' * 1000)
    (problem,) = problems(bends)
    assert (problem.key, problem.found) == ("runs.riser.via", "1001 bends")
    parse(EVERY_KEY.replace('["1.2 m", "0.8 m"],', '["1.2 m", "0.8 m"],' * 999))
    (problem,) = problems(EVERY_KEY.replace("Two lines,", "x" * 65536))
    assert problem.key == "notes"
    assert "65536" in problem.allowed
    parse(EVERY_KEY.replace("Two lines,\nthe second one.", "x" * 65536))


def test_a_thousand_problems_end_the_reading() -> None:
    told = problems("format = 1\n" + "".join(f"k{n} = {n}\n" for n in range(3000)))
    assert len(told) == 1001
    assert any("stopped there" in problem.found for problem in told)
