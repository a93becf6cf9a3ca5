"""The example drawings: each is whole, drawn so that a builder would believe it, and true to its story."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from shapely import LineString, Point, Polygon

from solver.field.diagnosis import diagnose
from solver.field.priming import Priming, priming
from solver.field.trend import trends
from solver.findings import checks
from solver.findings.judgement import judge
from solver.geometry import outline
from solver.layout import file
from solver.layout.file import Drawing
from solver.layout.parts import Layout, Run
from solver.ledger import solve
from solver.properties import sizes
from solver.quantities.units import System
from tests.records import nan_places

FOLDER = Path(__file__).resolve().parent.parent / "layouts"
FILES = tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))

# (drawing, alternative or "", pump) -> within its budget, and a finding that the story turns on
STORIES = {
    ("carriage-at-altitude", "", "carriage"): (False, "over the allowed vacuum"),
    ("carriage-at-altitude", "Three-inch suction line", "carriage"): (False, "over the allowed vacuum"),
    ("carriage-at-altitude", "Pump beside the tank", "carriage"): (True, None),
    ("baler-flooded", "", "baler"): (True, None),
    ("baler-flooded", "Cold morning", "baler"): (True, None),
    ("baler-flooded", "Filter in the line, half blocked", "baler"): (True, None),
    ("winter-press", "", "press"): (False, "over the allowed vacuum"),
    ("winter-press", "High-VI oil, ISO VG 32", "press"): (True, None),
    ("winter-press", "Tank heater to 10 °C", "press"): (True, None),
    ("glycol-on-the-oil-line", "", "caster"): (True, None),
    ("glycol-on-the-oil-line", "Water-glycol, same line", "caster"): (False, "over the allowed vacuum"),
    ("glycol-on-the-oil-line", "Water-glycol, pump lowered", "caster"): (True, "limit estimated"),
    ("header-two-pumps", "", "main"): (False, "suction velocity"),
    ("header-two-pumps", "", "pilot"): (True, None),
    ("header-two-pumps", "Main pump alone", "main"): (True, None),
    ("header-two-pumps", "Three-inch header", "main"): (True, None),
    ("header-two-pumps", "Three-inch header", "pilot"): (True, None),
    ("over-the-bund-wall", "", "transfer"): (True, "trapped high point"),
    ("over-the-bund-wall", "Sleeve through the wall", "transfer"): (True, None),
    ("shear-started-dry", "", "shear"): (True, "no foot valve"),
    ("shear-started-dry", "Foot valve and filling plug", "shear"): (True, "trapped high point"),
    ("shear-started-dry", "Pump beside the tank", "shear"): (True, None),
    ("strainer-over-a-year", "", "feed"): (True, None),
    ("strainer-over-a-year", "Twice the strainer", "feed"): (True, None),
    ("wash-water-npsh", "", "wash"): (True, None),
    ("wash-water-npsh", "Water at 80 °C", "wash"): (False, "over the allowed vacuum"),
    ("wash-water-npsh", "Water at 80 °C, pump in a dry pit", "wash"): (True, None),
}


@cache
def drawing(stem: str) -> Drawing:
    return file.read(FOLDER / f"{stem}.toml")


def layout(stem: str, alternative: str) -> Layout:
    return drawing(stem).alternatives[alternative].layout if alternative else drawing(stem).base


def every_layout() -> list[tuple[str, str]]:
    """(drawing, alternative or "") of all of them."""
    return [(stem, name) for stem in FILES for name in ("", *drawing(stem).alternatives)]


def at(point: tuple) -> tuple[float, float]:
    return point[0].si, point[1].si


def centre_line(layout: Layout, run: Run) -> LineString:
    ends = [at(layout.joint(name).at) for name in (run.start, run.end)]
    return LineString([ends[0], *map(at, run.via), ends[1]])


@pytest.mark.parametrize(("stem", "alternative"), every_layout())
def test_no_record_holds_nan(stem: str, alternative: str) -> None:
    assert nan_places(judge(layout(stem, alternative))) == []


def test_a_nan_in_a_record_is_seen() -> None:
    ledger = solve.solve(layout("winter-press", "")).pumps["press"]
    entries = (*ledger.entries[:-1], ledger.entries[-1]._replace(k=math.nan))
    assert nan_places({"press": replace(ledger, entries=entries)}) == [
        f"dict.[press].entries.[{len(entries) - 1}].k"
    ]


def test_nine_drawings_are_here() -> None:
    assert len(FILES) == 9


@pytest.mark.parametrize("stem", FILES)
def test_saving_an_untouched_drawing_changes_no_byte(stem: str) -> None:
    path = FOLDER / f"{stem}.toml"
    assert file.write(drawing(stem)).encode() == path.read_bytes()


@pytest.mark.parametrize("stem", FILES)
def test_title_notes_and_alternatives_tell_the_story(stem: str) -> None:
    example_drawing = drawing(stem)
    assert len(example_drawing.base.title) > 15
    assert len(example_drawing.base.notes.split()) > 40
    assert example_drawing.alternatives
    assert all(len(alternative.note.split()) > 3 for alternative in example_drawing.alternatives.values())


def test_both_unit_systems_are_shown() -> None:
    assert {drawing(stem).base.units for stem in FILES} == {"US customary", "SI"}


@pytest.mark.parametrize(("stem", "alternative"), every_layout())
def test_no_run_goes_through_a_tank_wall_but_at_a_nozzle(stem: str, alternative: str) -> None:
    """A line may leave through the lid; sides and floor are crossed nowhere else than at a wall nozzle."""
    drawing_layout = layout(stem, alternative)
    nozzles = [Point(at(i.at)) for i in drawing_layout.intakes.values() if i.kind == "wall nozzle"]
    for tank in drawing_layout.reservoirs.values():
        ring = Polygon([at(corner) for corner in tank.outline]).exterior
        rim = max(y for _, y in ring.coords)
        for run in drawing_layout.runs.values():
            met = ring.intersection(centre_line(drawing_layout, run))
            for spot in getattr(met, "geoms", [met] if not met.is_empty else []):
                assert spot.geom_type == "Point", f"{run.name} lies along a wall of {tank.name}"
                lid = spot.y == pytest.approx(rim)
                assert lid or any(spot.distance(nozzle) < 1e-6 for nozzle in nozzles), run.name


@pytest.mark.parametrize(("stem", "alternative"), every_layout())
def test_parts_and_runs_stand_clear_of_each_other(stem: str, alternative: str) -> None:
    drawing_layout = layout(stem, alternative)
    joints = [
        *drawing_layout.intakes.values(),
        *drawing_layout.fittings.values(),
        *drawing_layout.tees.values(),
        *drawing_layout.pumps.values(),
    ]
    for one, other in combinations(joints, 2):
        bore = max(part.bore.si if part.bore else sizes.bore(part.size or "") for part in (one, other))
        assert Point(at(one.at)).distance(Point(at(other.at))) >= 2.5 * bore, (one.name, other.name)
    for one, other in combinations(drawing_layout.runs.values(), 2):
        shared = {one.start, one.end} & {other.start, other.end}
        if not shared:
            assert centre_line(drawing_layout, one).distance(centre_line(drawing_layout, other)) > 0.15, (
                one.name,
                other.name,
            )


@pytest.mark.parametrize(("stem", "alternative"), every_layout())
def test_lines_run_square(stem: str, alternative: str) -> None:
    drawing_layout = layout(stem, alternative)
    for run in drawing_layout.runs.values():
        for (x0, y0), (x1, y1) in pairwise(centre_line(drawing_layout, run).coords):
            assert min(abs(x1 - x0), abs(y1 - y0)) < 1e-6, run.name


def test_every_pump_has_its_story() -> None:
    pumps = {(stem, name, pump) for stem, name in every_layout() for pump in layout(stem, name).pumps}
    assert pumps == set(STORIES)


@pytest.mark.parametrize(("stem", "alternative", "pump"), STORIES)
def test_the_story_is_true(stem: str, alternative: str, pump: str) -> None:
    solution = solve.solve(layout(stem, alternative))
    within, said = STORIES[stem, alternative, pump]
    assert solution.pumps[pump].within is within
    if said:
        assert said in {finding.finding for finding in checks.check(solution)}


def test_a_wider_line_helps_at_altitude_but_does_not_cure() -> None:
    margins = [
        solve.solve(layout("carriage-at-altitude", name)).pumps["carriage"].margin
        for name in ("", "Three-inch suction line", "Pump beside the tank")
    ]
    assert margins == sorted(margins)
    assert margins[1] < 0 < margins[2]


def test_glycol_raises_the_floor_and_the_lift() -> None:
    oil, glycol = (
        solve.solve(layout("glycol-on-the-oil-line", name)).pumps["caster"]
        for name in ("", "Water-glycol, same line")
    )
    assert glycol.floor > oil.floor
    assert sum(e.lift for e in glycol.entries) > 1.2 * sum(e.lift for e in oil.entries)


def test_the_header_is_paid_by_both_pumps_with_the_sum_of_their_flows() -> None:
    pumps = solve.solve(layout("header-two-pumps", "")).pumps
    header = {name: next(e for e in pumps[name].entries if e.part == "header") for name in pumps}
    total = sum(pump.flow for pump in pumps.values())
    for entry in header.values():
        assert entry.flow == pytest.approx(total)


def test_the_lowest_pressure_over_the_bund_wall_is_at_the_top() -> None:
    pump = solve.solve(layout("over-the-bund-wall", "")).pumps["transfer"]
    lowest = next(e for e in pump.entries if e.key == pump.lowest_at)
    assert lowest.part == "crossing"
    assert lowest.z == pytest.approx(max(e.z for e in pump.entries), abs=0.2)
    assert pump.lowest < pump.inlet


@pytest.mark.thorough
def test_a_year_of_readings_names_the_strainer_and_says_that_it_is_due() -> None:
    """What the notes say: at the last visit all other causes but one are out; the months lead to a date."""
    drawn = layout("strainer-over-a-year", "")
    diagnosis = diagnose(drawn, "feed")
    assert diagnosis.headline.startswith("Far likelier than any other: screen blocked: strainer")
    assert (len(diagnosis.comparisons), diagnosis.not_used) == (3, ())
    others = [each for each in diagnosis.causes[1:] if each.explanation.second is None]
    possible = {each.name for each in others if each.word != "cannot"}
    assert possible <= {"none of these", "bore narrowed: riser"}, "the riser begins at the screen"
    (trend,) = trends(drawn, "feed")
    assert trend.points[0].when.isoformat()[:10] == "2025-09-02", "since it was cleaned"
    shares = [point.open_share for point in trend.points]
    assert shares[0] > 0.9
    assert shares[-1] < 0.25
    assert trend.due_share is not None
    assert trend.due_share > shares[-1]
    assert trend.latest is not None
    assert trend.latest < trend.points[-1].when
    wider = trends(layout("strainer-over-a-year", "Twice the strainer"), "feed", "Twice the strainer")
    assert wider == (), "nobody has read a gauge on it"


def test_the_winter_press_is_over_in_the_cold_alone_and_worst_at_its_first_stroke() -> None:
    judgement = judge(layout("winter-press", ""))
    assert not judgement.not_judged
    over = {place.case for place in judgement.pumps_in_cases if not place.ledger.sound}
    assert over == {"as drawn", "coldest start", "first stroke"}
    worst = judgement.worst()
    assert worst is not None
    assert worst.case == "first stroke"
    for alternative in ("High-VI oil, ISO VG 32", "Tank heater to 10 °C"):
        assert judge(layout("winter-press", alternative)).sound, "it cures every case"


def test_each_pump_of_the_header_is_within_alone_and_the_main_one_over_together() -> None:
    judgement = judge(layout("header-two-pumps", ""))
    standing = {(place.case, place.pump): place.ledger.sound for place in judgement.pumps_in_cases}
    assert standing[("main alone", "main")]
    assert standing[("pilot alone", "pilot")]
    assert not standing[("as drawn", "main")]
    assert standing[("as drawn", "pilot")]
    alone = judgement.cases["main alone"].solution
    assert alone is not None
    assert set(alone.resting) == {"pilot"}
    assert not judge(layout("header-two-pumps", "Main pump alone")).not_judged


def test_the_shear_cannot_draw_its_line_full_and_its_alternatives_need_not() -> None:
    """What the notes say: lift and time are both past what the maker allows; filled by hand, or flooded."""

    def plan(alternative: str) -> Priming:
        return priming(solve.solve(layout("shear-started-dry", alternative)), "shear", System.SI)

    drawn = plan("")
    pump = layout("shear-started-dry", "").pumps["shear"]
    assert pump.dry_lift is not None
    assert pump.priming_time is not None
    assert drawn.lift == pytest.approx(1.35 + outline.bore(pump) / 2)
    assert drawn.lift > pump.dry_lift.si
    assert drawn.shortest_fill is not None
    assert drawn.shortest_fill > pump.priming_time.si
    assert (drawn.draws_dry, drawn.foot_valve, drawn.flooded) == (False, "", False)
    (pocket,) = drawn.pockets
    assert not pocket.below_level
    valved = plan("Foot valve and filling plug")
    assert (valved.foot_valve, valved.draws_dry) == ("foot valve", False)
    beside = plan("Pump beside the tank")
    assert (beside.flooded, beside.isolator, beside.pockets) == (True, "isolator", ())
