"""Cases made, renamed, put in order, noted, changed and dropped, and read back from a file."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import cases
from sketch.editing.cases import CaseFigure
from sketch.editing.edits import EditError
from solver.layout import file
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import SHORT_CASE, Layout
from solver.quantities.units import Kind, System, quantity
from tests import drawings


@pytest.fixture
def layout() -> Layout:
    return file.parse(drawings.RISER).base


def _figure(layout: Layout, words: str) -> CaseFigure:
    return next(each for each in cases.figures(layout) if each.words == words)


def _cold(layout: Layout) -> Layout:
    cold = quantity("5 degC", Kind.TEMPERATURE)
    return replace(layout, fluid=replace(layout.fluid, coldest_start=cold))


def _again(layout: Layout) -> Layout:
    """The drawing written to a file and read again."""
    return file.parse(file.write(file.Drawing(layout))).base


def test_a_new_case_stands_last_and_comes_back_from_a_file(layout: Layout) -> None:
    with_case = cases.add(cases.add(layout, "one"), "two", {"level": "normal"})
    assert list(cases_of(_again(with_case))) == [AS_DRAWN, "one", "two"]


@pytest.mark.parametrize("name", ["", "  ", "one", "as drawn", "without", "a\nb", "x" * 201])
def test_a_name_that_a_file_would_refuse_is_refused(layout: Layout, name: str) -> None:
    with pytest.raises(EditError):
        cases.add(cases.add(layout, "one"), name)


def test_a_case_keeps_its_place_and_figures_under_another_name(layout: Layout) -> None:
    with_case = cases.add(cases.add(layout, "one", {"level": "normal"}), "two")
    named = cases.rename(with_case, "one", "first")
    assert list(named.cases) == ["first", "two"]
    assert named.cases["first"].table == {"level": "normal"}


def test_the_short_form_of_a_case_becomes_a_case_when_it_is_renamed(layout: Layout) -> None:
    named = cases.rename(_cold(layout), SHORT_CASE, "cold morning")
    assert named.fluid.coldest_start is None
    assert named.cases["cold morning"].table == {"fluid": {"temperature": "5 degC"}}
    assert SHORT_CASE not in cases_of(_again(named))


def test_dropping_the_short_form_drops_the_case(layout: Layout) -> None:
    assert list(cases_of(cases.remove(_cold(layout), SHORT_CASE))) == [AS_DRAWN]


def test_cases_move_no_further_than_the_ends_of_their_list(layout: Layout) -> None:
    with_case = cases.add(cases.add(_cold(layout), "one"), "two")
    assert list(cases_of(cases.move(with_case, "two", -1))) == [AS_DRAWN, SHORT_CASE, "two", "one"]
    assert list(cases_of(cases.move(with_case, "two", -9))) == [AS_DRAWN, "two", SHORT_CASE, "one"]
    assert list(cases_of(cases.move(with_case, "two", 1))) == [AS_DRAWN, SHORT_CASE, "one", "two"]


def test_a_bare_number_is_in_the_unit_shown(layout: Layout) -> None:
    with_case = cases.add(layout, "hot")
    figure = _figure(layout, "Fluid temperature")
    warm = cases.set_figure(with_case, "hot", figure, "60", System.SI)
    assert warm.cases["hot"].figures["fluid", "temperature"].si == pytest.approx(333.15)


def test_no_text_takes_a_figure_off_again(layout: Layout) -> None:
    figure = _figure(layout, "Fluid temperature")
    with_figure = cases.set_figure(cases.add(layout, "hot"), "hot", figure, "60 degC", System.SI)
    assert cases.set_figure(with_figure, "hot", figure, "", System.SI).cases["hot"].table == {}


def test_a_figure_that_a_file_would_refuse_is_refused(layout: Layout) -> None:
    with_case = cases.add(layout, "hot")
    with pytest.raises(EditError, match="Allowed"):
        cases.set_figure(with_case, "hot", _figure(layout, "Fluid temperature"), "60 bar", System.SI)
    blocked = next(each for each in cases.figures(layout) if each.words.endswith("blocked"))
    with pytest.raises(EditError, match="Allowed"):
        cases.set_figure(with_case, "hot", blocked, "120 %", System.SI)


def test_a_figure_takes_the_place_of_its_rival(layout: Layout) -> None:
    with_case = cases.add(layout, "high")
    with_case = cases.set_figure(with_case, "high", _figure(layout, "Site elevation"), "900 m", System.SI)
    with_case = cases.set_figure(with_case, "high", _figure(layout, "Station pressure"), "91 kPa", System.SI)
    assert with_case.cases["high"].table == {"site": {"barometer": "91 kPa"}}


def test_a_pump_rests_by_a_choice(layout: Layout) -> None:
    pump = next(iter(layout.pumps))
    figure = _figure(layout, f"{pump}: at rest")
    with_figure = cases.set_figure(cases.add(layout, "off"), "off", figure, "yes", System.SI)
    assert with_figure.cases["off"].table == {"pumps": {pump: {"at_rest": True}}}
    assert cases.shown_figures(with_figure, "off") == ((figure, "yes"),)


def test_a_note_stays_beside_the_figures(layout: Layout) -> None:
    with_case = cases.add(layout, "hot", {"fluid": {"temperature": "60 degC"}})
    noted = cases.set_note(with_case, "hot", "An afternoon in August.")
    assert cases_of(_again(noted))["hot"].note == "An afternoon in August."
    level = cases.set_figure(noted, "hot", _figure(layout, "Fluid level"), "normal", System.SI)
    assert level.cases["hot"].note == "An afternoon in August."
    assert cases.set_note(level, "hot", " ").cases["hot"].note == ""


def test_the_coldest_start_is_changed_where_it_is_given_short(layout: Layout) -> None:
    cold = cases.set_figure(
        _cold(layout), SHORT_CASE, _figure(layout, "Fluid temperature"), "−8 degC", System.SI
    )
    assert cases_of(_again(cold))[SHORT_CASE].figures["fluid", "temperature"].si == pytest.approx(265.15)


def test_the_drawing_itself_is_no_case_to_change(layout: Layout) -> None:
    for change in (cases.remove, lambda each, name: cases.move(each, name, 1)):
        with pytest.raises(EditError):
            change(layout, AS_DRAWN)


def test_thirty_cases_are_the_most(layout: Layout) -> None:
    for number in range(30):
        layout = cases.add(layout, f"case {number}")
    with pytest.raises(EditError, match="30"):
        cases.add(layout, "one more")


def test_what_could_not_be_read_of_a_case_is_mended_one_after_the_other(layout: Layout) -> None:
    typed = file.parse(
        drawings.RISER.replace("format = 1", "format = 2")
        + '[cases.odd]\nlevl = "normal"\npumps.carriage.sped = "900 rpm"\nsite.elevation = "9 m"\n'
    ).base
    by_words = {figure.words: (figure, text) for figure, text in cases.shown_figures(typed, "odd")}
    assert list(by_words) == ["Site elevation", "levl", "pumps.carriage.sped"]
    typed = cases.rename(typed, "odd", "odder")
    once = cases.set_figure(typed, "odder", by_words["levl"][0], "", System.SI)
    assert [path for path, _, _ in once.cases["odder"].problems] == [
        ("cases", "odder", "pumps", "carriage", "sped")
    ]
    with pytest.raises(EditError, match="elevation"):
        cases.set_figure(once, "odder", by_words["Site elevation"][0], "9 bar", System.SI)
    twice = cases.set_figure(once, "odder", by_words["pumps.carriage.sped"][0], "", System.SI)
    assert twice.cases["odder"].problems == ()
    assert dict(_again(twice).cases["odder"].table) == {"site": {"elevation": "9 m"}}
