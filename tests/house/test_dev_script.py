"""The set-up script: what it says when something is missing, and when it sets up again."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture
def dev(root: Path, tmp_path: Path) -> ModuleType:
    """Return the script as a module that works in an empty folder."""
    source = (root / "dev.py").read_text(encoding="utf-8")
    (tmp_path / "dev.py").write_text(source, encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    (tmp_path / "constraints.txt").write_text("numpy==1\n", encoding="utf-8")
    module = ModuleType("dev_under_test")
    module.__file__ = str(tmp_path / "dev.py")
    exec(compile(source, module.__file__, "exec"), module.__dict__)
    return module


@pytest.fixture
def made(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Let environments and installs succeed at once; return what was installed, one list each."""
    installs: list[list[str]] = []

    def make(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        python = Path(dev.in_venv("python"))
        if "venv" in command:
            python.parent.mkdir(parents=True)
            python.write_text("")
            return subprocess.CompletedProcess(command, 0)
        version = " ".join(str(part) for part in sys.version_info[:3])
        return subprocess.CompletedProcess(command, 0, stdout=version)

    monkeypatch.setattr(dev.subprocess, "run", make)
    monkeypatch.setattr(dev, "install", installs.append)
    return installs


def test_only_the_standard_library(root: Path) -> None:
    tree = ast.parse((root / "dev.py").read_text(encoding="utf-8"))
    named = {name.name.split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    named |= {str(node.module).split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert named <= sys.stdlib_module_names


def test_an_old_python_can_read_it(root: Path) -> None:
    ast.parse((root / "dev.py").read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_old_python_is_told_in_one_sentence(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    dev.sys = type("OldSys", (), {"version_info": (3, 9, 2), "stderr": sys.stderr})
    assert dev.main(["demo"]) == 2
    assert capsys.readouterr().err == (
        "Loftwright needs Python 3.11 or newer and this is 3.9: install a newer Python and start this script with it.\n"
    )


def test_a_missing_venv_module_is_told_in_one_sentence(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    assert dev.main(["demo"]) == 2
    assert capsys.readouterr().err == (
        "This Python cannot make virtual environments: install its venv module "
        "(on Debian and Ubuntu: apt install python3-venv) and run this again.\n"
    )


def test_an_unknown_command_is_told_what_there_is(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main(["tset"]) == 2
    assert "use one of demo, test, lint, bench, pages, pictures, lock, help" in capsys.readouterr().err


def test_help_names_every_command(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main([]) == 0
    shown = capsys.readouterr().out
    assert [name for name in dev.COMMANDS if not name.startswith("-") and f"dev.py {name}" not in shown] == []


def test_demo_installs_only_what_running_needs(dev: ModuleType, made: list[list[str]]) -> None:
    dev.set_up(dev.RUN)
    assert made == [["-e", dev.HERE]]


def test_it_sets_up_once(dev: ModuleType, made: list[list[str]]) -> None:
    dev.set_up(dev.RUN)
    dev.set_up(dev.RUN)
    assert len(made) == 1


def test_the_tests_need_more_than_the_demo(dev: ModuleType, made: list[list[str]]) -> None:
    dev.set_up(dev.RUN)
    dev.set_up(dev.DEV)
    dev.set_up(dev.RUN)
    assert made == [["-e", dev.HERE], ["-e", dev.HERE + "[dev]"]]


@pytest.mark.parametrize("name", ["pyproject.toml", "constraints.txt"])
def test_a_change_sets_up_again(dev: ModuleType, made: list[list[str]], name: str) -> None:
    dev.set_up(dev.RUN)
    with (Path(dev.HERE) / name).open("a") as file:
        file.write("\n")
    dev.set_up(dev.RUN)
    assert len(made) == 2


def test_an_interrupted_install_is_not_taken_for_done(
    dev: ModuleType, made: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    dev.set_up(dev.RUN)

    def interrupted(what: list[str]) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(dev, "install", interrupted)
    assert dev.main(["test"]) == 130
    assert not Path(dev.STAMP).exists()
    assert not dev.is_ready(dev.RUN)


def test_a_damaged_stamp_is_not_taken_for_done(dev: ModuleType, made: list[list[str]]) -> None:
    dev.set_up(dev.RUN)
    Path(dev.STAMP).write_text("{")
    assert not dev.is_ready(dev.RUN)


def test_the_stamp_names_set_and_fingerprint(dev: ModuleType, made: list[list[str]]) -> None:
    dev.set_up(dev.DEV)
    assert json.loads(Path(dev.STAMP).read_text()) == {"key": dev.setup_key(), "set": "dev"}


def test_programs_are_found_on_windows_too(dev: ModuleType) -> None:
    dev.os = type("WindowsOs", (), {"name": "nt", "path": dev.os.path})
    assert Path(dev.in_venv("ruff")).parts[-3:] == (".venv", "Scripts", "ruff.exe")


def test_a_failed_install_shows_why_and_leaves_no_stamp(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(dev, "venv_is_sound", lambda: True)
    monkeypatch.setattr(dev, "in_venv", lambda name: sys.executable)
    monkeypatch.setattr(dev, "CONSTRAINTS", str(Path(dev.HERE) / "there is no such file"))
    assert dev.main(["demo"]) == 2
    shown = capsys.readouterr()
    assert "there is no such file" in shown.out
    assert shown.err.startswith("Installing failed: the lines above say why")
    assert not Path(dev.STAMP).exists()
