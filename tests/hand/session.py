"""One session of the random hand, in a process of its own: `python -m tests.hand.session SEED GESTURES`.

Prints a line of JSON: what was made, what went wrong, the slowest gesture, and how the memory grew.
"""

from __future__ import annotations

import difflib
import faulthandler
import gc
import json
import logging
import os
import shutil
import subprocess
import sys
import tempfile
import time
import traceback
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtCore import QtMsgType, qInstallMessageHandler
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu

from sketch.look.appearance import ThemeChoice
from sketch.model.document import BASE, Document
from sketch.model.gate import failures
from sketch.run import application
from sketch.views.tabs import TABS
from sketch.window.exports import ledger_text
from sketch.window.main_window import Window, make_window
from solver.layout import file
from tests.hand.errands import ERRANDS, LAYOUTS
from tests.hand.gestures import WITH_MENU, RandomHand

SLOWEST_S = 1.0  # of the time of the thread that draws: the machine, and the threads beside it, may be busy
HUNG_S = 120  # of a gesture, by the clock
SLOW_BY_NATURE = (
    "menu &Write sheet",
    "menu Pre&view sheet",
    "menu Co&mpare",
)  # whole pages are set, asked for by a dialog
OF_THE_DRAWING = ("Open recent", "Ready-made case", "Alternative", "Pump", "Case", "Fluid level", "Own parts")
"""Menus whose items the drawing gives them."""

NAMED_ANEW = ("&Quit", "&Undo", "&Redo")
"""Items that a hand leaves, or that have another name at each step."""

DIALOGS = (
    "Open a drawing", "Save the drawing as", "Write sheet", "Write the sheet as", "Preview the sheet",
    "The sheet before it is printed", "Title block of the sheet", "The drawing after this one",
    "Write the parts list as",
    "Write the card as", "Write the drawing to scale as", "Write the ledger as", "Write the calculation as",
    "Write the picture as", "Save picture", "Save CSV", "Find a command", "Find a part",
    "Add a part to the selection, or take it out", "New alternative",
    "New case", "Rename", "Unsaved changes", "Own parts", "For which case",
)  # fmt: skip
EVERY = 25  # gestures between two readings of the text
ASSUMED = ("propagateSizeHints", "This plugin does not support")  # of a platform without a screen


@dataclass
class Trouble:
    """Whatever goes wrong, with the gesture after which it was seen."""

    last: str = ""
    seen: list[str] = field(default_factory=list)

    def add(self, what: str) -> None:
        self.seen.append(f"{self.last}: {what}")

    def hook(self, kind: type[BaseException], error: BaseException, trace: object) -> None:
        self.add("".join(traceback.format_exception(error))[-1500:])

    def qt(self, kind: QtMsgType, context: object, text: str) -> None:
        if kind is not QtMsgType.QtDebugMsg and not any(each in text for each in ASSUMED):
            self.add(f"Qt says: {text}")


class _Errors(logging.Handler):
    def __init__(self, trouble: Trouble) -> None:
        super().__init__(logging.ERROR)
        self._trouble = trouble

    def emit(self, record: logging.LogRecord) -> None:
        self._trouble.add(self.format(record)[-1500:])


