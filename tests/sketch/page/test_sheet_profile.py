"""The pressure profile on paper says whose it is."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.recorder import Recorder, _text
from sketch.drawing.separation import separated
from sketch.look.colours import LIGHT
from sketch.page import sheet_profile
from sketch.page.blocks import Paragraph, Picture
from sketch.page.options import option_of
from sketch.page.plot import Plot
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_profile import (
    NEVER_ENOUGH,
    _clear_of_line,
    _is_under,
    _middles,
    _runs_through,
    profile_part,
    to_break,
)
from sketch.plots.profile import OtherCaseLine, Profile, profile
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import RISER, twins
from tests.sketch.sheets import options_of, pages, panel_of, small_options, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_the_profile_is_of_the_worst_case_before_and_after() -> None:
    every = pages(written("winter-press", compared=True))
    page = " ".join(page for page in every if "Developed length" in page)
    assert 'The drawing itself: press, "first stroke"' in page
    assert 'High-VI oil, ISO VG 32: press, "first stroke"' in page
    worst = options_of("winter-press")[0].worst()
    assert worst is not None
    assert "Over by 5.81 inHg" in page
    assert "Developed length from the intake" in page


def test_a_floor_is_named_under_its_line_only_where_the_pressure_stays_above_it() -> None:
    for flow, under in (("100 L/min", True), ("400 L/min", False)):
        shown = profile(solve(twins("24 kPa", flow)), "press", System.SI)
        (floor,) = (level for level in shown.levels if level.role == "floor")
        low = min(min(each.y0, each.y1) for each in shown.stretches)
        assert (low >= floor.y) is under
        plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 20.0, floor.y + 20.0)
        assert _is_under(shown, floor, plot, 15.0) is under
        assert not _is_under(shown, floor, plot, 100.0)  # no room over the foot


def test_the_line_hides_no_name_of_a_level() -> None:
    (option,) = small_options()
    panel = panel_of(option)
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", (panel,), (option,))
    (picture,) = (block for block in profile_part(sheet) if isinstance(block, Picture))
    recorder = Recorder()
    picture.draw(recorder, LIGHT, Box(0.0, 0.0, 400.0, 150.0))
    words = [stroke.how[2] if stroke.draw is _text else "" for stroke in recorder.strokes]
    levels = [at for at, word in enumerate(words) if word.startswith(("Least", "Site"))]
    line = [
        at for at, each in enumerate(recorder.strokes) if each.draw is Pencil.lines and each.how[2] == 3.0
    ]
    assert len(levels) == 2
    assert line
    assert max(line) < min(levels)


def test_the_line_ends_where_its_column_breaks() -> None:
    """No fluid has a pressure under its vapour pressure: nothing is drawn or scaled to it."""
    text = RISER.replace('vacuum = "7 inHg"', 'vacuum = "5 inHg"').replace(
        'temperature = "45 degC"', 'temperature = "-15 degC"'
    )
    solution = solve(file.parse(text).base)
    assert solution.pumps["carriage"].breaks
    whole = profile(solution, "carriage", System.SI, [("again", solution.pumps["carriage"])])
    shown = to_break(whole)
    last = shown.stretches[-1]
    assert whole.stretches[-1].y1 < 0.0
    assert last.y1 == pytest.approx(0.0, abs=0.1)
    assert last.x0 <= last.x1 < whole.stretches[-1].x1
    (other,) = shown.others
    assert other.points[-1] == pytest.approx((last.x1, last.y1))


def test_a_line_that_does_not_break_is_left_whole() -> None:
    whole = profile(solve(twins()), "press", System.SI)
    assert to_break(whole) == whole


@pytest.mark.parametrize("apart", [2.0, 4.0, 12.0, 40.0])
@pytest.mark.parametrize("line", [-15.0, 30.0])
def test_no_line_goes_through_the_name_of_a_level(apart: float, line: float) -> None:
    """However close atmosphere and floor lie, where the line leaves room for both names."""
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    (atmosphere,) = (level for level in solved.levels if level.role == "atmosphere")
    levels = (replace(atmosphere, y=floor.y + apart), floor)
    stretches = tuple(replace(each, y0=floor.y + line, y1=floor.y + line) for each in solved.stretches)
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    step = 15.0
    shown = replace(solved, levels=levels, stretches=stretches)
    middles = _middles(Ruler(), plot, shown, levels, step, plot.box.bottom)
    heights = [plot.at(0.0, y)[1] for y in (levels[0].y, floor.y, floor.y + line)]
    placed = separated(middles, [step] * 2, plot.box.y, plot.box.bottom)
    assert placed[1] - placed[0] >= step - 1e-9
    assert min(abs(middle - height) for middle in placed for height in heights) >= 0.4 * step


def test_no_name_of_a_level_stands_over_the_key() -> None:
    """Though the line ends where the name of the floor would stand over it."""
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    stretches = tuple(replace(each, y0=floor.y + 8.0, y1=floor.y + 8.0) for each in solved.stretches)
    shown = replace(solved, levels=(floor,), stretches=stretches)
    low = Plot(Box(0.0, 0.0, 300.0, 100.0), 0.0, 1.0, floor.y - 20.0, floor.y + 80.0)
    high = Plot(Box(0.0, 0.0, 300.0, 100.0), 0.0, 1.0, floor.y - 40.0, floor.y + 60.0)
    for plot, side in ((low, -1), (high, 1)):
        (middle,) = _middles(Ruler(), plot, shown, (floor,), 15.0, plot.box.bottom)
        assert middle == plot.at(0.0, floor.y)[1] + side * 7.5


def test_a_name_that_the_line_runs_through_at_the_end_stands_elsewhere_along_its_level() -> None:
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    flat = replace(first, x0=0.0, x1=0.5, y0=floor.y + 50.0, y1=floor.y + 50.0)
    fall = replace(first, x0=0.5, x1=1.0, y0=floor.y + 50.0, y1=floor.y)
    shown = replace(solved, levels=(floor,), stretches=(flat, fall))
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    height = plot.at(0.0, floor.y)[1]
    usual = Box(200.0, height - 15.0, 92.0, 15.0)
    name = _clear_of_line(shown, plot, [usual], 0, [height])
    assert name.x < usual.x or name.y == height
    middle = name.y + name.height / 2
    assert not _runs_through(shown, plot, middle, (name.x, name.right), 6.0)
    assert _runs_through(shown, plot, usual.y + 7.5, (usual.x, usual.right), 6.0)
    clear = replace(shown, stretches=(flat,))
    assert _clear_of_line(clear, plot, [usual], 0, [height]) is usual


def test_a_name_stands_at_the_axis_where_it_is_clear_there_alone() -> None:
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    high = replace(first, x0=0.0, x1=0.42, y0=floor.y + 50.0, y1=floor.y + 50.0)
    fall = replace(first, x0=0.42, x1=0.42, y0=floor.y + 50.0, y1=floor.y - 8.0)
    along = replace(first, x0=0.42, x1=1.0, y0=floor.y - 8.0, y1=floor.y + 8.0)
    shown = replace(solved, levels=(floor,), stretches=(high, fall, along))
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    height = plot.at(0.0, floor.y)[1]
    name = _clear_of_line(shown, plot, [Box(178.0, height - 15.0, 120.0, 15.0)], 0, [height])
    assert 0.0 < name.x < name.height
    assert not _runs_through(shown, plot, name.y + 7.5, (name.x, name.right), 6.0)


def test_a_name_stands_off_its_level_where_the_line_runs_along_all_of_that() -> None:
    """And off the line, no farther than it must, with the names of other levels out of its way."""
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    ends = [(k / 8, floor.y + (8.0 if k % 2 else -8.0)) for k in range(9)]
    zigzag = [replace(first, x0=x0, x1=x1, y0=y0, y1=y1) for (x0, y0), (x1, y1) in pairwise(ends)]
    shown = replace(solved, levels=(floor,), stretches=tuple(zigzag))
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    height = plot.at(0.0, floor.y)[1]
    usual = Box(118.0, height - 15.0, 180.0, 15.0)
    above = Box(0.0, height - 31.0, 300.0, 15.0)
    for others in ((), (above,)):
        name = _clear_of_line(shown, plot, [usual, *others], 0, [height])
        assert name is not usual
        assert not any(name.overlaps(each) for each in others)
        assert not _runs_through(shown, plot, name.y + 7.5, (name.x, name.right), 6.0)
        assert abs(name.y + 7.5 - height) <= 3 * name.height


def test_a_long_name_finds_the_one_height_at_which_a_falling_line_leaves_it_room() -> None:
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    falls = replace(first, x0=0.0, x1=1.0, y0=floor.y + 11.0, y1=floor.y - 35.0)
    shown = replace(solved, levels=(floor,), stretches=(falls,))
    plot = Plot(Box(0.0, 0.0, 310.0, 92.0), 0.0, 1.0, floor.y - 52.0, floor.y + 40.0)
    height = plot.at(0.0, floor.y)[1]
    other = Box(130.0, height - 38.0, 178.0, 15.0)
    name = _clear_of_line(shown, plot, [Box(52.0, height, 256.0, 15.0), other], 0, [height])
    assert not name.overlaps(other)
    assert not _runs_through(shown, plot, name.y + 7.5, (name.x, name.right), 6.0)


@pytest.mark.parametrize(("name", "wide"), [("header-two-pumps", 360.0), ("winter-press", 340.0)])
def test_a_plot_as_narrow_as_a_column_names_its_levels_in_short(
    monkeypatch: pytest.MonkeyPatch, name: str, wide: float
) -> None:
    """In full the line would run through the name wherever it stands."""
    placed = list[tuple[str, bool]]()

    def clear_of_line(shown: Profile, plot: Plot, usual: list[Box], at: int, heights: list[float]) -> Box:
        box = _clear_of_line(shown, plot, usual, at, heights)
        placed.append((str(shown.levels), _runs_through(shown, plot, box.y + box.height / 2,
                                                        (box.x, box.right), 0.4 * box.height)))  # fmt: skip
        return box

    monkeypatch.setattr(sheet_profile, "_clear_of_line", clear_of_line)
    option, *_ = options_of(name)
    sheet = Sheet("", System.US, Level.MINIMUM, LIGHT, "", (panel_of(option),), (option,))
    (picture,) = (block for block in profile_part(sheet) if isinstance(block, Picture))
    for across, short in ((wide, True), (700.0, False)):
        placed.clear()
        picture.draw(Recorder(), LIGHT, Box(0.0, 0.0, across, 150.0))
        assert placed
        assert all(("Least inlet pressure" not in text) is short for text, _ in placed)
        assert all(", estimated" not in text for text, _ in placed) is short
        assert not any(through for _, through in placed)


def test_no_line_touches_the_letters_of_a_name() -> None:
    """It is as thick as a third of them."""
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    height = plot.at(0.0, floor.y)[1]
    usual = Box(118.0, height - 15.0, 180.0, 15.0)
    for over, moved in ((14.25, True), (16.5, False)):
        flat = replace(first, x0=0.0, x1=1.0, y0=floor.y + over, y1=floor.y + over)
        shown = replace(solved, levels=(floor,), stretches=(flat,))
        assert (_clear_of_line(shown, plot, [usual], 0, [height]) is not usual) == moved


def test_a_name_keeps_off_the_lines_of_other_cases_where_there_is_room() -> None:
    solved = profile(solve(twins("24 kPa", "100 L/min")), "press", System.SI)
    (floor,) = (level for level in solved.levels if level.role == "floor")
    first, *_ = solved.stretches
    flat = replace(first, x0=0.0, x1=1.0, y0=floor.y + 60.0, y1=floor.y + 60.0)
    other = OtherCaseLine("cold", "", ((0.0, floor.y + 5.0), (1.0, floor.y + 5.0)), sound=True)
    shown = replace(solved, levels=(floor,), stretches=(flat,), others=(other,))
    plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 80.0, floor.y + 80.0)
    height = plot.at(0.0, floor.y)[1]
    (middle,) = _middles(Ruler(), plot, replace(shown, stretches=()), (floor,), 15.0, plot.box.bottom)
    assert middle == height + 7.5
    over = Box(200.0, height - 15.0, 92.0, 15.0)
    assert _clear_of_line(shown, plot, [over], 0, [height]).y == height


def test_a_floor_above_the_pressure_on_the_fluid_is_explained_in_words() -> None:
    text = RISER.replace('elevation = "0 m"', 'elevation = "8000 m"')
    for drawn, there in ((RISER, False), (text, True)):
        option = option_of("", "", file.parse(drawn).base, Level.MINIMUM, System.US)
        panel = panel_of(option)
        assert (panel.ledger.budget <= 0.0) is there
        sheet = Sheet("", System.US, Level.MINIMUM, LIGHT, "", (panel,), (option,))
        assert (
            any(block == Paragraph(NEVER_ENOUGH, quiet=True, keep=True) for block in profile_part(sheet))
            is there
        )
