"""Alternatives kept, renamed, noted, moved and promoted: nothing of them is lost, and a file keeps it."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketch.model import alternatives
from sketch.model.drawing_state import State
from solver.layout import file
from solver.layout.parts import Layout
from solver.report import changes
from tests.solver.fixes.test_fixes import advice, least_margin

PATH = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def state() -> State:
    return State(file.read(PATH), "")


def reread(state: State) -> file.Drawing:
    return file.parse(file.write(state.drawing), "written")


def margins(drawing: file.Drawing) -> dict[str, float]:
    layouts: dict[str, Layout] = {"": drawing.base}
    layouts |= {name: each.layout for name, each in drawing.alternatives.items()}
    return {name: least_margin(layout, "carriage") for name, layout in layouts.items()}


def test_a_kept_fix_is_in_the_file_with_its_note_and_its_margin(state: State) -> None:
    fix = advice("carriage-at-altitude", "carriage").fixes[0]
    once = alternatives.kept(state, fix.text, fix.layout, changes.note(fix))
    twice = alternatives.kept(once, fix.text, fix.layout, changes.note(fix))
    name, again = list(twice.drawing.alternatives)[-2:]
    assert again == f"{name} 2"
    assert twice.alternative == state.alternative
    read = reread(twice)
    assert read.alternatives[name].note == f"It needs: {fix.cost}.", "what its name does not say"
    assert alternatives.is_kept(read, fix.text, fix.layout)
    assert alternatives.is_kept(alternatives.renamed(once, name, "Dearer").drawing, fix.text, fix.layout)
    assert not alternatives.is_kept(state.drawing, fix.text, fix.layout)
    assert margins(read)[name] == pytest.approx(fix.margin, abs=0.5)


def test_what_is_kept_and_shown_is_one_step(state: State) -> None:
    kept = alternatives.kept_and_shown(state, "wider riser", state.drawing.base)
    assert kept.alternative == "Wider riser"
    assert list(kept.drawing.alternatives) == [*state.drawing.alternatives, "Wider riser"]


def test_a_long_change_has_a_short_name_and_all_of_it_as_note(state: State) -> None:
    layout = alternatives.kept(state, "x" * 150, state.drawing.base)
    name = list(layout.drawing.alternatives)[-1]
    assert len(name) <= alternatives.MOST_OF_NAME
    assert layout.drawing.alternatives[name].note == "X" + "x" * 149 + "."


def test_a_long_change_keeps_its_figures_in_its_name(state: State) -> None:
    line, warm = "lay the whole line in tube 50 x 4 mm", "warm the fluid to 30.9 °C"
    change = f"{line}, and {warm} before the start in every case that is colder"
    kept = alternatives.kept(state, change, state.drawing.base)
    name = list(kept.drawing.alternatives)[-1]
    assert name == f"L{line[1:]}, and {warm}"
    assert kept.drawing.alternatives[name].note == f"L{change[1:]}."


def test_a_rename_keeps_place_note_layout_and_what_is_shown(state: State) -> None:
    names = list(state.drawing.alternatives)
    shown = State(state.drawing, names[0])
    drawing = alternatives.renamed(shown, names[0], "  Wider ")
    assert list(drawing.drawing.alternatives) == ["Wider", *names[1:]]
    assert drawing.alternative == "Wider"
    assert drawing.drawing.alternatives["Wider"] == state.drawing.alternatives[names[0]]


@pytest.mark.parametrize("wanted", ["", "  ", "x" * 1000, "two\nlines"])
def test_a_name_that_a_file_would_refuse_is_refused(state: State, wanted: str) -> None:
    with pytest.raises(ValueError, match="printable"):
        alternatives.renamed(state, next(iter(state.drawing.alternatives)), wanted)


def test_a_name_that_is_taken_is_refused_and_its_own_is_not(state: State) -> None:
    first, second, *_ = state.drawing.alternatives
    with pytest.raises(ValueError, match="already"):
        alternatives.renamed(state, first, second)
    assert alternatives.renamed(state, first, first) == state


def test_a_note_is_changed_and_nothing_else(state: State) -> None:
    name = next(iter(state.drawing.alternatives))
    drawing = alternatives.with_note(state, name, " asked of the client ")
    assert drawing.drawing.alternatives[name].note == "asked of the client"
    assert drawing.drawing.alternatives[name].layout == state.drawing.alternatives[name].layout


def test_moved_no_farther_than_there_are_and_the_file_keeps_the_order(state: State) -> None:
    names = list(state.drawing.alternatives)
    drawing = alternatives.moved(state, names[0], 1)
    assert list(drawing.drawing.alternatives) == [names[1], names[0], *names[2:]]
    assert list(alternatives.moved(state, names[0], -3).drawing.alternatives) == names
    assert list(alternatives.moved(state, names[0], 99).drawing.alternatives) == [*names[1:], names[0]]
    assert list(reread(drawing).alternatives) == list(drawing.drawing.alternatives)


def test_a_promoted_alternative_is_the_drawing_and_no_margin_is_lost(state: State) -> None:
    before = margins(state.drawing)
    name = next(iter(state.drawing.alternatives))
    drawing = alternatives.promoted(state, name, "As it was")
    assert drawing.alternative == ""
    after = margins(reread(drawing))
    assert after[""] == pytest.approx(before[name], abs=0.01)
    assert after["As it was"] == pytest.approx(before[""], abs=0.01)
    for other in set(before) - {"", name}:
        assert after[other] == pytest.approx(before[other], abs=0.01)


@pytest.mark.parametrize(
    "change",
    [
        lambda state: alternatives.renamed(state, "none", "x"),
        lambda state: alternatives.with_note(state, "none", "x"),
        lambda state: alternatives.moved(state, "none", 1),
        lambda state: alternatives.promoted(state, "none", "x"),
    ],
)
def test_an_alternative_that_is_not_there_is_refused(state: State, change: object) -> None:
    with pytest.raises(KeyError):
        change(state)  # type: ignore[operator]
