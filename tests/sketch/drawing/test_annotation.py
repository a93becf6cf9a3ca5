"""What is written on the sheet besides the line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.annotation import OVERHANG, SHORT, _crossing, _extend, highest_port, lift
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit
from sketch.drawing.placer import Placer
from sketch.drawing.recorder import Recorder
from sketch.look.colours import LIGHT
from solver.layout import file
from solver.layout.parts import Case
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from tests import drawings
from tests.sketch import samples
from tests.sketch.drawing.sheets import label, near, paint

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_the_lift_is_dimensioned_from_the_level_to_the_port() -> None:
    drawn, _, view = paint(drawings.stand(), samples.solution())
    text_label = label(drawn, "lift press", "lift")
    assert text_label.text == "lift 1.10 m"
    assert view.device(0, 1.6)[1] < text_label.box.y < text_label.box.bottom < view.device(0, 0.5)[1]


def test_the_credit_of_a_flooded_port_stands_alone_where_its_height_has_no_room() -> None:
    layout = file.read(next(path for path in drawings.SHIPPED if path.stem == "baler-flooded")).base
    known, texts = solve(layout), list[str]()
    for wide in (700.0, 190.0):
        view = fit(layout, wide, 300.0)
        pencil, placer = Recorder(1.0, Box(0.0, 0.0, wide, 300.0)), Placer(wide, 300.0)
        placer.block_text(Box(0.0, 0.0, 48.0, 300.0))  # the axis
        for symbol in (view.device(0.0, 0.2), view.device(0.6, 0.2)):
            placer.block_text(Box(symbol[0] - 30.0, 0.0, 20.0, 300.0))
        shown = lift(pencil, layout, known, "baler", view, LIGHT, System.SI, placer, pointed=False)
        assert shown is not None
        texts.append(shown.text)
    assert "flooded" in texts[0]
    assert texts[1] == texts[0].partition(" flooded")[0]


def test_the_line_from_a_port_to_its_dimension_ends_before_a_text_between_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    layout = file.read(next(path for path in drawings.SHIPPED if path.stem == "baler-flooded")).base
    ledger, view = solve(layout).pumps["baler"], fit(layout, 700.0, 300.0)
    port = view.device(*(each.si for each in layout.pumps["baler"].at))
    level, at = view.device(0.0, ledger.fluid_level)[1], port[0] - 400.0
    name = Box(port[0] - 300.0, port[1] - 8.0, 60.0, 16.0)
    for named, end in ((False, port[0] - 10.0), (True, name.x)):
        pencil, placer = Recorder(1.0, Box(0.0, 0.0, 700.0, 300.0)), Placer(700.0, 300.0)
        drawn = list[tuple[tuple[float, float], tuple[float, float]]]()
        monkeypatch.setattr(pencil, "lines", lambda lines, *_, drawn=drawn: drawn.extend(lines))
        if named:
            placer.block_text(name)
        _extend(pencil, layout, ledger, view, port, level, at, 10.0, LIGHT, placer)
        first, last = sorted(x for x, _ in drawn[0])
        assert first == pytest.approx(at - 5.0)
        assert last == pytest.approx(end, abs=4.0), "but for a cell of the grid"


def test_the_highest_port_is_dashed_across_the_sheet() -> None:
    drawn, image, view = paint(drawings.stand(), samples.solution(), highest_port=1.3)
    y = view.device(0.0, 1.3)[1]
    rows = [[image.pixelColor(x, round(y) + dy) for x in range(60, 990)] for dy in (-1, 0)]
    dashes = max(sum(near(colour, LIGHT.limit, 90) for colour in row) for row in rows)
    assert 0.4 * 930 < dashes < 0.8 * 930
    assert label(drawn, "highest port", "limit").text == "highest port 1.30 m"
    stand = drawings.stand()
    (pump,) = stand.pumps
    two = replace(stand, pumps={**stand.pumps, "other": replace(stand.pumps[pump], name="other")})
    drawn, _, _ = paint(two, samples.solution(), highest_port=1.3)
    assert label(drawn, "highest port", "limit").text.startswith(f"highest port of {pump} ")
    with_cases = replace(drawings.stand(), cases={"cold": Case()})
    drawn, _, _ = paint(with_cases, samples.solution(), highest_port=1.3)
    assert label(drawn, "highest port", "limit").text == "highest port 1.30 m in all cases"
    drawn, _, _ = paint(with_cases, samples.solution(), highest_port=90.0)
    assert label(drawn, "highest port", "limit").text == "highest port 90.0 m in all cases, above the view"
    drawn, _, _ = paint(with_cases, samples.solution(), highest_port=-90.0)
    said = label(drawn, "highest port", "limit").text
    assert said == "highest port −90.0 m in all cases, below the tank's floor"


@pytest.mark.parametrize(("height", "where"), [(90.0, "above the view"), (-90.0, "below the tank's floor")])
def test_a_highest_port_off_the_sheet_or_where_no_pump_can_stand_is_said(height: float, where: str) -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), highest_port=height)
    assert label(drawn, "highest port", "limit").text.endswith(where)


def test_no_highest_port_is_no_line() -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), highest_port=None)
    assert not [each for each in drawn.labels if each.kind == "limit"]


@pytest.mark.parametrize(("high", "crosses"), [(SHORT - 8.0, True), (SHORT + 8.0, False)])
def test_a_text_over_a_short_dimension_is_in_its_way_as_its_line_goes_past_its_ends(
    high: float, crosses: bool
) -> None:
    placer = Placer(400.0, 400.0)
    clear = _crossing((50.0, 200.0), 300.0, 200.0, 200.0 + high, 10.0, placer)
    placer.block_text(Box(260.0, 200.0 - OVERHANG, 80.0, 8.0))
    written = _crossing((50.0, 200.0), 300.0, 200.0, 200.0 + high, 10.0, placer)
    assert (written > clear) == crosses


def test_a_highest_port_with_no_room_for_its_figure_has_its_name() -> None:
    known, wide = samples.solution(), 160.0
    view = fit(known.layout, wide, 300.0)
    pencil, placer = Recorder(1.0, Box(0.0, 0.0, wide, 300.0)), Placer(wide, 300.0)
    placer.block_text(Box(0.0, 0.0, 48.0, 300.0))  # the axis
    height = view.world(0.0, 60.0)[1]
    short = highest_port(pencil, view, (wide, 300.0), height, LIGHT, System.SI, placer)
    assert short is not None
    assert short.text == "highest port"
    assert highest_port(pencil, view, (wide, 300.0), height, LIGHT, System.SI, placer, "in the tank") is None


@pytest.mark.parametrize(("height", "word"), [(0.59, "lift"), (0.49, "partly flooded"), (0.3, "flooded")])
def test_a_port_is_flooded_where_the_level_is_over_the_top_of_its_bore(height: float, word: str) -> None:
    """The level stands at 0.50 m; a port of 100 mm at 0.49 m reaches over it."""
    layout = drawings.stand()
    (name, press), *_ = layout.pumps.items()
    at = press.at[0], quantity(f"{height} m", Kind.LENGTH)
    layout = replace(
        layout, pumps={name: replace(press, at=at, size=None, bore=quantity("100 mm", Kind.BORE))}
    )
    view = fit(layout, 4000.0, 4000.0)
    pencil, placer = Recorder(1.0, Box(0.0, 0.0, 4000.0, 4000.0)), Placer(4000.0, 4000.0)
    shown = lift(pencil, layout, samples.solution(), name, view, LIGHT, System.SI, placer, pointed=False)
    assert shown is not None
    assert shown.text.startswith(f"{word} 0.")
