"""The checks in a table, and what they find in a solution."""

from __future__ import annotations

from collections.abc import Container
from operator import itemgetter

from solver.findings import (
    cold_line,
    fluid,
    in_wall,
    isolating,
    line,
    missing,
    part,
    pump,
    reservoir,
    site,
    standstill,
)
from solver.findings.criteria import (
    IN_FIGURES,
    SOLVED,
    SOURCES,
    TRADE,
    Check,
    Criteria,
    Finding,
    SharedFindings,
    built,
    criteria_of,
    flowing,
    subjects,
    weather,
)
from solver.findings.kinds import FindingId
from solver.ledger.solve import Solution
from solver.quantities.units import System

__all__ = ["CHECKS", "SOURCES", "Criteria", "Finding", "check", "criteria_of"]

CHECKS: tuple[Check, ...] = (
    Check(
        FindingId.OVER_THE_LIMIT,
        pump.over_the_limit,
        "Below its least inlet pressure a pump does not fill: it loses flow, grows noisy, and cavitation "
        "eats it away.",
        SOLVED,
        "the pump maker's limit; as a vacuum it is read at sea level, whatever the site",
    ),
    Check(
        FindingId.THIN_MARGIN,
        pump.thin_margin,
        "A strainer that loads up, a cold morning or a low-pressure day takes the rest.",
        SOLVED,
        SOURCES["thin_margin"],
    ),
    Check(
        FindingId.LIMIT_ASSUMED,
        pump.limit_assumed,
        "The line is judged by a provisional figure; the pump that is bought may need more.",
        IN_FIGURES,
        "what is typed of the pump",
    ),
    Check(
        FindingId.LIMIT_DOUBTFUL,
        pump.limit_doubtful,
        "A vacuum typed as an absolute pressure, or bar typed as kPa or NPSH, makes every line look good.",
        IN_FIGURES,
        TRADE,
    ),
    Check(
        FindingId.LIMIT_ESTIMATED,
        pump.limit_estimated,
        "The maker's figure holds for the maker's test fluid and speed; the correction is an estimate.",
        IN_FIGURES,
        "affinity laws, to 1.5 times the maker's speed, which no published table settles; " + TRADE,
    ),
    Check(FindingId.FLUID_FAMILY, fluid.limit_of_another_fluid, fluid.WHY, IN_FIGURES, fluid.COMMON, flowing),
    Check(
        FindingId.LOSS_AT_LEAST,
        missing.loss_at_least,
        "The missing figure can only make the loss larger, and the margin smaller.",
        IN_FIGURES,
        TRADE,
    ),
    Check(
        FindingId.NOT_JUDGED_FOR_BOILING,
        missing.not_judged_for_boiling,
        "Without its vapour pressure this calculation finds no boiling, hot or cold.",
        IN_FIGURES,
        "what is typed of the fluid",
    ),
    Check(
        FindingId.NOT_JUDGED_FOR_AIR,
        missing.not_judged_for_air,
        "Air that comes out of solution makes the pump noisy; of this fluid it is not known.",
        IN_FIGURES,
        "what is typed of the fluid",
    ),
    Check(
        FindingId.NEAR_VAPOR_PRESSURE,
        pump.near_vapor_pressure,
        "Where the fluid boils the column breaks and the pump cavitates, whatever its rating.",
        SOLVED,
        SOURCES["vapor_margin"],
    ),
    Check(
        FindingId.FREE_AIR,
        pump.free_air,
        "Dissolved air that comes out makes the fluid spongy and the pump noisy.",
        SOLVED,
        SOURCES["free_air"],
    ),
    Check(
        FindingId.START_VISCOSITY,
        pump.start_viscosity,
        "Fluid this thick cannot fill the pump's chambers.",
        SOLVED,
        "the pump maker's start limit; where none is given, " + SOURCES["start_viscosity_other"],
    ),
    Check(FindingId.LINE_LEFT_COLD, cold_line.line_left_cold, cold_line.WHY, IN_FIGURES, TRADE),
    Check(FindingId.LINE_FILLED, cold_line.line_filled, cold_line.FILLED_WHY, IN_FIGURES, TRADE),
    Check(
        FindingId.RUNNING_VISCOSITY,
        pump.running_viscosity,
        "Thin fluid slips through the pump's clearances and leaves its bearings dry.",
        SOLVED,
        SOURCES["running_viscosity"],
    ),
    Check(FindingId.SCREEN_ASSUMED, pump.screen_assumed, "Another may take more.", IN_FIGURES, TRADE),
    Check(
        FindingId.STRAINER_DROP,
        pump.strainer_drop,
        "A strainer that costs this much clean leaves nothing for the dirt it is there to catch.",
        SOLVED,
        SOURCES["strainer_share"],
    ),
    Check(
        FindingId.STRAINER_WITHOUT_BYPASS,
        pump.strainer_without_bypass,
        "Cold fluid through a fine mesh starves the pump where nothing relieves it.",
        SOLVED,
        SOURCES["bypass_opening"],
    ),
    Check(
        FindingId.BYPASS_OPEN,
        pump.bypass_open,
        "With the bypass open the fluid reaches the pump unstrained.",
        SOLVED,
        "the opening pressure as typed",
    ),
    Check(
        FindingId.SUCTION_VELOCITY,
        line.suction_velocity,
        "Losses grow with the velocity, with its square in turbulent flow, and fast fluid gives off its air.",
        SOLVED,
        SOURCES["velocity_caution"],
        alike=flowing,
    ),
    Check(
        FindingId.INTAKE_UNCOVERED,
        line.intake_uncovered,
        "At the minimum level the intake draws air and the pump loses its prime.",
        SOLVED,
        "geometry",
        alike=built,
    ),
    Check(
        FindingId.SUBMERGENCE,
        line.submergence,
        "A vortex from the surface carries air into the line.",
        SOLVED,
        "ANSI/HI 9.8: D (1 + 2.3 v/√(gD)); for water, so conservative for a small oil line",
        alike=flowing,
    ),
    Check(
        FindingId.FLOOR_CLEARANCE,
        line.floor_clearance,
        "An intake close to the floor chokes itself and draws up sediment.",
        SOLVED,
        SOURCES["floor_clearance"],
        alike=built,
    ),
    Check(
        FindingId.TRAPPED_HIGH_POINT,
        line.trapped_high_point,
        line.WHY_NO_VENT,
        SOLVED,
        SOURCES["clearing_froude"],
        alike=flowing,
    ),
    Check(
        FindingId.STRAIGHT_BEFORE_PORT,
        line.straight_before_port,
        "A bend or valve at the port fills the pump unevenly.",
        SOLVED,
        SOURCES["straight_before_port"],
        alike=built,
    ),
    Check(
        FindingId.DOUBLES_BACK, part.doubles_back, "It cannot be built.", IN_FIGURES, "geometry", alike=built
    ),
    Check(
        FindingId.BORE_UNDER_PORT,
        line.bore_under_port,
        "The maker sized the port for the pump's flow; a narrower line is seldom meant.",
        SOLVED,
        TRADE,
        alike=built,
    ),
    Check(
        FindingId.NO_FOOT_VALVE,
        line.no_foot_valve,
        "When the pump stops the line drains back, and the pump turns dry at the next start.",
        SOLVED,
        TRADE,
    ),
    Check(
        FindingId.JOINT_BELOW_ATMOSPHERE,
        line.joint_below_atmosphere,
        "Such a joint draws air where it would otherwise drip, and nothing shows outside.",
        IN_FIGURES,
        TRADE,
    ),
    Check(
        FindingId.TRANSITIONAL_FLOW,
        line.transitional_flow,
        "Between laminar and turbulent flow the friction is uncertain by tens of percent.",
        SOLVED,
        SOURCES["transitional_share"],
    ),
    Check(
        FindingId.RESERVOIR_VOLUME,
        reservoir.reservoir_volume,
        "The fluid comes back before it has cooled and let go of its air.",
        IN_FIGURES,
        SOURCES["reservoir_minutes"],
        alike=flowing,
    ),
    Check(
        FindingId.INTAKE_DRAWN_DRY,
        reservoir.intake_drawn_dry,
        "With the cylinders out the intake draws air and the pump loses its prime.",
        SOLVED,
        "geometry",
        alike=built,
    ),
    Check(
        FindingId.DRAWN_UNDER_THE_MINIMUM,
        reservoir.drawn_under_the_minimum,
        "The cylinders take the fluid lower than the level the line is designed for.",
        IN_FIGURES,
        "geometry",
        alike=built,
    ),
    Check(
        FindingId.BAFFLE_SHUTS,
        reservoir.baffle_shuts,
        "The return fills one side while the pump empties the other.",
        SOLVED,
        "geometry",
        alike=flowing,
    ),
    Check(
        FindingId.RETURN_BESIDE_INTAKE,
        reservoir.return_beside_intake,
        "Warm fluid full of air goes straight back to the pump.",
        SOLVED,
        TRADE,
        alike=built,
    ),
    Check(
        FindingId.RETURN_ABOVE_FLUID,
        reservoir.return_above_fluid,
        "A return that falls through the air carries air down with it.",
        SOLVED,
        TRADE,
        alike=flowing,
    ),
    Check(
        FindingId.ACCELERATION_HEAD,
        part.acceleration_head,
        "Every stroke has to speed up the whole line; at the worst moment this is missing at the port.",
        SOLVED,
        SOURCES["acceleration_share"],
    ),
    Check(FindingId.TOO_QUICK, standstill.too_quick, standstill.WHY_QUICK, IN_FIGURES, standstill.WAVES),
    Check(FindingId.PUMP_AT_REST, standstill.pump_at_rest, standstill.WHY_AT_REST, IN_FIGURES, TRADE),
    Check(
        FindingId.BEYOND_THE_POINTS,
        part.beyond_the_points,
        "Past the last point of the maker the drop is carried on by its two coefficients, unmeasured.",
        IN_FIGURES,
        "the maker's points, as typed",
        alike=flowing,
    ),
    Check(
        FindingId.AGAINST_A_CHECK,
        part.against_a_check,
        "A check valve shuts against this flow, so the other lines carry more than the ledger says.",
        SOLVED,
        "what a check valve is for",
        alike=flowing,
    ),
    Check(
        FindingId.HOSE_BENT_TIGHTLY,
        part.hose_bent_tightly,
        "A suction hose bent tighter than it was made for narrows, and may collapse.",
        SOLVED,
        part.HOSE_BENDS,
        alike=built,
    ),
    Check(
        FindingId.REDUCER_HOLDS_AIR,
        part.reducer_holds_air,
        "Air gathers over the slim end of such a reducer, and reaches the pump as one slug.",
        SOLVED,
        TRADE,
        alike=built,
    ),
    Check(
        FindingId.REDUCER_WITHOUT_ROOM,
        part.reducer_without_room,
        "It cannot be built where it is drawn, and its loss is counted for its whole length.",
        IN_FIGURES,
        part.CONE,
        alike=built,
    ),
    Check(FindingId.LONG_CONNECTOR, part.long_connector, part.WHY_ROOM, IN_FIGURES, "geometry", alike=built),
    Check(FindingId.PORT_INSIDE, site.port_inside, site.WHY_INSIDE, SOLVED, "geometry", flowing),
    Check(
        FindingId.LINE_THROUGH_WALL,
        site.line_through_wall,
        "A pipe through a wall under the fluid leaks, unless a nozzle holds it there.",
        SOLVED,
        "geometry",
        alike=built,
    ),
    Check(FindingId.NO_ISOLATING_VALVE, isolating.no_valve, isolating.WHY, IN_FIGURES, TRADE, flowing),
    Check(FindingId.VALVE_OUT_OF_REACH, isolating.out_of_reach, isolating.REACH, IN_FIGURES, TRADE, built),
    Check(FindingId.PART_IN_WALL, in_wall.part_in_wall, in_wall.WHY, IN_FIGURES, in_wall.BODY, built),
    Check(
        FindingId.PUMP_IN_WALL, in_wall.pump_in_wall, in_wall.WHY_PUMP, IN_FIGURES, in_wall.PUMP_BODY, built
    ),
    Check(
        FindingId.BAROMETER_AGAINST_ELEVATION,
        site.barometer_against_elevation,
        "A pressure reduced to sea level counts air that is not there: the pump has that much less to spend.",
        IN_FIGURES,
        "U.S. Standard Atmosphere 1976; 4 kPa of weather, common practice, no source",
        alike=weather,
    ),
    Check(
        FindingId.NO_WEATHER_ALLOWANCE,
        site.no_weather_allowance,
        "The atmosphere of a standard day is not there every day, and a suction line feels the difference.",
        IN_FIGURES,
        TRADE,
    ),
)
"""In the order in which findings of one severity are listed."""

