"""Each formula of the calculation, once: the solver calls it, the working prints it.

Those of bores, fittings, tees and screens stand in modules of these names, as do those of the fluid, of
Colebrook and of a start. All values are SI unless a symbol names its unit. Pressures are absolute unless
named otherwise.
"""

from __future__ import annotations

from functools import cache

from solver.formulas import screens
from solver.formulas import symbols as s
from solver.formulas.colebrook import CHURCHILL_FADES as CHURCHILL_FADES
from solver.formulas.colebrook import COLEBROOK_ALONE as COLEBROOK_ALONE
from solver.formulas.colebrook import LAMINAR_END as LAMINAR_END
from solver.formulas.colebrook import TURBULENT_START as TURBULENT_START
from solver.formulas.colebrook import churchill as churchill
from solver.formulas.colebrook import churchill_gone as churchill_gone
from solver.formulas.colebrook import churchill_share as churchill_share
from solver.formulas.colebrook import churchill_steps as churchill_steps
from solver.formulas.colebrook import colebrook as colebrook
from solver.formulas.colebrook import colebrook_in_doubt as colebrook_in_doubt
from solver.formulas.colebrook import colebrook_steps as colebrook_steps
from solver.formulas.colebrook import f_between as f_between
from solver.formulas.colebrook import friction_between as friction_between
from solver.formulas.colebrook import friction_least as friction_least
from solver.formulas.fittings import darby as darby
from solver.formulas.fittings import hooper as hooper
from solver.formulas.formula import (
    Bound,
    Formula,
    Node,
    Symbol,
    exp,
    largest,
    least,
    log,
    sqrt,
)
from solver.formulas.screens import screen_inertial as screen_inertial
from solver.formulas.screens import screen_opening as screen_opening
from solver.formulas.screens import screen_porosity as screen_porosity
from solver.formulas.screens import screen_surface as screen_surface
from solver.formulas.screens import screen_thickness as screen_thickness
from solver.formulas.screens import screen_viscous as screen_viscous
from solver.formulas.symbols import GRAVITY as GRAVITY
from solver.formulas.symbols import SEA_LEVEL as SEA_LEVEL
from solver.quantities.units import Kind

TURBULENT_FRICTION = 3000.0
"""Reynolds number from which the friction is taken as turbulent, the unfavourable side while the flow may be
laminar up to 4000; ours, where Churchill's (1977) has come near Colebrook's."""

DEFINITION = "definition"

# The flow in an element

velocity = Formula("velocity", s.v, (s.Q, s.D), 4 * s.Q / (s.pi * s.D**2), DEFINITION)

reynolds = Formula("Reynolds number", s.Re, (s.v, s.D, s.nu), s.v * s.D / s.nu, DEFINITION)

velocity_pressure = Formula("velocity pressure", s.q, (s.rho, s.v), s.rho * s.v**2 / 2, DEFINITION)

dynamic_viscosity = Formula("dynamic viscosity", s.mu, (s.nu, s.rho), s.nu * s.rho, DEFINITION)

laminar_friction = Formula(
    "laminar friction factor",
    s.f,
    (s.Re,),
    64 / s.Re,
    "Hagen and Poiseuille",
    "Re up to 2000",
    (Bound(s.Re, high=LAMINAR_END),),
)

_TRANSITIONAL = "Re 2000 to 3000"
_BETWEEN = (Bound(s.Re, LAMINAR_END, TURBULENT_FRICTION),)
_OURS = "smooth blend of the laminar and the turbulent law, ours: no source"

transition = Formula(
    "position in the transition",
    s.x,
    (s.Re,),
    least(largest((s.Re - LAMINAR_END) / (TURBULENT_START - LAMINAR_END), 0), 1),
    _OURS,
)
turbulence = Formula("share of turbulence", s.w, (s.x,), s.x**2 * (3 - 2 * s.x), _OURS)

x_f = Symbol("x_f", Kind.NUMBER, "how far through the transition of the friction")
w_f = Symbol("w_f", Kind.NUMBER, "share of turbulence in the friction")
friction_transition = Formula(
    "position in the transition of the friction",
    x_f,
    (s.Re,),
    least(largest((s.Re - LAMINAR_END) / (TURBULENT_FRICTION - LAMINAR_END), 0), 1),
    "turbulent from Re 3000, where it may be so: the unfavourable side",
    _TRANSITIONAL,
)
friction_turbulence = Formula(
    "share of turbulence in the friction", w_f, (x_f,), x_f**2 * (3 - 2 * x_f), _OURS
)
friction = Formula(
    "friction factor",
    s.f,
    (s.Re, w_f, s.f_t),
    exp((1 - w_f) * log(64 / s.Re) + w_f * log(s.f_t)),
    _OURS,
    _TRANSITIONAL,
    _BETWEEN,
)

