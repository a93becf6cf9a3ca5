"""Tables of a text in another order: every byte of each is kept, and everything else stays where it is."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from solver.layout import file
from solver.layout.block_order import in_order
from tests import drawings

TEXT = """\
title = "x"  # top

# of one
[cases.one]
level = "normal"

[site]
elevation = "1 m"

# of two
# still of two
[cases."two too"]
note = "[cases.one]"

[cases."two too".fluid]
temperature = "5 degC"

[cases.three]"""


def test_blocks_move_whole_and_the_rest_stays() -> None:
    new = in_order(TEXT, "cases", ["three", "two too", "one"])
    assert list(tomllib.loads(new)["cases"]) == ["three", "two too", "one"]
    assert tomllib.loads(new) == tomllib.loads(TEXT)
    assert '# still of two\n[cases."two too"]' in new
    assert sorted(filter(None, new.splitlines())) == sorted(filter(None, TEXT.splitlines()))
    assert new.startswith('title = "x"  # top\n')


def test_the_same_order_is_the_same_text() -> None:
    assert in_order(TEXT, "cases", ["one", "two too", "three", "gone"]) == TEXT


def test_a_case_without_a_header_cannot_move() -> None:
    text = "[cases]\none.level = 'normal'\ntwo.level = 'normal'\n"
    assert in_order(text, "cases", ["one", "two"]) == text
    with pytest.raises(ValueError, match="header"):
        in_order(text, "cases", ["two", "one"])


@pytest.mark.parametrize("cases", ["[cases.one]\n# 1\n\n[cases.two]\n# 2\n", "[cases]\none = {}\ntwo = {}\n"])
def test_a_drawing_is_saved_in_the_order_of_its_cases(cases: str) -> None:
    text = drawings.RISER.replace("format = 1", "format = 2") + "\n" + cases
    drawing = file.parse(text)
    base = drawing.base
    turned = replace(drawing, base=replace(base, cases=dict(reversed(base.cases.items()))))
    again = file.parse(file.write(turned))
    assert list(again.base.cases) == ["two", "one"]
    assert again.base == base
    assert file.write(drawing) == text
