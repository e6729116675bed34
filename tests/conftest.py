"""What all tests share: repeatable random examples, a browser, no silent skips in CI, both sides of every rule."""

from __future__ import annotations

import ast
import ctypes
import importlib.util
import os
import shutil
import sys
from collections.abc import Generator, Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import settings

# As the program itself does: before anything imports numpy.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

HERE = Path(__file__).parent
ROOT = HERE.parent
IN_CI = os.environ.get("CI", "").lower() in {"1", "true", "yes"}

settings.register_profile("house", derandomize=True, deadline=None, database=None, print_blob=True)
settings.load_profile("house")


def load(path: Path) -> ModuleType:
    """Return a Python file outside the package as a module."""
    spec = importlib.util.spec_from_file_location(f"loaded_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(autouse=True, scope="session")
def strength_is_asked_for() -> None:
    """Have the board judge fit and strength only where a test looks at them: each judgement costs a second or two."""
    from loftwright.board import desk

    desk.STRENGTH_RESTS = 600.0
    desk.FIT_OUT_RESTS = 600.0


MOST_HELD = 800 * 2**20
"""Bytes above which a process of the tests gives back what it has freed."""


@pytest.fixture(autouse=True, scope="module")
def memory_goes_back() -> Iterator[None]:
    """Give freed memory back to the system after a file of tests: a search leaves a gigabyte in small pieces."""
    yield
    if sys.platform == "linux":
        held = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGESIZE")
        if held > MOST_HELD and hasattr(libc := ctypes.CDLL(None), "malloc_trim"):
            libc.malloc_trim(0)


@pytest.fixture(scope="session")
def root() -> Path:
    """Return the folder of the repository."""
    return ROOT


LEFT_OUT = {".git", ".hypothesis", ".venv", "__pycache__", "demo-output", "dist", "htmlcov", "node_modules"}


@pytest.fixture(scope="session")
def texts() -> dict[str, str]:
    """Return every text file of the repository by its path; what tools leave behind is left out."""
    found = {}
    for folder, names, files in os.walk(ROOT):
        names[:] = [name for name in names if name not in LEFT_OUT and not name.endswith(("_cache", ".egg-info"))]
        for path in (Path(folder) / name for name in files):
            if path.name == "uv.lock" or path.name.startswith(".coverage"):
                continue
            data = path.read_bytes()
            if b"\0" not in data:
                found[path.relative_to(ROOT).as_posix()] = data.decode("utf-8")
    return found


@pytest.fixture(scope="session")
def generator() -> ModuleType:
    """Return the generator of the pages under docs/ that come from the code."""
    return load(ROOT / "docs" / "generate.py")


# --- a browser -------------------------------------------------------------------------------------


def find_chromium() -> str | None:
    """Return the path of an installed Chromium, the variable LOFTWRIGHT_CHROMIUM first."""
    names = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
    return os.environ.get("LOFTWRIGHT_CHROMIUM") or next((path for name in names if (path := shutil.which(name))), None)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """Yield a running Chromium; a test that needs one is skipped where there is none."""
    path = find_chromium()
    if path is None:
        pytest.skip("no Chromium found: install one or set LOFTWRIGHT_CHROMIUM to its path")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


# --- no silent skips in CI -------------------------------------------------------------------------


def _refuse_skip(report: Any) -> None:
    if IN_CI and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, which CI does not allow: {report.longrepr}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, Any, Any]:
    report = yield
    _refuse_skip(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, Any, Any]:
    report = yield
    _refuse_skip(report)
    return report


# --- what counts towards coverage ------------------------------------------------------------------
#
# Counting doubles the time of whatever it counts, so branches are counted in the domains alone, and only while those
# tests run that ask about them line by line: of the units of domains and core, of published figures and of documents'
# fingerprints. Laws, second opinions, answers and doors pass through the same lines thousands of times, at full speed.

