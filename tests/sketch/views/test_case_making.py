"""Cases made, renamed, ordered and dropped in the open drawing: one undo step each, saved and read back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketch.editing import cases
from sketch.editing.edits import EditError
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import state_with_readings
from sketch.views import case_making
from solver.answers.proposals import proposals
from solver.field.causes import CauseKind
from solver.field.explain import Explanation
from solver.field.put_in import put_in
from solver.layout import file
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.logged import LoggedReading
from solver.layout.parts import FluidChoice, Level
from solver.ledger.cases import solve_cases
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from tests import drawings
from tests.thorough import one_in

pytestmark = pytest.mark.usefixtures("qapp")
RUN = "hose"
HOT = {"fluid": {"temperature": "60 degC"}}


@pytest.fixture
def document(tmp_path: Path) -> Document:
    path = tmp_path / "press.toml"
    path.write_text(next(p for p in drawings.SHIPPED if p.stem == "winter-press").read_text(encoding="utf-8"))
    opened = Document(keeps=False)
    opened.open(path)
    return opened


def names(document: Document, alternative: str = BASE) -> list[str]:
    layout = document.drawing.alternatives[alternative].layout if alternative else document.drawing.base
    return list(cases_of(layout))


def test_a_figure_that_is_asked_for_is_shown_one_that_the_case_could_have(document: Document) -> None:
    """The drawing's fluid is at 38 °C: no example for the hottest hour may be colder."""
    document.apply("Warm", replace(document.layout, fluid=warm(document.layout.fluid, 38.0)))
    offered = {each.name: each for each in proposals(replace(document.layout, cases={}))}
    figure = next(each for each in cases.figures(document.layout) if each.path == ("fluid", "temperature"))

    def asked(name: str, system: System) -> str:
        document.set_system(system)
        return case_making.question(document, figure, name, offered[name])

    for name in ("hottest hour", "worst hot"):
        assert asked(name, System.SI).endswith("(°C; such as 60 °C):")
        assert asked(name, System.US).endswith("(°F; such as 130 °F):")
    cold = replace(offered["hottest hour"], hot=False)
    assert case_making.question(document, figure, "cold", cold).endswith("(°F; such as 40 °F):")
    document.apply("Cold", replace(document.layout, fluid=warm(document.layout.fluid, -2.0)))
    assert case_making.question(document, figure, "cold", cold).endswith("(°F; such as 10 °F):")
    assert case_making.question(document, figure, "mine").endswith("(°F):")


def warm(fluid: FluidChoice, celsius: float) -> FluidChoice:
    return replace(fluid, temperature=quantity(f"{celsius} degC", Kind.TEMPERATURE))


def test_a_new_case_is_in_view_and_in_every_alternative(document: Document) -> None:
    before = names(document)
    case_making.add(document, "hot", HOT)
    assert document.case == "hot"
    assert document.ledger.margin != document.outcome.judgement.cases[AS_DRAWN].solution.pumps["press"].margin
    for alternative in document.alternatives:
        assert "hot" in names(document, alternative)
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert names(document) == before
    assert document.case == AS_DRAWN
    document.undo_stack.redo()
    assert "hot" in names(document)


def test_saved_and_opened_again_it_is_all_there(document: Document) -> None:
    case_making.add(document, "one", HOT)
    case_making.add(document, "two", {"level": "normal"})
    case_making.move(document, "two", -1)
    case_making.rename(document, "one", "hot")
    document.save()
    again = file.read(document.path)
    assert list(again.base.cases) == list(document.drawing.base.cases)
    assert list(again.base.cases)[-2:] == ["two", "hot"]
    assert again.base == document.drawing.base
    for name, alternative in again.alternatives.items():
        assert cases_of(alternative.layout) == cases_of(document.drawing.alternatives[name].layout)


def test_undo_takes_each_step_back(document: Document) -> None:
    case_making.add(document, "one", HOT)
    case_making.add(document, "two", {})
    before = names(document)
    steps = (
        lambda: case_making.move(document, "two", -1),
        lambda: case_making.rename(document, "two", "second"),
        lambda: case_making.remove(document, "one"),
    )
    for step in steps:
        step()
        assert names(document) != before
        document.undo_stack.undo()
        assert names(document) == before


def test_a_move_past_the_end_leaves_no_step(document: Document) -> None:
    case_making.add(document, "one", HOT)
    count = document.undo_stack.count()
    case_making.move(document, "one", 1)
    assert document.undo_stack.count() == count


