"""What a label keeps clear of, against points taken along the line one by one."""

from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, QRectF

from sketch.plots.clearance import DrawnLine, covered, distance, meets

places = st.integers(-40, 40).map(float)
BOX = QRectF(-10, -6, 20, 12)


@given(places, places, places, places)
def test_stretch_meets_the_box_where_any_of_its_points_lies_in_it(
    x0: float, y0: float, x1: float, y1: float
) -> None:
    points = [(x0 + (x1 - x0) * k / 400, y0 + (y1 - y0) * k / 400) for k in range(401)]
    inside = any(-9.8 <= x <= 9.8 and -5.8 <= y <= 5.8 for x, y in points)
    outside = not any(-10.2 <= x <= 10.2 and -6.2 <= y <= 6.2 for x, y in points)
    met = meets(-10, -6, 10, 6, x0, y0, x1, y1)
    assert not (inside and not met)
    assert not (outside and met)
    assert DrawnLine([(x0, y0, x1, y1)]).crosses(BOX) is met


def test_line_of_many_stretches_is_crossed_where_one_is() -> None:
    far = [(float(x), 50.0, float(x) + 1, 50.0) for x in range(100)]
    assert not DrawnLine(far).crosses(BOX)
    assert DrawnLine([*far, (-20.0, 0.0, 20.0, 0.0)]).crosses(BOX)
    assert DrawnLine([(-20.0, 9.0, 20.0, 9.0)]).crosses(BOX, margin=4.0)
    assert not DrawnLine().crosses(BOX)


def test_cover_and_distance() -> None:
    assert covered(BOX, [QRectF(0, 0, 5, 5), QRectF(-10, -6, 2, 3), QRectF(100, 100, 5, 5)]) == 31.0
    assert distance(QPointF(3, 4), QPointF(0, 0), QPointF(0, 0)) == 5.0
    assert distance(QPointF(5, 4), QPointF(0, 0), QPointF(10, 0)) == 4.0
    assert distance(QPointF(13, 4), QPointF(0, 0), QPointF(10, 0)) == 5.0
