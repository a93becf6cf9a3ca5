"""Catalogues on disk: those beside the drawing and the user's own, to which parts are added whole."""

from pathlib import Path

import pytest

from sketch.model import own_parts
from sketch.model.disk import SaveError
from solver.layout.file import LayoutErrors
from solver.layout.own_parts import OwnPart
from tests.solver.layout.test_own_parts import WHOLE

OIL = OwnPart("fluids", "thin oil", {"density": "850 kg/m^3", "viscosity": "20 cSt"})


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))


def test_a_kept_part_is_found_again_after_those_beside_the_drawing(tmp_path: Path) -> None:
    (tmp_path / "shop.parts.toml").write_text(WHOLE, encoding="utf-8")
    path = own_parts.keep(OIL)
    names = [part.name for part in own_parts.catalogue_for(tmp_path / "drawing.toml").of_kind("fluids")]
    assert names == ["Supplier's oil", "thin oil"]
    assert own_parts.catalogue_for(None).parts[0].source == str(path)


def test_a_name_that_is_there_is_not_written_over_unasked() -> None:
    path = own_parts.keep(OIL)
    before = path.read_text(encoding="utf-8")
    with pytest.raises(own_parts.NameInUseError, match=r"^own\.parts\.toml has thin oil already"):
        own_parts.keep(OIL)
    assert path.read_text(encoding="utf-8") == before
    thinner = OwnPart("fluids", "thin oil", {**OIL.table, "viscosity": "10 cSt"})
    own_parts.keep(thinner, replacing=True)
    assert own_parts.catalogue_for(None).parts[0].table["viscosity"] == "10 cSt"


def test_a_catalogue_that_does_not_read_is_left_as_it_is() -> None:
    path = own_parts.user_catalogue()
    path.parent.mkdir(parents=True)
    path.write_text("[fluids", encoding="utf-8")
    with pytest.raises(LayoutErrors) as refused:
        own_parts.keep(OIL)
    assert own_parts.first_problem(refused.value).startswith("own.parts.toml, line 1: found text that is not")
    assert path.read_text(encoding="utf-8") == "[fluids"


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("no folder", encoding="utf-8")
    with pytest.raises(SaveError):
        own_parts.keep(OIL)
