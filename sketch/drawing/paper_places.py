"""Places for labels on paper, which is painted once: several orders are tried, and the best is kept.

What finds no place there cannot be asked for by pointing. So a label may stand farther off than in a window,
and where room is short the largest shares keep theirs: what was left without one comes sooner in the next
order.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from sketch.drawing.label_rows import ROWS, RowPlace, in_rows
from sketch.drawing.labels import XY, Anchor, Box, LabelPlace, Wish
from sketch.drawing.placer import Placer
from sketch.drawing.stand_offs import CROSSING, Bounds, StandOffs
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT

NEARER = Bounds(tuple(float(each) for each in range(12, 148, 6)), crossed=14)
"""Within which a label usually finds a place: a leader runs across a pipe, not along it."""

WELL_CROSSED, WORTH = 8, 2
"""Cells of the line up to which a leader runs across it: where it crosses more it runs along it, past other
elements, and a share without a name is taken for one of theirs; and how many names that is worth."""

FARTHEST = Bounds(tuple(float(each) for each in range(12, 508, 8)), crossed=60)
"""For a share that finds no place within those: sooner far off than nowhere."""

AIR, TIGHT = 4.0, 30.0
"""Logical pixels round a label in which there is nothing but its own element, or it might be taken for
another's; how far off it stands sooner."""

NEAR = (4.0, 8.0)
"""Logical pixels from an element to a label that needs no leader."""

ORDERS, WITH_NAMES, IN_VAIN = 18, 8, 5
"""Orders that are tried at most, how many of them with the names of all parts, and how many that are no
better before the search ends."""


class Wanted(NamedTuple):
    """A label that wants a place, and what may stand there where room is short."""

    wish: Wish
    shorter: Wish | None = None  # its share alone, or of a line its name
    share: bool = False
    name: bool = False  # of a pump or a tank, or of a part


class Result(NamedTuple):
    """Places of labels in the order in which they were wanted, and which had to be shorter."""

    places: tuple[LabelPlace | None, ...]
    shorter: frozenset[int]
    along: frozenset[int] = frozenset()  # shares without a name whose leaders run along the line


_Score = tuple[tuple[int, ...], int, int, float]
"""What is lost, the least the best."""


class _Candidate(NamedTuple):
    cost: float
    x: float
    y: float
    leader: tuple[XY, XY] | None
    crossed: int = 0  # cells of the line


