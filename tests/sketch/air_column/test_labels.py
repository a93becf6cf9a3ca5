"""Labels of the column."""

from __future__ import annotations

from itertools import pairwise

import pytest

from sketch.air_column.slices import slices
from solver.quantities.units import Kind, System
from solver.quantities.wording import text_above_zero
from tests.sketch.air_column.columns import CASES, WIDTH, case, paint

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("height", [300, 600, 1100])
def test_no_label_covers_another_and_none_leaves_the_panel(name: str, height: int) -> None:
    drawn, _ = paint(case(name), height=height)
    boxes = [label.box for label in drawn.labels]
    assert boxes
    assert all(one.bottom <= other.y + 1e-6 for one, other in pairwise(boxes))
    assert boxes[-1].bottom <= height
    assert all(box.right <= WIDTH for box in boxes)


@pytest.mark.parametrize("name", CASES)
def test_the_label_of_what_is_pointed_at_keeps_its_end(name: str) -> None:
    """In bold it takes more room; what it is and its figure stand at the end of it."""
    drawn, _ = paint(case(name))
    for key in {label.key for label in drawn.labels if label.key}:
        pointed, _ = paint(case(name), pointed=key)
        texts = [label.text for label in pointed.labels if label.key == key]
        assert texts
        assert not any(text.endswith("…") for text in texts), texts


@pytest.mark.parametrize("height", [300, 420, 600])
def test_slices_without_a_label_are_counted_and_summed(height: int) -> None:
    for name in CASES:
        solution = case(name)
        drawn, _ = paint(solution, height=height)
        sizes = {each.key: each.high - each.low for each in slices(CASES[name]) if not each.credit}
        left = [size for key, size in sizes.items() if size > 0 and key not in {e.key for e in drawn.labels}]
        said = [label.text for label in drawn.labels if " smaller: " in label.text]
        assert len(said) == bool(left), (name, said)
        if left:
            assert said[0].startswith(f"and {len(left)} smaller: ")
            assert said[0].endswith(text_above_zero(sum(left), Kind.VACUUM, System.US, "<", 2))
