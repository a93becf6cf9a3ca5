"""A calculation in writing: as text and as a page."""

from __future__ import annotations

import html
import re

import pytest

from solver.findings.judgement import judge
from solver.findings.outlook import own_headline
from solver.formulas.formula import HTML
from solver.layout import file
from solver.ledger import solve
from solver.quantities.units import System
from solver.working import working
from tests.solver.working.lines import (
    LINE,
    PLAIN,
    SOLUTIONS,
    SYSTEMS,
    entry_of,
    line,
)
from tests.thorough import first, one_in


@pytest.mark.parametrize("system", first(SYSTEMS))
@pytest.mark.parametrize("name", one_in(15, SOLUTIONS))
def test_the_text_keeps_its_width_and_holds_every_result(name: str, system: System) -> None:
    solution = SOLUTIONS[name]
    for pump in solution.pumps:
        text = working.as_text(solution, pump, system)
        assert max(map(len, text.splitlines())) <= 100
        flat = re.sub(r"\s+", " ", text)
        for section in working.calculation(solution, pump, system):
            assert section.title in flat
        assert "licensed engineer" in flat
        assert text.isprintable() or all(c.isprintable() or c == "\n" for c in text)


def test_the_text_shows_formula_numbers_result_and_source() -> None:
    text = working.as_text(SOLUTIONS["carriage-at-altitude"], "carriage", System.US)
    flat = re.sub(r"\s+", " ", text)
    assert "v = 4 · Q/(π · D²) = 4 · 31.410 gpm / (π · (2.067 in)²) = 3.003 ft/s" in flat.replace(
        "velocity ", ""
    )
    assert "in SI 4 · 0.0019817/(π · 0.052502²) = 0.9154 m/s" in flat
    assert "Hagen and Poiseuille; holds for Re up to 2000" in flat


def test_the_page_is_well_formed_and_says_the_same() -> None:
    from html.parser import HTMLParser

    class Tags(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.open: list[str] = []
            self.said: list[str] = []

        def handle_starttag(self, tag: str, attrs: object) -> None:
            if tag not in ("br", "meta"):
                self.open.append(tag)

        def handle_endtag(self, tag: str) -> None:
            assert self.open.pop() == tag

        def handle_data(self, data: str) -> None:
            self.said.append(data)

    solution = SOLUTIONS["header-two-pumps"]
    page = Tags()
    page.feed(working.as_html(solution, System.SI))
    assert page.open == []
    said = "".join(page.said)
    for pump in solution.pumps:
        headline = own_headline(judge(solution.layout), pump, System.SI)
        assert f"{pump}: {headline}." in said
        for section in working.pages(solution, pump, System.SI):
            assert section.title in said
            for row in section.rows:
                assert row.name in said
                assert row.result.replace(" ", "\N{NO-BREAK SPACE}") in said


@pytest.mark.parametrize("name", ["header-two-pumps", "carriage-at-altitude"])
def test_the_page_needs_nothing_beside_it_and_its_links_lead_somewhere(name: str) -> None:
    page = working.as_html(SOLUTIONS[name], System.US)
    assert not re.findall(r"<(?:script|img|link|iframe|object)|url\(|@import|src=", page)
    links, places = re.findall(r'href="([^"]*)"', page), re.findall(r'id="([^"]*)"', page)
    assert links == [f"#{place}" for place in places]
    assert len(set(places)) == len(places)


def test_a_page_of_several_pumps_tells_of_the_fluid_once() -> None:
    page = working.as_html(SOLUTIONS["header-two-pumps"], System.US)
    assert len(re.findall(r"<h3[^>]*>Fluid: ", page)) == 1
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", page) == ["Working", "Every pump", "main", "pilot", "Symbols"]
    single = working.as_html(SOLUTIONS["carriage-at-altitude"], System.US)
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", single) == ["Working", "carriage", "Symbols"]


def test_the_page_s_headline_is_that_of_the_worst_case() -> None:
    page = working.as_html(SOLUTIONS["carriage-at-altitude"], System.US)
    assert "<p>carriage: Over by 1.77 inHg in &quot;coldest start&quot;.</p>" in page
    text = working.as_text(SOLUTIONS["carriage-at-altitude"], "carriage", System.US)
    assert 'carriage: Over by 1.77 inHg in "coldest start".' in text


def test_what_is_typed_cannot_break_out_of_the_page() -> None:
    text = LINE.format(**PLAIN).replace('title = "Line"', 'title = "<script>x</script>"')
    text = text.replace("runs.riser", 'runs."<b riser"')
    page = working.as_html(solve.solve(file.parse(text, "odd").base), System.SI)
    assert "<script>" not in page
    assert html.escape("<b riser") in page


def test_symbols_are_set_with_subscripts() -> None:
    section = entry_of(line(), "straight 1")
    by_name = {step.name: step for step in section.steps}
    assert by_name["static pressure at the end"].formula(HTML).startswith("<i>p</i><sub>surface</sub> + ")
    assert by_name["Reynolds number"].formula(HTML) == "<i>v</i> · <i>D</i>/<i>ν</i>"
