"""What is asked for beside the machine stands in the place of the ledger, unless that is asked for too."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.layout.file import read
from tests.drawings import SHIPPED
from tests.solver.report.test_readings import TWO


@pytest.fixture
def path(tmp_path: Path) -> str:
    path = tmp_path / "read.toml"
    path.write_text(TWO, encoding="utf-8")
    return str(path)


def test_readings_stand_in_the_place_of_the_ledger(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    main([path, "--readings", "--parts"])
    text = capsys.readouterr().out
    assert text.startswith("Stop the pump: ")
    assert text.index("carriage, as drawn: Within") < text.index("carriage, readings of 2026-03-04")
    assert text.index("Never feel for a leak") < text.index("vane pump, ")
    assert "inlet budget" not in text


def test_the_plan_for_a_first_start_stands_there_too(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    main([path, "--priming", "--level", "normal"])
    text = capsys.readouterr().out
    assert text.startswith("Stop the pump: ")
    assert "\nRiser\n\ncarriage: before the first start" in text
    assert "inlet budget" not in text
    main([path, "--readings", "--priming"])
    text = capsys.readouterr().out
    assert text.count("\nRiser\n") == 1
    assert text.index("Never feel for a leak") < text.index("carriage: before the first start")


def test_the_ledger_follows_where_something_of_it_is_asked_for(
    path: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main([path, "--readings", "--case", "as drawn"])
    text = capsys.readouterr().out
    assert text.index("Never feel for a leak") < text.index("inlet budget")
    main([path])
    plain = capsys.readouterr().out
    assert "\ncarriage, as drawn: Within" in plain, (
        "beside a reading that says stop it is the drawing's alone"
    )
    assert "\ncarriage: Within" not in plain


def test_a_table_of_parts_is_of_every_alternative_unless_one_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = str(SHIPPED[0].parent / "winter-press.toml")
    named = list(read(Path(path)).alternatives)
    for asked, expected in (([], ["", *named]), (["--alternative", named[0]], named[:1])):
        main([path, "--parts", "--csv", *asked])
        rows = csv.DictReader(capsys.readouterr().out.splitlines())
        assert list(dict.fromkeys(row["alternative"] for row in rows)) == expected
