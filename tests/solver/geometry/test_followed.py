"""What a moved part did to its lines besides stretching them."""

from __future__ import annotations

from solver.geometry.followed import followed_text, with_followed
from solver.geometry.moving import move_part
from tests.solver.geometry.test_leads import fed_from_below


def test_bends_that_came_or_went_and_a_pump_that_turned_are_said() -> None:
    layout = fed_from_below()
    straight, over, higher = (move_part(layout, "pump", 2.4, height) for height in (1.6, 0.9, 2.3))
    assert followed_text(layout, straight) == (
        "1 bend less in run 1, pump turned, its line now comes from the left"
    )
    assert followed_text(layout, over) == "pump turned, its line now comes from above"
    assert followed_text(layout, higher) == ""
    assert followed_text(straight, over) == (
        "1 bend more in run 1, pump turned, its line now comes from above"
    )
    aside = move_part(layout, "pump", 2.9, 2.1)
    assert followed_text(layout, aside) == ""


def test_the_words_of_undo_say_what_else_a_move_did() -> None:
    layout = fed_from_below()
    over = move_part(layout, "pump", 2.4, 0.9)
    assert with_followed("Move pump", layout, layout) == "Move pump"
    assert with_followed("Move pump", layout, over) == (
        "Move pump: pump turned, its line now comes from above"
    )
