"""The keys of every table of a drawing, in the order in which they are written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from solver.layout import readings, tables
from solver.layout.kinds import (
    CHECK_KINDS,
    REDUCER_KINDS,
    VALVE_KINDS,
    Bend,
    FittingKind,
    IntakeKind,
    PumpType,
    ValveState,
)
from solver.layout.parts import (
    CYLINDERS,
    Fitting,
    FluidChoice,
    Intake,
    Level,
    Pump,
    Reservoir,
    Run,
    Site,
    Tee,
)
from solver.layout.ranges import (
    ABOVE_SEA_LEVEL,
    ANY,
    BAROMETER,
    BELOW_ONE,
    NOT_NEGATIVE,
    OF_A_LINE,
    OF_A_LIQUID,
    OVER_A_FLUID,
    POSITIVE,
    UP_TO_ONE,
)
from solver.layout.reading import (
    Key,
    KeyPlace,
    Raw,
    amount,
    amount_or_pairs,
    at_most_one,
    choice,
    count,
    describe,
    exactly_one,
    fields,
    figure,
    flag,
    listed,
    only_with,
    point,
    points,
    reader,
    share,
    size,
    text,
)
from solver.layout.suggestions import suggestion
from solver.properties import families, sizes
from solver.quantities.units import Kind, System

_length = amount(Kind.LENGTH, POSITIVE)
_elevation = amount(Kind.ELEVATION)
_temperature = amount(Kind.TEMPERATURE)
_flow = amount(Kind.FLOW, POSITIVE)
_speed = amount(Kind.SPEED, POSITIVE)
_density = amount(Kind.DENSITY, OF_A_LIQUID)
_viscosity = amount(Kind.VISCOSITY, POSITIVE)
_named_level = choice(Level)
_time = amount(Kind.TIME, POSITIVE)
_SIZED = (Key("size", size), Key("bore", amount(Kind.BORE, OF_A_LINE)))


@reader(_named_level.schema)
def level(value: Any, place: KeyPlace) -> Level | None:
    """Read the name of a level."""
    name = _named_level(value, place)
    return None if name is None else Level(name)


SITE = (
    Key("elevation", amount(Kind.ELEVATION, ABOVE_SEA_LEVEL)),
    Key("barometer", amount(Kind.PRESSURE, BAROMETER, absolute=True)),
    Key("altimeter_setting", amount(Kind.PRESSURE, BAROMETER, absolute=True)),
    Key("weather_allowance", amount(Kind.PRESSURE, NOT_NEGATIVE)),
)
FLUID = (
    Key("name", text, required=True),
    Key("temperature", _temperature, required=True),
    Key("coldest_start", _temperature),
    Key("line_temperature", _temperature),
    Key("density", amount_or_pairs(Kind.DENSITY, OF_A_LIQUID)),
    Key("viscosity", amount_or_pairs(Kind.VISCOSITY, POSITIVE, falling=True)),
    Key("viscosity_index", figure(ANY)),
    Key("vapor_pressure", amount_or_pairs(Kind.PRESSURE, NOT_NEGATIVE, absolute=True)),
    Key("dissolved_air", share(BELOW_ONE)),
    Key("pour_point", _temperature),
)
RESERVOIR = (
    Key("outline", points(3, "corners"), required=True),
    Key("depth", _length, required=True),
    Key("normal_level", _elevation, required=True),
    Key("minimum_level", _elevation, required=True),
    Key("pressure", amount(Kind.PRESSURE, OVER_A_FLUID)),
    Key("sealed", flag),
    Key("breather_drop", amount(Kind.PRESSURE, NOT_NEGATIVE)),
    Key("draw_down", amount(Kind.VOLUME, NOT_NEGATIVE)),
    Key("return_at", point),
    Key("baffle", tables.baffle),
)
INTAKE = (
    Key("reservoir", text, required=True),
    Key("at", point, required=True),
    Key("kind", choice(IntakeKind), required=True),
    *_SIZED,
    Key("screen", tables.screen),
)
FITTING = (
    Key("at", point, required=True),
    Key("kind", choice(FittingKind), required=True),
    *_SIZED,
    Key("other_size", size),
    Key("other_bore", amount(Kind.BORE, OF_A_LINE)),
    Key("length", _length),
    Key("state", choice(ValveState)),
    Key("opening", tables.opening),
    Key("k", figure(NOT_NEGATIVE)),
    Key("k_re", figure(NOT_NEGATIVE)),
    Key("kv", amount(Kind.FLOW_COEFFICIENT_KV, POSITIVE)),
    Key("cv", amount(Kind.FLOW_COEFFICIENT_CV, POSITIVE)),
    Key("drop", tables.drop),
    Key("head", amount(Kind.HEAD, NOT_NEGATIVE)),
    Key("flow", _flow),
    Key("viscosity", _viscosity),
    Key("density", _density),
    Key("curve", tables.curve),
    Key("screen", tables.screen),
    Key("own_part", text),
)
TEE = (Key("at", point, required=True), *_SIZED)
PUMP = (
    Key("at", point, required=True),
    *_SIZED,
    Key("type", choice(PumpType), required=True),
    Key("displacement", amount(Kind.DISPLACEMENT, POSITIVE)),
    Key("speed", _speed),
    Key("flow", _flow),
    Key("rated_speed", _speed),
    Key("rated_density", _density),
    Key("rated_fluid", text),
    Key("limit", tables.limit, required=True),
    Key("limit_assumed", flag),
    Key("start_viscosity", _viscosity),
    Key("credit", flag),
    Key("volumetric_efficiency", share(UP_TO_ONE)),
    Key("cylinders", count(CYLINDERS, "cylinder_constant")),
    Key("double_acting", flag),
    Key("cylinder_constant", figure(POSITIVE)),
    Key("fluid_constant", figure(POSITIVE)),
    Key("case_volume", amount(Kind.VOLUME, POSITIVE)),
    Key("dry_lift", amount(Kind.LENGTH, NOT_NEGATIVE)),
    Key("priming_speed", _speed),
    Key("priming_time", _time),
    Key("at_rest", flag),
    Key("flow_rise", _time),
    Key("own_part", text),
)
RUN = (
    Key("from", text, required=True, attribute="start"),
    Key("to", text, required=True, attribute="end"),
    Key("via", points(0, "bends")),
    *_SIZED,
    Key("material", choice(tuple(sizes.ROUGHNESS))),
    Key("roughness", amount(Kind.BORE, NOT_NEGATIVE)),
    Key("bend", choice(Bend)),
    Key("bend_radius", _length),
    Key("out_of_plane", amount(Kind.LENGTH, NOT_NEGATIVE)),
    Key("own_part", text),
)
TOP = (
    Key("title", text),
    Key("notes", text),
    Key("units", choice(System)),
    Key("level", level),
    Key("built", readings.moment_or_nothing),
)


_ONLY_WITH = (
    (("k", "k_re"), (FittingKind.KNOWN_K,)),
    (("kv", "cv"), (FittingKind.FLOW_COEFFICIENT,)),
    (("drop", "head"), (FittingKind.KNOWN_DROP,)),
    (("screen",), (FittingKind.FILTER, FittingKind.FOOT_VALVE, FittingKind.POPPET_FOOT_VALVE)),
    (("opening",), VALVE_KINDS),
    (("other_size", "other_bore"), REDUCER_KINDS),
    (("length",), (*REDUCER_KINDS, FittingKind.FLEXIBLE_CONNECTOR)),
    (
        ("curve",),
        (
            *VALVE_KINDS,
            *CHECK_KINDS,
            *REDUCER_KINDS,
            FittingKind.FLEXIBLE_CONNECTOR,
            FittingKind.MAKERS_CURVE,
        ),
    ),
)
SCREENED = (IntakeKind.STRAINER, FittingKind.FILTER)
"""Kinds that have a screen, always."""

SCREENED_INTAKES = (IntakeKind.STRAINER, IntakeKind.FOOT_VALVE, IntakeKind.POPPET_FOOT_VALVE)
_ONE_OF: Mapping[str | None, tuple[str, str]] = {
    FittingKind.FLOW_COEFFICIENT: ("kv", "cv"),
    FittingKind.KNOWN_DROP: ("drop", "head"),
}
_NEEDED: Mapping[str, str] = {
    FittingKind.KNOWN_K: "k",
    FittingKind.FILTER: "screen",
    FittingKind.MAKERS_CURVE: "curve",
}


def _check_fitting(raw: dict[str, Any], place: KeyPlace) -> None:
    exactly_one(raw, place, "size", "bore")
    kind = raw["kind"] if isinstance(raw.get("kind"), str) else None  # any other is refused by its reader
    if kind in _ONE_OF:
        exactly_one(raw, place, *_ONE_OF[kind])
    elif kind in REDUCER_KINDS:
        exactly_one(raw, place, "other_size", "other_bore")
    elif kind is not None and (name := _NEEDED.get(kind)) and name not in raw:
        place.to(name).refuse("nothing", f'the key "{name}", which a {kind} needs')
    for names, kinds in _ONLY_WITH:
        only_with(raw, place, names, kind in kinds, _with_kind(kinds))
    lost = "drop" in raw or "head" in raw
    only_with(raw, place, ("flow", "viscosity"), lost, "with drop or head: at which it was read")
    only_with(raw, place, ("density",), "drop" in raw, "with drop: of the fluid it was read with")
    at_most_one(raw, place, "state", "opening")
    at_most_one(raw, place, "opening", "curve")


def idle_keys(group: str, raw: Raw) -> frozenset[str]:
    """The keys of a part's table that have no meaning for its kind or type, and that a file may not have.

    Parameters: `group`, one of `PARTS`; `raw`, the part's table as typed.
    """
    kind = raw.get("kind")
    if group == "fittings":
        idle = {name for names, kinds in _ONLY_WITH for name in names if kind not in kinds}
        if kind != FittingKind.KNOWN_DROP:
            idle |= {"flow", "viscosity", "density"}
        return frozenset({*idle, "density"} if "head" in raw else idle)
    if group == "intakes":
        return frozenset() if kind in SCREENED_INTAKES else frozenset({"screen"})
    if group == "pumps" and raw.get("type") != PumpType.RECIPROCATING:
        return frozenset({"cylinders", "double_acting", "cylinder_constant", "fluid_constant"})
    return frozenset()


def _with_kind(kinds: tuple[str, ...]) -> str:
    return f"with kind = {listed(kinds)}" if len(kinds) < 4 else f"with a kind among {listed(kinds)}"


def _check_intake(raw: dict[str, Any], place: KeyPlace) -> None:
    exactly_one(raw, place, "size", "bore")
    kind = raw.get("kind")
    if kind == IntakeKind.STRAINER and "screen" not in raw:
        place.to("screen").refuse("nothing", 'the key "screen", which a strainer needs')
    only_with(raw, place, ("screen",), kind in SCREENED_INTAKES, _with_kind(SCREENED_INTAKES))


def _check_tee(raw: dict[str, Any], place: KeyPlace) -> None:
    exactly_one(raw, place, "size", "bore")


def _check_pump(raw: dict[str, Any], place: KeyPlace) -> None:
    exactly_one(raw, place, "size", "bore")
    turning = {"displacement", "speed"} <= raw.keys()
    if "flow" not in raw and not turning:
        place.refuse(
            "neither a flow nor a displacement with a speed", '"flow", or both "displacement" and "speed"'
        )
    only_with(raw, place, ("volumetric_efficiency",), turning, "with displacement and speed")
    reciprocating = raw.get("type") == PumpType.RECIPROCATING
    if reciprocating:
        exactly_one(raw, place, "cylinders", "cylinder_constant")
        if "speed" not in raw:
            place.to("speed").refuse("nothing", 'the key "speed", of the crank of a reciprocating pump')
    names = ("cylinders", "cylinder_constant", "fluid_constant")
    only_with(raw, place, names, reciprocating, 'with type = "reciprocating"')
    only_with(raw, place, ("double_acting",), "cylinders" in raw, "with cylinders")


def _check_run(raw: dict[str, Any], place: KeyPlace) -> None:
    exactly_one(raw, place, "size", "bore")
    at_most_one(raw, place, "material", "roughness")
    at_most_one(raw, place, "bend", "bend_radius")


def _check_reservoir(raw: dict[str, Any], place: KeyPlace) -> None:
    """What a breather lets in is not shut in, nor under a pressure of its own."""
    for name in ("sealed", "pressure"):
        shut = raw.get(name) if name == "sealed" else name in raw
        only_with(raw, place, ("breather_drop",), not shut, f"without {name}")


class Table(NamedTuple):
    """A kind of part: its class, its keys, and what must hold between them."""

    make: Callable[..., Any]
    keys: tuple[Key, ...]
    check: Callable[[dict[str, Any], KeyPlace], None]


PARTS = {
    "reservoirs": Table(Reservoir, RESERVOIR, _check_reservoir),
    "intakes": Table(Intake, INTAKE, _check_intake),
    "fittings": Table(Fitting, FITTING, _check_fitting),
    "tees": Table(Tee, TEE, _check_tee),
    "pumps": Table(Pump, PUMP, _check_pump),
    "runs": Table(Run, RUN, _check_run),
}


def part(group: str, name: str, raw: Any, place: KeyPlace) -> Any:
    """Read one part; returns None after refusing it."""
    before = len(place.troubles)
    table = PARTS[group]
    values = fields(raw, place, table.keys)
    if isinstance(raw, dict):
        table.check(raw, place)
    return table.make(name=name, **values) if len(place.troubles) == before else None


_REDUCED = frozenset({"sea_level_pressure", "slp", "qff"})
"""What a pressure that was reduced to sea level with the day's temperature is called in a weather report."""