kinetic_factor = Formula(
    "kinetic factor",
    s.alpha,
    (s.w,),
    2 - 0.95 * s.w,
    "2 for laminar pipe flow, exact; 1.05 for turbulent, from the power-law profile",
)

fitting_coefficient = Formula(
    "loss coefficient",
    s.k,
    (s.k_inf, s.k_re, s.Re),
    s.k_inf + s.k_re / s.Re,
    "Hooper (1981), Darby (2001): the form of their 2-K and 3-K methods",
)

element_loss = Formula(
    "loss",
    s.dp,
    (s.f, s.L, s.D, s.k, s.q, s.viscous, s.mu, s.Q, s.inertial, s.rho, s.fixed),
    (s.f * s.L / s.D + s.k) * s.q + s.viscous * s.mu * s.Q + s.inertial * s.rho * s.Q**2 + s.fixed,
    "Darcy and Weisbach for the wall; loss coefficients for fittings; a screen or device by its own figures",
)

# The same at the points that a device's maker gives

_AT_POINT = {
    s.Q: screens.point_flow,
    s.rho: screens.point_rho,
    s.mu: screens.point_mu,
    s.v: Symbol("v_p", Kind.VELOCITY, "mean velocity at the maker's point"),
    s.nu: Symbol("ν_p", Kind.VISCOSITY, "kinematic viscosity at the maker's points"),
    s.Re: Symbol("Re_p", Kind.NUMBER, "Reynolds number at the maker's point"),
}
point_nu = _AT_POINT[s.nu]
point_velocity = velocity.with_symbols(_AT_POINT, "velocity at the maker's point")
point_reynolds = reynolds.with_symbols(_AT_POINT, "Reynolds number at the maker's point")
point_dynamic_viscosity = dynamic_viscosity.with_symbols(_AT_POINT, "dynamic viscosity at the maker's points")

# What the site gives, and what the pump's maker asks for

_STANDARD = "U.S. Standard Atmosphere 1976, troposphere"
_TROPOSPHERE = "elevations from −5 to 11 km"
_REACH = (Bound(s.z, -5000.0, 11000.0),)


def _geopotential(elevation: Node) -> Node:
    return s.earth * elevation / (s.earth + elevation)


def _at_height(height: Node) -> Node:
    return s.p_0 * (1 - s.lapse * height / s.T_0) ** s.air_exponent


geopotential = Formula(
    "geopotential elevation", s.height, (s.z,), _geopotential(s.z), _STANDARD, _TROPOSPHERE, _REACH
)
standard_pressure = Formula(
    "standard atmosphere", s.p_station, (s.height,), _at_height(s.height), _STANDARD, _TROPOSPHERE
)
station_pressure = Formula(
    "station pressure", s.p_station, (s.z,), _at_height(_geopotential(s.z)), _STANDARD, _TROPOSPHERE, _REACH
)
atmosphere = Formula("atmosphere", s.p_atm, (s.p_station, s.p_weather), s.p_station - s.p_weather, DEFINITION)
pressure_by_altimeter = Formula(
    "pressure at the site",
    s.p_station,
    (s.p_altimeter, s.height),
    s.p_0 * ((s.p_altimeter / s.p_0) ** (1 / s.air_exponent) - s.lapse * s.height / s.T_0) ** s.air_exponent,
    "U.S. Standard Atmosphere 1976, by which an altimeter is set to read the elevation of the site",
    "elevations of the troposphere",
)
surface_pressure = Formula(
    "pressure on the fluid", s.p_surface, (s.p_atm, s.p_gauge), s.p_atm + s.p_gauge, DEFINITION
)

BOYLE = "Boyle's law, at one temperature; the gas has the pressure as typed at the normal level"
shut_in_gas = Formula(
    "gauge pressure of gas that is shut in",
    s.p_gauge,
    (s.p_atm, s.p_shut, s.gas, s.fallen),
    (s.p_atm + s.p_shut) * s.gas / (s.gas + s.fallen) - s.p_atm,
    BOYLE,
)

rated_pressure = Formula(
    "pressure the maker asks for",
    s.p_rated,
    (s.V,),
    s.p_0 - s.V,
    "a maker's vacuum limit is a sea-level figure: common practice, no source",
)

