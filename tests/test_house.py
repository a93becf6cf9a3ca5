"""The rules the house stands on, each also tried with a violation planted on purpose."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tests import conftest

TREE = Path(__file__).resolve().parent.parent
PACKAGES = ("solver", "sketch")
MODULE_LINES = 400
BODY_LINES = 60  # the habit is under 40; past 60 it is refused


def modules(tree: Path, package: str) -> Iterator[tuple[str, ast.Module, str]]:
    """(path from the tree, syntax, text) of every module of the package."""
    for path in sorted((tree / package).rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        yield path.relative_to(tree).as_posix(), parsed(text), text


@cache
def parsed(text: str) -> ast.Module:
    """The syntax of a module, of which a copy of the tree differs in one only."""
    return ast.parse(text)


@cache
def nodes(syntax: ast.AST) -> tuple[ast.AST, ...]:
    """Every node of a module, walked once for all that look at them."""
    return tuple(ast.walk(syntax))


def imported(syntax: ast.Module) -> set[str]:
    """The top-level names that a module imports, wherever in it the import stands."""
    packages: set[str] = set()
    for node in nodes(syntax):
        if isinstance(node, ast.Import):
            packages |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            packages.add(node.module.partition(".")[0])
    return packages


def importers(tree: Path, package: str, *names: str) -> list[str]:
    """The modules of a package that import one of those."""
    return [
        path
        for path, syntax, text in modules(tree, package)
        if any(name in text for name in names) and imported(syntax) & set(names)
    ]


def pint_outside_units(tree: Path) -> list[str]:
    everywhere = [path for package in PACKAGES for path in importers(tree, package, "pint")]
    return [path for path in everywhere if path != "solver/quantities/units.py"]


def qt_in_solver(tree: Path) -> list[str]:
    return importers(tree, "solver", "PySide6", "shiboken6", "pyqtgraph", "sketch")


def overlong(tree: Path) -> list[str]:
    """Modules and functions that have outgrown their limit, by name."""
    too_long = []
    for package in PACKAGES:
        for path, syntax, text in modules(tree, package):
            if len(text.splitlines()) > MODULE_LINES:
                too_long.append(path)
            for node in nodes(syntax):
                if isinstance(node, ast.FunctionDef) and (node.end_lineno or 0) - node.lineno >= BODY_LINES:
                    too_long.append(f"{path}:{node.name}")
    return too_long


def copy(tmp_path: Path) -> Path:
    """The two packages and their rules in a folder where they may be spoilt."""
    for package in PACKAGES:
        shutil.copytree(TREE / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(TREE / "pyproject.toml", tmp_path)
    return tmp_path


def copy_of(tmp_path: Path, *files: str) -> Path:
    """Some modules in a folder where they may be spoilt."""
    for name in files:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(TREE / name, tmp_path / name)
    return tmp_path


def lint_imports(tree: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()"]
    return subprocess.run(
        [*command, "--no-cache", "--no-logo"], cwd=tree, capture_output=True, text=True, check=False
    )


def plant(path: Path, line: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + "\n" + line + "\n", encoding="utf-8")


def test_imports_go_one_way() -> None:
    done = lint_imports(TREE)
    assert done.returncode == 0, done.stdout + done.stderr


TYPE_CHECKED = "from typing import TYPE_CHECKING\n\nif TYPE_CHECKING:\n    import "
IN_A_FUNCTION = "def late() -> None:\n    import "
PLANTED = {
    "solver reads sketch": (
        "solver/ledger/solve.py",
        "import sketch.look.colours",
        "solver.ledger.solve -> sketch.look.colours",
    ),
    "stray in solver": ("solver/stray.py", "", "- solver.stray"),
    "stray in a package of solver": ("solver/ledger/stray.py", "", "- solver.ledger.stray"),
    "upwards in solver": (
        "solver/quantities/units.py",
        "import solver.ledger.solve",
        "solver.quantities.units -> solver.ledger.solve",
    ),
    "upwards in a package of solver": (
        "solver/network/rows.py",
        "import solver.network.flows",
        "solver.network.rows -> solver.network.flows",
    ),
    "circle in solver, for types": (
        "solver/layout/parts.py",
        TYPE_CHECKED + "solver.network.build",
        "solver.layout.parts -> solver.network.build",
    ),
    "circle in a package of solver, for types": (
        "solver/layout/parts.py",
        TYPE_CHECKED + "solver.layout.reading",
        "solver.layout.parts -> solver.layout.reading",
    ),
    "stray in sketch": ("sketch/stray.py", "", "- sketch.stray"),
    "stray in a folder of sketch": ("sketch/window/stray.py", "", "- sketch.window.stray"),
    "upwards in sketch": (
        "sketch/editing/edits.py",
        "import sketch.model.document",
        "sketch.editing.edits -> sketch.model.document",
    ),
    "upwards in a folder of sketch": (
        "sketch/window/actions.py",
        IN_A_FUNCTION + "sketch.window.main_window",
        "sketch.window.actions -> sketch.window.main_window",
    ),
    "circle in sketch, for types": (
        "sketch/model/document.py",
        TYPE_CHECKED + "sketch.canvas.elevation",
        "sketch.model.document -> sketch.canvas.elevation",
    ),
    "circle in a folder of sketch, for types": (
        "sketch/canvas/tool.py",
        TYPE_CHECKED + "sketch.canvas.elevation",
        "sketch.canvas.tool -> sketch.canvas.elevation",
    ),
    "views that know each other": (
        "sketch/card/part_card.py",
        "import sketch.views.ledger_view",
        "sketch.card.part_card -> sketch.views.ledger_view",
    ),
}


@pytest.fixture(scope="module")
def refusals(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What is said of a tree with everything in it that is planted."""
    tree = copy(tmp_path_factory.mktemp("planted"))
    for where, text, _ in PLANTED.values():
        (tree / where).touch()
        plant(tree / where, text)
    done = lint_imports(tree)
    assert done.returncode == 1
    return " ".join(done.stdout.split())


