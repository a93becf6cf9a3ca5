"""Errors to be planted in a copy of the source, each with the test of its own subject that must kill it."""

from __future__ import annotations

from typing import NamedTuple


class Planted(NamedTuple):
    """One wrong text in the place of one that stands in a file once, and the test that must fail by it."""

    name: str
    file: str
    right: str
    wrong: str
    killed_by: str


FLOW, FITTINGS, FLUID = "solver/formulas/flow.py", "solver/formulas/fittings.py", "solver/formulas/fluid.py"
BORES = "solver/formulas/bores.py"
SCREENS, TABLES = "solver/formulas/screens.py", "solver/network/coefficients.py"
CATALOGUE, SIZES = "solver/properties/catalogue.toml", "solver/properties/sizes.py"
COLEBROOK, LIMIT = "solver/formulas/colebrook.py", "solver/ledger/limit.py"
PUBLISHED = "tests/published/test_"

CONSTANTS = (
    Planted(
        "laminar friction",
        FLOW,
        '    64 / s.Re,\n    "Hagen',
        '    60 / s.Re,\n    "Hagen',
        f"{PUBLISHED}friction.py::test_laminar_is_64_over_re",
    ),
    Planted(
        "turbulent kinetic factor",
        FLOW,
        "2 - 0.95 * s.w",
        "2 - 0.85 * s.w",
        f"{PUBLISHED}friction.py::test_turbulent_kinetic_factor_is_that_of_the_power_law",
    ),
    Planted(
        "laminar kinetic factor",
        FLOW,
        "2 - 0.95 * s.w",
        "1.9 - 0.85 * s.w",
        f"{PUBLISHED}friction.py::test_laminar_kinetic_factor_by_quadrature",
    ),
    Planted(
        "smooth pipe in Colebrook",
        COLEBROOK,
        "0.779397488455682028  #",
        "0.879397488455682028  #",
        f"{PUBLISHED}friction.py::test_colebrook_reference_values",
    ),
    Planted(
        "rough pipe in Colebrook",
        COLEBROOK,
        "0.123968186335417556",
        "0.133968186335417556",
        f"{PUBLISHED}friction.py::test_colebrook_against_its_exact_root",
    ),
    Planted(
        "submergence",
        FLOW,
        "1 + 2.3 * s.v",
        "1 + 2.0 * s.v",
        f"{PUBLISHED}trade.py::test_hydraulic_institute_submergence",
    ),
    Planted(
        "friction in Rennels's bend",
        FITTINGS,
        "+ 6.6 * s.f_b",
        "+ 6.0 * s.f_b",
        f"{PUBLISHED}fittings.py::test_rennels_bend",
    ),
    Planted(
        "Rennels's narrowing",
        BORES,
        "0.0696 * (1",
        "0.0796 * (1",
        f"{PUBLISHED}fittings.py::test_sudden_narrowing",
    ),
    Planted(
        "no jet in laminar flow",
        BORES,
        "1.2 * (1 - s.beta**4)",
        "0.2 * (1 - s.beta**4)",
        f"{PUBLISHED}fittings.py::test_laminar_narrowing_is_hoopers_term",
    ),
    Planted(
        "a level by the axis of a line",
        "solver/field/pockets.py",
        "return self.z + math.sqrt(self.area / math.pi)",
        "return self.z",
        "tests/solver/field/test_priming.py::"
        "test_a_pump_is_flooded_once_the_fluid_stands_over_the_top_of_its_line",
    ),
    Planted(
        "a valve inside a tank that shuts a pump off",
        "solver/findings/isolating.py",
        "lambda part: _is_valve(part) and not _inside(layout, part)",
        "_is_valve",
        "tests/solver/findings/test_isolating.py::"
        "test_what_stands_over_a_pump_says_whether_a_hand_shuts_it_off",
    ),
    Planted(
        "half a part across a wall",
        "solver/findings/in_wall.py",
        "return max(outline.ends(part))",
        "return max(outline.ends(part)) / 2",
        "tests/solver/findings/test_in_wall.py::test_a_valve_lies_across_the_wall_where_its_length_does",
    ),
    Planted(
        "Rennels's slender cone",
        BORES,
        "8.30 * tan",
        "8.80 * tan",
        "tests/solver/formulas/test_bores.py::test_cones_are_those_of_rennels",
    ),
    Planted(
        "Hooper's narrowing in slow flow",
        BORES,
        '160 * (1 - s.beta**4) / s.beta, "Hooper',
        '120 * (1 - s.beta**4) / s.beta, "Hooper',
        f"{PUBLISHED}fittings.py::test_laminar_narrowing_is_hoopers_term",
    ),
    Planted(
        "widening in slow flow",
        BORES,
        "    2 * (1 - s.beta**4),\n    f",
        "    1.5 * (1 - s.beta**4),\n    f",
        f"{PUBLISHED}fittings.py::test_widenings_in_slow_flow",
    ),
    Planted(
        "viscous part of a cloth",
        SCREENS,
        "8.61 *",
        "8.16 *",
        f"{PUBLISHED}screens.py::test_armour_and_cannon_over_their_range",
    ),
    Planted(
        "inertial part of a cloth",
        SCREENS,
        "0.52 *",
        "0.25 *",
        f"{PUBLISHED}screens.py::test_armour_and_cannon_over_their_range",
    ),
    Planted(
        "expansion of oil",
        FLUID,
        "0.6278 / rho_15",
        "0.6178 / rho_15",
        f"{PUBLISHED}fluid.py::test_oil_density_by_its_own_law",
    ),
    Planted(
        "Walther's constant",
        FLUID,
        "    nu + 0.7 + exp(",
        "    nu + 0.8 + exp(",
        f"{PUBLISHED}fluid.py::test_d341_inverse",
    ),
    Planted(
        "index above 100",
        FLUID,
        "/ 0.00715 + 100",
        "/ 0.00815 + 100",
        f"{PUBLISHED}fluid.py::test_d2270_worked_examples",
    ),
    Planted(
        "saturation line",
        FLUID,
        "(1167.0521452767,",
        "(1167.1521452767,",
        f"{PUBLISHED}fluid.py::test_saturation_line_verification_values",
    ),
)
SIGNS = (
    Planted(
        "weather allowance",
        FLOW,
        "s.p_station - s.p_weather",
        "s.p_station + s.p_weather",
        "tests/solver/ledger/test_limit.py::"
        "test_the_surface_goes_from_sea_level_by_altitude_and_weather_to_the_reservoir",
    ),
    Planted(
        "geopotential elevation",
        FLOW,
        "(s.earth + elevation)",
        "(s.earth - elevation)",
        f"{PUBLISHED}atmosphere.py::test_us_standard_atmosphere_1976",
    ),
    Planted(
        "vapour pressure in NPSH",
        FLOW,
        "s.v**2 / 2 - s.p_v)",
        "s.v**2 / 2 + s.p_v)",
        f"{PUBLISHED}suction.py::test_npsh_sums",
    ),
    Planted(
        "sea level under a maker's vacuum",
        FLOW,
        "s.p_0 - s.V,",
        "s.p_0 + s.V,",
        "tests/solver/ledger/test_limit.py::test_a_vacuum_is_counted_from_the_sea_level_atmosphere",
    ),
    Planted(
        "Borda and Carnot",
        BORES,
        "(1 - s.beta**2) ** 2,",
        "(1 + s.beta**2) ** 2,",
        f"{PUBLISHED}fittings.py::test_sudden_widening_by_borda_and_carnot",
    ),
)
EXPONENTS = (
    Planted(
        "speed of a pump",
        FLOW,
        "(s.n / s.n_rated) ** 2",
        "(s.n / s.n_rated) ** 1",
        f"{PUBLISHED}speed.py::test_half_speed",
    ),
    Planted(
        "size in Darby's method",
        FITTINGS,
        "s.D_n**0.3",
        "s.D_n**0.2",
        f"{PUBLISHED}fittings.py::test_darby_threaded_elbow",
    ),
    Planted(
        "velocity head in NPSH",
        FLOW,
        "(s.p_port + s.rho * s.v**2 / 2",
        "(s.p_port + s.rho * s.v / 2",
        f"{PUBLISHED}suction.py::test_cengel_14_3",
    ),
    Planted(
        "altimeter setting",
        FLOW,
        "** (1 / s.air_exponent)",
        "** (1 / (s.air_exponent + 1))",
        f"{PUBLISHED}altimeter.py::test_the_weather_service_s_equation",
    ),
    Planted(
        "velocity in a bore",
        FLOW,
        "4 * s.Q / (s.pi * s.D**2)",
        "4 * s.Q / (s.pi * s.D)",
        f"{PUBLISHED}lines.py::test_esposito_4_1_and_4_3",
    ),
)
ROWS = (
    Planted(
        "phosphate ester too light",
        CATALOGUE,
        "[[-10, 1152], [15, 1135], [100, 1076]]",
        "[[-10, 1122], [15, 1105], [100, 1046]]",
        f"{PUBLISHED}fluid.py::test_density_of_the_families",
    ),
    Planted(
        "phosphate ester too dense",
        CATALOGUE,
        "[[-10, 1152], [15, 1135], [100, 1076]]",
        "[[-10, 1182], [15, 1165], [100, 1106]]",
        f"{PUBLISHED}fluid.py::test_a_phosphate_ester_is_no_denser_than_its_densest_part",
    ),
    Planted(
        "water in water-glycol",
        CATALOGUE,
        "water_fraction = 0.85",
        "water_fraction = 0.43",
        f"{PUBLISHED}fluid.py::test_water_glycol_by_raoult",
    ),
    Planted(
        "viscosity index of water-glycol",
        CATALOGUE,
        "viscosity_index = 200",
        "viscosity_index = 100",
        f"{PUBLISHED}fluid.py::test_water_glycol_by_raoult",
    ),
    Planted(
        "air in water",
        CATALOGUE,
        "[20, 0.0190]",
        "[20, 0.0250]",
        f"{PUBLISHED}fluid.py::test_bunsen_coefficient_of_water_from_henry_constants",
    ),
    Planted(
        "air in cold water",
        CATALOGUE,
        "[5, 0.0258], [10, 0.0231]",
        "[5, 0.0208], [10, 0.0190]",
        f"{PUBLISHED}fluid.py::test_air_in_water_over_temperature",
    ),
    Planted(
        "rusted steel",
        SIZES,
        '"rusted steel": (2.0 *',
        '"rusted steel": (1.0 *',
        f"{PUBLISHED}sizes.py::test_white_roughness",
    ),
    Planted(
        "rubber hose",
        SIZES,
        '"rubber hose": (0.01 *',
        '"rubber hose": (0.02 *',
        f"{PUBLISHED}sizes.py::test_white_roughness",
    ),
    Planted(
        "wall of NPS 2",
        SIZES,
        "0.145, 0.154, 0.203",
        "0.145, 0.164, 0.203",
        f"{PUBLISHED}sizes.py::test_b36_10_schedule_40",
    ),
    Planted(
        "globe valve",
        TABLES,
        "FittingKind.GLOBE_VALVE: _Row(1500,",
        '"globe valve": _Row(1000,',
        f"{PUBLISHED}fittings.py::test_darby_valves",
    ),
    Planted(
        "butterfly valve",
        TABLES,
        "FittingKind.BUTTERFLY_VALVE: (800, 0.25)",
        "FittingKind.BUTTERFLY_VALVE: (800, 0.35)",
        f"{PUBLISHED}fittings.py::test_hooper_valves",
    ),
    Planted(
        "entrance of a strainer",
        TABLES,
        "IntakeKind.STRAINER: (0.5,",
        "IntakeKind.STRAINER: (0.25,",
        f"{PUBLISHED}fittings.py::test_hooper_entrances",
    ),
    Planted(
        "plain end",
        TABLES,
        "IntakeKind.PLAIN_END: (1.0,",
        "IntakeKind.PLAIN_END: (0.5,",
        f"{PUBLISHED}fittings.py::test_hooper_entrances",
    ),
    Planted(
        "reference oil of D2270",
        FLUID,
        "(6.4, 3.35714, -23.5643,",
        "(6.4, 3.35714, -22.5643,",
        f"{PUBLISHED}fluid.py::test_d2270_equations_against_its_table",
    ),
)
BRANCHES = (
    Planted("points at one flow", "solver/network/screens.py", "1e-12 * aa * bb:", "-1.0:",
            "tests/solver/network/test_screens.py::"
            "test_points_at_one_flow_are_met_and_read_half_and_half"),
    Planted("a lighter fluid", FLOW, "largest(1, _density_ratio)", "_density_ratio",
            "tests/solver/ledger/test_limit.py::test_a_lighter_fluid_gives_nothing_back"),
    Planted("a slower pump", FLOW, "largest(1, _speed_ratio)", "_speed_ratio",
            "tests/solver/ledger/test_limit.py::"
            "test_a_faster_speed_tightens_by_its_square_and_a_slower_gives_nothing"),
    Planted("air over the standard", FLOW, "least(s.p_atm, s.p_0) - s.p_floor", "s.p_atm - s.p_floor",
            f"{PUBLISHED}altimeter.py::"
            "test_air_above_the_standard_counts_and_raises_no_reading_called_allowed"),
    Planted("reach of an estimate", LIMIT, "REACH = 1.5", "REACH = 3.0",
            "tests/solver/ledger/test_limit.py::test_an_estimate_for_speed_reaches_only_so_far"),
    Planted("pressure of air that comes out", FLOW, "(largest(s.p_surface - s.p, 0) / (s.p - s.p_v))",
            "(largest(s.p_surface - s.p, 0) / (s.p_surface - s.p_v))",
            f"{PUBLISHED}trade.py::test_air_released_by_henrys_law"),
    Planted("temperature of air that comes out", FLOW, "(s.T_air / s.T_bunsen)", "(s.T_bunsen / s.T_air)",
            f"{PUBLISHED}trade.py::test_air_released_by_henrys_law"),
    Planted("speed criterion", "solver/findings/criteria.py", "velocity_stop: float = _setting(1.5,",
            "velocity_stop: float = _setting(2.5,",
            f"{PUBLISHED}trade.py::test_two_to_four_feet_a_second_in_a_suction_line"),
    Planted("fire-resistant fluids", "solver/findings/fluid.py", '.startswith("HF")', '.startswith("HFA")',
            "tests/solver/findings/test_fluid.py::test_fire_resistant_fluids_have_velocities_of_their_own"),
    Planted("a limit that nobody stated", LIMIT, "ASSUMED if pump.limit_assumed else MAKER", "MAKER",
            "tests/solver/findings/test_pump.py::test_a_limit_that_no_maker_has_stated_is_marked_everywhere"),
    Planted("density that no maker stated", "solver/formulas/symbols.py", "as they run\", value=850.0",
            "as they run\", value=890.0",
            f"{PUBLISHED}trade.py::test_a_limit_for_oil_is_raised_with_a_heavier_family"),
    Planted("a limit for cold water in hot", "solver/ledger/maker_fluid.py",
            "columns.least(fluid.temperature, tested_at(pump))", "fluid.temperature",
            "tests/solver/ledger/test_maker_fluid.py::"
            "test_a_figure_for_the_fluid_counts_its_vapour_pressure_as_warm_as_pumps_are_tested"),
    Planted("a head that is lost", SCREENS, "point_rho * s.g * head_lost", "point_rho * head_lost",
            f"{PUBLISHED}suction.py::test_mott_13_3"),
)  # fmt: skip

