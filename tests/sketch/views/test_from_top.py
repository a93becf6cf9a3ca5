"""Which drawing is another to a view: opened, an alternative, a pump; an edit, a case and units are not."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.views.from_top import FromTop
from solver.layout.parts import SHORT_CASE
from solver.quantities.units import System
from tests.drawings import SHIPPED
from tests.sketch.shown import opened

PATHS = {path.stem: path for path in SHIPPED}


def test_an_opened_drawing_an_alternative_and_a_pump_are_another(qtbot: QtBot) -> None:
    document = opened()
    view = QWidget()
    qtbot.addWidget(view)
    from_top = FromTop(document, view)
    assert from_top.is_due()
    assert not from_top.is_due(), "once for each"
    document.show_alternative(document.alternatives[0])
    assert from_top.is_due()
    document.open(PATHS["carriage-at-altitude"])
    document.show_alternative(document.alternatives[0])
    assert from_top.is_due(), "read again, under the same names"
    document.begin()
    assert from_top.is_due()


def test_another_pump_is_another_drawing_only_to_a_view_of_one_pump(qtbot: QtBot) -> None:
    document = next(d for d in map(opened, PATHS) if len(d.layout.pumps) > 1)
    view = QWidget()
    qtbot.addWidget(view)
    of_one, of_all = FromTop(document, view), FromTop(document, view, of_pump=False)
    assert (of_one.is_due(), of_all.is_due()) == (True, True)
    document.show_pump(next(pump for pump in document.layout.pumps if pump != document.pump))
    assert (of_one.is_due(), of_all.is_due()) == (True, False)


def test_an_edit_a_case_and_units_leave_a_view_where_it_is(qtbot: QtBot) -> None:
    document = opened("over-the-bund-wall")
    view = QWidget()
    qtbot.addWidget(view)
    from_top = FromTop(document, view)
    assert from_top.is_due()
    document.set_system(System.US)
    document.set_case(SHORT_CASE)
    document.apply("Warm", edits.set_temperature(document.layout, 310.0))
    assert not from_top.is_due()