def test_a_figure_typed_in_an_alternative_is_the_drawings_unless_it_is_for_that_alone(
    document: Document,
) -> None:
    case_making.add(document, "hot", HOT)
    name, *others = document.alternatives
    document.show_alternative(name)
    figure = next(each for each in cases.figures(document.layout) if each.words == "Fluid temperature")
    path = ("fluid", "temperature")

    def everywhere() -> list[str]:
        layouts = (document.drawing.base, *(each.layout for each in document.drawing.alternatives.values()))
        return [layout.cases["hot"].figures[path].text for layout in layouts]

    case_making.set_figure(document, "hot", figure, "40 degC")
    assert everywhere() == ["40 degC"] * (2 + len(others)), "one case is compared with itself"
    assert case_making.figures_of_alternative(document, "hot") == ()
    case_making.set_figure(document, "hot", figure, "30 degC", only_here=True)
    assert everywhere() == ["40 degC", "30 degC"] + ["40 degC"] * len(others)
    assert case_making.figures_of_alternative(document, "hot") == ("Fluid temperature",)
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert everywhere() == ["60 degC"] * (2 + len(others))


def test_a_name_that_is_taken_is_refused_and_leaves_no_step(document: Document) -> None:
    case_making.add(document, "hot", HOT)
    with pytest.raises(EditError, match="already"):
        case_making.add(document, "hot", {})
    assert document.undo_stack.count() == 1


def test_a_free_name_and_a_unit_for_a_bare_number(document: Document) -> None:
    assert case_making.free_name(document.layout, "Case") == "Case 1"
    case_making.add(document, "Case 1", {})
    assert case_making.free_name(document.layout, "Case") == "Case 2"
    assert case_making.in_unit_shown(" 60 ", Kind.TEMPERATURE, System.SI) == "60 °C"
    assert case_making.in_unit_shown("60 degC", Kind.TEMPERATURE, System.US) == "60 degC"


def test_what_a_ready_made_case_assumes_stands_in_its_note(document: Document) -> None:
    proposal = next(each for each in proposals(document.layout) if each.assumed and not each.asked)
    case_making.add_proposal(document, proposal, {})
    note = cases_of(document.layout)[proposal.name].note
    assert note.startswith("Assumed, common practice: ")
    for path in proposal.assumed:
        figure = next(each for each in cases.figures(document.layout) if ".".join(each.path) == path)
        assert figure.words in note


@pytest.mark.parametrize("path", one_in(9, drawings.SHIPPED), ids=lambda path: path.stem)
def test_every_ready_made_case_can_be_taken_with_what_it_asks_for(path: Path) -> None:
    document = Document(keeps=False)
    document.open(path)
    typed = {Kind.TEMPERATURE: "30 degC", Kind.TIME: "0.5 s", Kind.VACUUM: "20 mbar"}
    for proposal in proposals(document.layout):
        asked = case_making.asked_figures(document.layout, proposal)
        assert len(asked) == len(proposal.asked)
        case_making.add_proposal(document, proposal, {figure: typed[figure.kind] for figure in asked})
        assert document.case == proposal.name
        assert proposal.name not in [each.name for each in proposals(document.layout)]


def test_a_pair_of_causes_is_kept_as_an_alternative_with_a_case_in_it(document: Document) -> None:
    narrow = Explanation(CauseKind.BORE, RUN, 1.0, 0.8, 0.8, 0.8, False, False, (1.0,), ())
    thick = replace(narrow, cause=CauseKind.FLUID, part="", size=2.0)
    change = put_in(document.layout, replace(narrow, second=thick))
    said = case_making.keep_cause(document, change)
    (name,) = (
        each
        for each in document.alternatives
        if each.endswith("with 80 % of its diameter left, fluid 2.00 times as thick")
    )
    assert said.startswith(f"Kept as the alternative {name}, with the case ")
    assert document.alternative == name, "it is shown: fixes are asked of it, not of the sound drawing"
    (case,) = set(names(document, name)) - set(names(document))
    document.save()
    kept = file.read(document.path).alternatives[name].layout
    (ledger,) = solve_cases(kept, Level.MINIMUM)[case].solution.pumps.values()
    assert ledger.margin == pytest.approx(solve(change.layout).pumps["press"].margin, rel=1e-4)
    document.undo_stack.undo()
    assert name not in document.alternatives
    assert document.alternative == BASE


