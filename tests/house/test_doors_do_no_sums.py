"""The doors parse, call and show. A number reaches them as finished text or as a series ready to draw."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from loftwright.core import checks

PACKAGE = Path(checks.__file__).parents[1]
DOORS = [room for name in ("cli", "board") if (room := PACKAGE / name).is_dir()]
MODULES = sorted(path for door in DOORS for path in door.rglob("*.py"))

SUMS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow, ast.MatMult)
SUM_CALLS = {"sum", "min", "max", "round", "abs", "pow", "divmod", "sorted"}


def is_layout(node: ast.expr) -> bool:
    """Whether this is text, a list, or a constant of the layout (a literal or a NAME_LIKE_THIS)."""
    match node:
        case ast.Constant() | ast.JoinedStr() | ast.List() | ast.Tuple():
            return True
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name.isupper()
        case ast.UnaryOp(operand=inner):
            return is_layout(inner)
        case ast.BinOp(left=left, right=right):
            return is_layout(left) and is_layout(right)
        case _:
            return False


def is_text(node: ast.expr) -> bool:
    """Whether this joins text, lists or paths."""
    match node:
        case ast.JoinedStr() | ast.List() | ast.Tuple() | ast.Constant(value=str()):
            return True
        case ast.BinOp(left=left, right=right):
            return is_text(left) or is_text(right)
        case _:
            return False


def sums(source: str) -> Iterator[str]:
    """Yield what a door may not do: sums, sorting and the shaping of numbers into text."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.BinOp(left=left, op=op, right=right) if isinstance(op, SUMS):
                if not (is_text(left) or is_text(right) or (is_layout(left) and is_layout(right))):
                    yield f"line {node.lineno}: {ast.unparse(node)}"
            case ast.AugAssign(op=op, value=value) if isinstance(op, SUMS) and not is_text(value):
                yield f"line {node.lineno}: {ast.unparse(node)}"
            case ast.Call(func=ast.Name(id=name)) if name in SUM_CALLS:
                yield f"line {node.lineno}: {ast.unparse(node)}"
            case ast.FormattedValue(format_spec=ast.JoinedStr(values=[ast.Constant(value=str(spec)), *_])) if (
                spec[-1:] in "eEfFgGn%"
            ):
                yield f"line {node.lineno}: {ast.unparse(node)}"


def test_there_is_a_door() -> None:
    assert MODULES


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_door_does_no_sums(path: Path) -> None:
    assert list(sums(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    ("line", "caught"),
    [
        ("x = a * b", True),
        ("x = 2 * mass", True),
        ("total += mass", True),
        ("x = max(masses)", True),
        ("x = f'{mass:.1f} kg'", True),
        ("x = 2 * INDENT", False),
        ("x = 'a' + name", False),
        ("x = folder / 'roof.pdf'", False),
        ("x = f'{name:<20}'", False),
        ("def f(x: int | None) -> None: ...", False),
    ],
)
def test_the_rule_itself(line: str, caught: bool) -> None:
    assert bool(list(sums(line))) is caught
