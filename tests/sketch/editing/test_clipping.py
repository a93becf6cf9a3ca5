"""Parts as text on a clipboard, between drawings and back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

import pytest

from sketch.editing import beginning, building, clipping, selection
from sketch.editing.edits import EditError
from solver.layout import file, keys
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.quantities.units import System
from tests.drawings import SHIPPED


def parts(layout: Layout) -> dict[str, object]:
    return {group: dict(getattr(layout, group)) for group in keys.PARTS}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_drawing_goes_into_another_and_back_as_it_was(path: object) -> None:
    layout = file.read(path).base  # type: ignore[arg-type]
    empty = selection.remove(beginning.begin(System.SI), selection.everything(beginning.begin(System.SI)))
    there = clipping.pasted(empty, clipping.copied(layout, selection.everything(layout)), 0.0, 0.0)
    assert parts(there.layout) == parts(layout)
    assert there.names == selection.everything(layout)
    text = clipping.copied(there.layout, there.names)
    bare = replace(layout, **{group: {} for group in keys.PARTS}, cases={})  # type: ignore[arg-type]
    back = clipping.pasted(bare, text, 0.0, 0.0).layout
    assert parts(back) == parts(layout)


def drawn(name: str) -> Layout:
    return file.read(next(path for path in SHIPPED if path.stem == name)).base


HEADER = drawn("header-two-pumps")


def test_pasted_beside_itself_every_name_is_free_and_every_joint_its_own() -> None:
    text = clipping.copied(HEADER, selection.everything(HEADER))
    way = clipping.paste_offset(HEADER, text, 0.254)
    paste = clipping.pasted(HEADER, text, *way)
    assert not file.check(paste.layout)
    assert len(paste.names) == len(selection.everything(HEADER))
    assert paste.layout.runs["pilot leg 2"].end == "pilot 2"
    assert paste.layout.intakes["nozzle 2"].reservoir == "tank 2"
    assert paste.layout.pumps["main"] is HEADER.pumps["main"]
    outer = max(x.si for x, _ in HEADER.reservoirs["tank"].outline)
    assert min(x.si for x, _ in paste.layout.reservoirs["tank 2"].outline) > outer
    third = clipping.pasted(paste.layout, text, 0.0, 5.0)
    assert "pilot leg 3" in third.names


def test_a_line_comes_with_its_ends_and_an_intake_without_its_tank_finds_one() -> None:
    text = clipping.copied(HEADER, ["outlet"])
    assert set(clipping.names_in(text)) == {"nozzle", "isolator", "outlet"}
    other = building.rename(drawn("carriage-at-altitude"), "tank", "sump")
    layout = clipping.pasted(other, text, 0.0, 0.0).layout
    assert layout.intakes["nozzle"].reservoir == "sump"
    assert clipping.copied(HEADER, []) == ""
    assert clipping.paste_offset(other, text, 0.1) == (0.0, 0.0)


@pytest.mark.parametrize(("leg", "pump"), [("main leg", "main"), ("pilot leg", "pilot")])
def test_a_tee_that_comes_with_two_lines_becomes_a_line_through(leg: str, pump: str) -> None:
    """A tee that joins two lines is refused by the solver, and with it every result."""
    text = clipping.copied(HEADER, ["tank", "outlet", "header", leg])
    paste = clipping.pasted(HEADER, text, 5.0, 0.0)
    solved = solve(paste.layout).pumps
    assert set(solved) == {"main", "pilot", f"{pump} 2"}
    assert list(paste.layout.tees) == ["split"]
    assert all(selection.has_part(paste.layout, name) for name in (*paste.names, *paste.copies.values()))
    reducers = [part for name, part in paste.layout.fittings.items() if name == "split 2"]
    sizes_joined = [(part.size, part.other_size) for part in reducers]
    assert sizes_joined == ([("NPS 2 schedule 40", "NPS 1-1/2 schedule 40")] if pump == "pilot" else [])
    ends = {end for run in paste.layout.runs.values() for end in (run.start, run.end)}
    assert ("split 2" in ends) == bool(reducers)


def test_a_tee_that_comes_with_one_line_is_its_open_end() -> None:
    paste = clipping.pasted(HEADER, clipping.copied(HEADER, ["pilot leg"]), 5.0, 0.0)
    with pytest.raises(NetworkError, match="pilot leg 2: ends in the air at split 2"):
        solve(paste.layout)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Dear colleague, see below", "not part of a drawing"),
        ("", "has no parts"),
        ('[site]\nelevation = "3 m"\n', "has no parts"),
        ("[pumps]\nmain = 3\n", "no table of a part"),
        ('[runs.a]\nfrom = "x"\nto = "main"\nsize = "NPS 2 schedule 40"\n', "a ends on x"),
        ("x" * (clipping.LONGEST + 1), "longer than"),
    ],
)
def test_what_is_no_part_is_refused_with_why(text: str, said: str) -> None:
    with pytest.raises(EditError, match=said):
        clipping.pasted(HEADER, text, 0.0, 0.0)


def test_a_whole_file_pastes_its_parts() -> None:
    whole = next(path for path in SHIPPED if path.stem == "winter-press").read_text("utf-8")
    paste = clipping.pasted(HEADER, whole, 0.0, 0.0)
    assert set(paste.names) > {"tank 2"}
    assert paste.layout.fluid == HEADER.fluid


def test_a_text_with_more_wrong_in_it_than_is_listed_is_refused_with_the_first() -> None:
    wrong = "".join(f'[pumps.p{at}]\nat = ["1 m", "1 m"]\n' for at in range(300))
    with pytest.raises(EditError, match=r"pumps\.p0"):
        clipping.pasted(HEADER, wrong, 0.0, 0.0)


def test_free_names_take_no_longer_the_more_of_one_stem_are_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    many, tried = 500, 0

    def counted(start: int) -> Iterator[int]:
        nonlocal tried
        for each in count(start):
            tried += 1
            yield each

    monkeypatch.setattr(clipping, "count", counted)
    names = [f"valve {at}" for at in range(2, many + 2)]
    valve = next(iter(HEADER.fittings.values()))
    layout = replace(HEADER, fittings={name: replace(valve, name=name) for name in names})
    free = clipping._free_names(layout, {"fittings": {name: {} for name in names}})
    assert list(free.values()) == [f"valve {at}" for at in range(many + 2, 2 * many + 2)]
    assert tried < 3 * many
