"""Readings in the terminal: stop first, then what was read, what explains it, and what to do next."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from solver.__main__ import NOT_JUDGED, OVER, WITHIN, main
from solver.field import cleaning
from solver.field.compared import compare
from solver.findings.judgement import Judgement, judge
from solver.layout import file
from solver.quantities.units import System
from solver.report import readings
from tests.drawings import RISER, SHIPPED

HEAD = RISER.replace("format = 1", "format = 2").partition("[alternatives")[0]
STATE = """gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0, zero = "0 kPa" }
measured_at = "line"
state = { level = "minimum", fluid.temperature = "45 degC", pumps.carriage.speed = "1450 rpm" }
"""


def written(*rows: str) -> str:
    return HEAD + "".join(
        f'\n[[readings]]\nwhen = "2026-03-04"\npump = "carriage"\n{each}\n' for each in rows
    )


TWO = written(f'vacuum = "26 kPa"\n{STATE}sound = "steady"', f'vacuum = "1 kPa"\nline = "old"\n{STATE}')


@pytest.fixture(scope="module")
def text() -> str:
    return readings.text(judge(file.parse(TWO).base))


def test_the_first_word_of_a_visit_is_stop(text: str) -> None:
    stop = "\ncarriage, readings of 2026-03-04\n  Stop the pump: a reading is past what is allowed here."
    assert stop in text


def test_every_reading_stands_in_it_also_one_of_another_line(text: str) -> None:
    assert "Stop the pump: read 26.0 kPa; the drawing expects" in " ".join(text.split())
    assert "Not compared: it was read on another line: old." in text


def test_causes_next_step_and_caution_follow(text: str) -> None:
    order = [
        "What was read",
        "What would explain",
        "Next: ",
        "Clean the strainer when the gauge",
        "Never feel for a leak",
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert "for: the port: read 26.0 kPa" in text


@pytest.fixture(scope="module")
def year() -> Judgement:
    (path,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
    return judge(file.read(path).base)


@pytest.mark.thorough
def test_the_strainer_is_cleaned_before_the_share_that_the_trend_calls_due(year: Judgement) -> None:
    said = " ".join(readings.text(year).split())
    assert "31 % open is reached on 2026-01-11 at the earliest" in said
    assert (
        '69 % of strainer is then blocked, and feed in "cold morning" is over on a low-pressure day 8.8 kPa'
        in said
    )


def test_what_is_to_be_said_of_several_readings_alike_is_said_once() -> None:
    (path,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
    layout = file.parse(path.read_text(encoding="utf-8").replace(', tube = "empty"', "")).base
    compared = compare(layout, "")
    own, alike = readings.alike_once(compared, System.SI)
    assert alike == {
        "All of these": ["Its band is wider because what was in the gauge's tube was not noted."]
    }
    for each, lines in zip(compared, own, strict=True):
        assert lines == each.words(System.SI)[:-1]


def test_a_line_without_a_strainer_has_none_to_clean() -> None:
    (wall,) = (path for path in SHIPPED if path.stem == "over-the-bund-wall")
    row = '\n[[readings]]\nwhen = "2026-03-04"\npump = "transfer"\n'
    said = readings.text(judge(file.parse(wall.read_text(encoding="utf-8") + row).base))
    assert cleaning.NO_STRAINER in said
    assert "Clean the strainer" not in said


def test_lines_are_no_wider_than_the_page(text: str) -> None:
    assert max(map(len, text.splitlines())) <= readings.WIDTH


@pytest.mark.thorough
def test_json_holds_the_reading_to_clean_at_as_the_text_has_it(year: Judgement) -> None:
    clean_at = json.loads(json.dumps(readings.record(year)))["pumps"]["feed"]["clean_at"]
    assert (clean_at["screen"], clean_at["why_none"]) == ("strainer", "")
    drawn, cold = clean_at["at_port"]
    assert (drawn["cases"], cold["cases"]) == (["as drawn"], ["cold morning"])
    text = readings.text(year)
    assert drawn["clean_Pa"][0] < drawn["clean_at_Pa"]
    assert f"{drawn['clean_at_Pa'] / 1e3:.1f} kPa  {drawn['state']}" in text
    assert cold["clean_at_Pa"] is None
    assert cold["note"].startswith("no room between cleaning and stop")
    assert cold["note"] in " ".join(text.split())
    (wall,) = (path for path in SHIPPED if path.stem == "over-the-bund-wall")
    row = '\n[[readings]]\nwhen = "2026-03-04"\npump = "transfer"\n'
    record = readings.record(judge(file.parse(wall.read_text(encoding="utf-8") + row).base))
    assert record["pumps"]["transfer"]["clean_at"] is None


def test_json_holds_the_same_in_si() -> None:
    record = json.loads(json.dumps(readings.record(judge(file.parse(TWO).base))))
    first, second = record["readings"]
    assert first["vacuum"][0]["read_low_Pa"] == 26e3
    assert first["stop"] is True
    assert second["why_not"] == "it was read on another line: old"
    pump = record["pumps"]["carriage"]
    assert (pump["visit"], pump["explained"]) == ("2026-03-04", [0])
    assert pump["visits"] == [{"name": "2026-03-04", "readings": [0]}]
    assert sum(cause["share"] for cause in pump["causes"]) == pytest.approx(1.0, abs=0.05)
    assert pump["headline"].startswith("Stop the pump")


def test_a_drawing_without_readings_says_how_to_write_one() -> None:
    said = readings.text(judge(file.parse(HEAD).base))
    block = said[said.index("  [[readings]]") :]
    problems = file.reading_problems(file.parse(HEAD + block))
    assert [each.found for each in problems if "? kPa" in each.found]
    (read,) = file.parse(HEAD + block.replace('"?', '"4')).base.readings
    assert (read.pump, read.vacuum[0].si) == ("carriage", 4e3)


def test_readings_that_cannot_be_explained_say_why() -> None:
    layout = file.parse(written('vacuum = "9 kPa"\nrun = "gone"\ndistance = "1 m"')).base
    text = " ".join(readings.text(judge(layout)).split())
    assert "not explained, none of the readings of the latest visit (" in text
    assert "can be compared: it has no place: there is no run gone" in text
    assert readings.record(judge(layout))["pumps"]["carriage"]["not_explained"].endswith(
        "there is no run gone"
    )


def test_the_command_line_prints_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "read.toml"
    path.write_text(TWO, encoding="utf-8")
    main([str(path), "--readings"])
    assert "What would explain the readings of 2026-03-04" in capsys.readouterr().out
    main([str(path), "--readings", "--json"])
    assert json.loads(capsys.readouterr().out)["readings"]["readings"][0]["pump"] == "carriage"
    with pytest.raises(SystemExit):
        main([str(path), "--readings", "--csv"])
    assert "--readings: not with --csv" in capsys.readouterr().err


@pytest.mark.thorough
def test_a_newest_reading_to_stop_at_is_an_exit_status(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "read.toml"
    rows = {OVER: 'vacuum = "26 kPa"', WITHIN: 'vacuum = "9 kPa"'}
    for status, row in rows.items():
        path.write_text(written(row), encoding="utf-8")
        assert main([str(path), "--brief"]) == status
        assert main([str(path), "--readings"]) == status
        capsys.readouterr()
        main([str(path), "--html"])
        page = capsys.readouterr().out
        assert ("<p>Stop the pump: 26.0 kPa read at" in page) is (status == OVER)
        assert status == WITHIN or page.index("Stop the pump") < page.index("carriage: ")
    path.write_text(
        written('vacuum = "9 kPa"').replace('"carriage"\nvac', '"cariage"\nvac'), encoding="utf-8"
    )
    assert main([str(path), "--readings"]) == NOT_JUDGED
    assert main([str(path)]) == WITHIN
    line = path.read_text(encoding="utf-8").split("\n").index('pump = "cariage"') + 1
    assert f'{path}:{line}:1: readings[0].pump: found "cariage"' in capsys.readouterr().err
