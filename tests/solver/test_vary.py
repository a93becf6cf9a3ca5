"""Variants in the terminal: forms, several files, refusals, and a stop that keeps what is done."""

import csv
import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from solver import vary
from solver.__main__ import main
from solver.answers.axes import read_axis
from tests.solver.checking import lifted

ROOT = Path(__file__).resolve().parents[2]
OVER = str(ROOT / "layouts" / "carriage-at-altitude.toml")
WITHIN = str(ROOT / "layouts" / "baler-flooded.toml")


def test_text_has_a_row_for_every_combination(capsys):
    assert main([WITHIN, "--vary", "temperature=20..60 degC/3", "--vary", "elevation=0 m..300 m/2"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("Baler")
    assert lines[1].startswith("Every case has the temperature and elevation of its row")
    assert len(lines) == 3 + 3 * 2


def test_csv_of_several_files_has_one_heading(capsys):
    assert main([WITHIN, OVER, "--csv", "--vary", "elevation=0 m..3000 m/4"]) == 1
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [row["file"] for row in rows] == [WITHIN] * 4 + [OVER] * 4
    assert [float(row["elevation_m"]) for row in rows[:4]] == [0.0, 1000.0, 2000.0, 3000.0]


def test_json_is_one_list(capsys):
    main([WITHIN, OVER, "--json", "--vary", "elevation=0 m..3000 m/2"])
    assert [row["pump"] for row in json.loads(capsys.readouterr().out)] == ["baler"] * 2 + ["carriage"] * 2


def test_a_drawing_without_the_figure_is_refused_and_the_others_come(capsys):
    assert main([OVER, WITHIN, "--json", "--vary", "level of sump=1 m..2 m/2"]) == 2
    out, err = capsys.readouterr()
    assert json.loads(out) == []
    assert [each["file"] for each in json.loads(err)["errors"]] == [OVER, WITHIN]
    assert "level of sump" in err


def test_a_range_that_is_none_is_said_at_once(capsys):
    with pytest.raises(SystemExit, match="2"):
        main([WITHIN, "--vary", "temp=3..4"])
    assert "'temp' cannot be varied; allowed:" in capsys.readouterr().err


def test_a_stop_leaves_what_is_done_whole():
    for form in ("csv", "json", "text"):
        written = []
        axes = [read_axis("elevation=0 m..3000 m/100000")]
        done = vary.write(
            [("a", lifted()), ("b", lifted())], vary.VaryRequest(axes, form), written.append, _no
        )
        assert 0 < done.count < 100_000
        text = "".join(written)
        rows = json.loads(text) if form == "json" else text.splitlines()
        assert len(rows) == done.count + {"csv": 1, "json": 0, "text": 2}[form]


def _no(count):
    return False


@pytest.mark.thorough
def test_ctrl_c_prints_what_is_done_and_says_so():
    command = [sys.executable, "-m", "solver", WITHIN, "--csv", "--vary", "elevation=0 m..3000 m/90000000"]
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=os.environ
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        first = process.stdout.readline()
        process.send_signal(signal.SIGINT)
        rows = list(csv.reader(io.StringIO(first + process.stdout.read())))
        err = process.stderr.read()
    assert process.returncode == 130
    assert {len(row) for row in rows} == {len(rows[0])}
    assert err == f"Stopped: {len(rows) - 1} of 90000000 variants were solved.\n"
