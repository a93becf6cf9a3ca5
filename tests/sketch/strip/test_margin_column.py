"""The margin beside the knobs: whole where the window is as wide as it is by default."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.strip.margin_column import MarginColumn
from sketch.strip.whatif import WhatIfStrip
from solver.layout.cases import AS_DRAWN, cases_of
from tests.drawings import SHIPPED
from tests.thorough import one_in

ROOM = 1021  # of the strip beside the column, in a window 1366 wide


@pytest.fixture
def column(qtbot: QtBot) -> MarginColumn:
    column = MarginColumn()
    qtbot.addWidget(column)
    column.resize(column.sizeHint())
    return column


@pytest.mark.parametrize("path", one_in(4, SHIPPED), ids=lambda path: path.stem)
def test_the_worst_other_case_is_named_whole_in_every_layout(qtbot: QtBot, path: Path) -> None:
    document = Document(keeps=False)
    document.open(path)
    strip = WhatIfStrip(document)
    qtbot.addWidget(strip)
    strip.resize(ROOM, strip.sizeHint().height())
    strip.show()
    QApplication.processEvents()
    for case in cases_of(document.layout):
        document.set_case(case)
        place = document.outcome.worst_elsewhere(document.pump)
        shown = " ".join(strip.others.text().split("\n"))
        if place is None:
            assert shown == ""
            continue
        assert shown.endswith(place.case if place.case == AS_DRAWN else f'in "{place.case}"')
        assert strip.rect().contains(strip.column.geometry())
        for label in (strip.margin, strip.change, strip.others):
            assert strip.column.rect().contains(label.geometry())
            needed = label.fontMetrics().size(0, label.text())
            assert (needed.width() <= label.width(), needed.height() <= label.height()) == (True, True)


def test_labels_lie_under_one_another_and_the_column_keeps_its_size(column: MarginColumn) -> None:
    before = column.sizeHint()
    for change, others in (
        ("as saved", ""),
        ("as saved", '0.8 inHg over\nin "noon"'),
        (
            "worst case 0.2 kPa worse;\nin view 0.1 kPa better than saved",
            '12.8 inHg over, est.\nin "first stroke"',
        ),
        ("as saved", "; ".join(["300 not judged"] * 20)),
    ):
        column.change.set_whole(change)
        column.others.set_whole(others)
        column.place()
        tops = [label.geometry() for label in (column.margin, column.change, column.others) if label.text()]
        for above, below in pairwise(tops):
            assert above.bottom() < below.top()
        assert column.rect().contains(tops[-1])
        assert column.sizeHint() == before
    assert column.others.text().endswith("…")


def test_a_drag_that_changes_a_line_moves_no_slider(strip: WhatIfStrip, document: Document) -> None:
    before = [turner.geometry() for turner in strip.turners.values()]
    document.apply("Warm", edits.set_temperature(document.layout, 290.0))
    QApplication.processEvents()
    assert [turner.geometry() for turner in strip.turners.values()] == before


def test_the_column_takes_what_the_sliders_can_spare_and_no_more_than_it_needs(strip: WhatIfStrip) -> None:
    widths = []
    for room in (940, 1021, 1200, 2400):
        strip.resize(room, strip.sizeHint().height())
        QApplication.processEvents()
        widths.append(strip.column.width())
        scales = [turner.scale.width() for turner in strip.turners.values()]
        assert max(scales) - min(scales) <= 3
    assert widths == sorted(widths)
    assert widths[0] < widths[1]
    assert widths[-1] == strip.column.most_width