FIELD = (
    Planted("a stop that forgets the gauge's error", "solver/field/card.py",
            "stop = low_day - mount.gauge.error", "stop = low_day",
            "tests/solver/field/test_card.py::test_the_limit_falls_on_a_low_pressure_day_by_the_barometer_s_fall"
            "_and_stop_keeps_the_gauge_s_error"),
    Planted("a strainer left until the gauge that shows too little is over", "solver/field/card.py",
            "service = min(dirty - gauge.error, row.stop)", "service = min(dirty + gauge.error, row.stop)",
            "tests/solver/field/test_card.py::"
            "test_a_strainer_cleaned_at_its_reading_in_any_state_leaves_every_case_within"),
    Planted("a case not judged that may be the first over", "solver/field/cleaning.py",
            "    if missing:  #", "    if not missing and missing:  #",
            "tests/solver/field/test_card.py::test_a_case_that_is_not_judged_leaves_no_reading_to_clean_at"),
    Planted("a gauge under its port", "solver/field/mounts.py",
            "rise = port + self.over_port -", "rise = port + abs(self.over_port) -",
            "tests/solver/field/test_card.py::"
            "test_figures_are_as_the_gauge_shows_them_where_it_is_noted_how_it_is_fitted"),
    Planted("joints of a line above the atmosphere", "solver/field/air.py",
            "if joint.pressure < ledger.atmosphere]", "if joint.pressure < 2 * ledger.atmosphere]",
            "tests/solver/field/test_air.py::test_a_line_above_the_atmosphere_has_no_suspect"),
    Planted("a pump that draws dry longer than it may", "solver/field/priming.py",
            "fill is not None and fill > longest.si", "fill is not None and fill < longest.si",
            "tests/solver/field/test_priming.py::"
            "test_a_line_that_takes_longer_to_fill_than_the_maker_allows_is_not_drawn_dry"),
    Planted("a siphon that is opened full", "solver/field/priming.py",
            "siphons=lift >= 0 and under", "siphons=False",
            "tests/solver/field/test_plan.py::"
            "test_a_line_over_a_wall_to_a_port_under_the_fluid_is_shut_before_it_is_opened"),
    Planted("a strainer due by the usual barometer alone", "solver/field/cleaning.py",
            "usual, layout = layout, on_low_day(layout)", "usual = layout",
            "tests/solver/field/test_cleaning.py::"
            "test_a_low_pressure_day_counts_whether_the_drawing_allows_for_one_or_not"),
    Planted("a newest reading that stops nothing", "solver/field/stopping.py",
            "if one.above_allowed and one.expected.allowed is not None", "if False and one.expected.allowed",
            "tests/solver/field/test_stopping.py::test_a_newest_reading_above_what_is_allowed_comes_first"),
    Planted("readings before and after work as of one machine", "solver/field/visits.py",
            "if days and not logged.work and", "if days and",
            "tests/solver/field/test_visits.py::"
            "test_work_parts_the_readings_of_a_day_and_each_part_has_a_name"),
    Planted("the evening before a strainer was cleaned with the morning after", "solver/field/visits.py",
            "return not any(earlier[-1]", "return True or any(earlier[-1]",
            "tests/solver/field/test_visits.py::test_no_visit_goes_across_work_that_is_noted"),
    Planted("a breather open although what was read at rest held", "solver/field/causes.py",
            "if reading.resting and not reading.held", "if reading.resting",
            "tests/solver/field/test_diagnosis.py::"
            "test_a_normal_vacuum_that_holds_at_rest_rules_a_plugged_breather_out"),
    Planted("a joint above the atmosphere that draws air", "solver/field/aeration.py",
            '"" if air.joints else NO_JOINT', '""',
            "tests/solver/field/test_aeration.py::"
            "test_where_nothing_is_below_the_atmosphere_neither_joint_nor_seal_is_a_suspect"),
    Planted("the filler of a tank under pressure opened", "solver/field/next_step.py",
            "if is_pressed(readings[0]):", "if False:",
            "tests/solver/field/test_next_step.py::"
            "test_the_filler_of_a_tank_under_pressure_is_never_to_be_opened"),
    Planted("a size read under a starving vacuum", "solver/field/headline.py",
            "> NOT_FILLING * atmosphere", "> 2.0 * atmosphere",
            "tests/solver/field/test_diagnosis.py::test_a_vacuum_that_no_pump_fills_under_is_named"),
    Planted("a bore narrowed after a valve that takes the valve off", "solver/field/causes.py",
            "kind not in (CauseKind.BORE, CauseKind.HOSE)", "kind in (CauseKind.BORE, CauseKind.HOSE)",
            "tests/solver/field/test_put_in.py::test_a_pair_put_in_gives_its_readings"),
    Planted("a thick fluid put in that is thin in the cold", "solver/field/put_in.py",
            "        for warmth, viscosity in _viscosities(layout)\n",
            "        for warmth, viscosity in [*_viscosities(layout)][-1:]\n",
            "tests/solver/field/test_put_in.py::"
            "test_a_thicker_fluid_put_in_is_as_thick_at_the_coldest_start"),
    Planted("a fluid that was changed held to the reading before", "solver/field/earlier.py",
            "not each.work.intersection(brought_by) and ", "",
            "tests/solver/field/test_earlier.py::test_work_that_would_bring_a_cause_leaves_it_as_likely"),
    Planted("a machine that is over run on to its next stop", "solver/field/what_to_do.py",
            "    if not past or not all(row.over or row.over_on_low_day for row in running):", "    if True:",
            "tests/sketch/page/test_machine_card.py::"
            "test_a_machine_that_is_over_in_every_state_stops_at_any_reading_and_is_not_run_on"),
    Planted("a tap that slides down a line that is longer than drawn", "solver/field/places.py",
            "row.length / stretch + row.arc", "row.length + row.arc",
            "tests/solver/field/test_places.py::"
            "test_a_tap_of_a_line_that_is_longer_than_drawn_stays_where_it_is_drawn"),
    Planted("the height of a gauge that was taken away", "solver/field/mounts.py",
            'if typed.name not in ("", name):', "if False:",
            "tests/solver/field/test_mounts.py::"
            "test_a_gauge_of_another_place_and_one_taken_away_are_not_those_of_the_port"),
    Planted("a bend with one joint", "solver/network/ways.py",
            "(kinds := _joined(row, after))", "(kinds := _joined(after))",
            "tests/solver/ledger/test_joints.py::test_a_threaded_elbow_has_a_joint_at_either_end"),
    Planted("a joint at the pressure before its change of bore", "solver/network/ways.py",
            "        sides.append(place + 1)", "        pass",
            "tests/solver/ledger/test_joints.py::"
            "test_a_joint_with_a_change_of_bore_stands_at_the_lowest_pressure_on_either_side"),
    Planted("a level and a plugged breather told apart at rest", "solver/field/next_step.py",
            "if CauseKind.SURFACE in named:  # at rest", "if False:  # at rest",
            "tests/solver/field/test_next_step.py::"
            "test_a_reading_at_rest_is_not_asked_for_to_tell_a_breather_from_a_level"),
    Planted("a pressure above the atmosphere the wrong way round", "solver/field/compared.py",
            '"less pressure than" if above else "more pressure than"',
            '"more pressure than" if above else "less pressure than"',
            "tests/solver/field/test_compared.py::"
            "test_above_the_atmosphere_it_is_more_or_less_pressure"),
)  # fmt: skip

PLANTED = (*CONSTANTS, *SIGNS, *EXPONENTS, *ROWS, *BRANCHES, *FIELD)
