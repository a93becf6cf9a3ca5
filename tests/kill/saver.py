"""A window that edits a drawing, has its disk refuse, and saves.

`python -m tests.kill.saver FILE HOW USER` prints as JSON what came of it. HOW: "fill" the disk that the
file lies on, let its folder "vanish", "state" to keep what is unsaved first, or "none".
"""

from __future__ import annotations

import json
import os
import shutil
import sys
from dataclasses import replace
from importlib import import_module
from pathlib import Path

from sketch.look.appearance import ThemeChoice
from sketch.model import storage
from sketch.run import application
from sketch.views.tabs import TABS
from sketch.window.main_window import Window, make_window

TITLE = "Changed and not lost"


def refuse(how: str, path: Path) -> None:
    """Have the disk refuse."""
    if how == "fill":
        with (path.parent / "fill").open("wb", buffering=0) as stream:
            try:
                while stream.write(bytes(4096)):
                    pass
            except OSError:
                return
    elif how == "vanish":
        shutil.rmtree(path.parent)


def kept(window: Window) -> bool:
    """Whether the change is still shown, unsaved, and among the recoveries."""
    window.document.file.keep()
    recoveries = [
        each for each in storage.state_folder().glob("recovery-*.toml") if TITLE in each.read_text("utf-8")
    ]
    return window.document.layout.title == TITLE and not window.document.clean and bool(recoveries)


def main(path: Path, how: str, user: int) -> None:
    running = application()
    for tab in TABS.values():  # a user without rights may not be let to where Python's own modules lie
        import_module(tab.widget.partition(":")[0])
    import_module("importlib.readers")
    if user >= 0:
        os.setgid(user)
        os.setuid(user)
    window = make_window(running, None, ThemeChoice.LIGHT)
    said = {"unkept": "", "notice": ""}
    window.document.file.unkept.connect(lambda why: said.update(unkept=window.notice.text))
    assert window.files.read(path), window.notice.text
    window.show()
    document = window.document
    document.apply("Change", replace(document.layout, title=TITLE))
    refuse(how, path)
    if how == "state":
        document.file.keep()
        running.processEvents()
    said["saved"] = "yes" if window.files.save() else "no"
    said["notice"] = window.notice.text
    said["kept"] = "yes" if how != "state" and kept(window) else "no"
    print(json.dumps(said), flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
    os._exit(0)
