"""The view of cases, clicked on and typed in."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QInputDialog
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views import case_making
from sketch.views.cases_view import CasesView
from tests import drawings

LEFT = Qt.MouseButton.LeftButton


def shown_view(qtbot: QtBot) -> CasesView:
    """Two pumps on a header, on a hot day too and with one of them off."""
    document = Document(keeps=False)
    document.open(next(path for path in drawings.SHIPPED if path.stem == "header-two-pumps"))
    case_making.add(document, "hot", {"fluid": {"temperature": "60 degC"}})
    case_making.add(document, "pilot off", {"pumps": {"pilot": {"at_rest": True}}})
    view = CasesView(document)
    document.setParent(view)
    qtbot.addWidget(view)
    view.resize(1300, 300)
    view.show()
    qtbot.waitExposed(view)
    return view


def document_of(view: CasesView) -> Document:
    return view.table._document


def answer_next(text: str) -> None:
    def give() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QInputDialog)
        dialog.setTextValue(text)
        dialog.accept()

    QTimer.singleShot(50, give)
