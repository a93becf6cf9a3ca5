"""The second scale of the pressure profile."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from tests.sketch.plots.profiles import shown


def test_the_vacuum_axis_reads_nothing_at_the_atmosphere(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    document, plot = view_shown.document, view_shown.plot
    assert document.ledger is not None
    axis = plot.getAxis("right")
    levels = axis.tickValues(*plot.viewRange()[1], 250.0)
    assert any(values for _, values in levels)
    for spacing, heights in levels:
        for height, string in zip(heights, axis.tickStrings(heights, 1.0, spacing), strict=True):
            assert float(string) == pytest.approx(axis.atmosphere - height, abs=1e-4)


def test_axes_are_set_anew_only_where_the_atmosphere_moves(qtbot: QtBot) -> None:
    view_shown = shown(qtbot, "carriage-at-altitude.toml")
    axis = view_shown.plot.getAxis("right")
    held = axis.picture
    assert held is not None
    view_shown.document.apply("Warm", edits.set_temperature(view_shown.document.layout, 320.0))
    assert axis.picture is held
    view_shown.document.apply("Lower", edits.set_site_elevation(view_shown.document.layout, 1600.0))
    assert axis.picture is not held