AFFINITY = (
    "affinity laws: what fills the pump is a dynamic pressure. An estimate, which no published table "
    "settles; the maker's figure replaces it"
)
_CREDIT = f"{AFFINITY}. The pump is given credit"
_density_ratio, _speed_ratio = s.rho / s.rho_rated, (s.n / s.n_rated) ** 2

LIGHTEST_PETROLEUM = s.rho_light.value
"""Density of the lightest petroleum hydraulic oils as they run [kg/m³]. Common practice, no source."""

COLD_WATER = 1000.0
"""Density of the cold water that pumps for water are tested with [kg/m³], and no water is heavier."""

maker_density = Formula(
    "density of the maker's fluid, not stated",
    s.rho_rated,
    (s.rho,),
    s.rho_heavy - least(largest(s.rho - s.rho_heavy, 0), s.rho_heavy - s.rho_light),
    "a petroleum oil, common practice, no source: the heaviest such oil where the fluid may be one, "
    "the lightest where the fluid is too heavy to be one: the unfavourable side of each",
)
density_factor = Formula(
    "density correction", s.c_density, (s.rho, s.rho_rated), largest(1, _density_ratio), AFFINITY
)
density_credit = Formula("density correction", s.c_density, (s.rho, s.rho_rated), _density_ratio, _CREDIT)
speed_factor = Formula("speed correction", s.c_speed, (s.n, s.n_rated), largest(1, _speed_ratio), AFFINITY)
speed_credit = Formula("speed correction", s.c_speed, (s.n, s.n_rated), _speed_ratio, _CREDIT)

floor = Formula(
    "floor",
    s.p_floor,
    (s.p_v, s.p_rated, s.p_v_rated, s.c_density, s.c_speed),
    s.p_v + largest(s.p_rated - s.p_v_rated, 0) * s.c_density * s.c_speed,
    "the maker's figure, held above the vapour pressure of this fluid, with its corrections",
)

npsh_required = Formula("NPSH required", s.npsh_r, (s.H, s.c_speed), s.H * s.c_speed, AFFINITY)
npsh_floor = Formula(
    "floor",
    s.p_floor,
    (s.p_v, s.rho, s.npsh_r, s.q),
    s.p_v + s.rho * s.g * s.npsh_r - s.q,
    "definition of NPSH (ISO 9906, ISO 17769-1, ANSI/HI), which counts the head of the mean velocity; a "
    "gauge does not",
)


@cache
def from_table(result: Symbol) -> Formula:
    """The maker's figure at a speed between two of the table; `result` is its symbol: V, p_rated or H."""
    low = result.marked("n1", f"{result.meaning}, at the speed below")
    high = result.marked("n2", f"{result.meaning}, at the speed above")
    return Formula(
        "the maker's figure at this speed",
        result,
        (low, high, s.n_1, s.n_2, s.n),
        low + (high - low) * (s.n - s.n_1) / (s.n_2 - s.n_1),
        "the maker's table over speed, linear between its figures",
        "speeds from the lowest to the highest of the table",
    )


from_curve = Formula(
    "the maker's figure at this flow",
    s.H,
    (s.H_1, s.H_2, s.Q_1, s.Q_2, s.Q),
    s.H_1 + (s.H_2 - s.H_1) * (s.Q - s.Q_1) / (s.Q_2 - s.Q_1),
    "the maker's curve over flow, linear between its figures",
    "flows from the least to the last of the curve",
)

budget = Formula("inlet budget", s.budget, (s.p_surface, s.p_floor), s.p_surface - s.p_floor, DEFINITION)
allowed_vacuum = Formula(
    "allowed vacuum",
    s.allowed,
    (s.p_atm, s.p_floor),
    least(s.p_atm, s.p_0) - s.p_floor,
    "what a gauge may show; air above the standard does not raise the reading that the maker states",
)
allowed_credit = Formula("allowed vacuum", s.allowed, (s.p_atm, s.p_floor), s.p_atm - s.p_floor, _CREDIT)

# Where the budget goes

