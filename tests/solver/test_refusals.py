"""What is refused, as lines for a reader and as data for a program."""

import json
from pathlib import Path

import pytest

from solver.layout.file import LayoutErrors, parse
from solver.refusals import complain, not_solvable, refuse_catalogue, typed_wrong, unknown
from tests.solver.layout.test_own_parts import WHOLE


def test_a_typing_mistake_stands_with_its_place() -> None:
    with pytest.raises(LayoutErrors) as refused:
        parse("format = 9\n", "line.toml")
    refusal = typed_wrong(refused.value.problems)
    assert refusal.lines[0].startswith("line.toml:1:1: format: found 9")
    assert {"file", "line", "column", "key", "found", "allowed"} == refusal.problems[0].keys()


def test_a_name_that_is_not_there_is_said_with_those_that_are() -> None:
    assert unknown("line.toml", "pump", "fed", ("feed",)).lines == (
        'line.toml: fed: there is no such pump; there are: "feed"',
    )


def test_it_is_said_on_standard_error_once(capsys: pytest.CaptureFixture[str]) -> None:
    refusal = not_solvable("line.toml", (("riser", "has no\x1b length"),))
    complain([], as_json=True)
    complain([refusal], as_json=False)
    assert capsys.readouterr() == ("", "line.toml: riser: has no\\x1b length\n")
    complain([refusal, refusal], as_json=True)
    assert len(json.loads(capsys.readouterr().err)["errors"]) == 2


def test_a_catalogue_in_the_place_of_a_drawing_is_held_to_what_a_catalogue_is(tmp_path: Path) -> None:
    path = tmp_path / "mine.parts.toml"
    path.write_text(WHOLE, encoding="utf-8")
    with pytest.raises(LayoutErrors, match="in which all 5 parts hold"):
        refuse_catalogue(str(path))
    path.write_text(WHOLE.replace("868 kg/m^3", "868 kg"), encoding="utf-8")
    with pytest.raises(LayoutErrors) as refused:
        refuse_catalogue(str(path))
    (problem,) = refused.value.problems
    assert (problem.line, problem.key) == (5, 'fluids."Supplier\'s oil".density')
    refuse_catalogue("line.toml")
