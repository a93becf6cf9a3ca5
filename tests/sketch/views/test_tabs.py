"""The names of the views, on the command line and in the menu."""

import pytest

from sketch.__main__ import _parser
from sketch.views.tabs import OLD_NAMES, TABS


@pytest.mark.parametrize(("typed", "meant"), [*((name, name) for name in TABS), *OLD_NAMES.items()])
def test_a_view_is_known_by_its_name_and_by_the_one_before(typed: str, meant: str) -> None:
    assert _parser().parse_args(["--tab", typed]).tab == meant in TABS


def test_an_unknown_view_is_refused_with_those_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        _parser().parse_args(["--tab", "limit"])
    refusal = capsys.readouterr().err
    assert all(name in refusal for name in TABS)