@pytest.mark.parametrize("reported", [reported for *_, reported in PLANTED.values()], ids=list(PLANTED))
def test_a_planted_import_is_refused(refusals: str, reported: str) -> None:
    assert reported in refusals


def test_every_module_stands_in_a_contract() -> None:
    """The contracts name each folder once, and a folder that none of them names could hold anything."""
    rules = tomllib.loads((TREE / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    assert rules["exclude_type_checking_imports"] is False
    containers = [
        name for each in rules["contracts"] if each.get("exhaustive") for name in each["containers"]
    ]
    folders = [
        path.parent.relative_to(TREE).as_posix().replace("/", ".")
        for package in PACKAGES
        for path in (TREE / package).rglob("__init__.py")
    ]
    assert sorted(containers) == sorted(folders)


NAMES = slice(20, 47)
"""Columns of the list of modules in DEVELOPERS.md in which their names stand, behind that of their folder."""


def listed(text: str) -> set[str]:
    """The modules of all folders that the list names, as paths without an ending."""
    _, _, house = text.partition("## The house")
    names, package, folder = set[str](), "", ""
    for line in house.partition("Four decisions")[0].splitlines():
        head = line[: NAMES.start].strip()
        if re.match(r" {4}\w", line):
            package, folder = head if head.rstrip("/") in PACKAGES else "", ""
        elif head:
            folder = head if head.endswith("/") else ""
        if package and folder:
            names |= {f"{package}{folder}{name}" for name in re.findall(r"[a-z_]+", line[NAMES])}
    return names


def lying(tree: Path) -> set[str]:
    """The modules that lie in a folder of a package, as paths without an ending."""
    paths = (path for package in PACKAGES for path in (tree / package).glob("*/*.py"))
    return {path.relative_to(tree).with_suffix("").as_posix() for path in paths if path.stem != "__init__"}


def test_the_list_of_modules_for_contributors_is_complete() -> None:
    named = listed((TREE / "DEVELOPERS.md").read_text(encoding="utf-8"))
    named -= {"solver/properties/catalogue", "solver/properties/toml"}  # a table, no module
    assert lying(TREE) - named == set(), "name it in the list of modules of DEVELOPERS.md"
    assert named - lying(TREE) == set(), "no such module: take it off the list in DEVELOPERS.md"


def test_a_module_that_is_not_listed_is_seen(tmp_path: Path) -> None:
    (tmp_path / "solver" / "ledger").mkdir(parents=True)
    for name in ("__init__", "limit", "stray"):
        (tmp_path / "solver" / "ledger" / f"{name}.py").touch()
    text = f"## The house\n\n    solver/{' ' * 36}a package\n      {'ledger/':14}{'limit, gone':27}words"
    assert lying(tmp_path) - listed(text) == {"solver/ledger/stray"}
    assert listed(text) - lying(tmp_path) == {"solver/ledger/gone"}


def test_pint_is_known_to_units_alone(tmp_path: Path) -> None:
    assert pint_outside_units(TREE) == []
    tree = copy_of(tmp_path, "solver/ledger/solve.py", "solver/quantities/units.py")
    plant(tree / "solver" / "ledger" / "solve.py", "def late() -> None:\n    from pint import UnitRegistry")
    assert pint_outside_units(tree) == ["solver/ledger/solve.py"]


def test_solver_knows_nothing_of_qt(tmp_path: Path) -> None:
    assert qt_in_solver(TREE) == []
    tree = copy_of(tmp_path, "solver/ledger/solve.py")
    plant(tree / "solver" / "ledger" / "solve.py", "import PySide6.QtCore")
    assert qt_in_solver(tree) == ["solver/ledger/solve.py"]


def test_modules_and_functions_keep_their_size(tmp_path: Path) -> None:
    assert overlong(TREE) == []
    tree = copy_of(tmp_path, "solver/ledger/solve.py")
    (tree / "solver" / "long.py").write_text(
        "def endless() -> None:\n" + "    pass\n" * MODULE_LINES, encoding="utf-8"
    )
    assert overlong(tree) == ["solver/long.py", "solver/long.py:endless"]


def test_none_survives_calls_that_return_nothing() -> None:
    """Some Qt bindings lose a reference to None on each, and Python 3.11 then aborts while painting."""
    from PySide6.QtCore import QObject
    from PySide6.QtGui import QImage, QPainter

    thing, image = QObject(), QImage(8, 8, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    before = sys.getrefcount(None)
    for _ in range(500):
        thing.setObjectName("x")
        painter.drawLine(0, 0, 7, 7)
    lost = before - sys.getrefcount(None)
    painter.end()
    assert lost < 100


def test_the_top_level_holds_nothing_else() -> None:
    """What a newcomer sees first; tooling lives in dot-files."""
    git = shutil.which("git")
    if git is None or not (TREE / ".git").exists():
        pytest.skip("not a clone")
    listed = subprocess.run([git, "ls-files"], cwd=TREE, capture_output=True, text=True, check=True).stdout
    visible = {name.partition("/")[0] for name in listed.splitlines() if not name.startswith(".")}
    assert visible <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "sketch", "solver", "tests", "layouts"}


def test_a_folder_that_is_not_read_without_its_marker_holds_nothing_else() -> None:
    for name in conftest.UNDER_A_MARKER:
        paths = list((TREE / "tests" / name).glob("test_*.py"))
        assert paths
        mark = f"\npytestmark = pytest.mark.{name}\n"
        assert [path.name for path in paths if mark not in path.read_text(encoding="utf-8")] == []
