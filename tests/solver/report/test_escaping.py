"""What a drawing's own text may do to a terminal, a spreadsheet or a page: nothing."""

import csv
import io
import json
import unicodedata
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.report.escaping import cell
from tests.thorough import one_in

BROKE = Path(__file__).resolve().parents[2] / "hostile" / "broke"
SHIPPED = Path(__file__).resolve().parents[3] / "layouts" / "carriage-at-altitude.toml"
CONTROL = "\\u001b[2J\\u001b[31m \\u202e \\u200b \\u0085 \\u2028 \\u007f \\r \\b"
FORMS = ((), ("--reach",), ("--working",), ("--html",), ("--json",), ("--csv",))


def unseen(text):
    return [c for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp")]


@pytest.fixture
def hostile(tmp_path):
    """A drawing whose title, fluid and alternative are full of control characters."""
    text = SHIPPED.read_text("utf-8").replace('title = "', f'title = "{CONTROL}', 1)
    name = f'name = "Oil {CONTROL}"\ndensity = "870 kg/m^3"\nviscosity = "46 cSt"'
    text = text.replace('name = "Mineral oil, ISO VG 46"', name, 1)
    text = text.replace('coldest_start = "25 degC"', "")
    text = text.replace('[alternatives."Three-inch suction line"]', f'[alternatives."Wide {CONTROL}"]')
    path = tmp_path / "hostile.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("form", one_in(3, FORMS))
def test_no_control_character_of_a_drawing_is_printed(hostile, form, capsys):
    wide = f"Wide {json.loads(chr(34) + CONTROL + chr(34))}"
    assert main([str(hostile), "--alternative", wide, *form]) in (0, 1)
    printed = capsys.readouterr()
    assert "Wide" in printed.out
    assert not unseen(printed.out + printed.err)


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_what_was_found_is_quoted_without_its_control_characters(form, capsys):
    assert main([str(BROKE / "unknown-esc.toml"), *form]) == 2
    told = capsys.readouterr().err
    assert "\\x1b[2J" in told or "\\u001b[2J" in told
    assert not unseen(told)


@pytest.mark.thorough
def test_json_reads_back_the_very_text(hostile, capsys):
    main([str(hostile), "--json"])
    parsed = json.loads(capsys.readouterr().out)
    assert parsed["title"].startswith(json.loads(f'"{CONTROL}"'))


def test_a_name_that_does_not_exist_is_quoted_alike(capsys):
    assert main([str(SHIPPED), "--alternative", "\x1b[2J"]) == 2
    assert not unseen(capsys.readouterr().err)


def test_no_cell_of_text_is_a_formula_and_every_number_is_one(capsys):
    assert main([str(BROKE / "formula.toml"), "--csv"]) == 1
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert {row["pump"] for row in rows} == {"'=HYPERLINK(1)"}
    assert {"'-1+cmd|calc", "'@SUM(1+1)"} <= {row["part"] for row in rows}
    assert sum(float(row["share"]) for row in rows) > 1
    assert min(float(row["lift_Pa"]) for row in rows) == 0 < max(float(row["lift_Pa"]) for row in rows)


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@x", "\tx", "\rx", "\nx", "\uff1d1"])
def test_a_text_that_begins_like_a_formula_is_led_by_an_apostrophe(text):
    assert str(cell(text)).startswith("'")


def test_numbers_and_other_text_stay():
    assert (cell(-1.5), cell(None), cell("a=b"), cell("port")) == (-1.5, None, "a=b", "port")
