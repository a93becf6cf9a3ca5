"""The ledger as text, CSV and JSON is what the terminal prints."""

import csv
import io
import json
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.window.exports import ledger_text, page_writer
from solver.__main__ import main
from solver.fixes import remedies
from solver.quantities.units import System

ONE_WINDOW = True

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
BESIDE = "Pump beside the tank"


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    document = Document()
    document.open(CARRIAGE)
    return document


def test_text_is_the_terminals_in_the_units_shown(
    document: Document, capsys: pytest.CaptureFixture[str]
) -> None:
    document.show_alternative(BESIDE)
    document.set_system(System.SI)
    main([str(CARRIAGE), "--alternative", BESIDE, "--units", "si"])
    assert ledger_text(document, ".txt") == capsys.readouterr().out


def test_json_is_the_terminals(document: Document, capsys: pytest.CaptureFixture[str]) -> None:
    main([str(CARRIAGE), "--json"])
    printed, ours = json.loads(capsys.readouterr().out), json.loads(ledger_text(document, ".json"))
    assert {key: printed[key] for key in ours} == ours
    assert set(printed) - set(ours) <= {"file"}


def test_json_says_why_an_alternative_is_refused_in_si(
    document: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bent.toml"
    whole = CARRIAGE.read_text("utf-8")
    path.write_text(whole + '\n[alternatives.tight]\nruns.riser.bend_radius = "40 ft"\n', "utf-8")
    document.open(path)
    why = json.loads(ledger_text(document, ".json"))["alternatives"]["tight"]["why"]
    main([str(path), "--json"])
    assert why == json.loads(capsys.readouterr().out)["alternatives"]["tight"]["why"]
    assert " m" in why
    assert " ft" not in why


def test_fixes_that_are_at_hand_are_not_solved_again(
    document: Document, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    helper = advisor(document)
    helper.ask()
    qtbot.waitUntil(lambda: helper.advice_by_pump is not None, timeout=10_000)
    whole = ledger_text(document, ".txt")
    monkeypatch.setattr(remedies, "advise_lazily", lambda *given: pytest.fail("solved again"))
    assert "Try: " in whole
    assert ledger_text(document, ".txt") == whole
    assert ledger_text(document, ".csv")  # has nothing to try in it


def test_csv_has_a_heading_and_a_line_for_every_entry(document: Document) -> None:
    every = list(csv.DictReader(io.StringIO(ledger_text(document, ".csv"))))
    rows = [row for row in every if row["case"] == "as drawn"]
    assert {row["case"] for row in every} == {"as drawn", "coldest start"}
    assert document.ledger is not None
    assert len(rows) == len(document.ledger.entries)
    assert {row["file"] for row in rows} == {CARRIAGE.name}
    assert float(rows[0]["loss_Pa"]) == document.ledger.entries[0].loss


def test_unknown_ending_and_unsolved_drawing_are_refused(document: Document) -> None:
    with pytest.raises(ValueError, match=r"\.docx"):
        ledger_text(document, ".docx")
    for write in (lambda: ledger_text(Document(), ".txt"), lambda: page_writer(Document())()):
        with pytest.raises(ValueError, match="nothing is calculated"):
            write()


def test_the_page_is_the_terminals_in_the_units_shown(
    document: Document, capsys: pytest.CaptureFixture[str]
) -> None:
    document.show_alternative(BESIDE)
    document.set_system(System.SI)
    main([str(CARRIAGE), "--html", "--alternative", BESIDE, "--units", "si"])
    assert page_writer(document)() == capsys.readouterr().out
