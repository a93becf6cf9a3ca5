"""A drawing refused: every problem with its file, line, column, key, what was found, what is allowed."""

# ruff: noqa: E501 - each row of the table of refusals is one line, to be read across

from __future__ import annotations

import os
import time
import tomllib
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet
from hypothesis import given
from hypothesis import strategies as st

from solver.layout import file
from solver.layout.file import LayoutErrors, parse, read
from tests.drawings import EVERY_KEY, SHIPPED
from tests.solver.layout.refused import problems
from tests.thorough import one_in

# What stands in the drawing, what is typed instead, the key that is refused, and words of found and allowed.
TYPED = [
    ('title = \'Two tanks and a header\'', "title = 5", "title", "5", "text in quotes"),
    ("format = 1", "format = 3", "format", "3 from a newer program", "format = 1, or 2 with cases, readings, texts, dimensions, [sheet] or [criteria]"),
    ("format = 1", "format = true", "format", "true", "format = 1, or 2 with cases, readings, texts, dimensions, [sheet] or [criteria]"),
    ('units = "SI"', 'units = "metric"', "units", '"metric"', '"US customary", "SI"'),
    ('units = "SI"', 'unit = "SI"', "unit", 'the unknown key "unit"', 'did you mean "units"?'),
    ("[tees.header]", "[teas.header]", "teas", 'unknown key "teas"', 'did you mean "tees"?'),
    ('barometer = "24.6 inHg"', 'barometer = "24.6 ft"', "site.barometer", "which is a length", "inHg"),
    ('pressure = "0.05 bar"', 'pressure = "1.05 bara"', "reservoirs.tank.pressure", "an absolute pressure", "over"),
    ('bypass = "0.2 bar"', 'bypass = "0,2 bar"', "intakes.strainer.screen.bypass", "with a comma", 'write "0.2 bar"'),
    ('barometer = "24.6 inHg"', 'barometer = "0 inHg"', "site.barometer", '"0 inHg"', "from 100 to"),
    ('barometer = "24.6 inHg"', 'elevation = "20 km"', "site.elevation", '"20 km"', "9000 m"),
    ('barometer = "24.6 inHg"', 'elevation = "9001 m"', "site.elevation", '"9001 m"', "give the barometer"),
    ('barometer = "24.6 inHg"', 'elevation = "-501 m"', "site.elevation", '"-501 m"', "from -500 m"),
    ('temperature = "45 degC"', 'temperature = "-300 degC"', "fluid.temperature", "below absolute zero", "0 K"),
    ('temperature = "45 degC"', "temperature = 45", "fluid.temperature", "45", "text in quotes"),
    ('["100 degC", "6.8 cSt"]', '["40 degC", "6.8 cSt"]', "fluid.viscosity[1][0]", 'after "40 degC"', "rising"),
    ('["100 degC", "6.8 cSt"]', '["100 degC", "68 cSt"]', "fluid.viscosity[1][1]", 'after "46 cSt"', "falling"),
    ('["100 degC", "6.8 cSt"]', '"6.8 cSt"', "fluid.viscosity[1]", '"6.8 cSt"', "a pair in brackets"),
    ('rated_density = "870 kg/m^3"', 'rated_density = "0.5 kg/m^3"', "pumps.carriage.rated_density", "0.5 kg",
     "of a liquid"),
    ("dissolved_air = 0.09", "dissolved_air = nan", "fluid.dissolved_air", "nan", "from 0 to below 1"),
    ("dissolved_air = 0.09", "dissolved_air = true", "fluid.dissolved_air", "true", "a share"),
    ("dissolved_air = 0.09", "viscosity_index = 95", "fluid.viscosity_index", "viscosity_index", "only with"),
    ('depth = "2\'"', 'depth = "0 m"', "reservoirs.tank.depth", '"0 m"', "above zero"),
    ('normal_level = "0.55 m"', 'normal_level = "0.8 m"', "reservoirs.tank.normal_level", "above the rim", '"0.7 m"'),
    ('minimum_level = "0.40 m"', 'minimum_level = "0 m"', "reservoirs.tank.minimum_level", "floor", '"0 m"'),
    ('minimum_level = "0.40 m"', 'minimum_level = "0.6 m"', "reservoirs.tank.minimum_level", "normal", "0.55 m"),
    ('["0 m", "0.7 m"]]', '["0.6 m", "-0.2 m"]]', "reservoirs.tank.outline", "crosses itself", "in order"),
    ('[["3 m", "0 m"], ["4 m", "0 m"], ["3.5 m", "1 m"]]', '[["3 m", "0 m"], ["4 m", "0 m"]]',
     'reservoirs."day tank".outline', "2 corners", "3 or more"),
    ('["3.5 m", "1 m"]]', '["3.5 m", "0 m"]]', 'reservoirs."day tank".outline', "encloses nothing", "an area"),
    ('["3.5 m", "1 m"]]', '["3.5 m"]]', 'reservoirs."day tank".outline[2]', "an array", "a point of two lengths"),
    ('at = ["0.9 m", "0.12 m"]', 'at = ["1.3 m", "0.12 m"]', "intakes.strainer.at", 'outline of "tank"', "inside"),
    ('at = ["0.9 m", "0.12 m"]', 'at = ["1e13 m", "0 m"]', "intakes.strainer.at[0]", "beyond", "100 km"),
    ('reservoir = "tank"', 'reservoir = "tnak"', "intakes.strainer.reservoir", '"tnak"', 'did you mean "tank"?'),
    ('kind = "strainer"', 'kind = "strainr"', "intakes.strainer.kind", '"strainr"', 'did you mean "strainer"?'),
    ('kind = "strainer"', 'kind = "bell-mouth"', "intakes.strainer.screen", '"screen"', 'only with kind = "strainer"'),
    ('wire = "0.0045 in"', 'wire = "0.01 in"', "intakes.strainer.screen.wire", "no opening", "thinner"),
    ('wire = "0.0045 in"\n', "", "intakes.strainer.screen.wire", "nothing", "usually has 0.0045 in, which leaves 0.14 mm"),
    ('area = "0.06 m^2"', "", "intakes.strainer.screen.area", "nothing", "required here"),
    ("blocked = 0\n", "blocked = 1.0\n", "intakes.strainer.screen.blocked", "1.0", "from 0 to below 1"),
    ("blocked = 0\n", "blocked = -0.1\n", "intakes.strainer.screen.blocked", "-0.1", "from 0 to below 1"),
    ("blocked = 0\n", 'blocked = "100 %"\n', "intakes.strainer.screen.blocked", '"100 %"', "from 0 to below 1"),
    ("bend-tester.k = 2", "bend-tester.k = -1", "fittings.bend-tester.k", "-1", "zero or above"),
    ("bend-tester.k = 2", "bend-tester.k = 1" + "0" * 400, "fittings.bend-tester.k", "very long number", "number"),
    ("bend-tester.k = 2", "", "fittings.bend-tester.k", "nothing", "which a known K needs"),
    ('kv = "30 m^3/h"', "k = 2", "fittings.device.k", 'the key "k"', 'only with kind = "known K"'),
    ('drop = "0.1 bar"', "", "fittings.cooler.flow", 'the key "flow"', "only with drop"),
    ('viscosity = "32 cSt", ', "", "fittings.filter.screen.viscosity", "nothing", "required here"),
    ('drops = [["118 L/min", "0.03 bar"]], ', "", "fittings.filter.screen", "nothing", '"mesh", "drops"'),
    ('bore = "52.5 mm"\ntype', 'bore = "0 mm"\ntype', "pumps.carriage.bore", '"0 mm"', "from 0.1 mm"),
    ('bore = "52.5 mm"\ntype', 'bore = "-5 mm"\ntype', "pumps.carriage.bore", '"-5 mm"', "from 0.1 mm"),
    ('bore = "52.5 mm"\ntype', 'size = "NPS 2 schedule 41"\ntype', "pumps.carriage.size", "41", "with schedule"),
    ('bore = "52.5 mm"\ntype', 'bore = "1 in"\nsize = "NPS 2 schedule 40"\ntype', "pumps.carriage.bore",
     'both "size" and "bore"', "exactly one"),
    ('bore = "52.5 mm"\ntype', "type", "pumps.carriage", "nothing", 'exactly one of "size", "bore"'),
    ('type = "vane"', 'type = "vane pump"', "pumps.carriage.type", '"vane pump"', '"gear", "vane"'),
    ('displacement = "82 cm^3/rev"', "", "pumps.carriage", "neither a flow", '"displacement" and "speed"'),
    ('displacement = "82 cm^3/rev"', 'displacement = "82 cm^2"', "pumps.carriage.displacement", "area", "cm^3/rev"),
    ('flow = "30 gpm"', 'flow = "0 gpm"', "pumps.saw.flow", '"0 gpm"', "above zero"),
    ('["1800 rpm", "5 inHg"]', '["1100 rpm", "5 inHg"]', "pumps.carriage.limit.vacuum[1][0]", "1200 rpm", "rising"),
    ('["1800 rpm", "5 inHg"]', '["1800 rpm", "30 inHg"]', "pumps.carriage.limit.vacuum[1][1]", "30 inHg", "29.92"),
    ('limit.npsh = "3 m"', "limit = {}", "pumps.saw.limit", "nothing", '"vacuum", "pressure", "npsh"'),
    ('limit.npsh = "3 m"', 'limit.npsh = "3 m"\nlimit.vacuum = "5 inHg"', "pumps.saw.limit.npsh", "both", "one of"),
    ('limit.npsh = "3 m"', 'limit.npsh = "3 psi"', "pumps.saw.limit.npsh", "which is a pressure", "a head"),
    ('limit.npsh = "3 m"', "", "pumps.saw.limit", "nothing", "which is required"),
    ("credit = true", 'credit = "yes"', "pumps.carriage.credit", '"yes"', "true or false"),
    ('from = "strainer"', 'from = "strianer"', "runs.riser.from", "no part", 'did you mean "strainer"?'),
    ('from = "strainer"', 'from = "tank"', "runs.riser.from", "which is in reservoirs", "intake, fitting, tee or pump"),
    ('to = "saw"', 'to = "header"', "runs.right.to", "where the run begins", "another part"),
    ('["0.9 m", "0.8 m"], ', '["0.9 m", 0.8], ', "runs.riser.via[0][1]", "0.8", "text in quotes"),
    ('material = "commercial steel"', 'material = "steel"', "runs.lead.material", '"steel"', "commercial steel"),
    ('material = "commercial steel"', 'material = "PVC"\nroughness = "1 um"', "runs.lead.roughness", "both", "one of"),
    ('bend = "long radius"', 'bend = "long"', "runs.lead.bend", '"long"', '"long radius", "short radius"'),
    ('bend_radius = "76 mm"', 'bend_radius = "76 mm"\nbend = "mitre"', "runs.riser.bend_radius", "both", "one of"),
    ('out_of_plane = "0.3 m"', 'out_of_plane = "-0.3 m"', "runs.riser.out_of_plane", '"-0.3 m"', "zero or above"),
    ("[tees.header]", '[tees."left/right"]', 'tees."left/right"', 'name "left/right"', "without"),
    ("[tees.header]", '[tees."carriage"]', "pumps.carriage", "after one in tees", "each name once"),
    ("[tees.header]", "[[tees.header]]", "tees.header", "an array", "a table"),
    ('without = ["strainer", "tank"', 'without = ["strainr", "tank"', 'alternatives."Wider, on the day tank".without[0]',
     '"strainr"', 'did you mean "strainer"?'),
    ('without = ["strainer", "tank", "riser", "bend-tester"', 'without = ["strainer", "tank", "bend-tester"',
     'alternatives."Wider, on the day tank".runs.riser.from', '"strainer", which is no part', "by name"),
    ("runs.lead.bore = \"80 mm\"", 'runs.lead.bore = "80 rpm"', 'alternatives."Wider, on the day tank".runs.lead.bore',
     "which is a speed", "a bore"),
    ('note = "By dotted keys."', "format = 1", 'alternatives."Wider, on the day tank".format', '"format"', "in the base"),
    ('note = "By dotted keys."', "note = 5", 'alternatives."Wider, on the day tank".note', "5", "text in quotes"),
    ('note = "By dotted keys."', "colour = 5", 'alternatives."Wider, on the day tank".colour', "colour", "keys"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "key", "found", "allowed"), TYPED, ids=[row[2] for row in TYPED])
