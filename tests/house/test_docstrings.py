"""Every number that a domain takes or holds has its unit in brackets: [m], [N], [rad], [1]."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from loftwright.core import checks

PACKAGE = Path(checks.__file__).parents[1]
DOMAINS = ("mechanics", "choice", "plan", "strength", "cloth", "fitout")
MODULES = sorted(path for domain in DOMAINS for path in (PACKAGE / domain).rglob("*.py") if path.name != "__init__.py")

NUMBER = re.compile(r"\b(float|Array|ArrayLike|NDArray)\b")
BASE = r"(?:mm|m|kg|N|rad|s|K|Pa|J|1|fraction|m2|m3|m4|deg|%|price|h|min)"
UNIT = re.compile(rf"\[{BASE}(?:[ /]{BASE}\d?)*(?:[,;][^\]]*)?\]")


def numbers(node: ast.FunctionDef) -> list[str]:
    """Return the names of the arguments that carry numbers."""
    every = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    return [arg.arg for arg in every if arg.annotation and NUMBER.search(ast.unparse(arg.annotation))]


def public(tree: ast.Module) -> Iterator[tuple[str, ast.FunctionDef, str]]:
    """Yield the public functions and methods of a module, with the docstring of the class around them."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node.name, node, ""
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            around = ast.get_docstring(node) or ""
            for part in node.body:
                if isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
                    yield f"{node.name}.{part.name}", part, around


def is_named(argument: str, doc: str) -> bool:
    """Whether a docstring names an argument: as it is, or by a word of it (rod_diameter: "diameter"; ax: "a")."""
    words = [argument, *(word for word in argument.split("_") if len(word) > 3)]
    if re.fullmatch("[a-z][xyz]", argument):
        words.append(argument[0])
    return any(re.search(rf"\b{word}s?\b", doc, re.IGNORECASE) for word in words)


def faults(source: str) -> list[str]:
    """Return what lacks a name or a unit in its docstring; names may stand once for a whole module or class."""
    tree = ast.parse(source)
    module = ast.get_docstring(tree) or ""
    found = []
    for name, node, around in public(tree):
        doc = f"{ast.get_docstring(node) or ''}\n{around}"
        asked = numbers(node)
        found += [f"{name}: {arg} is not described" for arg in asked if not is_named(arg, f"{doc}\n{module}")]
        if asked and not UNIT.search(doc):
            found.append(f"{name}: no unit in brackets")
    return found


def test_there_are_domains() -> None:
    assert MODULES


@pytest.mark.parametrize("path", MODULES, ids=lambda path: f"{path.parent.name}.{path.stem}")
def test_numbers_have_units(path: Path) -> None:
    assert faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("doc", "count"),
    [
        ("Return the push for a `mass` [kg].", 0),
        ("Return the push for a `mass` [kg, shaped ...].", 0),
        ("Return the push for a `mass`.", 1),
        ("Return the push.", 2),
        ("Return the push for a `mass` [...].", 1),
    ],
)
def test_the_rule_itself(doc: str, count: int) -> None:
    assert len(faults(f'def push(mass: float) -> float:\n    """{doc}"""\n')) == count
