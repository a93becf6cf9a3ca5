"""What must hold between the parts of a drawing: names, references, and what lies inside what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from solver.layout import shapes
from solver.layout.parts import Baffle, Point, Reservoir
from solver.layout.reading import KeyPlace, Raw, amount, describe, point, points
from solver.layout.suggestions import suggestion
from solver.quantities.units import Kind, Quantity

JOINTS = ("intakes", "fittings", "tees", "pumps")
"""The tables whose parts a run may end on."""

LONGEST_NAME = 200
ON_THE_OUTLINE = 1e-3
"""How far outside its reservoir's outline an intake may be drawn [m]: the rounding of a typed figure."""

FARTHEST = 1000.0
"""Between the height of a port and that of the reservoirs, at most [m]: beyond it a unit was mistaken."""

Names = Mapping[str, Mapping[str, None]]
Outline = tuple[Point, ...]

_LEVELS = ("normal_level", "minimum_level")
_level, _corners = amount(Kind.ELEVATION), points(3, "corners")


def check(raw: Raw, parts: Mapping[str, Mapping[str, Any]], place: KeyPlace) -> None:
    """Refuse what contradicts itself across the parts of one drawing.

    raw: the drawing as read, for the names of parts that could not be read themselves.
    parts: table -> name -> part, those that could be read.
    """
    names = {group: dict.fromkeys(_table(raw, group)) for group in parts}
    _check_names(names, place)
    outlines = {}
    for name, table in _tables(raw, "reservoirs"):
        part_place = place.to("reservoirs").to(name)
        outline, levels = _outline_and_levels(table)
        if outline is not None:
            outlines[name] = outline
            _check_levels(outline, levels, part_place)
        if reservoir := parts["reservoirs"].get(name):
            _check_room(reservoir, part_place)
    for name, pump in parts["pumps"].items():
        _check_height(pump.at[1], outlines, place.to("pumps").to(name).to("at"))
    for name, table in _tables(raw, "runs"):
        _check_ends(table, names, place.to("runs").to(name))
    for name, table in _tables(raw, "intakes"):
        part_place, tank = place.to("intakes").to(name), table.get("reservoir")
        if isinstance(tank, str) and _check_reservoir(tank, names, part_place) and tank in outlines:
            _check_inside(table, tank, outlines[tank], part_place)


def _tables(raw: Raw, group: str) -> Iterator[tuple[str, Raw]]:
    """The parts of a group as they are typed, those among them that could not be read whole."""
    for name, table in _table(raw, group).items():
        if isinstance(table, dict):
            yield name, table


def _outline_and_levels(raw: Raw) -> tuple[Outline | None, dict[str, Quantity]]:
    """What can be read of a reservoir; what cannot has been refused by now."""
    quiet = KeyPlace((), [])
    levels = {key: _level(raw[key], quiet) for key in _LEVELS if key in raw}
    return _corners(raw.get("outline"), quiet), {key: level for key, level in levels.items() if level}


def _table(raw: Raw, group: str) -> Mapping[str, Any]:
    table = raw.get(group, {})
    return table if isinstance(table, dict) else {}


def _check_names(names: Names, place: KeyPlace) -> None:
    owner: dict[str, str] = {}
    for group, table in names.items():
        for name in table:
            part_place = place.to(group).to(name)
            if name in owner:
                refused = f"a second part named {describe(name)}, after one in {owner[name]}"
                part_place.refuse(refused, "each name once in a drawing")
            owner.setdefault(name, group)
            if not _is_name(name):
                allowed = f'a name of 1 to {LONGEST_NAME} printable characters without "/" and ">"'
                part_place.refuse(f"the name {describe(name)}", allowed)


def _is_name(name: str) -> bool:
    """Keys of elements are made of names with "/" and ">" between."""
    return 0 < len(name.strip()) <= LONGEST_NAME and name.isprintable() and not set(name) & set("/>")


def _check_ends(run: Raw, names: Names, place: KeyPlace) -> None:
    ends = {key: run[key] for key in ("from", "to") if isinstance(run.get(key), str)}
    for key, end in ends.items():
        if any(end in names[group] for group in JOINTS):
            continue
        what = next((f"which is in {group}" for group in names if end in names[group]), "which is no part")
        joints = [name for group in JOINTS for name in names[group]]
        hint = suggestion(end, joints) + "an intake, fitting, tee or pump by name"
        place.to(key).refuse(f"{describe(end)}, {what}", hint)
    if len(ends) == 2 and ends["from"] == ends["to"]:
        place.to("to").refuse(f"{describe(ends['to'])}, where the run begins", "another part than in from")


def _check_reservoir(name: str, names: Names, place: KeyPlace) -> bool:
    reservoirs = names["reservoirs"]
    if name not in reservoirs:
        place.to("reservoir").refuse(
            f"{describe(name)}, which is no reservoir", suggestion(name, reservoirs) + "a reservoir by name"
        )
    return name in reservoirs


def _check_height(port: Quantity, outlines: Mapping[str, Outline], place: KeyPlace) -> None:
    """No fluid is lifted so high: a unit was mistaken, and the ledger would say no more than "over"."""
    heights = [y.si for outline in outlines.values() for _, y in outline]
    if heights and not min(heights) - FARTHEST <= port.si <= max(heights) + FARTHEST:
        place.refuse(f'a port at "{port.text}"', f"a height within {FARTHEST:g} m of a reservoir")


