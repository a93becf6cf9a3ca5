"""The table of the criteria under its two names: [criteria], and [limits] as in format 1."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout import file
from solver.layout.file import Drawing, LayoutErrors, parse, with_base, write
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.drawings import ARRANGEMENTS

OLD = ARRANGEMENTS
NEW = (
    ARRANGEMENTS.replace("[limits]", "[criteria]")
    .replace("limits.", "criteria.")
    .replace("format = 1", "format = 2")
)


def refused(text: str) -> list[tuple[str, str, str]]:
    with pytest.raises(LayoutErrors) as error:
        parse(text)
    return [(problem.key, problem.found, problem.allowed) for problem in error.value.problems]


def figures(layout: Layout) -> dict[str, float]:
    return {name: typed.si for name, typed in layout.criteria.items()}


def with_figure(drawing: Drawing, name: str, typed: str, kind: Kind = Kind.SHARE) -> Drawing:
    criteria = {**drawing.base.criteria, name: quantity(typed, kind)}
    return with_base(drawing, replace(drawing.base, criteria=criteria))


def test_both_names_mean_the_same_figures() -> None:
    old, new = parse(OLD), parse(NEW)
    assert figures(old.base) == figures(new.base) != {}
    assert {name: figures(each.layout) for name, each in old.alternatives.items()} == {
        name: figures(each.layout) for name, each in new.alternatives.items()
    }


@pytest.mark.parametrize(("text", "kept", "number"), [(OLD, "[limits]", 1), (NEW, "[criteria]", 2)])
def test_saving_keeps_the_name_that_was_typed(text: str, kept: str, number: int) -> None:
    drawing = with_figure(parse(text), "strainer_share", "12 %")
    saved = write(drawing)
    assert saved != text
    assert kept in saved
    assert parse(saved).base == drawing.base
    assert f"format = {number}\n" in saved
    differing = [line for line in saved.splitlines() if line not in text.splitlines()]
    assert differing == ['strainer_share = "12 %"']
    assert write(parse(text)) == text


def test_a_new_file_has_criteria_and_says_format_2() -> None:
    base = parse(NEW).base
    text = write(Drawing(base))
    assert "[criteria]" in text
    assert "[limits]" not in text
    assert text.startswith("format = 2\n")
    without = write(Drawing(replace(base, criteria={})))
    assert without.startswith("format = 1\n")


@pytest.mark.parametrize(("base", "partial"), [("limits", "criteria"), ("criteria", "limits")])
def test_an_alternative_may_use_the_other_name_and_they_merge_key_by_key(base: str, partial: str) -> None:
    text = NEW.replace("[criteria]", f"[{base}]").replace("criteria.free_air", f"{partial}.free_air")
    drawing = parse(text)
    varied = drawing.alternatives["On the standby"].layout
    assert figures(varied) == {**figures(drawing.base), "free_air": 0.05}
    saved = write(with_base(drawing, replace(drawing.base, title="Another")))
    assert figures(parse(saved).alternatives["On the standby"].layout) == figures(varied)
    assert f"{partial}.free_air = 0.05" in saved


@pytest.mark.parametrize("name", ["criteria", "limits"])
@pytest.mark.parametrize("text", [OLD, NEW])
def test_an_alternative_takes_a_figure_off_under_either_name(text: str, name: str) -> None:
    added = f'\n[alternatives.bare]\nwithout = ["{name}.thin_margin"]\n'
    drawing = parse(text + added)
    assert set(drawing.base.criteria) - set(drawing.alternatives["bare"].layout.criteria) == {"thin_margin"}


def test_a_dropped_figure_is_dropped_from_the_file() -> None:
    drawing = parse(NEW)
    fewer = {name: typed for name, typed in drawing.base.criteria.items() if name != "thin_margin"}
    saved = write(with_base(drawing, replace(drawing.base, criteria=fewer)))
    assert "thin_margin" not in saved
    assert "thin_margin" not in parse(saved).base.criteria


def test_both_tables_at_once_are_refused() -> None:
    ((key, found, allowed),) = refused(OLD + "\n[criteria]\nfree_air = 0.01\n")
    assert "criteria" in key + found
    assert "limits" in found + allowed


def test_a_figure_is_refused_under_the_name_that_was_typed() -> None:
    for text, name in ((OLD, "limits"), (NEW, "criteria")):
        ((key, typed, _),) = refused(text.replace("thin_margin = 0.15", "thin_margin = 1.5"))
        assert (key, typed) == (f"{name}.thin_margin", "1.5")


def test_it_survives_being_plain_tables() -> None:
    for text in (OLD, NEW):
        base = parse(text).base
        assert file.from_raw(file.to_raw(base)) == base
