"""How serious a finding is, what a pump comes to, and which finding it is."""

from __future__ import annotations

from enum import StrEnum


class Severity(StrEnum):
    """How serious a finding is; from worst to mildest."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return _RANKS[self]


_RANKS = {severity: rank for rank, severity in enumerate(Severity)}


class Grade(StrEnum):
    """What a drawing comes to for a pump: good where no stop or caution stands against it."""

    STOP = "stop"
    CAUTION = "caution"
    GOOD = "good"


class FindingId(StrEnum):
    """Which finding it is: code refers to the name, the text is its title."""

    OVER_THE_LIMIT = "over the allowed vacuum"
    THIN_MARGIN = "thin margin"
    LIMIT_ASSUMED = "limit assumed"
    LIMIT_DOUBTFUL = "limit lower than usual"
    LIMIT_ESTIMATED = "limit estimated"
    FLUID_FAMILY = "limit of another fluid"
    LOSS_AT_LEAST = "loss at least"
    NOT_JUDGED_FOR_BOILING = "not judged for boiling"
    NOT_JUDGED_FOR_AIR = "not judged for free air"
    NEAR_VAPOR_PRESSURE = "near vapour pressure"
    FREE_AIR = "free air"
    START_VISCOSITY = "start viscosity"
    LINE_LEFT_COLD = "line left cold"
    LINE_FILLED = "line filled from tank"
    RUNNING_VISCOSITY = "running viscosity"
    DOUBLES_BACK = "line doubles back"
    SCREEN_ASSUMED = "screen assumed"
    STRAINER_DROP = "strainer drop"
    STRAINER_WITHOUT_BYPASS = "strainer without bypass"
    BYPASS_OPEN = "bypass open"
    SUCTION_VELOCITY = "suction velocity"
    INTAKE_UNCOVERED = "intake not under the minimum level"
    SUBMERGENCE = "submergence"
    FLOOR_CLEARANCE = "floor clearance"
    TRAPPED_HIGH_POINT = "trapped high point"
    STRAIGHT_BEFORE_PORT = "straight before the port"
    BORE_UNDER_PORT = "bore under the port"
    NO_FOOT_VALVE = "no foot valve"
    JOINT_BELOW_ATMOSPHERE = "joint below the atmosphere"
    TRANSITIONAL_FLOW = "transitional flow"
    RESERVOIR_VOLUME = "reservoir volume"
    INTAKE_DRAWN_DRY = "intake uncovered by the draw-down"
    DRAWN_UNDER_THE_MINIMUM = "draw-down under the minimum level"
    BAFFLE_SHUTS = "baffle lets nothing pass"
    RETURN_BESIDE_INTAKE = "return beside the intake"
    RETURN_ABOVE_FLUID = "return above the fluid"
    ACCELERATION_HEAD = "acceleration head"
    TOO_QUICK = "too quick for a rigid column"
    PUMP_AT_REST = "pump at rest"
    BEYOND_THE_POINTS = "flow beyond the maker's points"
    AGAINST_A_CHECK = "flow against a check valve"
    HOSE_BENT_TIGHTLY = "hose bent too tightly"
    REDUCER_HOLDS_AIR = "reducer holds air"
    REDUCER_WITHOUT_ROOM = "reducer without room"
    LONG_CONNECTOR = "connector longer than drawn"
    PORT_INSIDE = "pump inside a reservoir"
    LINE_THROUGH_WALL = "line through a wall"
    NO_ISOLATING_VALVE = "no isolating valve"
    VALVE_OUT_OF_REACH = "valve out of reach"
    PART_IN_WALL = "part in a wall"
    PUMP_IN_WALL = "pump in a wall"
    BAROMETER_AGAINST_ELEVATION = "barometer against elevation"
    NO_WEATHER_ALLOWANCE = "no weather allowance"


OVER_BUDGET = (FindingId.OVER_THE_LIMIT,)
"""The findings that say what a ledger's own sentence says."""