def site(raw: Any, place: KeyPlace) -> Site | None:
    """Read where the pump stands; returns None after refusing it."""
    before = len(place.troubles)
    if isinstance(raw, dict):
        for name in raw.keys() & _REDUCED:
            place.to(name).refuse(
                "a pressure reduced to sea level with the day's temperature",
                '"altimeter_setting" with "elevation", or "barometer" as read on the spot: the temperature '
                "it was reduced with is not known, so that it cannot be turned back",
            )
        raw = {name: value for name, value in raw.items() if name not in _REDUCED}
    values = fields(raw, place, SITE)
    if isinstance(raw, dict):
        if "elevation" not in raw and "barometer" not in raw:
            place.refuse(
                "neither elevation nor barometer", '"elevation", "barometer" (as read on the spot), or both'
            )
        known = "elevation" in raw and "barometer" not in raw
        why = "with elevation and without barometer: it becomes the pressure at that elevation"
        only_with(raw, place, ("altimeter_setting",), known, why)
    return Site(**values) if len(place.troubles) == before else None


def fluid(raw: Any, place: KeyPlace) -> FluidChoice | None:
    """Read the choice of fluid; returns None after refusing it."""
    before = len(place.troubles)
    values = fields(raw, place, FLUID)
    if isinstance(raw, dict):
        check_fluid(raw, place)
    return FluidChoice(**values) if len(place.troubles) == before else None