class PaperPlacer(Placer):
    """Gives out places on paper: the one that costs least of all round an element."""

    def __init__(self, width: float, height: float, dot: float = 1.0) -> None:
        super().__init__(width, height, dot)
        self.size = width, height
        self.cost = 0.0  # of what was given out
        self.crossed = 0  # cells of the line, by the last leader
        self.tight = TIGHT
        self.stand_offs: StandOffs | None = None  # of the sheet before it had labels, where that is kept
        left = AXIS_LEFT * dot
        self.inside = Box(left, 0.0, max(width - left, 0.0), max(height - AXIS_BOTTOM * dot, 0.0))

    def copied(self) -> PaperPlacer:
        """One with the same cells taken, to try places on."""
        other = PaperPlacer(*self.size, self.dot)
        other.lines.rows[:], other.texts.rows[:] = self.lines.rows, self.texts.rows
        return other

    def restart(self, lines: Sequence[int], texts: Sequence[int]) -> None:
        """Take those cells and no other."""
        self.lines.rows[:], self.texts.rows[:], self.cost = lines, texts, 0.0

    def place(self, wish: Wish) -> LabelPlace | None:
        best = self._beside(wish)
        if wish.stand_off and (best is None or best.cost > 0.0):
            best = self._farther_off(wish, best)
        return self._given(wish, best)

    def place_far(self, wish: Wish) -> LabelPlace | None:
        """A place for a share that has none nearer, however far off, over as few lines as can be."""
        return self._given(wish, self._farther_off(wish, None, FARTHEST))

    def _given(self, wish: Wish, best: _Candidate | None) -> LabelPlace | None:
        if best is None:
            return None
        self.cost, self.crossed = self.cost + best.cost, best.crossed
        return self._take(wish, best.x, best.y, best.leader)

    def place_in_row(self, wish: Wish, row: RowPlace) -> LabelPlace | None:
        """The place in a row; None where that is not free or its leader crosses a text."""
        crossed = self.lines.crossed(*row.leader, FARTHEST.crossed)
        if crossed > FARTHEST.crossed or not (self.lines.free(row.box) and self.texts.free_line(*row.leader)):
            return None
        cost = math.dist(*row.leader) / self.dot + CROSSING * crossed
        return self._given(wish, _Candidate(cost, row.box.x, row.box.y, row.leader, crossed))

    def place_anyway(self, wish: Wish) -> LabelPlace | None:
        """A place, rather over lines than nowhere."""
        return super().place_anyway(wish) or self._anywhere(wish, self.texts)

    def _beside(self, wish: Wish) -> _Candidate | None:
        """The first place beside its element with nothing else near it; else the first there is."""
        tight: _Candidate | None = None
        for distance in NEAR:
            for anchor in wish.anchors:
                for x, y, nx, ny in _on_both_sides(wish, anchor, distance * self.dot):
                    if not self.lines.free_at(x, y, wish.width, wish.height):
                        continue
                    if self._has_air(Box(x, y, wish.width, wish.height), nx, ny):
                        return _Candidate(0.0, x, y, None)
                    tight = tight or _Candidate(self.tight, x, y, None)
        return tight

    def _has_air(self, box: Box, nx: float, ny: float) -> bool:
        """Whether nothing is near the box, but on the side that faces its element."""
        air = AIR * self.dot
        left, right = (0.0 if nx > 0.5 else air), (0.0 if nx < -0.5 else air)
        top, bottom = (0.0 if ny > 0.5 else air), (0.0 if ny < -0.5 else air)
        return self.lines.free_at(
            box.x - left, box.y - top, box.width + left + right, box.height + top + bottom
        )

    def _farther_off(self, wish: Wish, best: _Candidate | None, bounds: Bounds = NEARER) -> _Candidate | None:
        """A place that costs less, with a leader that crosses no text."""
        lines, texts = self.lines, self.texts
        stand_offs = self.stand_offs or StandOffs(lines, texts, self.dot)
        for least, distance, box, leader in stand_offs.cheapest_first(wish, bounds):
            if best is not None and least >= best.cost:
                break
            if not lines.free_at(*box):
                continue
            cells = stand_offs.cells(leader)
            if not texts.free_cells(cells):
                continue
            crossed = lines.occupied_cells(cells, bounds.crossed)
            if crossed > bounds.crossed:
                continue
            cost = distance + CROSSING * crossed
            if best is None or cost < best.cost:
                best = _Candidate(cost, box.x, box.y, leader, crossed)
        return best


def _on_both_sides(wish: Wish, anchor: Anchor, gap: float) -> Iterator[tuple[float, float, float, float]]:
    """Where a label stands square to an element, and in which direction from it."""
    x, y, nx, ny, clear = anchor
    reach = clear + gap + (abs(nx) * wish.width + abs(ny) * wish.height) / 2
    for way in (1.0, -1.0):
        yield (
            x + way * nx * reach - wish.width / 2,
            y + way * ny * reach - wish.height / 2,
            way * nx,
            way * ny,
        )


def best_places(placer: PaperPlacer, wanted: Sequence[Wanted]) -> Result:
    """Places for all, dearest first: those of the order in which the least is lost, now taken."""
    lines, texts = tuple(placer.lines.rows), tuple(placer.texts.rows)
    result = _best(placer.size, placer.dot, lines, texts, tuple(wanted))
    for place in filter(None, result.places):
        placer.take(place)
    return result


