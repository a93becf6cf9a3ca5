"""What the command line takes, and what it refuses."""

import pytest

from solver.arguments import parser


def test_the_forms_exclude_each_other(capsys):
    for pair in (("--json", "--brief"), ("--csv", "--html"), ("--cold", "--case=full")):
        with pytest.raises(SystemExit) as refused:
            parser().parse_args(["drawing.toml", *pair])
        assert refused.value.code == 2
        assert "not allowed with" in capsys.readouterr().err


def test_the_version_needs_no_drawing(capsys):
    with pytest.raises(SystemExit) as done:
        parser().parse_args(["--version"])
    assert not done.value.code
    assert capsys.readouterr().out.startswith("Liftledger ")


def test_a_hyphen_is_a_drawing():
    assert parser().parse_args(["-", "--brief"]).files == ["-"]
