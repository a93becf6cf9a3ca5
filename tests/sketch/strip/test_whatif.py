"""The what-if strip driven by real events: it edits the drawing, and the margin answers."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import building
from sketch.look.appearance import theme_of
from sketch.look.words import without_no_break
from sketch.model.document import Document
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.readings import short_text
from sketch.strip.whatif import WhatIfStrip
from solver.layout.parts import Limit
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import margin_words
from tests.sketch.shown import opened, shown
from tests.sketch.strip.strips import height, slide, type_in
from tests.thorough import first

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.mark.parametrize("name", [knob.name for knob in KNOBS])
def test_a_slider_drag_is_one_step_that_moves_the_margin(
    strip: WhatIfStrip, document: Document, qtbot: QtBot, name: str
) -> None:
    before, margin, shown = document.layout, document.ledger.margin, strip.margin.text()
    away = -8 if name in ("Fluid level", "Pump speed") else 8
    slide(qtbot, strip.turners[name], away // 2, away, away * 2)
    assert document.layout != before
    assert document.ledger is None or document.ledger.margin != margin
    assert strip.margin.text() != shown or strip.change.text() != "as saved"
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert document.layout is before
    assert strip.margin.text() == shown


def test_slider_that_comes_back_to_its_tick_leaves_no_step(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    before = document.layout
    slide(qtbot, strip.turners["Port height"], 6, 12, 6, 0)
    assert document.layout is before
    assert document.undo_stack.count() == 0


def test_edit_elsewhere_between_two_keys_is_not_lost(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    scale = strip.turners["Port height"].scale
    scale.setFocus()
    qtbot.keyClick(scale, Qt.Key.Key_Right)
    slow = replace(document.layout.pumps["carriage"], speed=units.quantity("1000 rpm", Kind.SPEED))
    document.apply("Slower", replace(document.layout, pumps={"carriage": slow}))
    qtbot.keyClick(scale, Qt.Key.Key_Right)
    assert document.layout.pumps["carriage"].speed.text == "1000 rpm"
    assert height(document).text == "1.02 m"


# The field


# The saved value


def test_margin_says_how_far_it_is_from_the_saved_one(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    assert strip.change.text() == "as saved"
    type_in(qtbot, strip.turners["Port height"], "1.4 m")
    assert re.fullmatch(r"\d+\.\d\d\D*Pa worse than saved", strip.change.text())
    type_in(qtbot, strip.turners["Port height"], "0.7 m")
    assert re.fullmatch(r"\d+\.\d\d\D*Pa better than saved", strip.change.text())


def test_as_saved_is_the_drawing_and_not_the_margin_alone(strip: WhatIfStrip, document: Document) -> None:
    renamed = replace(document.layout, title="Another title")
    document.apply("Title", renamed)
    assert strip.change.text() == "same margin as saved"
    document.undo_stack.undo()
    assert strip.change.text() == "as saved"


def test_a_margin_on_an_estimated_limit_says_so(strip: WhatIfStrip, document: Document) -> None:
    assert not strip.margin.text().endswith("est.")
    pump = replace(document.layout.pumps["carriage"], rated_density=units.Quantity("typed", 700.0))
    document.apply("Density", replace(document.layout, pumps={"carriage": pump}))
    assert strip.margin.text().endswith(" kPa, est.")
    assert strip.margin.width() >= strip.margin.sizeHint().width()


def test_a_hair_over_is_never_shown_as_nothing(strip: WhatIfStrip, document: Document) -> None:
    """The maker's limit set to what is there at the port, less a pascal."""
    ledger = document.ledger
    assert ledger is not None
    pump = document.layout.pumps["carriage"]
    limit = Limit("pressure", ((None, units.Quantity("typed", ledger.inlet + 1.0)),))
    document.apply("Limit", replace(document.layout, pumps={"carriage": replace(pump, limit=limit)}))
    assert strip.margin.text() == "Over by <0.01 kPa"
    assert strip.margin.width() >= strip.margin.sizeHint().width()


