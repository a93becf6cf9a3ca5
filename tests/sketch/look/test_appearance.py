from collections.abc import Iterator

import pytest
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QStyle,
    QStyleOptionButton,
    QTableWidget,
    QWidget,
)
from pytestqt.qtbot import QtBot

from sketch.look import colours
from sketch.look.appearance import Appearance, ThemeChoice, read_style_sheets_again, theme_of
from sketch.look.colours import DARK, LIGHT, blend


@pytest.fixture(autouse=True)
def _palette_as_before(qapp: QApplication) -> Iterator[None]:
    """A test of another module would find itself in the dark."""
    before = QPalette(qapp.palette())
    yield
    qapp.setPalette(before)


def test_the_theme_is_read_off_a_palette() -> None:
    assert theme_of(colours.palette(LIGHT)) is LIGHT
    assert theme_of(colours.palette(DARK)) is DARK
    assert theme_of(colours.framed_palette(DARK)) is DARK


def test_what_has_a_style_sheet_wears_other_colours_once_it_is_read_again(
    qtbot: QtBot, qapp: QApplication
) -> None:
    qapp.setPalette(colours.palette(LIGHT))
    parent = QWidget()
    qtbot.addWidget(parent)
    table = QTableWidget(parent)
    table.setStyleSheet("QTableWidget::item { padding: 1px; }")
    qapp.setPalette(colours.palette(DARK))
    QApplication.processEvents()
    read_style_sheets_again(parent)
    assert theme_of(table.palette()) is DARK


def test_a_blend_is_opaque_and_lies_between() -> None:
    mixed = blend(QColor(200, 0, 100), QColor(0, 100, 100), 0.25)
    assert mixed.getRgb() == (50, 75, 100, 255)


def test_what_is_asked_for_is_worn(qapp: QApplication) -> None:
    appearance = Appearance(qapp, ThemeChoice.DARK)
    assert theme_of(qapp.palette()) is DARK
    appearance.choose(ThemeChoice.LIGHT)
    assert theme_of(qapp.palette()) is LIGHT
    assert qapp.style().objectName() == "fusion"


def test_a_desktop_that_says_nothing_is_judged_by_its_palette(qapp: QApplication) -> None:
    for theme in (DARK, LIGHT):
        qapp.setPalette(colours.palette(theme))
        assert Appearance(qapp).theme is theme


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_tinted_rows_stay_legible(theme: colours.Theme) -> None:
    for tint in (blend(theme.halo, theme.paper, 0.22), blend(theme.accent, theme.paper, 0.10)):
        assert colours.contrast(theme.ink, tint) >= 7
        assert colours.contrast(theme.stop, tint) >= 4.5


@pytest.mark.parametrize("choice", [ThemeChoice.LIGHT, ThemeChoice.DARK])
def test_a_menu_stands_out_from_the_drawing(qtbot: QtBot, choice: ThemeChoice) -> None:
    theme = Appearance(QApplication.instance(), choice).theme
    menu = QMenu()
    qtbot.addWidget(menu)
    menu.addAction("Bend it here")
    menu.resize(menu.sizeHint())
    picture = menu.grab().toImage()
    middle = picture.height() // 2
    edge, ground = picture.pixelColor(0, middle), picture.pixelColor(3, middle)
    assert colours.contrast(edge, theme.paper) >= 2.5 or colours.contrast(ground, theme.paper) >= 1.35
    assert colours.contrast(theme.ink, ground) >= 7.0
    off = menu.palette().color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Text)
    assert 2.4 <= colours.contrast(off, ground) <= 4.5, "what cannot be done now is read, and looks so"


@pytest.mark.parametrize("choice", [ThemeChoice.LIGHT, ThemeChoice.DARK])
def test_the_list_of_a_box_to_choose_from_stays_legible(qtbot: QtBot, choice: ThemeChoice) -> None:
    theme = Appearance(QApplication.instance(), choice).theme
    box = QComboBox()
    qtbot.addWidget(box)
    box.addItems(["vane", "gear", "piston"])
    box.setCurrentIndex(2)
    with qtbot.waitExposed(box):
        box.show()
    box.showPopup()
    picture = box.view().grab().toImage()
    box.hidePopup()
    assert colours.contrast(theme.ink, picture.pixelColor(3, 3)) >= 7.0


def test_a_field_has_a_frame_to_be_seen_in_the_dark(qtbot: QtBot) -> None:
    theme = Appearance(QApplication.instance(), ThemeChoice.DARK).theme
    ground = colours.palette(theme).window().color()
    for field in (QLineEdit(), QPlainTextEdit()):
        qtbot.addWidget(field)
        field.resize(200, 40)
        picture = field.grab().toImage()
        edge = max(colours.contrast(picture.pixelColor(x, 20), ground) for x in range(3))
        assert edge >= 3.0, type(field)


@pytest.mark.parametrize("choice", [ThemeChoice.LIGHT, ThemeChoice.DARK])
def test_a_box_that_is_not_checked_has_a_frame_to_be_seen(qtbot: QtBot, choice: ThemeChoice) -> None:
    theme = Appearance(QApplication.instance(), choice).theme
    box = QCheckBox("Every case")
    qtbot.addWidget(box)
    box.resize(box.sizeHint())
    option = QStyleOptionButton()
    box.initStyleOption(option)
    frame = box.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, box)
    picture = box.grab(frame).toImage()
    ground = colours.palette(theme).window().color()
    middle = picture.height() // 2
    best = max(colours.contrast(picture.pixelColor(x, middle), ground) for x in range(picture.width() // 3))
    assert best >= 3.0
