"""What a copied part has of its original, in the cases and in alternatives."""

from __future__ import annotations

from dataclasses import replace

from sketch.editing import clipping, copies
from sketch.model.alternatives import with_copies
from sketch.model.drawing_state import State, trouble_of_alternatives
from solver.layout import file
from solver.layout.cases import layout_in_case
from solver.layout.file import Alternative
from solver.quantities import units
from solver.quantities.units import Kind
from tests.drawings import SHIPPED

DRAWING = file.read(next(path for path in SHIPPED if path.stem == "header-two-pumps"))
HEADER = DRAWING.base
SLOWER = Alternative(
    "",
    replace(
        HEADER,
        pumps={
            **HEADER.pumps,
            "pilot": replace(HEADER.pumps["pilot"], speed=units.quantity("900 rpm", Kind.SPEED)),
        },
    ),
)
PILOT = clipping.copied(HEADER, ["pilot leg"])


def test_a_copied_pump_rests_where_its_original_does() -> None:
    paste = clipping.pasted(HEADER, PILOT, 0.5, -0.5)
    assert paste.copies == {"split": "split 2", "pilot": "pilot 2", "pilot leg": "pilot leg 2"}
    resting = {
        name: {pump.name for pump in layout_in_case(paste.layout, name, case).pumps.values() if pump.at_rest}
        for name, case in paste.layout.cases.items()
    }
    assert resting["main alone"] == {"pilot", "pilot 2"}
    assert resting["pilot alone"] == {"main"}


def test_a_copy_of_a_part_that_is_another_here_takes_nothing_over() -> None:
    other = PILOT.replace('speed = "', 'speed = "1')
    paste = clipping.pasted(HEADER, other, 0.5, -0.5)
    assert "pilot" not in paste.copies
    assert (
        not layout_in_case(paste.layout, "main alone", paste.layout.cases["main alone"])
        .pumps["pilot 2"]
        .at_rest
    )
    assert copies.cases_without(paste.layout, ["pilot 2"]) == ("main alone", "pilot alone")
    assert copies.cases_without(paste.layout, ["pilot", "pilot 2"]) == ("pilot alone",)


def test_figures_of_tanks_and_screens_go_along() -> None:
    text = (SHIPPED[0].parent / "carriage-at-altitude.toml").read_text("utf-8")
    text += """
[cases.late]
level = "normal"
levels.tank = "2 ft"
reservoirs.tank.pressure = "1 psi"
intakes.strainer.screen.blocked = 0.5
"""
    layout = file.parse(text).base
    paste = clipping.pasted(layout, clipping.copied(layout, ["tank", "strainer"]), 3.0, 0.0)
    late = paste.layout.cases["late"]
    assert late.table["levels"]["tank 2"] == "2 ft"
    held = layout_in_case(paste.layout, "late", late)
    assert held.intakes["strainer 2"].screen.blocked == 0.5  # type: ignore[union-attr]
    assert held.reservoirs["tank 2"].pressure == held.reservoirs["tank"].pressure
    assert file.parse(file.write(file.Drawing(paste.layout))).base.cases["late"].figures == late.figures


def test_an_alternative_has_the_copy_as_it_has_the_original() -> None:
    paste = clipping.pasted(HEADER, PILOT, 0.5, -0.5)
    state = State(replace(DRAWING, alternatives={**DRAWING.alternatives, "slower": SLOWER}), "")
    after = with_copies(state, paste.layout, paste.copies).drawing
    assert not trouble_of_alternatives(after)
    kept = {name: each.layout for name, each in after.alternatives.items()}
    assert "pilot 2" not in kept["Main pump alone"].pumps
    assert "pilot leg 2" not in kept["Main pump alone"].runs
    assert kept["Three-inch header"].tees["split 2"].size == "NPS 3 schedule 40"
    slower = kept["slower"]
    assert slower.pumps["pilot 2"].speed == SLOWER.layout.pumps["pilot"].speed
    assert slower.pumps["pilot 2"].at == paste.layout.pumps["pilot 2"].at
    assert layout_in_case(slower, "main alone", slower.cases["main alone"]).pumps["pilot 2"].at_rest
    again = file.parse(file.write(after))
    assert {name: each.layout for name, each in again.alternatives.items()} == kept
