"""What a line is built from: lengths as drawn, pieces by kind, what an alternative adds and takes away."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from solver.layout import file
from solver.layout.parts import Layout
from solver.network.build import build
from solver.network.rows import RowKind
from solver.quantities.units import Kind, System, quantity
from solver.report.parts_list import (
    BENT_IN_PLACE,
    BORE_CHANGE,
    COLUMNS,
    Item,
    changed,
    heading,
    parts_list,
    records,
    table,
    text,
)
from tests.drawings import SHIPPED

HEADER = file.read(SHIPPED[0].parent / "header-two-pumps.toml")
PRESS = file.read(SHIPPED[0].parent / "winter-press.toml")


def items_of(layout: Layout) -> dict[tuple[str, str], Item]:
    return {(item.what, item.size): item for item in parts_list(layout, build(layout).rows)}


def test_lengths_are_those_drawn_less_what_a_bought_bend_takes() -> None:
    item = items_of(HEADER.base)["commercial steel", "NPS 1-1/2 schedule 40"]
    (run,) = (run for run in HEADER.base.runs.values() if run.size == "NPS 1-1/2 schedule 40")
    rows = [row for row in build(HEADER.base).rows if row.part == run.name]
    assert item.length == pytest.approx(sum(row.length for row in rows))
    assert item.parts == (run.name,)
    bend = items_of(HEADER.base)["long radius bend", "NPS 1-1/2 schedule 40"]
    assert (bend.count, bend.length) == (2, None)


def test_a_hose_that_is_bent_counts_with_its_bend() -> None:
    item, bend = (items_of(PRESS.base)[what, "hose -20"] for what in ("rubber hose", BENT_IN_PLACE))
    arc = quantity("9 in", Kind.LENGTH).si * 3.141592653589793 / 2
    drawn = sum(quantity(side, Kind.LENGTH).si for side in ("21 in", "17 in"))  # up to 26 in, along to 25 in
    assert item.length == pytest.approx(drawn - 2 * quantity("9 in", Kind.LENGTH).si + arc, rel=1e-6)
    assert bend.count == 1


def test_length_out_of_the_plane_is_bought_too() -> None:
    hose = PRESS.base.runs["hose"]
    longer = replace(PRESS.base, runs={"hose": replace(hose, out_of_plane=quantity("1 m", Kind.LENGTH))})
    before, after = (items_of(layout)["rubber hose", "hose -20"].length for layout in (PRESS.base, longer))
    assert before is not None
    assert after == pytest.approx(before + 1.0)


def test_screens_fittings_and_intakes_are_listed_by_kind_with_their_bores() -> None:
    items = parts_list(PRESS.base, build(PRESS.base).rows)
    (strainer,) = (item for item in items if "strainer" in item.parts)  # bought with its mesh, as one thing
    assert (strainer.group, strainer.count) == ("screens", 1)
    assert (
        strainer.what
        == "strainer, mesh 60 per inch, wire 0.0075 in, opening 0.0092 in, 60.0 in², bypass from 3.00 psi"
    )
    assert strainer.bore == pytest.approx(0.03175)
    assert strainer.size_in(System.US) == "bore 1.25 in"
    assert {("gate valve", "NPS 2 schedule 40"), ("tee", "NPS 2 schedule 40")} <= items_of(HEADER.base).keys()


def test_what_an_alternative_adds_and_takes_away() -> None:
    before = parts_list(HEADER.base, build(HEADER.base).rows)
    larger = HEADER.alternatives["Three-inch header"].layout
    more, less = changed(before, parts_list(larger, build(larger).rows))
    assert {(item.what, item.size, item.count) for item in more if item.length is None} == {
        *((what, "NPS 3 schedule 40", 1) for what in ("gate valve", "tee", "wall nozzle")),
        *((BORE_CHANGE, f"NPS 3 schedule 40 to {size} schedule 40", 1) for size in ("NPS 2", "NPS 1-1/2")),
    }
    gone = next(item for item in less if item.length is not None)
    bought = next(item for item in more if item.length is not None)
    assert gone.length == pytest.approx(bought.length)
    assert changed(before, before) == ((), ())


@pytest.mark.parametrize(
    ("group", "what", "named"),
    [
        ("bends", "long radius bend", "long radius bends"),
        ("fittings", BORE_CHANGE, "bore changes (reducer)"),
        ("fittings", "three-way valve, through", "three-way valves, through"),
        ("bends", "bent in place", "bent in place"),
        ("screens", "strainer, mesh 100 per inch", "strainers, mesh 100 per inch"),
    ],
)
def test_several_are_named_in_the_plural(group: str, what: str, named: str) -> None:
    assert Item(group, what, "", 0.05, 2).named == named
    assert Item(group, what, "", 0.05, 1).named == what


def test_a_table_has_no_digits_of_the_machine() -> None:
    (row,) = csv.reader([table([Item("pipe", "steel", "", 0.04089399999999999, 1, 2.0 / 3.0)], "a.toml")])
    assert row[5] == "0.040894"
    assert row[7] == "0.666667"


def test_csv_opens_as_a_table_in_si_and_text_in_the_units_asked_for() -> None:
    items = parts_list(HEADER.base, build(HEADER.base).rows)
    rows = list(csv.DictReader(io.StringIO(heading() + table(items, "header.toml"))))
    assert tuple(rows[0]) == COLUMNS
    lengths = [item.length for item in items if item.length is not None]
    assert [float(row["length_m"]) for row in rows if row["length_m"]] == pytest.approx(lengths, rel=1e-5)
    assert records(items)[0]["length_m"] == items[0].length
    shown = text(items, System.US)
    assert "5.50 ft  commercial steel, NPS 2 schedule 40" in shown
    assert "1.68 m" in text(items, System.SI)


def test_a_bore_change_that_the_ledger_charges_at_a_joint_is_bought() -> None:
    pump = HEADER.base.pumps["pilot"]
    narrow = replace(pump, size="NPS 1 schedule 40", bore=None)
    layout = replace(HEADER.base, pumps={**HEADER.base.pumps, "pilot": narrow})
    charged = [row for row in build(layout).rows if row.kind is RowKind.BORE_CHANGE]
    listed = [item for item in parts_list(layout, build(layout).rows) if item.what == BORE_CHANGE]
    assert sum(item.count for item in listed) == len(charged)
    (item,) = (item for item in listed if "pilot" in item.parts)
    assert item.size.endswith(" to NPS 1 schedule 40")
    assert item.bore == pytest.approx(0.02664, abs=1e-5)  # NPS 1 schedule 40, ASME B36.10M
    before = parts_list(HEADER.base, build(HEADER.base).rows)
    assert item in changed(before, parts_list(layout, build(layout).rows))[0]


def test_a_flexible_connector_is_bought_by_its_length() -> None:
    layout = file.read(SHIPPED[0].parent / "baler-flooded.toml").base
    longer = replace(layout.fittings["connector"], length=quantity("300 mm", Kind.LENGTH))
    layout = replace(layout, fittings={**layout.fittings, "connector": longer})
    assert "flexible connector, 0.300 m long" in [what for what, _ in items_of(layout)]
