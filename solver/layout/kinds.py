"""The kinds that parts come in, each by the word that a file has for it."""

from __future__ import annotations

from enum import StrEnum


class IntakeKind(StrEnum):
    """What an intake is."""

    PLAIN_END = "plain end"
    BELL_MOUTH = "bell-mouth"
    WALL_NOZZLE = "wall nozzle"
    STRAINER = "strainer"
    FOOT_VALVE = "foot valve"
    POPPET_FOOT_VALVE = "poppet foot valve"


class FittingKind(StrEnum):
    """What a part that sits in the line is: valves, checks, and the rest."""

    GATE_VALVE = "gate valve"
    BUTTERFLY_VALVE = "butterfly valve"
    BALL_VALVE = "ball valve"
    REDUCED_BALL_VALVE = "reduced ball valve"
    PLUG_VALVE = "plug valve"
    REDUCED_PLUG_VALVE = "reduced plug valve"
    THREE_WAY_THROUGH = "three-way valve, through"
    THREE_WAY_BRANCH = "three-way valve, branch"
    GLOBE_VALVE = "globe valve"
    Y_PATTERN_VALVE = "Y-pattern valve"
    ANGLE_VALVE = "angle valve"
    DIAPHRAGM_VALVE = "diaphragm valve"
    SWING_CHECK = "swing check"
    TILTING_DISC_CHECK = "tilting-disc check"
    LIFT_CHECK = "lift check"
    FOOT_VALVE = "foot valve"
    POPPET_FOOT_VALVE = "poppet foot valve"
    FILTER = "filter"
    CONCENTRIC_REDUCER = "concentric reducer"
    ECCENTRIC_REDUCER = "eccentric reducer"
    FLEXIBLE_CONNECTOR = "flexible connector"
    KNOWN_K = "known K"
    FLOW_COEFFICIENT = "flow coefficient"
    KNOWN_DROP = "known drop"
    MAKERS_CURVE = "maker's curve"


VALVE_KINDS = (
    FittingKind.GATE_VALVE,
    FittingKind.BUTTERFLY_VALVE,
    FittingKind.BALL_VALVE,
    FittingKind.REDUCED_BALL_VALVE,
    FittingKind.PLUG_VALVE,
    FittingKind.REDUCED_PLUG_VALVE,
    FittingKind.THREE_WAY_THROUGH,
    FittingKind.THREE_WAY_BRANCH,
    FittingKind.GLOBE_VALVE,
    FittingKind.Y_PATTERN_VALVE,
    FittingKind.ANGLE_VALVE,
    FittingKind.DIAPHRAGM_VALVE,
)
CHECK_KINDS = (
    FittingKind.SWING_CHECK,
    FittingKind.TILTING_DISC_CHECK,
    FittingKind.LIFT_CHECK,
    FittingKind.FOOT_VALVE,
    FittingKind.POPPET_FOOT_VALVE,
)
REDUCER_KINDS = (FittingKind.CONCENTRIC_REDUCER, FittingKind.ECCENTRIC_REDUCER)


class ValveState(StrEnum):
    """Whether a fitting lets anything through."""

    OPEN = "open"
    CLOSED = "closed"


class Bend(StrEnum):
    """How a run turns where no radius is given."""

    LONG_RADIUS = "long radius"
    SHORT_RADIUS = "short radius"
    THREADED_ELBOW = "threaded elbow"
    THREADED_LONG_ELBOW = "threaded long elbow"
    MITRE = "mitre"
    TWO_WELD_MITRE = "two-weld mitre"
    THREE_WELD_MITRE = "three-weld mitre"


THREADED = (Bend.THREADED_ELBOW, Bend.THREADED_LONG_ELBOW)
"""Bends that are screwed on at either end."""

PERHAPS_BENT = (Bend.LONG_RADIUS, Bend.SHORT_RADIUS)
"""Bends that are bought and joined at either end, unless the pipe itself is bent like that."""


class PumpType(StrEnum):
    """How a pump displaces its fluid."""

    GEAR = "gear"
    VANE = "vane"
    PISTON = "piston"
    SCREW = "screw"
    CENTRIFUGAL = "centrifugal"
    RECIPROCATING = "reciprocating"


FOR_WATER = (PumpType.CENTRIFUGAL, PumpType.RECIPROCATING)
"""Pumps that do not live on the film of their fluid: water is what most of them move."""


class LimitForm(StrEnum):
    """How a maker states what the pump needs at its port."""

    VACUUM = "vacuum"
    PRESSURE = "pressure"
    NPSH = "npsh"
