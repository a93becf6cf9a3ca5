"""What the Working view shows, as HTML."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views import working_html
from sketch.views.working_view import WorkingView
from solver.quantities.units import System
from solver.working import working
from tests.sketch.views.workings import BEND, RISER, shown
from tests.thorough import one_in

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> Iterator[WorkingView]:
    with shown(qtbot, document) as view:
        yield view


def test_symbols_stand_with_their_subscripts(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    view.refresh()
    page = view.page.toHtml()
    assert re.search(r"vertical-align:sub[^>]*>surface<", page)
    assert re.search(r"font-style:italic[^>]*>D<", page)


@pytest.mark.parametrize("width", one_in(3, [480, 760, 1000, 1600]))
def test_no_line_runs_out_of_the_page(view: WorkingView, document: Document, width: int) -> None:
    view.resize(width, 300)
    for key in (RISER, BEND, "strainer/screen"):
        document.point(key)
        view.refresh()
        assert view.page.horizontalScrollBar().maximum() <= 0, key


def test_sources_stand_beside_the_formulas_where_there_is_room(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    shown = working.working(document.solution, "carriage", RISER, System.US)
    wide, narrow = (working_html.table(shown.steps, width) for width in (1200, 500))
    assert 'class="source"' in wide
    assert 'class="source"' not in narrow
    assert "Hagen and Poiseuille" in narrow


@pytest.mark.parametrize("path", sorted(LAYOUTS.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("system", System)
def test_the_budget_adds_up_as_it_is_written(path: Path, system: System) -> None:
    document = Document()
    document.open(path)
    for ledger in document.solution.pumps.values():
        said = re.sub(r"<[^>]+>", "", working_html.budget_line(ledger, "", system, "#000"))
        running, results = Decimal(0), 0
        for sign, figure in re.findall(r"([-−+=]|^)[^-−+=]*?(\d+\.\d+)", said.replace("&nbsp;", " ")):
            if sign == "=":
                assert running == Decimal(figure), said
                results += 1
            else:
                running += -Decimal(figure) if sign == "−" else Decimal(figure)
        assert results == 2


@pytest.mark.parametrize("system", System)
def test_lift_and_loss_add_up_to_what_an_entry_takes(system: System) -> None:
    document = Document()
    document.open(LAYOUTS / "shear-started-dry.toml")
    both = [entry for entry in document.ledger.entries if entry.lift and entry.loss]
    assert both
    for entry in both:
        said = re.sub(r"<[^>]+>", "", working_html.spent_sentence(entry, system)).replace("−", "-")
        whole, lift, sign, loss = re.findall(
            r"(\d+\.\d+) \S+ \(lift (-?[\d.]+) ([-+]) loss ([\d.]+)\)", said
        )[0]
        assert abs(Decimal(lift) + Decimal(sign + loss)) == Decimal(whole), said


def test_a_credit_is_given_back() -> None:
    document = Document()
    document.open(LAYOUTS / "baler-flooded.toml")
    first = document.ledger.entries[0]
    assert "gives back" in working_html.spent_sentence(first, System.SI)
    last = document.ledger.entries[-1]
    assert "takes" in working_html.spent_sentence(last, System.SI)


def test_names_cannot_break_out_of_the_page(document: Document) -> None:
    entry = document.ledger.entries[0]._replace(part="<b", element="&")
    assert "&lt;b, &amp;" in working_html.spent_sentence(entry, System.SI)