def test_a_refusal_speaks_the_units_that_are_shown(
    strip: WhatIfStrip, document: Document, qtbot: QtBot
) -> None:
    turner = strip.turners["Fluid temperature"]
    type_in(qtbot, turner, "120 degC")
    assert "from −20 °C to 100 °C" in without_no_break(turner.trouble.text())
    document.set_system(System.US)
    type_in(qtbot, turner, "120 degC")
    assert "from −4 °F to 212 °F" in without_no_break(turner.trouble.text())


# What cannot be turned


def test_knob_without_its_part_says_why(strip: WhatIfStrip, document: Document) -> None:
    intake = replace(document.layout.intakes["strainer"], kind="plain end", screen=None)
    document.apply("Plain end", replace(document.layout, intakes={"strainer": intake}))
    turner = strip.turners["Strainer blocked"]
    assert not turner.field.isEnabled()
    assert "no strainer here" in turner.message.toolTip()
    assert turner.message.isVisible()
    document.undo_stack.undo()
    assert turner.field.isEnabled()
    assert turner.scale.isVisible()


def test_pump_given_by_flow_and_site_by_barometer_say_so(strip: WhatIfStrip, document: Document) -> None:
    pump = replace(
        document.layout.pumps["carriage"],
        speed=None,
        displacement=None,
        flow=units.quantity("100 L/min", Kind.FLOW),
    )
    site = replace(document.layout.site, elevation=None, barometer=units.quantity("24.6 inHg", Kind.PRESSURE))
    document.apply("Flow", replace(document.layout, pumps={"carriage": pump}, site=site))
    assert "flow" in strip.turners["Pump speed"].message.toolTip()
    assert "barometer" in strip.turners["Site elevation"].message.toolTip()


def test_empty_document_turns_nothing_that_is_not_there(qtbot: QtBot) -> None:
    strip = WhatIfStrip(Document())
    qtbot.addWidget(strip)
    assert not strip.turners["Port height"].field.isEnabled()
    assert strip.margin.text() == "Not calculated"


def start_at(document: Document, kelvin: float) -> None:
    fluid = replace(document.layout.fluid, coldest_start=units.Quantity(f"{kelvin:g} K", kelvin))
    document.apply("Start", replace(document.layout, fluid=fluid))


def test_the_margin_in_the_worst_other_case_stands_beside_the_one_shown(
    strip: WhatIfStrip, document: Document
) -> None:
    assert strip.others.text() == ""
    assert document.ledger is not None
    for kelvin in (310.0, 263.15):
        start_at(document, kelvin)
        place = document.outcome.worst_elsewhere("carriage")
        assert place is not None
        assert place.case == "coldest start"
        words = margin_words(place.ledger.margin, document.system)
        shown = strip.others.text().replace("\n", " ")
        assert shown.startswith(f'{short_text(words)} in "coldest start"'), "with its unit: it stands alone"
        assert "coldest start" in strip.others.toolTip()
        colour = strip.others.palette().windowText().color()
        assert (colour == theme_of(strip.palette()).stop) is not place.ledger.sound
        document.undo_stack.undo()
    start_at(document, 183.15)
    assert strip.others.text() == "1 not judged"
    strip.others.set_whole("Others: column breaks; 300 not judged; and no more than that can be said")
    assert strip.others.text().endswith("…")
    strip._show_margin()
    assert "density at −90 °C;" in without_no_break(strip.others.toolTip())
    document.set_system(System.US)
    assert "density at −130 °F;" in without_no_break(strip.others.toolTip())


def test_a_margin_at_the_start_never_shifts_the_sliders(strip: WhatIfStrip, document: Document) -> None:
    before = strip.turners["Port height"].scale.width()
    start_at(document, 263.15)
    assert strip.turners["Port height"].scale.width() == before


def test_level_shown_is_the_level_turned(strip: WhatIfStrip, document: Document, qtbot: QtBot) -> None:
    document.set_level("normal")
    type_in(qtbot, strip.turners["Fluid level"], "0.6 m")
    assert document.layout.reservoirs["tank"].normal_level.text == "0.6 m"
    assert document.layout.reservoirs["tank"].minimum_level.text == "0.40 m"


