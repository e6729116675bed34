"""Asking for help costs little: no array, model or typesetting library is loaded for it."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable

import pytest

HEAVY = (
    "numpy",
    "scipy",
    "tomlkit",
    "typst",
    "rich",
    "loftwright.answers",
    "loftwright.project",
    "loftwright.core.quantities",
    "loftwright.core.units",
)
MODELS = ("pydantic", "pydantic_core")
"""The terminal toolkit itself may load these once a command is named, but not for the first help."""

LOOK = """
import sys
from loftwright.cli.main import run
code = run({arguments!r})
print([name for name in {heavy!r} if name in sys.modules], file=sys.stderr)
sys.exit(code)
"""


@pytest.mark.parametrize(
    "arguments",
    [["--help"], ["--version"], ["check", "--help"], ["new", "--help"], ["demo", "--help"], ["board", "--help"]],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    heavy = (*HEAVY, *MODELS) if arguments == ["--help"] else HEAVY
    code = LOOK.format(arguments=arguments, heavy=heavy)
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0
    assert ran.stderr.strip() == "[]"


def test_importing_the_package_loads_nothing() -> None:
    code = (
        f"import sys, loftwright\nassert not [n for n in {(*HEAVY, *MODELS)!r} if n in sys.modules]\nloftwright.Verdict"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr


def test_help_is_quick(record_property: Callable[[str, object], None], capsys: pytest.CaptureFixture[str]) -> None:
    command = [sys.executable, "-c", "from loftwright.cli.main import app_main; app_main()", "--help"]
    took = []
    for _ in range(3):
        started = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        took.append(time.perf_counter() - started)
    best = min(took)
    record_property("seconds", best)
    with capsys.disabled():
        print(f" help in {1000 * best:.0f} ms ", end="")
    assert best < 1.5
