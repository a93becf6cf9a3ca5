"""The catalogue: families of fluids by their typical figures."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

Points = tuple[tuple[float, float], ...]
"""A property over temperature: ((temperature [K], value), ...)."""

ZERO = 273.15
"""0 °C [K]."""


@dataclass(frozen=True, slots=True)
class Family:
    """A family of fluids by its typical figures. Points are ((temperature [K], value), ...)."""

    name: str
    coldest: float  # the figures hold from here [K]
    hottest: float  # to here [K]
    density_15: float | None  # [kg/m³] at 15 °C, corrected as an oil; or
    density: Points  # [kg/m³]
    viscosity_40: float | None  # [mm²/s] with the index; or
    viscosity_index: float | None
    viscosity: Points  # [mm²/s]
    water_fraction: float  # vapour pressure over water's
    dissolved_air: Points  # Bunsen coefficient; one point holds at every temperature
    sources: Mapping[str, str]
    fluid_class: str = ""  # of ISO 6743-4 or ISO 15380; empty for a petroleum oil and for water

    @property
    def is_water(self) -> bool:
        """Whether it is water and nothing else."""
        return self.water_fraction == 1.0 and not self.fluid_class


@cache
def catalogue() -> Mapping[str, Family]:
    """Every fluid of the catalogue by its name."""
    text = resources.files("solver.properties").joinpath("catalogue.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    families = data["families"]
    return MappingProxyType(
        {
            name: _family(name, row, families.get(row.get("family"), {}))
            for name, row in data["fluids"].items()
        }
    )


def _family(name: str, row: Mapping[str, Any], family: Mapping[str, Any]) -> Family:
    coldest, hottest = row["range"]
    return Family(
        name,
        coldest + ZERO,
        hottest + ZERO,
        row.get("density_15"),
        tuple((t + ZERO, value) for t, value in row.get("density", ())),
        row.get("viscosity_40"),
        row.get("viscosity_index"),
        tuple((t + ZERO, value) for t, value in row.get("viscosity", ())),
        row["water_fraction"],
        _held(row["dissolved_air"]),
        MappingProxyType({**family.get("sources", {}), **row.get("sources", {})}),
        row.get("class", ""),
    )


def _held(row: float | list[list[float]]) -> Points:
    """A figure that holds at every temperature, or figures over it [°C]."""
    pairs = row if isinstance(row, list) else [[0.0, row]]
    return tuple((t + ZERO, value) for t, value in pairs)


def uncatalogued(name: str) -> Family:
    """A fluid of the user's own: nothing of it is known but what is typed."""
    nothing = dict.fromkeys(("vapor_pressure", "dissolved_air"), "none given: counted as 0")
    return Family(name, 0.0, math.inf, None, (), None, None, (), 0.0, _held(0.0), nothing)
