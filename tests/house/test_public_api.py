"""The public API: a dozen names or so, each with a description, and nothing more."""

from __future__ import annotations

import inspect
import subprocess
import sys

import loftwright


def test_all_is_exactly_what_is_offered() -> None:
    offered = {
        name
        for name, value in vars(loftwright).items()
        if not name.startswith("_") and not inspect.ismodule(value) and name != "annotations"
    }
    assert offered <= set(loftwright.__all__)
    assert [name for name in loftwright.__all__ if not hasattr(loftwright, name)] == []


def test_about_a_dozen_names() -> None:
    assert 6 <= len(loftwright.__all__) <= 20


def test_every_name_is_described() -> None:
    public = {name: getattr(loftwright, name) for name in loftwright.__all__}
    bare = [name for name, value in public.items() if callable(value) and not inspect.getdoc(value)]
    assert bare == []


def test_python_needs_no_terminal_toolkit() -> None:
    code = (
        "import sys\n"
        "for name in ('typer', 'click', 'rich', 'nicegui'): sys.modules[name] = None\n"
        "import loftwright\n"
        "for name in loftwright.__all__: getattr(loftwright, name)\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
