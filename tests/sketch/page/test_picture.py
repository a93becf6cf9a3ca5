"""The picture for another program: it says how the drawing stands and in which case it is shown."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage

from sketch.model.document import Document
from sketch.page.picture import picture_of
from tests.sketch.sheets import EXAMPLES

pytestmark = pytest.mark.usefixtures("qapp")


def test_it_says_how_the_drawing_stands_in_its_worst_case_and_what_is_shown() -> None:
    document = Document(keeps=False)
    document.open(EXAMPLES / "carriage-at-altitude.toml")
    picture = picture_of(document, "minimum level")
    svg = picture.svg.decode("utf-8")
    assert document.outlook is not None
    assert "coldest start" in document.outlook.headline
    for said in ("Over by 1.77 inHg", "coldest start", "case as drawn, minimum level", "strainer", "riser"):
        assert said in svg
    image = QImage.fromData(picture.png, "PNG")  # type: ignore[arg-type]
    assert image.width() == 2 * 960
    assert image.text("Title") == document.layout.title


def test_nothing_is_made_of_a_drawing_that_is_not_calculated() -> None:
    document = Document(keeps=False)
    with pytest.raises(ValueError, match="incomplete"):
        picture_of(document, "")
