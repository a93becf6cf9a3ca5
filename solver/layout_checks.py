"""What must hold between the parts of a drawing: names, references, and what lies inside what."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from solver.layout import Baffle, Intake, Reservoir, Run
from solver.layout_reading import Place, Raw, describe, near

JOINTS = ("intakes", "fittings", "tees", "pumps")
"""The tables whose parts a run may end on."""

LONGEST_NAME = 200
ON_THE_OUTLINE = 1e-3
"""How far outside its reservoir's outline an intake may be drawn [m]: the rounding of a typed figure."""

Names = Mapping[str, Mapping[str, None]]


def check(raw: Raw, parts: Mapping[str, Mapping[str, Any]], place: Place) -> None:
    """Refuse what contradicts itself across the parts of one drawing.

    raw: the drawing as read, for the names of parts that could not be read themselves.
    parts: table -> name -> part, those that could be read.
    """
    names = {group: dict.fromkeys(_table(raw, group)) for group in parts}
    _check_names(names, place)
    for name, reservoir in parts["reservoirs"].items():
        _check_levels(reservoir, place.to("reservoirs").to(name))
    for name, run in parts["runs"].items():
        _check_ends(run, names, place.to("runs").to(name))
    for name, intake in parts["intakes"].items():
        here = place.to("intakes").to(name)
        if _check_reservoir(intake, names, here) and (tank := parts["reservoirs"].get(intake.reservoir)):
            _check_inside(intake, tank, here)


def _table(raw: Raw, group: str) -> Mapping[str, Any]:
    found = raw.get(group, {})
    return found if isinstance(found, dict) else {}


def _check_names(names: Names, place: Place) -> None:
    owner: dict[str, str] = {}
    for group, table in names.items():
        for name in table:
            here = place.to(group).to(name)
            if name in owner:
                found = f"a second part named {describe(name)}, after one in {owner[name]}"
                here.refuse(found, "each name once in a drawing")
            owner.setdefault(name, group)
            if not _is_name(name):
                allowed = f'a name of 1 to {LONGEST_NAME} printable characters without "/" and ">"'
                here.refuse(f"the name {describe(name)}", allowed)


def _is_name(name: str) -> bool:
    """Keys of elements are made of names with "/" and ">" between."""
    return 0 < len(name.strip()) <= LONGEST_NAME and name.isprintable() and not set(name) & set("/>")


def _check_ends(run: Run, names: Names, place: Place) -> None:
    for key, end in (("from", run.start), ("to", run.end)):
        if any(end in names[group] for group in JOINTS):
            continue
        what = next((f"which is in {group}" for group in names if end in names[group]), "which is no part")
        joints = [name for group in JOINTS for name in names[group]]
        hint = near(end, joints) + "an intake, fitting, tee or pump by name"
        place.to(key).refuse(f"{describe(end)}, {what}", hint)
    if run.start == run.end:
        place.to("to").refuse(f"{describe(run.end)}, where the run begins", "another part than in from")


def _check_reservoir(intake: Intake, names: Names, place: Place) -> bool:
    reservoirs = names["reservoirs"]
    if intake.reservoir not in reservoirs:
        place.to("reservoir").refuse(
            f"{describe(intake.reservoir)}, which is no reservoir",
            near(intake.reservoir, reservoirs) + "a reservoir by name",
        )
    return intake.reservoir in reservoirs


def _check_levels(reservoir: Reservoir, place: Place) -> None:
    heights = [y.si for _, y in reservoir.outline]
    floor, rim = min(heights), max(heights)
    corners = sorted(reservoir.outline, key=lambda corner: corner[1].si)
    between = f'above the floor at "{corners[0][1].text}" and not above the rim at "{corners[-1][1].text}"'
    for key in ("normal_level", "minimum_level"):
        level = getattr(reservoir, key)
        if not floor < level.si <= rim:
            side = "above the rim" if level.si > rim else "not above the floor"
            place.to(key).refuse(f'"{level.text}", {side}', between)
    if reservoir.minimum_level.si > reservoir.normal_level.si:
        place.to("minimum_level").refuse(
            f'"{reservoir.minimum_level.text}", above the normal level',
            f'at most the normal level "{reservoir.normal_level.text}"',
        )
    outline = _polygon(reservoir)
    if _check_outline(outline, place.to("outline")):
        _check_volume(reservoir, outline, place)
        _check_inner(reservoir, outline.bounds, place)


