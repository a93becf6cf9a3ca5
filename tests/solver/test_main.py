"""The program in a terminal: exit status, streams, options."""

import csv
import io
import json
import os
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

from solver.__main__ import main
from solver.layout.file import from_raw, read, to_raw
from solver.layout.raw import lay_over
from solver.ledger.cases import solve_cases
from tests.thorough import one_in

ROOT = Path(__file__).resolve().parents[2]
OVER = str(ROOT / "layouts" / "carriage-at-altitude.toml")
WITHIN = str(ROOT / "layouts" / "baler-flooded.toml")
TWO_PUMPS = str(ROOT / "layouts" / "header-two-pumps.toml")
CURE = "Pump beside the tank"


def program(*arguments, **environ):
    return subprocess.run(
        [sys.executable, "-m", "solver", *map(str, arguments)],
        cwd=ROOT,
        env=os.environ | environ,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=60,
    )


@pytest.fixture
def wrong(tmp_path):
    """A drawing with three things wrong with its text."""
    text = Path(WITHIN).read_text(encoding="utf-8")
    text = text.replace('elevation = "', 'elevation = "nan m"\nheight = "', 1)
    path = tmp_path / "wrong.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def unsolvable(tmp_path):
    """A drawing in good form whose intake stands above the minimum level."""
    text = Path(OVER).read_text(encoding="utf-8")
    path = tmp_path / "unsolvable.toml"
    path.write_text(text.replace('at = ["1 ft", "1 ft 1 in"]', 'at = ["1 ft", "2 ft"]'), encoding="utf-8")
    return path


# In a process of its own


