"""Files written from the menu: what is said while they are, when they are, and why they were not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from sketch.model.disk import GivenUpError, WaitBar, path_text
from sketch.page.paper import written_files_text
from sketch.window.notice import Notice
from sketch.window.waiting import NOT_AWAITED
from solver.findings.kinds import Severity


def write_files(
    what: str,
    path: Path,
    write: Callable[[], Sequence[Path]],
    waiting: WaitBar,
    notice: Notice,
    done: Callable[[str], object],
) -> bool:
    """Write files, and whether they were written; a notice says why not.

    what: "card", as a sentence calls them. path: of the first of them, or of all but their numbers. write:
    writes them, in what time that takes, and returns their paths. done: is given a passing word.
    """
    if waiting.refuses():
        return False
    try:
        with waiting.showing(f"Writing {path_text(Path(path.name))}"):
            paths = write()
    except GivenUpError:
        notice.show_message(f"The {what} was not written: {NOT_AWAITED}", severity=Severity.CAUTION)
        return False
    except (OSError, ValueError) as error:
        notice.show_message(f"The {what} was not written: {error}", severity=Severity.STOP)
        return False
    names = [Path(path_text(each.relative_to(path.parent))) for each in paths]
    done(f"Wrote {written_files_text(names)}")
    return True