def _polygon(reservoir: Reservoir) -> Any:  # shapely ships no type information
    from shapely import Polygon

    return Polygon([(x.si, y.si) for x, y in reservoir.outline])


def _check_outline(outline: Any, place: Place) -> bool:
    if not outline.area > 0.0:
        place.refuse("an outline that encloses nothing", "corners around an area, in order")
    elif not outline.is_valid:
        place.refuse("an outline that crosses itself", "corners in order around the tank")
    else:
        return True
    return False


def _check_volume(reservoir: Reservoir, outline: Any, place: Place) -> None:
    """What cylinders draw out must be there, and a sealed reservoir needs gas that can expand."""
    from shapely import box

    left, floor, right, rim = outline.bounds
    drawn, normal = reservoir.draw_down, reservoir.normal_level
    if reservoir.sealed and not normal.si < rim:
        found = f'a sealed reservoir full to its rim at "{normal.text}"'
        place.to("sealed").refuse(found, "a normal level below the rim, for the gas that is shut in")
    if drawn is not None:
        held = outline.intersection(box(left, floor, right, max(normal.si, floor))).area * reservoir.depth.si
        if not drawn.si < held:
            found = f'"{drawn.text}", of the {held * 1000:.4g} L that it holds at its normal level'
            place.to("draw_down").refuse(found, "less than it holds")


def _check_inner(reservoir: Reservoir, bounds: tuple[float, float, float, float], place: Place) -> None:
    """What stands in a reservoir stands inside it."""
    if reservoir.return_at is not None:
        x, y = reservoir.return_at
        if not _inside(reservoir, x.si, y.si):
            place.to("return_at").refuse(
                f'["{x.text}", "{y.text}"], outside the outline',
                "a point inside the reservoir or on its wall",
            )
    if reservoir.baffle is not None:
        _check_baffle(reservoir.baffle, bounds, place.to("baffle"))


def _check_baffle(baffle: Baffle, bounds: tuple[float, float, float, float], place: Place) -> None:
    left, floor, right, rim = bounds
    if not left < baffle.x.si < right:
        place.to("x").refuse(f'"{baffle.x.text}", beside the reservoir', "an x between its walls")
    for name, edge in (("top", baffle.top), ("bottom", baffle.bottom)):
        if edge is not None and not floor <= edge.si <= rim:
            side = "above the rim" if edge.si > rim else "under the floor"
            place.to(name).refuse(f'"{edge.text}", {side}', "an elevation between floor and rim")
    if baffle.bottom is None and baffle.top.si <= floor:
        place.to("top").refuse(f'"{baffle.top.text}", at the floor', "an elevation above the floor")


def _check_inside(intake: Intake, reservoir: Reservoir, place: Place) -> None:
    x, y = intake.at
    if not _inside(reservoir, x.si, y.si):
        place.to("at").refuse(
            f'["{x.text}", "{y.text}"], outside the outline of {describe(reservoir.name)}',
            "a point inside the reservoir or on its wall",
        )


def _inside(reservoir: Reservoir, x: float, y: float) -> bool:
    corners = [(a.si, b.si) for a, b in reservoir.outline]
    inside = False
    for (ax, ay), (bx, by) in pairwise([*corners, corners[0]]):
        if _distance(x, y, ax, ay, bx, by) <= ON_THE_OUTLINE:
            return True
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def _distance(x: float, y: float, ax: float, ay: float, bx: float, by: float) -> float:
    along_x, along_y = bx - ax, by - ay
    square = along_x**2 + along_y**2
    share = ((x - ax) * along_x + (y - ay) * along_y) / square if square > 0.0 else 0.0
    share = min(1.0, max(0.0, share))
    return float(((x - ax - share * along_x) ** 2 + (y - ay - share * along_y) ** 2) ** 0.5)
