"""What goes to the clipboard for another program: the drawing as a picture, the ledger as text or a table."""

from __future__ import annotations

import atexit
import csv
import io
from collections.abc import Callable

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication, QImage

from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.window import status
from sketch.window.exports import WORKING_OUT, ledger_text

PNG, SVG, TABLE = "image/png", "image/svg+xml", "text/tab-separated-values"


def copy_picture(document: Document, done: Callable[[str], object]) -> None:
    """Put the drawing on the clipboard, as PNG and as SVG; `done` is given a passing word.

    Raises ValueError when nothing is calculated.
    """
    from sketch.page.picture import picture_of

    facts = (status.case_state(document), *status.conditions(document))
    picture = picture_of(document, status.GAP.join(facts))
    data = QMimeData()
    data.setImageData(QImage.fromData(picture.png, "PNG"))  # type: ignore[arg-type]
    data.setData(PNG, picture.png)
    data.setData(SVG, picture.svg)
    _put(data)
    done("Copied the picture of the drawing")


def copy_ledger(document: Document, done: Callable[[str], object]) -> None:
    """Put the ledger with its findings on the clipboard as text; `done` is given a passing word.

    What to try is worked out on a thread where it is not at hand. It is added to what was copied, unless the
    drawing or the clipboard has changed by then. Raises ValueError when nothing is calculated.
    """
    known = advisor(document)
    begun = ledger_text(document, ".txt", waits=False)
    state, copied = (known.question(), document.case, document.pump), _copied(document)
    QGuiApplication.clipboard().setText(begun)
    if WORKING_OUT not in begun:
        done(copied)
        return
    done(f"{copied}; what to try is added once it is worked out")

    def add() -> None:
        is_shown = (known.question(), document.case, document.pump) == state
        if is_shown and not known.at_hand:
            return
        known.changed.disconnect(add)
        if is_shown and QGuiApplication.clipboard().text() == begun:
            QGuiApplication.clipboard().setText(ledger_text(document, ".txt", waits=False))
            done("Added what to try to the ledger that was copied")

    known.changed.connect(add)
    known.ask()


def _copied(document: Document) -> str:
    """Whose ledgers a copy holds, in its order."""
    others = [name for name in document.layout.pumps if name != document.pump]
    if not others:
        return "Copied the ledger"
    return f"Copied the ledger of {document.pump}, and under it that of {' and '.join(others)}"


def copy_table(document: Document, done: Callable[[str], object]) -> None:
    """Put the ledger on the clipboard as cells for a spreadsheet; `done` is given a passing word.

    Raises ValueError when nothing is calculated.
    """
    text = table_text(document)
    data = QMimeData()
    data.setText(text)
    data.setData(TABLE, text.encode("utf-8"))
    _put(data)
    done("Copied the ledger as a table: every entry of every pump and case, in SI units")


def table_text(document: Document) -> str:
    """Heading, rows and cells of the ledger as CSV has them, with tabs between. Raises ValueError."""
    text = io.StringIO()
    rows = csv.reader(io.StringIO(ledger_text(document, ".csv")))
    csv.writer(text, delimiter="\t", lineterminator="\n").writerows(rows)
    return text.getvalue()


def _put(data: QMimeData) -> None:
    QGuiApplication.clipboard().setMimeData(data)
    atexit.unregister(_leave)
    atexit.register(_leave, data)


def _leave(ours: QMimeData) -> None:
    """Leave on the clipboard what Qt itself has made: what Python has made can end the program in a crash."""
    if QGuiApplication.instance() is None:
        return
    clipboard = QGuiApplication.clipboard()
    data = clipboard.mimeData()
    if data is not ours and not clipboard.ownsClipboard():
        return
    if data.hasFormat(SVG):
        clipboard.setImage(clipboard.image())
    elif data.hasFormat(TABLE):
        clipboard.setText(data.text())
