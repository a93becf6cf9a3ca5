"""The texts that planted errors spoil, and the tests that must notice it, are where they are said to be."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from tests.planted.errors import PLANTED

TREE = Path(__file__).resolve().parents[1]


def test_forty_errors_each_have_their_place() -> None:
    """Each text to be spoilt stands in its file once, so that what is spoilt is what is meant."""
    assert len(PLANTED) >= 40
    assert [name for name, many in Counter(error.name for error in PLANTED).items() if many > 1] == []
    for error in PLANTED:
        assert (TREE / error.file).read_text(encoding="utf-8").count(error.right) == 1, error.name
        assert error.right != error.wrong


def test_the_test_that_must_notice_an_error_is_there() -> None:
    for error in PLANTED:
        path, _, name = error.killed_by.partition("::")
        test = f"def {name.partition('[')[0]}("
        assert test in (TREE / path).read_text(encoding="utf-8"), error.name
