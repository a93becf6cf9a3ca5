"""Places of labels from frame to frame: only those are looked for again near which something has changed.

Every label goes where it would go if all were placed again; in a drag, between two frames for which places
are looked for, it goes along with its element.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import or_, xor
from typing import NamedTuple

from sketch.drawing.cells import Cells, block, cells_of
from sketch.drawing.labels import Box, Grid, LabelPlace, Wish
from sketch.drawing.placer import Placer


class KeptPlace(NamedTuple):
    """The place that a label got, with all that its search went by: while that stays, the place does."""

    wish: Wish
    place: LabelPlace | None
    patience: int  # that was left before it
    used: int  # of that
    area: Box  # that holds all that was tried
    cells: Cells  # that are taken now


class KeptPlaces:
    """Gives out the places of one frame, in order, with those of the frame before at hand."""

    def __init__(self, placer: Placer, before: KeptPlaces | None = None) -> None:
        """The placer holds all that is no label."""
        lines, texts = placer.lines, placer.texts
        self._placer = placer
        self.start = [*lines.rows, *texts.rows]
        self._shape = _shape(placer)
        self.kept: list[KeptPlace] = []
        self._next = 0  # of the old ones
        self._changed = Grid(0.0, 0.0, lines.cell)  # cells that may not be what they were
        self._changed.columns, half = lines.columns, len(lines.rows)
        alike = before is not None and before.is_for(placer)
        self._old = before.kept if before is not None and alike else []
        start = before.start if before is not None and alike else self.start
        moved = [*map(xor, self.start, start)]
        self._changed.rows = [*map(or_, moved[:half], moved[half:])]
        self._top = self._left = math.inf  # of all that has changed
        self._bottom = self._right = 0.0
        self._reach([(row, mask) for row, mask in enumerate(self._changed.rows) if mask])
        self._at: dict[tuple[str, bool], list[int]] | None = None  # where the old ones are, once asked for

    def is_for(self, placer: Placer) -> bool:
        """Whether these are places on a sheet like that of a placer."""
        return self._shape == _shape(placer)

    def place(self, wish: Wish, anyway: bool) -> LabelPlace | None:
        """The place of the next label; `anyway`, as `Placer.place_anyway`."""
        at = self._next
        if at < len(self._old) and self._old[at].wish is wish:  # as most are, in their order
            old: KeptPlace | None = self._old[at]
            self._next = at + 1
        else:
            old = self._of_old(wish)
        if old is not None and (old.wish is wish or old.wish == wish) and self._holds(old):
            lines, texts = self._placer.lines.rows, self._placer.texts.rows
            for row, mask in old.cells:
                lines[row] |= mask
                texts[row] |= mask
            self.kept.append(old if old.patience == self._placer.patience else self._of_now(old))
            self._placer.patience -= old.used
            return old.place
        new = self._searched(wish, anyway)
        self.kept.append(new)
        if old is None or old.place != new.place:
            self._note([new] if old is None else [new, old])
        return new.place

    def _of_now(self, old: KeptPlace) -> KeptPlace:
        return old._replace(patience=self._placer.patience)

    def _of_old(self, wish: Wish) -> KeptPlace | None:
        """What this label got before; labels that stood between that one and the last have gone, so far."""
        at, key = self._next, (wish.key, wish.stand_off)
        if at >= len(self._old) or (self._old[at].wish.key, self._old[at].wish.stand_off) != key:
            places = self._places().get(key, [])
            while places and places[-1] < self._next:
                places.pop()
            if not places:
                return None
            at = places.pop()
            self._note(self._old[self._next : at])
        self._next = at + 1
        return self._old[at]

    def _places(self) -> dict[tuple[str, bool], list[int]]:
        """Where each label is among the old ones, the last first."""
        if self._at is None:
            self._at = {}
            for at in range(len(self._old) - 1, -1, -1):
                wish = self._old[at].wish
                self._at.setdefault((wish.key, wish.stand_off), []).append(at)
        return self._at

    def _holds(self, old: KeptPlace) -> bool:
        """Whether a search would go as it went."""
        patience, area = self._placer.patience, old.area
        if patience != old.patience and (old.used or old.place is None) and old.wish.stand_off:
            enough = min(patience, old.patience) > old.used
        else:
            enough = True
        x, y, wide, high = area
        apart = y + high <= self._top or y >= self._bottom or x + wide <= self._left or x >= self._right
        return enough and (apart or not self._changed.touched(area))

    def _searched(self, wish: Wish, anyway: bool) -> KeptPlace:
        placer, patience = self._placer, self._placer.patience
        placer.tried = 0.0
        place = placer.place_anyway(wish) if anyway else placer.place(wish)
        far = placer.tried * placer.dot
        cells = cells_of(place, placer.lines) if place is not None else ()
        return KeptPlace(wish, place, patience, patience - placer.patience, _area(wish, far), cells)

    def _note(self, kept: Sequence[KeptPlace]) -> None:
        """The cells of these labels may be taken now and not before, or before and not now."""
        for each in kept:
            block(self._changed, each.cells)
            self._reach(each.cells)

    def _reach(self, cells: Sequence[tuple[int, int]]) -> None:
        """Something has changed in these cells, which are listed from the top down."""
        if not cells:
            return
        cell, columns = self._changed.cell, 0
        for _, mask in cells:
            columns |= mask
        self._top = min(self._top, cells[0][0] * cell)
        self._bottom = max(self._bottom, (cells[-1][0] + 1) * cell)
        self._left = min(self._left, ((columns & -columns).bit_length() - 1) * cell)
        self._right = max(self._right, columns.bit_length() * cell)


class HeldPlaces:
    """Gives each label the place that it got last, as far from its element as then: none is looked for."""

    def __init__(self, placer: Placer, last: KeptPlaces) -> None:
        """last: of the last frame for which places were looked for."""
        self._placer, self._kept = placer, last.kept
        self._next = 0
        self._at: dict[tuple[str, bool], int] | None = None  # where the kept ones are, once asked for

    def place(self, wish: Wish, anyway: bool) -> LabelPlace | None:
        """The place of the next label; one that is new has its own looked for. `anyway` as `KeptPlaces`."""
        at = self._next
        if at >= len(self._kept) or self._kept[at].wish is not wish:
            at = self._places().get((wish.key, wish.stand_off), -1)
        if at < 0:
            return self._placer.place_anyway(wish) if anyway else self._placer.place(wish)
        self._next = at + 1
        kept = self._kept[at]
        if kept.wish is wish or kept.place is None:
            block(self._placer.lines, kept.cells)
            block(self._placer.texts, kept.cells)
            return kept.place
        place = _along(kept.place, kept.wish, wish)
        self._placer.take(place)
        return place

    def _places(self) -> dict[tuple[str, bool], int]:
        if self._at is None:
            self._at = {(each.wish.key, each.wish.stand_off): at for at, each in enumerate(self._kept)}
        return self._at


def _along(place: LabelPlace, before: Wish, now: Wish) -> LabelPlace:
    """A place that goes along with the anchor it is nearest to, as wide as its text is now."""
    box, leader = place.box, place.leader
    x, y = leader[0] if leader is not None else (box.x + box.width / 2, box.y + box.height / 2)
    anchors = zip(before.anchors, now.anchors, strict=False)  # a pipe that has become longer has more
    old, new = min(anchors, key=lambda pair: math.hypot(pair[0].x - x, pair[0].y - y))
    dx, dy = new.x - old.x, new.y - old.y
    moved = Box(box.x + dx + (box.width - now.width) / 2, box.y + dy, now.width, now.height)
    foot = (x + dx, y + dy)
    return LabelPlace(now.key, moved, None if leader is None else (foot, moved.nearest(*foot)))


def _shape(placer: Placer) -> tuple[int, int, float]:
    return placer.lines.columns, len(placer.lines.rows), placer.lines.cell


def _area(wish: Wish, far: float) -> Box:
    """What holds every box and leader of a wish, no farther off its anchors than that."""
    size, left, top = wish.width + wish.height, math.inf, math.inf
    right = bottom = -math.inf
    for x, y, _, _, clear in wish.anchors:
        reach = clear + far + size
        left = x - reach if x - reach < left else left
        top = y - reach if y - reach < top else top
        right = x + reach if x + reach > right else right
        bottom = y + reach if y + reach > bottom else bottom
    return Box(left, top, right - left, bottom - top)
