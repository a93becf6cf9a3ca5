"""The catalogue: what it holds for every family of fluids."""

from __future__ import annotations

from itertools import pairwise

import pytest

from solver.properties import families, fluid
from solver.properties.fluid import FluidError
from tests.solver.properties.states import choice, state

FAMILIES = list(families.catalogue())


@pytest.mark.parametrize("name", FAMILIES)
def test_a_source_says_in_a_reader_s_words_what_was_not_checked(name: str) -> None:
    sources = fluid.state(choice(name), families.catalogue()[name].coldest).sources
    assert not any("memory" in source for source in sources.values())
    for figure, source in sources.items():
        if "handbooks" in source or "typical" in source:
            assert "unverified" in source, figure


@pytest.mark.parametrize("name", FAMILIES)
def test_every_family_holds_over_its_whole_range(name: str) -> None:
    family = families.catalogue()[name]
    steps = [family.coldest + (family.hottest - family.coldest) * i / 40 for i in range(41)]
    states = [fluid.state(choice(name), T) for T in steps]
    assert set(states[0].sources) == {"density", "viscosity", "vapor_pressure", "dissolved_air"}
    assert all(states[0].sources.values())
    for colder, warmer in pairwise(states):
        assert colder.viscosity > warmer.viscosity > 0
        assert 700 < warmer.density < colder.density * 1.0002  # water is densest at 4 °C
        assert warmer.vapor_pressure >= colder.vapor_pressure >= 0
        assert 0 < warmer.dissolved_air < 0.1


@pytest.mark.parametrize("name", FAMILIES)
def test_every_family_refuses_a_temperature_outside_its_range(name: str) -> None:
    family = families.catalogue()[name]
    for T in (family.coldest - 0.1, family.hottest + 0.1):
        with pytest.raises(FluidError, match="figures hold from"):
            fluid.state(choice(name), T)


@pytest.mark.parametrize(
    ("grade", "name"), [(g, f"Mineral oil, ISO VG {g}") for g in (15, 22, 32, 46, 68, 100)]
)
def test_a_grade_is_its_viscosity_at_40_degrees(grade: int, name: str) -> None:
    assert state(name).viscosity * 1e6 == pytest.approx(grade, rel=1e-12)
