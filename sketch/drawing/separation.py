"""Labels in a column, moved apart so that none covers another. No Qt here."""

from __future__ import annotations

from collections.abc import Sequence


def separated(centres: Sequence[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    """Centres moved as little as may be so that labels of those heights, in order, do not overlap.

    Labels stay within `low` to `high` when there is room for them all; blocks of labels that touch share
    the displacement, which is the least-squares solution of the ordered problem.
    """
    blocks: list[tuple[float, float, int]] = []  # (wanted top of the block, its height, how many)
    for centre, height in zip(centres, heights, strict=True):
        blocks.append((centre - height / 2, height, 1))
        while len(blocks) > 1 and blocks[-2][0] + blocks[-2][1] > blocks[-1][0]:
            (top_a, high_a, count_a), (top_b, high_b, count_b) = blocks[-2], blocks[-1]
            count = count_a + count_b
            top = (top_a * count_a + (top_b - high_a) * count_b) / count
            blocks[-2:] = [(top, high_a + high_b, count)]
    return _settle(_tops(blocks, heights), heights, low, high)


def _tops(blocks: Sequence[tuple[float, float, int]], heights: Sequence[float]) -> list[float]:
    tops: list[float] = []
    for top, _, count in blocks:
        for _ in range(count):
            tops.append(top)
            top += heights[len(tops) - 1]
    return tops


def _settle(tops: list[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    edge = high
    for index in range(len(tops) - 1, -1, -1):
        tops[index] = min(tops[index], edge - heights[index])
        edge = tops[index]
    edge = low
    for index, height in enumerate(heights):
        tops[index] = max(tops[index], edge)
        edge = tops[index] + height
    return [top + height / 2 for top, height in zip(tops, heights, strict=True)]
