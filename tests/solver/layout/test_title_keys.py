"""[sheet] is read, refused with its place, and kept in the file as typed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.layout import file
from solver.layout.file import LayoutErrors
from solver.layout.title_block import Revision, TitleBlock

TEXT = (Path(__file__).parents[3] / "layouts" / "winter-press.toml").read_text("utf-8")
SHEET = """
[sheet]
client = "Upper Farm"                 # who pays
project = "Press that starts in the cold"
site = "Shed 2"
drawn_by = "A. Draughtsman"
checked = "B. Checker"
date = 2026-03-31
revision = "B"
revisions = [["A", "2026-01-10", "first issue"], ["B", "2026-03-31", "with the tank heater"]]
company = ["Hill Hydraulics", "1 Some Lane"]
logo = "logo.svg"
"""
BLOCK = TitleBlock(
    "Upper Farm", "Press that starts in the cold", "Shed 2", "A. Draughtsman", "B. Checker", "2026-03-31",
    "B", (Revision("A", "2026-01-10", "first issue"), Revision("B", "2026-03-31", "with the tank heater")),
    ("Hill Hydraulics", "1 Some Lane"), "logo.svg",
)  # fmt: skip


def test_every_key_is_read_for_the_drawing_and_its_alternatives() -> None:
    drawing = file.parse(TEXT + SHEET)
    assert drawing.base.title_block == BLOCK
    assert all(each.layout.title_block == BLOCK for each in drawing.alternatives.values())
    assert file.parse(TEXT).base.title_block == TitleBlock()


@pytest.mark.parametrize(
    ("typed", "key", "allowed"),
    [
        ("client = 3", "sheet.client", "text in quotes"),
        ('client = "two\\nlines"', "sheet.client", "one line"),
        (f'client = "{"x" * 201}"', "sheet.client", "at most 200"),
        ('date = "31.3.2026"', "sheet.date", "a day such as"),
        ('logo = "../secret.png"', "sheet.logo", "beside the drawing"),
        ('logo = "C:\\\\logo.png"', "sheet.logo", "beside the drawing"),
        ('logo = "logo.bmp"', "sheet.logo", "beside the drawing"),
        ('company = ["1", "2", "3", "4", "5", "6"]', "sheet.company", "at most 5"),
        ('revisions = [["A", "first issue"]]', "sheet.revisions[0]", "a row such as"),
        ('revisions = [["A", "soon", "first issue"]]', "sheet.revisions[0][1]", "a day such as"),
        ('customer = "x"', "sheet", "client"),
    ],
)
def test_what_is_wrong_is_refused_with_its_place(typed: str, key: str, allowed: str) -> None:
    with pytest.raises(LayoutErrors) as refused:
        file.parse(f"{TEXT}\n[sheet]\n{typed}\n")
    (problem,) = refused.value.problems
    assert problem.key.startswith(key)
    assert allowed in f"{problem.found} {problem.allowed}"


def test_it_belongs_to_the_file_and_not_to_an_alternative() -> None:
    drawing = file.parse(f'{TEXT}\n[alternatives."High-VI oil, ISO VG 32".sheet]\nclient = "x"\n')
    assert "High-VI oil, ISO VG 32" in drawing.broken


def test_saving_changes_the_key_that_changed_and_no_other_byte() -> None:
    drawing = file.parse(TEXT + SHEET)
    block = replace(BLOCK, checked="C. Other")
    others = {
        name: replace(each, layout=replace(each.layout, title_block=block))
        for name, each in drawing.alternatives.items()
    }
    changed = replace(drawing, base=replace(drawing.base, title_block=block), alternatives=others)
    assert file.write(changed) == (TEXT + SHEET).replace("B. Checker", "C. Other")


def test_a_drawing_that_is_given_one_needs_format_2_and_reads_back() -> None:
    drawing = file.parse((Path(__file__).parents[3] / "layouts" / "baler-flooded.toml").read_text("utf-8"))
    others = {
        name: replace(each, layout=replace(each.layout, title_block=BLOCK))
        for name, each in drawing.alternatives.items()
    }
    changed = replace(drawing, base=replace(drawing.base, title_block=BLOCK), alternatives=others)
    text = file.write(changed)
    assert text.startswith("format = 2")
    assert file.parse(text).base.title_block == BLOCK
    assert not any("sheet" in part for part in text.split("[alternatives")[1:])
