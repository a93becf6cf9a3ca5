"""The "not" column of the nomenclature in DEVELOPERS.md, held to the names in the code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from inspect import CO_OPTIMIZED
from pathlib import Path
from types import CodeType

from tests.test_house import nodes, parsed

ROOT = Path(__file__).parents[1]

OTHER_MEANINGS = {
    "line": "the suction line, and a line of text",
    "item": "Qt's own word for what a list shows",
    "node": "where rows of the network meet; a place of a table that is read between",
    "error": "Python's own word for what is raised",
    "allowance": "for weather, which the site is given",
    "off": "taken off, cut off, a stand-off",
    "ID": "what tells one thing from another",
    "condition": "what holds or does not",
    "verdict": "one ledger's sentence",
}
"""Words of that column which also name something else; they are not looked for."""


def forbidden(text: str) -> dict[str, str]:
    """What no name may say, with the name that the nomenclature has in its place."""
    table = text.partition("## Nomenclature")[2].partition("## Decisions")[0]
    rows = [[cell.strip() for cell in row.strip("|").split("|")] for row in table.splitlines() if "|" in row]
    names = {word.strip() for row in rows for word in row[0].split(",")}
    words = {}
    for row in rows[2:]:
        for word in re.split(r"[,:;]", re.sub(r"\([^)]*\)", "", row[4])):
            phrase = word.strip()
            if phrase and phrase not in names and phrase not in OTHER_MEANINGS:
                words[re.sub(r"\W+", "_", phrase.lower())] = row[0]
    return words


def having(pattern: str) -> Iterator[tuple[str, str]]:
    """The modules, tests too, in whose text that is found, by path with their text."""
    for folder in ("solver", "sketch", "tests"):
        for path in (ROOT / folder).rglob("*.py"):
            text = path.read_text("utf-8")
            if re.search(pattern, text):
                yield path.relative_to(ROOT).as_posix(), text


def names(tree: ast.AST) -> Iterator[str]:
    """Every function, class, parameter and field."""
    for node in nodes(tree):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.arg):
            yield node.arg
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id


def wrong(source: str, words: dict[str, str]) -> list[str]:
    """Names that say what they may not, with what they should say."""
    texts = []
    for name in names(parsed(source)):
        snake = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower().strip("_")
        texts += [f"{name}: {words[word]}" for word in words if f"_{word}_" in f"_{snake}_"]
    return texts


def test_the_column_is_read() -> None:
    words = forbidden((ROOT / "DEVELOPERS.md").read_text("utf-8"))
    assert words["barometric_pressure"] == "atmosphere"
    assert words["headroom"] == "margin"
    assert "limit" not in words  # a name of its own
    assert len(words) > 20


def test_no_name_in_the_code_is_one_that_the_nomenclature_rules_out() -> None:
    words = forbidden((ROOT / "DEVELOPERS.md").read_text("utf-8"))
    sources = [path for folder in ("solver", "sketch") for path in (ROOT / folder).rglob("*.py")]
    assert len(sources) > 100
    by_file = {str(path.relative_to(ROOT)): wrong(path.read_text("utf-8"), words) for path in sources}
    assert {path: each for path, each in by_file.items() if each} == {}


def test_a_wrong_name_is_seen() -> None:
    words = {"headroom": "margin", "suction_pressure": "inlet"}
    planted = (
        "class Headroom:\n    x: int\n\ndef f(least_suction_pressure): pass\n\ndef suction(pressure): pass\n"
    )
    assert wrong(planted, words) == ["Headroom: margin", "least_suction_pressure: inlet"]


SAYS_NOTHING = ("The same", "As ", "Same ")
"""How a docstring may not begin: it says what something is only to who has read what stands above it."""


def evasive(tree: ast.AST) -> list[str]:
    """Docstrings, of attributes too, that begin by pointing at another."""
    texts = (
        node.value.value
        for node in nodes(tree)
        if isinstance(node, ast.Expr)
        and isinstance(node.value, ast.Constant)
        and isinstance(node.value.value, str)
    )
    return [text for text in texts if text.startswith(SAYS_NOTHING)]


def test_every_docstring_says_one_thing_by_itself() -> None:
    pointing = {name: evasive(parsed(text)) for name, text in having(rf"[\"'](?:{'|'.join(SAYS_NOTHING)})")}
    assert {name: texts for name, texts in pointing.items() if texts} == {}


def test_a_docstring_that_points_at_another_is_seen() -> None:
    planted = (
        'def f():\n    """As `g`, but slower."""\n\nX = 1\n"""The same, doubled."""\n\nY = 2\n"""Least."""\n'
    )
    assert set(evasive(ast.parse(planted))) == {"As `g`, but slower.", "The same, doubled."}


PROSE = frozenset(
    [
        "told",
        "tell",
        "tells",
        "say",
        "says",
        "said",
        "taken",
        "gather",
        "gathered",
        "gathering",
        "spread",
        "seek",
        "seeking",
        "standing",
        "bare",
        "astray",
        "parting",
        "heard",
        "opened",
    ]
)
"""Words of everyday prose: who reads one of them in a call cannot guess what it returns or does."""


def prosaic(tree: ast.AST) -> list[str]:
    """Functions, classes, parameters and fields that are named with such a word."""
    return [
        name
        for name in names(tree)
        if PROSE & set(re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower().split("_"))
    ]


def test_no_name_is_of_everyday_prose() -> None:
    sources = [path for folder in ("solver", "sketch") for path in (ROOT / folder).rglob("*.py")]
    named = {str(path.relative_to(ROOT)): prosaic(parsed(path.read_text("utf-8"))) for path in sources}
    assert {path: each for path, each in named.items() if each} == {}


def test_a_name_of_everyday_prose_is_seen() -> None:
    planted = "def say_so(told): pass\n\nclass NowParting:\n    essay: int\n"
    assert set(prosaic(ast.parse(planted))) == {"say_so", "told", "NowParting"}


EMPTY = frozenset(["found", "made", "here"])
"""Locals that say how a thing was come by, or where it stands, and not what it is."""


def bound(code: CodeType) -> set[str]:
    """Parameters and locals of a function and of those inside it."""
    inside = (each for each in code.co_consts if isinstance(each, CodeType))
    return {*code.co_varnames, *code.co_cellvars}.union(*map(bound, inside))


def empty_names(source: CodeType) -> list[str]:
    """Parameters and locals named so. What was `found` in a file stands beside what is `allowed` there."""
    functions = [each for each in source.co_consts if isinstance(each, CodeType)]
    named = [name for each in functions for name in empty_names(each)]
    if source.co_flags & CO_OPTIMIZED:
        own = bound(source)
        named += sorted(EMPTY & (own - {"found"} if "allowed" in own else own))
    return named


def test_no_local_is_named_by_how_it_was_come_by() -> None:
    names = rf"\b(?:{'|'.join(EMPTY)})\b"
    texts = having(rf"(?:[(,*]|\n|\bfor|\bas|\blambda|\bdef) *{names} *(?:[,:=()]|\n|in\b)")
    named = {name: empty_names(compile(text, name, "exec")) for name, text in texts}
    assert {path: each for path, each in named.items() if each} == {}


def test_a_local_that_says_nothing_is_seen() -> None:
    planted = "def f(made):\n    here, there = 1, 2\n    return [found for found in made]\n"
    assert set(empty_names(compile(planted, "planted", "exec"))) == {"found", "here", "made"}
    assert empty_names(compile("def refuse(found, allowed): pass", "planted", "exec")) == []
    assert empty_names(compile("key = lambda made: made", "planted", "exec")) == ["made"]
