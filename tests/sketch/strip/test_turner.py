"""One knob of the strip: name, slider, field, and a button back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QStatusTipEvent
from PySide6.QtWidgets import QApplication, QInputDialog
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.editing.beginning import STARTERS
from sketch.look.refused import refused_texts
from sketch.look.words import tooltip, without_no_break
from sketch.model.document import Document
from sketch.strip.whatif import WhatIfStrip
from sketch.views import case_making
from solver.quantities import units
from solver.quantities.units import Kind, System
from tests.drawings import SHIPPED
from tests.sketch.shown import opened, shown
from tests.sketch.strip.strips import LEFT, height, slide, type_in
from tests.thorough import one_in


@pytest.mark.thorough
def test_keys_on_a_slider_go_by_its_step_and_make_one_step_while_they_run(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    turner = strip.turners["Port height"]
    turner.scale.setFocus()
    for _ in range(3):
        qtbot.keyClick(turner.scale, Qt.Key.Key_Right)
    assert height(document).text == "1.03 m"
    assert document.undo_stack.count() == 1
    qtbot.waitUntil(lambda: not turner.turning.active, timeout=3000)
    qtbot.keyClick(turner.scale, Qt.Key.Key_Right)
    assert document.undo_stack.count() == 2


def test_a_key_goes_by_a_step_past_the_figure_that_an_unsaved_drawing_began_with(qtbot: QtBot) -> None:
    (starter,) = (each for each in STARTERS if each.name == "Pump above its tank")
    document = Document()
    document.begin(starter.make(System.US))  # its port stands at 3 ft, which is 0.9144 m
    document.set_system(System.SI)
    strip = shown(qtbot, WhatIfStrip(document), 1060, 80)
    turner = strip.turners["Port height"]
    type_in(qtbot, turner, "0.93")
    turner.scale.setFocus()
    qtbot.keyClick(turner.scale, Qt.Key.Key_Left)
    qtbot.keyClick(turner.scale, Qt.Key.Key_Left)
    assert document.layout.pumps["pump"].at[1].si == pytest.approx(0.91)
    slide(qtbot, turner, -30)
    away = round(
        turner.scale.position_on_groove(turner.scale.tick)
        - turner.scale.position_on_groove(turner.scale.value())
    )
    slide(qtbot, turner, away)
    assert document.layout.pumps["pump"].at[1].text == "3 ft", "a hand still finds the tick"


def test_typed_text_is_kept_as_typed(strip: WhatIfStrip, document: Document, qtbot: QtBot) -> None:
    type_in(qtbot, strip.turners["Port height"], "3' 6 1/2\"")
    assert height(document).text == "3' 6 1/2\""
    assert strip.turners["Port height"].field.text() == units.show(
        height(document).si, Kind.LENGTH, System.SI
    )


def test_bare_number_is_in_the_unit_shown(strip: WhatIfStrip, document: Document, qtbot: QtBot) -> None:
    type_in(qtbot, strip.turners["Fluid temperature"], "60")
    assert document.layout.fluid.temperature.si == pytest.approx(333.15)
    type_in(qtbot, strip.turners["Strainer blocked"], "25")
    assert document.layout.intakes["strainer"].screen.blocked == 0.25


@pytest.mark.parametrize(
    ("name", "text"),
    one_in(
        2,
        [
            ("Port height", "12 parsecs"),
            ("Port height", "nan m"),
            ("Port height", ""),
            ("Port height", "9**9**9 m"),
            ("Fluid temperature", "5000 degC"),
            ("Fluid level", "3 m"),
            ("Pump speed", "0 rpm"),
            ("Site elevation", "12 psi"),
            ("Strainer blocked", "100 %"),
        ],
        several=True,
    ),
)
def test_wrong_text_is_told_beside_the_field_and_changes_nothing(
    strip: WhatIfStrip, document: Document, qtbot: QtBot, name: str, text: str
) -> None:
    before, turner = document.layout, strip.turners[name]
    turner.field.selectAll()
    qtbot.keyClick(turner.field, Qt.Key.Key_Delete)
    type_in(qtbot, turner, text)
    assert document.layout is before
    assert turner.trouble.isVisible()
    assert turner.trouble.text().startswith(name)
    assert turner.name.isVisible(), "beside what is wrong"
    assert turner.field.text() == text
    qtbot.keyClick(turner.field, Qt.Key.Key_Escape)
    assert turner.scale.isVisible()
    assert not turner.trouble.isVisible()
    assert turner.field.text() == units.show(
        turner.turning.knob.value(before, turner.turning.which).si, turner.turning.knob.kind, System.SI
    )


def test_entering_a_field_and_leaving_it_changes_nothing(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    document.set_system(System.US)  # 1.00 m shows rounded, as 3.28 ft
    turner = strip.turners["Port height"]
    turner.field.setFocus()
    qtbot.keyClick(turner.field, Qt.Key.Key_Return)
    strip.turners["Pump speed"].field.setFocus()
    assert document.clean


@pytest.mark.parametrize("way", ["double click", "button"])
def test_name_and_button_go_back_to_the_saved_text(
    strip: WhatIfStrip, document: Document, qtbot: QtBot, way: str
) -> None:
    turner = strip.turners["Port height"]
    assert not turner.back.isEnabled()
    type_in(qtbot, turner, "1.4 m")
    assert turner.back.isEnabled()
    if way == "button":
        qtbot.mouseClick(turner.back, LEFT)
    else:
        qtbot.mouseDClick(turner.name, LEFT)
    assert height(document).text == "1.00 m"
    assert not turner.back.isEnabled()
    assert strip.change.text() == "as saved"


def test_what_was_refused_goes_once_it_is_typed_anew_or_the_drawing_is_another(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    turner = strip.turners["Strainer blocked"]
    type_in(qtbot, turner, "120 %")
    assert turner.trouble.text() == "Strainer blocked: 0 to 99 % can be blocked"
    qtbot.keyClicks(turner.field, "3")
    assert not turner.trouble.isVisible()
    type_in(qtbot, turner, "130 %")
    assert refused_texts(strip) == ('"130 %" in Strainer blocked',)
    document.apply("Height", edits.set_port_height(document.layout, "carriage", 0.7))
    assert not turner.trouble.isVisible()
    assert turner.field.text() == turner.turning.text
    assert refused_texts(strip) == ()


def test_what_is_typed_in_a_case_is_asked_for_and_goes_to_that_case(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    case_making.add(document, "cold morning", {})
    drawn = document.layout.fluid.temperature

    def answer(choice: int) -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QInputDialog)
        dialog.setTextValue(dialog.comboBoxItems()[choice])
        dialog.accept()

    turner = strip.turners["Fluid temperature"]
    QTimer.singleShot(0, lambda: answer(1))
    type_in(qtbot, turner, "12 degC")
    assert document.layout.fluid.temperature.text == "12 degC"
    assert document.undo_stack.undoText() == "Fluid temperature, as drawn, to 12 °C"
    assert "Turns the figure in the drawing, which holds in every case" in turner.scale.toolTip()
    assert not document.layout.cases["cold morning"].table
    document.undo_stack.undo()
    QTimer.singleShot(0, lambda: answer(0))
    type_in(qtbot, turner, "7 degC")
    assert document.layout.fluid.temperature == drawn
    assert document.layout.cases["cold morning"].table == {"fluid": {"temperature": "7 degC"}}
    assert (turner.turning.reason, turner.field.text()) == (
        "",
        units.show(280.15, Kind.TEMPERATURE, System.SI),
    )
    type_in(qtbot, turner, "9 degC")
    assert document.layout.cases["cold morning"].table == {"fluid": {"temperature": "9 degC"}}, (
        "not asked again"
    )
    assert document.layout.fluid.temperature == drawn


def test_a_slider_turns_the_figure_of_the_case_in_view_and_undo_says_so(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    case_making.add(document, "cold morning", {"fluid": {"temperature": "7 degC"}})
    document.undo_stack.setClean()
    turner, drawn = strip.turners["Fluid temperature"], document.layout.fluid.temperature
    margin, as_drawn = document.ledger.margin, dict(document.outcome.ledgers_of_other_cases("carriage"))
    assert turner.name.font().italic()
    for widget in (turner.field, turner.scale):
        assert "in the case &quot;cold morning&quot; alone" in without_no_break(widget.toolTip())
    slide(qtbot, turner, 8, 16)
    warmed = document.layout.cases["cold morning"].figures["fluid", "temperature"]
    assert warmed.si > 280.15
    assert document.layout.fluid.temperature == drawn
    assert document.ledger.margin > margin, "what is turned is what is seen"
    others = dict(document.outcome.ledgers_of_other_cases("carriage"))
    assert others["as drawn"].margin == as_drawn["as drawn"].margin
    text = without_no_break(document.undo_stack.undoText())
    assert (
        text
        == f'Fluid temperature in "cold morning" to {units.typeset(warmed.si, Kind.TEMPERATURE, System.SI)}'
    )
    count = document.undo_stack.count()
    document.undo_stack.undo()
    assert document.layout.cases["cold morning"].table == {"fluid": {"temperature": "7 degC"}}
    slide(qtbot, turner, 8, 16, 0)
    assert document.undo_stack.count() == count, "one step, and none that came to nothing"
    document.set_case("as drawn")
    assert not turner.name.font().italic()
    assert "Turns" not in turner.scale.toolTip()


def test_what_a_case_says_otherwise_is_greyed_with_the_reason(strip: WhatIfStrip, document: Document) -> None:
    case_making.add(document, "by flow", {"pumps": {"carriage": {"flow": "60 L/min"}}})
    turner = strip.turners["Pump speed"]
    assert turner.message.toolTip() == tooltip("the case has its flow")
    assert not turner.scale.isEnabled()
    case_making.add(document, "low glass", {"site": {"barometer": "95 kPa"}})
    assert strip.turners["Site elevation"].message.toolTip() == tooltip("barometer in the case")
    assert turner.scale.isEnabled()


def test_a_figure_of_a_case_that_an_alternative_has_for_itself_says_so(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    (path,) = (each for each in SHIPPED if each.stem == "winter-press")
    document.open(path)
    document.set_case("coldest start")
    strip = WhatIfStrip(document)
    qtbot.addWidget(strip)
    turner = strip.turners["Fluid temperature"]
    assert "alone" in turner.field.toolTip()
    document.show_alternative("Tank heater to 10 °C")
    assert "in this alternative only" in turner.field.toolTip()
    document.show_alternative("High-VI oil, ISO VG 32")
    assert "alone" in turner.field.toolTip(), "of the drawing as well"


def test_a_port_height_typed_on_the_strip_says_what_became_of_the_line(qtbot: QtBot) -> None:
    document = opened("shear-started-dry")
    strip = shown(qtbot, WhatIfStrip(document), 1366, 140)
    said: list[str] = []
    strip.event = lambda event: (  # type: ignore[method-assign]
        said.append(event.tip()) if isinstance(event, QStatusTipEvent) else None,
        WhatIfStrip.event(strip, event),
    )[1]
    first, turner = document.layout, strip.turners["Port height"]
    type_in(qtbot, turner, "1.9 m")
    text = "1 bend less in line, shear turned, its line now comes from the left"
    assert document.undo_stack.undoText() == f"Port height of shear to 1.9 m: {text}"
    assert said == [text]
    turner.scale.setFocus()
    qtbot.keyClick(turner.scale, Qt.Key.Key_Right)
    assert said[-1].startswith("1 bend more in line, shear turned")
    turner.turning.release()
    type_in(qtbot, turner, "1.2 m")
    assert document.layout == first
    document.undo_stack.setClean()


def test_the_temperature_of_water_glycol_cannot_be_turned_past_its_figures(qtbot: QtBot) -> None:
    document = opened("glycol-on-the-oil-line")
    document.show_alternative("Water-glycol, same line")
    strip = shown(qtbot, WhatIfStrip(document), 1366, 140)
    turner = strip.turners["Fluid temperature"]
    turner.scale.setFocus()
    qtbot.keyClick(turner.scale, Qt.Key.Key_End)
    assert document.layout.fluid.temperature.si == pytest.approx(273.15 + 60.0)
    assert turner.turning.trouble == ""
    qtbot.keyClick(turner.scale, Qt.Key.Key_Home)
    assert turner.turning.trouble == ""
    document.undo_stack.setClean()