@pytest.mark.thorough
def test_over_is_one_in_a_terminal_that_knows_only_ascii():
    done = program(OVER, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (done.returncode, done.stderr) == (1, "")
    assert "carriage: Over by " in done.stdout


@pytest.mark.thorough
def test_a_reader_that_leaves_early_is_no_error():
    writing = subprocess.Popen(
        [sys.executable, "-m", "solver", WITHIN],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert writing.stdout is not None
    assert writing.stderr is not None
    writing.stdout.close()
    complaint = writing.stderr.read()
    writing.stderr.close()
    assert (writing.wait(timeout=60), complaint) == (0, b"")


@pytest.fixture(scope="module")
def loaded(tmp_path_factory):
    """The modules that a ledger in the terminal has loaded, on a machine without Qt and without a display."""
    fake = tmp_path_factory.mktemp("no-qt") / "PySide6"
    fake.mkdir()
    (fake / "__init__.py").write_text("raise ImportError('no Qt on this machine')\n")
    names = "sys.stderr.write(' '.join(sys.modules))"
    code = f"import sys, solver.__main__ as m; status = m.main([{WITHIN!r}]); {names}; sys.exit(status)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(fake.parent), "DISPLAY": "", "WAYLAND_DISPLAY": ""},
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert "baler: Within: " in done.stdout
    return set(done.stderr.split())


@pytest.mark.parametrize(
    "module",
    ["PySide6", "sketch", "pint", "pyqtgraph", "tomlkit", "scipy", "solver.fixes", "solver.answers.ask"],
)
def test_within_is_zero_and_nothing_slow_is_loaded_for_a_ledger(loaded, module):
    assert "solver.ledger.solve" in loaded
    assert module not in loaded


# The rest in this process


def said(capsys, *arguments):
    status = main(list(map(str, arguments)))
    out, err = capsys.readouterr()
    return status, out, err


def test_over_while_the_line_is_still_cold_is_one(capsys):
    """The first words of the answer are that it is over."""
    press = str(ROOT / "layouts" / "winter-press.toml")
    for name, status in (("Tank heater to 10 °C", 1), ("High-VI oil, ISO VG 32", 0)):
        output, out, _ = said(capsys, press, "--alternative", name)
        assert output == status
        assert ("press: Over by 5.81 inHg while the line is still at 14 °F" in out) is bool(status)


def test_over_at_the_cold_start_is_one(capsys, tmp_path):
    """Within when warm: the status is that of the coldest start as well."""
    text = Path(WITHIN).read_text(encoding="utf-8")
    path = tmp_path / "cold.toml"
    for start, status in (("-5 degC", 0), ("-12 degC", 1)):
        path.write_text(text.replace('coldest_start = "5 degC"', f'coldest_start = "{start}"'), "utf-8")
        output, out, _ = said(capsys, path)
        assert output == status, out
        assert ("baler: Over by " in out) is bool(status)


def test_the_cold_start_has_a_ledger_of_its_own(capsys):
    warm, cold = (json.loads(said(capsys, OVER, "--json", *more)[1]) for more in ((), ("--cold",)))
    assert cold["fluid"]["temperature_K"] == pytest.approx(298.15)
    assert warm["fluid"]["temperature_K"] == pytest.approx(318.15)
    assert cold["pumps"]["carriage"]["margin_Pa"] < warm["pumps"]["carriage"]["margin_Pa"]
    assert "t_F = 77 °F" in said(capsys, OVER, "--working", "--cold")[1]
    assert "t_F = 113 °F" in said(capsys, OVER, "--working")[1]


def test_a_page_is_in_the_encoding_that_it_names(monkeypatch):
    printed = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(printed, encoding="ascii"))
    assert main([OVER, "--html"]) == 1
    page = printed.getvalue().decode("utf-8")
    assert '<meta charset="utf-8">' in page
    assert "carriage: Over by 1.77 inHg in &quot;coldest start&quot;." in page
    assert "μ" in page


def test_refused_is_two_with_the_reason_on_standard_error(capsys, wrong):
    status, out, err = said(capsys, wrong)
    assert (status, out) == (2, "")
    assert f"{wrong}:" in err
    assert "site.elevation" in err
    assert "nan m" in err


def test_a_wrong_option_is_two_as_well(capsys):
    with pytest.raises(SystemExit) as stop:
        main([WITHIN, "--level", "highest"])
    assert stop.value.code == 2
    assert "minimum" in capsys.readouterr().err


def test_json_is_one_object(capsys):
    status, out, err = said(capsys, OVER, "--json")
    whole = json.loads(out)
    assert (status, err) == (1, "")
    keys = ["program", "format", "title", "alternative", "case", "worst", "headline", "level"]
    assert list(whole)[:8] == keys
    assert set(whole["alternatives"]) == {CURE, "Three-inch suction line"}
    assert whole["alternatives"][CURE]["pumps"]["carriage"]["margin_Pa"] > 0
    assert whole["worst"] == {"pump": "carriage", "case": "coldest start"}
    assert whole["pumps"]["carriage"]["margin_Pa"] < 0
    assert whole["alternative"] is None


@pytest.mark.thorough
def test_fixes_of_an_alternative_are_laid_over_the_file_itself(capsys):
    status, out, _ = said(
        capsys, OVER, "--json", "--fixes", "--alternative", "Three-inch suction line", "--units", "si"
    )
    assert status == 1
    drawing = read(Path(OVER))
    fixes = json.loads(out)["pumps"]["carriage"]["fixes"]
    for fix in fixes:
        changed = from_raw(lay_over(to_raw(drawing.base), fix["alternative"]))
        least = min(case.solution.pumps["carriage"].margin for case in solve_cases(changed).values())
        assert least == pytest.approx(fix["margin_Pa"], abs=0.5)
        assert "units" not in fix["alternative"]
    assert all("NPS 3 " in json.dumps(fix["alternative"]["runs"]) for fix in fixes if "warm" in fix["text"])


def test_fixes_of_one_pump_alone(capsys):
    _, out, _ = said(capsys, TWO_PUMPS, "--fixes", "--pump", "pilot")
    assert out.count("what to change, ranked by what it buys") == 1


@pytest.mark.parametrize("form", ["--csv", "--working", "--html"])
def test_fixes_are_refused_where_they_would_not_be_printed(capsys, form):
    with pytest.raises(SystemExit):
        main([OVER, "--fixes", form])
    said_of_both = f"argument --fixes: not with {form}; leave {form} out, or print --json or --brief instead"
    assert said_of_both in capsys.readouterr().err


@pytest.mark.thorough
def test_brief_fixes_are_a_line_for_each_change_under_the_line_of_the_drawing(capsys):
    _, out, _ = said(capsys, TWO_PUMPS, "--brief", "--fixes", "--pump", "pilot")
    first, *changes = out.splitlines()
    assert first == said(capsys, TWO_PUMPS, "--brief", "--pump", "pilot")[1].rstrip()
    _, text, _ = said(capsys, TWO_PUMPS, "--fixes", "--pump", "pilot", "--json")
    fixes = json.loads(text)["pumps"]["pilot"]["fixes"]
    assert 3 < len(changes) < len(fixes), "the ways to lay one line anew are one line, of the best"
    assert all(line.startswith("  pilot: ") and ": buys " in line for line in changes)


def test_a_page_says_what_stands_against_the_drawing_and_what_to_try(capsys):
    _, out, _ = said(capsys, OVER, "--html")
    assert "carriage: over by 1.77 inHg" in out
    assert "case with the least margin" in out
    assert "more than needed" in out


def test_several_files_as_json_are_a_list_with_their_files(capsys):
    status, out, _ = said(capsys, OVER, WITHIN, "--json")
    assert status == 1
    assert [one["file"] for one in json.loads(out)] == [OVER, WITHIN]


def test_refusals_are_json_too(capsys, wrong, unsolvable):
    status, out, err = said(capsys, wrong, unsolvable, WITHIN, "--json")
    assert status == 2
    assert [one["file"] for one in json.loads(out)] == [WITHIN]
    errors = json.loads(err)["errors"]
    placed = next(error for error in errors if error["file"] == str(wrong))
    assert list(placed) == ["file", "line", "column", "key", "found", "allowed"]
    assert placed["line"] > 1
    assert {"file": str(unsolvable), "part": "strainer"}.items() <= errors[-1].items()


def test_every_error_of_a_file_is_told(capsys, wrong):
    _, _, err = said(capsys, wrong, "--json")
    keys = {error["key"] for error in json.loads(err)["errors"]}
    assert {"site.elevation", "site.height"} <= keys


def test_what_cannot_be_solved_names_its_part(capsys, unsolvable):
    status, out, err = said(capsys, unsolvable)
    assert (status, out) == (2, "")
    assert err.startswith(f"{unsolvable}: strainer: ")


def test_one_refusal_does_not_keep_the_others_from_their_ledger(capsys, wrong):
    status, out, err = said(capsys, wrong, WITHIN)
    assert status == 2
    assert "baler: Within" in out
    assert err


@pytest.mark.parametrize("path", ["nowhere.toml", "."])
def test_what_cannot_be_read_is_refused(capsys, path):
    status, _, err = said(capsys, path)
    assert status == 2
    assert err.startswith(f"{path}: ")


def test_csv_has_a_heading_and_a_line_an_entry(capsys):
    _, out, _ = said(capsys, TWO_PUMPS, WITHIN, "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert {(row["file"], row["pump"]) for row in rows} == {
        (TWO_PUMPS, "main"), (TWO_PUMPS, "pilot"), (WITHIN, "baler"),
    }  # fmt: skip
    assert rows[0]["element"] == "flooded head"
    assert rows[0]["pressure_Pa"] == "", "nobody can read one there"
    assert float(rows[1]["pressure_Pa"]) > 0


def test_units_replace_the_drawing_s_own(capsys):
    _, us, _ = said(capsys, OVER)
    _, si, _ = said(capsys, OVER, "--units", "si")
    assert "inHg" in us.splitlines()[2]
    assert "kPa" in si.splitlines()[2]
    assert "inHg" not in si.replace("7 inHg", "")


def test_the_level_is_chosen(capsys):
    _, low, _ = said(capsys, OVER, "--json")
    _, high, _ = said(capsys, OVER, "--json", "--level", "normal")
    assert json.loads(high)["level"] == "normal"
    margins = [json.loads(text)["pumps"]["carriage"]["margin_Pa"] for text in (low, high)]
    assert margins[0] < margins[1]


@pytest.mark.thorough
def test_the_level_after_a_draw_down_is_chosen(capsys, tmp_path):
    path = tmp_path / "drawn.toml"
    text = Path(OVER).read_text(encoding="utf-8")
    path.write_text(text.replace("depth =", 'draw_down = "20 L"\ndepth =', 1), encoding="utf-8")
    _, drawn, _ = said(capsys, str(path), "--json", "--level", "drawn down")
    _, normal, _ = said(capsys, str(path), "--json", "--level", "normal")
    assert json.loads(drawn)["level"] == "drawn down"
    margins = [json.loads(text)["pumps"]["carriage"]["margin_Pa"] for text in (drawn, normal)]
    assert margins[0] < margins[1]
    _, text, _ = said(capsys, str(path), "--level", "drawn down", "--units", "si")
    assert "20.0 L drawn out" in text


def test_an_alternative_is_chosen(capsys):
    status, out, _ = said(capsys, OVER, "--alternative", CURE, "--json")
    assert status == 0
    assert json.loads(out)["alternative"] == CURE


@pytest.mark.parametrize(("units", "range_of_data"), [("si", "−20 °C to 100 °C"), ("us", "−4 °F to 212 °F")])
def test_a_refusal_follows_the_units_that_are_asked_for(capsys, tmp_path, units, range_of_data):
    hot = tmp_path / "hot.toml"
    text = Path(OVER).read_text(encoding="utf-8")
    text = text.replace('temperature = "45 degC"', 'temperature = "120 degC"', 1)
    hot.write_text(text.replace("coldest_start", "# coldest_start", 1), encoding="utf-8")
    status, _, err = said(capsys, hot, "--units", units)
    assert status == 2
    assert err.endswith(f"its figures hold from {range_of_data}\n")


def test_an_unknown_alternative_is_refused_with_those_there_are(capsys):
    status, _, err = said(capsys, OVER, "--alternative", "Longer")
    assert status == 2
    assert CURE in err


def test_one_pump_is_chosen_and_alone_decides(capsys):
    status, out, _ = said(capsys, TWO_PUMPS, "--pump", "pilot", "--json")
    assert status == 0
    assert list(json.loads(out)["pumps"]) == ["pilot"]
    _, text, _ = said(capsys, TWO_PUMPS, "--pump", "pilot")
    assert "Not shown here: main is over by " in text


def test_an_unknown_pump_is_refused_with_those_there_are(capsys):
    status, _, err = said(capsys, TWO_PUMPS, "--pump", "third")
    assert status == 2
    assert '"main", "pilot"' in err


def test_the_reach_is_told_under_its_old_name_too(capsys):
    assert said(capsys, WITHIN, "--limits") == said(capsys, WITHIN, "--reach")
    with pytest.raises(SystemExit):
        main(["--help"])
    assert "--limits" not in capsys.readouterr().out


def test_reach_is_answered_when_asked(capsys):
    _, plain, _ = said(capsys, WITHIN)
    _, asked, _ = said(capsys, WITHIN, "--reach")
    assert "Highest port: " not in plain
    assert "Highest port: " in asked


def test_help_names_the_exit_status(capsys):
    with pytest.raises(SystemExit) as stop:
        main(["--help"])
    assert stop.value.code == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Exit status: 0 every pump within its budget in every case; 1 some pump over it" in told
    assert "also while its line is not as warm as its tank, with its screens as blocked as they were " in told
    assert "read, or a newest reading past" in told
    assert "3 some case not judged and no pump over; 2 a drawing was refused; 70 the" in told


# A fault of the program, and figures at the ends of their ranges

BROKE = ROOT / "tests" / "hostile" / "broke"


def test_a_fault_of_the_program_is_one_sentence_and_no_answer(monkeypatch, capsys):
    def fail(*_):
        raise ZeroDivisionError("division by \x1b zero")

    monkeypatch.setattr("solver.__main__.judge", fail)
    assert main([WITHIN]) == 70
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.count("\n") == 1
    assert "ZeroDivisionError (division by \\x1b zero)" in printed.err
    assert "report" in printed.err


@pytest.mark.thorough
@pytest.mark.parametrize("name", ["limits-refused-2", "limits-refused-and-stale"])
def test_a_limit_without_an_answer_leaves_the_report_and_its_status(name, capsys):
    path = str(BROKE / f"{name}.toml")
    status = main([path])
    without = capsys.readouterr().out
    assert main([path, "--reach"]) == status
    shown = capsys.readouterr()
    assert shown.err == ""
    assert without.splitlines()[0] == shown.out.splitlines()[0]
    assert "Smallest bore: no answer, the search was refused: " in shown.out
    assert "Highest port: " in shown.out


@pytest.mark.parametrize("form", ["--reach", "--working", "--json"])
@pytest.mark.parametrize("path", one_in(18, sorted(BROKE.glob("*.toml"))), ids=lambda path: path.stem)
def test_no_drawing_makes_the_program_fail(path, form, capsys):
    assert main([str(path), form]) in (0, 1, 2, 3)
    assert "failed" not in capsys.readouterr().err


# Cases

CASES = """
[cases."cold morning"]
fluid.temperature = "25 degC"
pumps.baler.flow_rise = "0.5 s"

[cases.full]
level = "normal"
"""
ARCTIC = '[cases.arctic]\nfluid.temperature = "-70 degC"\n'


def written(tmp_path, more, name="cases.toml", base=WITHIN):
    path = tmp_path / name
    path.write_text(Path(base).read_text("utf-8") + more, "utf-8")
    return str(path)


@pytest.mark.thorough
def test_a_case_is_shown_by_name_and_all_of_them_decide(capsys, tmp_path):
    path = written(tmp_path, CASES)
    status, out, _ = said(capsys, path, "--case", "full", "--json")
    whole = json.loads(out)
    assert (status, whole["case"], whole["level"]) == (0, "full", "normal")
    assert list(whole["cases"]) == ["as drawn", "coldest start", "cold morning", "full"]
    over = written(tmp_path, '[cases.thick]\nfluid.temperature = "-14 degC"\n', "over.toml")
    status, out, _ = said(capsys, over, "--case", "as drawn")
    assert status == 1
    assert 'in "thick"' in out.splitlines()[2]


def test_a_case_that_was_not_judged_is_three_and_stands_in_the_headline(capsys, tmp_path):
    path = written(tmp_path, ARCTIC)
    status, out, _ = said(capsys, path)
    assert status == 3
    assert 'not judged: "arctic"' in " ".join(out.split())
    assert "arctic: not judged, " in out
    for form in ((), ("--working",), ("--html",), ("--csv",), ("--json",)):
        assert said(capsys, path, "--case", "arctic", *form)[0] == 3


def test_a_typo_in_a_case_is_told_with_its_line(capsys, tmp_path):
    path = written(tmp_path, '[cases.odd]\nlevl = "normal"\n')
    line = 1 + Path(path).read_text("utf-8").split("\n").index('levl = "normal"')
    status, out, err = said(capsys, path)
    assert status == 3
    assert "odd: not judged" in out
    assert err.startswith(f"{path}:{line}:1: cases.odd.levl: found ")
    assert 'did you mean "level"' in err
    problem = json.loads(said(capsys, path, "--json")[2])["errors"][0]
    assert (problem["line"], problem["key"]) == (line, "cases.odd.levl")


def test_of_several_files_the_first_of_two_one_three_nought(capsys, tmp_path, wrong):
    three = written(tmp_path, ARCTIC)
    assert said(capsys, WITHIN, three)[0] == 3
    assert said(capsys, three, OVER, WITHIN)[0] == 1
    assert said(capsys, three, OVER, str(wrong))[0] == 2


def test_an_alternative_that_does_not_hold_changes_nothing_unless_asked_for(capsys, tmp_path):
    path = written(tmp_path, '[alternatives.odd]\nruns.suction.bend = "sharp"\nwithout = ["nobody"]\n')
    assert said(capsys, path)[0] == 0
    status, _, err = said(capsys, path, "--alternative", "odd")
    assert status == 2
    assert "alternatives.odd" in err
    assert f"{path}:" in err


def test_cold_says_so_where_there_is_no_coldest_start(capsys, tmp_path):
    path = tmp_path / "warm.toml"
    path.write_text(Path(WITHIN).read_text("utf-8").replace("coldest_start", "# coldest_start"), "utf-8")
    status, _, err = said(capsys, str(path), "--cold")
    assert status == 2
    assert "coldest start: there is no such case" in err


def test_every_row_of_csv_names_its_case(capsys, tmp_path):
    path = written(tmp_path, CASES)
    rows = said(capsys, path, "--csv")[1].splitlines()
    assert rows[0].startswith("file,alternative,case,level,pump,")
    assert {row.split(",")[2] for row in rows[1:]} == {"as drawn", "coldest start", "cold morning", "full"}
    rows = said(capsys, path, "--csv", "--case", "full")[1].splitlines()
    assert {row.split(",")[2] for row in rows[1:]} == {"full"}


def test_the_level_asked_for_is_not_that_of_a_case_which_names_one(capsys, tmp_path):
    path = written(tmp_path, '[cases.low]\nlevel = "minimum"\n')
    whole = json.loads(said(capsys, path, "--level", "normal", "--json")[1])
    assert (whole["level"], whole["cases"]["low"]["level"]) == ("normal", "minimum")


def test_what_a_program_reads_says_nothing_in_other_units(capsys):
    """The drawing is typed in feet and inHg: JSON and CSV are in SI, sentences too."""
    for form in (("--json", "--reach"), ("--csv",), ("--csv", "--reach")):
        out = said(capsys, OVER, *form)[1]
        assert "kPa" in out or " m," in out
        assert "inHg" not in out
    assert "inHg" in said(capsys, OVER, "--json", "--units", "us")[1]


@pytest.mark.thorough
def test_csv_with_reach_says_how_far_each_thing_may_go(capsys):
    rows = list(csv.DictReader(io.StringIO(said(capsys, WITHIN, TWO_PUMPS, "--csv", "--reach")[1])))
    assert {(row["file"], row["pump"]) for row in rows} == {
        (WITHIN, "baler"), (TWO_PUMPS, "main"), (TWO_PUMPS, "pilot"),
    }  # fmt: skip
    assert {"highest port", "coldest start"} <= {row["question"] for row in rows}


def test_brief_is_one_line_a_file(capsys):
    status, out, _ = said(capsys, WITHIN, TWO_PUMPS, "--brief")
    first, second = out.splitlines()
    assert first.startswith(f"{WITHIN}: Within")
    assert second.startswith(f"{TWO_PUMPS}: main: over by ")
    assert status == 1
    assert said(capsys, TWO_PUMPS, "--brief", "--pump", "pilot")[1].startswith(
        f"{TWO_PUMPS}: pilot: Within, "
    )


def test_a_drawing_is_read_from_standard_input(capsys, monkeypatch):
    def typed(text):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
        return said(capsys, "-")

    assert typed(Path(WITHIN).read_text(encoding="utf-8")) == said(capsys, WITHIN)
    status, _, err = typed("site = 3")
    assert status == 2
    assert err.startswith("standard input")


def test_the_version_is_that_of_the_package(capsys):
    with pytest.raises(SystemExit) as done:
        main(["--version"])
    assert done.value.code == 0
    assert capsys.readouterr().out == f"Liftledger {version('liftledger')}\n"