def test_screen_is_the_one_on_the_way_to_the_pump(document: Document) -> None:
    assert subject(document.layout, document.ledger, "carriage", "minimum").screen == "strainer"


# Room and manners


@pytest.mark.parametrize(
    ("room", "rows"),
    [(2060, 2), (1021, 2), (935, 2), (700, 3)],  # beside the column of 2560, 1366, 1280 and 1040
)
@pytest.mark.parametrize("system", first(System))
def test_strip_is_whole_in_as_many_rows_as_it_takes(
    strip: WhatIfStrip, document: Document, room: int, rows: int, system: System
) -> None:
    document.set_system(system)
    strip.flow(strip.most_columns(room))
    assert strip.minimumSizeHint().width() <= room
    strip.resize(room, strip.minimumSizeHint().height())
    QApplication.processEvents()
    assert len({turner.y() for turner in strip.turners.values()}) == rows
    for turner in strip.turners.values():
        assert turner.name.width() >= turner.name.sizeHint().width()
        assert turner.scale.width() >= 40
        assert turner.field.fontMetrics().horizontalAdvance(turner.field.text()) < turner.field.width() - 8
        assert strip.rect().contains(turner.geometry())


def test_every_control_has_a_name_of_its_own(strip: WhatIfStrip) -> None:
    names = [
        widget.accessibleName()
        for turner in strip.turners.values()
        for widget in (turner.scale, turner.field, turner.back)
    ]
    assert all(names)
    assert len(set(names)) == len(names)


def test_a_strainer_that_is_new_has_no_saved_share(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "baler-flooded.toml")
    strip = WhatIfStrip(document)
    qtbot.addWidget(strip)
    built = building.insert(document.layout, "filter", "outlet", 1.35, 0.3)
    document.apply("Add filter", built.layout)
    blocked = strip.turners["Strainer blocked"]
    assert blocked.field.text() == "0 %"
    assert not blocked.back.isEnabled()
    document.undo_stack.undo()
    assert not blocked.scale.isEnabled()


@pytest.mark.parametrize("height", ["99 km", "-99 km"])
def test_a_part_far_out_leaves_the_slider_within_its_range(strip: WhatIfStrip, height: str) -> None:
    """A slider counts in 32 bits: past them Qt raises, and the strip stayed as it was."""
    document = strip._document
    layout = document.layout
    (name, pump), *_ = layout.pumps.items()
    for far in (units.quantity(height, Kind.LENGTH), units.Quantity("1e12 m", 1e12)):
        moved = replace(pump, at=(pump.at[0], far))
        document.apply("Far", replace(layout, pumps={**layout.pumps, name: moved}))
        scale = strip.turners["Port height"].scale
        assert 0 <= scale.value() <= scale.maximum() < 2**31


def test_a_pump_that_is_within_but_not_fit_to_run_is_said_to_be_so_beside_its_margin(qtbot: QtBot) -> None:
    document = opened("header-two-pumps")
    strip = shown(qtbot, WhatIfStrip(document), 1366, 120)
    document.show_pump("pilot")
    assert strip.margin.text().startswith("pilot: margin 2.45 inHg"), "of which pump it is, is said with it"
    assert strip.change.text().startswith("not fit to run: ")
    assert without_no_break(strip.change.toolTip()).startswith("<p>Not fit to run: the fluid runs too fast. ")
    assert strip.others.text() == 'same in "coldest start"'
    assert without_no_break(strip.others.toolTip()).startswith(
        "<p>The same margin as in view, in &quot;coldest start&quot;: margin 2.45 inHg"
    )
    ill = strip.others.palette().color(QPalette.ColorRole.WindowText)
    assert ill == theme_of(strip.palette()).stop
    document.set_case("pilot alone")
    assert "not fit" not in strip.change.text()
    assert strip.others.text() == "not fit to run as drawn"
    document.show_pump("main")
    assert "not fit" not in strip.change.text()