def check_fluid(raw: dict[str, Any], place: KeyPlace) -> None:
    """Refuse figures of a fluid that do not go together, or are missing of one that the catalogue has not."""
    catalogue, name = families.catalogue(), raw.get("name")
    if isinstance(name, str) and name not in catalogue and not {"density", "viscosity"} <= raw.keys():
        allowed = (
            f"{suggestion(name, catalogue)}one of {listed(catalogue)}, or any name with density and viscosity"
        )
        place.to("name").refuse(describe(name), allowed)
    family = catalogue.get(name) if isinstance(name, str) else None
    viscosity = raw.get("viscosity")
    one_pair = isinstance(viscosity, list) and len(viscosity) == 1
    indexed = family is not None and family.viscosity_index is not None
    if one_pair and not indexed and "viscosity_index" not in raw:
        allowed = "two pairs or more, or one with viscosity_index, or a single figure in quotes"
        place.to("viscosity").refuse("one pair", allowed)
    typed_alike = raw.get("line_temperature") in (None, raw.get("temperature"))
    if isinstance(viscosity, str) and not typed_alike:
        refused = f"{describe(raw['line_temperature'])}, where the one viscosity typed says nothing"
        place.to("line_temperature").refuse(refused, "a viscosity at two temperatures")
    grade = viscosity is None and (family is None or family.viscosity_40 is not None)
    when = "with one viscosity pair, or with an oil of the catalogue whose viscosity is not typed"
    only_with(raw, place, ("viscosity_index",), one_pair or grade, when)