def test_a_cause_is_kept_for_the_coldest_start_as_well(document: Document) -> None:
    document.open(next(path for path in drawings.SHIPPED if path.stem == "glycol-on-the-oil-line"))
    before = names(document)
    screen = Explanation(CauseKind.SCREEN, "strainer", 1.0, 0.97, 0.97, 0.97, False, False, (1.0,), ())
    said = case_making.keep_cause(document, put_in(document.layout, screen))
    kept = "strainer 97 % blocked"
    assert names(document) == [*before, kept, f"coldest start, {kept}"]
    assert document.case == kept
    assert said.endswith(f"So they do in the case coldest start, {kept}.")
    judgement = document.outcome.judgement
    assert judgement is not None
    within, over = (judgement.cases[name].solution for name in names(document)[-2:])
    assert within is not None
    assert over is not None
    assert within.pumps["caster"].margin > 0.0 > over.pumps["caster"].margin, "a warm day hides it"
    document.undo_stack.undo()
    assert names(document) == before


def test_a_cause_is_kept_for_the_coldest_case_by_whichever_name(document: Document) -> None:
    document.open(next(path for path in drawings.SHIPPED if path.stem == "strainer-over-a-year"))
    screen = Explanation(CauseKind.SCREEN, "strainer", 1.0, 0.78, 0.78, 0.78, False, False, (1.0,), ())
    said = case_making.keep_cause(document, put_in(document.layout, screen))
    assert said.endswith("So they do in the case cold morning, strainer 78 % blocked.")
    assert document.layout.cases["cold morning, strainer 78 % blocked"].table == {
        "fault": True,
        "fluid": {"temperature": "22 degC"},
        "intakes": {"strainer": {"screen": {"blocked": 0.78}}},
    }


def test_a_thicker_fluid_is_as_thick_at_the_coldest_start(document: Document) -> None:
    document.open(next(path for path in drawings.SHIPPED if path.stem == "carriage-at-altitude"))
    thick = Explanation(CauseKind.FLUID, "", 1.0, 3.9, 3.9, 3.9, False, False, (1.0,), ())
    case_making.keep_cause(document, put_in(document.layout, thick))
    judgement = document.outcome.judgement
    assert judgement is not None
    thin, cold = (judgement.cases[name].solution for name in ("coldest start", names(document)[-1]))
    assert thin is not None
    assert cold is not None
    assert cold.fluid.temperature == thin.fluid.temperature
    assert cold.fluid.viscosity == pytest.approx(3.9 * thin.fluid.viscosity, rel=1e-3)


def test_of_a_pair_what_happens_to_the_line_is_kept_for_the_coldest_start_as_well(document: Document) -> None:
    document.open(next(path for path in drawings.SHIPPED if path.stem == "carriage-at-altitude"))
    narrow = Explanation(CauseKind.BORE, "lead", 1.0, 0.8, 0.8, 0.8, False, False, (1.0,), ())
    dirty = replace(narrow, cause=CauseKind.SCREEN, part="strainer", size=0.87)
    said = case_making.keep_cause(document, put_in(document.layout, replace(narrow, second=dirty)))
    (name,) = (each for each in document.alternatives if each.startswith("Lead with"))
    *_, warm, cold = names(document, name)
    assert said.startswith(f"Kept as the alternative {name}, with the cases {warm} and {cold} in it")
    solved = solve_cases(document.drawing.alternatives[name].layout, Level.MINIMUM)
    assert solved[cold].solution.pumps["carriage"].vacuum > solved[warm].solution.pumps["carriage"].vacuum


def test_what_no_figure_of_a_drawing_holds_is_named_where_the_rest_is_kept(document: Document) -> None:
    thick = Explanation(CauseKind.FLUID, "", 1.0, 2.0, 2.0, 2.0, False, False, (1.0,), ())
    off = replace(thick, cause=CauseKind.OFFSET, part="A", size=2e3)
    said = case_making.keep_cause(document, put_in(document.layout, replace(thick, second=off)))
    assert said.startswith(f"Kept as the case {document.case}, which is shown")
    assert document.case == "fluid 2.00 times as thick"
    assert said.endswith("Left out, as a drawing has no figure for it: gauge off, or fluid in its tube: A.")


def test_readings_made_in_a_case_follow_its_name_and_undo(document: Document) -> None:
    case_making.add(document, "hot", HOT)
    read = LoggedReading("2026-03-04", "press", case="hot")
    document.change_alternatives("Read", lambda state: state_with_readings(state, (read,)))
    case_making.rename(document, "hot", "very hot")
    layouts = [document.layout, *(each.layout for each in document.drawing.alternatives.values())]
    assert {each.case for layout in layouts for each in layout.readings} == {"very hot"}
    document.undo_stack.undo()
    assert document.layout.readings == (read,)
