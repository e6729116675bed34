"""The floors of the house: who may import whom, and who may write which kind of text."""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from loftwright.core import checks

PACKAGE = Path(checks.__file__).parents[1]
MODULES = sorted(PACKAGE.rglob("*.py"))


def test_import_contracts_hold(root: Path) -> None:
    command = shutil.which("lint-imports", path=str(Path(sys.executable).parent))
    assert command, "import-linter is not installed beside this Python"
    found = subprocess.run([command, "--no-logo"], cwd=root, capture_output=True, text=True)
    assert found.returncode == 0, found.stdout + found.stderr


def test_contracts_have_no_ignore_list(root: Path) -> None:
    text = (root / "pyproject.toml").read_text(encoding="utf-8")
    assert "ignore_imports" not in text
    assert "exhaustive_ignores" not in text


def test_nothing_imports_the_package_root() -> None:
    faults = [
        f"{path.relative_to(PACKAGE)}:{node.lineno}"
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.ImportFrom) and node.module == "loftwright")
        or (isinstance(node, ast.Import) and any(name.name == "loftwright" for name in node.names))
    ]
    assert faults == []


def texts(path: Path) -> Iterator[tuple[int, str]]:
    """Yield the strings of a module that are no docstrings, with their lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in alone:
            yield node.lineno, node.value


SVG = ("<svg", "<path", "<polyline", "<circle")


def test_only_drawing_writes_svg() -> None:
    faults = [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path in MODULES
        if path.relative_to(PACKAGE).parts[0] != "drawing"
        for line, text in texts(path)
        if any(sign in text for sign in SVG)
    ]
    assert faults == []


def test_no_room_is_empty() -> None:
    rooms = [path for path in PACKAGE.iterdir() if path.is_dir() and path.name != "__pycache__"]
    empty = [room.name for room in rooms if not [p for p in room.rglob("*.py") if p.name != "__init__.py"]]
    assert empty == []
