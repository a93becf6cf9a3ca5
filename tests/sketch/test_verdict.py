"""The verdict: its word, its lines, the room it takes."""

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.colours import LIGHT
from sketch.labels import Box
from sketch.pencil import LARGE, Pencil, Ruler
from sketch.verdict import _even, judge, paint_verdict, verdict_height
from solver.units import System
from tests.sketch import by_hand

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
    ("extra", "word"),
    [(0.0, "Within the limit"), (5_000.0, "Within, thin margin"), (9_000.0, "Over the limit")],
)
def test_word_goes_with_the_margin(extra: float, word: str) -> None:
    assert judge(by_hand.ledger(extra), LIGHT)[0] == word


def test_room_it_takes_is_known_before_it_is_painted() -> None:
    image = QImage(340, 400, QImage.Format.Format_ARGB32)
    painter = QPainter(image)
    ledger = by_hand.ledger()
    taken = paint_verdict(Pencil(painter), Box(0, 0, 340, 400), ledger, LIGHT, System.SI)
    painter.end()
    assert taken == verdict_height(Ruler(), 340, ledger, System.SI)
