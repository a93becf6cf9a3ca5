"""A figure and its unit stay on one line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.pencil import LARGE, Ruler
from sketch.look.words import JOINER, NO_BREAK, pieces, typographic, unbroken, with_signs, without_no_break
from sketch.model.document import Document
from sketch.views.findings_view import FindingDelegate, FindingsView
from solver.findings.checks import Finding
from solver.quantities import units
from solver.quantities.units import Kind, System


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("kind", Kind)
def test_figure_of_every_kind_keeps_its_unit(kind: Kind, system: System) -> None:
    shown = units.show(1.25, kind, system)
    assert " " not in unbroken(f"{shown},").replace("per inch", "perinch")
    assert without_no_break(unbroken(shown)) == shown
    assert "/" not in unbroken(shown).replace(f"/{JOINER}", "")


def test_words_that_are_no_unit_may_part() -> None:
    assert unbroken("3 joints are below") == "3 joints are below"
    assert unbroken("bend 1 matters") == "bend 1 matters"
    assert unbroken("at 2 more places") == "at 2 more places"
    assert unbroken("5 in, 3 m.") == f"5{NO_BREAK}in, 3{NO_BREAK}m."
    assert list(pieces("lay riser in NPS 2-1/2 schedule 40, page 3."))[2:] == [
        "in",
        "NPS 2-1/2",
        "schedule 40,",
        "page 3.",
    ]
    assert pieces("schedule forty, pages of a book")[0] == "schedule"
    assert list(pieces("viscosity 101 cSt (46 mm²/s at 40 °C)"))[-3:] == ["(46 mm²/s", "at", "40 °C)"]
    assert list(pieces("Within: 4.67 m of NPSH,\n 3.00 m required")) == [
        "Within:",
        "4.67 m",
        "of",
        "NPSH,",
        "3.00 m",
        "required",
    ]


def test_a_step_keeps_its_number_also_where_it_was_torn_off_and_is_set_again() -> None:
    """A column that went on in the next one had "6." at the end of a line."""
    assert "6. Read" in pieces("before the start. 6. Read a gauge.")
    assert "start." in pieces("before the start. 6. Read a gauge.")
    assert pieces("it is 12 at 3.5 and 4. so") == ("it", "is", "12", "at", "3.5", "and", "4.", "so")


def test_negative_figures_are_set_with_a_minus_sign() -> None:
    assert typographic("from -1.41 ft to -20 °C") == f"from −1.41{NO_BREAK}ft to −20{NO_BREAK}°C"
    assert typographic("NPS 2-1/2 schedule 40, hose -32") == (
        f"NPS{NO_BREAK}2-1/2 schedule{NO_BREAK}40, hose -32"
    )


def test_typed_units_are_read_by_their_signs() -> None:
    assert with_signs("45 degC") == "45 °C"
    assert with_signs("28 cm^3/rev, 0.5 m^2, 870 kg/m^3") == "28 cm³/rev, 0.5 m², 870 kg/m³"
    assert with_signs("degrees^21, 10^3, 1e-6 m^2/s") == "degrees^21, 10^3, 1e-6 m²/s"


@given(st.text(alphabet="ab 1m%.,\N{NO-BREAK SPACE}", max_size=60))
def test_nothing_is_lost(text: str) -> None:
    assert without_no_break(unbroken(text)) == without_no_break(text)
    assert " ".join(pieces(text)).split() == without_no_break(text).split()


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("width", range(120, 420, 10))
def test_verdict_never_breaks_between_figure_and_unit(width: int) -> None:
    lines = Ruler().wrap("Within: 4.67 m of NPSH, 3.00 m required", width, LARGE)
    assert not [line for line in lines if line.split()[0] == "m"]
    assert " ".join(lines) == "Within: 4.67 m of NPSH, 3.00 m required"


def test_findings_are_set_unbroken_and_copied_plain(qtbot: object) -> None:
    view = FindingsView(Document())
    finding = Finding("x", "note", "a", "", 1.0, 2.0, Kind.LENGTH, "over by 5 kPa", "3 m less", "try 2 m", "")
    view.findings.show((finding,), 1)
    delegate = view.itemDelegate()
    assert isinstance(delegate, FindingDelegate)
    texts = [block.text for block in delegate.blocks(finding, 900)[0]]
    assert f"over by 5{NO_BREAK}kPa" in texts
    assert NO_BREAK not in str(view.findings.data(view.findings.index(0)))
