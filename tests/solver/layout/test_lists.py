"""Elements of lists are matched across changes."""

from __future__ import annotations

from solver.layout.lists import matched


def test_equal_elements_go_together() -> None:
    assert matched("abc", "abc") == [(0, 0), (1, 1), (2, 2)]


def test_a_changed_element_goes_with_what_stood_there() -> None:
    assert matched("abc", "axc") == [(0, 0), (1, 1), (2, 2)]


def test_what_was_added_or_taken_out_has_no_partner() -> None:
    assert matched("ac", "abc") == [(0, 0), (None, 1), (1, 2)]
    assert matched("abc", "ac") == [(0, 0), (1, None), (2, 1)]


def test_a_table_is_known_by_its_first_value() -> None:
    old = [{"when": "1", "note": "a"}, {"when": "2"}]
    assert matched(old, [{"when": "2", "note": "b"}]) == [(0, None), (1, 0)]
