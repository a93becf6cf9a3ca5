"""Catalogues of one's own: what they give, and what they refuse, with its place."""

from pathlib import Path

import pytest

from solver.layout import own_parts
from solver.layout.file import LayoutErrors
from solver.layout.own_parts import KINDS, OwnPart

WHOLE = """
[fluids."Supplier's oil"]
note = "Data sheet of March."
changed = "2026-03-04"
density = "868 kg/m^3"
viscosity = [["40 degC", "46 cSt"], ["100 degC", "6.9 cSt"]]

[pumps."vane 82"]
type = "vane"
bore = "52.5 mm"
displacement = "82 cm^3/rev"
limit = { vacuum = [["1200 rpm", "7 inHg"], ["1800 rpm", "5 inHg"]] }

[screens."basket 100"]
mesh = "100 per inch"
wire = "0.11 mm"
area = "0.06 m^2"

[fittings."bellows 2"]
kind = "known drop"
size = "NPS 2 schedule 40"
drop = "2 kPa"
flow = "100 L/min"

[hoses."suction hose 2"]
bore = "50.8 mm"
roughness = "0.05 mm"
bend_radius = "300 mm"
"""


def test_every_kind_is_read_with_its_figures_as_typed() -> None:
    catalogue = own_parts.parse(WHOLE)
    assert not catalogue.problems
    assert [part.kind for part in catalogue.parts] == list(KINDS)
    oil = catalogue.part("fluids", "Supplier's oil")
    assert oil is not None
    assert (oil.changed, oil.note) == ("2026-03-04", "Data sheet of March.")
    assert oil.table["density"] == "868 kg/m^3"
    assert "note" not in oil.table


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"),
    [
        ('density = "868 kg/m^3"', 'density = "868 kg"', 5, "density", '"868 kg"'),
        ('density = "868 kg/m^3"', "", 2, "density", "required"),
        ('density = "868', 'densty = "868', 5, "densty", 'did you mean "density"'),
        ('changed = "2026-03-04"', 'changed = "spring"', 4, "changed", '"spring"'),
        ('bore = "52.5 mm"', 'at = ["0 m", "0 m"]', 10, "at", "unknown key"),
        ('displacement = "82 cm^3/rev"', "", 8, "vane 82", "displacement"),
        ("{ vacuum", '{ npsh = "3 m", vacuum', 12, "limit", "exactly one"),
        ('wire = "0.11 mm"', 'wire = "11 mm"', 16, "wire", "leaves no opening"),
        ('drop = "2 kPa"', "", 19, "bellows 2", "drop"),
        ('bore = "50.8 mm"', "", 25, "suction hose 2", "size"),
        ('bore = "50.8 mm"', 'bore = "50.8 mm"\nvia = []', 27, "via", "unknown key"),
        ("[screens.", "[valves.", 14, "valves", '"screens"'),
        ('[fluids."Supplier\'s oil"]', '[fluids."Water"]', 2, "Water", "a name of its own"),
        ('["100 degC", "6.9 cSt"]', "", 6, "viscosity", "one pair"),
    ],
)
def test_a_part_that_does_not_hold_is_refused_at_its_place_and_left_out(
    old: str, new: str, line: int, key: str, words: str
) -> None:
    catalogue = own_parts.parse(WHOLE.replace(old, new), "mine.parts.toml")
    assert len(catalogue.parts) == 4
    problem = next(each for each in catalogue.problems if key in each.key)
    assert problem.file == "mine.parts.toml"
    assert problem.line == line
    assert words in f"{problem.found} {problem.allowed}"


@pytest.mark.parametrize("content", ["fluids = 3", "[fluids]\noil = 3", '[fluids.""]', "[[pumps]]", "x = 1"])
def test_what_is_no_catalogue_gives_no_part(content: str) -> None:
    catalogue = own_parts.parse(content)
    assert not catalogue.parts
    assert catalogue.problems


