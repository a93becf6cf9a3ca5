"""A drawing written: only what changed changes, and what is written is what is read."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import Any
from unittest import mock

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from solver.layout import file
from solver.layout import text as layout_text
from solver.layout.file import Alternative, Drawing, LayoutErrors, parse, with_base, write
from solver.layout.parts import Layout, Run
from solver.quantities import units
from solver.quantities.units import Kind
from tests.drawings import ARRANGEMENTS, EVERY_KEY, SHIPPED
from tests.solver.layout.texts import changed_lines, moved

TEXTS = (EVERY_KEY, ARRANGEMENTS, *(path.read_text(encoding="utf-8") for path in SHIPPED))
LENGTH = Kind.LENGTH


@cache
def drawn(text: str) -> Drawing:
    return parse(text)


def layouts() -> list[Layout]:
    """Every drawing at hand, alternatives too."""
    every = []
    for text in TEXTS:
        every += [drawn(text).base, *(other.layout for other in drawn(text).alternatives.values())]
    return every


def same(one: Drawing, other: Drawing) -> bool:
    return one.base == other.base and dict(one.alternatives) == dict(other.alternatives)


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: parse(text).base.title[:20])
@pytest.mark.parametrize("form", [str, lambda text: "\ufeff" + text, lambda text: text.replace("\n", "\r\n")])
def test_an_unchanged_drawing_is_written_byte_for_byte(text: str, form: Callable[[str], str]) -> None:
    assert write(parse(form(text))) == form(text)


def test_a_moved_pump_changes_its_own_line_and_keeps_the_comment() -> None:
    drawing = parse(EVERY_KEY)
    text = write(with_base(drawing, moved(drawing.base, "carriage", "1.85 m", "0.9 m")))
    assert changed_lines(EVERY_KEY, text) == [
        (
            'at = ["1.8 m", "0.9 m"]            # centre of the port',
            'at = ["1.85 m", "0.9 m"]            # centre of the port',
        )
    ]


def test_windows_lines_and_the_mark_stay() -> None:
    text = "\ufeff" + EVERY_KEY.replace("\n", "\r\n")
    drawing = parse(text)
    lead = replace(drawing.base.runs["lead"], via=(drawing.base.pumps["saw"].at,))
    new = replace(drawing.base, notes="Three\nnew\nlines", runs={**drawing.base.runs, "lead": lead})
    written = write(with_base(drawing, new))
    assert written.startswith("\ufeff# A drawing")
    assert "\n" not in written.replace("\r\n", "")
    assert parse(written).base == new


def leaves(raw: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Every quantity of the tables of a base, as typed."""
    if isinstance(raw, str):
        yield path, raw
    elif isinstance(raw, Mapping):
        for key, value in raw.items():
            if key != "alternatives":
                yield from leaves(value, (*path, key))
    elif isinstance(raw, list):
        for index, value in enumerate(raw):
            yield from leaves(value, (*path, index))


def put(raw: Any, path: tuple[str | int, ...], value: Any) -> Any:
    if not path:
        return value
    if isinstance(raw, list):
        return [put(item, path[1:], value) if index == path[0] else item for index, item in enumerate(raw)]
    return {key: put(item, path[1:], value) if key == path[0] else item for key, item in raw.items()}


def another(text: str, factor: float) -> str | None:
    """A quantity with another number, where a text is a plain quantity."""
    number, _, unit = text.partition(" ")
    try:
        return f"{float(number) * factor:.4g} {unit}"
    except ValueError:
        return None


@given(st.sampled_from(TEXTS), st.integers(0, 10_000), st.floats(0.9, 1.1))
def test_editing_one_value_changes_one_line(text: str, pick: int, factor: float) -> None:
    raw = tomllib.loads(text)
    places = [(path, typed) for path, typed in leaves(raw) if len(path) > 1 and another(typed, factor)]
    path, typed = places[pick % len(places)]
    value = another(typed, factor)
    assume(value != typed)
    try:
        base = file.from_raw(put({k: v for k, v in raw.items() if k != "alternatives"}, path, value))
        drawing = with_base(drawn(text), base)
    except LayoutErrors:
        assume(False)
    written = write(drawing)
    ((old, new),) = changed_lines(text, written)
    assert old.replace(f'"{typed}"', "*").count("*") >= 1
    assert f'"{value}"' in new
    assert same(parse(written), drawing)


def of_base(other: Layout, base: Layout) -> Layout:
    """A layout with what is the drawing's and not an alternative's: what was read, and the title block."""
    return replace(other, readings=base.readings, title_block=base.title_block, built=base.built)


@st.composite
def other_drawings(draw: st.DrawFn, text: str) -> Drawing:
    pool = st.sampled_from(layouts())
    names = st.sampled_from([*drawn(text).alternatives, "Another", 'With "quotes" and\ttabs', "a.b"])
    base = draw(pool)
    others = pool.map(lambda other: of_base(other, base))
    alternatives = st.dictionaries(names, st.builds(Alternative, st.sampled_from(["", "x\ny"]), others))
    return Drawing(base, draw(alternatives), text)


