"""The keys of every table of a drawing, in the order in which they are written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from solver import fluid as fluids
from solver import sizes
from solver.layout import (
    BENDS,
    FITTING_KINDS,
    INTAKE_KINDS,
    LIMIT_FORMS,
    PUMP_TYPES,
    UNIT_SYSTEMS,
    Fitting,
    FluidChoice,
    Intake,
    Limit,
    Pump,
    Reservoir,
    Run,
    Screen,
    Site,
    Tee,
)
from solver.layout_reading import (
    ANY,
    BELOW_ONE,
    BELOW_SEA_LEVEL,
    NOT_NEGATIVE,
    POSITIVE,
    TROPOSPHERE,
    Key,
    Place,
    Range,
    amount,
    amount_or_pairs,
    at_most_one,
    choice,
    describe,
    exactly_one,
    fields,
    figure,
    flag,
    listed,
    near,
    only_with,
    pairs,
    point,
    points,
    size,
    text,
)
from solver.units import Kind

_length = amount(Kind.LENGTH, POSITIVE)
_elevation = amount(Kind.ELEVATION)
_temperature = amount(Kind.TEMPERATURE)
_pressure = amount(Kind.PRESSURE, POSITIVE)
_flow = amount(Kind.FLOW, POSITIVE)
_speed = amount(Kind.SPEED, POSITIVE)
_density = amount(Kind.DENSITY, POSITIVE)
_viscosity = amount(Kind.VISCOSITY, POSITIVE)
_SIZED = (Key("size", size), Key("bore", amount(Kind.BORE, POSITIVE)))


def _screen(value: Any, place: Place) -> Screen | None:
    before = len(place.troubles)
    values = fields(value, place, SCREEN)
    if isinstance(value, dict):
        _check_screen(value, place, values)
    return Screen(**values) if len(place.troubles) == before else None


def _check_screen(raw: dict[str, Any], place: Place, values: dict[str, Any]) -> None:
    exactly_one(raw, place, "mesh", "drops")
    if "drops" in raw:
        only_with(raw, place, ("wire", "area"), "mesh" in raw, "with mesh")
        needed: tuple[str, ...] = ("viscosity", "density")
    else:
        only_with(raw, place, ("viscosity", "density"), False, "with drops, as the maker measured them")
        needed = ("wire", "area")
    for name in needed if {"mesh", "drops"} & raw.keys() else ():
        if name not in raw:
            place.to(name).refuse("nothing", f'the key "{name}", which is required here')
    mesh, wire = values.get("mesh"), values.get("wire")
    if mesh and wire and mesh.si * wire.si >= 1.0:
        place.to("wire").refuse(
            f'"{wire.text}" at "{mesh.text}", which leaves no opening', "a wire thinner than its pitch"
        )


def _limit(value: Any, place: Place) -> Limit | None:
    before = len(place.troubles)
    values = fields(value, place, LIMIT)
    if isinstance(value, dict):
        exactly_one(value, place, *LIMIT_FORMS)
    if len(place.troubles) > before:
        return None
    form, table = next(iter(values.items()))
    return Limit(form, table if isinstance(table, tuple) else ((None, table),))


def _over_speed(kind: Kind, allowed: Range) -> Callable[[Any, Place], Any]:
    single = amount(kind, allowed)
    table = pairs(amount(Kind.SPEED, POSITIVE), single)

    def read(value: Any, place: Place) -> Any:
        return table(value, place) if isinstance(value, list) else single(value, place)

    return read


SCREEN = (
    Key("mesh", amount(Kind.WIRES, POSITIVE)),
    Key("wire", _length),
    Key("area", amount(Kind.AREA, POSITIVE)),
    Key("drops", pairs(_flow, _pressure)),
    Key("viscosity", _viscosity),
    Key("density", _density),
    Key("blocked", figure(BELOW_ONE)),
    Key("bypass", _pressure),
)
LIMIT = (
    Key("vacuum", _over_speed(Kind.VACUUM, BELOW_SEA_LEVEL)),
    Key("pressure", _over_speed(Kind.PRESSURE, POSITIVE)),
    Key("npsh", _over_speed(Kind.HEAD, POSITIVE)),
)
SITE = (
    Key("elevation", amount(Kind.ELEVATION, TROPOSPHERE)),
    Key("barometer", _pressure),
    Key("weather_allowance", amount(Kind.PRESSURE, NOT_NEGATIVE)),
)
FLUID = (
    Key("name", text, True),
    Key("temperature", _temperature, True),
    Key("coldest_start", _temperature),
    Key("density", amount_or_pairs(Kind.DENSITY, POSITIVE)),
    Key("viscosity", amount_or_pairs(Kind.VISCOSITY, POSITIVE, falling=True)),
    Key("viscosity_index", figure(ANY)),
    Key("vapor_pressure", amount_or_pairs(Kind.PRESSURE, NOT_NEGATIVE)),
    Key("dissolved_air", figure(BELOW_ONE)),
)
RESERVOIR = (
    Key("outline", points(3, "corners"), True),
    Key("depth", _length, True),
    Key("normal_level", _elevation, True),
    Key("minimum_level", _elevation, True),
    Key("pressure", amount(Kind.PRESSURE)),
)
INTAKE = (
    Key("reservoir", text, True),
    Key("at", point, True),
    Key("kind", choice(INTAKE_KINDS), True),
    *_SIZED,
    Key("screen", _screen),
)
FITTING = (
    Key("at", point, True),
    Key("kind", choice(FITTING_KINDS), True),
    *_SIZED,
    Key("k", figure(NOT_NEGATIVE)),
    Key("kv", amount(Kind.FLOW_COEFFICIENT_KV, POSITIVE)),
    Key("cv", amount(Kind.FLOW_COEFFICIENT_CV, POSITIVE)),
    Key("drop", amount(Kind.PRESSURE, NOT_NEGATIVE)),
    Key("flow", _flow),
    Key("screen", _screen),
)
TEE = (Key("at", point, True), *_SIZED)
PUMP = (
    Key("at", point, True),
    *_SIZED,
    Key("type", choice(PUMP_TYPES), True),
    Key("displacement", amount(Kind.DISPLACEMENT, POSITIVE)),
    Key("speed", _speed),
    Key("flow", _flow),
    Key("rated_speed", _speed),
    Key("rated_density", _density),
    Key("limit", _limit, True),
    Key("start_viscosity", _viscosity),
    Key("credit", flag),
)
RUN = (
    Key("from", text, True, "start"),
    Key("to", text, True, "end"),
    Key("via", points(0, "bends")),
    *_SIZED,
    Key("material", choice(tuple(sizes.ROUGHNESS))),
    Key("roughness", amount(Kind.BORE, NOT_NEGATIVE)),
    Key("bend", choice(BENDS)),
    Key("bend_radius", _length),
    Key("out_of_plane", amount(Kind.LENGTH, NOT_NEGATIVE)),
)
TOP = (
    Key("title", text),
    Key("notes", text),
    Key("units", choice(UNIT_SYSTEMS)),
)


def _check_fitting(raw: dict[str, Any], place: Place) -> None:
    exactly_one(raw, place, "size", "bore")
    kind = raw.get("kind")
    if kind == "flow coefficient":
        exactly_one(raw, place, "kv", "cv")
    for needed_by, name in (("known K", "k"), ("known drop", "drop"), ("filter", "screen")):
        if kind == needed_by and name not in raw:
            place.to(name).refuse("nothing", f'the key "{name}", which a {needed_by} needs')
        only_with(raw, place, (name,), kind == needed_by, f'with kind = "{needed_by}"')
    only_with(raw, place, ("kv", "cv"), kind == "flow coefficient", 'with kind = "flow coefficient"')
    only_with(raw, place, ("flow",), "drop" in raw, "with drop: the flow at which it holds")


def _check_intake(raw: dict[str, Any], place: Place) -> None:
    exactly_one(raw, place, "size", "bore")
    strainer = raw.get("kind") == "strainer"
    if strainer and "screen" not in raw:
        place.to("screen").refuse("nothing", 'the key "screen", which a strainer needs')
    only_with(raw, place, ("screen",), strainer, 'with kind = "strainer"')


def _check_tee(raw: dict[str, Any], place: Place) -> None:
    exactly_one(raw, place, "size", "bore")


def _check_pump(raw: dict[str, Any], place: Place) -> None:
    exactly_one(raw, place, "size", "bore")
    if "flow" not in raw and not {"displacement", "speed"} <= raw.keys():
        place.refuse(
            "neither a flow nor a displacement with a speed", '"flow", or both "displacement" and "speed"'
        )


def _check_run(raw: dict[str, Any], place: Place) -> None:
    exactly_one(raw, place, "size", "bore")
    at_most_one(raw, place, "material", "roughness")
    at_most_one(raw, place, "bend", "bend_radius")


def _check_nothing(raw: dict[str, Any], place: Place) -> None:
    """A reservoir needs no more than its keys one by one."""


class Table(NamedTuple):
    """A kind of part: its class, its keys, and what must hold between them."""

    make: Callable[..., Any]
    keys: tuple[Key, ...]
    check: Callable[[dict[str, Any], Place], None]


PARTS = {
    "reservoirs": Table(Reservoir, RESERVOIR, _check_nothing),
    "intakes": Table(Intake, INTAKE, _check_intake),
    "fittings": Table(Fitting, FITTING, _check_fitting),
    "tees": Table(Tee, TEE, _check_tee),
    "pumps": Table(Pump, PUMP, _check_pump),
    "runs": Table(Run, RUN, _check_run),
}


def part(group: str, name: str, raw: Any, place: Place) -> Any:
    """Read one part; returns None after refusing it."""
    before = len(place.troubles)
    table = PARTS[group]
    values = fields(raw, place, table.keys)
    if isinstance(raw, dict):
        table.check(raw, place)
    return table.make(name=name, **values) if len(place.troubles) == before else None


def site(raw: Any, place: Place) -> Site | None:
    """Read where the pump stands; returns None after refusing it."""
    before = len(place.troubles)
    values = fields(raw, place, SITE)
    if isinstance(raw, dict):
        exactly_one(raw, place, "elevation", "barometer")
    return Site(**values) if len(place.troubles) == before else None


def fluid(raw: Any, place: Place) -> FluidChoice | None:
    """Read the choice of fluid; returns None after refusing it."""
    before = len(place.troubles)
    values = fields(raw, place, FLUID)
    if isinstance(raw, dict):
        _check_fluid(raw, place)
    return FluidChoice(**values) if len(place.troubles) == before else None


def _check_fluid(raw: dict[str, Any], place: Place) -> None:
    catalogue, name = fluids.catalogue(), raw.get("name")
    if isinstance(name, str) and name not in catalogue and not {"density", "viscosity"} <= raw.keys():
        allowed = f"{near(name, catalogue)}one of {listed(catalogue)}, or any name with density and viscosity"
        place.to("name").refuse(describe(name), allowed)
    family = catalogue.get(name) if isinstance(name, str) else None
    viscosity = raw.get("viscosity")
    one_pair = isinstance(viscosity, list) and len(viscosity) == 1
    indexed = family is not None and family.viscosity_index is not None
    if one_pair and not indexed and "viscosity_index" not in raw:
        allowed = "two pairs or more, or one with viscosity_index, or a single figure in quotes"
        place.to("viscosity").refuse("one pair", allowed)
    grade = viscosity is None and (family is None or family.viscosity_40 is not None)
    when = "with one viscosity pair, or with an oil of the catalogue whose viscosity is not typed"
    only_with(raw, place, ("viscosity_index",), one_pair or grade, when)
