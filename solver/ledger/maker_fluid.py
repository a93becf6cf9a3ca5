"""The fluid that a pump's maker has stated a limit for: its density and its vapour pressure."""

from __future__ import annotations

from functools import cache

from solver.formulas import flow as formulas
from solver.formulas.record import UNRECORDED
from solver.formulas.worked import Worked, work
from solver.layout.kinds import FOR_WATER
from solver.layout.parts import FluidChoice, Pump
from solver.properties.families import ZERO, catalogue
from solver.properties.fluid import FluidState, state
from solver.quantities import columns
from solver.quantities.units import Quantity

OWN_FLUID_DENSITY = 950.0
"""A stated density from here up is no petroleum fluid [kg/m³]: where it is that of the fluid at hand, the
maker rated the pump on this fluid."""

ONE_FLUID = 0.02
"""A stated density no further than this share from those of a fluid as pumps are tested may be of that fluid:
water loses 1 % up to there, and water-glycol is at least 6 % denser. Common practice, no source."""

TEST_BEGINS = ZERO + 15.0
"""From which temperature up pumps are tested [K], and at which densities are stated. Common practice."""

TESTED_WARM, TESTED_COLD = ZERO + 50.0, ZERO + 40.0
"""Up to which temperatures a maker's figure for a fluid is taken to count its vapour pressure: of a pump for
oil, and of one for water, which ISO 9906 calls cold up to there [K]. From memory; common practice."""


WATER = "Water"
"""Its name in the catalogue: what pumps for water are tested with, clean and cold. ISO 9906 (2012) and the
Hydraulic Institute's tests, from memory."""


def holds_for(pump: Pump, fluid: str) -> bool:
    """Whether the maker's figure is stated for the fluid of that name."""
    if pump.limit_assumed:
        return False
    return pump.rated_fluid == fluid or (fluid == WATER and rated_on_water(pump))


def rated_on_water(pump: Pump) -> bool:
    """Whether the limit counts as stated for cold water, as of a pump for water with no other word of it."""
    return pump.type in FOR_WATER and pump.rated_density is None and pump.rated_fluid in (None, WATER)


def names_another(pump: Pump, fluid: str) -> bool:
    """Whether the maker's figure is stated, by its name alone, for a fluid of the catalogue that is not this
    one."""
    if pump.limit_assumed or pump.rated_density is not None or rated_on_water(pump):
        return False
    return pump.rated_fluid in catalogue() and pump.rated_fluid != fluid


def named(pump: Pump, fluid: FluidState) -> str:
    """What is said beside a figure that holds as typed since the fluid at hand is named for it."""
    if pump.limit_assumed or pump.rated_fluid != fluid.name:
        return ""
    return f", counted as stated for {fluid.name}"


def stated_density(pump: Pump, fluid: FluidState) -> float | None:
    """Density of the fluid that the limit is stated for [kg/m³]; None where nobody has said it."""
    if pump.rated_density is not None:
        return pump.rated_density.si
    if pump.rated_fluid is not None and names_another(pump, fluid.name):
        return usual_density(pump.rated_fluid, tested_at(pump))
    return fluid.density if holds_for(pump, fluid.name) else None


def tested_at(pump: Pump) -> float:
    """Up to which temperature the maker of such a pump tests it [K]."""
    return TESTED_COLD if pump.type in FOR_WATER else TESTED_WARM


@cache
def usual_density(name: str, temperature: float) -> float:
    """Density of a fluid of the catalogue as it stands there, at a temperature [K] or the nearest that its
    figures hold for [kg/m³]."""
    family = catalogue()[name]
    held = min(max(temperature, family.coldest), family.hottest)
    return state(FluidChoice(name, Quantity("", held))).density


def assumed_density(pump: Pump, fluid: FluidState) -> float:
    """Density of the fluid that a limit counts as stated for where its maker says nothing of it [kg/m³]."""
    if rated_on_water(pump):
        return formulas.COLD_WATER
    return petroleum_density(fluid)


def petroleum_density(fluid: FluidState) -> float:
    """Density of the petroleum oil that the limit of a pump for oil counts as stated for [kg/m³]."""
    worked = density_by_weight(fluid)
    return formulas.LIGHTEST_PETROLEUM if worked is None else worked.value


def density_by_weight(fluid: FluidState) -> Worked | None:
    """That density by the weight of the fluid; None of a fluid that is known to be no petroleum oil."""
    family = catalogue().get(fluid.name)
    if family is not None and family.fluid_class:
        return None
    return work(formulas.maker_density, fluid.density)


def density_correction(pump: Pump, fluid: FluidState) -> Worked:
    """By how much the limit is corrected; credit needs a density that the maker has stated."""
    stated = stated_density(pump, fluid)
    if stated is None:
        return work(formulas.density_factor, fluid.density, assumed_density(pump, fluid))
    return work(formulas.density_credit if pump.credit else formulas.density_factor, fluid.density, stated)


def rated_vapor(pump: Pump, fluid: FluidState) -> float:
    """Vapour pressure that the maker's figure counts [Pa].

    Of the fluid itself, as warm as pumps are tested at most, where the limit is stated for it, by its name or
    by its density; nothing where it is stated for an oil or for another fluid.
    """
    own = holds_for(pump, fluid.name) or _own_density(pump, fluid)
    if not columns.some(own):
        return 0.0
    counted = _counted_vapor(pump, fluid)
    return counted if columns.every(own) else columns.choose(own, counted, 0.0)


def _own_density(pump: Pump, fluid: FluidState) -> columns.Condition:
    """Whether the density that the maker states, and no other word of his, makes it this fluid.

    It is held against the densities of the fluid as pumps are tested, so that how warm it runs does not make
    it another one.
    """
    if pump.rated_density is None or pump.rated_fluid not in (None, fluid.name):
        return False
    stated = pump.rated_density.si
    one: columns.Condition = False
    for light, heavy in _tested_densities(pump, fluid):
        one = one | ((stated >= light * (1 - ONE_FLUID)) & (stated <= heavy * (1 + ONE_FLUID)))
    return (stated >= OWN_FLUID_DENSITY) & one


def _tested_densities(pump: Pump, fluid: FluidState) -> list[tuple[float, float]]:
    """The least and the largest density that the fluid has while pumps are tested, as its figures say, and as
    the catalogue does where it has its name [kg/m³]."""
    ends = TEST_BEGINS, tested_at(pump)
    curve, spans = fluid.curves.get("density"), []
    if curve is None:
        spans.append((fluid.density, fluid.density))
    else:
        held = [columns.least(columns.largest(end, curve.coldest), curve.hottest) for end in ends]
        cold, warm = (curve.at(each, UNRECORDED) for each in held)
        spans.append((columns.least(cold, warm), columns.largest(cold, warm)))
    if fluid.name in catalogue():
        usual = [usual_density(fluid.name, end) for end in ends]
        spans.append((min(usual), max(usual)))
    return spans


def _counted_vapor(pump: Pump, fluid: FluidState) -> float:
    """Its vapour pressure at the temperature at hand, or at the highest that pumps are tested at [Pa]."""
    curve = fluid.curves.get("vapor_pressure")
    if curve is None:
        return fluid.vapor_pressure
    warm = columns.largest(columns.least(fluid.temperature, tested_at(pump)), curve.coldest)
    return columns.least(curve.at(warm, UNRECORDED), fluid.vapor_pressure)
