"""Every change offered is made, solved afresh, and held to what it claims."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from solver.fixes.candidate import FixKind
from solver.fixes.fixes import Advice, Fix, advise
from solver.fixes.search import NOTHING
from solver.layout import file
from solver.layout.parts import Layout, Limit
from solver.layout.raw import lay_over
from solver.ledger.cases import solve_cases
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED
from tests.thorough import one_in


def layouts() -> dict[str, Layout]:
    """Every layout that comes with the program, and every alternative of it."""
    by_name: dict[str, Layout] = {}
    for path in SHIPPED:
        drawing = file.read(path)
        by_name[path.stem] = drawing.base
        by_name |= {f"{path.stem}: {name}": each.layout for name, each in drawing.alternatives.items()}
    return by_name


LAYOUTS = layouts()

LITTLE = quantity("1 inHg", Kind.VACUUM)


@cache
def advice(name: str, pump: str) -> Advice:
    return advise(LAYOUTS[name], pump)


def each_pump() -> list[tuple[str, str]]:
    return [(name, pump) for name, layout in LAYOUTS.items() for pump in layout.pumps]


def least_margin(layout: Layout, pump: str) -> float:
    """The least margin of all cases of a drawing that is read from its text [Pa]."""
    read = file.parse(file.write(file.Drawing(layout))).base
    solved = (case.solution for case in solve_cases(read).values())
    return min(each.pumps[pump].margin for each in solved if each is not None and pump in each.pumps)


@pytest.mark.parametrize(("name", "pump"), one_in(12, each_pump(), several=True))
def test_every_change_gains_what_it_says_when_its_alternative_is_laid_over_the_file(
    name: str, pump: str
) -> None:
    base, pump_advice = LAYOUTS[name], advice(name, pump)
    before = least_margin(base, pump)
    assert before == pytest.approx(pump_advice.now.margin, abs=0.5)
    for fix in (*pump_advice.fixes, *pump_advice.together):
        changed = file.from_raw(lay_over(file.to_raw(base), fix.alternative(base)))
        after = least_margin(changed, pump)
        assert after == pytest.approx(fix.margin, abs=0.5), fix.text
        assert after - before == pytest.approx(fix.gain, abs=1.0), fix.text
        assert fix.gain >= NOTHING, fix.text


@pytest.mark.parametrize(("name", "pump"), one_in(4, each_pump(), several=True))
def test_the_largest_gain_of_what_is_enough_stands_first_and_last_resorts_after_all_others(
    name: str, pump: str
) -> None:
    ranked = [(fix.only, not fix.is_enough, -fix.gain) for fix in advice(name, pump).fixes]
    assert ranked == sorted(ranked)


def test_what_stops_the_pump_at_a_cold_start_is_not_enough_and_stands_behind_what_is() -> None:
    """A heater buys most, and leaves its line cold: over by 5.81 inHg at every start."""
    fixes = advice("winter-press", "press").fixes
    heaters = [fix for fix in fixes if fix.text.startswith("warm the fluid")]
    assert heaters
    for heater in heaters:
        assert heater.cures
        assert heater.worsens[0].startswith("press: over by 5.81 inHg while the line is still at 14 °F")
        assert heater.stops
        assert not heater.is_enough
    enough = [fix for fix in fixes if fix.is_enough and not fix.only]
    assert max(map(fixes.index, enough)) < min(map(fixes.index, heaters))
    assert max(fix.gain for fix in enough) < max(fix.gain for fix in heaters), "not by what it buys"


def carriage() -> Advice:
    return advice("carriage-at-altitude", "carriage")


def by_text(advice: Advice, start: str) -> Fix:
    (fix,) = (fix for fix in advice.fixes if fix.text.startswith(start))
    return fix


def test_the_size_that_is_just_enough_leaves_no_margin_and_a_little_more_leaves_some() -> None:
    fix = by_text(carriage(), "hold")
    enough = quantity(fix.just_enough, Kind.PRESSURE).si
    base = LAYOUTS["carriage-at-altitude"]

    def margin(pressure: float) -> float:
        tank = replace(base.reservoirs["tank"], pressure=quantity(f"{pressure:.6f} Pa", Kind.PRESSURE))
        return least_margin(replace(base, reservoirs={"tank": tank}), "carriage")

    hundredth = 0.01 * 6894.76  # of a psi, as exact as it is said
    assert margin(enough - hundredth) < 0.0 <= margin(enough), "what is said is enough"


@pytest.mark.parametrize("system", System)
def test_what_a_pressure_buys_is_the_gain_of_the_figure_that_is_said(system: System) -> None:
    """Its gain was that of 9 kPa, which read as 1.31 psi is 9.03."""
    layout = replace(LAYOUTS["carriage-at-altitude"], units=system)
    fix = next(fix for fix in advise(layout, "carriage").fixes if fix.text.startswith("hold"))
    said = re.search(r"hold (\S+ \S+) on", fix.text)
    assert said is not None
    held = fix.layout.reservoirs["tank"].pressure
    assert held is not None
    assert held.si == pytest.approx(quantity(said[1], Kind.PRESSURE).si, abs=0.1)
    assert fix.gain == pytest.approx(held.si, abs=1.0), "which arrives whole at the port"


def test_a_change_says_what_it_buys_against_what_is_lacking() -> None:
    fix = by_text(carriage(), "put carriage beside")
    assert fix.cures
    assert "more than needed" in fix.buys(System.US)
    short = by_text(carriage(), "lower carriage")
    assert not short.cures
    assert "less than needed" in short.buys(System.US)
    for margin, words in ((1.0, "just enough"), (-1.0, "just short of what is needed")):
        assert replace(fix, margin=margin).buys(System.US).endswith(f" inHg, {words}")


def test_hot_water_is_cooled_and_never_warmed_and_a_line_without_screen_is_told_nothing_of_one() -> None:
    pump_advice = advice("wash-water-npsh", "wash")
    assert any(fix.text.startswith("keep the fluid at") for fix in pump_advice.fixes)
    assert not any(fix.text.startswith("warm") for fix in pump_advice.fixes)
    assert not any(FixKind.SCREEN in fix.kinds for fix in advice("baler-flooded", "baler").fixes)


def test_no_change_puts_another_pump_over_that_was_within() -> None:
    base = LAYOUTS["header-two-pumps"]
    before = solve(base).pumps
    for fix in advice("header-two-pumps", "main").fixes:
        after = solve(fix.layout).pumps
        assert all(after[name].sound for name, ledger in before.items() if ledger.sound), fix.text


@pytest.mark.thorough
def test_changes_together_are_tried_where_no_single_one_is_enough() -> None:
    base = LAYOUTS["carriage-at-altitude"]
    thirsty = replace(
        base,
        site=replace(base.site, elevation=quantity("6000 m", Kind.ELEVATION)),
        pumps={"carriage": replace(base.pumps["carriage"], limit=Limit("vacuum", ((None, LITTLE),)))},
    )
    advice = advise(thirsty, "carriage")
    assert not any(fix.cures for fix in advice.fixes)
    assert advice.together
    best = max(fix.gain for fix in advice.fixes if not fix.only)
    assert all(fix.gain > best and len(fix.kinds) >= 2 for fix in advice.together[:1])
    assert all(len(set(fix.kinds)) == len(fix.kinds) for fix in advice.together)


def test_an_unknown_pump_is_refused() -> None:
    with pytest.raises(KeyError):
        advise(LAYOUTS["baler-flooded"], "no such pump")


CASES = """
[cases."cold morning"]
fluid.temperature = "0 degC"

[cases."strainer due"]
intakes.strainer.screen.blocked = "90 %"
"""


def with_cases(*names: str) -> Layout:
    (path,) = (path for path in SHIPPED if path.stem == "glycol-on-the-oil-line")
    tables = [table for table in CASES.split("\n\n") if any(name in table for name in names)]
    text = path.read_text("utf-8").replace("format = 1", "format = 2")
    return file.parse(text + "\n" + "\n".join(tables)).base


@pytest.mark.thorough
@pytest.mark.parametrize(
    ("case", "start"), [("cold morning", "warm the fluid"), ("strainer due", "clean strainer before")]
)
def test_a_change_of_a_case_is_a_change_of_the_case_that_decides(case: str, start: str) -> None:
    layout = with_cases(case)
    layout = replace(layout, fluid=replace(layout.fluid, coldest_start=None))
    advice = advise(layout, "caster")
    assert advice.now.case == case
    fix = by_text(advice, start)
    changed = file.from_raw(lay_over(file.to_raw(layout), fix.alternative(layout)))
    assert least_margin(changed, "caster") == pytest.approx(fix.margin, abs=1.0)
    assert fix.gain == pytest.approx(fix.margin - least_margin(layout, "caster"), abs=1.0)