COUNTED = (
    *(
        f"tests/unit/{room}/"
        for room in ("core", "reference", "mechanics", "choice", "strength", "cloth", "plan", "drawing")
    ),
    "tests/published/",
    "tests/golden/",
    "src/",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if not item.nodeid.startswith(COUNTED) or any(item.get_closest_marker(mark) for mark in ("browser", "slow")):
            item.add_marker("no_cover")


# --- both sides of every rule ----------------------------------------------------------------------
#
# A rule of the house: the tests have seen each Rule hold and have seen it fail. What counts is a verdict or
# a margin that an assertion of a test compares; what the package reads for itself, or a test only to print
# or to choose by it, does not. Each process notes what its tests compared, and a whole run without other
# failures ends with an error for each rule of which only one side, or none, was seen. A run of part of the
# tests asks nothing.

Sides = set[tuple[str, str]]
JUDGED = ("verdict", "margin")


def _compared(node: ast.expr) -> Iterator[ast.Attribute]:
    """Yield the verdicts and margins that an asserted expression compares, alone or in tuples and lists."""
    match node:
        case ast.Compare(left=left, comparators=others):
            for side in (left, *others):
                yield from _read(side)
        case ast.BoolOp(values=parts):
            for part in parts:
                yield from _compared(part)
        case ast.Call(func=ast.Name(id="all"), args=[ast.GeneratorExp(elt=each)]):
            yield from _compared(each)


def _read(node: ast.expr) -> Iterator[ast.Attribute]:
    match node:
        case ast.Attribute(attr=name) if name in JUDGED:
            yield node
        case ast.Tuple(elts=parts) | ast.List(elts=parts) | ast.Set(elts=parts):
            for part in parts:
                yield from _read(part)
        case ast.ListComp(elt=each) | ast.SetComp(elt=each):
            yield from _read(each)


@cache
def comparing_lines(path: str) -> frozenset[int]:
    """Return the lines of a test file in which an assertion compares a verdict or a margin."""
    asserted = (node.test for node in ast.walk(ast.parse(Path(path).read_bytes())) if isinstance(node, ast.Assert))
    return frozenset(
        line
        for test in asserted
        for read in _compared(test)
        for line in range(read.lineno, (read.end_lineno or read.lineno) + 1)
    )


SEEN = pytest.StashKey[Sides]()
UNSEEN = pytest.StashKey[list[str]]()


def pytest_configure(config: pytest.Config) -> None:
    # Thousands of small files are written here and none needs to outlive a power cut; tests of the writing itself put
    # their own stand-in in this place.
    os.fsync = lambda fd: None  # type: ignore[assignment]
    seen: Sides = set()
    config.stash[SEEN] = seen
    from loftwright.core.checks import Check

    def watched(name: str) -> property:
        original = vars(Check)[name]

        def read(self: Check) -> Any:
            value = original.fget(self)
            frame = sys._getframe(1)
            path = frame.f_code.co_filename
            if value is not None and path.startswith(str(HERE)) and frame.f_lineno in comparing_lines(path):
                side = ("holds" if value >= 0 else "fails") if name == "margin" else str(value)
                seen.add((self.rule.id, side))
            return value

        return property(read, doc=original.__doc__)

    for name in JUDGED:
        setattr(Check, name, watched(name))


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any) -> None:
    node.config.stash[SEEN].update(tuple(side) for side in getattr(node, "workeroutput", {}).get("sides", ()))


def pytest_sessionfinish(session: pytest.Session) -> None:
    config = session.config
    if hasattr(config, "workeroutput"):
        config.workeroutput["sides"] = sorted(config.stash[SEEN])
        return
    option = config.option
    whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    partly = option.keyword or option.markexpr or option.collectonly or getattr(option, "lf", False) or option.deselect
    if not whole or partly or session.testsfailed or session.shouldstop:
        return
    rules = load(ROOT / "docs" / "generate.py").all_rules()
    config.stash[UNSEEN] = [
        f"{rule.id}: no test has seen it {side[:-1]}"
        for rule in rules
        for side in ("holds", "fails")
        if (rule.id, side) not in config.stash[SEEN]
    ]
    if config.stash[UNSEEN]:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    unseen = config.stash.get(UNSEEN, [])
    if unseen:
        terminalreporter.section("rules not tested on both sides of their limit")
        for line in unseen:
            terminalreporter.line(line)
            report = pytest.CollectReport(line, "failed", None, [])
            terminalreporter.stats.setdefault("error", []).append(report)
