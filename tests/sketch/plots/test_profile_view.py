"""The pressure profile as a widget: the plot is made when it is first seen."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.plots.profile_view import PressureProfile
from tests.sketch.shown import LAYOUTS, opened, shown


def test_the_plot_is_made_when_it_is_first_seen_and_follows_from_then_on(qtbot: QtBot, riser: Path) -> None:
    document = Document(keeps=False)
    document.open(riser)
    view = PressureProfile(document)
    document.setParent(view)
    qtbot.addWidget(view)
    document.apply("Raise", edits.set_port_height(document.layout, "carriage", 1.1))
    assert view.plot is None, "hidden, it works out nothing"
    view.resize(600, 240)
    with qtbot.waitExposed(view):
        view.show()
    plot = view.plot
    assert plot is not None
    first = [end for _, _, end in plot.stretches()]
    document.apply("Raise", edits.set_port_height(document.layout, "carriage", 1.3))
    assert view.plot is plot
    assert [end for _, _, end in plot.stretches()] != first


def test_a_profile_says_of_which_case_it_is_where_there_are_several(qtbot: QtBot) -> None:
    view = shown(qtbot, PressureProfile(opened()), 900, 240)
    plot, document = view.plot, view._document
    assert plot is not None
    assert plot._profile.x_label == "Developed length from the intake, ft; pressures as drawn"
    document.set_case("coldest start")
    view.refresh()
    assert plot._profile.x_label == 'Developed length from the intake, ft; pressures in "coldest start"'
    document.open(LAYOUTS / "wash-water-npsh.toml")
    view.refresh()
    assert plot._profile.x_label == "Developed length from the intake, m"


def test_nothing_is_plotted_of_a_drawing_without_a_result(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    view = PressureProfile(document)
    document.setParent(view)
    qtbot.addWidget(view)
    view.refresh()
    assert view.plot is None