def test_refused_where_it_stands(old: str, new: str, key: str, found: str, allowed: str) -> None:
    assert EVERY_KEY.count(old) >= 1
    text = EVERY_KEY.replace(old, new, 1)
    told = problems(text)
    match = [problem for problem in told if problem.key == key]
    assert match, [str(problem) for problem in told]
    assert found in match[0].found
    assert allowed in match[0].allowed
    assert match[0].file == "plan.toml"
    assert str(match[0]).startswith(f"plan.toml:{match[0].line}:{match[0].column}: {key}: found ")


def test_all_problems_are_told_in_the_order_of_the_file() -> None:
    text = EVERY_KEY
    for old, new in (
        ('units = "SI"', 'units = "X"'),
        ('type = "vane"', 'type = "X"'),
        ('to = "saw"', 'to = "X"'),
    ):
        text = text.replace(old, new)
    told = problems(text)
    assert [problem.key for problem in told] == ["units", "pumps.carriage.type", "runs.right.to"]
    assert [problem.line for problem in told] == sorted(problem.line for problem in told)
    with pytest.raises(LayoutErrors, match=r"(?s)units: .*carriage\.type: .*right\.to: "):
        parse(text)


def test_what_is_wrong_in_the_base_is_not_told_again_for_each_alternative() -> None:
    told = problems(EVERY_KEY.replace('type = "vane"', 'type = "X"'))
    assert [problem.key for problem in told] == ["pumps.carriage.type"]


