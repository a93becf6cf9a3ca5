"""The part card by real keys: what is typed reaches the drawing when it is right, and not before."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.editing import edits
from sketch.editing.tanks import Side, size
from sketch.look.unit_hint import UnitHint
from sketch.model.document import Document
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS, show, type_in
from tests.sketch.shown import shown
from tests.solver.geometry.test_leads import fed_from_below
from tests.thorough import first


@pytest.fixture
def card(qtbot: QtBot, document: Document) -> PartCard:
    return shown(qtbot, PartCard(document), 1366, 220)


def test_it_shows_what_is_selected_and_the_whole_of_nothing(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    assert card.fields["site.elevation"].value == "1650 m"
    show(qtbot, card, document, "carriage")
    assert card.fields["speed"].value == "1450 rpm"
    document.select("")
    qtbot.waitUntil(lambda: "fluid.name" in card.fields)


def test_a_typed_figure_is_one_undo_step(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "carriage")
    before = document.ledger.flow
    type_in(qtbot, card, "speed", "725 rpm")
    assert document.ledger.flow == pytest.approx(before / 2)
    assert document.undo_stack.undoText() == "Change speed of carriage to 725 rpm"
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: card.fields["speed"].value == "1450 rpm")
    assert document.clean


def test_a_flow_that_follows_is_whole_while_its_field_has_the_keyboard(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    field = card.fields["flow"].edit
    assert isinstance(field, QLineEdit)
    assert field.placeholderText().startswith("= ")
    qtbot.mouseClick(field, Qt.MouseButton.LeftButton)
    assert field.hasFocus()
    room = field.width() - field.textMargins().right()
    assert field.fontMetrics().horizontalAdvance(field.placeholderText()) <= room
    assert not field.findChild(UnitHint).isVisible()


def test_powers_are_shown_by_their_signs_and_kept_as_typed(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    field = card.fields["displacement"].edit
    assert isinstance(field, QLineEdit)
    assert field.text().endswith(" cm³/rev")
    before = document.layout.pumps["carriage"].displacement
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert document.layout.pumps["carriage"].displacement == before
    type_in(qtbot, card, "displacement", "30")
    after = document.layout.pumps["carriage"].displacement
    assert after is not None
    assert (after.si, field.text()) == (pytest.approx(30e-6), "30 cm³/rev")
    assert "30 cm³/rev" in document.undo_stack.undoText()


def test_the_base_takes_a_bore_for_a_size_that_an_alternative_gives(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "riser")
    type_in(qtbot, card, "bore", "2 in")
    riser = document.layout.runs["riser"]
    assert (riser.size, riser.bore.text) == (None, "2 in")
    read = file.parse(file.write(document.drawing))
    wider = read.alternatives["Three-inch suction line"].layout.runs["riser"]
    assert (wider.size, wider.bore) == ("NPS 3 schedule 40", None)
    assert not read.broken


def test_what_is_wrong_leaves_the_drawing_alone_until_it_is_right(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    drawn = document.layout
    type_in(qtbot, card, "speed", "fast")
    assert document.layout is drawn
    assert card.pending
    assert "fast" in card.fields["speed"].trouble.text()
    assert card.fields["speed"].trouble.isVisible()
    assert card.give_up.isVisible()
    type_in(qtbot, card, "speed", "1200 rpm")
    assert not card.pending
    assert not card.fields["speed"].trouble.isVisible()
    assert document.layout.pumps["carriage"].speed.text == "1200 rpm"


def test_what_is_refused_stays_while_the_drawing_goes_on_elsewhere(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "")
    given_up: list[str] = []
    document.refused.connect(given_up.append)
    box = card.fields["fluid.name"].edit
    assert isinstance(box, QComboBox)
    editor = box.lineEdit()
    assert editor is not None
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, "VG 68")
    qtbot.keyClick(box.completer().popup(), Qt.Key.Key_Escape)  # what is offered below
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    assert 'did you mean "Mineral oil, ISO VG 68"' in card.fields["fluid.name"].trouble.text()
    document.apply("Block the strainer", edits.set_blocked(document.layout, "strainer", 0.31))
    card.refresh()
    assert card.pending
    assert card.fields["fluid.name"].value == "VG 68"
    assert card.fields["fluid.name"].trouble.isVisible()
    document.select("carriage")
    assert given_up == [
        "Not taken over from the part card, and kept there until Site and fluid is selected again: "
        'Fluid "VG 68".'
    ]
    assert not card.pending


@pytest.mark.parametrize("elsewhere", [False, True], ids=["on the card", "while another is shown"])
def test_what_is_refused_is_kept_where_its_part_is_renamed(
    qtbot: QtBot, card: PartCard, document: Document, *, elsewhere: bool
) -> None:
    said: list[str] = []
    document.refused.connect(said.append)
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "speed", "fast")
    assert card.refused_texts() == ('"fast" in Speed of carriage',)
    if elsewhere:
        show(qtbot, card, document, "riser")
        assert said.pop().endswith('until carriage is selected again: Speed "fast".')
    document.rename("carriage", "main pump")
    assert card.refused_texts() == ('"fast" in Speed of main pump',)
    show(qtbot, card, document, "main pump")
    assert card.pending
    assert (card.fields["speed"].value, said) == ("fast", [])
    document.undo_stack.undo()
    show(qtbot, card, document, "carriage")
    assert (card.pending, card.fields["speed"].value) == (True, "fast")
    qtbot.keyClick(card.fields["speed"].edit, Qt.Key.Key_Escape)
    assert card.refused_texts() == ()


def test_what_is_refused_is_seen_again_with_its_part(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "speed", "fast")
    said = card.fields["speed"].trouble.text()
    assert said
    layout = document.layout
    show(qtbot, card, document, "riser")
    assert not card.pending
    assert all(field.trouble.isHidden() for field in card.fields.values())
    document.apply("Block the strainer", edits.set_blocked(layout, "strainer", 0.31))
    show(qtbot, card, document, "carriage")
    assert card.pending
    assert card.fields["speed"].value == "fast"
    assert card.fields["speed"].trouble.text() == said
    assert card.fields["speed"].trouble.isVisible()
    assert "The drawing is unchanged until this is right." in card.trouble.text()
    qtbot.keyClick(card.fields["speed"].edit, Qt.Key.Key_Escape)
    show(qtbot, card, document, "riser")
    show(qtbot, card, document, "carriage")
    assert not card.pending
    assert card.fields["speed"].value == layout.pumps["carriage"].speed.text


def test_what_is_kept_of_a_part_goes_with_the_figure_that_it_would_replace(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "speed", "fast")
    show(qtbot, card, document, "riser")
    given_up: list[str] = []
    document.refused.connect(given_up.append)
    document.apply("Turn it slower", edits.set_speed(document.layout, "carriage", 100.0))
    show(qtbot, card, document, "carriage")
    assert not card.pending
    assert given_up == ['Not taken over from the part card, and given up: Speed "fast".']


def test_what_is_kept_goes_with_its_drawing(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "speed", "fast")
    show(qtbot, card, document, "riser")
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    show(qtbot, card, document, "carriage")
    assert not card.pending


def test_what_is_refused_goes_with_the_figure_that_it_would_replace(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    given_up: list[str] = []
    document.refused.connect(given_up.append)
    type_in(qtbot, card, "speed", "fast")
    edited = edits.set_speed(document.layout, "carriage", 100.0)
    document.apply("Turn it slower", edited)
    card.refresh()
    assert not card.pending
    assert given_up == ['Not taken over from the part card, and given up: Speed "fast".']
    assert card.fields["speed"].value == edited.pumps["carriage"].speed.text


def test_a_kind_is_picked_and_its_own_figures_come(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "connector")
    kinds = card.fields["kind"].edit
    assert isinstance(kinds, QComboBox)
    kinds.setFocus()
    kinds.setCurrentIndex(kinds.findText("known K"))
    kinds.activated.emit(kinds.currentIndex())
    assert card.fields["k"].trouble.text() == "needed here"
    assert document.clean
    type_in(qtbot, card, "k", "1.5")
    assert document.layout.fittings["connector"].kind == "known K"
    assert document.undo_stack.count() == 1


def test_a_change_of_the_drawing_goes_through_to_its_alternatives(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    type_in(qtbot, card, "site.elevation", "100 m")
    for name in document.alternatives:
        assert document.drawing.alternatives[name].layout.site.elevation.text == "100 m"


def test_an_alternative_that_would_not_hold_is_named(qtbot: QtBot, tmp_path: Path, riser: Path) -> None:
    text = riser.read_text(encoding="utf-8").replace(
        "pumps.carriage.speed", 'reservoirs.tank.minimum_level = "0.5 m"\npumps.carriage.speed'
    )
    riser.write_text(text, encoding="utf-8")
    document = Document(keeps=False)
    document.open(riser)
    card = PartCard(document)
    qtbot.addWidget(card)
    with qtbot.waitExposed(card):
        card.show()
    show(qtbot, card, document, "tank")
    type_in(qtbot, card, "normal_level", "0.45 m")
    assert document.clean
    assert "Half speed" in card.trouble.text()


def test_a_field_shows_the_unit_of_a_bare_number_while_it_is_typed(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    for system, unit, text in ((System.SI, "m", "1.25 m"), (System.US, "ft", "1.25 ft")):
        document.set_system(system)
        show(qtbot, card, document, "carriage")
        field = card.fields["at.y"]
        field.edit.setFocus()
        field.edit.selectAll()
        qtbot.keyClicks(field.edit, "1.25")
        (hint,) = field.edit.findChildren(UnitHint)
        assert (hint.isVisible(), hint.text()) == (True, unit)
        qtbot.keyClick(field.edit, Qt.Key.Key_Return)
        assert not hint.isVisible()
        assert document.layout.pumps["carriage"].at[1].text == text
        document.undo_stack.undo()  # to feet and inches, which are no one unit


def test_it_works_on_a_drawing_that_cannot_be_calculated(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "riser")
    type_in(qtbot, card, "bend_radius", "90 ft")
    assert document.solution is None
    type_in(qtbot, card, "bend_radius", "5 in")
    assert document.solution is not None


def test_a_hidden_card_reads_nothing(qtbot: QtBot, card: PartCard, document: Document) -> None:
    card.hide()
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert card.fields["fluid.temperature"].value == "45 degC"
    card.show()
    assert card.fields["fluid.temperature"].value != "45 degC"


@pytest.mark.parametrize("width", first([420, 700, 1366, 2560]))
def test_no_field_covers_another(qtbot: QtBot, card: PartCard, document: Document, width: int) -> None:
    show(qtbot, card, document, "carriage")
    card.resize(width, 400)

    def apart() -> bool:
        boxes = [widget.geometry() for widget in (*card._grid.labels, *card.fields.values())]
        if max(box.right() for box in boxes) > card.width():
            return False  # not laid out anew yet
        return not any(box.intersects(other) for at, box in enumerate(boxes) for other in boxes[at + 1 :])

    qtbot.waitUntil(apart)


def test_a_picked_kind_is_the_one_that_is_shown_while_it_waits(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "connector")
    kinds = card.fields["kind"].edit
    assert isinstance(kinds, QComboBox)
    kinds.setFocus()
    kinds.setCurrentIndex(kinds.findText("known K"))
    kinds.activated.emit(kinds.currentIndex())
    assert card.fields["kind"].value == "known K"
    assert card.pending


def test_the_card_says_when_it_changes_an_alternative_only(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    document.show_alternative(document.alternatives[0])
    qtbot.waitUntil(lambda: document.alternatives[0] in card.heading.text())
    document.show_alternative("")
    qtbot.waitUntil(lambda: "alternative" not in card.heading.text())


def test_no_field_of_the_last_part_is_there_once_another_is_selected(
    card: PartCard, document: Document
) -> None:
    """With the event loop given no moment between: a figure typed then would go to the new part."""
    document.select("carriage")
    assert "speed" in card.fields
    document.select("riser")
    assert "speed" not in card.fields
    assert "material" in card.fields
    document.open(LAYOUTS / "baler-flooded.toml")
    assert card.name == ""
    assert card.fields["site.elevation"].value == "40 m"


@pytest.mark.thorough
def test_a_tank_is_typed_side_by_side(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "tank")
    assert card.fields["side.width"].value == "4 ft"
    type_in(qtbot, card, "side.width", "5")
    type_in(qtbot, card, "side.floor", "1 ft")
    tank = document.layout.reservoirs["tank"]
    assert [x.text for x, _ in tank.outline] == ["0 ft", "5 ft", "5 ft", "0 ft"]
    assert tank.minimum_level.text == "2 ft 4 in"
    assert document.layout.intakes["strainer"].at[1].text == "1 ft 7 in"
    type_in(qtbot, card, "return.x", "4 ft")
    assert card.pending
    assert "its elevation" in card.fields["return.x"].trouble.text()
    type_in(qtbot, card, "return.y", "20 in")
    assert [figure.text for figure in document.layout.reservoirs["tank"].return_at] == ["4 ft", "20 in"]
    type_in(qtbot, card, "baffle.x", "3 ft")
    type_in(qtbot, card, "baffle.top", "2 ft")
    assert document.layout.reservoirs["tank"].baffle.top.text == "2 ft"
    type_in(qtbot, card, "side.height", "6 in")
    assert "level" in card.fields["side.height"].trouble.text()
    assert document.undo_stack.count() == 4


def test_what_a_figure_takes_the_place_of_is_said_until_it_is_back(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    allowed = card.fields["limit.vacuum"].value
    type_in(qtbot, card, "limit.npsh", "0.8 m")
    assert document.layout.pumps["carriage"].limit.form == "npsh"
    said = f"NPSH required 0.8 m takes the place of the vacuum limit of {allowed}; Ctrl+Z brings back"
    assert card.trouble.text().startswith(said)
    assert document.undo_stack.undoText().endswith(f"in place of the vacuum limit of {allowed}")
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: card.fields["limit.vacuum"].value == allowed)
    assert not card.trouble.text()
    type_in(qtbot, card, "limit.pressure", "0.8 bar")
    assert "0.8 bar takes the place of" in card.trouble.text()
    show(qtbot, card, document, "riser")
    assert not card.trouble.text()


def test_a_floor_that_is_typed_says_what_moves_with_it(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "tank")
    before = document.layout.reservoirs["tank"]
    type_in(qtbot, card, "side.floor", "1 ft")
    tank = document.layout.reservoirs["tank"]
    risen = 0.3048 - size(before, Side.FLOOR)
    assert tank.minimum_level.si - before.minimum_level.si == pytest.approx(risen)
    assert risen
    said = card.trouble.text()
    assert said.startswith("Floor 12 in moves all of tank, and strainer with it; its levels are as high ")
    assert f"normal {tank.normal_level.text}, minimum {tank.minimum_level.text}; Ctrl+Z" in said
    type_in(qtbot, card, "side.width", "5 ft")
    assert not card.trouble.text()


def test_what_an_alternative_refuses_is_said_by_the_name_of_its_part(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    """Not by the keys of a file, which nobody in the window sees."""
    show(qtbot, card, document, "tank")
    type_in(qtbot, card, "side.left", "-2 ft")
    said = card.trouble.text()
    assert "Pump beside the tank would not hold: nozzle, place 4 ft; 1 ft, outside the outline" in said
    assert "intakes." not in said
    assert document.undo_stack.count() == 0


def test_the_length_of_a_straight_is_typed(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "riser")
    assert card.fields["straight.1"].value == "2 ft 7 in"
    labels = [card.fields[f"straight.{at}"].line.label for at in (1, 2)]
    assert labels == ["Straight 1, to the corner", "Straight 2, to the corner"]
    lift = document.layout.pumps["carriage"].at[1].si
    type_in(qtbot, card, "straight.1", "2 ft 10 in")
    assert document.layout.pumps["carriage"].at[1].si == pytest.approx(lift + 3 * 0.0254, abs=1e-4)
    assert document.undo_stack.undoText() == "Change straight 1 of riser to 2 ft 10 in"
    show(qtbot, card, document, "tank")
    type_in(qtbot, card, "return.y", "20 in")
    type_in(qtbot, card, "return.x", "3 ft")
    assert document.layout.reservoirs["tank"].return_at is not None, "in either order"


@pytest.mark.thorough
def test_the_field_of_a_straight_that_is_gone_is_neither_typed_nor_given_up(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    for act in (lambda: card._typed("straight.2", "3 ft"), card.discard):
        show(qtbot, card, document, "riser")
        qtbot.waitUntil(lambda: "straight.2" in card.fields)
        riser = document.layout.runs["riser"]
        straight = replace(document.layout, runs={**document.layout.runs, "riser": replace(riser, via=())})
        document.apply("Remove the bend", straight)
        act()
        assert "straight.2" not in card.fields
        assert document.layout is straight
        document.undo_stack.undo()
        qtbot.waitUntil(lambda: not card._stale)


@pytest.mark.thorough
def test_fields_that_are_dropped_never_show_as_windows(card: PartCard, document: Document) -> None:
    for name in ("carriage", "riser", "tank", "strainer"):  # at once, as putting a part down does
        document.select(name)
        card.refresh()
    windows: list[object] = []
    application = QApplication.instance()
    application.focusWindowChanged.connect(windows.append)
    shown_before = {each for each in QApplication.topLevelWidgets() if each.isVisible()}
    QApplication.processEvents()
    assert {each for each in QApplication.topLevelWidgets() if each.isVisible()} == shown_before
    assert windows == []


def in_sight(widget: QWidget) -> bool:
    """Whether the whole height of a widget is seen."""
    return bool(widget.visibleRegion().boundingRect().height() == widget.height())


def test_at_a_small_window_fields_have_room_and_a_refusal_stands_across_its_column(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    document.open(LAYOUTS / "wash-water-npsh.toml")
    assert card.canvas.isVisible()
    card._grid.activate()
    hint = card.fields["fluid.density"].edit
    assert isinstance(hint, QLineEdit)
    assert hint.width() - 12 > hint.fontMetrics().horizontalAdvance(hint.placeholderText())
    long = "Hot wash water lifted from a sump under the floor of the boiler house"
    document.apply("Title", replace(document.layout, title=long))
    card.refresh()
    title = card.fields["title"]
    QApplication.sendEvent(title.edit, QHelpEvent(QEvent.Type.ToolTip, QPoint(3, 3), QPoint(3, 3)))
    assert long in title.edit.toolTip(), "what is cut off is the tip"
    type_in(qtbot, card, "fluid.viscosity", "abc")
    trouble = card.fields["fluid.viscosity"].trouble
    assert trouble.text()
    assert trouble.width() > 250
    qtbot.waitUntil(lambda: in_sight(trouble))
    card.resize(1280, 200)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    show(qtbot, card, document, "carriage")
    QApplication.processEvents()
    type_in(qtbot, card, "speed", "fast")  # the last of its column: what is said of it makes the card higher
    qtbot.waitUntil(lambda: in_sight(card.fields["speed"].trouble))


def test_a_pump_stands_whole_on_the_card_of_a_small_window(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    card.resize(1366, 212)
    document.open(LAYOUTS / "header-two-pumps.toml")
    show(qtbot, card, document, document.pump)
    QApplication.processEvents()
    assert card.canvas.isVisible()
    bars = card._room.verticalScrollBar(), card._room.horizontalScrollBar()
    assert [bar.maximum() for bar in bars] == [0, 0]
    size = card.fields["size"].edit
    assert isinstance(size, QComboBox)
    assert size.fontMetrics().horizontalAdvance(size.currentText()) <= size.lineEdit().width() - 8
    type_in(qtbot, card, "at.x", "far")
    trouble = card.fields["at.x"].trouble
    QApplication.processEvents()
    assert trouble.width() > 280, "over two columns, as none beside it is wrong"
    assert trouble.geometry().right() <= card._room.viewport().width()


def test_the_length_of_a_connector_is_held_against_what_is_drawn_of_it(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    document.begin(fed_from_below())
    show(qtbot, card, document, "joint")
    type_in(qtbot, card, "length", "3 m")
    said = "joint: 3.00 m long as typed, on 0.425 m of straight line as drawn"
    qtbot.waitUntil(lambda: card.trouble.text().startswith(said))
    type_in(qtbot, card, "length", "0.3 m")
    qtbot.waitUntil(lambda: card.trouble.text() == "")


def test_a_nominal_size_typed_alone_is_that_of_the_list_of_the_part(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "riser")

    def typed(text: str) -> str | None:
        box = card.fields["size"].edit
        assert isinstance(box, QComboBox)
        editor = box.lineEdit()
        assert editor is not None
        editor.setFocus()
        editor.selectAll()
        qtbot.keyClicks(editor, text)
        qtbot.keyClick(editor, Qt.Key.Key_Return)
        return document.layout.runs["riser"].size

    assert typed("3 in") == "NPS 3 schedule 40"
    assert typed("DN 50") == "NPS 2 schedule 40"
    assert typed("2-1/2") == "NPS 2-1/2 schedule 40"
    assert not card.pending
    assert typed("8") == "NPS 2-1/2 schedule 40"
    trouble = card.fields["size"].trouble
    assert trouble.text() == '8 may be "NPS 8 schedule 40" or "NPS 1/4 schedule 40": choose one'
    trouble.linkActivated.emit("0")
    assert document.layout.runs["riser"].size == "NPS 8 schedule 40"


def _is_whole(field: QLineEdit) -> bool:
    """Whether all that a field holds or says has room in it."""
    text = field.text() or field.placeholderText()
    return field.fontMetrics().horizontalAdvance(text) < field.width() - 8


def test_a_flow_typed_makes_the_displacement_and_is_shown_as_derived(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "flow", "60 L/min")
    pump = document.layout.pumps["carriage"]
    assert pump.flow is None
    assert pump.displacement is not None
    assert card.trouble.text().startswith(
        "Flow 60 L/min at 1450 rpm makes the displacement 41.38 cm³/rev; at another speed the flow follows; "
    )
    assert document.undo_stack.undoText() == "Change displacement of carriage to 41.38 cm³/rev"
    flow, displacement = card.fields["flow"].edit, card.fields["displacement"].edit
    assert isinstance(flow, QLineEdit)
    assert isinstance(displacement, QLineEdit)
    assert flow.text() == ""
    assert flow.placeholderText() == "= 15.9 gpm"
    assert _is_whole(flow)
    hovered = QHelpEvent(QEvent.Type.ToolTip, QPoint(5, 5), flow.mapToGlobal(QPoint(5, 5)))
    QApplication.sendEvent(flow, hovered)
    assert "Derived: 15.9\xa0gpm, from what is typed." in flow.toolTip()
    assert (displacement.text(), pump.displacement.text) == ("41.38 cm³/rev", "41.38 cm^3/rev")
    type_in(qtbot, card, "speed", "2900 rpm")
    assert flow.placeholderText() == "= 31.7 gpm"