_PLACES = tuple(enumerate(CHECKS))
_OF_EACH_CASE = tuple((place, row) for place, row in _PLACES if row.alike is None)
_OF_SEVERAL = tuple(
    tuple(each for each in _PLACES if each[1].alike is alike) for alike in (built, flowing, weather)
)


def check(
    solution: Solution,
    criteria: Criteria | None = None,
    system: System | None = None,
    passed_over: Container[FindingId] = (),
    seen: SharedFindings | None = None,
) -> tuple[Finding, ...]:
    """Look at every pump of a solution.

    Parameters: `criteria` to hold it against, the drawing's own if none; `system` of units for the sentences,
    the drawing's own if none; `passed_over`, findings not looked for; `seen` in other cases of the drawing.
    Returns: stops, then cautions, then notes. What two pumps share is said once.
    """
    findings, seen = dict[tuple[FindingId, str, str], Finding](), seen or SharedFindings(passed_over)
    for subject in subjects(solution, criteria, system):
        placed = seen.look(_OF_EACH_CASE, subject)
        placed += [each for rows in _OF_SEVERAL for each in seen.before(rows, subject)]
        for _, finding in sorted(placed, key=itemgetter(0)):
            place = finding.finding, finding.part, finding.key
            held = findings.get(place)
            if held is None or finding.severity.rank < held.severity.rank:
                findings[place] = finding
    return tuple(sorted(findings.values(), key=lambda finding: finding.severity.rank))