@given(st.sampled_from(TEXTS), st.data())
def test_any_drawing_can_be_written_into_any_text(text: str, data: st.DataObject) -> None:
    first = data.draw(other_drawings(text))
    with mock.patch.object(layout_text, "fresh", side_effect=AssertionError("written anew")):
        written = write(first)
        assert same(parse(written), first)
        assert write(replace(first, text=written)) == written
        second = replace(data.draw(other_drawings(text)), text=written)
        assert same(parse(write(second)), second)


@given(st.sampled_from(TEXTS), st.data())
def test_parts_are_taken_away_and_put_in_with_their_comments_left(text: str, data: st.DataObject) -> None:
    drawing = drawn(text)
    kept = data.draw(st.sets(st.sampled_from(sorted(drawing.base.runs))))
    spare = Run("spare", *ends(drawing.base), size="NPS 2 schedule 40")
    runs = {name: run for name, run in drawing.base.runs.items() if name in kept} | {"spare": spare}
    edited = Drawing(replace(drawing.base, runs=runs), {}, text)
    written = write(edited)
    assert same(parse(written), edited)
    assert "[runs.spare]" in written
    head = text.partition("[runs.")[0]
    assert written.startswith(head)


def ends(layout: Layout) -> tuple[str, str]:
    joints = [*layout.intakes, *layout.pumps]
    return joints[0], joints[-1]


@given(st.sampled_from(layouts()), st.sampled_from(layouts()))
def test_a_new_drawing_needs_no_text(base: Layout, other: Layout) -> None:
    drawing = Drawing(base, {"Other": Alternative("why", of_base(other, base))})
    assert same(parse(write(drawing)), drawing)


def test_a_new_drawing_reads_like_one() -> None:
    text = write(Drawing(drawn(EVERY_KEY).base))
    assert text.startswith('format = 1\ntitle = "Two tanks and a header"\nnotes = """\nTwo lines,\n')
    assert '\n[pumps.saw]\nat = ["1.5 m", "1.2 m"]\nbore = "2 1/16 in"\ntype = "gear"\n' in text
    assert '\nlimit = { npsh = "3 m" }\n' in text
    assert "\n\n\n" not in text


def test_an_unreadable_text_is_written_anew() -> None:
    base = drawn(EVERY_KEY).base
    assert parse(write(Drawing(base, {}, "not a drawing"))).base == base


def test_an_array_in_lines_stays_in_lines() -> None:
    drawing = parse(EVERY_KEY)
    riser = drawing.base.runs["riser"]
    new = replace(
        riser, via=(*riser.via, (units.quantity("1.2 m", LENGTH), units.quantity("0.85 m", LENGTH)))
    )
    text = write(with_base(drawing, replace(drawing.base, runs={**drawing.base.runs, "riser": new})))
    assert 'via = [\n    ["0.9 m", "0.8 m"],\n    ["1.2 m", "0.8 m"],\n    ["1.2 m", "0.85 m"],\n]\n' in text


def test_an_alternative_follows_a_new_base() -> None:
    drawing = parse(EVERY_KEY)
    changed = with_base(drawing, moved(drawing.base, "carriage", "1.9 m", "0.95 m"))
    for alternative in changed.alternatives.values():
        assert alternative.layout.pumps["carriage"].at[0].text == "1.9 m"
    colder = changed.alternatives["Colder"]
    assert colder.layout.fluid.temperature.text == "5 degC"


def test_an_alternative_that_does_not_hold_on_a_new_base_is_kept_with_why() -> None:
    drawing = parse(EVERY_KEY)
    tees = {"other": replace(drawing.base.tees["header"], name="other")}
    runs = {name: run for name, run in drawing.base.runs.items() if name == "riser"}
    changed = with_base(drawing, replace(drawing.base, tees=tees, runs=runs))
    ((name, broken),) = changed.broken.items()
    assert name not in changed.alternatives
    assert all(trouble.path[:2] == ("alternatives", name) for trouble in broken.troubles)
    again = parse(write(changed))
    assert again.broken.keys() == {name}
    assert with_base(again, drawing.base).alternatives[name] == drawing.alternatives[name]


def test_texts_that_quotes_cannot_hold_plainly() -> None:
    base = drawn(EVERY_KEY).base
    for notes in ('"""', 'a\\b\n"""\n', "\n\nx", "tab\t\n\x07", "ends in \\\n", '"\n"', "é\u2028\n"):
        for text in (EVERY_KEY, ""):
            drawing = Drawing(replace(base, notes=notes), {}, text)
            assert parse(write(drawing)).base.notes == notes


@given(st.text(max_size=40))
def test_any_text_survives(notes: str) -> None:
    assume(not any(0xD800 <= ord(character) < 0xE000 for character in notes))
    base = replace(drawn(EVERY_KEY).base, notes=notes, title=notes[:20])
    written = parse(write(Drawing(base, {}, EVERY_KEY))).base
    assert (written.notes, written.title) == (notes, notes[:20])


def test_a_text_that_does_not_hold_what_it_should_is_not_returned() -> None:
    with pytest.raises(ValueError, match="cannot take"):
        layout_text.rewrite("a = 1\n", {"a": 1}, {"a": float("nan")})  # which equals nothing, not even itself