def test_not_toml_is_told_where() -> None:
    (problem,) = problems('format = 1\ntitle = "open\n')
    assert (problem.line, problem.column) == (2, 14)
    assert "not TOML" in problem.found
    (problem,) = problems('format = 1\nnotes = """never closed')
    assert problem.line == 2


def test_a_key_twice_is_told_where() -> None:
    (problem,) = problems(EVERY_KEY + '[tees.header]\nbore = "5 mm"\n')
    assert problem.line == EVERY_KEY.count("\n") + 1
    assert "once" in problem.allowed


def long(text: str) -> ParameterSet:
    """A text that takes long, read in the thorough run alone."""
    return pytest.param(text, marks=pytest.mark.thorough)


@pytest.mark.parametrize(
    "text",
    one_in(9, [
        "a = " + "[" * 100_000,
        "a = " + "[" * 100_000 + "]" * 100_000,
        "a = " + "{ a = " * 50_000,
        "a." * 50_000 + "b = 1",
        "a = " + "9" * 100_000,
        "a = 1e999999\nformat = 1",
        "[" + "a." * 20_000 + "b]",
        "x = { " + '"a" . ' * 50_000 + "b = 1 }",
        "a" * 1_000_000,
        '"' * 1_000_000,
        "\\" * 1_000_000,
        'a = """' + "\\" * 1_000_001 + '"""',
        "a = '''" + "'' " * 500_000,
        "a " * 1_000_000,
        "\x00",
        long("format = 1\n" + "".join(f"k{n} = {n}\n" for n in range(50_000))),
        long("format = 1\n" + "".join(f"[alternatives.a{n}]\n" for n in range(50_000))),
        'format = 1\n[runs.a]\nfrom="a"\nto="b"\nbore="1 m"\nvia = [' + '["1 m","2 m"],' * 1001 + "]",
        long("format = 1\n" + "".join(f'[runs.r{n}]\nfrom = "n{n}"\nto = "m{n}"\nbore = "1 m"\n' for n in range(9_000))),
        long("format = 1\n" + "".join(f"[runs.r{n}]\n" for n in range(20_001))),
        "format = 1\n[alternatives.a]\n" + "x = { y = 1 }\n" + "without = [" + '"n",' * 60_000 + "]",
    ]),
    ids=["open", "nested", "inline", "dotted", "digits", "exponent", "header", "quoted", "name", "quotes", "slashes", "escapes", "unclosed",
         "words", "null", "keys", "alternatives",
         "bends", "lost", "parts", "without"],
)  # fmt: skip
def test_hostile_texts_are_refused_soon(text: str) -> None:
    start = time.process_time()
    assert problems(text)
    assert time.process_time() - start < 20.0  # far below what a hang would take, far above a slow machine


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(LayoutErrors) as errors:
        read(tmp_path / "none.toml")
    (problem,) = errors.value.problems
    assert (problem.line, problem.file) == (0, str(tmp_path / "none.toml"))
    assert "no such file" in problem.found
    assert str(problem).startswith(f"{problem.file}: found ")


