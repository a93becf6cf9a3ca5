"""What was found, on the page: each finding with the drawings and cases that its words and figures are of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sketch.look.colours import LIGHT
from sketch.page.blocks import Paragraph
from sketch.page.columns import Columns
from sketch.page.options import Option, option_of
from sketch.page.sheet_findings import finding_part
from sketch.page.sheet_frame import Sheet
from solver.findings.kinds import FindingId
from solver.layout.parts import Case, Level
from solver.quantities.units import Kind, System, quantity
from tests.sketch.sheets import pages, panel_of, written
from tests.solver.checking import lifted
from tests.solver.fixes.test_fixes import LAYOUTS

pytestmark = pytest.mark.usefixtures("qapp")


def test_findings_stand_once_with_the_cases_and_drawings_they_hold_in() -> None:
    text = " ".join(pages(written("winter-press", compared=True)))
    findings_text = text[text.index("Findings Where nothing else is named, ") :]
    assert findings_text.count("press: over by 5.81 inHg (") == 1
    holds = findings_text[findings_text.index("press: over by 5.81 inHg (") :]
    assert 'Holds in: The drawing itself (as drawn, "coldest start", "first stroke")' in holds
    unless = re.search(
        r"the figures of what holds in several cases are those of (.*?); the source is: (.*?)\.", text
    )
    assert unless is not None
    assert f"The figures of the finding are those of {unless[1]}" not in holds
    assert f"Source: {unless[2]}." not in holds
    assert unless[2] == "common practice, without a published source"


def sheet_of(*options: Option, shown: int) -> Sheet:
    """A sheet of drawings whose first page shows the first and that of a number."""
    panels = (panel_of(options[0]), panel_of(options[shown]))
    return Sheet("", System.US, Level.MINIMUM, LIGHT, "", panels, options)


def texts_of(sheet: Sheet) -> list[str]:
    """The paragraphs of the findings."""
    _, columns = finding_part(sheet)
    assert isinstance(columns, Columns)
    return [each.text for each in columns.blocks if isinstance(each, Paragraph)]


def drawn(name: str, flow: float) -> Option:
    """A small drawing whose fluid runs fast, with what to try as far as its own figures say it."""
    option = option_of(name, "", lifted(flow=flow, bore=0.04), Level.MINIMUM, System.US)
    assert option.judgement is not None
    return replace(option, judgement=option.judgement.worded)


def test_a_finding_with_other_figures_stands_by_itself_with_its_own_drawing() -> None:
    options = (drawn("", 0.0018), drawn("like it", 0.0018), drawn("slower", 0.0016))
    texts = texts_of(sheet_of(*options, shown=2))
    at = texts.index("riser: 4.70 ft/s, over the usual 3.94 ft/s.")
    assert "Holds in: The drawing itself, like it." in texts[at + 1]
    assert texts[at + 2].startswith("slower: 4.18 ft/s, over the usual 3.94 ft/s.")
    assert not any("slower" in text for text in texts[at : at + 2])


def test_a_finding_of_another_severity_is_another_finding() -> None:
    options = (drawn("", 0.0018), drawn("faster", 0.0022))
    texts = texts_of(sheet_of(*options, shown=1))
    for figure, title in (("4.70", "The drawing itself"), ("5.74", "faster")):
        (at,) = (number for number, text in enumerate(texts) if text.startswith(f"riser: {figure} ft/s"))
        assert texts[at + 1].endswith(f"Holds in: {title}.")


def test_what_to_try_is_named_with_the_drawing_that_its_figures_are_of() -> None:
    options = (drawn("", 0.0018), drawn("slower", 0.0016), drawn("slowest", 0.0014))
    every = texts_of(sheet_of(*options, shown=2))
    for option in options:
        assert option.judgement is not None
        (weather,) = (f for f in option.judgement.findings if f.finding is FindingId.NO_WEATHER_ALLOWANCE)
        assert weather.advice
        named = [text for text in every if f"{option.title}: {weather.advice}" in text]
        assert bool(named) == (option.name != "slower")  # not on the first page: no advice of its own


def test_a_thin_margin_names_its_case_where_the_pump_is_over_in_another() -> None:
    """The drawing of the solver's own test of what to try: thin as drawn, over on a low-pressure day."""
    layout, storm = LAYOUTS["winter-press"], "low-pressure day"
    warm = replace(layout.fluid, temperature=quantity("1 degC", Kind.TEMPERATURE), coldest_start=None)
    case = Case({}, {("site", "weather_allowance"): quantity("6 kPa", Kind.VACUUM)})
    thin, both = replace(layout, fluid=warm, cases={}), replace(layout, fluid=warm, cases={storm: case})
    alone, with_storm = (option_of("", "", each, Level.MINIMUM, System.US) for each in (thin, both))
    (heading,) = (
        text for text in texts_of(sheet_of(with_storm, with_storm, shown=1)) if "budget is left" in text
    )
    assert heading.endswith(" in the case as drawn.")
    (heading,) = (text for text in texts_of(sheet_of(alone, alone, shown=1)) if "budget is left" in text)
    assert not heading.endswith(" in the case as drawn.")


def test_of_several_alternatives_that_the_first_page_does_not_show_notes_are_counted_not_listed() -> None:
    """And the findings say so; the one alternative more of a short comparison is listed whole."""
    options = [drawn(name, 0.012) for name in ("", "shown")]
    options += [drawn("aside", 0.009), drawn("aside too", 0.012)]
    few, many = (" ".join(texts_of(sheet_of(*options[:count], shown=1))) for count in (3, 4))
    note, stop = "aside: 1 joint is under vacuum", "aside: over by 16."
    assert note in few
    assert note not in many
    assert stop in few
    assert stop in many
    assert "counted" not in few
    assert "Notes are those of The drawing itself and shown" in many