def memory() -> int:
    """What the process holds [kB]."""
    with Path("/proc/self/statm").open() as pages:
        return int(pages.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1024


def check_text(document: Document, trouble: Trouble) -> None:
    """Whatever could be saved now can be opened again, and is the drawing that is held."""
    if BASE in failures(document.drawing):
        return
    text = file.write(document.drawing)
    try:
        read = file.parse(text)
    except file.LayoutErrors as error:
        trouble.add(f"the text does not read: {error}"[:1500])
        return
    if read.base != document.drawing.base:
        trouble.add("the text reads as another drawing")


def check_actions(window: Window, trouble: Trouble) -> None:
    """Every item of a menu can be pressed where its command can be run, and nowhere else."""
    actions = window.actions_by_name
    wrong = [
        each.name
        for each in actions.commands
        if each.enabled is not None
        and actions[each.name].isVisible()
        and each.enabled() != actions[each.name].isEnabled()
    ]
    if wrong:
        trouble.add(f"out of step with the drawing: {', '.join(wrong)}")


def check_undo(document: Document, first: str, trouble: Trouble) -> None:
    """Back to the first text and on to the last, byte for byte.

    first: "" where another drawing was opened; what is saved between leaves the same drawing, other words.
    """
    last, steps = file.write(document.drawing), 0
    while document.undo_stack.canUndo():
        document.undo_stack.undo()
        steps += 1
    now = file.write(document.drawing)
    if first and document.file.saved.text != first:
        if file.parse(now).base != file.parse(first).base:
            trouble.add("undo does not lead back to the first drawing")
    elif first and now != first:
        trouble.add(f"undo does not lead back to the first text: {differing_lines(first, now)}")
    for _ in range(steps):
        document.undo_stack.redo()
    if (now := file.write(document.drawing)) != last:
        trouble.add(f"redo of {steps} does not lead to the last text: {differing_lines(last, now)}")


def differing_lines(wanted: str, loaded: str) -> str:
    """How two texts differ, for a reader."""
    lines = difflib.unified_diff(wanted.split("\n"), loaded.split("\n"), "wanted", "found", n=0, lineterm="")
    return "\n".join(lines)[:1500]


def check_fresh(document: Document, folder: Path, trouble: Trouble) -> None:
    """What the window shows is what another process makes of the saved text."""
    if document.solution is None or failures(document.drawing):
        return
    path = folder / "fresh.toml"
    path.write_text(file.write(document.drawing), encoding="utf-8")
    asked = [str(path), "--json", "--level", str(document.level), "--case", document.case]  # in SI
    asked += ["--alternative", document.alternative] if document.alternative else []
    completed = subprocess.run([sys.executable, "-m", "solver", *asked], capture_output=True, text=True)
    if not completed.stdout:
        trouble.add(f"the terminal refuses what the window shows: {completed.stderr[:800]}")
        return
    ours, theirs = json.loads(ledger_text(document, ".json")), json.loads(completed.stdout)
    for key in ours:
        if difference := differing(ours[key], theirs[key], key):
            trouble.add(f"the terminal's {key} differs from the window's: {difference}")


def differing(ours: object, theirs: object, place: str = "") -> str:
    """Where two records differ first."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        if list(ours) != list(theirs):
            return f"{place}: {sorted(set(ours) ^ set(theirs))}"
        pairs = [(f"{place}.{key}", ours[key], theirs[key]) for key in ours]
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        pairs = [(f"{place}[{at}]", *both) for at, both in enumerate(zip(ours, theirs, strict=True))]
    else:  # what is wrong is listed in the order of the parts, which a text read again may have otherwise
        alike = ours == theirs or sorted(str(ours).split("; ")) == sorted(str(theirs).split("; "))
        return "" if alike else f"{place}: {ours} | {theirs}"[:1200]
    return next((difference for name, a, b in pairs if (difference := differing(a, b, name))), "")


def play(window: Window, hand: RandomHand, gestures: int, trouble: Trouble) -> dict[str, object]:
    """Make so many gestures, and look at what they leave."""
    slowest, slow, halfway = 0.0, "", 0
    for at in range(gestures):
        faulthandler.dump_traceback_later(HUNG_S, exit=True)
        begun = time.thread_time()
        trouble.last = f"gesture {at + 1}"
        name = hand.move()
        application().processEvents()
        spent = time.thread_time() - begun
        trouble.last = f"gesture {at + 1} ({name})"
        hand.first_reached |= dict.fromkeys((+hand.reached).keys() - hand.first_reached.keys(), at + 1)
        if spent > slowest and not name.startswith(SLOW_BY_NATURE):
            slowest, slow = spent, trouble.last
            if spent > SLOWEST_S:
                (hand.folder / "slow.toml").write_text(file.write(window.document.drawing), encoding="utf-8")
        check_actions(window, trouble)
        if at % EVERY == 0:
            QTest.qWait(1)
            check_text(window.document, trouble)
        if at == gestures // 2:
            gc.collect()
            halfway = memory()
        if trouble.seen or not window.isVisible():
            break
    if slowest > SLOWEST_S:
        trouble.add(f"{slow} took {slowest:.2f} s, in the drawing of {hand.folder / 'slow.toml'}")
    faulthandler.cancel_dump_traceback_later()
    gc.collect()
    return {"gestures": len(hand.gestures), "slowest": slowest, "slow": slow, "grown_kB": memory() - halfway}


def everything(window: Window) -> set[str]:
    """All that a hand reaches sooner or later: tabs, views, shelf, card, strip, items of menus, dialogs."""
    items, menus = set(), list(window.menuBar().actions())
    while menus:
        action = menus.pop()
        inner = action.menu()
        if isinstance(inner, QMenu):
            menus += inner.actions() if action.text() not in OF_THE_DRAWING else []
        elif action.text() and not action.text().startswith(NAMED_ANEW):
            items.add(f"item {action.text()}")
    views = {f"{what} {name}" for what in ("tab", "view") for name in TABS}
    menus_of = {f"menu of {where}" for where in ("sheet", "column", *WITH_MENU)}
    menus_of -= {"menu of causes"}  # most drawings have no reading to be explained
    gestures = {"drag", "click", "double", "keys", "shelf", "card", "strip", "widget", "menu", "context"}
    gestures |= {errand.__name__ for errand in ERRANDS}
    return items | views | menus_of | gestures | {f"dialog {title}" for title in DIALOGS}


def run(seed: int, gestures: int) -> dict[str, object]:
    """A session by its seed."""
    folder = Path(tempfile.mkdtemp(prefix="liftledger-hand-"))
    os.environ["XDG_STATE_HOME"] = str(folder / "state")
    for each in LAYOUTS:
        shutil.copy(each, folder)
    trouble = Trouble()
    sys.excepthook = trouble.hook
    qInstallMessageHandler(trouble.qt)
    logging.getLogger().addHandler(_Errors(trouble))
    window = make_window(application(), None, ThemeChoice.LIGHT)
    window.document.failed.connect(trouble.add)
    window.files.read(folder / LAYOUTS[seed % len(LAYOUTS)].name)
    window.show()
    application().processEvents()
    first, hand = file.write(window.document.drawing), RandomHand(window, seed, folder)
    session = play(window, hand, gestures, trouble)
    trouble.last = "at the end"
    check_text(window.document, trouble)
    check_fresh(window.document, folder, trouble)
    check_undo(window.document, "" if hand.opened else first, trouble)
    session["trouble"], session["last"] = trouble.seen, hand.gestures[-12:]
    session["reached"] = dict(hand.reached)
    session["missed"] = sorted(everything(window) - set(+hand.reached))
    reached = {name: at for name, at in hand.first_reached.items() if name in everything(window)}
    session["latest"] = sorted(reached.items(), key=lambda each: -each[1])[:12]
    if not trouble.seen:
        shutil.rmtree(folder, ignore_errors=True)
    return session


if __name__ == "__main__":
    faulthandler.enable()
    try:
        print(json.dumps(run(int(sys.argv[1]), int(sys.argv[2]))), flush=True)
    except BaseException:  # of the hand itself: Python's own report goes to the hook of the session
        traceback.print_exc()
        os._exit(1)
    os._exit(0)  # the window is not asked whether it may close