rise = Formula(
    "rise above the level",
    s.dz,
    (s.z_in, s.z_out, s.level),
    largest(s.z_out - s.level, 0) - largest(s.z_in - s.level, 0),
    "below the level the fluid outside the line balances the fluid inside",
)
balanced_level = Formula(
    "level that balances the fluid in the line",
    s.level,
    (s.z_intake, s.level_tank, s.rho_tank, s.rho),
    s.z_intake + s.rho_tank / s.rho * (s.level_tank - s.z_intake),
    "hydrostatics: as much pressure at the intake as the fluid in the tank has there",
)
port_rise = Formula(
    "port above the level", s.dz, (s.z_out, s.level), s.z_out - s.level, "below zero: a flooded port"
)
static_lift = Formula("lift", s.lift, (s.rho, s.dz), s.rho * s.g * s.dz, "hydrostatics")
share = Formula("share", s.share, (s.lift, s.dp, s.budget), (s.lift + s.dp) / s.budget, DEFINITION)
velocity_head = Formula("velocity head", s.dp_kinetic, (s.alpha, s.q), s.alpha * s.q, "energy equation")
losses_so_far = Formula(
    "losses so far", s.dp_so_far, (s.dp_before, s.dp), s.dp_before + s.dp, "sum along the line"
)
static_pressure = Formula(
    "static pressure at the end",
    s.p,
    (s.p_surface, s.rho, s.level, s.z_out, s.dp_so_far, s.dp_kinetic),
    s.p_surface + s.rho * s.g * (s.level - s.z_out) - s.dp_so_far - s.dp_kinetic,
    "energy equation",
)

spent = Formula("spent", s.spent, (s.all_lift, s.all_loss), s.all_lift + s.all_loss, "sum over the entries")
margin = Formula("margin", s.margin, (s.budget, s.spent), s.budget - s.spent, DEFINITION)
inlet_pressure = Formula(
    "static pressure at the port", s.p_port, (s.p_surface, s.spent), s.p_surface - s.spent, "energy equation"
)
inlet_vacuum = Formula("vacuum at the port", s.vacuum, (s.p_atm, s.p_port), s.p_atm - s.p_port, DEFINITION)
npsh_available = Formula(
    "NPSH available",
    s.npsh_a,
    (s.p_port, s.rho, s.v, s.p_v),
    (s.p_port + s.rho * s.v**2 / 2 - s.p_v) / (s.rho * s.g),
    "definition (ISO 9906, ISO 17769-1, ANSI/HI), of the mean velocity at the centre of the port",
)
pump_flow = Formula(
    "pump flow",
    s.Q,
    (s.displacement, s.n),
    s.displacement * s.n,
    "definition; slip stays inside the pump",
)
pump_flow_reduced = Formula(
    "pump flow",
    s.Q,
    (s.displacement, s.n, s.filling),
    s.displacement * s.n * s.filling,
    "volumetric efficiency as typed: the share of its displacement that the pump takes in",
)

# Air, submergence, acceleration

free_air = Formula(
    "largest share of free air",
    s.free_share,
    (s.bunsen, s.p_surface, s.p, s.p_v, s.T_air),
    s.bunsen * (largest(s.p_surface - s.p, 0) / (s.p - s.p_v)) * (s.T_air / s.T_bunsen),
    "Henry's law, the Bunsen coefficient counting air at 0 °C (IUPAC), and Dalton's, as each bubble holds "
    "vapour too; an upper bound, as release takes time",
)
submergence = Formula(
    "least submergence",
    s.submergence,
    (s.D, s.v),
    s.D * (1 + 2.3 * s.v / sqrt(s.g * s.D)),
    "ANSI/HI 9.8, for water; conservative for a small oil line",
)
MOUTH = 1.5
"""Mouth of a bell-mouth over its throat. Common practice, no source."""


def _cover(bore: Node, velocity: Node) -> Node:
    return bore * (1 + 2.3 * velocity / sqrt(s.g * bore))


bell_submergence = Formula(
    "least submergence of a bell-mouth",
    s.submergence,
    (s.D, s.v),
    largest(_cover(s.D, s.v), _cover(MOUTH * s.D, s.v / MOUTH**2)),
    "ANSI/HI 9.8, of the throat or of a mouth of 1.5 throats (common practice, no source): the larger",
)
row_travel = Formula("length times velocity in one row", s.row_travel, (s.L, s.v), s.L * s.v, "definition")
mean_velocity = Formula(
    "velocity, over the length of the way",
    s.v,
    (s.all_travel, s.L),
    s.all_travel / s.L,
    "so that every row counts by its own length and velocity",
)
acceleration_head = Formula(
    "acceleration head",
    s.acceleration,
    (s.L, s.v, s.strokes, s.cylinders, s.springiness),
    s.L * s.v * s.strokes * s.cylinders / (s.springiness * s.g),
    "Hydraulic Institute, reciprocating pumps; actual length, not equivalent length",
    fixed_units=True,
)
acceleration_loss = Formula(
    "acceleration head", s.dp, (s.rho, s.acceleration), s.rho * s.g * s.acceleration, "hydrostatics"
)
