"""Whatever is drawn, moved or deleted, no typed figure of another part changes without a word: random edits.

An edit is made as the hand and the menus make it. Of every part that was not picked for it, each figure that
differs must stand in the undo text or in the notice.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import fields, replace

import pytest
from PySide6.QtWidgets import QApplication

from sketch.canvas.handles import handles
from sketch.canvas.tool import Spot
from sketch.editing import building, reshape, selection
from sketch.editing.building import FREE, HOSE, IN_LINE, LINE
from sketch.editing.edits import EditError
from sketch.editing.selection import Axis
from sketch.look.appearance import ThemeChoice
from sketch.window.main_window import Window, make_window
from solver.geometry.followed import bend_count
from solver.geometry.outline import GeometryError
from solver.layout import file, keys
from solver.layout.parts import Layout
from solver.properties import sizes
from solver.quantities.units import Quantity
from tests.drawings import SHIPPED

DRAWN = {"at", "via", "outline", "return_at", "baffle", "start", "end", "reservoir", "name"}
"""Where a part is drawn, which shows on the sheet, and what it is joined to."""
LEVELS = {"normal_level", "minimum_level", "level", "draw_down"}
"""Of a tank, which stand where they are dragged to."""
SUMMED = {"out_of_plane"}
"""Of two lines that become one: none of it is lost, as tests of deleting show."""
SIZES = ("NPS 2 schedule 40", "NPS 1-1/2 schedule 40", "NPS 3 schedule 40", "tube 60 x 4 mm", "hose -32")
STEPS, FEW = 500, 40


def figures(layout: Layout) -> dict[str, dict[str, object]]:
    """What is typed of every part, by its name; of a run also how often it bends."""
    typed: dict[str, dict[str, object]] = {}
    for group in keys.PARTS:
        for name, part in getattr(layout, group).items():
            held = {each.name for each in fields(part)} - DRAWN - LEVELS - SUMMED
            typed[name] = {key: getattr(part, key) for key in held}
    for name, run in layout.runs.items():
        typed[name]["bends"] = bend_count(layout, run)
    return typed


class Hand:
    """Makes edits by chance, and notes which parts it picked for the last one and what was said of it."""

    def __init__(self, window: Window, seed: int) -> None:
        self.window, self.chance = window, random.Random(seed)
        self.picked: tuple[str, ...] = ()
        self.said: list[str] = []
        window.document.noticed.connect(self.said.append)
        self.ways: tuple[Callable[[], None], ...] = (
            *(self.delete,) * 3,
            *(self.put_in,) * 2,
            *(self.drag,) * 3,
            self.draw,
            self.arrange,
            self.connect,
        )

    @property
    def layout(self) -> Layout:
        return self.window.document.layout

    def begin(self) -> None:
        """Another drawing, its lines in sizes and materials by chance."""
        layout = file.read(self.chance.choice(SHIPPED)).base
        materials = tuple(sizes.ROUGHNESS)
        runs = {
            name: replace(
                run,
                size=self.chance.choice(SIZES),
                bore=None,
                material=self.chance.choice(materials),
                roughness=None,
            )
            for name, run in layout.runs.items()
        }
        self.window.document.undo_stack.setClean()
        self.window.document.begin(replace(layout, runs=runs))
        self.window.workspace.elevation.fit()

    def edit(self) -> tuple[Layout, Layout, str]:
        """One edit: the drawing before and after it, and what was said."""
        if len(self.layout.runs) < 2:
            self.begin()
        before, steps = self.layout, self.window.document.undo_stack.index()
        self.picked, _ = (), self.said.clear()
        with suppress(EditError, GeometryError):
            self.chance.choice(self.ways)()
        self.window.workspace.elevation.pick("")
        stack = self.window.document.undo_stack
        labels = (stack.text(at) for at in range(min(steps, stack.index()), stack.index()))
        return before, self.layout, " ".join((*labels, *self.said))

    def _select(self, least: int = 1) -> None:
        names = selection.everything(self.layout)
        self.picked = tuple(self.chance.sample(names, min(len(names), self.chance.randint(least, 4))))
        self.window.document.select_all(self.picked)

    def _spot(self, run: str) -> Spot:
        points = reshape.points(self.layout, run)
        at = self.chance.randrange(len(points) - 1)
        (xa, ya), (xb, yb) = points[at : at + 2]
        return Spot(*building.place_on(self.layout, run, (xa + xb) / 2, (ya + yb) / 2), run=run)

    def delete(self) -> None:
        self._select()
        self.window.arranging.remove()

    def put_in(self) -> None:
        tool, what = self.window.workspace.elevation.tool, self.chance.choice((*IN_LINE, *FREE))
        tool.pick(what)
        spot = Spot(self.chance.uniform(0, 2), self.chance.uniform(0, 2))
        if what in IN_LINE:
            spot = self._spot(self.chance.choice(list(self.layout.runs)))
            self.picked = (spot.run,)  # whose bends the other half may have
        tool.put_down(spot, spot[:2])

    def draw(self) -> None:
        layout, tool = self.layout, self.window.workspace.elevation.tool
        tool.pick(self.chance.choice((LINE, HOSE)))
        for name in self.chance.choices(
            [*layout.intakes, *layout.fittings, *layout.tees, *layout.pumps], k=2
        ):
            x, y = layout.joint(name).at
            tool.put_down(Spot(x.si, y.si, part=name), (x.si, y.si))

    def drag(self) -> None:
        elevation = self.window.workspace.elevation
        if self.chance.random() < 0.4:
            self._select(2)
        hand, view, held = elevation.hand, elevation.view, self.chance.choice(handles(self.layout))
        self.picked = (held.name,)
        x, y = view.device(held.x, held.y)
        hand.press(view, x, y)
        if hand.held is not None:
            self.picked = (hand.held.name, *hand.together)
        to = x + self.chance.uniform(-200, 200), y + self.chance.uniform(-200, 200)
        for step in (0.3, 0.7, 1.0):
            hand.move(view, x + (to[0] - x) * step, y + (to[1] - y) * step, free=False)
        hand.release()

    def arrange(self) -> None:
        self._select(3)
        arranging, axis = self.window.arranging, self.chance.choice(list(Axis))
        ways = (arranging.mirror, lambda: arranging.align(axis), lambda: arranging.distribute(axis))
        self.chance.choice(ways)()

    def connect(self) -> None:
        run, which = self.chance.choice(list(self.layout.runs)), self.chance.randrange(2)
        onto = self.chance.choice(reshape.ends_for(self.layout, run, which) or ("",))
        self.picked = (run, onto)
        self.window.document.select(run)
        if onto:
            self.window.arranging._turn(which, onto)


def unsaid(before: Layout, after: Layout, picked: tuple[str, ...], said: str) -> Iterator[str]:
    """What differs of parts that were not picked, and stands nowhere in what was said."""
    then, now = figures(before), figures(after)
    for name in then.keys() - set(picked):
        if name not in now:
            if name not in said and stem(name) not in map(stem, after.runs):
                yield f"{name} is gone"
            continue
        if name in after.runs and ends(before, name) != ends(after, name):
            now[name]["bends"] = then[name]["bends"]  # those of the pieces that it is made of by now
        for key, was in then[name].items():
            if (new := now[name].get(key)) != was and name not in said:
                yield f"{key} of {name}: {shown(was)}, now {shown(new)}"


def stem(name: str) -> str:
    """What the pieces of a line that was cut have in common, which closes up under one of their names."""
    return re.sub(r" \d+$", "", name)


def ends(layout: Layout, run: str) -> set[str]:
    return {layout.runs[run].start, layout.runs[run].end}


def shown(figure: object) -> str:
    return figure.text if isinstance(figure, Quantity) else str(figure)


def play(qapp: QApplication, seeds: range, steps: int) -> int:
    edits = 0
    for seed in seeds:
        window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
        window.show()
        hand = Hand(window, seed)
        hand.begin()
        for step in range(steps):
            if step % 25 == 24:
                hand.begin()
            before, after, said = hand.edit()
            edits += before != after
            silent = list(unsaid(before, after, hand.picked, said))
            assert silent == [], f"seed {seed}, edit {step}, said: {said}"
        window.document.undo_stack.setClean()
        window.close()
        window.deleteLater()
    return edits


@pytest.mark.thorough
def test_a_few_edits_change_nothing_of_other_parts_without_a_word(qapp: QApplication) -> None:
    assert play(qapp, range(1), FEW) > FEW / 3


@pytest.mark.random
@pytest.mark.parametrize("seed", range(1, 6))
def test_five_hundred_edits_change_nothing_of_other_parts_without_a_word(
    qapp: QApplication, seed: int
) -> None:
    assert play(qapp, range(seed, seed + 1), STEPS) > STEPS / 3
