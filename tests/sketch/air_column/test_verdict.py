"""The verdict: its word, its lines, the room it takes."""

from dataclasses import replace

import pytest
from PySide6.QtGui import QColor, QImage, QPainter

from sketch.air_column.verdict import _even, outlook_height, paint_outlook
from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.look.colours import LIGHT
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook

pytestmark = pytest.mark.usefixtures("qapp")
LONG = "Within: 0.08 psi above the atmosphere, 1.4 inHg of vacuum allowed here"


@pytest.mark.parametrize("room", range(150, 700, 25))
def test_lines_are_as_few_as_may_be_and_lose_no_word(room: int) -> None:
    ruler = Ruler()
    lines = _even(ruler, LONG, room)
    assert " ".join(lines) == LONG
    assert len(lines) == len(ruler.wrap(LONG, room, LARGE))
    assert all(ruler.width(line, LARGE) <= room or " " not in line for line in lines)


def test_no_word_is_left_over_on_a_line_of_its_own() -> None:
    ruler, sentence = Ruler(), "Within: 6.1 of 27.8 kPa allowed here"
    room = ruler.width("Within: 6.1 of 27.8 kPa allowed", LARGE) + 5
    assert ruler.wrap(sentence, room, LARGE)[-1] == "here"
    assert len(_even(ruler, sentence, room)[-1].split()) > 1


@pytest.mark.parametrize(
    ("severity", "colour"), [("good", LIGHT.good), ("caution", LIGHT.caution), ("stop", LIGHT.stop)]
)
def test_each_severity_has_an_icon_of_its_own_shape_and_colour(severity: str, colour: QColor) -> None:
    shapes = {each: icon(each) for each in ("good", "caution", "stop")}
    image = shapes.pop(severity)
    assert image.pixelColor(17, 25) == colour
    assert all(mask(image) != mask(other) for other in shapes.values())


def icon(severity: str) -> QImage:
    image = QImage(340, 200, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    paint_outlook(Pencil(painter), Box(0, 0, 340, 200), outlook(severity), LIGHT)
    painter.end()
    return image


def outlook(severity: str) -> Outlook:
    return Outlook(severity, "A word", LONG, "")


def mask(image: QImage) -> list[bool]:
    """Which pixels of the icon's place are painted, in whatever colour."""
    return [image.pixelColor(x, y) != LIGHT.paper for x in range(10, 31) for y in range(10, 31)]


def test_a_word_that_is_too_long_ends_inside_its_area() -> None:
    image = QImage(340, 200, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    long = Outlook("stop", 'The column breaks; shown: "the coldest morning of the year"', "Over", "")
    paint_outlook(Pencil(painter), Box(0, 0, 240, 200), long, LIGHT)
    painter.end()
    assert all(image.pixelColor(x, y) == LIGHT.paper for x in range(234, 340) for y in range(200))


def test_room_it_takes_is_known_before_it_is_painted() -> None:
    image = QImage(340, 400, QImage.Format.Format_ARGB32)
    painter = QPainter(image)
    taken = paint_outlook(Pencil(painter), Box(0, 0, 340, 400), outlook("good"), LIGHT)
    painter.end()
    assert taken == outlook_height(Ruler(), 340, outlook("good"))


def test_a_longer_headline_keeps_to_its_room_in_smaller_type() -> None:
    image = QImage(340, 400, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    pencil, area, long = Pencil(painter), Box(0, 0, 240, 400), outlook("good")
    natural = paint_outlook(pencil, area, long, LIGHT)
    assert paint_outlook(pencil, area, long, LIGHT, natural) == natural
    assert paint_outlook(pencil, area, long, LIGHT, natural + 40) == natural + 40
    image.fill(LIGHT.paper)
    assert paint_outlook(pencil, area, long, LIGHT, natural - 26) == natural - 26
    assert paint_outlook(pencil, area._replace(y=400.0), long, LIGHT, most=BODY) < natural
    painter.end()
    below = range(round(natural) - 26, 400)
    assert all(image.pixelColor(x, y) == LIGHT.paper for x in range(0, 340, 2) for y in below)


def test_what_belongs_under_a_headline_is_set_small_and_counts_in_its_height() -> None:
    short = Outlook(Grade.STOP, "Stop the pump", "17.0 kPa read, 12.5 kPa allowed there", "")
    under = replace(short, beneath="Read at the port of feed on 2026-11-26. As drawn: within by 2 kPa")
    ruler = Ruler()
    lines = len(ruler.wrap(under.beneath, 316.0, BODY))
    more = outlook_height(ruler, 340.0, under) - outlook_height(ruler, 340.0, short)
    assert more == pytest.approx(1.08 * ruler.height(BODY) * lines)
    image = QImage(340, 200, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    assert paint_outlook(Pencil(painter), Box(0, 0, 340, 200), under, LIGHT) == pytest.approx(
        outlook_height(ruler, 340.0, under)
    )
    painter.end()


@pytest.mark.parametrize("sentence", [LONG, f'{LONG} in "coldest start"'])
def test_a_sentence_that_gets_longer_in_a_drag_keeps_to_the_room_of_the_first(sentence: str) -> None:
    image = QImage(340, 200, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    pencil, area = Pencil(painter), Box(0, 0, 340, 200)
    room = paint_outlook(pencil, area, Outlook("good", "A word", "Over by 0.1 inHg", ""), LIGHT)
    longer = Outlook("good", "A word", sentence, "")
    assert paint_outlook(pencil, area, longer, LIGHT) > room, "at rest it takes what it needs"
    assert paint_outlook(pencil, area, longer, LIGHT, room) == room
    painter.end()
