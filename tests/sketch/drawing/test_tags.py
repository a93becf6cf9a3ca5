"""What a percentage says."""

from __future__ import annotations

import pytest

from sketch.drawing.tags import percent


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.314, "31 %"),
        (1.62, "162 %"),
        (0.0149, "1 %"),
        (0.0096, "1 %"),
        (0.0094, "0.9 %"),
        (0.0004, "0.0 %"),
        (0.0, "0 %"),
        (-0.12, "−12 %"),
        (-0.004, "−0.4 %"),
        (-0.0001, "0.0 %"),
    ],
)
def test_a_share_in_per_cent(share: float, text: str) -> None:
    assert percent(share) == text
