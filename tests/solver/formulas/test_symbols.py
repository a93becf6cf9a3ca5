"""Symbols: each once, and each with a unit to be written in."""

from __future__ import annotations

from solver.formulas import symbols
from solver.formulas.tree import Constant, Symbol

ALL = {name: each for name, each in vars(symbols).items() if isinstance(each, Symbol)}


def test_a_quantity_has_one_symbol() -> None:
    meanings = [each.meaning for each in set(ALL.values())]
    assert len(meanings) == len(set(meanings))


def test_every_symbol_says_what_it_is_and_in_what_it_counts() -> None:
    for name, each in ALL.items():
        assert each.meaning, name
        assert each.kind is not None or each.unit or isinstance(each, Constant), name