def test_a_directory(tmp_path: Path) -> None:
    with pytest.raises(LayoutErrors, match="a directory"):
        read(tmp_path)


def test_a_name_no_system_takes() -> None:
    with pytest.raises(LayoutErrors, match="cannot be opened"):
        read("a\0b.toml")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes on this system")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    with pytest.raises(LayoutErrors, match="not a file"):
        read(pipe)


def test_no_permission(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "closed.toml"
    path.write_text(EVERY_KEY, encoding="utf-8")

    def refuse(*_: object, **__: object) -> object:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(LayoutErrors, match="permission denied"):
        read(path)


def test_a_file_of_50_megabytes_is_not_even_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "huge.toml"
    with path.open("wb") as stream:
        stream.truncate(50 * 2**20)
    monkeypatch.setattr(Path, "open", None)
    with pytest.raises(LayoutErrors, match=r"50\.0 MiB.*at most 8 MiB"):
        read(path)


def test_a_binary_file_is_told_by_its_first_bad_byte(tmp_path: Path) -> None:
    path = tmp_path / "binary.toml"
    path.write_bytes(b"format = 1\n# \xff\xfe\x00\x01")
    with pytest.raises(LayoutErrors) as errors:
        read(path)
    (problem,) = errors.value.problems
    assert (problem.line, problem.column) == (2, 3)
    assert "0xff" in problem.found


@given(st.binary(max_size=200))
def test_any_bytes_are_refused_plainly(data: bytes) -> None:
    text = data.decode("utf-8", "replace")
    with pytest.raises(LayoutErrors) as errors:
        parse(text)
    assert all(problem.found and problem.allowed for problem in errors.value.problems)


@given(
    st.sampled_from(SHIPPED), st.integers(0, 4000), st.sampled_from(["", '"', "]", "x", "9", "\n", "= ", "#"])
)
def test_a_slip_of_the_hand_is_read_or_refused_with_its_place(path: Path, at: int, typed: str) -> None:
    whole = path.read_text(encoding="utf-8")
    at %= len(whole)
    text = whole[:at] + typed + whole[at + 1 :]
    try:
        drawing = parse(text)
    except LayoutErrors as errors:
        lines = text.split("\n")
        for problem in errors.problems:
            assert 0 < problem.line <= len(lines) + 1
    else:
        assert file.write(drawing) == text
        assert tomllib.loads(text)["format"] in (1, 2)
