"""One symbol means one thing, over all formulas that may stand in one working."""

from __future__ import annotations

from collections.abc import Iterator

from solver.formulas import colebrook, fittings, flow, fluid, screens, starting, symbols
from solver.formulas.formula import Formula, Implicit, Relation, Symbol, every_symbol

MODULES = (symbols, colebrook, flow, fittings, screens, fluid, starting)


def relations() -> Iterator[Relation]:
    """Every formula of the calculation, those made for a symbol, a row or a point included."""
    for module in MODULES:
        for thing in vars(module).values():
            several = thing if isinstance(thing, tuple) else (thing,)
            yield from (each for each in several if isinstance(each, Formula | Implicit))
    for figure in (symbols.V, symbols.p_rated, symbols.H):
        yield flow.from_table(figure)
    for degrees in (45, 90):
        yield fittings.darby_row(degrees)[0]
    for coefficient in (symbols.k_inf, symbols.k_re):
        yield from fittings.elbow(coefficient)
    for point in (1, 2):
        yield fluid.viscosity_point_formulas(point).number
        yield fluid.viscosity_point_formulas(point).height
    for figure in (symbols.rho, fluid.rho_family, fluid.rho_family_15, fluid.nu, symbols.p_v):
        yield from fluid.between(figure)
    yield from screens.point_sums(3)


def written() -> Iterator[Symbol]:
    for module in MODULES:
        yield from (thing for thing in vars(module).values() if isinstance(thing, Symbol))
    for relation in relations():
        yield from every_symbol([relation])


def test_no_symbol_stands_for_two_things() -> None:
    meanings: dict[str, set[str]] = {}
    for symbol in written():
        meanings.setdefault(symbol.printed or symbol.symbol, set()).add(symbol.meaning)
    assert len(meanings) > 150
    assert {name: both for name, both in meanings.items() if len(both) > 1} == {}


def test_a_marked_symbol_keeps_its_kind_and_is_printed_with_one_more_index() -> None:
    assert symbols.V.marked("n1", "other").printed == "V_n1"
    rated = symbols.p_v.marked("a", "other")
    assert (rated.symbol, rated.printed, rated.kind) == ("p_v_a", "p_v,a", symbols.p_v.kind)
