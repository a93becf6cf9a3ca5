"""Fields in columns, with room by what they hold."""

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.card.card_fields import CardField
from sketch.card.card_lines import CardLine
from sketch.card.field_grid import FieldGrid


def test_columns_are_filled_from_the_top_and_trouble_spreads_where_it_is_alone(qtbot: QtBot) -> None:
    sheet = QWidget()
    qtbot.addWidget(sheet)
    grid = FieldGrid(sheet)
    fields = tuple(CardField(CardLine(key, key.title()), sheet) for key in ("one", "two", "three"))
    grid.set_fields(fields)
    fields[2].show_value("a name that is far longer than the others are")
    fields[2].show_trouble("wrong")
    grid.lay_out(2)
    sheet.resize(600, 200)
    sheet.show()
    grid.activate()
    one, two, three = (field.geometry() for field in fields)
    assert one.left() == two.left() < three.left()
    assert one.top() == three.top() < two.top()
    assert three.width() > one.width()
    assert fields[2].trouble.geometry().width() > three.width()
    assert fields[2].trouble.geometry().top() >= three.bottom()
    assert len(grid.widgets()) == 9
