"""Which text or dimension of one's own is chosen."""

from __future__ import annotations

from sketch.editing import remarks
from sketch.editing.remarks import DIMENSION, TEXT, Remark
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from tests.drawings import SHIPPED


def test_one_is_chosen_until_a_part_is_or_another_may_have_its_number() -> None:
    document = Document(keeps=False)
    document.open(next(each for each in SHIPPED if each.stem == "carriage-at-altitude"))
    chosen, changes = chosen_remark(document), []
    chosen.changed.connect(lambda: changes.append(chosen.remark))
    assert chosen_remark(document) is chosen
    document.apply("Text", remarks.add_text(document.layout, 0.0, 1.0, "one"))
    first = Remark(TEXT, 0)
    chosen.choose(first)
    chosen.choose(first)
    document.apply("Move", remarks.move_text(document.layout, 0, 1.0, 1.0))
    document.apply("Dimension", remarks.add_dimension(document.layout, "strainer", "carriage", 2.0, 0.0))
    assert chosen.remark == first, "another sort says nothing of it"
    document.apply("Text", remarks.add_text(document.layout, 0.0, 1.5, "two"))
    assert chosen.remark is None
    chosen.choose(Remark(DIMENSION, 0))
    document.select("carriage")
    assert changes == [first, None, Remark(DIMENSION, 0), None]