@lru_cache(maxsize=128)  # a page is painted as a preview, at every size of it, and to a file
def _best(
    size: XY, dot: float, lines: tuple[int, ...], texts: tuple[int, ...], wanted: tuple[Wanted, ...]
) -> Result:
    """Places on a sheet of which those cells are taken."""
    placer = PaperPlacer(*size, dot)
    placer.restart(lines, texts)
    placer.stand_offs = StandOffs(placer.lines, placer.texts, dot)
    order, best, last = list(range(len(wanted))), None, 0

    def tried(rows: Mapping[int, RowPlace], *, names: bool) -> tuple[_Score, Result, list[int]]:
        placer.restart(lines, texts)
        result = _in_order(placer, wanted, order, rows, names=names)
        missed = _missed(wanted, result)
        return (*_lost(wanted, result), placer.cost), result, missed

    for number in range(ORDERS):
        placer.tight = TIGHT if number % 2 == 0 else 0.0
        score, result, missed = tried({}, names=number < WITH_NAMES)
        if best is None or score < best[0]:
            best, last = (score, result), number
        if not missed or number >= max(last, WITH_NAMES) + IN_VAIN:
            break
        order = [*missed, *(each for each in order if each not in missed)]
    order = list(range(len(wanted)))
    for row in ROWS if best is not None and best[0][0] else ():
        placer.restart(lines, texts)
        score, result, _ = tried(in_rows(row, _shares(wanted), placer.lines, placer.inside, dot), names=False)
        best = min(best, (score, result), key=lambda each: each[0]) if best is not None else None
    placer.restart(lines, texts)
    result = best[1] if best is not None else Result((), frozenset())
    for place in filter(None, result.places):
        placer.take(place)
    return _lengthened(placer, wanted, result)


def _shares(wanted: Sequence[Wanted]) -> dict[int, Wish]:
    """The shares that want a place, without the names of their parts."""
    return {at: each.shorter or each.wish for at, each in enumerate(wanted) if each.share}


def _in_order(
    placer: PaperPlacer,
    wanted: Sequence[Wanted],
    order: Sequence[int],
    rows: Mapping[int, RowPlace],
    *,
    names: bool,
) -> Result:
    places: list[LabelPlace | None] = [None] * len(wanted)
    shorter, along = set[int](), set[int]()
    for at in order:
        wish, short, share, _ = wanted[at]
        if at in rows:
            places[at] = placer.place_in_row(short or wish, rows[at])
        if places[at] is None and (names or short is None or not share):
            places[at] = placer.place(wish)
        elif short is not None:
            shorter.add(at)
            places[at] = places[at] or placer.place(short)
        if places[at] is None and short is not None:
            places[at] = placer.place(short)
            shorter.add(at)
        if places[at] is None and share:
            places[at] = placer.place_far(short or wish)
        place, named = places[at], short is not None and at not in shorter
        if place is not None and place.leader is not None and placer.crossed > WELL_CROSSED:
            along |= {at} if share and not named else set()
    return Result(tuple(places), frozenset(shorter), frozenset(along))


def _missed(wanted: Sequence[Wanted], result: Result) -> list[int]:
    """What has no place and should have one, then what has none that is seen to be its own."""
    places = zip(wanted, result.places, strict=True)
    gone = [at for at, (each, place) in enumerate(places) if place is None and (each.share or each.name)]
    return [*gone, *sorted(result.along)]


def _lost(wanted: Sequence[Wanted], result: Result) -> tuple[tuple[int, ...], int, int]:
    """What is lost, the largest share first: the less, the better."""
    places = zip(wanted, result.places, strict=True)
    gone = [at for at, (each, place) in enumerate(places) if place is None and (each.share or each.name)]
    shares = tuple(-at for at in gone if wanted[at].share)
    unnamed = sum(wanted[at].share or wanted[at].name for at in result.shorter)
    return shares, len(gone) - len(shares), WORTH * len(result.along) + unnamed


def _lengthened(placer: PaperPlacer, wanted: Sequence[Wanted], result: Result) -> Result:
    """With the names of parts that have room after all, beside their shares."""
    places, shorter = list(result.places), set(result.shorter)
    for at in sorted(shorter):
        place, wish = places[at], wanted[at].wish
        if place is None:
            continue
        more = wish.width - place.box.width
        for x, left in ((place.box.right, place.box.x), (place.box.x - more, place.box.x - more)):
            if placer.lines.free_at(x, place.box.y, more, place.box.height):
                box = place.box._replace(x=left, width=wish.width)
                places[at] = place._replace(box=box)
                placer.block_text(box)
                shorter.remove(at)
                break
    return Result(tuple(places), frozenset(shorter), result.along)
