"""Limits and weather in words, as a client reads them."""

from dataclasses import replace

from solver.findings.judgement import judge
from solver.layout.parts import Case, Limit
from solver.quantities.units import Quantity, System
from solver.report.budget_words import limit_in_words, weather_in_words
from tests.solver.checking import lifted, with_pump


def test_a_limit_that_is_another_in_a_case_is_named_with_the_case():
    layout = with_pump(lifted(), limit=Limit("pressure", ((None, Quantity("0.8 bar", 80e3)),)))
    milder = Limit("pressure", ((None, Quantity("0.6 bar", 60e3)),))
    layout = replace(layout, cases={"cold": Case({}, {("pumps", "pump", "limit"): milder})})
    (text,) = limit_in_words(judge(layout), System.SI)
    typed = "{} kPa absolute (typed as {} bar)".format
    assert text == f'the maker\'s limit of pump: {typed(80.0, 0.8)}; {typed(60.0, 0.6)} in "cold"'


def test_a_limit_typed_in_the_units_of_the_page_stands_as_it_is_typed():
    layout = with_pump(lifted(), limit=Limit("vacuum", ((None, Quantity("20 kPa", 20e3)),)))
    assert list(limit_in_words(judge(layout), System.SI)) == ["the maker's limit of pump: 20 kPa of vacuum"]


def test_the_allowance_for_the_weather_is_named_and_none_too():
    layout = lifted()
    for allowance, expected in ((Quantity("700 Pa", 700.0), "0.7 kPa is"), (None, "nothing is")):
        site = replace(layout.site, weather_allowance=allowance)
        (text,) = weather_in_words(judge(replace(layout, site=site)), "pump", System.SI)
        assert text.replace("\N{NO-BREAK SPACE}", " ").startswith(expected)
    figures = {("site", "weather_allowance"): Quantity("2 kPa", 2000.0)}
    (text,) = weather_in_words(judge(replace(layout, cases={"low": Case({}, figures)})), "pump", System.SI)
    assert text.replace("\N{NO-BREAK SPACE}", " ").endswith('for a low-pressure day; 2.0 kPa in "low"')
