"""What the command line takes, and what it refuses."""

import pytest

from solver.arguments import clash, parser


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


@pytest.mark.parametrize(
    ("typed", "both"),
    [
        (("--priming", "--brief"), ("--priming", "--brief")),
        (("--parts", "--csv", "--reach"), ("--parts", "--reach")),
        (("b.toml", "--html"), ("--html", "not of 2")),
        (("--vary", "flow=1 l/s..2 l/s", "--cold"), ("--vary", "--cold")),
        (("--vary", "flow=1 l/s..2 l/s", "--fixes"), ("--vary", "--fixes")),
    ],
)
def test_of_options_that_do_not_go_together_both_are_named(typed, both):
    sentence = clash(parser().parse_args(["a.toml", *typed]))
    assert all(each in sentence for each in both)
    assert clash(parser().parse_args(["a.toml", *typed[:-1]])) == ""
