"""The calculation on the client's page, read back from it."""

import pytest

from solver.quantities.units import System
from solver.working import working
from tests.sketch.sheets import pages, solution, words, written
from tests.thorough import first

CARRIAGE = "carriage-at-altitude"

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("system", first(System))
@pytest.mark.parametrize("paper", first(["Letter", "A4"]))
def test_every_step_is_on_the_sheet(system: System, paper: str) -> None:
    text = words(written(CARRIAGE, system=system, paper=paper, working=True))
    text = text.replace("\N{NO-BREAK SPACE}", " ")
    squeezed = text.replace(" ", "")
    for section in working.pages(solution(CARRIAGE), "carriage", system):
        assert section.title in text
        for row in section.rows:
            assert row.name in text
            assert row.result.replace("\N{NO-BREAK SPACE}", "").replace(" ", "") in squeezed


def test_without_being_asked_the_sheet_keeps_to_its_pages() -> None:
    with_working = written(CARRIAGE, system=System.US, paper="Letter", working=True)
    assert len(pages(written(CARRIAGE, system=System.US, paper="Letter"))) < len(pages(with_working))


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


def test_what_both_drawings_share_is_worked_out_once() -> None:
    found = compared("carriage-at-altitude", "A4", System.US, working=True)
    text = " ".join(found)
    assert text.count("The same as for As drawn.") >= 2
    assert text.count("0.6278/875 =") == 1
