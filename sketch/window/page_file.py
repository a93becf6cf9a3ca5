"""From the menu to a file: the card for the machine, the drawing to scale, and as a picture."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from PySide6.QtWidgets import QFileDialog, QWidget

from sketch.model.disk import WaitBar, path_text, write_safely
from sketch.model.document import Document
from sketch.window import status
from sketch.window.notice import Notice
from sketch.window.writing import write_files


class PageFile(NamedTuple):
    """A kind of file: its name in sentences and menus, its endings with theirs, and what writes it."""

    title: str
    kinds: str
    write: Callable[[Document, Path, WaitBar], tuple[Path, ...]]


def _card(document: Document, path: Path, waiting: WaitBar) -> tuple[Path, ...]:
    from sketch.page.machine_card import write_card_of

    return write_card_of(document, path, call=waiting.work_out)


def _dxf(document: Document, path: Path, waiting: WaitBar) -> tuple[Path, ...]:
    from sketch.page.dxf import write_dxf_of

    return write_dxf_of(document, path, waiting.work_out)


def _picture(document: Document, path: Path, waiting: WaitBar) -> tuple[Path, ...]:
    from sketch.page.picture import picture_of

    ending = path.suffix.lower()
    if ending not in (".png", ".svg"):
        raise ValueError(f"a picture of the drawing is written as .png or .svg, not as {ending}")
    facts = (status.case_state(document), *status.conditions(document))
    picture = picture_of(document, status.GAP.join(facts))
    write_safely(path, picture.png if ending == ".png" else picture.svg)
    return (path,)


CARD = PageFile("card", "PDF (*.pdf);;SVG (*.svg);;PNG (*.png)", _card)
DXF = PageFile("drawing to scale", "DXF (*.dxf)", _dxf)
PICTURE = PageFile("picture of the drawing", "PNG (*.png);;SVG (*.svg)", _picture)


def ask_and_write(
    wanted: PageFile, window: QWidget, document: Document, notice: Notice, done: Callable[[str], None]
) -> None:
    """Ask for a file and write the drawing as it is shown now; `done` is given a passing word."""
    path, ending = document.path, wanted.kinds[:3].lower()
    start = path_text(path.with_name(f"{path.stem} {wanted.title}.{ending}")) if path else f"drawing.{ending}"
    name, chosen = QFileDialog.getSaveFileName(window, f"Write the {wanted.title} as", start, wanted.kinds)
    if name:
        chosen_ending = f".{chosen[:3].lower()}" if chosen else f".{ending}"
        target = Path(name) if Path(name).suffix else Path(name).with_suffix(chosen_ending)
        write_to(wanted, document, target, notice, done)


def write_to(
    wanted: PageFile, document: Document, path: Path, notice: Notice, done: Callable[[str], None]
) -> bool:
    """Write a file; a notice says why it was not written."""
    waiting = document.file.waiting
    return write_files(
        wanted.title, path, lambda: wanted.write(document, path, waiting), waiting, notice, done
    )