def test_files_that_cannot_be_read_are_told_and_the_others_serve(tmp_path: Path) -> None:
    good, bad, late = (tmp_path / f"{name}.parts.toml" for name in ("a", "b", "c"))
    good.write_text(WHOLE, encoding="utf-8")
    bad.write_bytes(b"\xff[")
    late.write_text(WHOLE, encoding="utf-8")
    catalogue = own_parts.read([good, bad, late, tmp_path / "none.parts.toml"])
    assert {part.source for part in catalogue.parts} == {str(good)}
    files = [problem.file for problem in catalogue.problems]
    twice = [problem for problem in catalogue.problems if problem.file == str(late)]
    assert [problem.line for problem in twice] == [2, 8, 14, 19, 25], "each at its own header"
    assert twice[0].found == "a name that a.parts.toml has already"
    assert files == [str(bad), *[str(late)] * 5, str(tmp_path / "none.parts.toml")]


def test_a_part_is_added_or_replaced_and_the_rest_of_the_text_stays() -> None:
    mine = OwnPart("pumps", 'a "quoted" pump', dict(own_parts.parse(WHOLE).of_kind("pumps")[0].table))
    text = own_parts.with_part("# mine\n" + WHOLE, mine)
    assert text.startswith("# mine\n")
    assert len(own_parts.parse(text).parts) == 6
    faster = OwnPart("pumps", mine.name, {**mine.table, "displacement": "90 cm^3/rev"}, changed="2026-04-01")
    text = own_parts.with_part(text, faster)
    read_back = own_parts.parse(text).part("pumps", mine.name)
    assert read_back is not None
    assert (read_back.table["displacement"], read_back.changed) == ("90 cm^3/rev", "2026-04-01")
    assert len(own_parts.parse(own_parts.with_part("", mine)).parts) == 1


def test_a_part_that_no_catalogue_may_hold_is_not_added() -> None:
    with pytest.raises(LayoutErrors, match="density"):
        own_parts.with_part("", OwnPart("fluids", "thin", {"viscosity": "3 cSt"}))
    with pytest.raises(LayoutErrors, match="not TOML"):
        own_parts.with_part("[", OwnPart("fluids", "thin", {}))


REFUSED = {
    'fluids.oil.density = "870 kg/m^3"\nfluids.oil.viscosity = "30 cSt"': "add it by hand",
    "[[fluids]]": "tables by name",
    "fluids = 3": "tables by name",
}


@pytest.mark.parametrize(
    "content",
    [
        'fluids = { oil = { density = "870 kg/m^3", viscosity = "30 cSt" } }',
        '[fluids.oil]\ndensity = "870 kg/m^3"\nviscosity = "30 cSt"\n[pumps]\n[fluids]\n',
        '[fluids.oil]\r\ndensity = "870 kg/m^3"\r\nviscosity = "30 cSt"\r\n# end',
        '[fluids.oil]\ndensity = "870 kg"\n[fluids."thin"]\nnote = "wrong as it is"',
        "[fluids]",
        *REFUSED,
        "[fluids]\nthin = 3",
    ],
)
def test_however_a_catalogue_is_set_out_a_part_is_added_or_refused_with_nothing_lost(content: str) -> None:
    thin = OwnPart("fluids", "thin", {"density": "850 kg/m^3", "viscosity": "20 cSt"})
    before = own_parts.parse(content).parts
    if content in REFUSED:
        with pytest.raises(LayoutErrors, match=REFUSED[content]):
            own_parts.with_part(content, thin)
        return
    after = own_parts.parse(own_parts.with_part(content, thin))
    assert {part.name for part in after.parts} == {"thin", *(part.name for part in before)}
    assert [part for part in after.parts if part.name != "thin"] == list(before)


def test_how_a_part_is_run_is_not_kept() -> None:
    drawn = {"at": 1, "speed": "1450 rpm", "flow": "9 L/min", "displacement": "82 cm^3/rev", "at_rest": True}
    assert own_parts.own_table("pumps", drawn) == {"displacement": "82 cm^3/rev"}
    assert own_parts.own_table("pumps", {"flow": "9 L/min"}) == {"flow": "9 L/min"}
    filtered = {"kind": "filter", "state": "closed", "screen": {"mesh": "1", "blocked": 0.2}}
    assert own_parts.own_table("fittings", filtered) == {"kind": "filter", "screen": {"mesh": "1"}}
