"""What the README and the reference of the drawing file show is what the program does."""

from __future__ import annotations

import copy
import dataclasses
import re
import shlex
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from solver.__main__ import main
from solver.field.compared import compare
from solver.field.diagnosis import diagnose
from solver.findings import criteria
from solver.layout import file, keys, kinds, readings, remark_keys, tables, title_keys
from solver.layout.raw import format_of
from solver.layout.reading import Key
from solver.ledger import solve
from solver.properties import families, sizes

TREE = Path(__file__).resolve().parent.parent
README = (TREE / "README.md").read_text(encoding="utf-8")
REFERENCE = (TREE / "layouts" / "README.md").read_text(encoding="utf-8")


def blocks(language: str, page: str = README) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)


def test_the_terminal_sample_is_the_program_s_own_output(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Chunks between lines of "..." must come out as shown and in that order."""
    (sample,) = (block for block in blocks("text") if block.startswith("$ "))
    command, _, shown = sample.partition("\n")
    monkeypatch.chdir(TREE)
    main(shlex.split(command.partition("-m solver")[2]))
    printed = capsys.readouterr().out
    place = 0
    for chunk in shown.split("...\n"):
        at = printed.find(chunk, place)
        assert at >= 0, f"not printed:\n{chunk}"
        place = at + len(chunk)


def test_the_python_sample_runs(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    (sample,) = blocks("python")
    monkeypatch.chdir(TREE)
    names: dict[str, object] = {}
    exec(compile(sample, "README.md", "exec"), names)
    printed = capsys.readouterr().out
    assert "Over by 0.86 inHg" in printed
    assert "riser straight 1" in printed
    assert len(names["columns"]["carriage: margin [Pa]"]) == 4  # type: ignore[index]


def test_every_option_of_the_terminal_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    options = set(re.findall(r"--[a-z]+", capsys.readouterr().out)) - {"--help"}
    assert options <= {word.split()[0] for word in _words(README) if word.strip()}


def test_the_exit_status_of_a_drawing_over_as_read_is_that_of_one_that_is_over() -> None:
    (row,) = (line for line in README.splitlines() if line.startswith("| 1 |"))
    assert "as blocked as they were read" in row


def test_the_sample_drawing_can_be_solved() -> None:
    (sample,) = blocks("toml", REFERENCE)
    drawing = file.parse(sample, "README")
    for drawn in (drawing.base, *(alternative.layout for alternative in drawing.alternatives.values())):
        assert solve.solve(drawn).pumps


def test_the_sample_reading_can_be_compared() -> None:
    (sample,) = blocks("toml", REFERENCE)
    (reading,) = (block for block in blocks("text", REFERENCE) if "[[readings]]" in block)
    (head, alternative) = sample.split("\n[alternatives", 1)
    typed = head.replace("format = 1", "format = 2")
    layout = file.parse(f"{typed}\n{reading}\n[alternatives{alternative}", "README").base
    (compared,) = compare(layout)
    assert len(compared.compared) == 2, "with the pump running, and at rest"
    assert diagnose(layout, "carriage").headline


def test_the_two_commands_do_their_own_setting_up() -> None:
    window, tests = (line for line in README.splitlines() if line.startswith("python3 -m venv"))
    for command in (window, tests):
        assert "&& .venv/bin/pip install -q -c .ci/constraints.txt -e " in command
    (drawing,) = re.findall(r"-m sketch (\S+)", window)
    assert (TREE / drawing).is_file()
    assert tests.endswith("-m pytest")


def test_every_drawing_is_listed() -> None:
    listed = set(re.findall(r"^\| `([\w-]+\.toml)`", REFERENCE, re.MULTILINE))
    assert listed == {path.name for path in (TREE / "layouts").glob("*.toml")}


def test_links_and_pictures_are_there() -> None:
    for folder, page in ((TREE, README), (TREE / "layouts", REFERENCE)):
        for target in re.findall(r"\]\(([^)#]+)\)", page):
            assert (folder / target).exists(), target


def _words(page: str = REFERENCE) -> set[str]:
    """Everything that a page sets as code in its prose, where lines may break."""
    prose = re.sub(r"^```.*?^```$", "", page, flags=re.MULTILINE | re.DOTALL)
    return set(re.findall(r"`([^`]+)`", " ".join(prose.split())))


@pytest.mark.parametrize(
    "group", ["SITE", "FLUID", "RESERVOIR", "INTAKE", "FITTING", "TEE", "PUMP", "RUN", "TOP"]
)
def test_every_key_of_a_drawing_is_named(group: str) -> None:
    assert {key.name for key in getattr(keys, group)} <= _words()


def _required(table: str) -> set[str]:
    """The keys that the list of what may not be left out has for a table."""
    _, _, listed = REFERENCE.partition("| table | required |")
    row = re.search(rf"^\| {re.escape(table)} \| (.*) \|$", listed, re.MULTILINE)
    assert row is not None, table
    return set(re.findall(r"`([^`]+)`", row[1]))


@pytest.mark.parametrize(
    ("table", "known"),
    [
        ("`[fluid]`", keys.FLUID),
        ("`[reservoirs.…]`", (*keys.RESERVOIR, *tables.BAFFLE)),
        ("`[intakes.…]`", keys.INTAKE),
        ("`[fittings.…]`", (*keys.FITTING, *tables.CURVE)),
        ("`[tees.…]`", keys.TEE),
        ("`[pumps.…]`", keys.PUMP),
        ("`[runs.…]`", keys.RUN),
        ("`[[texts]]`", remark_keys.OWN_TEXT),
        ("`[[dimensions]]`", remark_keys.OWN_DIMENSION),
        ("`[[readings]]`", readings.READING),
    ],
)
def test_every_required_key_is_listed_as_such(table: str, known: tuple[Key, ...]) -> None:
    assert {key.name for key in known if key.required} <= _required(table)
    assert _required(table) <= {key.name for key in known} | {"baffle"}


def test_a_drawing_of_the_required_keys_alone_is_read_and_of_none_of_them_less() -> None:
    least = """format = 1
site.elevation = "0 m"
fluid = { name = "Water", temperature = "20 degC" }
reservoirs.tank = { outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "1 m"]], depth = "1 m", \
normal_level = "0.6 m", minimum_level = "0.5 m" }
intakes.end = { reservoir = "tank", at = ["0.8 m", "0.2 m"], kind = "plain end", bore = "50 mm" }
pumps.one = { at = ["2 m", "0.2 m"], bore = "50 mm", type = "gear", limit = { vacuum = "20 kPa" }, \
flow = "1 L/s" }
runs.line = { from = "end", to = "one", bore = "50 mm" }
""".replace("\\\n", "")
    assert solve.solve(file.parse(least, "least").base).pumps
    typed = tomllib.loads(least)
    for way in ("format", "site elevation", "fluid name", "reservoirs tank depth", "pumps one limit",
                "pumps one bore", "runs line bore", "intakes end kind"):  # fmt: skip
        lacking = copy.deepcopy(typed)
        *path, last = way.split()
        table: dict[str, Any] = lacking
        for step in path:
            table = table[step]
        del table[last]
        with pytest.raises(file.LayoutErrors):
            file.parse(tomlkit.dumps(lacking), "lacking")


@pytest.mark.parametrize("group", ["READING", "GAUGE"])
def test_every_key_of_a_reading_is_named(group: str) -> None:
    assert {key.name for key in getattr(readings, group)} <= _words()


def test_every_key_of_the_title_block_is_named() -> None:
    assert {key.name for key in title_keys.SHEET} <= _words()


def test_every_key_of_texts_and_dimensions_is_named() -> None:
    assert {key.name for key in (*remark_keys.OWN_TEXT, *remark_keys.OWN_DIMENSION)} <= _words()


@pytest.mark.parametrize("group", ["SCREEN", "CURVE", "OPENING", "BAFFLE", "LIMIT"])
def test_every_key_of_an_inner_table_is_named(group: str) -> None:
    assert {key.name for key in getattr(tables, group)} <= _words()


@pytest.mark.parametrize(
    "known",
    [
        pytest.param(tuple(kinds.IntakeKind), id="intakes"),
        pytest.param(tuple(kinds.FittingKind), id="fittings"),
        pytest.param(tuple(kinds.PumpType), id="pumps"),
        pytest.param(tuple(kinds.Bend), id="bends"),
        pytest.param(tuple(kinds.ValveState), id="states"),
        pytest.param(tuple(sizes.ROUGHNESS), id="materials"),
        pytest.param(tuple(families.catalogue()), id="fluids"),
        pytest.param(tuple(field.name for field in dataclasses.fields(criteria.Criteria)), id="criteria"),
    ],
)
def test_every_choice_is_named(known: tuple[str, ...]) -> None:
    assert set(known) <= _words()


def test_sizes_are_named_as_they_are_typed() -> None:
    for name in ("NPS 2 schedule 40", "tube 42 x 3 mm", "tube 1.5 x 0.083 in", "hose -32"):
        assert name in _words()
        assert sizes.bore(name) > 0


@pytest.mark.parametrize("number", [1, 2])
def test_the_title_block_shown_is_read_in_either_format(number: int) -> None:
    """The window writes 2 once the drawing is edited."""
    (shown,) = (block for block in blocks("toml") if block.startswith("[sheet]"))
    (plain,) = blocks("toml", REFERENCE)
    text = re.sub("^format = 1", f"format = {number}", plain, flags=re.MULTILINE)
    drawing = file.parse(f"{text}\n{shown}", "shown")
    assert drawing.base.title_block.revisions[-1].name == drawing.base.title_block.revision == "B"
    assert format_of(drawing.base) == 2
