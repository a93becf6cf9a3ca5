"""Malformed drawings by the list, odd files and odd paths: each is refused, or answered soundly.

With `--hours` every value stands in every place; the checks take one in so many.
"""

from __future__ import annotations

import os
import re
from itertools import product
from pathlib import Path

import pytest

from tests.hostile.outputs import FORMS, check_output

pytestmark = pytest.mark.hostile

LAYOUTS = Path(__file__).resolve().parents[2] / "layouts"
EXAMPLE = LAYOUTS / "carriage-at-altitude.toml"
ONE_IN = 23
VALUES = (
    "0", "-1", "1e308", "nan", "-inf", "''", "[]", "[[]]", "{}", "true", "1979-05-27", "'1e308 m'", "'-0 m'",
    "'1e-300 m'", "'nan m'", "[1, 'm', true]", "'" + "x" * 5000 + "'", "'\u202e'", "9" * 400,
    "{ a = { b = 1 } }",
)  # fmt: skip
FILES: dict[str, bytes] = {
    "empty": b"",
    "nothing but a mark of order": b"\xef\xbb\xbf",
    "zeros": bytes(4096),
    "no UTF-8": b'title = "\xff\xfe"',
    "UTF-16": "title = 'x'".encode("utf-16"),
    "returns alone": b"format = 1\rtitle = 'x'\r",
    "brackets": b"a = " + b"[" * 20_000,
    "braces": b"a = " + b"{a=" * 5000,
    "dotted key": b".".join([b"a"] * 5000) + b" = 1",
    "long line": b"title = '" + b"x" * 3_000_000 + b"'",
    "twice the same key": b"format = 1\nformat = 1\n",
    "a table twice": b"format = 1\n[site]\n[site]\n",
    "a list of tables for a table": b"format = 1\n[[site]]\n[[pumps]]\n",
    "a format of another day": b"format = 99\n",
    "a great number": b"format = " + b"9" * 5000,
    "escapes": b'format = 1\ntitle = "\\u001b[2J"\n[site]\n"\\u001b[31m" = 1\n',
    "many tables": b"format = 1\n" + b"".join(b"[pumps.p%d]\n" % n for n in range(25_000)),
}


def places() -> list[tuple[int, str]]:
    """Every line of the example that gives a value, with its key."""
    lines = EXAMPLE.read_text("utf-8").split("\n")
    keys = ((at, re.match(r"([\w.]+) = [^\[{]", line)) for at, line in enumerate(lines))
    return [(at, match[1]) for at, match in keys if match and '"""' not in lines[at]]


def test_every_value_in_every_place(
    seconds: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = EXAMPLE.read_text("utf-8").split("\n")
    every = list(enumerate(product(places(), VALUES)))
    assert len(every) > 300
    path = tmp_path / "malformed.toml"
    for number, ((at, key), value) in every if seconds else every[::ONE_IN]:
        path.write_text("\n".join([*lines[:at], f"{key} = {value}", *lines[at + 1 :]]), encoding="utf-8")
        try:
            check_output(path, FORMS[number % len(FORMS)], capsys)
        except AssertionError as error:
            raise AssertionError(f"{key} = {value[:80]}: {error}") from error


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_is_no_drawing_is_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "odd.toml"
    path.write_bytes(FILES[name])
    assert check_output(path, "", capsys) == 2


def odd_paths(folder: Path) -> list[Path]:
    """A folder, a pipe, devices, links that lead nowhere or round, a file without end, and no file."""
    pipe, gone, ring, endless = (folder / name for name in ("pipe", "gone", "ring", "endless"))
    os.mkfifo(pipe)
    gone.symlink_to(folder / "nowhere")
    ring.symlink_to(ring)
    endless.symlink_to("/dev/zero")
    sparse = folder / "sparse.toml"
    with sparse.open("wb") as stream:
        stream.truncate(6 * 2**30)
    long = folder / ("x" * 300)
    return [folder, pipe, gone, ring, endless, sparse, long, Path("/dev/null"), folder / "a\nb\x1b[31m.toml"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no pipes with names")
def test_what_is_no_plain_file_is_refused_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in odd_paths(tmp_path):
        assert check_output(path, "", capsys) == 2, path


@pytest.mark.parametrize(
    "name", ["a b.toml", "-x.toml", "é\u202e.toml", "\udcff.toml", "new\nline.toml", "%s {}.toml"]
)
def test_a_drawing_under_an_odd_name_is_answered(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / name
    path.write_bytes(EXAMPLE.read_bytes())
    for form in FORMS:
        assert check_output(path, form, capsys) != 2, form