def _check_levels(outline: Outline, levels: Mapping[str, Quantity], place: KeyPlace) -> None:
    for key, level in levels.items():
        if problem := level_problem(outline, level):
            place.to(key).refuse(*problem)
    normal, minimum = (levels.get(key) for key in _LEVELS)
    if normal and minimum and minimum.si > normal.si:
        refused = f'"{minimum.text}", above the normal level'
        place.to("minimum_level").refuse(refused, f'at most the normal level "{normal.text}"')


def level_problem(outline: Outline, level: Quantity) -> tuple[str, str] | None:
    """What keeps the fluid of a reservoir from standing at a level: (found, allowed); None where nothing."""
    heights = [y.si for _, y in outline]
    floor, rim = min(heights), max(heights)
    if floor < level.si <= rim:
        return None
    corners = sorted(outline, key=lambda corner: corner[1].si)
    between = f'above the floor at "{corners[0][1].text}" and not above the rim at "{corners[-1][1].text}"'
    side = "above the rim" if level.si > rim else "not above the floor"
    return f'"{level.text}", {side}', between


def read_levels(value: Any, parts: Mapping[str, Mapping[str, Any]], place: KeyPlace) -> dict[str, Quantity]:
    """Read where the fluid stands, by reservoir. `parts`: table -> name -> part, those that could be read."""
    levels: dict[str, Quantity] = {}
    if not isinstance(value, dict):
        place.refuse(describe(value), "elevations by the names of reservoirs")
        return levels
    for name, typed in value.items():
        tank, level = parts["reservoirs"].get(name), _level(typed, place.to(name))
        if tank is None:
            hint = suggestion(name, parts["reservoirs"]) + "a reservoir by name"
            place.to(name).refuse(f"{describe(name)}, which is no reservoir", hint)
        elif level is not None and (problem := level_problem(tank.outline, level)):
            place.to(name).refuse(*problem)
        elif level is not None:
            levels[name] = level
    return levels


def _check_room(reservoir: Reservoir, place: KeyPlace) -> None:
    outline = shapes.polygon(reservoir.outline)
    if _check_outline(outline, place.to("outline")):
        _check_volume(reservoir, outline, place)
        _check_inner(reservoir, outline.bounds, place)


def _check_outline(outline: Any, place: KeyPlace) -> bool:
    if not outline.area > 0.0:
        place.refuse("an outline that encloses nothing", "corners around an area, in order")
    elif not outline.is_valid:
        place.refuse("an outline that crosses itself", "corners in order around the tank")
    else:
        return True
    return False


def _check_volume(reservoir: Reservoir, outline: Any, place: KeyPlace) -> None:
    """What cylinders draw out must be there, and a sealed reservoir needs gas that can expand."""
    from shapely import box

    left, floor, right, rim = outline.bounds
    drawn, normal = reservoir.draw_down, reservoir.normal_level
    if reservoir.sealed and not normal.si < rim:
        refused = f'a sealed reservoir full to its rim at "{normal.text}"'
        place.to("sealed").refuse(refused, "a normal level below the rim, for the gas that is shut in")
    if drawn is not None:
        held = outline.intersection(box(left, floor, right, max(normal.si, floor))).area * reservoir.depth.si
        if not drawn.si < held:
            refused = f'"{drawn.text}", of the {held * 1000:.4g} L that it holds at its normal level'
            place.to("draw_down").refuse(refused, "less than it holds")


def _check_inner(reservoir: Reservoir, bounds: tuple[float, float, float, float], place: KeyPlace) -> None:
    """What stands in a reservoir stands inside it."""
    if reservoir.return_at is not None:
        x, y = reservoir.return_at
        if shapes.distance(reservoir.outline, x.si, y.si) > ON_THE_OUTLINE:
            place.to("return_at").refuse(
                f'["{x.text}", "{y.text}"], outside the outline',
                "a point inside the reservoir or on its wall",
            )
    if reservoir.baffle is not None:
        _check_baffle(reservoir.baffle, bounds, place.to("baffle"))


def _check_baffle(baffle: Baffle, bounds: tuple[float, float, float, float], place: KeyPlace) -> None:
    left, floor, right, rim = bounds
    if not left < baffle.x.si < right:
        place.to("x").refuse(f'"{baffle.x.text}", beside the reservoir', "an x between its walls")
    for name, edge in (("top", baffle.top), ("bottom", baffle.bottom)):
        if edge is not None and not floor <= edge.si <= rim:
            side = "above the rim" if edge.si > rim else "under the floor"
            place.to(name).refuse(f'"{edge.text}", {side}', "an elevation between floor and rim")
    if baffle.bottom is None and baffle.top.si <= floor:
        place.to("top").refuse(f'"{baffle.top.text}", at the floor', "an elevation above the floor")


def _check_inside(intake: Raw, reservoir: str, outline: Outline, place: KeyPlace) -> None:
    at = point(intake.get("at"), KeyPlace((), []))
    if at is not None and shapes.distance(outline, at[0].si, at[1].si) > ON_THE_OUTLINE:
        place.to("at").refuse(
            f'["{at[0].text}", "{at[1].text}"], outside the outline of {describe(reservoir)}',
            "a point inside the reservoir or on its wall",
        )
